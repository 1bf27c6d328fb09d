package drying

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// What a container leaves at one machine does not depend on which others are asked about in the same pass.
func TestLawTogetherIsAsApart(t *testing.T) {
	problem := func(travel float64) *Problem {
		p := canCase{cell: 5e-3, pressure: 3e3, speed: 2}.problem(t)
		p.Machines = []Machine{{Kind: "coder", Travel: travel}, {Kind: "packer", Travel: 2 * travel}}
		return p
	}
	near, far := problem(2), problem(60)
	got, err := TransportTogether(context.Background(), []*Problem{near, far}, TransportOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range []*Problem{near, far} {
		want, err := Transport(context.Background(), p, TransportOptions{})
		if err != nil {
			t.Fatal(err)
		}
		want.CellSteps = got[i].CellSteps // the work is that of the joint pass
		if diff := cmp.Diff(want, got[i], cmpopts.EquateNaNs()); diff != "" {
			t.Errorf("problem %d: apart (-) and together (+):\n%s", i, diff)
		}
	}
}
