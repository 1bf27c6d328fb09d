package drying

import (
	"math"
	"testing"

	"leste/physics/water"
	q "leste/quantity"
)

func TestReferenceTablesOfDropsAreTheRelations(t *testing.T) {
	// The shared relations, evaluated one by one. What the tables miss is far below what the relations are sure to.
	p := plateProblem(plate(3, 4, 2e-3, 2e-3, alongX, alongY), 80, 50)
	f := newFlow(p)
	w := &f.drops.walls[0]
	m := water.NewMobility(water.Wetting{Advancing: q.Degrees(80), Receding: q.Degrees(50)})
	scale := p.Liquid.Tension / p.Liquid.Viscosity
	for push := w.rest * 1.001; push < 10; push *= 1.01 {
		want := scale * m.CapillarySI(push)
		if got := w.over(push*push) * push; math.Abs(got-want) > 2e-3*want+1e-3 {
			t.Errorf("pushed %.4g of what holds it the drop moves at %.5g m/s, by the relation at %.5g", push, got, want)
		}
	}
	const least, step = 1e-3, 1.07
	for u := least; u < 1e3; u *= step {
		f.travel = u * f.dewet[0]
		got := f.smallDrops(f.g.at(1, 1), 5)
		want := float64(water.SmallDropShare(q.Speed(f.frontSpeed(f.g.at(1, 1), 5)), q.Speed(f.dewet[0]), 0, q.Ratio(p.Settings.SmallDrops)))
		if math.Abs(got-want) > 1e-5 {
			t.Errorf("a front %.3g times as fast as film draws back leaves a share of %.6f in small drops, by the relation %.6f", u, got, want)
		}
	}
}

func TestLawLargeDropsFallNoFasterThanThickFilm(t *testing.T) {
	// What limits a thick film limits a drop: shear and weight against turbulent friction. In still air on an upright
	// wall c_f v^2 = g H. Of a liquid so thin that the moving contact line would let it fall faster.
	p := plateProblem(plate(3, 4, 2e-3, 2e-3, alongZ, alongX), 20, 19)
	p.Liquid.Viscosity /= 10
	f := newFlow(p)
	d, i := f.drops, f.g.at(1, 1)
	d.step++
	if b := d.velocities(i, dropBins-1); b == dropBins {
		t.Fatal("the largest drop stays")
	}
	v := math.Abs(float64(d.v[i][dropBins-1].s))
	most := math.Sqrt(gravity * d.walls[0].height * binSize(dropBins-1) / frictionOfThickFilm)
	if v > most*1.0001 || v < most/2 {
		t.Errorf("the largest drop falls at %.3g m/s; a film as thick at most at %.3g", v, most)
	}
}

// What is known of a cell's drops does not depend on how it was asked: all sizes at once, or the small ones first, at
// a moment when the air before had blown the other way.
func TestLawVelocitiesAskedInPartsAreThoseOfAll(t *testing.T) {
	f := newFlow(plateProblem(plate(3, 4, 2e-3, 2e-3, alongX, alongY), 80, 50))
	d, i := f.drops, f.g.at(1, 1)
	for _, part := range []int{0, 7, 10} { // the first of them does not move
		d.step++
		d.tauS[i], d.tauA[i], d.edge[i] = 30, 20, 90
		d.velocities(i, dropBins-1)
		d.step++
		d.tauS[i], d.tauA[i] = -3, -2
		d.velocities(i, part)
		d.velocities(i, dropBins-1)
		asked, v := d.seen[i], d.v[i]
		d.step++
		d.velocities(i, dropBins-1)
		all := d.seen[i]
		asked.step = all.step
		if asked != all || all.ups != 0 || all.rights != 0 {
			t.Errorf("asked for bins up to %d first: %+v, all at once %+v", part, asked, all)
		}
		for b := int(all.slowest); b < dropBins; b++ {
			if v[b] != d.v[i][b] {
				t.Errorf("asked for bins up to %d first: drops of bin %d run at %v, all at once at %v", part, b, v[b], d.v[i][b])
			}
		}
	}
}
