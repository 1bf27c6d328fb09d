package drying

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"leste/station"
)

// The water follows kept air as it follows the air itself, bit for bit: at the positions that a Replay begins with, and at
// those that it looks at where the air allows wider steps, the first time and again.
func TestLawWaterFollowsAReplayAsItFollowsTheAir(t *testing.T) {
	fine := canCase{cell: 2e-3}.problem(t)
	rough := canCase{cell: 5e-3}.problem(t)
	for _, p := range []*Problem{rough, fine} {
		pass := &p.Passes[0]
		kept, err := NewReplay(context.Background(), pass.Air.(*station.Exposer), p.Body.Surface, pass.From, pass.To)
		if err != nil {
			t.Fatal(err)
		}
		for _, pressure := range []float64{1, 0.7, 1} {
			p.Settings.Pressure, p.Settings.Shear = pressure, pressure
			follow := func(air Exposure) Outcome {
				p.Passes[0].Air = air
				all, err := followTogether(context.Background(), []*Problem{p}, TransportOptions{Machines: true})
				if err != nil {
					t.Fatal(err)
				}
				return all[0]
			}
			if d := cmp.Diff(follow(kept.Air()), follow(kept), cmpopts.IgnoreFields(Outcome{}, "Notes"), cmpopts.EquateNaNs()); d != "" {
				t.Errorf("at %g of the pressure: %s", pressure, d)
			}
		}
		if further := len(kept.apart.gusts) > 0; further != (p == fine) {
			t.Errorf("looked at further positions: %v", further)
		}
	}
}
