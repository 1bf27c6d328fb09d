package drying

import (
	"context"
	"math"

	"leste/station"
)

// A Replay is the air of one pass at the positions where transport looks at it, kept: the water may be followed at
// several plenum pressures, and the air is by far the dearest of what they share. It is only read once it is made.
type Replay struct {
	Record station.Record // of the loads on the container

	air        *station.Exposer
	cols       int
	from, step float64
	kept       []gust // by position
	mirrored   bool   // it is the same on both sides of the line
	fall       float64
	narrow     bool // no position needs to be looked at to know how far the container moves between two looks
}

// A gust is the air on the wall at one position. Of values, only those of the rows it reaches may be kept; the first
// of them is that of cell base.
type gust struct {
	first, last   int // rows that it reaches
	base          int
	p, tauS, tauA []float64
	edge          []float64
	press, shear  float64 // factors on what is kept
	sight         sight   // of what is kept
	gradS, gradA  []float64
	heat          []float64
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
		g.sight = see(f, s.Cols)
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

// keep copies what a field has in the rows that the air reaches.
func (r *Replay) keep(f *station.Field) gust {
	g := gust{first: f.First, last: f.Last, base: f.First * r.cols, press: 1, shear: 1}
	if f.First >= f.Last {
		return g
	}
	n := (f.Last - f.First) * r.cols
	values := make([]float64, 0, 7*n)
	for i, v := range [...][]float64{f.P, f.TauS, f.TauA, f.GradS, f.GradA, f.Ue, f.Heat} {
		values = append(values, v[g.base:g.base+n]...)
		*[...]*[]float64{&g.p, &g.tauS, &g.tauA, &g.gradS, &g.gradA, &g.edge, &g.heat}[i] = values[i*n : (i+1)*n : (i+1)*n]
	}
	return g
}

// At writes into f what the air does with the container's axis at x.
func (r *Replay) At(x float64, f *station.Field) {
	if k := int((x - r.from) / r.step); k >= 0 && k < len(r.kept) && r.from+r.step*(float64(k)+0.5) == x {
		r.kept[k].fill(f, r.cols)
		return
	}
	r.air.Clone().At(x, f)
}

// fill writes what is kept into a field.
func (g *gust) fill(f *station.Field, cols int) {
	for i, to := range [...][]float64{f.P, f.TauS, f.TauA, f.GradS, f.GradA, f.Ue, f.Heat} {
		if f.First < f.Last {
			clear(to[f.First*cols : f.Last*cols])
		}
		copy(to[g.base:], [...][]float64{g.p, g.tauS, g.tauA, g.gradS, g.gradA, g.edge, g.heat}[i])
	}
	f.First, f.Last = g.first, g.last
}

// Air is what is kept the air of.
func (r *Replay) Air() *station.Exposer { return r.air }

// Kept is the number of positions at which the air is kept.
func (r *Replay) Kept() int { return len(r.kept) }
