package airsupply

import "testing"

func TestReferenceChecks(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Checks(t.Context()) {
		if !c.Pass() {
			t.Errorf("%s: got %.9g %s, want %.9g +- %g", c.ID, c.Computed, c.Unit, c.Expected, c.Tolerance)
		}
		if _, err := cards().Get(c.Relation); err != nil || c.Source == "" || seen[c.ID] {
			t.Errorf("%s: card %q: %v, source %q", c.ID, c.Relation, err, c.Source)
		}
		seen[c.ID] = true
	}
}
