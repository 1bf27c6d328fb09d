package physics

import "testing"

func TestLawEveryCardIsWhole(t *testing.T) {
	if n := len(Cards().All()); n < 40 {
		t.Errorf("%d cards; the relations of air, jets and water have at least 40", n)
	}
}
