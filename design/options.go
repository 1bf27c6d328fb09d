package design

import (
	"leste/catalogue"
	"leste/job"
)

// Options are how a search runs. The zero value is the usual way.
type Options struct {
	Seed     uint64                                 // of everything random
	Budget   int                                    // candidates judged; 0 is UsualBudget
	Workers  int                                    // goroutines; 0 is one. The study does not depend on it
	Concepts []string                               // names of concepts to try; none is all that fit the job
	Goal     string                                 // GoalMet or GoalLikely; "" is met where that can be had, else likely
	Sizes    Sizes                                  // what is not given is usual
	Spelling *job.Spelling                          // of the job file: what is found is written as it is; may be nil
	Parts    *catalogue.Parts                       // nil is the generic set
	Resume   *State                                 // a saved state of the same job, seed and options
	Progress func(done, total float64, best string) // called from one goroutine at a time; may be nil
	Save     func(State)                            // called after each round with a state that can be resumed; may be nil

	quickOnly bool // no transport: for tests and benchmarks of the search alone
}

// UsualBudget is the number of candidates judged when nobody says.
const UsualBudget = 2400
