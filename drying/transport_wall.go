package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
)

// flow is all water on one container's wall and the air that moves it.
type flow struct {
	p      *Problem // of the half that is followed where the two are alike
	whole  *Problem
	layer  *layer // that it comes from; nil where it was laid for itself
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

	still   []float64 // m per cell: critical film without air
	thin    []float64 // per material: critical film times shear^(2/3) [m Pa^(2/3)]
	fade    []float64 // per material: 1 where film can break, 0 where the wall stays wet
	dewet   []float64 // m/s per material: speed at which film draws back, viscous law
	recedes []float64 // m/s per row: the fastest at which its walls may draw film back
	burst   []float64 // m1.5/s per material: the same times sqrt(h), inertial law
	small   []float64 // share of loosened drops that stays behind as small ones; see smallShares
	rest    []float64 // m0.5 per material: drops that a drawing edge leaves, over sqrt(h)

	crowds    crowds
	rims      *rims
	reservoir []reservoir
	recess    []recess
	fog       []float64 // kg/m2 per plain cell

	lost   []Moved   // per row, so that sums do not depend on who did the row [m3]
	blown  [2]int    // rows [from, to) that the air reaches at present
	costs  []int32   // per tier: what it is expected to cost
	thick  []float64 // m per row, thickest film met
	travel float64   // m/s of the container under the present station
	calm   bool      // no air blows: the water drains
	cells  float64   // that the container moves between two looks at the air; 0 where it does not
	draw   int       // steps in which edges draw back within one of the others
	fast   float64   // m/s, greatest air speed met in the present station
	steps  int64     // film cell-steps done

	filmCost             []int32   // per row: what a step of its film costs, in cells
	filmRate, dropRate   []float64 // per row: 1/s, the largest rates at which they cross a cell
	filmSteps, dropSteps int       // between two looks at the air

	scratch []*filmScratch // per worker
	ways    []*ways        // per worker
	sheets  [2]*Water
}

// newFlow lays the arriving water on the wall.
func newFlow(p *Problem) *flow { return flowOn(newWallGrid(p.Body.Surface), p, p) }

// newHalfFlow lays it on the left half of a wall, of which p is the problem.
func newHalfFlow(p, whole *Problem) *flow { return flowOn(newHalfGrid(p.Body.Surface), p, whole) }

func flowOn(grid *wallGrid, p, whole *Problem) *flow {
	s := p.Body.Surface
	f := &flow{p: p, whole: whole, g: grid, liquid: p.Liquid.liquid(), walls: walls(p.Body), draw: 1}
	g := f.g
	f.small = smallShares(p.Settings.SmallDrops)
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
	f.drops = newDrops(g, dropWalls, f.wall, air, p.Liquid.Density)
	for _, a := range []*[]float64{&f.age, &f.first, &f.backS, &f.backA, &f.still} {
		*a = make([]float64, g.size)
	}
	f.draws = make([]uint8, g.rows+2*pad)
	f.fog = make([]float64, g.rows*g.cols)
	f.lost, f.thick = make([]Moved, g.rows), make([]float64, g.rows)
	f.filmCost, f.filmRate, f.dropRate = make([]int32, g.rows), make([]float64, g.rows), make([]float64, g.rows)
	covered, top := underPools(p), math.Inf(-1)
	for _, pos := range s.Pos {
		top = max(top, pos.Z)
	}
	drops := shares(p.Arrives.DropMedian, p.Settings.DropSpread)
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
				f.arrive(i, k, arrives, top, &drops)
			}
		}
	}
	g.wrap(f.film.hold)
	f.recedes = make([]float64, g.rows)
	for r := range g.rows {
		for c := range g.cols {
			if m := f.wall[g.at(r, c)]; f.fade[m] > 0 {
				f.recedes[r] = max(f.recedes[r], f.dewet[m])
			}
		}
	}
	f.rims = newRims(f)
	copy(f.film.shut, f.rims.shut)
	f.crowds = f.newCrowds()
	f.film.refresh(0, g.rows)
	f.film.drive(0, g.rows, f.drops.tauS, f.drops.tauA, f.drops.p)
	f.fill()
	return f
}

// arrive lays the water that comes in [m3/m2] on cell i: as a film where the wall takes more as wetting than
// not, else as drops at rest. What has drained or slid down by its weight since the last wetting is gone: of a
// film more than drains in that time, of drops those that do not stay; the largest that do hold their share. drops are the
// shares of each size in the drops that come.
func (f *flow) arrive(i, plain int, volume, top float64, drops *[dropBins]float64) {
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
	stuck := &f.drops.stuck[i]
	for b, share := range drops {
		stuck[b] = volume * share
	}
	most, stays := f.walls[f.wall[i]].slide(f.liquid, s.Normal[plain].Z), 0.0
	for b := range stuck {
		if binSize(b)*math.Sqrt(binRatio) > most && b > 0 {
			stuck[b] = 0
		}
		stays += stuck[b]
	}
	for b := range stuck {
		if stuck[b] > 0 {
			stuck[b] *= volume / stays
			f.drops.held[i] |= 1 << b
		}
	}
}

// level is the upward part of the normal from which a wall does not drain.
const level = 0.9

// bead lays volume [m3/m2] on cell i as drops at rest with a volume median and a spread.
func (f *flow) bead(i int, volume, median, spread float64) {
	s := &f.drops.stuck[i]
	for b, share := range shares(median, spread) {
		if share > 0 {
			s[b] += volume * share
			f.drops.held[i] |= 1 << b
		}
	}
}

// shares are the shares of each bin in drops with a volume median and a spread.
func shares(median, spread float64) (s [dropBins]float64) {
	below := 0.0
	for b := range dropBins - 1 {
		edge := binSize(b) * math.Sqrt(binRatio)
		upTo := 1 - tail(math.Log(edge/median)/spread)
		s[b] = upTo - below
		below = upTo
	}
	s[dropBins-1] = 1 - below
	return s
}

// put lays volume [m3/m2] on a pair of bins of a as drops of one size and returns the smaller of the two.
func put(a *amounts, volume, size float64) int {
	return lay(a, volume, math.Log(size/smallestBin)/logRatio)
}

// lay is put for a size that is given by its place among the bins.
func lay(a *amounts, volume, x float64) int {
	x = max(0, min(x, dropBins-1))
	b := min(int(x), dropBins-2)
	part := x - float64(b)
	a[b] += volume * (1 - part)
	a[b+1] += volume * part
	return b
}

var logRatio = math.Log(binRatio)

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
	in := math.Sqrt(xs*xs + xa*xa)
	ts, ta := f.drops.tauS[i], f.drops.tauA[i]
	tau := math.Sqrt(ts*ts + ta*ta)
	if tau == 0 || in == 0 {
		return f.travel
	}
	along := math.Abs(ts*xs+ta*xa) / (tau * in)
	return f.travel * along / max(in, slowestTurn)
}

// slowestTurn bounds how fast the front seems to run over wall that is nearly square to the travel.
const slowestTurn = 0.25

// even makes the film of merged columns of row r equal again after it was changed cell by cell, and equally old, so
// that it breaks in all of them at once: what breaks in one would else be drowned by the others for ever.
func (f *flow) even(r int) {
	g, m := f.g, f.g.merge[r]
	for c := 0; m > 1 && c < g.cols; c += m {
		volume, area, age, first, end := 0.0, 0.0, 0.0, 0.0, g.at(r, min(c+m, g.cols))
		for k := range m / 2 {
			a, b := g.pair(c, m, k)
			i, j := g.at(r, a), g.at(r, b)
			volume += f.film.h[i]*g.area[i] + f.film.h[j]*g.area[j]
			area += g.area[i] + g.area[j]
			age, first = max(age, f.age[i], f.age[j]), max(first, f.first[i], f.first[j])
		}
		for i := g.at(r, c); i < end; i++ {
			f.film.h[i], f.age[i], f.first[i] = volume/area, age, first
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
	for b, stuck := range &f.drops.stuck[i] {
		v += stuck + f.drops.moving[i][b]
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
