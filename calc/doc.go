// Package calc answers single questions: what a jet does at a distance, which drop stays, what a duct costs.
//
// One table lists the topics. Each names its inputs and its answers as data, from which the command's flags,
// the forms of the desk and the documentation are made.
package calc
