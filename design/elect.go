package design

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	leste "leste"
	"leste/job"
	"leste/parallel"
	"leste/station"
)

// elect judges what the model of a concept holds for best, and those of its members that were judged by the same eye.
// The best of them come first.
func (s *search) elect(ctx context.Context, p *Population, j *judge, n int) error {
	c := j.concept
	var list []work
	if len(c.active(true)) == 0 {
		list = []work{{x: c.rule(), guess: startPressure}}
	} else {
		m := j.model(p, true, s.options.Workers)
		told := m.tell(p)
		from := m.starts(told, 0, 0, nil)
		taken := map[string]bool{}
		take := func(f forecast) {
			taken[c.named(f.x)] = true
			list = append(list, work{x: f.x, guess: f.pressure})
		}
		for _, best := range m.safest(told, 1) {
			take(best)
		}
		for i := len(list); i < n; i++ {
			rng := random(s.options.Seed, p.Concept, "elect", p.Round, i)
			f, ok := m.propose(from, -caution, c.active(true), rng, func(x []float64) bool { return taken[c.named(x)] })
			if !ok {
				break
			}
			take(f)
		}
		if len(list) == 0 { // nothing fits: what comes closest to it
			list = []work{{x: from[0].x, guess: startPressure}}
		}
	}
	results, err := s.judgeAll(ctx, j, list)
	if err != nil {
		return err
	}
	p.Judged += len(list)
	for i := range results {
		p.Members = append(p.Members, results[i].ind)
		p.learn(j, &results[i])
	}
	p.Round++
	sortMembers(p.Members)
	p.Members = p.Members[:min(len(p.Members), memberCount(c))]
	return nil
}

// safest are the best of what was looked at, told with caution and unlike each other, up to a number; none where none of
// it works.
func (m *model) safest(told []forecast, n int) []forecast {
	var list, out []forecast
	for i := range told {
		if f := m.forecast(told[i].x, told[i].pressure, -caution); f.score < unmet {
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, byScore)
	for i := range list {
		f := &list[i]
		if len(out) < n && !slices.ContainsFunc(out, func(o forecast) bool { return alike(o.x, f.x) }) && m.judge.concept.layable(f.x, f.pressure) {
			out = append(out, *f)
		}
	}
	return out
}

// final makes the best that the model of a concept tells of with caution its only member, as it is settled by
// assessments and not by looking again; where it knows of none that works, some are judged.
func (s *search) final(ctx context.Context, p *Population, j *judge) error {
	list, err := s.finalists(ctx, p, j, 1)
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return s.elect(ctx, p, j, elected)
	}
	p.Members = list
	return nil
}

// finalists are the best that the model of a concept tells of with caution, with their blowers.
func (s *search) finalists(ctx context.Context, p *Population, j *judge, n int) ([]Individual, error) {
	c := j.concept
	if len(c.active(true)) == 0 || s.options.quickOnly {
		return nil, nil
	}
	m := j.model(p, true, s.options.Workers)
	var list []Individual
	for _, best := range m.safest(m.tell(p), n) {
		decides := byNeed(best.needs)[0]
		format, demand := &c.ground.formats[decides], m.wettest(decides, &best)
		ind := Individual{
			X: best.x, Pressure: roundUp(best.pressure, float64(c.ground.sizes.PressureStep)), Reserve: likelyReserve,
			Why: format.name + ": " + format.demands[demand].text,
		}
		if sight := j.sights[decides][demand]; j.goal == GoalMet {
			ind.Reserve = sight.High / sight.Likely
		}
		t := j.trial(best.x)
		if err := t.thrifty(ctx, &ind, min(best.holds, furthest*ind.Pressure)); err != nil {
			return nil, err
		}
		if ind.feasible() {
			list = append(list, ind)
		}
	}
	return list, nil
}

// contest has the best that a concept's model tells of assessed in the case that decides, on the cells of an assessment,
// several at once: what wins on coarser ones has won by their scatter as well. The one that would cost least once it is
// brought to what is asked becomes the first member.
func (s *search) contest(ctx context.Context, concept, n int) error {
	p, j := &s.state.Populations[concept], s.judges[concept]
	list, err := s.finalists(ctx, p, j, n)
	if err != nil || len(list) < 2 {
		return err
	}
	first := s.found(concept, &list[0])
	r, err := s.assessRoughly(ctx, first.Job)
	if err != nil || r == nil {
		return err
	}
	only, worst := s.deciding(r, s.state.Goal)
	band := s.overs(r, s.state.Goal) / s.overs(r, GoalLikely)
	if worst == "" || !(band > 0) || math.IsInf(band, 1) {
		return nil
	}
	entries := make([]entry, len(list))
	for i := range list {
		entries[i] = entry{f: s.found(concept, &list[i]), onFine: map[string]*leste.Followed{}}
	}
	look := func(i int) error {
		e, how := &entries[i], settling{exponent: waterExponent}
		own := *s
		own.options.Workers, own.counts, own.onFine = 1, counts{}, e.onFine
		const near, far = 0.03, 0.1
		over, err := own.approach(ctx, &e.f, &how, math.Inf(1), 1, near, own.decided(ctx, only, worst, band))
		e.counts.add(own.counts)
		switch e.needs = math.Inf(1); {
		case err != nil || !(over > 0 && over < 1+far):
			return err
		case over > 1:
			e.needs = e.f.Cost * math.Pow(over, powerExponent/waterExponent)
			return nil
		}
		e.needs = e.f.Cost
		less, ok, err := own.blown(ctx, &e.f, math.Pow(max(over, 1-far), 1/waterExponent))
		if ok {
			e.needs = less.Cost
		}
		return err
	}
	// All of them once, and again at the plenum pressures that the first look tells; of several formats, which take longer,
	// the better half.
	again := len(entries)
	if len(first.Job.Formats) > 1 {
		again = (again + 1) / 2
	}
	for _, n := range [2]int{len(entries), again} {
		if err := parallel.Each(s.options.Workers, n, look); err != nil {
			return err
		}
		slices.SortStableFunc(entries[:n], func(a, b entry) int { return cmp.Compare(a.needs, b.needs) })
	}
	for i := range entries {
		s.counts.add(entries[i].counts)
		maps.Copy(s.onFine, entries[i].onFine)
	}
	if !math.IsInf(entries[0].needs, 1) {
		p.Members = []Individual{entries[0].f.ind}
	}
	return nil
}

// entry is one candidate of a contest.
type entry struct {
	f      Found
	needs  float64 // yearly cost, in the currency of the job, once it is brought to what is asked
	onFine map[string]*leste.Followed
	counts counts
}

// wettest is the demand of a format that decides at a forecast.
func (m *model) wettest(format int, f *forecast) int {
	a := m.judge.concept.arrange(f.x)
	row := pick(a.features(format, f.pressure), m.used)
	worst, at := math.Inf(-1), 0
	for d, g := range m.water[format] {
		if g == nil {
			continue
		}
		if v := g.at(row) + math.Log(m.judge.sights[format][d].factor(m.judge.goal)); v > worst {
			worst, at = v, d
		}
	}
	return at
}

// layable says whether the layout that check uses accepts a candidate.
func (c *concept) layable(x []float64, pressure float64) bool {
	a := c.arrange(x)
	filled := a.job(pressure)
	job.Fill(filled)
	_, problems := station.Resolve(filled, station.ResolveOptions{Cell: layoutCell, Bodies: c.ground.bodies})
	return len(problems) == 0
}

// layoutCell is the grid of a wall whose layout alone is asked for [m]; it does not matter to that.
const layoutCell = 20e-3
