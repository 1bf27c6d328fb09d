package design

import (
	"context"
	"math"
	"slices"

	"leste/drying"
	"leste/station"
)

// A replay is the air of one pass at the positions where transport looks at it, kept: the water is followed at several
// plenum pressures, and the air is by far the dearest of what they share.
type replay struct {
	air    *station.Exposer
	cols   int
	kept   map[float64]rows // by position; only read once it is filled
	record station.Record
}

// rows are those of a field that are not zero.
type rows struct {
	first, last int
	values      []float64 // the seven quantities, one after the other
}

// newReplay looks at a pass from where transport does and records the loads on the container.
func newReplay(ctx context.Context, e *station.Exposer, s *station.Surface, from, to float64) (*replay, error) {
	r := &replay{air: e, cols: s.Cols, kept: map[float64]rows{}}
	if !(to > from) {
		return r, ctx.Err()
	}
	steps := slices.Sorted(slices.Values(s.StepS))
	cell := steps[len(steps)/2]
	n := max(1, int(math.Ceil((to-from)/cell)))
	step := (to - from) / float64(n)
	f := drying.NewField(s)
	for k := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		x := from + step*(float64(k)+0.5)
		e.At(x, f)
		r.record.Add(e, x, f)
		r.kept[x] = kept(f, s.Cols)
	}
	return r, nil
}

func kept(f *station.Field, cols int) rows {
	r := rows{first: f.First, last: f.Last}
	if f.First >= f.Last {
		return r
	}
	n := (f.Last - f.First) * cols
	r.values = make([]float64, 0, 7*n)
	for _, v := range quantities(f) {
		r.values = append(r.values, v[f.First*cols:f.Last*cols]...)
	}
	return r
}

// quantities are those of a field in the order in which they are kept.
func quantities(f *station.Field) [7][]float64 {
	return [7][]float64{f.P, f.TauS, f.TauA, f.GradS, f.GradA, f.Ue, f.Heat}
}

// At writes into f what the air does with the container's axis at x.
func (r *replay) At(x float64, f *station.Field) {
	k, ok := r.kept[x]
	if !ok {
		r.air.Clone().At(x, f)
		return
	}
	n := (k.last - k.first) * r.cols
	for i, v := range quantities(f) {
		if f.First < f.Last {
			clear(v[f.First*r.cols : f.Last*r.cols])
		}
		if n > 0 {
			copy(v[k.first*r.cols:], k.values[i*n:(i+1)*n])
		}
	}
	f.First, f.Last = k.first, k.last
}
