package text

import (
	"testing"

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
