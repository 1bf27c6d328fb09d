package design

import (
	"context"
	"math"

	leste "leste"
	"leste/job"
	"leste/parallel"
	q "leste/quantity"
)

// Sizes of the cells of the assessments that correct the search and confirm its answer [m]: those of the search itself,
// so that only the cases make the difference; and, at the highest speed, ones that resolve what holds water. Cells of
// 2 mm find the same within 3 % as those of 2.5 mm do.
const (
	sightCell = searchCell
	fineCell  = 2.5e-3
)

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
	j := out.job
	if !confirm {
		j = c.ground.hurried(j)
	}
	var err error
	out.result, out.refuse, err = s.assessJob(ctx, j, sightCell, !confirm)
	return out, err
}

// assessJob assesses a job; a refusal is told in words.
func (s *search) assessJob(ctx context.Context, j *job.Job, cell float64, nominal bool) (r *leste.Result, refuse string, err error) {
	o := leste.Options{
		Method: "transport", Cell: cell, NoRanking: true, Nominal: nominal, Workers: max(1, s.options.Workers), Parts: &s.parts,
	}
	if s.options.quickOnly {
		o.Method = "quick"
	}
	r, err = leste.Assess(ctx, j, o)
	// The layout may be refused, or the air, and transport gives no number when its balance does not close.
	if err != nil && ctx.Err() == nil {
		return nil, err.Error(), nil
	}
	return r, "", err
}

// refine finds how much more water fine cells find at the highest speed than those of the search do, for each demand.
func (s *search) refine(ctx context.Context, j *judge, ind *Individual) error {
	if s.options.quickOnly {
		return nil
	}
	a := j.concept.arrange(ind.X)
	hurried := j.concept.ground.hurried(s.finished(a.job(ind.Pressure), ind.Blower))
	fine, _, err := s.assessJob(ctx, hurried, fineCell, true)
	if err != nil || fine == nil {
		return err
	}
	coarse, _, err := s.assessJob(ctx, hurried, sightCell, true)
	if err != nil || coarse == nil {
		return err
	}
	for f := range j.sights {
		ground := &j.concept.ground.formats[f]
		for i, d := range ground.demands {
			a, b := requirementOf(fine, ground, d), requirementOf(coarse, ground, d)
			if a == nil || b == nil {
				continue
			}
			x, _ := overLimit(a)
			y, _ := overLimit(b)
			j.sights[f][i].refine(max(1, ratio(x, y)))
		}
	}
	return nil
}

// refine sets by how much more fine cells find.
func (s *sight) refine(by float64) {
	s.Likely, s.High, s.Fine = s.Likely*by/s.Fine, s.High*by/s.Fine, by
}

// refineAll takes what fine cells find more for the best of one concept for all: it is mostly the container's.
func (s *search) refineAll(ctx context.Context, leader int) error {
	from, best := s.judges[leader], &s.state.Populations[leader].Members[0]
	if best.Violation >= levelStanding {
		return nil
	}
	if err := s.refine(ctx, from, best); err != nil {
		return err
	}
	for i, j := range s.judges {
		for f := range j.sights {
			for d := range j.sights[f] {
				if i != leader {
					j.sights[f][d].refine(from.sights[f][d].Fine)
				}
			}
		}
		s.state.Populations[i].Sights = j.sights
	}
	return nil
}

// works says whether an assessment of the candidate meets a goal, with what fine cells find besides.
func (j *judge) works(r *leste.Result) bool {
	if !meets(r, j.goal) {
		return false
	}
	for f := range j.sights {
		for i, d := range j.concept.ground.formats[f].demands {
			req := requirementOf(r, &j.concept.ground.formats[f], d)
			if req == nil {
				continue
			}
			value, high := overLimit(req)
			if j.goal == GoalMet {
				value = high
			}
			if value*j.sights[f][i].Fine > 1 {
				return false
			}
		}
	}
	return true
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
		sure := found[len(by)-1][i]
		for n, e := range by {
			now.Eyes[e] = ratio(sure, found[n][i])
		}
		if r == nil {
			now.Likely = now.Fine
			now.High = usualBand * now.Likely
			continue
		}
		if req := requirementOf(r, &g.formats[f], d); req != nil {
			likely, high := overLimit(req)
			if sure > 0 && !math.IsInf(sure, 1) && likely > 0 && !math.IsInf(likely, 1) && !math.IsInf(high, 1) {
				now.Likely, now.High = now.Fine*likely/sure, now.Fine*high/sure
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
