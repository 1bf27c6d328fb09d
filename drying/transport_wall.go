package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
)

// flow is all water on one container's wall and the air that moves it.
type flow struct {
	p      *Problem
	g      *wallGrid
	film   *film
	drops  *drops
	liquid water.Liquid
	walls  []wall
	wall   []uint8 // per cell: material

	age   []float64 // of a film thinner than critical: 1 when it breaks
	first []float64 // m; film of a cell when its edge began to draw back
	backS []float64 // m3 that drawing back moves out of a cell in the present step, signed by direction
	backA []float64
	draws []uint8 // per row: some cell draws back

	still []float64 // m per cell: critical film without air
	thin  []float64 // per material: critical film times shear^(2/3) [m Pa^(2/3)]
	fade  []float64 // per material: 1 where film can break, 0 where the wall stays wet
	dewet []float64 // m/s per material: speed at which film draws back, viscous law
	burst []float64 // m1.5/s per material: the same times sqrt(h), inertial law
	rest  []float64 // m0.5 per material: drops that a drawing edge leaves, over sqrt(h)

	rims      *rims
	reservoir []reservoir
	recess    []recess
	fog       []float64 // kg/m2 per plain cell

	lost   []Moved   // per row, so that sums do not depend on who did the row [m3]
	blown  [2]int    // rows [from, to) that the air reaches at present
	speed  []float64 // per row: scratch of the largest rates
	thick  []float64 // m per row, thickest film met
	travel float64   // m/s of the container under the present station
	fast   float64   // m/s, greatest air speed met in the present station
	steps  int64     // film cell-steps done

	scratch []*filmScratch // per worker
}

// newFlow lays the arriving water on the wall.
func newFlow(p *Problem) *flow {
	s := p.Body.Surface
	f := &flow{p: p, g: newWallGrid(s), liquid: p.Liquid.liquid(), walls: walls(p.Body)}
	g := f.g
	f.film = newFilm(g, p.Liquid.Viscosity, p.Liquid.Density, float64(water.PuddleHeight(f.liquid, q.Angle(math.Pi/2))))
	room := p.Room.moist()
	air := newAirOverDrops(float64(room.Density()), float64(room.KinematicViscosity()))
	f.wall = make([]uint8, g.size)
	dropWalls := make([]dropWall, len(f.walls))
	for i := range f.walls {
		w := &f.walls[i]
		dropWalls[i] = newDropWall(w, f.liquid, p.Settings.Drag, air)
		f.thin = append(f.thin, float64(water.ShearCriticalFilm(f.liquid, w.contact, 1)))
		f.fade = append(f.fade, 1-w.wets)
		f.dewet = append(f.dewet, float64(water.DewettingSpeed(f.liquid, w.Receding, 0)))
		// A drawing edge leaves drops half as large as those the film would break into; judgement.
		f.rest = append(f.rest, float64(water.FromFilm(1, q.Length(p.Settings.HoleSpacing), w.contact, 0).Median)/2)
		// The relation gives the slower of two laws; a thick enough film is under the inertial one.
		const thick = 1.0 // m
		f.burst = append(f.burst, float64(water.DewettingSpeed(f.liquid, w.Receding, thick))*math.Sqrt(thick))
	}
	f.drops = newDrops(g, dropWalls, f.wall, air, p.Liquid.Tension/p.Liquid.Viscosity, p.Liquid.Density)
	for _, a := range []*[]float64{&f.age, &f.first, &f.backS, &f.backA, &f.still} {
		*a = make([]float64, g.size)
	}
	f.draws = make([]uint8, g.rows+2*pad)
	f.fog = make([]float64, g.rows*g.cols)
	f.lost, f.speed, f.thick = make([]Moved, g.rows), make([]float64, g.rows), make([]float64, g.rows)
	covered, top := underPools(p), math.Inf(-1)
	for _, pos := range s.Pos {
		top = max(top, pos.Z)
	}
	for r := range g.rows {
		for c := range g.cols {
			k, i := r*g.cols+c, g.at(r, c)
			f.wall[i] = uint8(p.Body.Material[s.Zone[k]])
			w := &f.walls[f.wall[i]]
			pull := math.Hypot(g.cellGS[i], g.cellGA[i])
			f.still[i] = float64(water.PuddleHeight(f.liquid, w.contact))
			if pull > 0 {
				f.still[i] = min(f.still[i], float64(water.GravityCriticalFilm(f.liquid, w.contact, pull)))
			}
			f.still[i] *= f.fade[f.wall[i]]
			f.film.hold[i] = f.still[i]
			if arrives := (p.Arrives.Film*w.wets + p.Arrives.Drops*(1-w.wets)) / p.Liquid.Density; arrives > 0 && !covered[k] {
				f.arrive(i, k, arrives, top)
			}
		}
	}
	g.wrap(f.film.hold)
	f.rims = newRims(f)
	for r := range f.rims.shut {
		f.film.shut[r] = f.rims.shut[r]
	}
	f.film.refresh(0, g.rows)
	f.film.drive(0, g.rows, f.drops.tauS, f.drops.tauA, f.drops.p)
	f.fill()
	return f
}

// arrive lays the water that comes in [m3/m2] on cell i: as a film where the wall takes more as wetting than
// not, else as drops at rest. What has drained or slid down by its weight since the last wetting is gone: of a
// film more than drains in that time, of drops those that do not stay; the largest that do hold their share.
func (f *flow) arrive(i, plain int, volume, top float64) {
	s, a := f.p.Body.Surface, &f.p.Arrives
	if f.walls[f.wall[i]].wets > 0.5 {
		if a.Since > 0 && math.Abs(s.Normal[plain].Z) < level {
			drained := float64(water.DrainedFilm(f.liquid, q.Length(top-s.Pos[plain].Z), q.Duration(a.Since)))
			f.lost[plain/f.g.cols].Dripped += max(0, volume-drained) * f.g.area[i]
			volume = min(volume, drained)
		}
		f.film.h[i] = volume
		return
	}
	stuck := f.drops.stuck[i*dropBins : (i+1)*dropBins]
	f.bead(i, volume, a.DropMedian, f.p.Settings.DropSpread)
	most, stays := f.walls[f.wall[i]].slide(f.liquid, s.Normal[plain].Z), 0.0
	for b := range stuck {
		if binSize(b)*math.Sqrt(binRatio) > most && b > 0 {
			stuck[b] = 0
		}
		stays += stuck[b]
	}
	for b := range stuck {
		stuck[b] *= volume / stays
	}
}

// level is the upward part of the normal from which a wall does not drain.
const level = 0.9

// bead lays volume [m3/m2] on cell i as drops at rest with a volume median and a spread.
func (f *flow) bead(i int, volume, median, spread float64) {
	s := f.drops.stuck[i*dropBins : (i+1)*dropBins]
	below := 0.0
	for b := range dropBins - 1 {
		edge := binSize(b) * math.Sqrt(binRatio)
		upTo := 1 - tail(math.Log(edge/median)/spread)
		s[b] += volume * (upTo - below)
		below = upTo
	}
	s[dropBins-1] += volume * (1 - below)
}

// put lays volume [m3/m2] on a bin pair of a as drops of one size.
func put(a []float64, volume, size float64) {
	x := math.Log(size/smallestBin) / math.Log(binRatio)
	x = max(0, min(x, dropBins-1))
	b := min(int(x), dropBins-2)
	part := x - float64(b)
	a[b] += volume * (1 - part)
	a[b+1] += volume * part
}

// drawBack is the speed at which the edge of a film of thickness h draws back on material m.
func (f *flow) drawBack(m uint8, h float64) float64 {
	v := f.dewet[m]
	if h*v*v > f.burst[m]*f.burst[m] {
		v = f.burst[m] / math.Sqrt(h)
	}
	return v
}

// frontSpeed is the speed of the air's pattern over the wall, normal to the front, at cell i: the travel
// over the share of it that lies in the wall, times the share of that along the shear.
func (f *flow) frontSpeed(i, plain int) float64 {
	s := f.p.Body.Surface
	xs, xa := s.Along[plain].X, s.Around[plain].X
	in := math.Hypot(xs, xa)
	ts, ta := f.drops.tauS[i], f.drops.tauA[i]
	tau := math.Hypot(ts, ta)
	if tau == 0 || in == 0 {
		return f.travel
	}
	along := math.Abs(ts*xs+ta*xa) / (tau * in)
	return f.travel * along / max(in, slowestTurn)
}

// slowestTurn bounds how fast the front seems to run over wall that is nearly square to the travel.
const slowestTurn = 0.25

// loosen sets drops of row r in motion that the present air moves, once each, and lets rest those that it
// does not. What is set in motion leaves a share behind as drops of a quarter of its size.
func (f *flow) loosen(r int) {
	d, g := f.drops, f.g
	for c := range g.cols {
		i := g.at(r, c)
		k := i * dropBins
		stuck, moving := d.stuck[k:k+dropBins], d.moving[k:k+dropBins]
		top := dropBins - 1
		for top >= 0 && stuck[top] == 0 {
			top--
		}
		busy := d.busy[i] < dropBins
		if busy {
			top = max(top, int(d.peak[i]))
		}
		if top < 0 {
			continue
		}
		slowest := d.velocities(i, top)
		if slowest > top && !busy {
			continue
		}
		small := -1.0
		for b := slowest; b <= top; b++ {
			if stuck[b] == 0 {
				continue
			}
			if small < 0 {
				small = f.smallDrops(i, r*g.cols+c)
			}
			behind := stuck[b] * small
			moving[b] += stuck[b] - behind
			stuck[b] = 0
			put(stuck, behind, d.walls[d.wall[i]].size[b]/4)
		}
		for b := range min(slowest, top+1) {
			stuck[b] += moving[b]
			moving[b] = 0
		}
		if d.note(i) {
			d.any[r+pad] = 1
		}
	}
}

// smallDrops is the share of loosened drops that stays behind as small ones at cell i.
func (f *flow) smallDrops(i, plain int) float64 {
	return float64(water.SmallDropShare(q.Speed(f.frontSpeed(i, plain)), q.Speed(f.dewet[f.wall[i]]),
		0, q.Ratio(f.p.Settings.SmallDrops)))
}

// wetCover is the share of wall under drops above which they touch everywhere and become film. Random
// drops percolate near it; judgement.
const wetCover = 0.6

// merge lets water of row r join: drops in a film cell become film; moving drops sweep up those at rest;
// drops that cover most of a cell become film.
func (f *flow) merge(r int, dt float64) {
	d, g, h := f.drops, f.g, f.film.h
	if f.film.live[r+pad] == 0 && d.any[r+pad] == 0 {
		return
	}
	defer g.wrapRow(h, r)
	for c := range g.cols {
		i := g.at(r, c)
		k := i * dropBins
		stuck, moving := d.stuck[k:k+dropBins], d.moving[k:k+dropBins]
		wet := h[i] > 0 && f.first[i] == 0 // of a film that draws back, drops lie on the bared part
		if !wet && d.busy[i] == dropBins {
			continue
		}
		w := &d.walls[d.wall[i]]
		all, cover, rate, largest := 0.0, 0.0, 0.0, -1
		slowest, fastest := int(d.slowest[i]), int(d.upTo[i])
		if d.known[i] != d.step {
			slowest = dropBins
		}
		for b := range dropBins {
			v := stuck[b] + moving[b]
			if v == 0 {
				continue
			}
			all += v
			cover += v * w.cover[b]
			if moving[b] > dust && b >= slowest && b <= fastest {
				vs, va := d.vs[k+b], d.va[k+b]
				rate += moving[b] * w.sweep[b] * math.Sqrt(float64(vs*vs+va*va))
				largest = b
			}
		}
		if all == 0 {
			continue
		}
		if wet || cover > wetCover {
			h[i] += all
			clear(stuck)
			clear(moving)
			d.busy[i] = dropBins
			continue
		}
		if rate == 0 {
			continue
		}
		swept := rate * dt
		swept += swept * swept / 2
		share := swept / (1 + swept) // 1 - exp(-rate dt) within 2 %, at a fraction of the time
		for b := range largest + 1 {
			taken := stuck[b] * share
			stuck[b] -= taken
			moving[largest] += taken
		}
	}
}

// Film thinner than this is taken as gone from a wall that it does not wet, m; judgement, a hundredth of
// the thinnest film that any jet leaves.
const leastFilm = 0.1e-6

// restOfFilm is the share of a film that its edge leaves behind as small drops when it draws back; the same
// as the quick method's share on a wall that dries behind the front.
var restOfFilm = float64(water.FilmShare(0))

// weaken ages the film of row r that is thinner than critical and works out what draws back from a dry
// edge. It changes no film: drawn does, once every row has been looked at.
func (f *flow) weaken(r int, dt float64) {
	g, h := f.g, f.film.h
	f.draws[r+pad] = 0
	if f.film.live[r+pad] == 0 {
		return
	}
	pole := r == 0 || r == g.rows-1 || f.film.shut[r] || f.film.shut[r+1]
	for c := range g.cols {
		i := g.at(r, c)
		f.backS[i], f.backA[i] = 0, 0
		x := h[i]
		if x == 0 {
			f.age[i], f.first[i] = 0, 0
			continue
		}
		hold := f.film.hold[i]
		if hold == 0 {
			continue
		}
		v := f.drawBack(f.wall[i], x)
		rate := dt * 2 * v / f.p.Settings.HoleSpacing
		if x >= hold {
			f.age[i], f.first[i] = max(0, f.age[i]-rate), 0
			continue
		}
		f.draws[r+pad] = 1
		f.age[i] += rate
		if x < leastFilm {
			f.age[i] = 1
		}
		if f.age[i] >= 1 {
			continue
		}
		dryS, dryA := edge(h[i-g.stride], h[i+g.stride]), edge(h[i-1], h[i+1])
		if pole {
			dryS = 0
		}
		if dryS == 0 && dryA == 0 {
			f.first[i] = 0
			continue
		}
		f.first[i] = max(f.first[i], x)
		per := v * dt * f.first[i]
		s, a := dryS*per*max(g.lenS[i], g.lenS[i+g.stride]), dryA*per*g.lenA[i]
		have := x * g.area[i]
		if sum := math.Abs(s) + math.Abs(a); sum >= have {
			s, a = s/sum*have, a/sum*have
		}
		f.backS[i], f.backA[i] = s, a
	}
}

// edge says which way a film draws back between two neighbours: away from the dry one if the other is wet.
func edge(low, high float64) float64 {
	switch {
	case low == 0 && high > 0:
		return 1
	case high == 0 && low > 0:
		return -1
	}
	return 0
}

// shatter turns the film of cell i into drops.
func (f *flow) shatter(i int, x float64) {
	w := &f.walls[f.wall[i]]
	b := breakUp(x, x, f.p.Settings.HoleSpacing, f.p.Settings.DropSpread, w)
	f.bead(i, x, b.Median, b.Spread)
	f.film.h[i], f.age[i], f.first[i] = 0, 0, 0
}

// drawn breaks the film of row r that is old enough into drops and moves what draws back, in and out. The
// edge leaves a rest behind as small drops.
func (f *flow) drawn(r int) {
	g, h := f.g, f.film.h
	if f.draws[r+pad]|f.draws[r+pad-1]|f.draws[r+pad+1] == 0 {
		return
	}
	for c := range g.cols {
		i := g.at(r, c)
		gain, side := 0.0, 0.0
		if f.draws[r+pad-1] != 0 {
			gain += max(0, f.backS[i-g.stride])
		}
		if f.draws[r+pad+1] != 0 {
			gain -= min(0, f.backS[i+g.stride])
		}
		if f.draws[r+pad] != 0 {
			left, right := g.at(r, mod1(c-1, g.cols)), g.at(r, mod1(c+1, g.cols))
			side = max(0, f.backA[left]) - min(0, f.backA[right])
			f.leave(i)
		}
		gain = (gain + side) * (1 - restOfFilm) * g.invArea[i]
		switch {
		case gain == 0:
		case h[i] > 0:
			h[i] += gain
		default: // this cell's film broke in the same step; what is drawn into it breaks too
			f.shatter(i, gain)
		}
	}
}

// leave takes from cell i the film that breaks or draws back in this step.
func (f *flow) leave(i int) {
	x := f.film.h[i]
	if x == 0 {
		return
	}
	if f.age[i] >= 1 {
		f.shatter(i, x)
		return
	}
	out := math.Abs(f.backS[i]) + math.Abs(f.backA[i])
	if out == 0 {
		return
	}
	moved := min(x, out*f.g.invArea[i])
	size := f.rest[f.wall[i]] * math.Sqrt(x)
	put(f.drops.stuck[i*dropBins:(i+1)*dropBins], moved*restOfFilm, size)
	f.film.h[i] = x - moved
	if f.film.h[i] <= x*rounding {
		f.film.h[i] = 0
	}
}

// rounding is a share of a cell's water that is not worth a film of its own; it goes with what leaves.
const rounding = 1e-12

// tear takes from row r what does not stay on the wall: ridges where the air comes together from two sides and
// is fast enough to tear them to mist, and water hanging from a wall that faces down.
func (f *flow) tear(r int, dt float64) {
	g, h, s := f.g, f.film.h, f.p.Body.Surface
	if f.film.live[r+pad] == 0 {
		return
	}
	d := f.drops
	rho := d.air.rho
	for c := range g.cols {
		i := g.at(r, c)
		x := h[i]
		if x == 0 {
			continue
		}
		f.thick[r] = max(f.thick[r], x)
		plain := r*g.cols + c
		if s.Normal[plain].Z < -math.Sqrt2/2 {
			if over := x - float64(water.PuddleHeight(f.liquid, q.Angle(math.Pi/2))); over > 0 {
				h[i] -= over
				f.lost[r].Dripped += over * g.area[i]
				x = h[i]
			}
		}
		u := max(d.edge[i-g.stride], d.edge[i+g.stride], d.edge[i-1], d.edge[i+1])
		if rho*u*u*x <= water.MistOnset*f.p.Liquid.Tension {
			continue
		}
		across := 0.0
		if d.tauA[i-1] > 0 && d.tauA[i+1] < 0 {
			across = s.StepA[plain]
		}
		if d.tauS[i-g.stride] > 0 && d.tauS[i+g.stride] < 0 {
			across = max(across, s.StepS[r])
		}
		if across == 0 {
			continue
		}
		w := &f.walls[f.wall[i]]
		incline := q.Angle(math.Acos(max(-1, min(1, s.Normal[plain].Z))))
		holds := float64(water.RidgeCapacity(f.liquid, w.Wetting, q.Density(rho), q.Speed(u), incline)) / across
		// Torn away layer by layer, each in the time the air takes past the ridge's height.
		if over := x - holds; over > 0 {
			gone := over * -math.Expm1(-dt*u/x*math.Sqrt(rho/f.p.Liquid.Density))
			h[i] -= gone
			f.lost[r].Mist += gone * g.area[i]
		}
	}
}

// even makes the film of merged columns of row r equal again after it was changed cell by cell.
func (f *flow) even(r int) {
	g, m := f.g, f.g.merge[r]
	for c := 0; m > 1 && c < g.cols; c += m {
		volume, area := 0.0, 0.0
		for i := g.at(r, c); i < g.at(r, c+m); i++ {
			volume += f.film.h[i] * g.area[i]
			area += g.area[i]
		}
		for i := g.at(r, c); i < g.at(r, c+m); i++ {
			f.film.h[i] = volume / area
		}
	}
}

// onWall is the film and drops of the container [m3], summed in the order of the cells.
func (f *flow) onWall() float64 {
	sum := 0.0
	for r := range f.g.rows {
		for c := range f.g.cols {
			sum += f.cellWater(f.g.at(r, c)) * f.g.area[f.g.at(r, c)]
		}
	}
	return sum
}

// cellWater is the film and drops of cell i [m3/m2].
func (f *flow) cellWater(i int) float64 {
	v := f.film.h[i]
	for b := i * dropBins; b < (i+1)*dropBins; b++ {
		v += f.drops.stuck[b] + f.drops.moving[b]
	}
	return v
}

// held is all water on the container but the fog [m3].
func (f *flow) held() float64 {
	sum := f.onWall() + f.rims.held()
	for i := range f.reservoir {
		sum += f.reservoir[i].total()
	}
	for i := range f.recess {
		for _, v := range f.recess[i].water {
			sum += v
		}
	}
	return sum
}

// gone is what left the container while the air blew and between [m3].
func (f *flow) gone() Moved {
	sum := f.rims.lost
	for _, l := range f.lost {
		sum.Add(l)
	}
	return sum
}
