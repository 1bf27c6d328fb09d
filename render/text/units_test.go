package text

import (
	"math"
	"strings"
	"testing"

	leste "leste"
	"leste/physics/relation"
	q "leste/quantity"
)

// 996 mg was written as 1000 mg under 1.0 g.
func TestLawAMassThatRoundsToAGramIsOne(t *testing.T) {
	for likely, want := range map[float64]string{
		996e-6:  "1.0 (0.40 to 2.5) g",
		994e-6:  "990 (400 to 2500) mg",
		1004e-6: "1.0 (0.40 to 2.5) g",
	} {
		if got := (Style{}).mass(q.Band{Likely: likely, Low: 400e-6, High: 2500e-6}); got != q.Typeset(want) {
			t.Errorf("%g kg is written %q, want %q", likely, got, want)
		}
	}
}

// Source: 1 K is 1.8 degF, 1 in 25.4 mm (ISO 80000). Tolerance: three figures are printed.
func TestReferenceSentencesOfTheReportFollowItsUnits(t *testing.T) {
	r := &leste.Result{
		Helps:    []leste.Help{{What: "rinse 15 K warmer", Ratio: 0.9}},
		Cautions: []string{"Pressures above 50 kPa and air above 100 degC are not covered."},
		Notes: []relation.Note{
			{Severity: relation.Caution, Text: "the duct is hot", Value: 53, Limit: 51, Unit: "degC"},
			{Severity: relation.Info, Text: "a slot of 2.54 mm", Value: math.NaN(), Limit: math.NaN()},
		},
	}
	for units, want := range map[q.System][]string{
		q.US: {"Rinse 27 °F warmer", "above 7.25 psi", "above 212 °F", "(127.4 °F, limit 123.8 °F)", "a slot of 0.1 in"},
		q.SI: {"Rinse 15 K warmer", "above 50 kPa", "above 100 °C", "(53.0 °C, limit 51.0 °C)", "a slot of 2.54 mm"},
	} {
		report := Report(r, Style{Units: units})
		for _, w := range want {
			if !strings.Contains(report, w) {
				t.Errorf("%s: the report lacks %q:\n%s", units, w, report)
			}
		}
	}
}

// Drops stayed in millimetres in a report in US units. Source: an inch is 25.4 mm (ISO 80000).
func TestReferenceDropsFollowTheUnitsOfTheReport(t *testing.T) {
	drop := q.Band{Likely: 2.54e-3, Low: 1.27e-3, High: 5.08e-3}
	zone := leste.ZoneResult{Name: "dome", Largest: drop, Requirements: []leste.RequirementResult{{Machine: "camera", Quantity: "drop", Value: drop, Limit: 1.27e-3, Reserve: 0.5}}}
	r := &leste.Result{Formats: []leste.FormatResult{{Name: "can", Zones: []leste.ZoneResult{zone}}}}
	for units, want := range map[q.System][]string{
		q.US: {"largest drop, in", "0.10 (0.050 to 0.20)", "0.05 in"},
		q.SI: {"largest drop, mm", "2.5 (1.3 to 5.1)", "1.27 mm"},
	} {
		report := Report(r, Style{Units: units})
		for _, w := range want {
			if !strings.Contains(report, w) {
				t.Errorf("%s: the report lacks %q:\n%s", units, w, report)
			}
		}
	}
}
