package station

import (
	"math"
	"slices"
	"testing"
)

// Reference: package math.
func TestReferenceFallsAgainstPackageMath(t *testing.T) {
	const within = 1e-12
	for x := 0.0; x < fallTo; x += 0.00137 {
		if got, want := fall(x), math.Exp(-x); math.Abs(got-want) > within*want {
			t.Fatalf("exp(-%g) is %g, want %g", x, got, want)
		}
	}
	for x := -erfTo - 1; x < erfTo+1; x += 0.00137 {
		if got, want := erf(x), math.Erf(x); math.Abs(got-want) > within || got != -erf(-x) {
			t.Fatalf("erf(%g) is %g, want %g; of the opposite it is %g", x, got, want, erf(-x))
		}
	}
	if got := []float64{fall(30), fall(math.Inf(1)), erf(math.Inf(1)), erf(math.Inf(-1))}; !slices.Equal(got, []float64{0, 0, 1, -1}) {
		t.Errorf("far out: %v", got)
	}
	if !math.IsNaN(fall(math.NaN())) || !math.IsNaN(erf(math.NaN())) {
		t.Error("what is not a number became one")
	}
}

func BenchmarkFalls(b *testing.B) {
	sum := 0.0
	for name, f := range map[string]func(x float64) float64{
		"exp": func(x float64) float64 { return math.Exp(-x) }, "fall": fall, "math erf": math.Erf, "erf": erf,
	} {
		b.Run(name, func(b *testing.B) {
			x := 0.0
			for b.Loop() {
				if x += 0.37; x > 4 {
					x -= 4
				}
				sum += f(x)
			}
		})
	}
	_ = sum
}
