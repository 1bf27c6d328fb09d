package drying

import (
	"math"
	"math/bits"
)

// arrivals are the drops on their way into the cells of one row within one step. What comes from the two sides has a
// sum of its own: two numbers give the same sum in either order, three may not, and water would then not be mirrored
// where the air is.
type arrivals struct {
	along  []amounts // m3 per column, along the profile; 0 where nothing is on its way
	around []amounts // from the two sides; none in what nothing reaches from there
	into   []bins    // per column: sizes on their way
	cols   []uint64  // one bit per column: some are
}

func newArrivals(g *wallGrid, around bool) *arrivals {
	a := &arrivals{along: make([]amounts, g.cols), into: make([]bins, g.cols), cols: make([]uint64, (g.cols+63)/64)}
	if around {
		a.around = make([]amounts, g.cols)
	}
	return a
}

// expect says that some sizes are on their way to column c.
func (a *arrivals) expect(c int, sizes bins) {
	if sizes != 0 {
		a.into[c] |= sizes
		a.cols[uint(c)/64] |= 1 << (uint(c) % 64)
	}
}

// sum empties column c and returns what was on its way there along the profile [m3].
func (a *arrivals) sum(c int) float64 {
	volume := 0.0
	for _, v := range &a.along[c] {
		volume += v
	}
	a.along[c], a.into[c] = amounts{}, 0
	return volume
}

// seam is what leaves a tier of rows in one step: upwards from its last row and downwards from its first. The tiers
// beside it take it in at the next step, so that it is kept for two steps in turn.
type seam struct{ up, down [2]*arrivals }

// newSeams makes the seams of all tiers.
func newSeams(g *wallGrid) []seam {
	all := make([]seam, g.tiers())
	for j := range all {
		for k := range 2 {
			all[j].up[k], all[j].down[k] = newArrivals(g, false), newArrivals(g, false)
		}
	}
	return all
}

// ways are the arrivals that one worker fills while it moves the drops of a tier, all empty between two tiers, and the
// step that it does.
type ways struct {
	below, here, above *arrivals // rows beside the one that drops leave, and itself
	under, over        *arrivals // rims on its two sides
	step               stepping
}

func newWays(g *wallGrid) *ways {
	return &ways{
		below: newArrivals(g, false), here: newArrivals(g, true), above: newArrivals(g, true),
		under: newArrivals(g, false), over: newArrivals(g, false),
	}
}

// dropCourant is the largest share of a cell that moving drops cross in one step. Upwind transport of
// drops smears least near 1.
const dropCourant = 0.8

// mostLeaving is the largest share of a cell's drops that leaves in one step: short of all by more than the
// rounding of what leaves.
const mostLeaving = 1 - 1e-6

// paced sets the pace of cell i of row r for the time dt and returns the rate [1/s] at which drops cross it. The
// largest drops of a cell stand for all: both parts of the push, over what holds a drop, grow with its size.
func (d *drops) paced(r, i int, dt float64) float64 {
	b, rate := d.busy[i].top(), 0.0
	if d.velocities(i, b) <= b {
		g := d.g
		v, x := d.v[i][b], &g.ways[i]
		rate = (float64(v.s)*max(x.up, x.down) + float64(v.a)*x.side/float64(g.merge[r])) * x.inv
	}
	d.seen[i].pace = math.MaxUint8
	if steps := 1 + rate*dt*(1/dropCourant); steps < math.MaxUint8 {
		d.seen[i].pace = uint8(steps)
	}
	return rate
}

// fastestDrop is the largest rate [1/s] at which moving drops cross a cell of row r. It sets the pace of every cell
// for the time dt.
func (d *drops) fastestDrop(r int, dt float64) float64 {
	worst := 0.0
	for w, word := range d.cols.row(r) {
		for ; word != 0; word &= word - 1 {
			worst = max(worst, d.paced(r, d.g.at(r, w*64+bits.TrailingZeros64(word)), dt))
		}
	}
	return worst
}

// stepping is one of several steps between two looks at the air. Where drops are slow they take fewer and longer
// ones: what leaves a cell arrives in the next one at once, so that each may keep a pace of its own.
type stepping struct {
	dt    float64                    // s, all steps together
	k     int                        // this one
	turns [math.MaxUint8 + 1]float64 // s by pace: length of the step that a cell takes now, 0 when it waits
}

// set makes s step k of some.
func (s *stepping) set(dt float64, k, of int) {
	s.dt, s.k = dt, k
	shortest := dt / float64(of)
	for pace := 1; pace < len(s.turns); pace++ {
		switch {
		case pace >= of:
			s.turns[pace] = shortest
		case k == 0 || k*pace/of != (k-1)*pace/of:
			s.turns[pace] = dt / float64(pace)
		default:
			s.turns[pace] = 0
		}
	}
}

// moveTier moves the drops of tier j by a step. Drops that reach another row of the tier arrive at once; those that
// leave it wait in its seams for joinSeams, and those that run into a rim are handed to it. Each row is left from,
// then arrived in: rows are gone through upwards, and what comes down arrives when the row above has been left.
func (d *drops) moveTier(j int, rims *rims, w *ways) {
	s := &w.step
	r0, r1 := d.g.tier(j)
	seam := &d.seams[j]
	for r := r0; r < r1; r++ {
		up, down := w.above, w.below
		if r == r1-1 {
			up = seam.up[s.k&1]
		}
		if r == r0 {
			down = seam.down[s.k&1]
		}
		if rims.shut[r+1] {
			up = w.over
		}
		if rims.shut[r] {
			down = w.under
		}
		if d.cols.any(r) {
			d.depart(r, s, down, w.here, up)
		}
		d.arrive(r, w.here)
		switch {
		case rims.shut[r]:
			rims.catch(r, down, true)
		case r > r0:
			d.arrive(r-1, down)
		}
		if rims.shut[r+1] {
			rims.catch(r+1, up, false)
		}
		w.here, w.above = w.above, w.here
	}
}

// joinSeams lets arrive in tier j what the tiers beside it sent there in step k.
func (d *drops) joinSeams(j, k int) {
	r0, r1 := d.g.tier(j)
	if j > 0 {
		d.arrive(r0, d.seams[j-1].up[k&1])
	}
	if j+1 < len(d.seams) {
		d.arrive(r1-1, d.seams[j+1].down[k&1])
	}
}

// depart takes from row r the drops that leave their cells in a step and sends them on.
func (d *drops) depart(r int, s *stepping, down, here, up *arrivals) {
	g := d.g
	for w, word := range d.cols.row(r) {
		for ; word != 0; word &= word - 1 {
			c := w*64 + bits.TrailingZeros64(word)
			i := g.at(r, c)
			seen := &d.seen[i]
			if seen.pace == 0 {
				d.paced(r, i, s.dt)
			}
			dt := s.turns[seen.pace]
			if dt == 0 {
				continue
			}
			busy := d.busy[i]
			top, least := busy.top(), int(seen.slowest)
			if seen.step != d.step || int(seen.upTo) < top {
				least = d.work(i, top)
			}
			leaving := busy & from(least)
			if leaving == 0 {
				continue
			}
			right, left := g.right(c), g.left(c)
			x := &g.ways[i]
			p := pouring{m: &d.moving[i], v: &d.v[i], along: dt * x.up, across: dt * x.side, most: mostLeaving * x.area, inv: x.inv}
			ups, rights := leaving&seen.ups, leaving&seen.rights
			downs, lefts := leaving&^ups, leaving&^rights
			if ups != 0 {
				p.ahead = &up.along[c]
				busy &^= p.pour(ups&rights, &here.around[right]) | p.pour(ups&lefts, &here.around[left])
				up.expect(c, ups)
			}
			if downs != 0 {
				p.ahead, p.along = &down.along[c], dt*x.down
				busy &^= p.pour(downs&rights, &here.around[right]) | p.pour(downs&lefts, &here.around[left])
				down.expect(c, downs)
			}
			here.expect(right, rights)
			here.expect(left, lefts)
			if busy != d.busy[i] {
				d.stir(r, c, busy)
			}
		}
	}
}

// pouring is what leaves a cell in one step, along the profile into ahead.
type pouring struct {
	m, ahead *amounts
	v        *speeds
	along    float64 // m s, the step times the length of the face that is crossed along the profile
	across   float64 // and of that around
	most     float64 // m2 that may leave, by the speed and these
	inv      float64 // 1/m2
}

// pour takes from the cell what leaves it of some sizes, around into beside. It returns the sizes of which no more
// than dust is left.
func (p *pouring) pour(sizes bins, beside *amounts) (done bins) {
	if sizes == 0 {
		return 0
	}
	m, v, ahead := p.m, p.v, p.ahead
	along, across, most, inv := p.along, p.across, p.most, p.inv
	b := uint(bits.TrailingZeros16(uint16(sizes)))
	for rest := uint32(sizes) >> b; rest != 0; rest, b = rest>>1, b+1 {
		if rest&1 == 0 {
			continue
		}
		k := b % dropBins
		s, a := float64(v[k].s)*along, float64(v[k].a)*across
		if sum := s + a; sum > most {
			s, a = s/sum*most, a/sum*most
		}
		x := m[k]
		s *= x
		a *= x
		ahead[k] += s
		beside[k] += a
		x -= (s + a) * inv
		m[k] = x
		if x <= dust {
			done |= 1 << k
		}
	}
	return done
}

// arrive lets arrive in row r what is on its way there.
func (d *drops) arrive(r int, a *arrivals) {
	for w, word := range a.cols {
		if word == 0 {
			continue
		}
		a.cols[w] = 0
		for ; word != 0; word &= word - 1 {
			c := w*64 + bits.TrailingZeros64(word)
			i := d.g.at(r, c)
			into, busy := a.into[c], d.busy[i]
			a.into[c] = 0
			m, along, inv := &d.moving[i], &a.along[c], d.g.invArea[i]
			if a.around != nil {
				busy |= land(m, into, inv, along, &a.around[c])
			} else {
				busy |= land(m, into, inv, along, &amounts{})
			}
			if busy != d.busy[i] {
				d.stir(r, c, busy)
			}
		}
	}
}

// land adds to the drops of a cell, one over whose area is inv, those of some sizes that come along the profile and
// around, of which then none is left. It returns the sizes of which there is more than dust.
func land(m *amounts, sizes bins, inv float64, along, around *amounts) (busy bins) {
	b := uint(bits.TrailingZeros16(uint16(sizes)))
	for rest := uint32(sizes) >> b; rest != 0; rest, b = rest>>1, b+1 {
		k := b % dropBins
		x := m[k] + (along[k]+around[k])*inv
		m[k], along[k], around[k] = x, 0, 0
		if x > dust {
			busy |= 1 << k
		}
	}
	return busy
}

func mod1(c, n int) int {
	switch {
	case c < 0:
		return c + n
	case c >= n:
		return c - n
	}
	return c
}
