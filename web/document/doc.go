// Package document keeps the job files that are open on the desk: the file on disk is the truth, every change is
// a named step that can be undone, and nobody's change is lost when two hands write the same file.
package document
