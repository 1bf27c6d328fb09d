package design

import (
	"context"
	"math"
	"slices"

	q "leste/quantity"
)

// front is the trade-off of yearly cost against reserve: what members of the populations reach, and what the best of
// each concept reaches with more pressure, in proportion to what the assessment of that best found. Points that another
// one beats in both are left out.
func (s *search) front(ctx context.Context, found []Found) ([]Point, error) {
	var all []Point
	for i := range found {
		f := &found[i]
		if !f.Works && !f.May {
			continue
		}
		trust := 1.0
		if f.Sure {
			trust = f.trust
		}
		p, j := &s.state.Populations[f.concept], s.judges[f.concept]
		all = append(all, Point{p.Concept, f.Cost, f.Power, f.Reserve, f.Pressure})
		for k := 1; k < len(p.Members); k++ {
			if m := &p.Members[k]; m.feasible() {
				all = append(all, Point{p.Concept, m.Cost, q.Power(m.Power), m.Reserve * trust, q.Gauge(m.Pressure)})
			}
		}
		more, err := s.stronger(ctx, j, f)
		if err != nil {
			return nil, err
		}
		all = append(all, more...)
	}
	slices.SortStableFunc(all, func(a, b Point) int {
		switch {
		case a.Cost < b.Cost:
			return -1
		case a.Cost > b.Cost:
			return 1
		case a.Reserve > b.Reserve:
			return -1
		case a.Reserve < b.Reserve:
			return 1
		}
		return 0
	})
	const worth = 1.02 // more reserve than the point before
	var kept []Point
	best := 0.0
	for _, p := range all {
		if p.Reserve > best*worth {
			kept, best = append(kept, p), p.Reserve
		}
	}
	return kept, nil
}

// stronger are points of one station at higher plenum pressures, as far as the containers stand them.
func (s *search) stronger(ctx context.Context, j *judge, f *Found) ([]Point, error) {
	g, ind := j.concept.ground, &f.ind
	fine := *j
	fine.eye = eyeFine
	t := &trial{judge: &fine, a: j.concept.arrange(ind.X)}
	n := len(g.formats)
	t.looks, t.at, t.found = make([]*look, n), make([]float64, n), make([][]float64, n)
	limit := float64(g.sizes.Pressure[1])
	for k := range g.formats {
		if err := t.see(ctx, k, ind.Pressure); err != nil {
			return nil, err
		}
		limit = min(limit, t.looks[k].holds)
		if _, _, err := t.wetAt(ctx, k, ind.Pressure); err != nil {
			return nil, err
		}
	}
	trust := f.Reserve / t.leastReserve()
	const steps, most = 5, 2.5
	limit = min(limit, most*ind.Pressure)
	var out []Point
	for k := 1; k <= steps && limit > ind.Pressure; k++ {
		pressure := ind.Pressure * math.Pow(limit/ind.Pressure, float64(k)/steps)
		pressure = math.Floor(pressure/float64(g.sizes.PressureStep)) * float64(g.sizes.PressureStep)
		if pressure <= ind.Pressure {
			continue
		}
		for f := range g.formats {
			if _, _, err := t.wetAt(ctx, f, pressure); err != nil {
				return nil, err
			}
		}
		at := Individual{Pressure: pressure, Reserve: trust * t.leastReserve()}
		if err := t.pay(ctx, &at); err != nil {
			return nil, err
		}
		if !at.feasible() {
			break
		}
		out = append(out, Point{j.concept.name, at.Cost, q.Power(at.Power), at.Reserve, q.Gauge(pressure)})
	}
	return out, nil
}
