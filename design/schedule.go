package design

import (
	"context"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strings"

	"leste/job"
)

// The phases of a search: explore every concept and settle each by a short descent, see what an assessment of the best
// says, narrow the promising ones, try for the whole band, see again, follow the best with the settings of single
// formats, finish on the fine grid, and confirm. Fewer concepts go on from phase to phase; what has been found for one
// starts the others that share its variables.
const (
	phaseExplore = iota
	phaseSettle
	phaseSight
	phaseNarrow
	phaseGoal
	phaseSightAgain
	phaseFollow
	phaseFinish
	phaseConfirm
	phaseDone
)

// Shares of the usual budget: points, generations and candidates of descents; and how many concepts go on.
const (
	explorePoints = 10
	settleRounds  = 1
	settleDescent = 36
	narrowRounds  = 3
	narrowDescent = 70
	goalDescent   = 40
	followDescent = 72
	finishDescent = 12
	repairDescent = 16

	homeRounds = 5 // of the rough eye, each corrected by the sure one

	settled  = 6
	narrowed = 3
	last     = 2
	followed = 2 // members of a population that the water is followed for
)

// Steps of descents to begin with, over the range of a variable.
const (
	wideStep   = 0.16
	middleStep = 0.06
	smallStep  = 0.02
)

// scaled is a share of the usual budget at the budget given; where few concepts are tried, each gets more of it.
func (s *search) scaled(n int) int {
	const usualConcepts, most = 7.0, 2.5
	share := min(most, max(1, usualConcepts/float64(len(s.judges))))
	return max(1, int(float64(n)*share*float64(s.options.Budget)/UsualBudget))
}

// members of a population.
func memberCount(c *concept) int {
	const few, many = 12, 16
	return min(max(few, 2*len(c.active(false))), many)
}

// run goes through the phases from where the state stands.
func (s *search) run(ctx context.Context) error {
	for s.state.Phase < phaseDone {
		if s.state.Next == 0 {
			s.state.Order = s.ranking()
		}
		for s.state.Next < len(s.state.Order) {
			s.report()
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := s.step(ctx, s.state.Order[s.state.Next], s.state.Next); err != nil {
				return err
			}
			s.state.Next++
			s.save()
		}
		s.state.Phase, s.state.Next = s.state.Phase+1, 0
		s.save()
	}
	return nil
}

func (s *search) save() {
	if s.options.Save != nil {
		s.options.Save(s.state.clone())
	}
}

// step does what the phase asks of one concept; rank is its place in the order.
func (s *search) step(ctx context.Context, concept, rank int) error {
	p, j := &s.state.Populations[concept], s.judges[concept]
	j.eye = s.glimpse()
	switch s.state.Phase {
	case phaseExplore:
		return s.explore(ctx, p, j, s.scaled(explorePoints), memberCount(j.concept))
	case phaseSettle:
		if err := s.borrow(ctx, p, j, rank); err != nil {
			return err
		}
		if err := s.generations(ctx, p, j, s.scaled(settleRounds)); err != nil {
			return err
		}
		budget := s.scaled(settleDescent)
		if rank >= settled {
			budget /= 2
		}
		return s.descend(ctx, p, j, descent{budget: budget, first: wideStep})
	case phaseSight:
		if rank == 0 {
			return s.sightAll(ctx, concept)
		}
	case phaseSightAgain:
		if rank < last {
			if err := s.sightOf(ctx, concept); err != nil {
				return err
			}
			return s.again(ctx, p, j)
		}
	case phaseNarrow:
		if rank < narrowed {
			if err := s.borrow(ctx, p, j, rank); err != nil {
				return err
			}
			if err := s.generations(ctx, p, j, s.scaled(narrowRounds)); err != nil {
				return err
			}
			if err := s.descend(ctx, p, j, descent{from: 1, budget: s.scaled(narrowDescent) / 2, first: middleStep}); err != nil {
				return err
			}
			return s.home(ctx, p, j, homeRounds, descent{budget: s.scaled(narrowDescent), first: middleStep})
		}
	case phaseGoal:
		if rank == 0 && s.options.Goal == "" && p.Members[0].feasible() {
			return s.tryMet(ctx)
		}
	case phaseFollow:
		if rank < last {
			if err := s.borrow(ctx, p, j, rank); err != nil {
				return err
			}
			return s.home(ctx, p, j, homeRounds, descent{budget: s.scaled(followDescent), first: middleStep, late: true})
		}
	case phaseFinish:
		// What misses a little as the sure eye sees it is mended as well: another may turn out dearer than that.
		const rivals = 1.3 // in cost
		best, own := &s.state.Populations[s.state.Order[0]].Members[0], &p.Members[0]
		if rank == 0 || rank < last && own.Violation < nearMiss && (!best.feasible() || own.Cost < rivals*best.Cost) {
			if err := s.follow(ctx, p, j); err != nil {
				return err
			}
			return s.descend(ctx, p, j, descent{budget: s.scaled(finishDescent), first: smallStep, late: true})
		}
	case phaseConfirm:
		if err := s.confirm(ctx, concept, rank); err != nil {
			return err
		}
		if rank+1 < len(s.state.Order) || len(s.state.Confirmed) > 0 || s.options.Goal != "" || s.state.Goal != GoalMet {
			return nil
		}
		// No whole band can be brought within its limits after all, and nobody has asked for that.
		if err := s.settleForLikely(ctx); err != nil {
			return err
		}
		for rank, concept := range s.state.Order {
			if err := s.confirm(ctx, concept, rank); err != nil {
				return err
			}
		}
	}
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
		if err := s.descend(ctx, p, j, descent{budget: s.scaled(followDescent), first: middleStep, late: true}); err != nil {
			return err
		}
	}
	s.state.Order = s.ranking()
	return nil
}

// glimpse is the eye for searching wide.
func (s *search) glimpse() eye {
	if s.options.quickOnly {
		return eyeRough
	}
	return eyeGlimpse
}

// follow has the water of a concept's best members followed from now on.
func (s *search) follow(ctx context.Context, p *Population, j *judge) error {
	j.eye = eyeFollowed
	if s.options.quickOnly {
		j.eye = eyeFine
	}
	if p.Followed {
		return nil
	}
	p.Followed = true
	p.Members = p.Members[:min(followed, len(p.Members))]
	return s.again(ctx, p, j)
}

// borrow judges what the concepts before this one have found, as far as it has the same variables.
func (s *search) borrow(ctx context.Context, p *Population, j *judge, rank int) error {
	var list []work
	for _, other := range s.state.Order[:rank] {
		o := &s.state.Populations[other]
		if len(o.Members) == 0 {
			continue
		}
		from := s.judges[other].concept
		x, shared := slices.Clone(p.Members[0].X), 0
		for i := range j.concept.variables {
			for k := range from.variables {
				if a, b := &j.concept.variables[i], &from.variables[k]; role(a.Name) == role(b.Name) && a.Format == b.Format {
					x[i] = a.at(b.value(o.Members[0].X[k]))
					shared++
				}
			}
		}
		const worth = 3
		if shared >= worth && j.concept.differ(x, p.Members[0].X) {
			list = append(list, work{x: x, guess: o.Members[0].Pressure})
		}
	}
	results, err := s.judgeAll(ctx, j, list)
	if err != nil {
		return err
	}
	p.Judged += len(list)
	keep := len(p.Members)
	for i := range results {
		p.Members = append(p.Members, results[i].ind)
	}
	sortMembers(p.Members)
	p.Members = p.Members[:keep]
	return nil
}

// role is the name of a variable whatever kind of outlet it belongs to: manifolds start where knives do well.
func role(name string) string {
	return strings.NewReplacer("manifolds", "knives", "manifold", "knife").Replace(name)
}

// generations runs n generations.
func (s *search) generations(ctx context.Context, p *Population, j *judge, n int) error {
	for range n {
		if err := s.evolve(ctx, p, j, true); err != nil {
			return err
		}
	}
	sortMembers(p.Members)
	return nil
}

// ranking lists the concepts, the best first.
func (s *search) ranking() []int {
	order := make([]int, len(s.state.Populations))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		p, q := s.state.Populations[a].Members, s.state.Populations[b].Members
		switch {
		case len(p) == 0 || len(q) == 0:
			return len(q) - len(p)
		case p[0].better(&q[0]):
			return -1
		case q[0].better(&p[0]):
			return 1
		}
		return 0
	})
	return order
}

// again judges the members of a population anew, as sights or the goal have changed.
func (s *search) again(ctx context.Context, p *Population, j *judge) error {
	list := make([]work, len(p.Members))
	for i := range p.Members {
		list[i] = work{x: p.Members[i].X, guess: p.Members[i].Pressure}
	}
	results, err := s.judgeAll(ctx, j, list)
	if err != nil {
		return err
	}
	for i := range results {
		p.Members[i] = results[i].ind
	}
	p.Judged += len(list)
	sortMembers(p.Members)
	return nil
}

// tryMet tries whether the whole band can be brought within its limits; if any concept manages, that is the goal.
func (s *search) tryMet(ctx context.Context) error {
	order := s.state.Order[:min(last, len(s.state.Order))]
	tried := make([]Population, len(order))
	any := false
	for n, i := range order {
		j := *s.judges[i]
		j.goal, j.eye = GoalMet, s.glimpse()
		tried[n] = s.state.Populations[i].clone()
		if err := s.again(ctx, &tried[n], &j); err != nil {
			return err
		}
		if err := s.descend(ctx, &tried[n], &j, descent{budget: s.scaled(goalDescent), first: middleStep, late: true}); err != nil {
			return err
		}
		// What works by a glimpse may not do so when it is followed.
		if any || !tried[n].Members[0].feasible() {
			continue
		}
		proof := tried[n].clone()
		if err := s.follow(ctx, &proof, &j); err != nil {
			return err
		}
		if err := s.descend(ctx, &proof, &j, descent{budget: s.scaled(repairDescent), first: smallStep, late: true}); err != nil {
			return err
		}
		any = proof.Members[0].feasible()
	}
	if !any {
		return nil
	}
	s.state.Goal = GoalMet
	for i, j := range s.judges {
		j.goal, j.eye = GoalMet, s.glimpse()
		if n := slices.Index(order, i); n >= 0 {
			s.state.Populations[i] = tried[n]
			continue
		}
		if err := s.again(ctx, &s.state.Populations[i], j); err != nil {
			return err
		}
	}
	return nil
}

// confirm follows the best of a concept, has it assessed in every case, and mends it where the assessment disagrees: its
// plenum pressure first, by what two assessments tell of it, and where other air does not help, the rest.
// Concepts that are dearer than one that is confirmed are left as they are, and so are those that do not work, but for
// the closest when none does.
func (s *search) confirm(ctx context.Context, concept, rank int) error {
	p, j := &s.state.Populations[concept], s.judges[concept]
	const doubt = 1.1 // of the cost before it was followed
	if best := &p.Members[0]; rank > 0 && !best.feasible() || best.Cost >= doubt*s.confirmedCost() {
		return nil
	}
	if err := s.follow(ctx, p, j); err != nil {
		return err
	}
	p.Members = p.Members[:1]
	s.confirming = true
	defer func() { s.confirming = false }()
	const tries = 3
	for try := range tries {
		best := p.Members[0]
		// The search may see the best wetter than it is: a near miss is assessed as well while nothing else works.
		nearly := rank == 0 && best.Violation < nearMiss
		if !best.feasible() && !nearly || best.Cost >= s.confirmedCost() {
			return nil
		}
		f := s.found(concept, &best)
		if err := s.proved(ctx, &Study{Goal: s.state.Goal}, &f, s.confirmedCost()); err != nil {
			return err
		}
		if (f.Works || f.Beside) && f.ind.feasible() {
			p.Members = slices.Insert(p.Members, 0, f.ind)
			s.state.Confirmed = append(s.state.Confirmed, concept)
			return nil
		}
		if f.Result == nil || try+1 == tries {
			break
		}
		if err := s.correct(ctx, j, &f.ind, f.Result); err != nil {
			return err
		}
		p.Sights = j.sights
		if err := s.again(ctx, p, j); err != nil {
			return err
		}
		if err := s.descend(ctx, p, j, descent{budget: s.scaled(repairDescent), first: smallStep, late: true}); err != nil {
			return err
		}
	}
	if p.Members[0].feasible() {
		s.state.Failed = append(s.state.Failed, concept)
	}
	return nil
}

// nearMiss is a violation by water of about half as much again as is asked.
const nearMiss = levelWater + 0.3

// confirmedCost is the least cost of what is confirmed.
func (s *search) confirmedCost() float64 {
	least := math.Inf(1)
	for _, i := range s.state.Confirmed {
		least = min(least, s.state.Populations[i].Members[0].Cost)
	}
	return least
}

// report says how far the search is and what is best so far.
func (s *search) report() {
	if s.options.Progress == nil {
		return
	}
	weights := [phaseDone]float64{16, 9, 6, 26, 3, 7, 14, 6, 22} // of the CPU on the three sizes of can
	done, total := 0.0, 0.0
	for i, w := range weights {
		total += w
		if i < s.state.Phase {
			done += w
		}
	}
	if n := len(s.state.Order); n > 0 {
		done += weights[s.state.Phase] * float64(s.state.Next) / float64(n)
	}
	s.options.Progress(done, total, s.bestWords())
}

// bestWords says what is best so far.
func (s *search) bestWords() string {
	best := -1
	for i := range s.state.Populations {
		m := s.state.Populations[i].Members
		if len(m) > 0 && (best < 0 || m[0].better(&s.state.Populations[best].Members[0])) {
			best = i
		}
	}
	if best < 0 {
		return "exploring"
	}
	p := &s.state.Populations[best]
	if m := &p.Members[0]; m.feasible() {
		return fmt.Sprintf("%s: %.0f a year", p.Concept, m.Cost)
	}
	return fmt.Sprintf("%s: %s", p.Concept, p.Members[0].Why)
}

// key identifies job and options, so that no state is resumed for another search.
func (s *search) key() (string, error) {
	filled := job.Clone(s.given)
	job.Fill(filled)
	o := s.options
	h := fnv.New64a()
	err := json.NewEncoder(h).Encode(struct {
		Job      *job.Job
		Seed     uint64
		Budget   int
		Concepts []string
		Goal     string
		Sizes    Sizes
		Quick    bool
		Blowers  int
	}{filled, o.Seed, o.Budget, o.Concepts, o.Goal, o.Sizes, o.quickOnly, len(s.parts.Blowers)})
	if err != nil {
		return "", fmt.Errorf("the job cannot be told from others: %w", err)
	}
	return fmt.Sprintf("%016x", h.Sum64()), nil
}

func (s State) clone() State {
	s.Order, s.Confirmed, s.Failed = slices.Clone(s.Order), slices.Clone(s.Confirmed), slices.Clone(s.Failed)
	all := make([]Population, len(s.Populations))
	for i := range all {
		all[i] = s.Populations[i].clone()
	}
	s.Populations = all
	return s
}

func (p Population) clone() Population {
	p.Members, p.Archive, p.Near = slices.Clone(p.Members), slices.Clone(p.Archive), slices.Clone(p.Near)
	sights := make([][]sight, len(p.Sights))
	for i := range sights {
		sights[i] = slices.Clone(p.Sights[i])
	}
	p.Sights = sights
	return p
}
