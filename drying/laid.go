package drying

import "sync"

// Laid is the water of a problem as it arrives, laid on the wall once for many: for problems that differ only in
// their passes, their machines and the factors on the air. What they work on is used again as well. It may be used
// from several goroutines at once.
type Laid struct {
	p     Problem // that it is laid for
	whole layer
	half  layer // of a container that is the same on both sides of the line
}

// A layer is a wall with its water, laid when the first problem asks for it.
type layer struct {
	once  sync.Once
	p     Problem
	flow  *flow     // only read; nil where there is none
	flows sync.Pool // used before
}

// Lay is for the water of problems like p.
func Lay(p *Problem) *Laid {
	l := &Laid{p: *p}
	l.p.Passes, l.p.Machines, l.p.Spreads, l.p.Laid = nil, nil, nil, nil
	return l
}

// serves says whether a problem's water arrives as it was laid.
func (l *Laid) serves(p *Problem) bool {
	if l == nil {
		return false
	}
	own := l.p.Settings
	own.Pressure, own.Shear = p.Settings.Pressure, p.Settings.Shear
	return l.p.Body == p.Body && l.p.Liquid == p.Liquid && l.p.Room == p.Room && l.p.Arrives == p.Arrives && own == p.Settings
}

// laid is the water of a problem as it arrives, laid anew where that has not been done.
func laid(p *Problem, o *TransportOptions) *flow {
	l := p.Laid
	if !l.serves(p) {
		return newFlow(p)
	}
	if bothSidesAlike(p, o) {
		if f := l.half.take(p, l.layHalf); f != nil {
			return f
		}
	}
	return l.whole.take(p, func(y *layer) {
		y.p = l.p
		y.flow = newFlow(&y.p)
	})
}

// layHalf lays the water on the left half of a container that has two such halves.
func (l *Laid) layHalf(y *layer) {
	if b := halved(l.p.Body); b != nil {
		y.p = l.p
		y.p.Body = b
		y.flow = newHalfFlow(&y.p, &l.p)
	}
}

// bothSidesAlike says whether the air of a problem is the same on both sides of the line, where no more is asked than the
// left half can tell.
func bothSidesAlike(p *Problem, o *TransportOptions) bool {
	if !o.Machines || o.Frames > 0 || len(o.FrameTimes) > 0 {
		return false
	}
	for i := range p.Passes {
		if r, ok := p.Passes[i].Air.(*Replay); !ok || !r.mirrored {
			return false
		}
	}
	return true
}

// take is the layer's water for a problem, nil where there is none.
func (y *layer) take(p *Problem, lay func(*layer)) *flow {
	y.once.Do(func() { lay(y) })
	if y.flow == nil {
		return nil
	}
	f, _ := y.flows.Get().(*flow)
	if f == nil {
		f = &flow{film: &film{}, drops: &drops{}, rims: &rims{}}
	}
	f.become(y.flow)
	own := *p
	own.Body = y.p.Body
	f.p, f.whole, f.layer = &own, p, y
	return f
}

// lift gives back what a problem's water was laid on, once nothing of it is asked for any more.
func (f *flow) lift() {
	if y := f.layer; y != nil {
		f.p, f.whole, f.layer = nil, nil, nil
		y.flows.Put(f)
	}
}

// become makes f what t is, but for what is only read, which both share, and what is empty between two steps. t is as
// newFlow made it.
func (f *flow) become(t *flow) {
	old := *f
	*f = *t
	f.film, f.drops, f.rims = old.film, old.drops, old.rims
	f.film.become(t.film)
	f.drops.become(t.drops)
	f.rims.become(t.rims, f)
	f.scratch, f.ways, f.sheets = old.scratch, old.ways, old.sheets
	f.age, f.first = like(old.age, t.age), like(old.first, t.first)
	f.crowds.cover = like(old.crowds.cover, t.crowds.cover)
	f.backS, f.backA, f.draws = like(old.backS, t.backS), like(old.backA, t.backA), like(old.draws, t.draws)
	f.fog, f.lost, f.thick, f.costs = like(old.fog, t.fog), like(old.lost, t.lost), like(old.thick, t.thick), like(old.costs, t.costs)
	f.filmCost, f.filmRate, f.dropRate = like(old.filmCost, t.filmCost), like(old.filmRate, t.filmRate), like(old.dropRate, t.dropRate)
	f.reservoir, f.recess = old.reservoir, old.recess
	if len(f.reservoir) != len(t.reservoir) || len(f.recess) != len(t.recess) {
		f.reservoir, f.recess = make([]reservoir, len(t.reservoir)), make([]recess, len(t.recess))
	}
	for i := range t.reservoir {
		r := &f.reservoir[i]
		pieces, film := like(r.pieces, t.reservoir[i].pieces), like(r.film, t.reservoir[i].film)
		*r = t.reservoir[i]
		r.pieces, r.film = pieces, film
	}
	for i := range t.recess {
		r := &f.recess[i]
		held, over := like(r.water, t.recess[i].water), r.over
		*r = t.recess[i]
		r.water, r.over = held, over
	}
}

func (f *film) become(t *film) {
	old := *f
	*f = *t
	f.h, f.next, f.hold = like(old.h, t.h), like(old.next, t.next), like(old.hold, t.hold)
	f.as, f.bs, f.cs = like(old.as, t.as), like(old.bs, t.bs), like(old.cs, t.cs)
	f.aa, f.ba, f.ca = like(old.aa, t.aa), like(old.ba, t.ba), like(old.ca, t.ca)
	f.live, f.liveNext = like(old.live, t.live), like(old.liveNext, t.liveNext)
	f.bare, f.bareNext = like(old.bare, t.bare), like(old.bareNext, t.bareNext)
}

func (d *drops) become(t *drops) {
	old := *d
	*d = *t
	d.stuck, d.moving, d.seen = like(old.stuck, t.stuck), like(old.moving, t.moving), like(old.seen, t.seen)
	d.held, d.busy, d.cols.bits = like(old.held, t.held), like(old.busy, t.busy), like(old.cols.bits, t.cols.bits)
	d.tauS, d.tauA, d.p, d.edge = like(old.tauS, t.tauS), like(old.tauA, t.tauA), like(old.p, t.p), like(old.edge, t.edge)
	if d.v, d.seams = old.v, old.seams; len(d.v) != len(t.v) {
		d.v, d.seams = make([]speeds, len(t.v)), newSeams(t.g)
	}
}

func (m *rims) become(t *rims, f *flow) {
	list := m.list
	*m = *t
	m.f, m.list = f, list
	if len(list) != len(t.list) {
		m.list = make([]rim, len(t.list))
	}
	for i := range t.list {
		e, from := &m.list[i], &t.list[i]
		*e = rim{row: from.row, ring: from.ring, bead: like(e.bead, from.bead), low: like(e.low, from.low), high: like(e.high, from.high)}
	}
}

// like is a copy of from in the place of to.
func like[T any](to, from []T) []T { return append(to[:0], from...) }

// sheet is one of the two containers that water of f is written on, dry but for its cells' film and drops.
func (f *flow) sheet(i int) *Water {
	w := f.sheets[i]
	if w == nil {
		f.sheets[i] = NewWater(f.whole, dropBins)
		return f.sheets[i]
	}
	clear(w.Trapped)
	clear(w.Pools)
	clear(w.Fog)
	return w
}
