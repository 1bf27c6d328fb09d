package flownet

import (
	"context"
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// squares are links with loss = k q |q|.
type squares []float64

func (squares) Lag(_, _ []float64) float64 { return 0 }

func (k squares) Loss(i int, q, _, _ float64) (float64, float64) {
	const least = 1e-7 // a flow far below every flow of these cases
	return k[i] * q * math.Abs(q), 2 * k[i] * math.Max(math.Abs(q), least)
}

func solveSquares(t *testing.T, fixed []bool, head []float64, links []Link, k squares, demand []float64) Result {
	t.Helper()
	n, err := New(fixed, links)
	if err != nil {
		t.Fatal(err)
	}
	start := make([]float64, len(links))
	for i := range start {
		start[i] = 1
	}
	r := n.Solve(context.Background(), k, start, head, demand, Options{HeadTolerance: 1e-10, FlowTolerance: 1e-12})
	if r.Stopped != Converged {
		t.Fatalf("stopped after %d iterations: %s, residual %g, imbalance %g", r.Iterations, r.Stopped, r.Residual, r.Imbalance)
	}
	return r
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g +- %g", what, got, want, tolerance)
	}
}

// Two links side by side, exact by hand: flows as 1/sqrt(k).
func TestReferenceParallelLinks(t *testing.T) {
	r := solveSquares(t, []bool{true, false}, []float64{100, 0}, []Link{{0, 1}, {0, 1}}, squares{100, 400}, []float64{0, 1})
	near(t, "flow", r.Flow[0], 2.0/3, 1e-12)
	near(t, "flow", r.Flow[1], 1.0/3, 1e-12)
	near(t, "loss", 100-r.Head[1], 400.0/9, 1e-10)
}

// Three reservoirs joined at one node. Values: independent root finding on the node's head, ten digits.
func TestReferenceThreeReservoirs(t *testing.T) {
	r := solveSquares(t, []bool{true, true, true, false}, []float64{100, 80, 60, 70},
		[]Link{{0, 3}, {3, 1}, {3, 2}}, squares{1, 2, 3}, nil)
	near(t, "head", r.Head[3], 83.34030980, 5e-9)
	for i, want := range []float64{4.08162838, 1.29234473, 2.78928365} {
		near(t, "flow", r.Flow[i], want, 5e-9)
	}
}

// A bridge of five links. Values: independent Newton solution of the two loop equations.
func TestReferenceBridge(t *testing.T) {
	r := solveSquares(t, []bool{true, false, false, false}, make([]float64, 4),
		[]Link{{0, 1}, {0, 2}, {1, 2}, {1, 3}, {2, 3}}, squares{2, 3, 5, 4, 1}, []float64{0, 2, 3, 5})
	for i, want := range []float64{5.33779029, 4.66220971, 1.28254341, 2.05524688, 2.94475312} {
		near(t, "flow", r.Flow[i], want, 5e-9)
	}
	for v, want := range []float64{0, -56.98401, -65.208598, -73.880169} {
		near(t, "head", r.Head[v], want, 1e-5)
	}
}

// randomNet draws a connected network of n nodes with some loops; node 0 is fixed.
func randomNet(t *rapid.T) (fixed []bool, links []Link, k squares, demand []float64) {
	n := rapid.IntRange(2, 40).Draw(t, "nodes")
	fixed = make([]bool, n)
	fixed[0] = true
	demand = make([]float64, n)
	for v := 1; v < n; v++ {
		links = append(links, Link{rapid.IntRange(0, v-1).Draw(t, "parent"), v})
		demand[v] = rapid.Float64Range(0.1, 3).Draw(t, "demand")
	}
	for range rapid.IntRange(0, 20).Draw(t, "loops") {
		links = append(links, Link{rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")})
	}
	for range links {
		k = append(k, rapid.Float64Range(0.5, 50).Draw(t, "k"))
	}
	return fixed, links, k, demand
}

func TestLawEveryNetworkBalances(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		fixed, links, k, demand := randomNet(rt)
		n, err := New(fixed, links)
		if err != nil {
			rt.Fatal(err)
		}
		start := make([]float64, len(links))
		for i := range start {
			start[i] = 1
		}
		r := n.Solve(context.Background(), k, start, make([]float64, len(fixed)), demand,
			Options{HeadTolerance: 1e-8, FlowTolerance: 1e-10, MaxIterations: 200})
		if r.Stopped != Converged {
			rt.Fatalf("stopped: %s, residual %g, imbalance %g", r.Stopped, r.Residual, r.Imbalance)
		}
		out := make([]float64, len(fixed))
		for i, l := range links {
			out[l.From] += r.Flow[i]
			out[l.To] -= r.Flow[i]
			if loss := k[i] * r.Flow[i] * math.Abs(r.Flow[i]); math.Abs(loss-(r.Head[l.From]-r.Head[l.To])) > 1e-7 {
				rt.Fatalf("link %d: loss %g over a head difference of %g", i, loss, r.Head[l.From]-r.Head[l.To])
			}
		}
		for v := 1; v < len(fixed); v++ {
			if math.Abs(out[v]+demand[v]) > 1e-7 {
				rt.Fatalf("node %d: imbalance %g", v, out[v]+demand[v])
			}
		}
		again := n.Clone().Solve(context.Background(), k, start, make([]float64, len(fixed)), demand,
			Options{HeadTolerance: 1e-8, FlowTolerance: 1e-10, MaxIterations: 200})
		for i := range r.Flow {
			if r.Flow[i] != again.Flow[i] {
				rt.Fatalf("link %d: not the same bits on repeat", i)
			}
		}
	})
}

func TestLawLostNodeIsNamed(t *testing.T) {
	_, err := New([]bool{true, false, false, false}, []Link{{0, 1}, {2, 3}})
	var lost *UnreachedError
	if !errors.As(err, &lost) || lost.Node != 2 {
		t.Errorf("got %v, want node 2 named", err)
	}
}

func TestLawSolveStopsWithItsReason(t *testing.T) {
	n, err := New([]bool{true, false}, []Link{{0, 1}})
	if err != nil {
		t.Fatal(err)
	}
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	for _, c := range []struct {
		name   string
		ctx    context.Context
		laws   Laws
		demand float64
		want   string
	}{
		{"NaN law", context.Background(), squares{math.NaN()}, 1, NotFinite},
		{"infinite law", context.Background(), squares{math.Inf(1)}, 1, NotFinite},
		{"negative law", context.Background(), squares{-1}, 1, NotFinite},
		{"too few iterations", context.Background(), squares{3}, 1e9, TooMany},
		{"cancelled", cancelled, squares{3}, 7, Interrupted},
	} {
		r := n.Solve(c.ctx, c.laws, []float64{1}, []float64{0, 0}, []float64{0, c.demand}, Options{MaxIterations: 1})
		if r.Stopped != c.want {
			t.Errorf("%s: stopped %q, want %q", c.name, r.Stopped, c.want)
		}
	}
}
