package flownet

import (
	"math"
	"testing"
)

// lagging are square laws whose lagged terms settle only after some iterations.
type lagging struct {
	squares
	left *int
}

func (l lagging) Lag(_, _ []float64) float64 {
	if *l.left--; *l.left >= 0 {
		return 5
	}
	return 0
}

// Heads that fit are not enough to stop: the flows must balance and the lagged terms stand.
func TestLawNothingStopsBeforeFlowsAndLagsSettle(t *testing.T) {
	n, err := New([]bool{true, false}, []Link{{0, 1}})
	if err != nil {
		t.Fatal(err)
	}
	anyHead := Options{HeadTolerance: 1e12}
	r := n.Solve(t.Context(), squares{3}, []float64{6.99}, []float64{0, 0}, []float64{0, 7}, anyHead)
	if r.Stopped != Converged || math.Abs(r.Flow[0]-7) > 1e-9*7 {
		t.Errorf("stopped %q at a flow of %g, want 7", r.Stopped, r.Flow[0])
	}
	left := 4
	r = n.Solve(t.Context(), lagging{squares{3}, &left}, []float64{7}, []float64{0, -147}, []float64{0, 7}, anyHead)
	if r.Stopped != Converged || r.Iterations != 4 {
		t.Errorf("stopped %q after %d iterations, want 4", r.Stopped, r.Iterations)
	}
}

// roots are laws |q|^p: below p = 0.5 full steps of Newton fly apart.
type roots struct{ p float64 }

func (roots) Lag(_, _ []float64) float64 { return 0 }

func (r roots) Loss(_ int, q, _, _ float64) (loss, slope float64) {
	size := max(math.Abs(q), 1e-12)
	return math.Copysign(math.Pow(size, r.p), q), r.p * math.Pow(size, r.p-1)
}

// Steps that make it worse twice in a row are halved.
func TestLawGrowingStepsAreHalved(t *testing.T) {
	n, err := New([]bool{true, false, true}, []Link{{0, 1}, {1, 2}})
	if err != nil {
		t.Fatal(err)
	}
	r := n.Solve(t.Context(), roots{0.45}, []float64{1, 1}, []float64{0, 0, 0}, nil, Options{MaxIterations: 100})
	if r.Stopped != Converged || math.Abs(r.Flow[0]) > 1e-4 {
		t.Errorf("stopped %q at a flow of %g after %d iterations", r.Stopped, r.Flow[0], r.Iterations)
	}
}

// slopes are linear laws, each with its own slope.
type slopes []float64

func (slopes) Lag(_, _ []float64) float64 { return 0 }

func (s slopes) Loss(i int, q, _, _ float64) (loss, slope float64) { return s[i] * q, s[i] }

// A matrix that has lost its digits is said so and names a node.
func TestLawLostDigitsAreSingular(t *testing.T) {
	n, err := New([]bool{true, false, false}, []Link{{0, 1}, {1, 2}})
	if err != nil {
		t.Fatal(err)
	}
	r := n.Solve(t.Context(), slopes{1, 1e-29}, []float64{1, 1}, []float64{5, 0, 0}, []float64{0, 0, 1}, Options{})
	if r.Stopped != Singular || r.Worst != 1 && r.Worst != 2 {
		t.Errorf("stopped %q at node %d", r.Stopped, r.Worst)
	}
}
