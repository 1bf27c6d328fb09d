// Package papers gathers what the papers of an offer are made from: the job, its result, the curves and loads of its
// blowers, and how far its settings may be off.
package papers
