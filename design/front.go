package design

import (
	"context"
	"math"
	"slices"

	"leste/parallel"
	q "leste/quantity"
)

// front is the trade-off of yearly cost against reserve: what members of the populations reach, and what the best of
// each concept reaches with more pressure, in proportion to what the assessment of that best found. Points that another
// one beats in both, or that do not keep what is asked, are left out, and so are what was left early as far dearer and
// what would cost less than the cheapest that works.
func (s *search) front(ctx context.Context, found []Found) ([]Point, error) {
	const farDearer = 2.5 // than what works: what the search left early for that is no trade
	cheapest := math.Inf(1)
	for i := range found {
		if found[i].Works {
			cheapest = min(cheapest, found[i].Cost)
		}
	}
	each := make([][]Point, len(found))
	err := parallel.Each(s.options.Workers, len(found), func(i int) error {
		f := &found[i]
		if !f.Works && (!f.May || f.Cost > farDearer*cheapest) {
			return nil
		}
		if f.Whole { // its concept is among the others
			each[i] = []Point{f.point()}
			return nil
		}
		more, err := s.stronger(ctx, s.judges[f.concept], f)
		each[i] = slices.Concat([]Point{f.point()}, others(&s.state.Populations[f.concept], f), more)
		return err
	})
	if err != nil {
		return nil, err
	}
	all := slices.Concat(each...)
	// What the search alone sees for less than the cheapest that an assessment has found to work is no offer.
	if !math.IsInf(cheapest, 1) {
		all = slices.DeleteFunc(all, func(p Point) bool { return p.Cost < cheapest })
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
	return Unbeaten(all), nil
}

// Unbeaten are the points that no cheaper one has as much reserve as, up to the first with more than anybody asks for:
// how much that is the cells of the search do not tell, as what is nearly dry differs severalfold by them.
func Unbeaten(byCost []Point) []Point {
	const worth = 1.02 // more reserve than the point before
	var kept []Point
	best := 0.0
	for _, p := range byCost {
		if p.Reserve > best*worth && best < Plenty {
			kept, best = append(kept, p), p.Reserve
		}
	}
	return kept
}

// Plenty is a reserve beyond which a search does not tell how large it is.
const Plenty = 3.0

// point is a station in the trade-off.
func (f *Found) point() Point { return Point{f.Concept, f.Cost, f.Power, f.Reserve, f.Pressure} }

// others are the members of a population beside what is told of it. The same outlets at another pressure are not among
// them: an assessment has told which pressure they need, and what more of it brings is told by itself.
func others(p *Population, f *Found) []Point {
	trust := 1.0
	if f.Sure {
		trust = f.trust
	}
	var out []Point
	for i := range p.Members {
		m := &p.Members[i]
		reserve := m.Reserve * trust
		if m.feasible() && reserve >= 1 && !slices.Equal(m.X, f.ind.X) {
			out = append(out, Point{p.Concept, m.Cost, q.Power(m.Power), reserve, q.Gauge(m.Pressure)})
		}
	}
	return out
}

// stronger are points of one station at higher plenum pressures, as far as the containers stand them.
func (s *search) stronger(ctx context.Context, j *judge, f *Found) ([]Point, error) {
	g, ind := j.concept.ground, &f.ind
	fine := *j
	fine.eye = s.sureEye() // one that this search has sights of
	t := fine.trial(ind.X)
	limit := float64(g.sizes.Pressure[1])
	if err := t.seeAll(ctx, ind.Pressure); err != nil {
		return nil, err
	}
	for k := range g.formats {
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
