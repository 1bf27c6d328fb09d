package text

import (
	"strings"
	"testing"

	leste "leste"
)

// A format that tips was told as "not met ... 1.1 times better than needed".
func TestLawTheHeadlineAgreesWithTheTable(t *testing.T) {
	f := leste.FormatResult{
		Name: "250 mL slim", Verdict: leste.NotMet, Case: "surge", Container: around(270e-6),
		Zones: []leste.ZoneResult{{Name: "all", Left: around(270e-6), Requirements: []leste.RequirementResult{
			{Machine: "wrapper", Quantity: "mass", Limit: 300e-6, Value: around(270e-6), Unit: "kg", Verdict: leste.Undecided, Reserve: 1.11, Case: "surge"},
		}}},
		Standing: []leste.Push{{Way: "tip", Factor: 0.61, Case: "empty"}},
		Exceeded: []string{"the pressure of the air at the zone seam is 900 Pa, its limit is 500 Pa (foil)"},
	}
	got := formatSentence(&f, Style{})
	tips, water := strings.Index(got, "tip (resistance over push 0.61)"), strings.Index(got, "The water alone is undecided in the case \"surge\"")
	if tips < 0 || water < tips || !strings.Contains(got, "its limit is 500 Pa") || strings.Contains(got, "What decides") {
		t.Error(got)
	}
	f.Zones[0].Requirements[0].Verdict, f.Zones[0].Requirements[0].Value, f.Zones[0].Requirements[0].Reserve = leste.NotMet, around(300.4e-6), 0.9987
	if got := formatSentence(&f, Style{}); !strings.Contains(got, "300.4 (") || !strings.Contains(got, "1.001 times too much") || !strings.Contains(got, "What decides") {
		t.Error(got)
	}
	f.Airless = []string{"surge"}
	if got := formatSentence(&f, Style{}); !strings.Contains(got, "in the case \"surge\", in which no air comes. What decides") {
		t.Error(got)
	}
}
