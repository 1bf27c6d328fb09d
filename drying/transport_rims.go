package drying

import (
	"math"
	"math/bits"

	"leste/physics/water"
	q "leste/quantity"
)

// A rim is a sharp edge of the body, or the ring it stands on, between row-1 and row. No water passes over
// it as a film: what comes from either side gathers as a bead, held up to what air and weight allow.
type rim struct {
	row  int
	ring bool      // the ring that the body stands on: what comes there goes to the belt
	bead []float64 // m3 per column
	low  []float64 // m3 that came in this step in drops from the row below, per column
	high []float64 // and from the row above
}

// rims are all rims of a body.
type rims struct {
	f    *flow
	shut []bool // per row: its low-side faces are a rim
	at   []int  // per row: index into list, -1
	list []rim
	lost Moved // m3

	byWeight float64 // m2, cross-section of the largest bead that stays in still air
	byAir    float64 // m2 (m/s)4, that in fast air times the fourth power of its speed
}

// sharpRim is the turn of the wall from which an edge holds a bead; a film follows blunter ones. Judgement.
const sharpRim = 45 * math.Pi / 180

// pinned is a contact line on a sharp edge: it moves on to the far side only when the water stands square
// to it, and does not come back.
var pinned = water.Wetting{Advancing: math.Pi / 2, Receding: 0}

func newRims(f *flow) *rims {
	s, g := f.p.Body.Surface, f.g
	m := &rims{f: f, shut: make([]bool, g.rows+1), at: make([]int, g.rows+1)}
	for i := range m.at {
		m.at[i] = -1
	}
	holds := func(u q.Speed) float64 {
		return float64(water.RidgeCapacity(f.liquid, pinned, q.Density(f.drops.air.rho), u, math.Pi/2))
	}
	const fast = 1e3 // m/s: weight does not matter
	m.byWeight, m.byAir = holds(0), holds(fast)*fast*fast*fast*fast
	add := func(row int, ring bool) {
		if row <= 0 || row >= g.rows || m.shut[row] {
			return
		}
		m.shut[row], m.at[row] = true, len(m.list)
		m.list = append(m.list, rim{
			row: row, ring: ring, bead: make([]float64, g.cols), low: make([]float64, g.cols), high: make([]float64, g.cols),
		})
	}
	if ring := standingRow(f); ring > 0 {
		add(ring, true)
	}
	for _, e := range s.Edge {
		if e.Angle > sharpRim {
			add(e.Row, false)
		}
	}
	return m
}

// standingRow is the row whose low side is the outer edge of the ring that the body stands on; 0 when it
// does not stand on its surface (a plane piece of wall).
func standingRow(f *flow) int {
	s, g := f.p.Body.Surface, f.g
	if f.p.Body.BaseRadius <= 0 {
		return 0
	}
	low := math.Inf(1)
	for r := range g.rows {
		low = min(low, s.Pos[r*g.cols].Z)
	}
	ring := 0
	for r := range g.rows {
		if s.Pos[r*g.cols].Z <= low+standingSlack {
			ring = r + 1
		}
	}
	if ring >= g.rows {
		return 0
	}
	return ring
}

// standingSlack is how far above the lowest row another still stands on the belt, m.
const standingSlack = 0.1e-3

// catch takes the drops that run into the rim on the low side of row r, from above it or from below.
func (m *rims) catch(r int, a *arrivals, above bool) {
	e := &m.list[m.at[r]]
	side := e.low
	if above {
		side = e.high
	}
	for w, word := range a.cols {
		a.cols[w] = 0
		for ; word != 0; word &= word - 1 {
			c := w*64 + bits.TrailingZeros64(word)
			side[c] += a.sum(c)
		}
	}
}

// gather adds what reaches every rim within dt and lets go what air or weight takes from it.
func (m *rims) gather(dt float64) {
	for k := range m.list {
		e := &m.list[k]
		for c := range e.bead {
			e.bead[c] += e.low[c] + e.high[c]
			e.low[c], e.high[c] = 0, 0
			i := m.f.g.at(e.row, c)
			e.bead[c] += m.f.spill(i-m.f.g.stride, i, 1, dt) + m.f.spill(i, i, -1, dt)
			if e.bead[c] > 0 {
				m.release(e, c)
			}
		}
	}
}

// most of a cell's film that may reach a rim in one step.
const mostSpilled = 0.9

// spill takes from the film of cell i the volume that flows across face j in the direction given.
func (f *flow) spill(i, j int, direction, dt float64) float64 {
	h := f.film.h[i]
	if h == 0 {
		return 0
	}
	v := direction * h * (f.film.as[j] + f.film.bs[j]*h)
	if v <= 0 {
		return 0
	}
	v = min(v, math.Sqrt(f.film.cs[j]))
	have := h * f.g.area[i]
	volume := min(v*h*dt, mostSpilled*have)
	f.film.h[i] -= volume * f.g.invArea[i]
	return volume
}

// release lets go what a rim does not hold at column c.
func (m *rims) release(e *rim, c int) {
	f := m.f
	g, s := f.g, f.p.Body.Surface
	i := g.at(e.row, c)
	u := max(f.drops.edge[i], f.drops.edge[i-g.stride])
	length := g.lenS[i]
	holds, blown := m.byWeight, false
	if u > 0 {
		if byAir := m.byAir / (u * u * u * u); byAir < holds {
			holds, blown = byAir, true
		}
	}
	if e.ring {
		holds = 0
	}
	over := e.bead[c] - holds*length
	if over <= 0 {
		return
	}
	e.bead[c] -= over
	switch {
	case blown:
		m.lost.BlownOff += over
	case e.ring:
		m.lost.Dripped += over
	default:
		m.runOver(e, c, over, s.Pos[e.row*g.cols+c].Z < s.Pos[(e.row-1)*g.cols+c].Z)
	}
}

// runOver hands water that a rim cannot hold against its weight to the lower side: onto the wall when that
// faces up or sideways, off the body when it faces down.
func (m *rims) runOver(e *rim, c int, volume float64, upperRowIsLower bool) {
	f := m.f
	row := e.row - 1
	if upperRowIsLower {
		row = e.row
	}
	plain, i := row*f.g.cols+c, f.g.at(row, c)
	if f.p.Body.Surface.Normal[plain].Z < -math.Sqrt2/2 {
		m.lost.Dripped += volume
		return
	}
	w := &f.walls[f.wall[i]]
	size := min(w.slide(f.liquid, f.p.Body.Surface.Normal[plain].Z), binSize(dropBins-1))
	put(&f.drops.moving[i], volume*f.g.invArea[i], size)
	f.drops.note(row, c)
}

// held is the water on all rims [m3].
func (m *rims) held() float64 {
	sum := 0.0
	for k := range m.list {
		for _, v := range m.list[k].bead {
			sum += v
		}
	}
	return sum
}
