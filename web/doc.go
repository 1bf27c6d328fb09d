// Package web serves the desk: the screens in the browser and the operations they use, to this machine only unless
// it is told otherwise.
package web
