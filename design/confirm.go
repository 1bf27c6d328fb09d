package design

import (
	"context"
	"errors"
	"math"

	leste "leste"
	"leste/airsupply"
	"leste/job"
	"leste/parallel"
	q "leste/quantity"
)

// sightCell is the size of the cells of the assessments that correct the search and confirm its answer [m]. They leave
// a little more water than finer ones.
const sightCell = 5e-3

// assessed is a candidate's job with what a whole assessment says of it.
type assessed struct {
	job    *job.Job
	result *leste.Result // nil when the assessment refused
	refuse string
}

// assess assesses a candidate: in every case, or only at the highest speed.
func (s *search) assess(ctx context.Context, c *concept, ind *Individual, confirm bool) (assessed, error) {
	a := c.arrange(ind.X)
	out := assessed{job: s.finished(a.job(ind.Pressure), ind.Blower)}
	j, o := out.job, leste.Options{Method: "transport", Cell: sightCell, NoRanking: true, Workers: max(1, s.options.Workers), Parts: &s.parts}
	if !confirm {
		j, o.Nominal = c.ground.hurried(out.job), true
	}
	if s.options.quickOnly {
		o.Method = "quick"
	}
	r, err := leste.Assess(ctx, j, o)
	var layout job.Problems
	var air *airsupply.Refusal
	switch {
	case err == nil:
		out.result = r
	case errors.As(err, &layout), errors.As(err, &air):
		out.refuse = err.Error()
	default:
		return out, err
	}
	return out, nil
}

// hurried is a job at its highest speed.
func (g *ground) hurried(j *job.Job) *job.Job {
	j = job.Clone(j)
	surge := max(1, float64(g.basis.Job().Line.Surge.V))
	for i := range j.Formats {
		f, plan := &j.Formats[i], g.formats[i].plan
		f.Speed = q.Known(plan.Speed * q.Speed(surge))
		f.Rate, f.Gap, f.Pitch = q.Maybe[q.Rate]{}, q.Maybe[q.Length]{}, q.Maybe[q.Length]{}
		if plan.Pitch > 0 {
			f.Pitch = q.Known(plan.Pitch)
		}
	}
	return j
}

// sightAll sets the sights of several concepts by following the water on their best members, and judges them anew.
func (s *search) sightAll(ctx context.Context, order []int) error {
	var list [][2]int
	for _, i := range order {
		if s.state.Populations[i].Members[0].Violation < levelStanding {
			for f := range s.judges[i].concept.ground.formats {
				list = append(list, [2]int{i, f})
			}
		}
	}
	err := parallel.Each(s.options.Workers, len(list), func(n int) error {
		i, f := list[n][0], list[n][1]
		return s.judges[i].compare(ctx, f, &s.state.Populations[i].Members[0], s.eyes(), nil)
	})
	if err != nil {
		return err
	}
	for _, i := range order {
		p, j := &s.state.Populations[i], s.judges[i]
		p.Sights = j.sights
		if err := s.again(ctx, p, j); err != nil {
			return err
		}
	}
	return nil
}

// correct sets the sights by an assessment: for each demand, what it finds over what the search found.
func (s *search) correct(ctx context.Context, j *judge, ind *Individual, r *leste.Result) error {
	return parallel.Each(s.options.Workers, len(j.concept.ground.formats), func(f int) error {
		return j.compare(ctx, f, ind, s.eyes(), r)
	})
}

// eyes are those that a search has, the surest last.
func (s *search) eyes() []eye {
	if s.options.quickOnly {
		return []eye{eyeFine, eyeRough, eyeFine}
	}
	return []eye{eyeFine, eyeRough, eyeGlimpse, eyeFollowed}
}

// compare sets the sights of one format by what each eye finds, and by an assessment where there is one; without one
// what transport finds at the highest speed is taken for it.
func (j *judge) compare(ctx context.Context, f int, ind *Individual, by []eye, r *leste.Result) error {
	g := j.concept.ground
	found, err := g.seen(ctx, j.concept.arrange(ind.X), f, ind.Pressure, by...)
	if err != nil {
		return err
	}
	for i, d := range g.formats[f].demands {
		now := &j.sights[f][i]
		quick := found[0][i]
		for n, e := range by {
			now.Eyes[e] = ratio(quick, found[n][i])
		}
		if r == nil {
			now.Likely = 1 / now.Eyes[by[len(by)-1]]
			now.High = usualBand * now.Likely
			continue
		}
		if req := requirementOf(r, &g.formats[f], d); req != nil {
			likely, high := overLimit(req)
			if quick > 0 && likely > 0 && !math.IsInf(likely, 1) && !math.IsInf(high, 1) {
				now.Likely, now.High = likely/quick, high/quick
			}
		}
	}
	return nil
}

// requirementOf finds a demand in a result.
func requirementOf(r *leste.Result, f *formatGround, d demand) *leste.RequirementResult {
	nth := 0 // of the machine's requirements for the zone
	m := &f.problem.Machines[d.machine]
	for k := range d.require {
		if m.Requires[k].Zone == d.zone {
			nth++
		}
	}
	name := m.Name
	if name == "" {
		name = m.Kind
	}
	for i := range r.Formats {
		if r.Formats[i].Name != f.name {
			continue
		}
		for z := range r.Formats[i].Zones {
			if r.Formats[i].Zones[z].Name != d.zone {
				continue
			}
			n := 0
			for k := range r.Formats[i].Zones[z].Requirements {
				q := &r.Formats[i].Zones[z].Requirements[k]
				if q.Machine != name {
					continue
				}
				if n == nth {
					return q
				}
				n++
			}
		}
	}
	return nil
}

// overLimit is a requirement's likely value and the upper end of its band over the limit. Shares of rejects stand for
// the number of drops that count.
func overLimit(r *leste.RequirementResult) (likely, high float64) {
	of := func(v float64) float64 { return v / r.Limit }
	if r.Quantity == "rejects" {
		of = func(v float64) float64 { return math.Log1p(-min(v, 1)) / math.Log1p(-r.Limit) }
	}
	return of(r.Value.Likely), of(r.Value.High)
}

// meets says whether a result meets a goal: its water, and everything that stands or falls.
func meets(r *leste.Result, goal string) bool {
	if goal == GoalMet {
		return r.Verdict == leste.Met
	}
	return r.Verdict != leste.NotMet
}
