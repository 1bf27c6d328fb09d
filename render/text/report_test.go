package text

import (
	"math"
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

func around(x float64) q.Band { return q.Band{Likely: x, Low: x / 2.5, High: x * 2.5} }

// fixture is a result with something in every part; the figures are made up.
func fixture() *leste.Result {
	return &leste.Result{
		Job: "Can line 2: sidewall and seam before the packer", Method: "quick", Verdict: leste.NotMet, Evidence: leste.Calculated,
		Assumed: []job.Assumed{
			{Path: "/arrives/water", Value: "50 g/m2", Low: "20 g/m2", High: "100 g/m2", Source: "judgement, to be fitted", Matters: 3.1},
			{Path: "/stations/0/outlets/0/discharge", Value: "0.95", Source: "common practice, no source"},
		},
		Ask: []string{"How wet do the cans arrive?"},
		Formats: []leste.FormatResult{{
			Name: "330 mL can", Verdict: leste.NotMet, Case: "surge", Speed: 0.92, Pitch: 0.08, Container: around(412e-6),
			Zones: []leste.ZoneResult{
				{
					Name: "sidewall", Left: around(120e-6), PerArea: around(5e-3), Largest: around(1.2e-3), Cause: "film", Where: "rear line",
					Requirements: []leste.RequirementResult{{Machine: "tray packer", Quantity: "water", Limit: 6e-3, Value: around(5e-3), Unit: "kg/m2", Verdict: leste.Undecided, Reserve: 1.2, Case: "surge"}},
				},
				{
					Name: "seam", Left: around(85e-6), PerArea: around(40e-3), Largest: q.Band{Likely: math.NaN(), Low: math.NaN(), High: math.NaN()}, Cause: "trapped water", Where: "under the seam",
					Requirements: []leste.RequirementResult{{Machine: "tray packer", Quantity: "mass", Limit: 20e-6, Value: around(85e-6), Unit: "kg", Verdict: leste.NotMet, Reserve: 0.235, Case: "surge"}},
				},
			},
			Standing: []leste.Push{
				{Way: "slide", Factor: 1.2, Case: "lubricated belt", Needs: "a rail on both sides"},
				{Way: "tip", Factor: 0.8, Case: "empty"},
				{Way: "lift", Factor: math.Inf(1)},
			},
			Balance: leste.Balance{In: 1e-3, Left: 412e-6, BlownOff: 580e-6, Mist: 5e-6, Evaporated: 3e-6},
			Why:     "The water under the seam dominates.",
		}},
		Air: leste.AirResult{
			Flow:    0.1,
			Outlets: []leste.OutletResult{{Name: "left knife", Station: "before the packer", Plenum: 20000, Jet: 172, Flow: 0.05, Thrust: 8, NonUniformity: 0.02, Temperature: 313.15}},
			Blowers: []leste.BlowerResult{{Name: "blower", SpeedRatio: 0.92, Inlet: 0.09, Rise: 22000, Shaft: 3100, Grid: 3600, Discharge: 320, Motor: 4000, Reserve: 0.2}},
			Parts:   []leste.LossResult{{Name: "filter", Loss: 400, Share: 0.2}},
			Limits:  "the blower at its greatest speed",
		},
		Cost:  leste.CostResult{Currency: "EUR", Energy: 2.1e4 * 3.6e6, Cost: 3360, CompressedEnergy: 1.1e5 * 3.6e6, CompressedCost: 17600, PowerRatio: 0.19, Band: q.Band{Likely: 0.19, Low: 0.14, High: 0.27}},
		Sound: leste.SoundResult{Power: 98, At1m: 90, Low: 86, High: 96, Limit: 85, Verdict: leste.NotMet, Assessed: true},
		Cases: []leste.CaseResult{{Name: "nominal", Format: "330 mL can", Verdict: leste.Met, Left: around(300e-6), Reserve: 2}, {Name: "surge", Format: "330 mL can", Verdict: leste.NotMet, Left: around(412e-6), Reserve: 0.235}},
		Helps: []leste.Help{{What: "Blow from below into the seam.", Ratio: 0.4, Air: true}, {What: "Drain 5 s longer.", Ratio: 0.8, Against: []string{"with it 330 mL can tips over", "with it 330 mL can slips on the belt"}}},
		Notes: []relation.Note{
			{Severity: relation.Info, Text: "worth knowing", Value: math.NaN(), Limit: math.NaN()},
			{Severity: relation.Outside, Relation: "plane-jet", Text: "distance over gap is above the range", Value: 600, Limit: 500, Unit: "1"},
		},
		Cautions:  []string{"Measure the noise on site."},
		Relations: []string{"plane-jet", "wiped-film"},
	}
}

func TestLawTheVerdictComesFirstAndNothingIsLost(t *testing.T) {
	report := Report(fixture(), Style{})
	if !strings.HasPrefix(report, "not met") {
		t.Errorf("the report begins %q, want the verdict", strings.SplitN(report, "\n", 2)[0])
	}
	unwrapped := strings.Join(strings.Fields(report), " ")
	last := -1
	for _, part := range []string{
		"What decides is seam for the tray packer", "85 (34 to 210) mg of water where at most 20 mg is tolerated", "4.3 times too much",
		"trapped water (under the seam)", "unproven until trials", "What would help most", "Blow from below into the seam: 0.40 times the water is left.",
		"Drain 5 s longer: 0.80 times the water is left, but with it 330 mL can tips over; with it 330 mL can slips on the belt.",
		"How wet do the cans arrive?", "Cases, the worst first", "120 (48 to 300) mg", "1.2 (0.48 to 3.0)", "will it stand", "barely stands", "moves", "no push", "The air moves the container: tip (resistance over push 0.80).",
		"left knife", "0.92", "filter", "What limits the air supply first: the blower at its greatest speed.", "19 (14 to 27) % of the power that compressed air", "90 dB (86 to 96)",
		"Assumed: 2 values", "3.1×", "outside: distance over gap", "(600, limit 500)", "[plane-jet]", "Measure the noise", "wiped-film",
	} {
		if !strings.Contains(unwrapped, part) {
			t.Errorf("the report lacks %q", part)
		}
	}
	for _, heading := range []string{"not met", "What decides", "What would help most", "Ask these first", "Cases", "water left", "Air at the outlets", "Energy and money", "Sound", "Assumed", "Notes", "Cautions"} {
		at := strings.Index(report, "\n"+heading)
		switch heading {
		case "not met":
			at = 0
		case "water left":
			at = strings.Index(report, ": water left\n")
		}
		if at <= last && heading != "not met" {
			t.Errorf("%q stands at %d, not after what comes before it", heading, at)
		}
		last = at
	}
	if strings.Index(report, "outside:") > strings.Index(report, "info:") {
		t.Error("the milder note comes first")
	}
	if strings.Contains(report, "\x1b") || strings.Contains(report, "NaN") || strings.Contains(report, "Inf") {
		t.Error("a plain report holds escape codes, NaN or Inf")
	}
}

func TestLawLinesFitTheWidth(t *testing.T) {
	for _, width := range []int{60, 80, 100, 140} {
		for line := range strings.Lines(Report(fixture(), Style{Width: width})) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > width {
				t.Errorf("width %d: a line has %d characters: %q", width, n, line)
			}
		}
	}
}

func TestLawColourOnlyAddsCodes(t *testing.T) {
	plain, coloured := Report(fixture(), Style{}), Report(fixture(), Style{Colour: true})
	if !strings.Contains(coloured, "\x1b[") {
		t.Fatal("no escape codes in a coloured report")
	}
	for _, word := range []string{"not met", "undecided", "barely stands", "seam"} {
		if strings.Count(plain, word) != strings.Count(coloured, word) {
			t.Errorf("%q appears %d times plain and %d times coloured", word, strings.Count(plain, word), strings.Count(coloured, word))
		}
	}
}

func TestLawUnitsOfTheReader(t *testing.T) {
	us := Report(fixture(), Style{Units: q.US})
	for _, want := range []string{"psi", "°F", "ft/min", "cfm", "85 (34 to 210) mg"} {
		if !strings.Contains(us, want) {
			t.Errorf("a report in US units lacks %q", want)
		}
	}
}

func TestLawAnEmptyResultIsWritten(t *testing.T) {
	if r := Report(&leste.Result{Job: "air alone", Verdict: leste.Met, Evidence: leste.Calculated}, Style{}); !strings.Contains(r, "air alone") || strings.Contains(r, "unproven") {
		t.Errorf("an empty result gives %q", r)
	}
}

func TestLawReserves(t *testing.T) {
	for reserve, want := range map[float64]string{
		2: "2.0 times better than needed", 0.5: "2.0 times too much", 1000: "more than a hundred times better than needed",
		0: "more than a hundred times too much", math.Inf(1): "more than a hundred times better than needed", math.NaN(): "no reserve can be told",
	} {
		if got := reserveWords(reserve); got != want {
			t.Errorf("reserve %g: %q, want %q", reserve, got, want)
		}
	}
}

// A pressure of nothing was told with seven decimals.
func TestNotesRoundWhatIsNearlyNothing(t *testing.T) {
	got := notes([]relation.Note{{Severity: relation.Caution, Text: "the air does not press", Value: 1.74e-5, Limit: 39.2, Unit: "Pa"}}, Style{})
	if !strings.Contains(got, "(about 0, limit 39.2 Pa)") {
		t.Errorf("the note reads %q", got)
	}
}
