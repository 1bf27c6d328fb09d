package drying

import (
	"context"
	"slices"

	"leste/station"
)

// A Coarser follows problems on a grid of which each cell is up to two by two of theirs, at about a sixth of the cost.
// Rows of different zones, on two sides of a rim or of a pool's edge stay apart. The problems have the body and the
// passes' air of the one that it was made for; what it has seen of the air from one position it does not look at
// again. It may be used from several goroutines at once.
type Coarser struct {
	body station.Body
	air  []*coarseAir // by pass
}

// NewCoarser makes a Coarser for problems like p. It uses the air of p's passes: nobody else may while it works.
func NewCoarser(p *Problem) *Coarser {
	c := newCoarse(p.Body)
	k := &Coarser{body: *p.Body}
	k.body.Surface = c.surface
	k.body.Crevices = slices.Clone(k.body.Crevices)
	for i := range k.body.Crevices {
		k.body.Crevices[i].Row = c.rowOf[k.body.Crevices[i].Row]
	}
	k.body.Pools = slices.Clone(k.body.Pools)
	for i := range k.body.Pools {
		rows := &k.body.Pools[i].Rows
		rows[0], rows[1] = c.rowOf[rows[0]], c.rowOf[rows[1]-1]+1
	}
	for i := range p.Passes {
		k.air = append(k.air, &coarseAir{c: c, fine: p.Passes[i].Air, field: NewField(p.Body.Surface), seen: map[float64]*station.Field{}})
	}
	return k
}

// problem is p on the coarse grid.
func (k *Coarser) problem(p *Problem) *Problem {
	body := k.body
	q := *p
	q.Body = &body
	q.Passes = slices.Clone(p.Passes)
	for i := range q.Passes {
		q.Passes[i].Seen = nil
		q.Passes[i].Air = k.air[i]
	}
	return &q
}

// Together is TransportTogether on the coarse grid. Bands are those of the problems' Spreads, none where they are nil.
func (k *Coarser) Together(ctx context.Context, problems []*Problem, workers int) ([]Outcome, error) {
	on := make([]*Problem, len(problems))
	for i, p := range problems {
		if err := p.Check(); err != nil {
			return nil, err
		}
		on[i] = k.problem(p)
	}
	all, err := followTogether(ctx, on, TransportOptions{Workers: workers})
	if err != nil {
		return nil, err
	}
	for i, p := range problems {
		if p.Spreads != nil {
			p.Spreads.Widen(p, &all[i])
		}
	}
	return all, nil
}

// Small amounts below which two grids need not agree on what is left: their ratio tells nothing there.
const (
	littleWater  = 1e-6   // kg
	littleDrop   = 0.2e-3 // m
	littleNumber = 1e-3   // drops on a container
)

// MovedBy is an outcome of a coarse grid moved by what a fine one changed in a like case, of which both outcomes are
// given: water, largest drops and their numbers go with the ratios of that case, zone by zone and machine by machine.
// The three have the same machines and zones.
func (o Outcome) MovedBy(fine, coarse *Outcome) Outcome {
	o.At = slices.Clone(o.At)
	for i := range o.At {
		o.At[i] = o.At[i].movedBy(&fine.At[i], &coarse.At[i])
	}
	o.After = o.After.movedBy(&fine.After, &coarse.After)
	return o
}

func (w MachineWater) movedBy(fine, coarse *MachineWater) MachineWater {
	w.Zones = slices.Clone(w.Zones)
	before, after := 0.0, 0.0
	for i := range w.Zones {
		z, f, c := &w.Zones[i], &fine.Zones[i], &coarse.Zones[i]
		before += z.Left.Likely
		ratio := moved(f.Left.Likely, c.Left.Likely, littleWater)
		for _, part := range []*float64{&z.Film, &z.Drops, &z.Trapped, &z.Pool, &z.Condensed} {
			*part *= ratio
		}
		z.Left = scaled(z.Left, ratio)
		z.Largest = scaled(z.Largest, moved(f.Largest.Likely, c.Largest.Likely, littleDrop))
		z.Count = slices.Clone(z.Count)
		for j := range z.Count {
			n, ratio := &z.Count[j], moved(f.Count[j].Number, c.Count[j].Number, littleNumber)
			n.Number, n.Low, n.High = n.Number*ratio, n.Low*ratio, n.High*ratio
		}
		after += z.Left.Likely
	}
	if before > 0 {
		w.Total = scaled(w.Total, after/before)
	}
	return w
}

// moved is the ratio of two amounts, near 1 where both are little.
func moved(fine, coarse, little float64) float64 { return (fine + little) / (coarse + little) }
