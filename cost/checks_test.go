package cost

import (
	"testing"

	"leste/physics/relation"
)

func TestReferenceChecks(t *testing.T) {
	cards, err := relation.New(Cards())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range Checks() {
		if !c.Pass() {
			t.Errorf("%s: got %.9g %s, want %.9g +- %g", c.ID, c.Computed, c.Unit, c.Expected, c.Tolerance)
		}
		if _, err := cards.Get(c.Relation); err != nil || c.Source == "" {
			t.Errorf("%s: %v, source %q", c.ID, err, c.Source)
		}
	}
}
