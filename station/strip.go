package station

import "math"

// A strip is a slot with its feet, seen from one position of the container.
type strip struct {
	s          *source
	ol, oa, oc float64 // of the lip's middle, as views have them
	feet       []foot
	smooth     []bool  // from a foot to the next the wall is one
	z0         float64 // of the first foot
	step       float64 // between places
	perStep    float64
	places     []geometry // between feet, as far as they are made
	made       []bool
	cellsWide  float64 // the widest gap between two cells that are not thinned out [m]
	thins      bool    // there may be cells that are far enough from the jets to be thinned out
}

// refined is into how many parts the way between two feet is cut: cells read directions from the nearest place, and near
// the horizon of a round wall these turn by degrees per millimetre.
const refined = 4

// lay makes room for n feet of a source with its lip at o, from z0 on.
func (p *strip) lay(s *source, o Vec, z0, step float64, n int) {
	if cap(p.feet) < n {
		room := max(n, 256)
		p.feet, p.smooth = make([]foot, room), make([]bool, room)
		p.places, p.made = make([]geometry, room*refined), make([]bool, room*refined)
	}
	p.s, p.feet, p.smooth = s, p.feet[:n], p.smooth[:n]
	p.ol, p.oa, p.oc = o.dot(s.l), o.dot(s.a), o.dot(s.across)
	p.z0, p.step, p.perStep = z0, step/refined, refined/step
	clear(p.made[:n*refined])
}

// smoothen finds where the wall is one from a foot to the next. Between two walls at different depths, or a wall and none,
// nothing lies in the middle.
func (p *strip) smoothen() {
	p.thins = false
	for i := range p.feet {
		f := &p.feet[i]
		p.thins = p.thins || f.weight >= 1 && p.cellsWide*f.near < wideGap && !p.s.smeared
	}
	for i := range len(p.feet) - 1 {
		a, b := &p.feet[i], &p.feet[i+1]
		p.smooth[i] = a.hit && b.hit && a.n.dot(b.n) > 0.5 && math.Abs(a.inv-b.inv) < 0.01*a.inv*b.inv
	}
}

// place is the geometry at a place, of which there are refined from a foot to the next.
func (p *strip) place(j int) *geometry {
	g := &p.places[j]
	if !p.made[j] {
		p.made[j] = true
		i, k := uint(j)/refined, uint(j)%refined //nolint:gosec // it is not negative
		near := &p.feet[i+k/(refined/2+1)].geometry
		if k > 0 && p.smooth[i] {
			g.blend(&p.feet[i].geometry, &p.feet[i+1].geometry, float64(k)/refined)
			g.clear = near.clear
		} else {
			*g = *near
		}
	}
	return g
}

// blend sets a geometry between two others.
func (o *geometry) blend(a, b *geometry, f float64) {
	g := 1 - f
	mix := func(u, v *Vec) Vec { return Vec{g*u.X + f*v.X, g*u.Y + f*v.Y, g*u.Z + f*v.Z} }
	o.at, o.n = mix(&a.at, &b.at), mix(&a.n, &b.n).unit()
	l := mix(&a.l, &b.l)
	o.l = l.along(-l.dot(o.n), o.n).unit()
	o.t = o.n.cross(o.l)
	if o.t.dot(a.t) < 0 {
		o.t = o.t.scale(-1)
	}
	o.al = g*a.al + f*b.al
	o.square, o.perL = math.Sqrt(max(0, 1-o.al*o.al)), g*a.perL+f*b.perL
	o.near = g*a.near + f*b.near
}

// How a cell sees a strip.
const (
	unseen  uint8 = iota
	nearby        // about the impingement line, or beside the jet: evaluated on its own
	farther       // under the wall jet alone, which varies over distances much longer than a cell
)

const (
	farFrom = 0.65 // X beyond which nothing is left of the impact pressure: exp(-38.5 0.65^2) = 1e-7
	wideGap = 0.2  // widest gap between evaluated cells, over the distance of the jet
)

// see evaluates one cell. The cell reads the foot at its own place along the slot; on the wall the pressure
// follows the way from the stagnation line, the shear the boundary layer and then the wall jet; where the
// axis grazes or misses, the free jet at the cell counts.
func (p *strip) see(v *view, c *cell, sum *touch) uint8 {
	u := (v.l - p.ol - p.z0) * p.perStep
	last := (len(p.feet) - 1) * refined
	if u < 0 || u > float64(last) {
		return unseen
	}
	j := min(int(u), last-1)
	fr := u - float64(j)
	i, k := uint(j)/refined, uint(j)%refined //nolint:gosec // it is not negative
	f0, f1 := &p.feet[i], &p.feet[i+1]
	f := (float64(k) + fr) / refined
	w := f0.weight + f*(f1.weight-f0.weight)
	free := f0.free + f*(f1.free-f0.free)
	if w <= 0 && free <= 0 || p.s.smeared && f0.mix == 0 && f1.mix == 0 {
		return unseen
	}
	if !p.smooth[i] { // the numbers change as the geometry does, from the nearer foot's to the other's in the middle
		switch {
		case k < refined/2:
			f = 0
		case k > refined/2:
			f = 1
		default:
			f = fr
		}
	}
	j = int(u + 0.5)
	beside := u - float64(j)
	g := p.place(j)
	seen := unseen
	if w > 0 {
		if cc := g.n.X*c.normal.X + g.n.Y*c.normal.Y + g.n.Z*c.normal.Z; cc > cosSepTo {
			if x := wallSlot(g, f0, f1, f, beside*p.step, c, cc, w, sum); x >= 0 {
				seen = nearby
				if p.thins && x > farFrom && w >= 1 && cc > cosSepFrom && p.even(u, g.near) {
					seen = farther
				}
			}
		}
	}
	if free > 0 && v.b > 0 && p.pass(v, c, free, g.clear, sum) {
		seen = nearby
	}
	if p.s.smeared && seen != unseen {
		sum.thin(f0.mix + f*(f1.mix-f0.mix))
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

// rowSeen holds what was seen of one row of cells; of cells that saw nothing it is zero.
type rowSeen struct {
	touch []touch
	seen  []uint8
}

// clear forgets what was seen.
func (l *rowSeen) clear() {
	clear(l.touch)
	clear(l.seen)
}

// sweep adds a strip to the field. Under the wall jet alone only every second row and every second column is
// evaluated and the cells between them are interpolated; a test holds them against all cells evaluated.
func (e *Exposer) sweep(p *strip, f *Field) {
	rows := e.body.Surface.Rows
	above, middle, below := &e.lines[0], &e.lines[1], &e.lines[2]
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
		e.between(p, row+1, below, above, middle)
		e.store(p.s, row+1, middle, f)
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
	views := p.s.aspect.views[row*cols : (row+1)*cols]
	l.clear()
	look := func(c int) {
		l.seen[c] = p.see(&views[c], &cells[c], &l.touch[c])
	}
	if e.exact || !p.thins {
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
		next := c + 1
		if next == cols {
			next = 0
		}
		if l.seen[a] != farther || l.seen[b] != farther {
			look(c)
			look(next)
			continue
		}
		l.touch[c].mix(&l.touch[a], &l.touch[b], 1./3)
		l.touch[next].mix(&l.touch[a], &l.touch[b], 2./3)
		l.seen[c], l.seen[next] = farther, farther
	}
}

// between evaluates the row between two that were evaluated.
func (e *Exposer) between(p *strip, row int, a, b, l *rowSeen) {
	cols := e.body.Surface.Cols
	cells := e.cells[row*cols : (row+1)*cols]
	views := p.s.aspect.views[row*cols : (row+1)*cols]
	l.clear()
	for c := range cells {
		if a.seen[c] == farther && b.seen[c] == farther && !e.exact {
			l.touch[c].mix(&a.touch[c], &b.touch[c], 0.5)
			l.seen[c] = farther
		} else {
			l.seen[c] = p.see(&views[c], &cells[c], &l.touch[c])
		}
	}
}

// store adds a row that was evaluated to the field: pressures and shears add up, of speeds and heat the largest counts.
// A source that stands for its twin as well is added from both sides at once.
func (e *Exposer) store(s *source, row int, l *rowSeen, f *Field) {
	cols := e.body.Surface.Cols
	from, to := row*cols, (row+1)*cols
	p, tauS, tauA := f.P[from:to], f.TauS[from:to], f.TauA[from:to]
	gradS, gradA := f.GradS[from:to], f.GradA[from:to]
	ue, heat := f.Ue[from:to], f.Heat[from:to]
	any := false
	add := func(c int, t *touch) {
		p[c] += t.p
		tauS[c] += t.tauS
		tauA[c] += t.tauA
		gradS[c] += t.gradS
		gradA[c] += t.gradA
		ue[c] = max(ue[c], t.ue)
		heat[c] = max(heat[c], t.heat)
	}
	if !s.paired {
		for c := range l.seen {
			if l.seen[c] != unseen {
				any = true
				add(c, &l.touch[c])
			}
		}
	} else {
		for c := range cols / 2 {
			m := cols - 1 - c
			if l.seen[c] == unseen && l.seen[m] == unseen {
				continue
			}
			any = true
			t := l.touch[c]
			t.add(&l.touch[m], -1)
			add(c, &t)
			t.tauA, t.gradA = -t.tauA, -t.gradA
			add(m, &t)
		}
	}
	if any {
		e.touched.add(row)
	}
}

// add adds what o does to what t does; with a way of -1 o is seen in a mirror.
func (t *touch) add(o *touch, way float64) {
	t.p += o.p
	t.tauS += o.tauS
	t.tauA += way * o.tauA
	t.gradS += o.gradS
	t.gradA += way * o.gradA
	t.ue = max(t.ue, o.ue)
	t.heat = max(t.heat, o.heat)
}

// mix sets t between a and b at f.
func (t *touch) mix(a, b *touch, f float64) {
	g := 1 - f
	*t = touch{
		tauS: g*a.tauS + f*b.tauS, tauA: g*a.tauA + f*b.tauA, ue: g*a.ue + f*b.ue, heat: g*a.heat + f*b.heat,
	}
}
