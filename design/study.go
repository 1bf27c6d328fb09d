package design

import (
	leste "leste"
	"leste/job"
	q "leste/quantity"
)

// A Study is the whole answer of a search.
type Study struct {
	Job         string
	Goal        string // GoalMet, or GoalLikely where the whole band cannot be brought within its limits
	Seed        uint64
	Interrupted bool    // cancelled: what follows is the best so far
	Found       []Found // the best station of each concept: those that work by their cost, then the rest by how far they miss
	Front       []Point // trade-off of yearly cost against reserve; no point is beaten by another in both
	Breaks      []Break // which inputs break the first of Found first
	Reasons     []string
	Least       *Found // of a station that exists: the least change that works; nil when none does, or it is planned
	Miss        *Miss  // when nothing works
	Aside       string // what no station can meet, so that it was left out of the search; "" when there is nothing of the kind
	Allowed     string // a limit that nobody gave and no air can keep, which was raised; "" when there is none
	Undrawn     string // why what the job draws was not searched from; "" where it was, or where it draws nothing
	Notes       string // of the job as given: those that were found are without, as they tell of what it draws
	Candidates  int    // judged
	Quick       int    // evaluations of the water by the quick method
	Followed    int    // and by transport
	Looks       int    // passes looked at
	State       State
	Endings     []Ending // of each seed where several were searched from, in their order

	whole   bool    // the whole band was asked for by whoever started the search
	stands  bool    // the job has a station that exists, whose least change was searched for
	asFound q.Gauge // measured plenum pressure of a station that exists; 0 when unknown
}

// Best is the station to build, or the closest miss; nil when the search found nothing that can be laid out.
func (s *Study) Best() *Found {
	if len(s.Found) == 0 {
		return nil
	}
	return &s.Found[0]
}

// Found is the best station of one concept.
type Found struct {
	Concept string
	Also    []string // other concepts that come out as the same outlets
	What    string
	Works   bool          // meets the goal: a whole assessment has found it, unless the search was interrupted
	Beside  bool          // meets all but what no station can, see Aside of the study
	May     bool          // works by the search alone: it was not assessed, as those that were cost less
	Whole   bool          // told beside the others as it brings whole bands within their limits
	Sure    bool          // assessed in every case, as the written job file is by itself
	Verdict leste.Verdict // of that assessment; "" when there was none
	Method  string        // of that assessment
	Job     *job.Job      // complete: assess accepts it, and finds what is told here
	Result  *leste.Result // of that assessment; nil when there was none

	Pressure q.Gauge
	Cost     float64 // per year, in the job's currency
	Power    q.Power
	Reserve  float64 // least of limit over likely value
	Blower   string
	Binds    string // the requirement that decides
	Fails    string // what it fails on; "" when it works
	Length   q.Length
	Hood     q.SoundLevel // what a hood must take off the sound; 0 when none is needed
	Spare    string       // what keeps it from less air, where it has clearly more in reserve than is asked

	Remarks     []Remark // of the assessment, the gravest first
	Settings    []Setting
	Changeovers int // scales to be set anew between two formats
	Departures  []Departure
	Free        int      // variables that were chosen
	Judged      int      // candidates
	Own         bool     // of the job's own outlets: departures are changes to what it draws
	Scales      []string // what must be otherwise about the frames that the job draws
	Anew        []string // stations that stand there and are only set anew

	concept int
	ind     Individual // that the search has
	trust   float64    // reserve that the assessment found over that of the search
}

// A Setting is where one group of outlets stands for one format.
type Setting struct {
	Format, Group string
	Height        q.Length // of the outlets' middle above the belt
	Clearance     q.Length // lip to the line's centre, or to the belt for outlets above and below
	Changes       bool     // it differs between formats
}

// A Departure is a value chosen against a rule of thumb.
type Departure struct {
	Variable string
	Format   string
	Value    string
	Rule     string
	RuleOf   string
	Departs  bool
}

// A Point is one trade-off.
type Point struct {
	Concept string
	Cost    float64
	Power   q.Power
	Reserve float64
	Plenum  q.Gauge
}

// A Break is how far one input may move before the requirement that decides is no longer met; where it is not met as
// it is, before the reserve falls by a tenth.
type Break struct {
	Input string // "belt speed", "stand-off of left knife"
	More  bool   // the way it moves
	Kind  q.Kind
	Value float64 // SI, as designed
	Move  float64 // SI
	Free  bool    // nothing breaks as far as was examined
	Share float64 // of the range that was examined: the smaller, the sooner it breaks
	Then  string  // what happens just beyond; "" where nothing breaks
}

// What happens beyond what an input may move by.
const (
	ThenWet     = "it stays too wet"
	ThenAirless = "no blower gives its air"
	ThenMisfit  = "it does not fit"
)

// A Miss is what stands in the way when nothing works.
type Miss struct {
	Concept string
	Binds   string   // the requirement, or what gives way
	Case    string   // in which it does
	Limit   string   // what is asked
	Value   string   // what the closest station leaves
	Over    float64  // likely value over limit; NaN when it is not water that stands in the way
	Out     string   // water that no air reaches, where it is a part worth knowing
	Changes []Remedy // what would help, the best first, remedies that are not air included
}

// A Remedy is something that would have to change.
type Remedy struct {
	What  string
	Left  float64 // water left over what is left without it
	IsAir bool
	Alone bool // it would be enough by itself

	Against []string // what gives way with it that does not without it, or does so sooner
}
