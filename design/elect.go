package design

import (
	"context"
	"math"
	"slices"

	"leste/job"
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
		m := j.model(p, true)
		told := m.tell(p)
		from := m.starts(told, 0, 0, nil)
		taken := map[string]bool{}
		take := func(f forecast) {
			taken[c.named(f.x)] = true
			list = append(list, work{x: f.x, guess: f.pressure})
		}
		if best := m.safest(told); best != nil {
			take(*best)
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

// safest is the best of what was looked at, told with caution; nil where none of it works.
func (m *model) safest(told []forecast) *forecast {
	var list []forecast
	for i := range told {
		if f := m.forecast(told[i].x, told[i].pressure, -caution); f.score < unmet {
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, byScore)
	for i := range list {
		if m.judge.concept.layable(list[i].x, list[i].pressure) {
			return &list[i]
		}
	}
	return nil
}

// final makes the best that the model of a concept tells of with caution its only member, as it is settled by
// assessments and not by looking again; where it knows of none that works, some are judged.
func (s *search) final(ctx context.Context, p *Population, j *judge) error {
	c := j.concept
	if len(c.active(true)) == 0 || s.options.quickOnly {
		return s.elect(ctx, p, j, elected)
	}
	m := j.model(p, true)
	best := m.safest(m.tell(p))
	if best == nil {
		return s.elect(ctx, p, j, elected)
	}
	decides := byNeed(best.needs)[0]
	format, demand := &c.ground.formats[decides], m.wettest(decides, best)
	ind := Individual{
		X: best.x, Pressure: roundUp(best.pressure, float64(c.ground.sizes.PressureStep)), Reserve: likelyReserve,
		Why: format.name + ": " + format.demands[demand].text,
	}
	if sight := j.sights[decides][demand]; j.goal == GoalMet {
		ind.Reserve = sight.High / sight.Likely
	}
	t := &trial{judge: j, a: c.arrange(best.x)}
	if err := t.pay(ctx, &ind); err != nil {
		return err
	}
	if !ind.feasible() {
		return s.elect(ctx, p, j, elected)
	}
	p.Members = []Individual{ind}
	return nil
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
