package drying

import (
	"math"

	"leste/parallel"
	"leste/physics/water"
	"leste/station"
)

// pass applies one pass to the whole container.
func (r *run) pass(i int, cells []weighted) error {
	s := r.p.Body.Surface
	l := newLanes(r.p.Body)
	swept := make([]float64, len(s.Area))
	if err := parallel.Each(r.workers, cellParts, func(part int) error {
		for _, c := range cells[len(cells)*part/cellParts : len(cells)*(part+1)/cellParts] {
			swept[c.cell] = r.cell(i, c.cell, l) * s.Area[c.cell]
		}
		return nil
	}); err != nil {
		return err
	}
	l.sort()
	r.landed[i] = l.carry(swept)
	off := r.settle(r.landed[i])
	r.throwBack(r.landed[i], &off)
	r.moved.Add(off)
	r.moved.BlownOff += r.empty(i, r.water, emptying{gap: 1, every: 1})
	return nil
}

// cellParts is the number of pieces in which the cells of a pass are dealt to workers: enough that none waits long.
const cellParts = 16

// cell applies the sweeps of one pass to a cell, the stop between them where there is one, and returns the water
// that they push on [kg/m2]. lanes may be nil.
func (r *run) cell(i, k int, l *lanes) float64 {
	pass, seen := &r.p.Passes[i], r.seen[i]
	m := r.wall(k)
	sum := 0.0
	stands := seen.Stand != nil
	at, most := math.Inf(-1), -1.0
	for _, sw := range seen.of(k) {
		if stands && sw.At > pass.StandAt {
			sum += r.stand(i, k, m)
			stands = false
		}
		if !math.IsInf(at, -1) {
			r.chain.wait(r.water, k, m, (sw.At-at)/pass.Speed)
		}
		at = sw.At
		g := r.chain.sweep(r.water, k, m, strike{
			Sweep: &sw, speed: pass.Speed, path: r.path[k],
			pull: -r.p.Liquid.Density * water.Gravity * sw.S * r.p.Body.Surface.Along[k].Z,
		})
		sum += g
		if l != nil && g > most { // the front that takes the most along carries it on
			most = g
			l.fronts[k] = front{swept: true, at: sw.At, s: sw.S, a: sw.A, air: sw.Edge}
		}
	}
	if stands {
		sum += r.stand(i, k, m)
	}
	next := settled
	if i+1 < len(r.p.Passes) {
		next = r.p.Passes[i+1].Before
	}
	r.chain.wait(r.water, k, m, next)
	return sum
}

// stand applies the air that a standing container sees: it drains the film and moves every drop it can.
func (r *run) stand(i, k int, m *wall) float64 {
	f, pass := r.seen[i].Stand, &r.p.Passes[i]
	tau := math.Hypot(f.TauS[k], f.TauA[k])
	if tau < idleShear {
		return 0
	}
	g := math.Hypot(f.GradS[k], f.GradA[k])
	sw := Sweep{
		Slope: 1, S: f.TauS[k] / tau, A: f.TauA[k] / tau, Shear: tau, Peak: tau, Gradient: g,
		Edge: f.Ue[k], Press: f.P[k], Offset: standReach,
	}
	if g > 0 && f.P[k] > idlePress {
		sw.Offset = min(standReach, f.P[k]/g)
	}
	return r.chain.sweep(r.water, k, m, strike{
		Sweep: &sw, speed: 2 * sw.Offset / pass.Stand, path: r.path[k],
		pull: -r.p.Liquid.Density * water.Gravity * sw.S * r.p.Body.Surface.Along[k].Z,
	})
}

// settle puts the ridges and streaks of a pass on the wall and returns where the rest went.
func (r *run) settle(landed []landing) Moved {
	s := r.p.Body.Surface
	var off Moved
	for _, l := range landed {
		off.Add(r.chain.settle(l, r.wall(l.cell), r.p.Body.Height, func(d Drops) {
			d.Mass /= s.Area[l.cell]
			r.water.Add(l.cell, d)
		}))
	}
	return off
}

// throwBack lands a share of the mist on the same container, and half of what the neighbours throw here: the
// other half lands before the sweep, which takes it along. What a neighbour throws equals what this one does.
func (r *run) throwBack(landed []landing, off *Moved) {
	mist := r.p.Settings.MistBack * off.Mist
	thrown := r.p.Settings.Rewetting / 2 * off.BlownOff
	if mist+thrown <= 0 {
		return
	}
	weight, air := 0.0, 0.0
	for _, l := range landed {
		weight, air = weight+l.mass, air+l.mass*l.line.Air
	}
	s := r.p.Body.Surface
	area := 0.0
	for k, a := range s.Area {
		if !r.covered[k] {
			area += a
		}
	}
	if area <= 0 {
		return
	}
	d := Drops{
		Mass: (mist + thrown) / area, Median: r.chain.returnedSize(air / weight),
		Spread: r.chain.set.DropSpread, Limit: math.Inf(1),
	}
	back := 0.0
	for k := range s.Area {
		if r.covered[k] {
			continue
		}
		back += d.Mass * s.Area[k]
		wets := r.wall(k).wets
		r.water.spread(k, wets*d.Mass, wets*float64(r.chain.liquid.Density))
		if beads := d; wets < 1 {
			beads.Mass *= 1 - wets
			r.water.Add(k, beads)
		}
	}
	off.Mist -= mist
	off.BlownOff -= back - mist
}

// emptying is how crevices and pools are emptied in one choice of the settings.
type emptying struct {
	gap   float64 // factor on the crevices' gaps
	hold  int     // -1 low, 0 likely, 1 high
	every int     // columns between two that are followed
}

// empty applies a pass to the crevices and pools and returns the water driven out [kg].
func (r *run) empty(i int, w *Water, e emptying) float64 {
	if len(r.seen[i].Sweeps) == 0 {
		return 0
	}
	out := 0.0
	for _, part := range r.airTimes(i) {
		out += r.emptyBy(part, w, e)
	}
	return out
}

// airTime is a stretch of a pass as crevices and pools see it.
type airTime struct {
	step          float64 // s between two rows
	mouths, pools [][][]float32
}

// airTimes splits a pass into the moving part and the stop. Water does not run on between them.
func (r *run) airTimes(i int) []airTime {
	pass, seen, b := &r.p.Passes[i], r.seen[i], r.p.Body
	parts := []airTime{{seen.Step / pass.Speed, seen.Mouths, seen.Pools}}
	if seen.Stand == nil {
		return parts
	}
	const rows = 50 // of a steady pressure; the step of the water's own motion is finer
	stop := airTime{pass.Stand / rows, make([][][]float32, len(b.Crevices)), make([][][]float32, len(b.Pools))}
	repeat := func(from, to int) [][]float32 {
		row := greatest(seen.Stand, from, to, b.Surface.Cols)
		all := make([][]float32, rows)
		for n := range all {
			all[n] = row
		}
		return all
	}
	for n, c := range b.Crevices {
		stop.mouths[n] = repeat(c.Row, c.Row+1)
	}
	for n, p := range b.Pools {
		stop.pools[n] = repeat(p.Rows[0], p.Rows[1])
	}
	return append(parts, stop)
}

func (r *run) emptyBy(part airTime, w *Water, e emptying) float64 {
	b := r.p.Body
	out := 0.0
	for n := range b.Crevices {
		c := &b.Crevices[n]
		gap := e.gap * c.Gap
		if w.Trapped[n] <= 0 || !pressed(part.mouths[n]) {
			continue
		}
		left := clearing{
			liquid: r.chain.liquid, gap: gap, pressure: r.chain.set.Pressure, step: part.step, every: e.every,
			hold: holdAt(creviceHold(r.chain.liquid, gap, r.chain.walls, c), e.hold),
		}.left(c, part.mouths[n])
		out += w.Trapped[n] * (1 - left)
		w.Trapped[n] *= left
	}
	for n := range b.Pools {
		before := w.Pools[n]
		w.Pools[n] = blowOut{liquid: r.chain.liquid, pressure: r.chain.set.Pressure, step: part.step}.left(&b.Pools[n], before, part.pools[n])
		out += before - w.Pools[n]
	}
	return out
}

// pressed says whether a mouth sees any pressure at all.
func pressed(mouth [][]float32) bool {
	for _, row := range mouth {
		for _, p := range row {
			if p > 0 {
				return true
			}
		}
	}
	return false
}

// where says in plain words where most of a zone's water is.
func (r *run) where(z *ZoneWater, w *Water) string {
	switch z.Cause {
	case CauseTrapped:
		most, name := 0.0, ""
		for i, c := range r.p.Body.Crevices {
			if r.p.Body.Surface.Zones[c.Zone] == z.Zone && w.Trapped[i] > most {
				most, name = w.Trapped[i], c.Name
			}
		}
		return "in the crevice: " + name
	case CausePool:
		return "lying in the recess"
	case CauseCondensation:
		return "condensed from the room's air"
	}
	return r.side(z.Zone, w)
}

// side names the side of a zone that keeps more water per area than the others by half.
func (r *run) side(zone string, w *Water) string {
	s := r.p.Body.Surface
	names := [4]string{"leading side", "left side", "trailing side", "right side"}
	var mass, area [4]float64
	for k, pos := range s.Pos {
		if s.Zones[s.Zone[k]] != zone {
			continue
		}
		side := sideOf(pos)
		mass[side] += w.OnWall(k) * s.Area[k]
		area[side] += s.Area[k]
	}
	best, total, all := 0, 0.0, 0.0
	for i := range mass {
		total, all = total+mass[i], all+area[i]
		if mass[i]*area[best] > mass[best]*area[i] {
			best = i
		}
	}
	const prominent = 1.5
	if all > 0 && area[best] > 0 && mass[best]/area[best] > prominent*total/all {
		return names[best]
	}
	return "all around"
}

// sideOf is the quarter of the container that a point lies in: 0 leading, then counter-clockwise.
func sideOf(p station.Vec) int {
	switch {
	case math.Abs(p.X) >= math.Abs(p.Y) && p.X >= 0:
		return 0
	case math.Abs(p.X) >= math.Abs(p.Y):
		return 2
	case p.Y >= 0:
		return 1
	}
	return 3
}
