package design

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/station"
)

// study puts the answer together. An interrupted search gives what it has, without further assessments.
func (s *search) study(ctx context.Context, interrupted bool) (*Study, error) {
	st := &Study{
		whole: s.options.Goal == GoalMet,
		Job:   s.given.Name, Goal: s.state.Goal, Seed: s.options.Seed, Interrupted: interrupted, State: s.saved.clone(),
		Notes: s.given.Notes, Allowed: s.allowed, Undrawn: s.undrawn, Quick: s.counts.Quick, Followed: s.counts.Followed, Looks: s.counts.Looks,
	}
	for i := range s.given.Stations {
		st.asFound = max(st.asFound, s.given.Stations[i].Plenum.V)
	}
	for _, i := range s.ranking() {
		p := &s.state.Populations[i]
		st.Candidates += p.Judged
		if len(p.Members) > 0 && p.Members[0].Violation < levelLayout {
			st.Found = append(st.Found, s.found(i, &p.Members[0]))
		}
	}
	if !interrupted {
		if err := s.prove(ctx, st); err != nil {
			return nil, err
		}
		if err := s.surely(ctx, st); err != nil {
			return nil, err
		}
		if err := s.bound(ctx, st); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(st.Found, func(a, b Found) int {
		switch {
		case a.ahead(&b):
			return -1
		case b.ahead(&a):
			return 1
		}
		return 0
	})
	st.Found = once(st.Found)
	if s.aside != nil {
		st.Aside = s.aside.text
	}
	st.Least = s.leastChange(st)
	if !interrupted {
		if err := s.around(ctx, st); err != nil {
			return nil, err
		}
	}
	st.Reasons = st.reasons(s.judges[0].concept.ground.basis.Job().Cost.Currency)
	return st, nil
}

// ahead says whether a station is told before another: first those that work, then those that meet all but what no
// station can, then those that may work, each by their cost; then what was assessed, by how near it comes. The rest stays
// in the order of the search.
func (f *Found) ahead(o *Found) bool {
	switch {
	case f.Works != o.Works:
		return f.Works
	case f.Works:
		return f.Cost < o.Cost
	case f.Beside != o.Beside:
		return f.Beside
	case f.Beside:
		return f.Cost < o.Cost
	case f.May != o.May:
		return f.May
	case f.May:
		return f.Cost < o.Cost
	case f.Sure != o.Sure:
		return f.Sure
	case f.Sure:
		return f.Reserve > o.Reserve
	}
	return false
}

// leastChange is the first rung of an existing station that works.
func (s *search) leastChange(st *Study) *Found {
	rungs := ladder(s.given)
	if len(rungs) < 2 {
		return nil
	}
	st.stands = slices.ContainsFunc(s.judges, func(j *judge) bool { return j.concept.own })
	for _, r := range rungs {
		for i := range st.Found {
			if f := &st.Found[i]; f.Works && (f.Concept == r.name || slices.Contains(f.Also, r.name)) {
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
	if st.Front, err = s.front(ctx, st.Found); err != nil {
		return err
	}
	if !best.Works {
		st.Miss, err = s.miss(ctx, best)
		return err // nothing holds that could break
	}
	st.Breaks, err = s.breaks(ctx, best)
	return err
}

// found describes a candidate of one concept as the search sees it.
func (s *search) found(concept int, ind *Individual) Found {
	p, j := &s.state.Populations[concept], s.judges[concept]
	a := j.concept.arrange(ind.X)
	pressure := ind.Pressure
	if step := float64(j.concept.ground.sizes.PressureStep); !ind.feasible() { // as much as it stands is no setting
		pressure = max(step, math.Floor(pressure/step)*step)
	}
	f := Found{
		Concept: p.Concept, What: j.concept.words, Works: ind.feasible() && !slices.Contains(s.state.Failed, concept),
		Job: s.finished(a.job(pressure), ind.Blower), Pressure: q.Gauge(pressure), Cost: ind.Cost, Power: q.Power(ind.Power),
		Reserve: ind.Reserve, Blower: ind.Blower, Binds: ind.Why, Length: a.onConveyor(), Free: len(j.concept.active(true)),
		Own: j.concept.own, Judged: p.Judged, concept: concept, ind: *ind,
	}
	if !s.confirming {
		f.Job.Line.Stops = s.given.Line.Stops
	}
	f.Job.Name, f.Job.Notes = s.given.Name+": "+p.Concept, ""
	told := a.laid(f.Job)
	f.Settings, f.Changeovers = told.settings()
	f.Scales, f.Anew = scales(j.concept.stations, f.Job), setAnew(j.concept.stations, f.Job)
	f.Departures = j.concept.departures(ind.X, &told)
	if !f.Works {
		f.Binds, f.Fails = "", ind.Why
		if ind.Reserve >= 1 && strings.Contains(ind.Why, staysTooWet) {
			f.Fails = s.within(ind)
		}
	}
	return f
}

// within says of what keeps its limits by the search what it lacks all the same: a part of the reserve that is asked of
// likely values, or the whole band.
func (s *search) within(ind *Individual) string {
	reserve := figures(ind.Reserve, 3)
	if s.state.Goal == GoalLikely {
		return fmt.Sprintf("%s; by the search it has a reserve of %s, and %s is asked of likely values", ind.Why, reserve, figures(likelyReserve, 3))
	}
	return strings.Replace(ind.Why, staysTooWet, fmt.Sprintf(" is kept by the likely value, with a reserve of %s by the search, but not by its whole band", reserve), 1)
}

// givesAt is the first push that a format does not stand; nil where it stands all. Of whole bands it must be sure to.
func givesAt(f *leste.FormatResult, goal string) *leste.Push {
	holds := 1.0
	if goal == GoalMet {
		holds = leste.PushMargin
	}
	for i := range f.Standing {
		if push := &f.Standing[i]; push.Factor < holds && falls(*push) {
			return push
		}
	}
	return nil
}

// failing says what a result fails on: air that does not come in a case, a container that falls, a limit of the air, or the requirement that is missed
// most. A goal of whole bands is failed by a band that reaches beyond its limit.
func failing(r *leste.Result, goal string) string {
	if why := airLacks(r); why != "" {
		return why
	}
	for i := range r.Formats {
		f := &r.Formats[i]
		if push := givesAt(f, goal); push != nil {
			words, _ := leste.GivesWay(push.Way, push.Case)
			return fmt.Sprintf("%s does not stand: it %s", f.Name, words)
		}
		if len(f.Exceeded) > 0 {
			return f.Name + ": " + f.Exceeded[0]
		}
	}
	worst := worstPlace(r)
	switch {
	case worst == nil:
		return strings.Join(r.Stops, " ")
	case worst.Reserve < 1:
		return fmt.Sprintf("%s stays too wet when followed on the wall (%s times what is asked, in the case %s)", worst.words(), times(1/worst.Reserve), worst.Case)
	case len(r.Stops) > 0:
		return strings.Join(r.Stops, " ")
	}
	for i := range r.Formats {
		for z := range r.Formats[i].Zones {
			for k := range r.Formats[i].Zones[z].Requirements {
				p := place{&r.Formats[i].Zones[z].Requirements[k], &r.Formats[i], &r.Formats[i].Zones[z]}
				if p.Verdict != leste.Met {
					return p.words() + " is kept by the likely value, but not by its whole band"
				}
			}
		}
	}
	return "it is kept by the likely value, but not by its whole band"
}

// times writes a factor with two figures, or as many as tell that it is not 1.
func times(x float64) string { return figures(x, q.Telling(1, 2, x)) }

// dearer writes a ratio of costs: a twentieth more is not a tenth.
func dearer(x float64) string { return figures(x, q.Telling(1, 3, x)) }

// falls says whether a push makes a container fall, rather than move.
func falls(p leste.Push) bool { return p.Way == station.Tip || p.Way == station.Lift }

func zoneWords(zone string) string {
	if zone == "all" {
		return "whole container"
	}
	return zone
}
