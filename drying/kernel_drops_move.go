package drying

import (
	"math"
	"math/bits"
)

// sideways is what the drops of one row send around: what arrives in each cell within one step. Every worker has
// its own.
type sideways struct {
	in   []float64 // m3, dropBins per column; 0 between two rows
	into []bins    // per column: sizes that arrive
}

func newSideways(g *wallGrid) *sideways {
	return &sideways{in: make([]float64, g.cols*dropBins), into: make([]bins, g.cols)}
}

// cell is the bins of column c.
func (s *sideways) cell(c int) *[dropBins]float64 { return (*[dropBins]float64)(s.in[c*dropBins:]) }

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
		vs, va := math.Abs(float64(d.vs[i*dropBins+b])), math.Abs(float64(d.va[i*dropBins+b]))
		long := g.lenS[i]
		if above := g.lenS[i+g.stride]; above > long {
			long = above
		}
		rate = (vs*long + va*g.lenA[i]/float64(g.merge[r])) * g.invArea[i]
	}
	d.pace[i] = math.MaxUint8
	if steps := 1 + rate*dt*(1/dropCourant); steps < math.MaxUint8 {
		d.pace[i] = uint8(steps)
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
	dt    float64 // s, all steps together
	k, of int
}

// turn is the length of the step that a cell of a pace takes now, 0 when it waits.
func (s stepping) turn(pace int) float64 {
	if pace >= s.of {
		return s.dt / float64(s.of)
	}
	if s.k > 0 && s.k*pace/s.of == (s.k-1)*pace/s.of {
		return 0
	}
	return s.dt / float64(pace)
}

// depart takes from row r the drops that leave their cells in a step. Those that go around arrive at once; those
// that go along the profile wait for arrive, or where a rim shuts the way are handed to it.
func (d *drops) depart(r int, step stepping, rims *rims, side *sideways) {
	g := d.g
	sends := d.sends.row(r)
	clear(sends)
	if !d.cols.any(r) {
		return
	}
	shut := rims.beside(r)
	for w, word := range d.cols.row(r) {
		for ; word != 0; word &= word - 1 {
			c := w*64 + bits.TrailingZeros64(word)
			i := g.at(r, c)
			if d.pace[i] == 0 {
				d.paced(r, i, step.dt)
			}
			dt := step.turn(int(d.pace[i]))
			if dt == 0 || !d.leave(r, c, dt, side) {
				continue
			}
			if shut {
				rims.catch(r, c, d)
			}
			sends[w] |= 1 << (c % 64)
		}
	}
	for c, into := range side.into {
		if into == 0 {
			continue
		}
		side.into[c] = 0
		i := g.at(r, c)
		m, in, inv := d.cell(i), side.cell(c), g.invArea[i]
		busy := d.busy[i]
		for ; into != 0; into &= into - 1 {
			b := bits.TrailingZeros16(uint16(into)) % dropBins
			m[b] += in[b] * inv
			in[b] = 0
			if m[b] > dust {
				busy |= 1 << b
			}
		}
		if busy != 0 {
			d.stir(r, c, busy)
		}
	}
}

// cell is what moves in cell i.
func (d *drops) cell(i int) *[dropBins]float64 { return (*[dropBins]float64)(d.moving[i*dropBins:]) }

// leave takes from cell (r, c) what leaves it within dt and reports whether something does.
func (d *drops) leave(r, c int, dt float64, side *sideways) bool {
	g := d.g
	i := g.at(r, c)
	busy := d.busy[i]
	leaving := busy & from(d.velocities(i, busy.top()))
	if leaving == 0 {
		return false
	}
	k := i * dropBins
	m, out := d.cell(i), (*[dropBins]float32)(d.out[k:])
	vs, va := (*[dropBins]float32)(d.vs[k:]), (*[dropBins]float32)(d.va[k:])
	along := [2]float64{dt * g.lenS[i+g.stride], dt * g.lenS[i]} // the face crossed, by the sign of the speed
	around, inv, most := dt*g.lenA[i], g.invArea[i], mostLeaving*g.area[i]
	right, left := mod1(c+1, g.cols), mod1(c-1, g.cols)
	to := [2]*[dropBins]float64{side.cell(right), side.cell(left)}
	var down, west bins
	for rest := leaving; rest != 0; rest &= rest - 1 {
		b := bits.TrailingZeros16(uint16(rest)) % dropBins
		s, a := math.Float32bits(vs[b])>>31, math.Float32bits(va[b])>>31
		fs, fa := math.Abs(float64(vs[b]))*along[s&1], math.Abs(float64(va[b]))*around
		if sum := fs + fa; sum > most {
			fs, fa = fs/sum*most, fa/sum*most
		}
		x := m[b]
		out[b] = float32(x * fs)
		fa *= x
		to[a&1][b] += fa
		x -= (float64(out[b]) + fa) * inv
		m[b] = x
		down |= bins(s << b)
		west |= bins(a << b)
		if x <= dust {
			busy &^= 1 << b
		}
	}
	d.down[i], d.up[i] = down, leaving&^down
	side.into[right] |= leaving &^ west
	side.into[left] |= west
	d.stir(r, c, busy)
	return true
}

// leaving is the volume [m3] of some sizes that leave cell i along the profile.
func (d *drops) leaving(i int, sizes bins) float64 {
	sum := 0.0
	for ; sizes != 0; sizes &= sizes - 1 {
		sum += float64(d.out[i*dropBins+bits.TrailingZeros16(uint16(sizes))])
	}
	return sum
}

// arrive adds to row r the drops that leave the rows beside it towards it.
func (d *drops) arrive(r int) {
	g := d.g
	below, above := d.sends.row(r-1), d.sends.row(r+1)
	for w := range below {
		for word := below[w] | above[w]; word != 0; word &= word - 1 {
			bit := word & -word
			c := w*64 + bits.TrailingZeros64(word)
			i := g.at(r, c)
			busy := d.busy[i]
			if below[w]&bit != 0 {
				busy |= d.take(i, i-g.stride, d.up[i-g.stride])
			}
			if above[w]&bit != 0 {
				busy |= d.take(i, i+g.stride, d.down[i+g.stride])
			}
			if busy != 0 {
				d.stir(r, c, busy)
			}
		}
	}
}

// take adds to cell i the sizes that leave cell j towards it and returns those of them that are more than dust.
func (d *drops) take(i, j int, sizes bins) (busy bins) {
	m, out, inv := d.cell(i), (*[dropBins]float32)(d.out[j*dropBins:]), d.g.invArea[i]
	for ; sizes != 0; sizes &= sizes - 1 {
		b := bits.TrailingZeros16(uint16(sizes)) % dropBins
		m[b] += float64(out[b]) * inv
		if m[b] > dust {
			busy |= 1 << b
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
