package design

import "math"

// An Individual is one candidate that was judged.
type Individual struct {
	X         []float64 `json:"x"`
	Pressure  float64   `json:"plenum_pa"`
	Violation float64   `json:"violation"` // 0 when everything is met; see the levels below
	Why       string    `json:"why"`       // what is violated, or what binds
	Cost      float64   `json:"cost_year"` // of a candidate without violation
	Power     float64   `json:"grid_w"`
	Reserve   float64   `json:"reserve"` // least of limit over likely value
	Blower    string    `json:"blower"`
}

// Levels of violation. Within a level the amount counts; a lower level is always better. Water within its limits is
// asked of candidates that fit, stand and have air.
const (
	levelWater    = 0.0
	levelAir      = 1.0
	levelStanding = 2.0
	levelLayout   = 3.0
	levelMisfit   = 4.0
)

// within maps an amount from zero up into a level.
func within(level, amount float64) float64 {
	if math.IsNaN(amount) || math.IsInf(amount, 1) {
		return level + 1
	}
	return level + amount/(1+amount)
}

// better says whether a candidate beats another: less violation first, then less cost, then more reserve.
func (a *Individual) better(b *Individual) bool {
	switch {
	case a.Violation != b.Violation:
		return a.Violation < b.Violation
	case a.Violation > 0:
		return false
	case a.Cost != b.Cost:
		return a.Cost < b.Cost
	}
	return a.Reserve > b.Reserve
}

// feasible is without violation.
func (a *Individual) feasible() bool { return a.Violation == 0 }
