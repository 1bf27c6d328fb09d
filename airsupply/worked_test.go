package airsupply

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"leste/physics/air"
	q "leste/quantity"
)

// The worked case: an invented machine with one duct, a wye, two hoses and two knives at 500 m. Its values
// come from two independent programs (a march from the blower with bracketing, and an integration of the
// differential equations), which agree to 2e-7 of the flow.

func known[T any](v T) q.Maybe[T] { return q.Known(v) }

func worked(gap q.Length) *Network { return WorkedCase(gap) }

func site500() Case { return WorkedSite() }

func coldSea() Case { return Case{Inlet: air.Humid(101325, q.Celsius(-5), 0.8)} }

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.8g, want %.8g +- %.2g", what, got, want, tolerance)
	}
}

// Tolerances: 0.02 % of flow, pressures and powers (the second opinion of the values is 0.002 %, the digits
// printed 0.01 %), 0.02 K, 0.01 points of non-uniformity.
func TestReferenceWorkedSupply(t *testing.T) {
	cases := []struct {
		name                                                                  string
		gap                                                                   q.Length
		c                                                                     Case
		speed                                                                 q.Ratio
		load                                                                  q.Ratio
		m, q1, filter, rise, p02, duct, plenum, jet, uneven, shaft, t2, drawn float64
	}{
		{"base", 1.2e-3, site500(), 1, 0, .121242, .11008, 428.2, 17286.5, 16804.1, 190.7, 16516.9, 169.62, .50, 2696.7, 46.88, 3445.1},
		{"speed 0.8", 1.2e-3, site500(), .8, 0, .097201, .08811, 301.3, 10837.9, 10501.9, 129.2, 10308.5, 134.80, .55, 1383.3, 39.00, 1903.2},
		{"cold at sea level", 1.2e-3, coldSea(), 1, 0, .144145, .11017, 428.9, 20673.3, 20179.9, 219.5, 19847.2, 170.25, .484, 3205.0, 17.07, 4062.2},
		{"loaded filter", 1.2e-3, site500(), 1, 1, .116841, .10742, 1613.5, 17272.1, 15607.6, 179.8, 15337.2, 164.07, .509, 2625.3, 47.10, 3359.4},
		{"slots of 1.5 mm", 1.5e-3, site500(), 1, 0, .142103, .12922, 555.0, 15495.2, 14865.6, 261.7, 14469.7, 159.18, .807, 2954.3, 45.45, 3756.3},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			n := worked(c.gap)
			n.Blowers[0].Speed = c.speed
			c.c.Load = c.load
			op, err := Solve(context.Background(), n, c.c)
			if err != nil {
				t.Fatal(err)
			}
			b, o := op.Blowers[0], op.Outlets[0]
			share := func(want float64) float64 { return 2e-4 * want }
			near(t, "flow", float64(b.Flow), c.m, share(c.m))
			near(t, "inlet flow", float64(b.Inlet), c.q1, share(c.q1))
			near(t, "filter", float64(b.Filter), c.filter, share(c.filter)+0.05)
			near(t, "rise", float64(b.Rise), c.rise, share(c.rise))
			near(t, "after the blower", float64(b.Suction)+float64(b.Rise), c.p02, share(c.p02))
			near(t, "duct", float64(op.Branches[0].Loss), c.duct, share(c.duct)+0.05)
			near(t, "plenum", float64(o.Feed), c.plenum, share(c.plenum))
			near(t, "jet", float64(o.Velocity), c.jet, share(c.jet))
			near(t, "non-uniformity", 100*o.NonUniformity.Likely, c.uneven, 0.01)
			near(t, "shaft", float64(b.Drive.Shaft), c.shaft, share(c.shaft))
			near(t, "discharge", b.Discharge.C(), c.t2, 0.02)
			near(t, "mains", float64(b.Drive.Grid), c.drawn, share(c.drawn))
			if op.Iterations > 8 {
				t.Errorf("%d iterations, want at most 8", op.Iterations)
			}
		})
	}
}

func TestReferenceWorkedSupplyRefusals(t *testing.T) {
	for _, c := range []struct {
		gap  q.Length
		want string
	}{{4e-3, "larger machine"}, {0.4e-3, "smaller machine"}} {
		_, err := Solve(context.Background(), worked(c.gap), site500())
		var r *Refusal
		if !errors.As(err, &r) || r.Element != "blower B1" {
			t.Errorf("slots of %.1f mm: got %v, want a refusal that names blower B1", c.gap.MM(), err)
		} else if !strings.Contains(err.Error(), c.want) {
			t.Errorf("slots of %.1f mm: got %q, want %q in it", c.gap.MM(), err, c.want)
		}
	}
}
