package leste

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"

	"leste/catalogue"
)

// What is tried in the layout of the job as it is says the same, to the last bit, as what is laid out anew.
func TestLawVariationsInPlaceSayWhatThoseLaidOutAnewSay(t *testing.T) {
	for _, name := range []string{"cans-three-sizes", "cannot-be-met"} {
		j := exampleJob(t, name)
		usual, err := Assess(context.Background(), j, Options{Method: "quick", Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		anew, err := Assess(context.Background(), j, Options{Method: "quick", Workers: 2, layAgain: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(usual.Assumed) == 0 || len(usual.Helps) == 0 {
			t.Fatalf("%s: nothing was tried", name)
		}
		for _, pair := range [][2]any{{anew.Assumed, usual.Assumed}, {anew.Ask, usual.Ask}, {anew.Helps, usual.Helps}} {
			if diff := cmp.Diff(pair[0], pair[1]); diff != "" {
				t.Errorf("%s: %s", name, diff)
			}
		}
	}
}

// What condenses on the way stays whatever the air does: no remedy of air leaves less than its share of the answer, however
// much of the rest the bench finds.
func TestLawNoAirTakesOffWhatCondenses(t *testing.T) {
	j := exampleJob(t, "glass-330-shoulder")
	a := &assessment{given: j, options: Options{Method: "quick", Cell: quickCell}, parts: catalogue.GenericParts()}
	if _, err := a.assess(t.Context()); err != nil {
		t.Fatal(err)
	}
	if !(a.best.fog > 0) {
		t.Fatalf("nothing condenses in the case %s", a.best.situation.name)
	}
	for _, fog := range []float64{a.best.fog, 0.5, 0.9} {
		a.best.fog = fog
		b, err := a.newBench(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		last := 1.0
		for _, pressure := range []float64{1.5, 4, 16} {
			m, _, err := b.try(t.Context(), variation{change: always, pressure: pressure})
			if err != nil {
				t.Fatal(err)
			}
			left := m / b.measured
			if left < fog-1e-9 || left > last {
				t.Errorf("of water of which %.2f condenses %g times the pressure leaves %.3f, less air left %.3f", fog, pressure, left, last)
			}
			last = left
		}
		if last > 0.97 && fog < 0.9 {
			t.Errorf("of water of which %.2f condenses 16 times the pressure leaves %.3f", fog, last)
		}
	}
}
