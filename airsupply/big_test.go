package airsupply

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
)

// wide is a tree of ducts with a number of branches, nozzles at its leaves, and some rings; fed by a source.
func wide(branches int) *Network {
	n := &Network{Blowers: []Blower{{Name: "source", Source: &Source{Pressure: 20e3, Temperature: 320}}}}
	rings := branches / 50
	nodes := branches - rings
	place := func(v int) string {
		if v == 0 {
			return "source"
		}
		return fmt.Sprintf("p%d", v)
	}
	parent, served, leaf := make([]int, nodes+1), make([]float64, nodes+1), make([]bool, nodes+1)
	for v := 1; v <= nodes; v++ {
		leaf[v] = true
		parent[v] = (v - 1) / 3
		leaf[parent[v]] = false
	}
	bore := q.Millimetres(8)
	for v := nodes; v > 0; v-- {
		if leaf[v] {
			served[v] = 1
			n.Outlets = append(n.Outlets, Outlet{Name: place(v), Kind: Round, Area: 0.785 * q.Area(bore*bore), Bore: bore, Count: 1, Cd: 0.95, Cv: 1})
		}
		served[parent[v]] += served[v]
	}
	duct := func(from, to string, load float64) {
		size := q.Length(0.016) * q.Length(1+load*0.02) * q.Length(1)
		if load > 1 {
			size = boreFor(load * 0.008)
		}
		n.Branches = append(n.Branches, job.Branch{From: from, To: to, Elements: []job.Element{
			{Kind: "duct", Bore: known(size), Length: known(q.Length(2))},
		}})
	}
	for v := 1; v <= nodes; v++ {
		duct(place(parent[v]), place(v), served[v])
		n.Junctions = append(n.Junctions, job.Junction{At: place(v), Kind: "plain"})
	}
	n.Junctions = append(n.Junctions, job.Junction{At: "source", Kind: "plain"})
	for i := range rings {
		duct(place(1+i*7%nodes), place(1+(i*13+5)%nodes), 1)
	}
	return n
}

func TestLawWideNetworkBalances(t *testing.T) {
	for _, size := range []int{10, 1000} {
		op, err := Solve(t.Context(), wide(size), Case{Inlet: air.Dry(101325, q.Celsius(20))})
		if err != nil {
			t.Fatalf("%d branches: %v", size, err)
		}
		near(t, "balance", float64(op.Flow/op.Blowers[0].Flow), 1, 1e-8)
		t.Logf("%d branches, %d outlets: %d iterations, %.2g Pa left over", size, len(op.Outlets), op.Iterations, float64(op.Residual))
	}
}

func BenchmarkAirNetwork10000(b *testing.B) {
	n := wide(10000)
	c := Case{Inlet: air.Dry(101325, q.Celsius(20))}
	for b.Loop() {
		if _, err := Solve(b.Context(), n, c); err != nil {
			b.Fatal(err)
		}
	}
}

// lateCancel ends after it was asked some times, as a user who leaves in the middle of a long solve.
type lateCancel struct {
	context.Context
	left int
}

func (c *lateCancel) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// A solve, a study and the setting of speeds end when they are cancelled in the middle, with the context's error.
func TestLawCancelEndsTheAirSide(t *testing.T) {
	for after := range 3 {
		ctx := &lateCancel{t.Context(), after}
		if _, err := Solve(ctx, wide(10000), Case{Inlet: air.Dry(101325, q.Celsius(20))}); !errors.Is(err, context.Canceled) {
			t.Errorf("solve, after %d: %v", after, err)
		}
		n := worked(1.2e-3)
		if _, err := Study(&lateCancel{t.Context(), 5 + 7*after}, n, workedSite(), 0.6); !errors.Is(err, context.Canceled) {
			t.Errorf("study, after %d: %v", after, err)
		}
		if _, _, err := SpeedFor(&lateCancel{t.Context(), 3 + 4*after}, n, site500(), Wanted{"K1": 12e3}); !errors.Is(err, context.Canceled) {
			t.Errorf("speed, after %d: %v", after, err)
		}
	}
}
