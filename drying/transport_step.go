package drying

import (
	"math"
	"math/bits"
	"slices"

	"leste/station"
)

// blow sets the air over the wall to a field; nil is still air. Rows it no longer reaches fall calm.
func (f *flow) blow(t *team, a *station.Field) {
	g := gustOf(a)
	f.feel(t, &g)
}

// feel sets the air over the wall to a gust.
func (f *flow) feel(t *team, a *gust) {
	d := f.drops
	was := f.blown
	f.blown = [2]int{0, 0}
	if a.first < a.last {
		f.blown = [2]int{a.first, a.last}
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
	f.share(t)
	t.run(func(w int) {
		f.deal(t, w, func(r int) {
			if first <= r && r < last {
				f.feelRow(r, a)
			}
		})
		t.meet(nil)
		f.deal(t, w, func(r int) { // the low-side faces of the row past the last one belong to the last one too
			if first <= r && r <= last {
				f.film.drive(r, r, d.tauS, d.tauA, d.p)
			}
		})
	})
}

// feelRow sets the air over row r to that of a gust, or to none where that does not reach.
func (f *flow) feelRow(r int, a *gust) {
	g, d := f.g, f.drops
	i, j := g.at(r, 0), g.at(r, g.cols)
	if r < f.blown[0] || r >= f.blown[1] {
		for _, x := range [][]float64{d.tauS, d.tauA, d.p, d.edge} {
			clear(x[i-pad : j+pad])
		}
		f.rehold(r)
		return
	}
	from := r*g.around - a.base
	to := from + g.cols
	multiply(d.tauS[i:j], a.tauS[from:to], a.shear)
	multiply(d.tauA[i:j], a.tauA[from:to], a.shear)
	multiply(d.p[i:j], a.p[from:to], a.press)
	multiply(d.edge[i:j], a.edge[from:to], math.Sqrt(a.press))
	for _, x := range [][]float64{d.tauS, d.p, d.edge} {
		g.wrapRow(x, r)
	}
	g.turnRow(d.tauA, r)
	f.rehold(r)
}

// multiply sets to to a multiple of from.
func multiply(to, from []float64, factor float64) {
	if factor == 1 {
		copy(to, from)
		return
	}
	for k, v := range from[:len(to)] {
		to[k] = v * factor
	}
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

// advance moves all water under the present air for dt. It is one run of the team, in which all workers meet where
// one row needs what has been worked out for its neighbours.
func (f *flow) advance(t *team, dt float64) {
	f.share(t)
	t.run(func(w int) {
		f.deal(t, w, func(r int) {
			if f.drops.cols.any(r) || (r >= f.blown[0] && r < f.blown[1]) || f.drops.step <= 1 {
				f.loosen(r)
			}
			f.rate(r, dt)
		})
		f.move(t, w, dt)
		f.exchange(t, w, dt)
	})
}

// share shares the tiers out among the workers by what they are expected to cost: a cell costs the air that is looked
// at there, some more its film, and most the drops that move.
func (f *flow) share(t *team) {
	g := f.g
	if len(f.costs) == 0 {
		f.costs = make([]int32, g.tiers())
	}
	for j := range f.costs {
		r0, r1 := g.tier(j)
		cost := (r1 - r0) * g.cols
		for r := r0; r < r1; r++ {
			cost += bits.OnesCount64(uint64(f.film.live[r+pad]))*f.film.block + busyCost*f.drops.cols.count(r)
		}
		f.costs[j] = int32(cost)
	}
	t.cut(f.costs)
	for len(f.ways) < t.size {
		f.ways, f.scratch = append(f.ways, newWays(g)), append(f.scratch, newFilmScratch(g))
	}
}

// busyCost is what the moving drops of a cell cost, in cells without.
const busyCost = 4

// deal calls do for every row, shared among the workers by tiers; once between two meetings.
func (f *flow) deal(t *team, w int, do func(r int)) {
	t.deal(w, func(j int) {
		r0, r1 := f.g.tier(j)
		for r := r0; r < r1; r++ {
			do(r)
		}
	})
}

// rate works out how fast film and drops cross the cells of row r, and what its film costs.
func (f *flow) rate(r int, dt float64) {
	n := int32(0)
	f.film.runs(f.film.reach(r), func(c0, c1 int) { n += int32(c1 - c0) })
	f.filmCost[r] = n + idleRow
	f.filmRate[r], f.dropRate[r] = f.film.fastest(r, r+1), f.drops.fastestDrop(r, dt)
}

// idleRow is the cost of a dry row in cells.
const idleRow = 2

// mostFilmSteps bounds the steps of the film while the container moves by a cell: waves that cross more than about five
// cells meanwhile are held to a cell per step. They run in ridges on a few rows, some millimetres thick, and outrun the
// front all the same. Against steps that all waves allow, the water that two knives leave on a can at 0.3 to 2 m/s
// differs by less than 1 %, at half the work.
const mostFilmSteps = 12

// mostDropSteps bounds how many cells a drop crosses while the container moves by one: drops faster than so many times
// its speed outrun the front all the same.
const mostDropSteps = 3

// mostCalmSteps is that bound where no air blows and the water drains.
const mostCalmSteps = 16

// move moves film and drops by dt, each in steps of its own, once every row has been rated. Neither knows of the other
// meanwhile, so that the workers do a step of both before they meet.
func (f *flow) move(t *team, w int, dt float64) {
	t.meet(func() { f.plan(dt) })
	d, film := f.drops, f.film
	r0, r1 := t.share(w, f.filmCost)
	for k := range max(f.filmSteps, f.dropSteps) {
		if k < f.filmSteps && r0 < r1 {
			film.step(r0, r1, dt/float64(f.filmSteps), f.scratch[w])
		}
		if k < f.dropSteps {
			f.ways[w].step.set(dt, k, f.dropSteps)
			t.deal(w, func(j int) {
				if k > 0 {
					d.joinSeams(j, k-1)
				}
				d.moveTier(j, f.rims, f.ways[w])
			})
		}
		t.meet(func() {
			if k < f.filmSteps {
				film.swap()
			}
		})
	}
}

// plan says in how many steps film and drops move by dt.
func (f *flow) plan(dt float64) {
	f.filmSteps, f.dropSteps = 0, 0
	total := int64(0)
	for _, n := range f.filmCost {
		total += int64(n - idleRow)
	}
	if total > 0 {
		f.filmSteps = 1 + int(dt*slices.Max(f.filmRate)/courant)
		if f.cells > 0 {
			f.filmSteps = min(f.filmSteps, int(math.Ceil(mostFilmSteps*f.cells)))
		}
		f.steps += total * int64(f.filmSteps)
	}
	if !f.anyMoving() {
		return
	}
	most := mostDropSteps
	switch {
	case f.calm:
		most = mostCalmSteps
	case f.cells > 0:
		most = int(math.Ceil(mostDropSteps * f.cells))
	}
	f.dropSteps = min(most, 1+int(dt*slices.Max(f.dropRate)/dropCourant))
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
func (f *flow) exchange(t *team, w int, dt float64) {
	if f.dropSteps > 0 { // else none moves, and nothing is in another's way
		t.deal(w, func(j int) { f.drops.joinSeams(j, f.dropSteps-1) })
		t.meet(nil)
		f.deal(t, w, f.crowd)
		t.meet(nil)
	}
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
}

// settled makes the film of row r fit to go on after it was changed cell by cell.
func (f *flow) settled(r int) {
	f.even(r)
	f.film.refresh(r, r+1)
}
