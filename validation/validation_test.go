package validation

import (
	"os"
	"testing"

	"leste/calc"
)

func TestReferenceEveryRowPasses(t *testing.T) {
	seen := map[string]bool{}
	own := 0
	for _, r := range Run(t.Context()) {
		if seen[r.ID] {
			t.Errorf("%s: there are two", r.ID)
		}
		seen[r.ID] = true
		own++
		if _, err := calc.Relations().Get(r.Relation); err != nil {
			t.Errorf("%s: %v", r.ID, err)
		}
		if r.Source == "" || r.Basis == "" || r.Unit == "" {
			t.Errorf("%s: source, basis or unit is missing", r.ID)
		}
		if !r.Pass() {
			t.Errorf("%s: expected %g, computed %g, tolerance %g %s", r.ID, r.Expected, r.Computed, r.Tolerance, r.Unit)
		}
	}
	if own < 100 {
		t.Errorf("%d rows; at least 100 belong here", own)
	}
	t.Logf("%d rows", own)
}

// A check that cannot fail proves nothing.
func TestLawRowsFail(t *testing.T) {
	for _, r := range Run(t.Context()) {
		off := r
		off.Computed += 1.01*r.Tolerance + 1e-12 + (r.Expected - r.Computed)
		if off.Pass() {
			t.Errorf("%s passes outside its tolerance", r.ID)
		}
	}
}

func TestLawPageIsCurrent(t *testing.T) {
	got, err := os.ReadFile("../docs/validation.md")
	if err != nil || string(got) != Page(Run(t.Context())) {
		t.Errorf("docs/validation.md is not what the checks say (%v); run make generate", err)
	}
}
