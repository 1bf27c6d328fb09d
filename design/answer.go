package design

import (
	"context"
	"fmt"
	"math"
	"slices"

	leste "leste"
	"leste/parallel"
	q "leste/quantity"
	"leste/station"
)

// study puts the answer together. An interrupted search gives what it has, without further assessments.
func (s *search) study(ctx context.Context, interrupted bool) (*Study, error) {
	st := &Study{
		Job: s.given.Name, Goal: s.state.Goal, Seed: s.options.Seed, Interrupted: interrupted, State: s.state.clone(),
		Quick: s.counts.Quick, Followed: s.counts.Followed, Looks: s.counts.Looks,
	}
	for i := range s.given.Stations {
		st.asFound = max(st.asFound, s.given.Stations[i].Plenum.V)
	}
	var kept []int
	for _, i := range s.ranking() {
		p := &s.state.Populations[i]
		st.Candidates += p.Judged
		if len(p.Members) > 0 && p.Members[0].Violation < levelLayout {
			kept = append(kept, i)
		}
	}
	st.Found = make([]Found, len(kept))
	err := parallel.Each(s.options.Workers, len(kept), func(i int) (err error) {
		st.Found[i], err = s.found(ctx, kept[i], interrupted, i == 0)
		return err
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(st.Found, func(a, b Found) int {
		switch {
		case a.Works != b.Works:
			if a.Works {
				return -1
			}
			return 1
		case a.Works && a.Cost < b.Cost:
			return -1
		case a.Works && a.Cost > b.Cost:
			return 1
		}
		return 0
	})
	st.Least = s.leastChange(st)
	if !interrupted {
		if err := s.around(ctx, st); err != nil {
			return nil, err
		}
	}
	st.Reasons = st.reasons(s.judges[0].concept.ground.basis.Job().Cost.Currency)
	return st, nil
}

// leastChange is the first rung of an existing station that works.
func (s *search) leastChange(st *Study) *Found {
	rungs := ladder(s.given)
	if len(rungs) < 2 {
		return nil
	}
	for _, r := range rungs {
		for i := range st.Found {
			if f := &st.Found[i]; f.Works && f.Concept == r.name {
				return f
			}
		}
	}
	return nil
}

// around adds what is said about the best station: trade-off, what breaks it, what stands in the way.
func (s *search) around(ctx context.Context, st *Study) error {
	best := st.Best()
	if best == nil {
		return nil
	}
	var err error
	if st.Front, err = s.front(ctx); err != nil {
		return err
	}
	if !best.Works {
		st.Miss, err = s.miss(ctx, best)
		return err // nothing holds that could break
	}
	st.Breaks, err = s.breaks(ctx, best)
	return err
}

// found describes the best of one concept. What the search has confirmed is assessed in every case once more, others
// that work and the closest miss at their highest speed.
func (s *search) found(ctx context.Context, concept int, interrupted, first bool) (Found, error) {
	p, j := &s.state.Populations[concept], s.judges[concept]
	best := &p.Members[0]
	a := j.concept.arrange(best.X)
	f := Found{
		Concept: p.Concept, What: j.concept.words, Works: best.feasible() && !slices.Contains(s.state.Failed, concept),
		Job: s.finished(a.job(best.Pressure), best.Blower), Pressure: q.Gauge(best.Pressure), Cost: best.Cost, Power: q.Power(best.Power),
		Reserve: best.Reserve, Blower: best.Blower, Binds: best.Why, Length: a.onConveyor(), Free: len(j.concept.active(true)),
		Departures: j.concept.departures(best.X), Own: j.concept.own, Judged: p.Judged,
	}
	f.Job.Name = s.given.Name + ": " + p.Concept
	f.Settings, f.Changeovers = a.settings()
	if !f.Works {
		f.Binds, f.Fails = "", best.Why
	}
	if interrupted || best.Violation >= levelAir || !f.Works && !first {
		return f, nil
	}
	confirmed := slices.Contains(s.state.Confirmed, concept)
	as, known := s.sure[concept]
	if !known {
		var err error
		if as, err = s.assess(ctx, j.concept, best, confirmed); err != nil {
			return f, err
		}
	}
	if as.result == nil {
		f.Works, f.Fails = false, as.refuse
		return f, nil
	}
	r := as.result
	f.Verdict, f.Method, f.Sure = r.Verdict, r.Method, confirmed
	if confirmed {
		f.Result = r
	}
	if r.Sound.Assessed && r.Sound.At1m > r.Sound.Limit {
		f.Hood = r.Sound.At1m - r.Sound.Limit
	}
	if f.Works && !meets(r, s.state.Goal) {
		f.Works = false
		f.Fails = failing(r)
	}
	return f, nil
}

// failing says what a result fails on.
func failing(r *leste.Result) string {
	worst, text := math.Inf(1), ""
	for i := range r.Formats {
		f := &r.Formats[i]
		for z := range f.Zones {
			for _, req := range f.Zones[z].Requirements {
				if req.Reserve < worst {
					worst = req.Reserve
					text = fmt.Sprintf("%s: the %s for the %s stays too wet when followed on the wall (%.2g of what is asked)", f.Name, zoneWords(f.Zones[z].Name), req.Machine, 1/req.Reserve)
				}
			}
		}
		for _, push := range f.Standing {
			if push.Factor < leste.PushMargin && falls(push) {
				return fmt.Sprintf("%s does not stand: it %s", f.Name, gives[push.Way])
			}
		}
	}
	return text
}

// falls says whether a push makes a container fall, rather than move.
func falls(p leste.Push) bool { return p.Way == station.Tip || p.Way == station.Lift }

func zoneWords(zone string) string {
	if zone == "all" {
		return "whole container"
	}
	return zone
}
