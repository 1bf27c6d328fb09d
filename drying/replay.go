package drying

import (
	"context"
	"math"
	"sync"

	"leste/station"
)

// A Replay is the air of one pass at the positions where transport looks at it, kept: the water may be followed at
// several plenum pressures, and the air is by far the dearest of what they share. It may be used from several goroutines
// at once.
type Replay struct {
	Record station.Record // of the loads on the container

	air        *station.Exposer
	cols       int
	from, step float64
	kept       []gust // by position
	mirrored   bool   // it is the same on both sides of the line
	fall       float64
	narrow     bool // no position needs to be looked at to know how far the container moves between two looks

	eyes    sync.Pool  // of the air
	further sync.Mutex // guards what is looked at from other positions, once somebody asks
	probes  sighted
	apart   sighted
}

// A gust is the air on the wall at one position. Of values, only those of the rows it reaches may be kept; the first
// of them is that of cell base.
type gust struct {
	first, last         int // rows that it reaches
	base                int
	p, tauS, tauA, edge []float64
	press, shear        float64 // factors on what is kept
	sight               sight   // of what is kept
}

// gustOf is the whole of a field.
func gustOf(f *station.Field) gust {
	if f == nil {
		return gust{}
	}
	return gust{first: f.First, last: f.Last, p: f.P, tauS: f.TauS, tauA: f.TauA, edge: f.Ue, press: 1, shear: 1}
}

// clearlyNarrow is how many times shorter than need be the length over which the pressure falls must be, by the positions
// that are kept, for the container to move by a cell at a time without a closer look; those few that falls looks at do
// not find it twice as long.
const clearlyNarrow = 2

// NewReplay looks at a pass from where transport does and records the loads on the container. It stops with the
// context's error.
func NewReplay(ctx context.Context, e *station.Exposer, s *station.Surface, from, to float64) (*Replay, error) {
	r := &Replay{air: e, cols: s.Cols, from: from}
	if !(to > from) {
		return r, ctx.Err()
	}
	cell := typicalCell(s)
	n := max(1, int(math.Ceil((to-from)/frontStep(0, cell))))
	r.step = (to - from) / float64(n)
	r.kept = make([]gust, n)
	f := NewField(s)
	r.mirrored = s.Cols%2 == 0
	press, steep := 0.0, 0.0
	for k := range r.kept {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		x := from + r.step*(float64(k)+0.5)
		e.At(x, f)
		r.Record.Add(e, x, f)
		g := r.keep(f)
		press, steep = max(press, g.sight.peak), max(steep, g.sight.slope)
		r.kept[k] = g
		r.mirrored = r.mirrored && alike(f, s.Cols)
	}
	if steep > 0 {
		r.fall = press / steep
	}
	r.narrow = frontStep(clearlyNarrow*r.fall, cell) == frontStep(0, cell)
	return r, nil
}

// keep copies what the water feels of a field in the rows that the air reaches.
func (r *Replay) keep(f *station.Field) gust {
	g := gust{first: f.First, last: f.Last, base: f.First * r.cols, press: 1, shear: 1, sight: see(f, r.cols)}
	if f.First >= f.Last {
		return g
	}
	n := (f.Last - f.First) * r.cols
	values := make([]float64, 0, 4*n)
	for i, v := range [...][]float64{f.P, f.TauS, f.TauA, f.Ue} {
		values = append(values, v[g.base:g.base+n]...)
		*[...]*[]float64{&g.p, &g.tauS, &g.tauA, &g.edge}[i] = values[i*n : (i+1)*n : (i+1)*n]
	}
	return g
}

// sighted is the air at positions in even steps from the pass's first on.
type sighted struct {
	step  float64
	gusts []gust
}

// gusts are the air at n positions in even steps from base, nil where the pass does not begin there.
func (r *Replay) gusts(n int, base, step float64) []gust {
	if base != r.from {
		return nil
	}
	if step == r.step && n == len(r.kept) {
		return r.kept
	}
	return r.look(&r.apart, n, step, r.keep)
}

// probe is what is greatest in the air at n positions in even steps over the pass.
func (r *Replay) probe(n int, step float64) []gust {
	return r.look(&r.probes, n, step, func(f *station.Field) gust { return gust{sight: see(f, r.cols)} })
}

// look is the air at n positions in even steps, looked at where that has not been done last.
func (r *Replay) look(s *sighted, n int, step float64, keep func(f *station.Field) gust) []gust {
	r.further.Lock()
	defer r.further.Unlock()
	if step != s.step || n != len(s.gusts) {
		s.step, s.gusts = step, make([]gust, n)
		e, f := r.eye(), new(station.Field)
		for k := range s.gusts {
			e.At(r.from+step*(float64(k)+0.5), f)
			s.gusts[k] = keep(f)
		}
		r.eyes.Put(e)
	}
	return s.gusts
}

// eye is an exposer of the air that nobody else uses.
func (r *Replay) eye() *station.Exposer {
	if e, ok := r.eyes.Get().(*station.Exposer); ok {
		return e
	}
	return r.air.Clone()
}

// At writes into f what the air does with the container's axis at x.
func (r *Replay) At(x float64, f *station.Field) {
	e := r.eye()
	e.At(x, f)
	r.eyes.Put(e)
}

// Air is what is kept the air of.
func (r *Replay) Air() *station.Exposer { return r.air }

// Kept is the number of positions at which the air is kept.
func (r *Replay) Kept() int { return len(r.kept) }
