// Package parallel runs work that is in pieces on several goroutines, with results that do not depend on how many.
package parallel
