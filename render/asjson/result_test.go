package asjson

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	leste "leste"
	"leste/calc"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// lookup follows keys and indices into a decoded document.
func lookup(t *testing.T, doc any, path ...any) any {
	t.Helper()
	for _, step := range path {
		switch step := step.(type) {
		case string:
			object, ok := doc.(map[string]any)
			if !ok {
				t.Fatalf("%v: no object at %q", path, step)
			}
			if doc, ok = object[step]; !ok {
				t.Fatalf("%v: no key %q", path, step)
			}
		case int:
			list, ok := doc.([]any)
			if !ok || step >= len(list) {
				t.Fatalf("%v: no element %d", path, step)
			}
			doc = list[step]
		}
	}
	return doc
}

func decoded(t *testing.T, b []byte, err error) any {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatalf("%v in %s", err, b)
	}
	return doc
}

func TestLawKeysCarryTheirUnits(t *testing.T) {
	unknown := q.Band{Likely: math.NaN(), Low: math.NaN(), High: math.Inf(1)}
	doc := func() any {
		b, err := Result(&leste.Result{
			Job: "j", Verdict: leste.NotMet, Evidence: leste.Calculated,
			Assumed: []job.Assumed{{Path: "/arrives/water", Value: "50 g/m2", Low: "20 g/m2", High: "100 g/m2", Matters: 3}, {Path: "/x", Value: "1"}},
			Formats: []leste.FormatResult{{
				Name: "can", Verdict: leste.NotMet, Container: q.Band{Likely: 412e-6, Low: 150e-6, High: 1e-3},
				Zones: []leste.ZoneResult{{
					Name: "seam", PerArea: q.Band{Likely: 5e-3, Low: 2e-3, High: 9e-3}, Left: q.Band{Likely: 85e-6}, Largest: unknown, Parts: map[string]float64{"trapped water": 80e-6},
					Requirements: []leste.RequirementResult{
						{Machine: "packer", Quantity: "water", Limit: 4e-3, Value: q.Band{Likely: 5e-3}, Unit: "kg/m2", Verdict: leste.NotMet, Reserve: 0.8},
						{Machine: "camera", Quantity: "rejects", Limit: 1e-3, Value: q.Band{Likely: 2e-3}, Unit: "1", Verdict: leste.NotMet, Reserve: 0.5},
					},
				}},
				Standing: []leste.Push{{Way: "held back", Factor: 2, Case: "empty"}, {Way: "lift", Factor: math.Inf(1)}},
				Balance:  leste.Balance{In: 1e-3, Closure: 1e-12},
			}},
			Air:   leste.AirResult{Outlets: []leste.OutletResult{{Name: "left", NonUniformity: 0.02, Temperature: 313.15}}, Blowers: []leste.BlowerResult{{Name: "b", Reserve: 0.2, Discharge: 320.15}}},
			Cost:  leste.CostResult{Energy: 3.6e6, PowerRatio: math.NaN()},
			Cases: []leste.CaseResult{{Name: "surge", Verdict: leste.NotMet, Lacking: "blower: it would surge"}, {Name: "nominal", Verdict: leste.Met}},
			Notes: []relation.Note{{Severity: relation.Info, Text: "t", Value: math.NaN(), Limit: math.NaN()}},
		})
		return decoded(t, b, err)
	}()
	for _, c := range []struct {
		path []any
		want any
	}{
		{[]any{"verdict"}, "not met"},
		{[]any{"evidence"}, "calculated"},
		{[]any{"assumed", 0, "matters"}, 3.0},
		{[]any{"assumed", 0, "range"}, []any{"20 g/m2", "100 g/m2"}},
		{[]any{"assumed", 1, "range"}, nil},
		{[]any{"assumed", 1, "matters"}, nil},
		{[]any{"formats", 0, "container_mg"}, map[string]any{"likely": 412.0, "low": 150.0, "high": 1000.0}},
		{[]any{"formats", 0, "zones", 0, "water_left_g_m2", "likely"}, 5.0},
		{[]any{"formats", 0, "zones", 0, "water_left_mg", "likely"}, 85.0},
		{[]any{"formats", 0, "zones", 0, "largest_drop_mm"}, map[string]any{"likely": nil, "low": nil, "high": nil}},
		{[]any{"formats", 0, "zones", 0, "parts_mg", "trapped_water"}, 80.0},
		{[]any{"formats", 0, "zones", 0, "requirements", 0, "limit"}, 4.0},
		{[]any{"formats", 0, "zones", 0, "requirements", 0, "unit"}, "g/m2"},
		{[]any{"formats", 0, "zones", 0, "requirements", 1, "value", "likely"}, 0.2},
		{[]any{"formats", 0, "stability", "held_back", "factor"}, 2.0},
		{[]any{"formats", 0, "stability", "lift", "factor"}, nil},
		{[]any{"formats", 0, "balance", "in_mg"}, 1000.0},
		{[]any{"formats", 0, "balance", "closure"}, 1e-12},
		{[]any{"air_supply", "outlets", 0, "non_uniformity_pct"}, 2.0},
		{[]any{"air_supply", "outlets", 0, "air_c"}, 40.0},
		{[]any{"air_supply", "blowers", 0, "discharge_c"}, 47.0},
		{[]any{"air_supply", "blowers", 0, "reserve_pct"}, 20.0},
		{[]any{"cost", "energy_kwh_year"}, 1.0},
		{[]any{"cost", "power_ratio"}, nil},
		{[]any{"sound", "at_1_m_db", "likely"}, nil},
		{[]any{"cases", 0, "air_lacks"}, "blower: it would surge"},
		{[]any{"cases", 1, "air_lacks"}, nil},
		{[]any{"relations"}, []any{}},
		{[]any{"notes", 0, "value"}, nil},
	} {
		if diff := cmp.Diff(c.want, lookup(t, doc, c.path...)); diff != "" {
			t.Errorf("%v: %s", c.path, diff)
		}
	}
}

func TestLawEveryAnswerIsOneDocumentWithoutEndlessNumbers(t *testing.T) {
	topic, err := calc.Find("crevice")
	if err != nil {
		t.Fatal(err)
	}
	// Too little pressure: the water never comes out, so that the time has no end.
	a, err := topic.Answer(map[string]string{"gap": "0.1 mm", "depth": "3 mm", "pressure": "10 Pa"})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Answer(a)
	doc := decoded(t, b, err)
	if got := lookup(t, doc, "clearing_time_ms"); got != nil {
		t.Errorf("clearing_time_ms = %v, want null", got)
	}
	if got := lookup(t, doc, "inputs", "gap", "value_si"); got != 1e-4 {
		t.Errorf("gap = %v", got)
	}
	if strings.Count(string(b), "\n") < 5 || !strings.HasSuffix(string(b), "}\n") {
		t.Errorf("document %q", b)
	}
}

// The ways of the air were in no document.
func TestLawTheWaysOfTheAirSumToTheRises(t *testing.T) {
	data, err := os.ReadFile("../../examples/air-side-only.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file, problems := job.Load("air-side-only.yaml", data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, err := leste.Assess(t.Context(), file.Job, leste.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Result(r)
	doc := decoded(t, b, err)
	ways := lookup(t, doc, "air_supply", "ways").([]any)
	if len(ways) != len(r.Air.Blowers) || len(ways) == 0 {
		t.Fatalf("%d ways of %d blowers", len(ways), len(r.Air.Blowers))
	}
	elements := 0
	for i := range ways {
		sum, rise := 0.0, lookup(t, ways[i], "rise_pa").(float64)
		for _, p := range lookup(t, ways[i], "parts").([]any) {
			loss := lookup(t, p, "loss_pa").(float64)
			sum += loss
			list := lookup(t, p, "elements").([]any)
			if branch := lookup(t, p, "kind") == leste.PartBranch; branch != (lookup(t, p, "junction_pa") != nil) || !branch && len(list) > 0 {
				t.Errorf("part %v", p)
			}
			if len(list) == 0 {
				continue
			}
			within := lookup(t, p, "junction_pa").(float64)
			for _, e := range list {
				elements++
				within += lookup(t, e, "loss_pa").(float64)
			}
			if math.Abs(within-loss) > 1e-3*rise {
				t.Errorf("the elements of %v take %.1f of %.1f Pa", lookup(t, p, "name"), within, loss)
			}
		}
		if math.Abs(sum-rise) > 1e-4*rise {
			t.Errorf("the parts of way %d sum to %.1f of %.1f Pa", i, sum, rise)
		}
	}
	if elements < 3 {
		t.Errorf("only %d elements are told", elements)
	}
}

func TestLawCardsAreWritten(t *testing.T) {
	b, err := Cards(calc.Relations().All())
	doc := decoded(t, b, err)
	if n := len(lookup(t, doc, "relations").([]any)); n != len(calc.Relations().All()) {
		t.Errorf("%d relations written", n)
	}
}
