package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// A reservoir is the water in one crevice, in pieces that move by themselves: one per column where it can
// leave through vents, two halves of the ring where it must go around, one where it cannot leave.
type reservoir struct {
	c      *station.Crevice
	hold   float64 // Pa
	whole  float64 // m, length of a full piece along its way out
	full   float64 // m3 in a full piece
	pieces []water.PushedWater
	film   []float64 // m3 left on the walls of the emptied part, per piece
}

// A recess is the water lying in one pool, per column.
type recess struct {
	pool  *station.Pool
	needs float64   // Pa that lift it
	water []float64 // m3
	over  []float64 // m3 that runs from each column to the next, scratch
	rim   int       // row onto which it is pushed
}

// fill builds the reservoirs and recesses and fills them as the container arrives.
func (f *flow) fill() {
	b, cols := f.p.Body, f.g.cols
	for k := range b.Crevices {
		c := &b.Crevices[k]
		r := reservoir{c: c, hold: creviceHold(f.liquid, c.Gap, f.walls, c).Likely, whole: c.Depth}
		n := cols
		if c.Exit != exitVents {
			n, r.whole = 2/int(f.g.sides()), math.Pi*c.Radius
		}
		if c.Exit == exitBlind {
			n, r.whole = 1, c.Depth
		}
		r.full = float64(c.Volume) / float64(n)
		r.pieces, r.film = make([]water.PushedWater, n), make([]float64, n)
		for i := range r.pieces {
			r.pieces[i].Length = q.Length(r.whole * f.p.Arrives.TrappedFull)
		}
		f.reservoir = append(f.reservoir, r)
	}
	for k := range b.Pools {
		p := &b.Pools[k]
		r := recess{pool: p, water: make([]float64, cols), rim: f.outside(p)}
		r.needs = float64(water.PoolPressure(f.liquid, q.Length(p.Depth)))
		for c := range r.water {
			if p.FacesUp {
				r.water[c] = float64(p.Volume) * f.p.Arrives.PoolsFull / float64(cols)
			}
		}
		f.recess = append(f.recess, r)
	}
}

// outside is the row next to a pool on the side farther from the axis.
func (f *flow) outside(p *station.Pool) int {
	s := f.p.Body.Surface
	low, high := max(0, p.Rows[0]-1), min(s.Rows-1, p.Rows[1])
	radius := func(r int) float64 { return math.Hypot(s.Pos[r*s.Cols].X, s.Pos[r*s.Cols].Y) }
	if radius(low) > radius(high) {
		return low
	}
	return high
}

// held is the water in piece i [m3].
func (r *reservoir) held(i int) float64 {
	return r.full*float64(r.pieces[i].Length)/r.whole + r.film[i]
}

// total is the water in the reservoir [m3].
func (r *reservoir) total() float64 {
	sum := 0.0
	for i := range r.pieces {
		sum += r.held(i)
	}
	return sum
}

// drive moves the water in every crevice and pool under the air pressure at its mouth for dt. Film at a
// mouth that has room is drawn in; what comes out is film on the wall beside the mouth.
func (f *flow) drive(dt float64) {
	for k := range f.reservoir {
		r := &f.reservoir[k]
		switch r.c.Exit {
		case exitVents:
			for c := range r.pieces {
				f.push(r, c, f.drops.p[f.g.at(r.c.Row, c)], c, dt)
			}
		case exitAround:
			f.pushAround(r, dt)
		}
		f.drawIn(r)
	}
	for k := range f.recess {
		f.scoop(&f.recess[k], dt)
	}
}

// pushAround drives the two halves of a ring, each from its most to its least pressed mouth. The ring is cut
// at its leading and trailing lines.
func (f *flow) pushAround(r *reservoir, dt float64) {
	cols := f.g.cols
	for half := range r.pieces {
		most, least, exit := 0.0, math.Inf(1), 0
		for j := range f.g.around / 2 {
			c := j
			if half == 1 {
				c = cols - 1 - j
			}
			p := f.drops.p[f.g.at(r.c.Row, c)]
			most = max(most, p)
			if p < least {
				least, exit = p, c
			}
		}
		f.push(r, half, most-least, exit, dt)
	}
}

// push moves piece i under a pressure difference for dt; the water comes out at column exit.
func (f *flow) push(r *reservoir, i int, pressure float64, exit int, dt float64) {
	w := r.pieces[i]
	net := pressure - r.hold
	if w.Length <= 0 || (net <= 0 && w.Speed <= 0) {
		return
	}
	after := w.After(f.liquid, q.Length(r.c.Gap), q.PressureDrop(net), q.Duration(dt))
	gone := float64(w.Length - after.Length)
	speed := max(w.Speed, after.Speed)
	if speed == 0 {
		speed = q.Speed(gone / dt)
	}
	volume := r.full * gone / r.whole
	stays := volume * float64(water.MeniscusFilm(f.liquid, speed))
	r.pieces[i] = after
	r.film[i] += stays
	row := f.beside(r.c)
	k := f.g.at(row, exit)
	f.film.h[k] += (volume - stays) * f.g.invArea[k]
}

// beside is the row next to a crevice's mouth, away from the gap: below it when it faces down.
func (f *flow) beside(c *station.Crevice) int {
	s := f.p.Body.Surface
	low, high := max(0, c.Row-1), min(s.Rows-1, c.Row+1)
	if (s.Pos[low*s.Cols].Z < s.Pos[high*s.Cols].Z) == c.FacesDown {
		return low
	}
	return high
}

// mostDrawnIn is the share of the film at a mouth that a crevice draws in per step: the capillary pull of a
// gap below a millimetre empties a cell's film within a few steps.
const mostDrawnIn = 0.5

// drawIn lets a crevice with room take film from the cells at its mouth while its water is at rest.
func (f *flow) drawIn(r *reservoir) {
	n := len(r.pieces)
	cols := f.g.cols
	for k := range cols {
		c := k
		if 2*k >= f.g.around { // the other side from its leading end as well
			c = cols - 1 - (k - (f.g.around+1)/2)
		}
		piece := c * n / cols
		if r.pieces[piece].Speed > 0 {
			continue
		}
		i := f.g.at(r.c.Row, c)
		room := r.full - r.held(piece)
		if f.film.h[i] == 0 || room <= 0 {
			continue
		}
		volume := min(mostDrawnIn*f.film.h[i]*f.g.area[i], room)
		f.film.h[i] -= volume * f.g.invArea[i]
		r.pieces[piece].Length += q.Length(volume / r.full * r.whole)
	}
}

// scoop pushes the water of a pool over its edge where the air presses harder than its depth; the corners
// keep their fillets.
func (f *flow) scoop(r *recess, dt float64) {
	g := f.g
	rims := 2 * math.Pi * (r.pool.Outer + r.pool.Inner) / float64(g.around)
	for c := range r.water {
		if !r.pool.FacesUp {
			break
		}
		press := 0.0
		for row := r.pool.Rows[0]; row < r.pool.Rows[1]; row++ {
			press = max(press, f.drops.p[g.at(row, c)])
		}
		full := float64(r.pool.Volume) / float64(g.cols)
		needs := r.needs * r.water[c] / full
		if press <= needs {
			r.water[c] += f.sink(r, c, full-r.water[c])
			continue
		}
		keeps := rims * float64(water.CornerFillet(f.liquid, q.Gauge(press)))
		over := r.water[c] - keeps
		if over <= 0 {
			continue
		}
		across := water.Crevice{Width: q.Length(r.pool.Depth), Length: q.Length(r.pool.Outer - r.pool.Inner)}
		takes := float64(across.InertialTime(f.liquid, q.PressureDrop(press-needs/2)))
		volume := over * -math.Expm1(-dt/takes)
		r.water[c] -= volume
		i := g.at(r.rim, c)
		f.film.h[i] += volume * g.invArea[i]
	}
	r.level(dt, g)
}

// mass is the water in a pool of a density, summed in the order of the columns all around.
func (r *recess) mass(density float64, g *wallGrid) float64 {
	sum := 0.0
	for _, v := range r.water {
		sum += v * density
	}
	for c := len(r.water) - 1; c >= 0 && g.half(); c-- {
		sum += r.water[c] * density
	}
	return sum
}

// mostLevelled is the largest share of the difference between two columns of a pool that moves at once; above 1/2
// their difference would change its sign.
const mostLevelled = 0.25

// level lets the water of a pool run around towards its lower places, in about the time that a wave on it takes
// over the pool's radius.
func (r *recess) level(dt float64, g *wallGrid) {
	n := len(r.water)
	if !r.pool.FacesUp || n < 2 || r.pool.Volume <= 0 {
		return
	}
	held, volume := r.mass(1, g), g.sides()*float64(r.pool.Volume)
	radius := (r.pool.Outer + r.pool.Inner) / 2
	wave := math.Sqrt(water.Gravity * r.pool.Depth * min(1, held/volume))
	across := 2 * math.Pi * radius / float64(g.around)
	share := wave * radius * dt / (across * across)
	steps := int(math.Ceil(share / mostLevelled))
	if len(r.over) < n {
		r.over = make([]float64, n)
	}
	for range steps {
		for c := range n {
			r.over[c] = share / float64(steps) * (r.water[c] - r.water[g.right(c)])
		}
		for c := range n {
			r.water[c] += r.over[mod1(c-1, n)] - r.over[c] // nothing runs over at the ends of a half
		}
	}
}

// sink takes the film on a pool's floor at column c back into the pool, up to room [m3].
func (f *flow) sink(r *recess, c int, room float64) float64 {
	sum := 0.0
	for row := r.pool.Rows[0]; row < r.pool.Rows[1]; row++ {
		i := f.g.at(row, c)
		volume := min(f.film.h[i]*f.g.area[i], room-sum)
		if volume <= 0 {
			continue
		}
		f.film.h[i] -= volume * f.g.invArea[i]
		if f.film.h[i] < rounding*volume*f.g.invArea[i] {
			f.film.h[i] = 0
		}
		sum += volume
	}
	return sum
}
