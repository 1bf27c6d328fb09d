package solve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestLawRootRecoversKnownRoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		root := rapid.Float64Range(-50, 50).Draw(t, "root")
		power := float64(rapid.SampledFrom([]int{1, 3, 5}).Draw(t, "power"))
		f := func(x float64) float64 { return math.Copysign(math.Pow(math.Abs(x-root), power), x-root) }
		got := Root(f, -100, 200, 1e-12)
		if math.Abs(got-root) > 1e-9 {
			t.Fatalf("root of (x-%g)^%g: got %g", root, power, got)
		}
	})
}

func TestLawRootRefusesWhatBracketsNothing(t *testing.T) {
	for name, got := range map[string]float64{
		"same sign": Root(func(x float64) float64 { return x*x + 1 }, -1, 1, 0),
		"NaN":       Root(func(float64) float64 { return math.NaN() }, -1, 1, 0),
		"infinite":  Root(func(x float64) float64 { return x }, math.Inf(-1), 1, 0),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}

func TestLawRootOnTheBoundIsFound(t *testing.T) {
	id := func(x float64) float64 { return x }
	if lo, hi := Root(id, 0, 1, 0), Root(id, -1, 0, 0); lo != 0 || hi != 0 {
		t.Errorf("roots on the bounds: got %g and %g, want 0 and 0", lo, hi)
	}
}
