package leste

import (
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// Verdict is what a requirement or a job comes to.
type Verdict string

// The verdicts. Met and not met are about the likely value and its whole band.
const (
	Met       Verdict = "met"
	NotMet    Verdict = "not met"
	Undecided Verdict = "undecided"
)

// Evidence is what a result rests on; it is kept apart from the verdict.
type Evidence string

// The kinds of evidence.
const (
	Calculated Evidence = "calculated"
	Trial      Evidence = "trial"
	Accepted   Evidence = "accepted"
)

// A Result is the whole answer to one job. Every renderer reads it; nothing is computed after it.
// SI units; renderers convert at the edge.
type Result struct {
	Job       string
	Method    string
	Verdict   Verdict
	Evidence  Evidence
	Assumed   []job.Assumed // ranked, most important first
	Ask       []string      // the three questions to ask first
	Formats   []FormatResult
	Air       AirResult
	Cost      CostResult
	Sound     SoundResult
	Exhaust   ExhaustResult
	Cases     []CaseResult
	Stops     []string // sentences: why no promise is made
	Helps     []Help   // what would help most, remedies that are not air included
	Notes     []relation.Note
	Cautions  []string
	Relations []string // ids of the relations used
}

// FormatResult is one format in its worst case.
type FormatResult struct {
	Name      string
	Verdict   Verdict
	Case      string // the case that decides
	Speed     q.Speed
	Pitch     q.Length
	Machine   string // the machine that decides: container, zones, balance and map are those of its place; "" is the end of the line
	Container q.Band // kg left on the container at that machine
	Zones     []ZoneResult
	Standing  []Push   // slide, tip, lift, held back, turned
	Exceeded  []string // limits of the air at its zones that are passed, a sentence each
	Airless   []string // the cases in which no air comes: their water is what arrives
	Balance   Balance
	Map       *Map
	Strip     []Map      // the pass in frames, transport only
	End       *EndResult // where the machine that decides is not the last one
	Why       string     // where the two methods differ, or what dominates, in one sentence
}

// EndResult is the water on a container at the last machine of the line, in the case that decides.
type EndResult struct {
	Machine   string
	Container q.Band // kg
	Zones     []ZoneResult
	Map       *Map
}

// ZoneResult is the water left in one zone when it reaches the machine that looks at it.
type ZoneResult struct {
	Name         string
	Area         q.Area
	Left         q.Band // kg
	PerArea      q.Band // kg/m2
	Largest      q.Band // m
	Cause        string
	Where        string
	Parts        map[string]float64 // kg by cause
	Requirements []RequirementResult
}

// RequirementResult is one requirement judged.
type RequirementResult struct {
	Machine  string
	Quantity string  // "water", "mass", "drop", "rejects"
	Limit    float64 // SI
	Value    q.Band  // SI
	Unit     string  // SI unit of both
	Verdict  Verdict
	Reserve  float64 // limit over likely value
	Case     string
}

// Push is one way a container can lose its place.
type Push struct {
	Way    string  // "slide", "tip", "lift", "held back", "turned"
	Factor float64 // resistance over push; below 1 it moves; +Inf when nothing pushes
	Case   string
	At     q.Length // position of the container's axis
	Needs  string   // guide or limit needed, "" when none
}

// Balance accounts for the water of one container [kg].
type Balance struct {
	In, Left, BlownOff, Mist, Evaporated, Condensed, Dripped float64
	Closure                                                  float64
}

// Map is water left on the unrolled wall.
type Map struct {
	Rows, Cols int
	Title      string
	Station    string
	X          float64   // position of the container's axis [m]
	Time       float64   // s
	S          []float64 // Rows+1: arc length of the row edges from the base's centre [m]
	Radius     []float64 // Rows: radius of the row [m]
	Zone       []string  // Rows: name of the zone
	Water      []float64 // kg/m2, row-major
	Press      []float64 // Pa, row-major: what the air presses with at that moment; frames only
	Total      float64   // kg of film and drops on the wall; frames only
}

// CaseResult is one case of the job.
type CaseResult struct {
	Name    string
	Format  string
	Verdict Verdict
	Left    q.Band   // kg on the container at the machine that decides for the format
	Reserve float64  // smallest reserve of its requirements; NaN without requirements
	Note    string   // all notes in one line
	Notes   []string // what happens in it, and how it was followed; each a sentence without its full stop
	Lacking string   // why no air comes in it, or nobody knows whether it does; "" where it does
}

// Help is something that would bring the requirement nearer.
type Help struct {
	What  string  // one sentence
	Ratio float64 // water left after over before, at the requirement that binds
	Air   bool    // false for a remedy that is not air

	// Against says, in a few words each, which containers give way with it, or more easily than without it, and which
	// limits of the air are passed: what keeps it from being a remedy as it stands.
	Against []string
}
