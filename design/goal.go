package design

import (
	"context"
	"math"
)

// dearBand is up to how many times as much as for the likely values alone whole bands within their limits may cost to be the
// goal where nobody says which one is. One that costs more is told beside: a trial that narrows the bands may spare it.
const dearBand = 1.5

// Whole is a station that brings whole bands within their limits, told beside one for likely values as it costs far more.
type Whole struct {
	Concept int        `json:"concept"`
	Best    Individual `json:"best"` // without X there is none
}

// wholly is put behind the name of its concept.
const wholly = ", whole band"

// tryMet tries whether the best concept can bring the whole band within its limits; if it manages for little more than the
// likely values take, that is the goal.
func (s *search) tryMet(ctx context.Context, concept int) error {
	j := *s.judges[concept]
	likely := s.state.Populations[concept].Members[0].Cost
	j.goal, j.eye = GoalMet, s.glimpse()
	tried := s.state.Populations[concept].clone()
	const few = 2
	tried.Members = tried.Members[:min(few, len(tried.Members))]
	if err := s.again(ctx, &tried, &j); err != nil {
		return err
	}
	if tried.Members[0].Violation > nearMiss {
		return nil // too far from it for its neighbours to reach it
	}
	// So far bands were thought as wide as usual ones: an assessment tells how wide they are.
	r, err := s.assessRoughly(ctx, s.found(concept, &tried.Members[0]).Job)
	if err != nil || r == nil {
		return err
	}
	j.banded(r)
	tried.Sights = j.sights
	if err := s.again(ctx, &tried, &j); err != nil || tried.Members[0].Violation > nearMiss {
		return err
	}
	if err := s.improve(ctx, &tried, &j, s.scaled(goalRounds)); err != nil || !tried.Members[0].feasible() {
		return err
	}
	// What works by a glimpse may not do so when it is followed, nor when every case is assessed.
	proof := tried.clone()
	if err := s.follow(ctx, &proof, &j); err != nil {
		return err
	}
	if err := s.improve(ctx, &proof, &j, s.scaled(repairRounds)); err != nil || !proof.Members[0].feasible() {
		return err
	}
	best, err := s.promised(ctx, concept, &proof, &j)
	if err != nil || best.X == nil {
		return err
	}
	if best.Cost > dearBand*likely {
		s.state.Whole = Whole{concept, best}
		return nil
	}
	s.state.Goal, tried.Sights = GoalMet, j.sights
	for i, other := range s.judges {
		other.goal, other.eye = GoalMet, s.glimpse()
		p := &s.state.Populations[i]
		if i == concept {
			*p = tried
		} else {
			other.bandedAs(&j)
			p.Sights = other.sights
		}
		other.sights = p.Sights
		if err := s.again(ctx, p, other); err != nil {
			return err
		}
	}
	return nil
}

// promised is the best of a population at the plenum pressure at which an assessment on the cells of the search finds the
// whole band of everything within its limits; without X where it finds none. The drier it is, the wider the band over the
// likely value: where it reaches beyond, so much more air is tried, and then another station by what was found.
func (s *search) promised(ctx context.Context, concept int, p *Population, j *judge) (best Individual, err error) {
	const (
		tries = 3
		far   = 2.0  // over what is asked
		spare = 1.02 // of the pressure
	)
	for try := range tries {
		f := s.found(concept, &p.Members[0])
		r, err := s.assessRoughly(ctx, f.Job)
		if err != nil || r == nil || !stands(r) || airLacks(r) != "" {
			return Individual{}, err
		}
		over := s.overs(r, GoalMet)
		if over < 1 {
			return f.ind, nil
		}
		if over > far {
			return Individual{}, nil
		}
		more, ok, err := s.blown(ctx, &f, spare*math.Pow(over, 1/waterExponent))
		if err != nil {
			return Individual{}, err
		}
		if ok {
			dry, err := s.assessRoughly(ctx, more.Job)
			if err != nil {
				return Individual{}, err
			}
			if dry != nil && s.overs(dry, GoalMet) < 1 && stands(dry) && airLacks(dry) == "" {
				return more.ind, nil
			}
		}
		if try+1 == tries {
			break
		}
		if err := s.correct(ctx, j, &p.Members[0], r); err != nil {
			return Individual{}, err
		}
		p.Sights = j.sights
		if err := s.again(ctx, p, j); err != nil {
			return Individual{}, err
		}
		if err := s.improve(ctx, p, j, s.scaled(repairRounds)); err != nil || !p.Members[0].feasible() {
			return Individual{}, err
		}
	}
	return Individual{}, nil
}

// surely assesses the station that brings whole bands within their limits for far more than the likely values take, and tells
// it beside those.
func (s *search) surely(ctx context.Context, st *Study) error {
	w := &s.state.Whole
	if w.Best.X == nil || st.Goal != GoalLikely {
		return nil
	}
	f := s.found(w.Concept, &w.Best)
	if err := s.proved(ctx, &Study{Goal: GoalMet}, &f, math.Inf(1)); err != nil || !f.Works {
		return err
	}
	f.Concept, f.Whole = f.Concept+wholly, true
	f.Job.Name = s.given.Name + ": " + f.Concept
	st.Found = append(st.Found, f)
	return nil
}

// settleForLikely goes back from whole bands to the likely values.
func (s *search) settleForLikely(ctx context.Context) error {
	s.state.Goal, s.state.Failed = GoalLikely, nil
	for i, j := range s.judges {
		p := &s.state.Populations[i]
		if j.goal, j.eye = GoalLikely, s.glimpse(); !p.Followed {
			if err := s.again(ctx, p, j); err != nil {
				return err
			}
			continue
		}
		if err := s.follow(ctx, p, j); err != nil {
			return err
		}
		if err := s.again(ctx, p, j); err != nil {
			return err
		}
		if err := s.improve(ctx, p, j, s.roundsOf(followRounds)); err != nil {
			return err
		}
	}
	s.state.Order = s.ranking()
	return nil
}
