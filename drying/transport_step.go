package drying

import (
	"math"
	"slices"

	"leste/station"
)

// blow sets the air over the wall to a field; nil is still air. Rows it no longer reaches fall calm.
func (f *flow) blow(t *team, a *station.Field) {
	g, d := f.g, f.drops
	was := f.blown
	f.blown = [2]int{0, 0}
	if a != nil && a.First < a.Last {
		f.blown = [2]int{a.First, a.Last}
	}
	d.step++
	first, last := min(was[0], f.blown[0]), max(was[1], f.blown[1])
	if was[0] >= was[1] {
		first, last = f.blown[0], f.blown[1]
	} else if f.blown[0] >= f.blown[1] {
		first, last = was[0], was[1]
	}
	if first >= last {
		return
	}
	t.run(func(w int) {
		r0, r1 := first+(last-first)*w/t.size, first+(last-first)*(w+1)/t.size
		for r := r0; r < r1; r++ {
			i, j := g.at(r, 0), g.at(r, g.cols)
			if r < f.blown[0] || r >= f.blown[1] {
				for _, x := range [][]float64{d.tauS, d.tauA, d.p, d.edge} {
					clear(x[i-pad : j+pad])
				}
				f.rehold(r)
				continue
			}
			from, to := r*g.cols, (r+1)*g.cols
			copy(d.tauS[i:j], a.TauS[from:to])
			copy(d.tauA[i:j], a.TauA[from:to])
			copy(d.p[i:j], a.P[from:to])
			copy(d.edge[i:j], a.Ue[from:to])
			for _, x := range [][]float64{d.tauS, d.tauA, d.p, d.edge} {
				g.wrapRow(x, r)
			}
			f.rehold(r)
		}
		t.meet(nil)
		// The low-side faces of the row past the last one belong to the last one too.
		if w == t.size-1 {
			r1++
		}
		f.film.drive(r0, r1-1, d.tauS, d.tauA, d.p)
	})
}

// rehold works out the critical film of row r under the present air.
func (f *flow) rehold(r int) {
	g, d := f.g, f.drops
	for i := g.at(r, 0); i < g.at(r, g.cols); i++ {
		hold := f.still[i]
		if tau2 := d.tauS[i]*d.tauS[i] + d.tauA[i]*d.tauA[i]; tau2 > 0 && hold > 0 {
			m := f.wall[i]
			hold = min(hold, f.fade[m]*f.thin[m]*overCubeRoot(tau2))
		}
		f.film.hold[i] = hold
	}
	g.wrapRow(f.film.hold, r)
}

// overCubeRoot is x^(-1/3) of a positive normal number, within 1e-9. A third of the exponent gives it within a
// twentieth; every step of Newton's method squares the error.
func overCubeRoot(x float64) float64 {
	y := math.Float64frombits(0x553ef0ff289dd796 - math.Float64bits(x)/3)
	for range 3 {
		y *= 4.0/3 - x*(1.0/3)*y*y*y
	}
	return y
}

// advance moves all water under the present air for dt.
func (f *flow) advance(t *team, dt float64) {
	f.loose(t)
	f.runFilm(t, dt)
	f.runDrops(t, dt)
	f.exchange(t, dt)
}

// rows calls do for every row, shared among the workers.
func (f *flow) rows(t *team, do func(r int)) {
	t.run(func(w int) { f.deal(t, w, do) })
}

// deal calls do for the rows of one worker. Rows are dealt a few at a time: where the water is busy, neighbouring
// rows are alike, and what they share stays near one core.
func (f *flow) deal(t *team, w int, do func(r int)) {
	hand := 1 + f.g.rows/32
	for from := w * hand; from < f.g.rows; from += t.size * hand {
		for r := from; r < min(from+hand, f.g.rows); r++ {
			do(r)
		}
	}
}

func (f *flow) loose(t *team) {
	f.rows(t, func(r int) {
		if f.drops.cols.any(r) || (r >= f.blown[0] && r < f.blown[1]) || f.drops.step <= 1 {
			f.loosen(r)
		}
	})
}

// mostFilmSteps bounds the steps of the film while the container moves by a cell: waves that cross more than about five
// cells meanwhile are held to a cell per step. They run in ridges on a few rows, some millimetres thick, and outrun the
// front all the same. Against steps that all waves allow, the water that two knives leave on a can at 0.3 to 2 m/s
// differs by less than 1 %, at half the work.
const mostFilmSteps = 12

// runFilm advances the film by dt in steps that its fastest wave allows.
func (f *flow) runFilm(t *team, dt float64) {
	g, film := f.g, f.film
	cost := make([]int32, g.rows)
	total := int64(0)
	for r := range cost {
		n := int32(0)
		f.film.runs(film.reach(r), func(c0, c1 int) { n += int32(c1 - c0) })
		total += int64(n)
		cost[r] = n + idleRow
	}
	if total == 0 {
		return
	}
	f.rows(t, func(r int) { f.speed[r] = film.fastest(r, r+1) })
	steps := 1 + int(dt*slices.Max(f.speed)/courant)
	if f.cells > 0 {
		steps = min(steps, int(math.Ceil(mostFilmSteps*f.cells)))
	}
	sub := dt / float64(steps)
	f.steps += total * int64(steps)
	if len(f.scratch) < t.size {
		for range t.size {
			f.scratch = append(f.scratch, newFilmScratch(g))
		}
	}
	t.run(func(w int) {
		r0, r1 := t.share(w, cost)
		for range steps {
			if r0 < r1 {
				film.step(r0, r1, sub, f.scratch[w])
			}
			t.meet(film.swap)
		}
	})
}

// idleRow is the cost of a dry row in cells.
const idleRow = 2

// mostDropSteps bounds how many cells a drop crosses while the container moves by one: drops faster than so many times
// its speed outrun the front all the same.
const mostDropSteps = 3

// mostCalmSteps is that bound where no air blows and the water drains.
const mostCalmSteps = 16

// runDrops advances the moving drops by dt.
func (f *flow) runDrops(t *team, dt float64) {
	d := f.drops
	if !f.anyMoving() {
		return
	}
	f.rows(t, func(r int) { f.speed[r] = d.fastestDrop(r, dt) })
	most := mostDropSteps
	switch {
	case f.calm:
		most = mostCalmSteps
	case f.cells > 0:
		most = int(math.Ceil(mostDropSteps * f.cells))
	}
	steps := min(most, 1+int(dt*slices.Max(f.speed)/dropCourant))
	for len(f.sides) < t.size {
		f.sides = append(f.sides, newSideways(f.g))
	}
	t.run(func(w int) {
		for k := range steps {
			f.deal(t, w, func(r int) { d.depart(r, stepping{dt, k, steps}, f.rims, f.sides[w]) })
			t.meet(nil)
			f.deal(t, w, d.arrive)
			t.meet(nil)
		}
	})
}

func (f *flow) anyMoving() bool {
	for _, m := range f.drops.cols.bits {
		if m != 0 {
			return true
		}
	}
	return false
}

// exchange lets film, drops, rims, crevices and pools hand water to each other, after dt.
func (f *flow) exchange(t *team, dt float64) {
	t.run(func(w int) {
		f.deal(t, w, func(r int) { f.merge(r, dt) })
		t.meet(nil)
		for left := f.draw; left > 0; left-- {
			f.deal(t, w, func(r int) { f.weaken(r, dt/float64(f.draw)) })
			t.meet(nil)
			if left > 1 {
				f.deal(t, w, func(r int) {
					f.drawn(r)
					f.settled(r)
				})
				t.meet(nil)
			}
		}
		f.deal(t, w, func(r int) {
			f.drawn(r)
			f.tear(r, dt)
		})
		t.meet(func() {
			f.rims.gather(dt)
			f.drive(dt)
		})
		f.deal(t, w, f.settled)
	})
}

// settled makes the film of row r fit to go on after it was changed cell by cell.
func (f *flow) settled(r int) {
	f.even(r)
	f.film.refresh(r, r+1)
}
