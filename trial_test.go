package leste

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
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
