package design

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"leste/parallel"
)

// Work of one proposal on a model.
const (
	starts = 4   // best samples that it starts from
	climbs = 140 // moves tried from each
)

// propose finds the best candidate that a model knows of, from some to begin with, as far as it hopes: moves of one to
// three coordinates, by large and by small steps, kept where they are better. A rule about what is taken already comes
// with it.
func (m *model) propose(from []forecast, hope float64, active []int, rng *rand.Rand, taken func(x []float64) bool) (best forecast, ok bool) {
	c := m.judge.concept
	var found []forecast
	for _, f := range from {
		at := m.forecast(f.x, f.pressure, hope)
		trail := []forecast{at}
		moves := climbs
		if hope > 0 {
			moves /= 2
		}
		for range moves {
			now := m.forecast(c.move(at.x, active, rng), at.pressure, hope)
			if now.score < at.score {
				at = now
				trail = append(trail, at)
			}
		}
		found = append(found, trail[max(0, len(trail)-6):]...)
	}
	slices.SortStableFunc(found, byScore)
	for i := range found {
		if f := &found[i]; f.score < misfits && !taken(f.x) && c.layable(f.x, f.pressure) {
			return *f, true
		}
	}
	// Everything near the best is taken: a little beside it.
	const tries = 40
	for i := 0; i < tries && len(found) > 0; i++ {
		f := m.forecast(c.move(found[0].x, active, rng), found[0].pressure, hope)
		if f.score < misfits && !taken(f.x) && c.layable(f.x, f.pressure) {
			return f, true
		}
	}
	return best, false
}

// hopes are by how many standard deviations the candidates that are looked at together may turn out better than told: the
// first is the best as told, the others try where little is known. For the last of the rough eye's sizes and one more
// variable are drawn: each size, and either way of sloping an outlet, leads to a best of its own, and a model that has seen
// one alone knows little of the others.
var hopes = []float64{0, 0.5, 1, 1}

// caution is by how many standard deviations the water is thought wetter than told where the best is chosen: of many
// that are told about, the best is likelier to be told too well than not.
const caution = 0.5

// unlike is how far from what the same eye has seen a candidate is, in one variable at least, over its range: cells err
// alike at neighbours, which would only be believed more for being seen again.
const unlike = 0.04

// alike says whether two points are no farther apart than that in any variable.
func alike(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > unlike {
			return false
		}
	}
	return true
}

// draw sets every variable that comes in sizes, and another one, to any of their values, in all of some forecasts, and
// returns what is left to choose.
func (m *model) draw(from []forecast, active []int, rng *rand.Rand) []int {
	c := m.judge.concept
	var rest []int
	drawn := map[int]float64{}
	another := active[rng.IntN(len(active))]
	for _, k := range active {
		if len(c.variables[k].Sizes) > 0 || k == another {
			drawn[k] = rng.Float64()
			continue
		}
		rest = append(rest, k)
	}
	for i := range from {
		from[i].x = slices.Clone(from[i].x)
		for k, x := range drawn {
			from[i].x[k] = x
		}
	}
	if len(rest) == 0 {
		return active
	}
	return rest
}

// rounds looks at candidates that the model of a concept proposes, a few at once, and learns from each few.
func (s *search) rounds(ctx context.Context, p *Population, j *judge, n int) error {
	c := j.concept
	if len(c.active(true)) == 0 {
		return nil
	}
	rough := j.rough()
	for range n {
		const renew = 4
		m := j.model(p, p.Round%renew == 0, s.options.Workers)
		list := s.proposals(m, p, rough)
		if len(list) == 0 {
			return nil
		}
		if err := s.probeAll(ctx, p, j, list); err != nil {
			return err
		}
		p.Round++
	}
	return nil
}

// proposals are what a model would look at next, one for each hope.
func (s *search) proposals(m *model, p *Population, rough bool) []probe {
	wander := 0
	if rough {
		wander = wandering
	}
	c := m.judge.concept
	taken := p.looked(c, rough)
	// What is next to a place that is known tells little more: cells err alike there.
	near := func(x []float64) bool {
		if taken[c.named(x)] {
			return true
		}
		return slices.ContainsFunc(p.Samples, func(k Sample) bool {
			if k.Rough && !rough {
				return false
			}
			return alike(x, k.X)
		})
	}
	told := m.tell(p)
	found := make([]forecast, len(hopes))
	ok := make([]bool, len(hopes))
	_ = parallel.Each(s.options.Workers, len(hopes), func(i int) error { // nothing in it fails
		rng := random(s.options.Seed, p.Concept, "propose", p.Round, i)
		from, active := m.starts(told, wander, hopes[i], rng), c.active(true)
		if rough && i == len(hopes)-1 {
			active = m.draw(from, active, rng)
		}
		found[i], ok[i] = m.propose(from, hopes[i], active, rng, near)
		return nil
	})
	var list []probe
	for i := range found {
		if !ok[i] || taken[c.named(found[i].x)] { // two hopes met
			continue
		}
		taken[c.named(found[i].x)] = true
		list = append(list, found[i].probe(told))
	}
	return list
}

// probe is what is told of a candidate to be looked at; a format that takes far more air than would be worth it beside the
// best of what is known ends the look.
func (f *forecast) probe(told []forecast) probe {
	out := probe{x: f.x, pressure: f.pressure, order: byNeed(f.needs)}
	if len(told) > 0 && told[0].score < unmet && f.score < unmet {
		const dearer = 0.4 // in the logarithm of cost
		out.most = f.paid * math.Exp((told[0].score+dearer-f.score)/powerExponent)
	}
	return out
}

// looked are the names of what was looked at, where the rough eye is not enough by a surer one.
func (p *Population) looked(c *concept, rough bool) map[string]bool {
	names := map[string]bool{}
	for i := range p.Samples {
		if rough || !p.Samples[i].Rough {
			names[c.named(p.Samples[i].X)] = true
		}
	}
	return names
}

// resize looks at the best of a concept with the opening and the spacing of each group a size larger and smaller, both of
// them, and the rest as the model has it best for those: what is best in the rest goes with them, so that a model alone is
// slow to leave sizes that it has begun with.
func (s *search) resize(ctx context.Context, p *Population, j *judge) error {
	c := j.concept
	m := j.model(p, true, s.options.Workers)
	told := m.tell(p)
	if len(told) == 0 {
		return nil
	}
	known := p.looked(c, j.rough())
	taken := func(x []float64) bool { return known[c.named(x)] }
	var rest []int
	for _, k := range c.active(true) {
		if len(c.variables[k].Sizes) == 0 {
			rest = append(rest, k)
		}
	}
	others := c.resized(told[0].x)
	found, ok := make([]forecast, len(others)), make([]bool, len(others))
	_ = parallel.Each(s.options.Workers, len(others), func(i int) error { // nothing in it fails
		rng := random(s.options.Seed, p.Concept, "resize", p.Round, i)
		at := m.forecast(others[i], told[0].pressure, 0)
		if len(rest) == 0 {
			found[i], ok[i] = at, at.score < misfits && !taken(at.x)
			return nil
		}
		found[i], ok[i] = m.propose([]forecast{at}, 0, rest, rng, taken)
		return nil
	})
	var list []probe
	for i := range found {
		if ok[i] {
			list = append(list, found[i].probe(told))
		}
	}
	p.Round++
	return s.probeAll(ctx, p, j, list)
}

// resized are the neighbours of a point in the sizes of each of its groups; groups that share theirs are one.
func (c *concept) resized(x []float64) (all [][]float64) {
	done := map[int]bool{}
	for i := range c.groups {
		var sizes []int
		for _, of := range [3]coordinate{c.groups[i].gap, c.groups[i].bore, c.groups[i].spacing} {
			if k := of.variable; k >= 0 && len(c.variables[k].Sizes) > 1 && !done[k] {
				sizes, done[k] = append(sizes, k), true
			}
		}
		near := [][]float64{x}
		for _, k := range sizes {
			for _, y := range slices.Clone(near) {
				for _, by := range [2]float64{-1, 1} {
					z := slices.Clone(y)
					if z[k] += by * c.variables[k].stride(); z[k] >= 0 && z[k] <= 1 {
						near = append(near, z)
					}
				}
			}
		}
		all = append(all, near[1:]...)
	}
	return all
}

// starts are where the best is looked for: the best samples, and the best of points anywhere.
func (m *model) starts(told []forecast, wander int, hope float64, rng *rand.Rand) []forecast {
	out := slices.Clone(told[:min(starts, len(told))])
	c := m.judge.concept
	if len(out) == 0 {
		out = append(out, m.forecast(c.rule(), startPressure, 0))
	}
	active := c.active(true)
	var anywhere []forecast
	for range wander {
		x := c.rule()
		for _, k := range active {
			x[k] = rng.Float64()
		}
		anywhere = append(anywhere, m.forecast(x, out[0].pressure, hope))
	}
	slices.SortStableFunc(anywhere, byScore)
	return append(out, anywhere[:min(starts/2, len(anywhere))]...)
}

// wandering is the number of points anywhere that are told while searching wide.
const wandering = 200

// tell forecasts the samples of a population, the best first.
func (m *model) tell(p *Population) []forecast {
	var told []forecast
	seen := map[string]bool{}
	for i := range p.Samples {
		name := m.judge.concept.named(p.Samples[i].X)
		if seen[name] {
			continue
		}
		seen[name] = true
		told = append(told, m.forecast(p.Samples[i].X, p.Samples[i].Pressure, 0))
	}
	slices.SortStableFunc(told, byScore)
	return told
}

// byScore puts the best forecast first.
func byScore(a, b forecast) int { return cmp.Compare(a.score, b.score) }

// byNeed are the formats, the one that decides first.
func byNeed(needs []float64) []int {
	order := make([]int, len(needs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case needs[a] > needs[b]:
			return -1
		case needs[a] < needs[b]:
			return 1
		}
		return 0
	})
	return order
}
