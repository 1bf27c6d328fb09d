package drying

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// Drops become film where they touch on a patch of wall of a few millimetres, not where a single cell is full of them.
func TestLawDropsFloodPatchesAndNotCells(t *testing.T) {
	const rows, cols = 13, 13
	s := plate(rows, cols, 1e-3, 1e-3, alongMY, alongX)
	p := plateProblem(s, 80, 40)
	for _, c := range []struct {
		name string
		full func(r, c int) bool
		want bool
	}{
		{"one cell", func(r, c int) bool { return r == 6 && c == 6 }, false},
		{"a stream one cell wide", func(r, c int) bool { return c == 6 }, false},
		{"a stream a patch wide", func(r, c int) bool { return 4 <= c && c <= 8 }, true},
		{"all of the wall", func(r, c int) bool { return true }, true},
		{"all but the cell itself", func(r, c int) bool { return r != 6 || c != 6 }, false},
	} {
		f := newFlow(p)
		for i := range f.drops.stuck {
			f.drops.stuck[i] = amounts{}
		}
		const bin, cover = 10, 0.9
		for r := range rows {
			for col := range cols {
				if c.full(r, col) {
					i := f.g.at(r, col)
					f.drops.moving[i][bin] = cover / f.drops.walls[f.drops.wall[i]].cover[bin]
				}
			}
		}
		f.drops.recount()
		for r := range rows {
			f.crowd(r)
		}
		if got := f.floods(6, 6); got != c.want {
			t.Errorf("%s full of drops: floods %v", c.name, got)
		}
	}
}

// What nozzles leave on the side of a can does not hang on how fine its cells are. Judged cell by cell, where drops become
// film, cells of 2 mm kept 40 % more than those of 4 mm.
func TestLawNozzlesLeaveTheSameOnFinerCells(t *testing.T) {
	var left []float64
	cells := []float64{4e-3, 2e-3, 1.2e-3}
	for _, cell := range cells {
		p := underNozzles(t, canBody(t, cell))
		left = append(left, zoneLeft(t, transported(t, p, TransportOptions{}).After, job.ZoneSidewall))
	}
	const apart = 0.2
	for i := range left {
		if math.Abs(left[i]/left[0]-1) > apart {
			t.Errorf("cells of %g mm keep %.1f mg on the side, those of %g mm %.1f", cells[i]*1e3, left[i]*1e6, cells[0]*1e3, left[0]*1e6)
		}
	}
}

// Streams under nozzles run across the tiers that the workers share out, and so do patches.
func TestLawSameBitsUnderNozzlesOnAnyNumberOfWorkers(t *testing.T) {
	b := canBody(t, 3.5e-3)
	one := transported(t, underNozzles(t, b), TransportOptions{})
	for _, n := range []int{2, 3} {
		if diff := cmp.Diff(one, transported(t, underNozzles(t, b), TransportOptions{Workers: n}), cmpopts.EquateNaNs()); diff != "" {
			t.Fatalf("%d workers:\n%s", n, diff)
		}
	}
}

// Containers whose water was laid once for all share nothing that changes, whoever follows them at once.
func TestLawWaterLaidOnceForSeveralWorkersIsEachOnesOwn(t *testing.T) {
	p := underNozzles(t, canBody(t, 3.5e-3))
	p.Laid = Lay(p)
	one, other := laid(p, &TransportOptions{}), laid(p, &TransportOptions{})
	one.crowds.cover[0] = 7
	if other.crowds.cover[0] == 7 {
		t.Error("two flows write on one cover of the wall")
	}
}

// underNozzles is a can that passes between two manifolds.
func underNozzles(t *testing.T, b *station.Body) *Problem {
	t.Helper()
	p := canProblem(t, b, knives{tilt: tiltDown, pressure: 3e3}, 0.7)
	s, e := &p.Passes[0], manifolds(t, b)
	s.Air = e
	s.From, s.To = e.Range()
	return p
}

// manifolds are two rows of nozzles, one on each side of the line, 31 mm from the wall: 16 of 16 mm every 20 mm that blow
// down by 45 degrees, sloping by 32 down along travel, at 3 kPa.
func manifolds(t *testing.T, b *station.Body) *station.Exposer {
	t.Helper()
	const tilt, down, clear, n, spacing = 32 * math.Pi / 180, math.Pi / 4, 31e-3, 16, 20e-3
	s := station.Scene{Name: "dryer", Belt: true}
	l := station.Vec{X: math.Cos(tilt), Z: -math.Sin(tilt)}
	var air []station.OutletAir
	for _, side := range []float64{1, -1} {
		a := station.Vec{Y: -side * math.Cos(down), Z: -math.Sin(down)}
		along := a.Z * l.Z
		a = station.Vec{X: a.X - along*l.X, Y: a.Y, Z: a.Z - along*l.Z}
		size := math.Sqrt(1 - along*along)
		o := station.Placed{
			Name: "manifold", Kind: job.NozzleManifold, Line: l, Axis: station.Vec{X: a.X / size, Y: a.Y / size, Z: a.Z / size},
			Middle: station.Vec{Y: side * (b.Depth/2 + clear), Z: 0.88 * b.Height},
			Length: (n - 1) * spacing, Bore: 16e-3, Spacing: spacing, StandOff: clear,
			Opening: q.Area(n * math.Pi / 4 * 16e-3 * 16e-3),
		}
		for k := range n {
			o.Ports = append(o.Ports, (float64(k)-(n-1)/2.)*spacing)
		}
		s.Outlets = append(s.Outlets, o)
		air = append(air, station.OutletAir{
			Plenum: q.Gauge(3e3), Stagnation: q.Celsius(25), Humidity: 0.008, Ambient: 101325, AmbientT: q.Celsius(20),
		})
	}
	e, err := station.NewExposer(b, s, air, station.ExposerOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}
