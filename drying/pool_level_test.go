package drying

import (
	"math"
	"testing"
)

// The water of a pool runs around to where it is lower, in a time that the grid does not change; none is made or
// lost. The unevenness once around falls as exp(-t c/R) with c the speed of a wave on the pool and R its radius,
// to a few per cent: the angle between two columns is not small on a coarse grid.
func TestLawPoolLevelsAtItsOwnPace(t *testing.T) {
	for _, cell := range []float64{4e-3, 2e-3} {
		f := newFlow(canCase{cell: cell}.problem(t))
		r := &f.recess[0]
		n := len(r.water)
		first := func() (uneven float64) {
			for c, v := range r.water {
				uneven += v * math.Cos(2*math.Pi*(float64(c)+0.5)/float64(n))
			}
			return uneven
		}
		for c := range n / 2 {
			v := float64(r.pool.Volume) / float64(n) * (0.5 + 0.4*math.Cos(2*math.Pi*(float64(c)+0.5)/float64(n)))
			r.water[c], r.water[n-1-c] = v, v
		}
		total, before := f.held(), first()
		const seconds = 0.1
		for range 100 {
			r.level(seconds/100, f.g)
		}
		wave := math.Sqrt(9.81 * r.pool.Depth / 2)
		want := math.Exp(-seconds * wave / ((r.pool.Outer + r.pool.Inner) / 2))
		if got := first() / before; math.Abs(got/want-1) > 0.05 {
			t.Errorf("%g mm: %.3f of the unevenness is left after %g s, want %.3f", cell*1e3, got, seconds, want)
		}
		if math.Abs(f.held()/total-1) > 1e-12 {
			t.Errorf("%g mm: %g of %g m3", cell*1e3, f.held(), total)
		}
		for c, v := range r.water {
			if other := r.water[n-1-c]; v != other {
				t.Fatalf("%g mm: column %d holds %g m3, its mirror image %g", cell*1e3, c, v, other)
			}
		}
	}
}

// What the jets throw into one place of a countersink lay there as a film 8 mm deep on some grids, beside a pool
// with room, and the water left jumped by a quarter of all from one grid to the next. It jumped, too, where the grid
// decided how much of the wall belongs to the countersink.
func TestPoolTakesItsWaterOnEveryGrid(t *testing.T) {
	least, most := math.Inf(1), 0.0
	for _, cell := range []float64{4e-3, 3e-3, 2.5e-3, 2e-3, 1e-3} {
		after := transported(t, canCase{cell: cell}.problem(t), TransportOptions{}).After
		z := zone(t, after, "countersink")
		if z.Film > 0.05*z.Left.Likely {
			t.Errorf("%g mm: %.0f mg of film in the countersink beside a pool of %.0f mg", cell*1e3, z.Film*1e6, z.Pool*1e6)
		}
		t.Logf("%g mm: %.0f mg, %.0f of them in the countersink", cell*1e3, after.Total.Likely*1e6, z.Left.Likely*1e6)
		least, most = min(least, after.Total.Likely), max(most, after.Total.Likely)
	}
	if most > 1.15*least {
		t.Errorf("on five grids %.0f to %.0f mg are left", least*1e6, most*1e6)
	}
}
