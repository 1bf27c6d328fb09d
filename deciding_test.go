package leste

import (
	"testing"

	"leste/station"
)

// The headline told a requirement as not met that its table had as undecided: what tips was meant.
func TestLawTheWorstVerdictDecidesBeforeTheLeastReserve(t *testing.T) {
	one := func(v Verdict, reserve float64) FormatResult {
		return FormatResult{Zones: []ZoneResult{{Requirements: []RequirementResult{{Verdict: v, Reserve: reserve}}}}}
	}
	for _, c := range []struct {
		formats []FormatResult
		reserve float64
	}{
		{[]FormatResult{one(Met, 1.1), one(Undecided, 1.3)}, 1.3},
		{[]FormatResult{one(NotMet, 0.9), one(NotMet, 0.5), one(Undecided, 1.2)}, 0.5},
		{[]FormatResult{one(Met, 3), one(Met, 2)}, 2},
	} {
		if d, ok := Deciding(c.formats...); !ok || d.Reserve != c.reserve {
			t.Errorf("the reserve %v decides, want %g", d.RequirementResult, c.reserve)
		}
	}
	if _, ok := Deciding(FormatResult{}); ok {
		t.Error("nothing is required, and yet something decides")
	}
}

func TestLawWhatFallsIsWhatKeepsAVerdictFromBeingMet(t *testing.T) {
	f := FormatResult{Standing: []Push{{Way: station.Tip, Factor: 0.7}, {Way: station.Slide, Factor: 0.5}, {Way: station.Lift, Factor: 1.1}, {Way: station.Lift, Factor: 1.2}}}
	if got := f.Falls(); len(got) != 2 || got[0].Factor != 0.7 || got[1].Factor != 1.1 {
		t.Errorf("it falls by %v", got)
	}
}
