package main

import (
	"context"
	"errors"
	"fmt"

	leste "leste"
	"leste/job"
)

// The exit codes. exitMeanings is the one table of what they mean.
const (
	exitDone = iota
	exitNotMet
	exitInput
	exitRefused
	exitInternal
	exitUndecided
)

var exitMeanings = [...]string{
	exitDone:      "done; for assess, every requirement is met",
	exitNotMet:    "a requirement is not met",
	exitInput:     "the input is wrong",
	exitRefused:   "a model refused or did not converge",
	exitInternal:  "the program could not finish: interrupted, disk full, a fault of its own",
	exitUndecided: "undecided: the band of an answer straddles its requirement",
}

// A failure is why a command did not end with exitDone: a code for programs, a sentence for the user, a
// cause for whoever looks into it. A failure without a sentence has already said all it has to say.
type failure struct {
	code  int
	text  string
	cause error
}

func (f *failure) Error() string {
	if f.cause == nil {
		return f.text
	}
	return f.text + ": " + f.cause.Error()
}

func (f *failure) Unwrap() error { return f.cause }

// wrongInput says that what the user gave cannot be used.
func wrongInput(cause error, format string, args ...any) error {
	return &failure{exitInput, fmt.Sprintf(format, args...), cause}
}

// refused says that a model gave no answer.
func refused(cause error, format string, args ...any) error {
	return &failure{exitRefused, fmt.Sprintf(format, args...), cause}
}

// broken says that the program could not do its part.
func broken(cause error, format string, args ...any) error {
	return &failure{exitInternal, fmt.Sprintf(format, args...), cause}
}

// ended carries an exit code whose reason has been printed.
func ended(code int) error { return &failure{code: code} }

// exitCode returns the code of an error; an error that no command gave a code is the program's own fault.
func exitCode(err error) int {
	var f *failure
	var problems job.Problems
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, context.Canceled):
		return exitInternal
	case errors.As(err, &f):
		return f.code
	case errors.As(err, &problems):
		return exitInput
	}
	return exitInternal
}

// verdictCode returns the exit code of a verdict.
func verdictCode(v leste.Verdict) int {
	switch v {
	case leste.Met:
		return exitDone
	case leste.NotMet:
		return exitNotMet
	}
	return exitUndecided
}
