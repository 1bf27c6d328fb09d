package airsupply

import (
	"math"
	"slices"
	"testing"

	"leste/job"
	q "leste/quantity"
)

// The table of where the pressure goes left out the inlet, and its shares did not sum to the rise.
func TestLawWhatAWayTakesSumsToTheRise(t *testing.T) {
	alone := worked(1.2e-3)
	leaking := worked(1.2e-3)
	leaking.Leaks = []Leak{{At: "wye", Area: 2e-5}}
	uneven := worked(1.2e-3)
	uneven.Branches[2].Elements[0].Length = known(q.Millimetres(9000))
	parallel := sideBySide()
	both := worked(1.2e-3)
	both.Outlets = both.Outlets[:1]
	both.Outlets[0].Feed = "both ends"
	both.Outlets[0].Area *= 2
	both.Outlets[0].Length *= 2
	longer := both.Branches[1]
	longer.Name = "second hose"
	longer.Elements = slices.Clone(longer.Elements)
	longer.Elements[0].Length = known(q.Millimetres(3000))
	both.Branches = append(both.Branches[:2:2], longer)
	both.Junctions = []job.Junction{{At: "wye", Kind: "plain"}}
	for _, c := range []struct {
		name    string
		network *Network
		outlet  string
		kinds   []string
	}{
		{"one blower", alone, "K1", []string{PartFilter, PartEntry, PartBranch, PartBranch, PartOutlet}},
		{"with a leak", leaking, "K1", []string{PartFilter, PartEntry, PartBranch, PartBranch, PartOutlet}},
		{"one hose longer", uneven, "K2", []string{PartFilter, PartEntry, PartBranch, PartBranch, PartOutlet}},
		{"two blowers", parallel, "K1", []string{PartFilter, PartEntry, PartFlap, PartBranch, PartBranch, PartBranch, PartOutlet}},
		{"fed from both ends", both, "K1", []string{PartFilter, PartEntry, PartBranch, PartBranch, PartOutlet}},
	} {
		op, err := Solve(t.Context(), c.network, site500())
		if err != nil {
			t.Fatal(c.name, err)
		}
		if len(op.Ways) != len(c.network.Blowers) {
			t.Fatalf("%s: %d ways for %d blowers", c.name, len(op.Ways), len(c.network.Blowers))
		}
		for i, w := range op.Ways {
			var kinds []string
			sum, shares := 0.0, 0.0
			for _, p := range w.Parts {
				kinds = append(kinds, p.Kind)
				sum, shares = sum+float64(p.Loss), shares+float64(p.Share)
			}
			if math.Abs(sum-float64(op.Blowers[i].Rise)) > 0.05 { // heads are solved to 0.01 Pa each
				t.Errorf("%s: the parts sum to %.3f Pa, the rise is %.3f Pa", c.name, sum, float64(op.Blowers[i].Rise))
			}
			if math.Abs(shares-1) > 1e-5 {
				t.Errorf("%s: the shares sum to %g", c.name, shares)
			}
			if w.Outlet != c.outlet || !slices.Equal(kinds, c.kinds) {
				t.Errorf("%s: the way to %s is %v", c.name, w.Outlet, kinds)
			}
		}
	}
}

// The entry and the filter of a way are what its blower draws against.
func TestLawTheInletOfAWayIsItsSuction(t *testing.T) {
	op, err := Solve(t.Context(), worked(1.2e-3), site500())
	if err != nil {
		t.Fatal(err)
	}
	p := op.Ways[0].Parts
	near(t, "filter", float64(p[0].Loss), float64(op.Blowers[0].Filter), 1e-9)
	near(t, "filter and entry", float64(p[0].Loss+p[1].Loss), -float64(op.Blowers[0].Suction), 1e-6)
}
