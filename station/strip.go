package station

import "math"

// A strip is a slot with its feet, seen from one position of the container.
type strip struct {
	s         *source
	o         Vec // lip's middle
	feet      []foot
	z0        float64 // of the first foot
	step      float64
	cellsWide float64 // the widest gap between two cells that are not thinned out [m]
}

// How a cell sees a strip.
const (
	unseen  = iota
	nearby  // about the impingement line, or beside the jet: evaluated on its own
	farther // under the wall jet alone, which varies over distances much longer than a cell
)

const (
	farFrom = 0.65 // X beyond which nothing is left of the impact pressure: exp(-38.5 0.65^2) = 1e-7
	wideGap = 0.2  // widest gap between evaluated cells, over the distance of the jet
)

// see evaluates one cell. The cell reads the foot at its own place along the slot; on the wall the pressure
// follows the way from the stagnation line, the shear the boundary layer and then the wall jet; where the
// axis grazes or misses, the free jet at the cell counts.
func (p *strip) see(c *cell, sum *touch) int {
	d := c.pos.sub(p.o)
	u := (d.dot(p.s.l) - p.z0) / p.step
	last := len(p.feet) - 1
	if u < 0 || u > float64(last) {
		return unseen
	}
	j := min(int(u), last-1)
	fr := u - float64(j)
	p0, p1 := &p.feet[j], &p.feet[j+1]
	w := p0.weight + fr*(p1.weight-p0.weight)
	free := p0.free + fr*(p1.free-p0.free)
	if w <= 0 && free <= 0 {
		return unseen
	}
	g, beside := p0, fr
	if fr > 0.5 {
		g, beside = p1, fr-1
	}
	seen := unseen
	if w > 0 {
		if cc := g.n.X*c.normal.X + g.n.Y*c.normal.Y + g.n.Z*c.normal.Z; cc > cosSepTo {
			if x := wallSlot(g, p0, p1, fr, beside*p.step, c, cc, w, sum); x >= 0 {
				seen = nearby
				if x > farFrom && w >= 1 && cc > cosSepFrom && p.even(u, g.inv) {
					seen = farther
				}
			}
		}
	}
	if free > 0 {
		if b := -p.s.a.dot(c.normal); b > 0 && p.s.passSlot(d, c, b, free, g.clear, sum) {
			seen = nearby
		}
	}
	if p.s.smeared && seen != unseen {
		sum.thin(p0.mix + fr*(p1.mix-p0.mix))
	}
	return seen
}

// even reports whether the jets at place u are those of a long slot, away from its ends, and far enough away to vary
// little from cell to cell; inv is 1 over the distance.
func (p *strip) even(u, inv float64) bool {
	const ends = 0.3 // of the distance
	in := p.s.length/2 - math.Abs(p.z0+u*p.step)
	return in*inv > ends && p.cellsWide*inv < wideGap && !p.s.smeared
}

// rowSeen holds what was seen of one row of cells.
type rowSeen struct {
	touch []touch
	seen  []uint8
}

// sweep adds a strip to the field. Under the wall jet alone only every second row and every second column is
// evaluated and the cells between them are interpolated; a test holds them against all cells evaluated.
func (e *Exposer) sweep(p *strip, f *Field) {
	rows := e.body.Surface.Rows
	above, below := &e.lines[0], &e.lines[1]
	done := -1 // row held by below
	for row := e.firstRow(); row < rows; row++ {
		if done != row {
			e.seeRow(p, row, below)
		}
		e.store(p.s, row, below, f)
		done = row
		if !e.thinRow[row+1] {
			continue
		}
		e.seeRow(p, row+2, above)
		e.between(p, row+1, below, above, f)
		above, below = below, above
		done = row + 2
		row++
	}
}

// firstRow is the first row that air can reach.
func (e *Exposer) firstRow() int {
	if e.scene.Belt {
		return e.ring
	}
	return 0
}

// seeRow evaluates a row.
func (e *Exposer) seeRow(p *strip, row int, l *rowSeen) {
	cols := e.body.Surface.Cols
	cells := e.cells[row*cols : (row+1)*cols]
	look := func(c int) {
		l.touch[c] = touch{}
		l.seen[c] = uint8(p.see(&cells[c], &l.touch[c])) //nolint:gosec // one of three
	}
	if e.exact {
		for c := range cells {
			look(c)
		}
		return
	}
	// Columns 1 and 2 of every four: the pattern is its own mirror image.
	for c := 1; c < cols; c += 4 {
		look(c)
		look(c + 1)
	}
	for c := 3; c < cols; c += 4 {
		a, b := c-1, c+2
		if b >= cols {
			b -= cols
		}
		if l.seen[a] != farther || l.seen[b] != farther {
			look(c)
			if c+1 < cols {
				look(c + 1)
			} else {
				look(0)
			}
			continue
		}
		next := c + 1
		if next == cols {
			next = 0
		}
		l.touch[c].mix(&l.touch[a], &l.touch[b], 1./3)
		l.touch[next].mix(&l.touch[a], &l.touch[b], 2./3)
		l.seen[c], l.seen[next] = farther, farther
	}
}

// between stores the row between two that were evaluated.
func (e *Exposer) between(p *strip, row int, a, b *rowSeen, f *Field) {
	cols := e.body.Surface.Cols
	cells := e.cells[row*cols : (row+1)*cols]
	any := false
	for c := range cells {
		var t touch
		if a.seen[c] == farther && b.seen[c] == farther && !e.exact {
			t.mix(&a.touch[c], &b.touch[c], 0.5)
		} else if p.see(&cells[c], &t) == unseen {
			continue
		}
		any = true
		e.put(p.s, row, c, &t, f)
	}
	if any {
		e.touched.add(row)
	}
}

// store adds a row that was evaluated to the field.
func (e *Exposer) store(s *source, row int, l *rowSeen, f *Field) {
	any := false
	for c := range l.seen {
		if l.seen[c] != unseen {
			any = true
			t := l.touch[c]
			e.put(s, row, c, &t, f)
		}
	}
	if any {
		e.touched.add(row)
	}
}

// put adds what one cell sees to the field, for the twin of a paired source as well.
func (e *Exposer) put(s *source, row, col int, t *touch, f *Field) {
	cols := e.body.Surface.Cols
	t.store(f, row*cols+col)
	if s.paired {
		t.tauA, t.gradA = -t.tauA, -t.gradA
		t.store(f, (row+1)*cols-1-col)
	}
}

// mix sets t between a and b at f.
func (t *touch) mix(a, b *touch, f float64) {
	g := 1 - f
	*t = touch{
		tauS: g*a.tauS + f*b.tauS, tauA: g*a.tauA + f*b.tauA, ue: g*a.ue + f*b.ue, heat: g*a.heat + f*b.heat,
	}
}
