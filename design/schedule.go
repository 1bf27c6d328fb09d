package design

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"leste/parallel"
)

// The phases of a search: judge where every concept starts from, explore it, see what an assessment of the best says,
// narrow those that may still turn out the cheapest, twice, try for the whole band, follow the best with the sure eye,
// finish the very best, and confirm. Fewer concepts go on from phase to phase; what has been found for one starts the
// others that share its variables.
const (
	phaseStart = iota
	phaseExplore
	phaseSight
	phaseNarrow
	phaseNarrower
	phaseGoal
	phaseFollow
	phaseFinish
	phaseConfirm
	phaseDone
)

// Shares of the usual budget: points, and rounds of the models; and how many concepts go on.
const (
	explorePoints = 3
	exploreRounds = 2
	goalRounds    = 3
	repairRounds  = 2

	elected  = 2 // judged when a model has learnt enough for a while
	narrowed = 3
	last     = 2
	followed = 1 // members of a population that the water is followed for

	contested = 12 // candidates of one format compared on the cells of an assessment; of several, which take longer, fewer
)

// Rounds of the models, of jobs with one format and with several. Of one format looks at coarse cells are cheap, and its valleys
// many. Of several formats coarse cells and sure ones differ by up to a third between parts of the space, so that more of the
// work is done on sure ones: ends depended on where the coarse ones had led.
type rounds struct{ one, several int }

var (
	narrowRounds   = rounds{12, 7}
	narrowerRounds = rounds{12, 6} // once sizes beside the best are known
	followRounds   = rounds{4, 5}
	finishRounds   = rounds{4, 7}
)

// roundsOf is a number of rounds at the budget given.
func (s *search) roundsOf(r rounds) int {
	if len(s.judges[0].concept.ground.formats) == 1 {
		return s.scaled(r.one)
	}
	return s.scaled(r.several)
}

// scaled is a share of the usual budget at the budget given; where few concepts are tried, each gets more of it.
func (s *search) scaled(n int) int {
	const usualConcepts, most = 7.0, 2.5
	share := min(most, max(1, usualConcepts/float64(len(s.judges))))
	return max(1, int(float64(n)*share*float64(s.options.Budget)/UsualBudget))
}

// memberCount is the number of members that a population keeps.
func memberCount(c *concept) int {
	const few, many = 12, 16
	return min(max(few, 2*len(c.active(false))), many)
}

// run goes through the phases from where the state stands.
func (s *search) run(ctx context.Context) error {
	for _, j := range s.judges { // a step may judge the members of other concepts again
		j.eye = s.glimpse()
	}
	for s.state.Phase < phaseDone {
		if len(s.state.Order) == 0 {
			s.state.Order, s.state.Lent = s.ranking(), s.best()
		}
		each := s.oneByOne
		if abreast(s.state.Phase) {
			each = s.together
		}
		if err := each(ctx); err != nil {
			return err
		}
		s.state.Phase, s.state.Order, s.state.Lent, s.state.Done = s.state.Phase+1, nil, nil, nil
		s.save()
	}
	return nil
}

// abreast says whether the steps of a phase need nothing of each other's results.
func abreast(phase int) bool {
	switch phase {
	case phaseStart, phaseExplore, phaseNarrow, phaseNarrower, phaseFollow:
		return true
	}
	return false
}

// oneByOne does the steps of a phase that are not done yet.
func (s *search) oneByOne(ctx context.Context) error {
	for rank, concept := range s.state.Order {
		if slices.Contains(s.state.Done, concept) {
			continue
		}
		s.report()
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := s.step(ctx, concept, rank); err != nil {
			return err
		}
		s.state.Done = append(s.state.Done, concept)
		s.save()
	}
	return nil
}

// together does the steps of a phase several at once. Each works on its own concept alone and sees of the others what
// they were when the phase began, so that it does not matter which one ends first.
func (s *search) together(ctx context.Context) error {
	var left []int // ranks
	for rank, concept := range s.state.Order {
		if !slices.Contains(s.state.Done, concept) {
			left = append(left, rank)
		}
	}
	var mutex sync.Mutex // guards s
	s.report()
	return parallel.Each(s.options.Workers, len(left), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		mutex.Lock()
		own, concept := *s, s.state.Order[left[i]]
		own.counts, own.state = counts{}, s.state.clone()
		mutex.Unlock()
		err := own.step(ctx, concept, left[i])
		mutex.Lock()
		defer mutex.Unlock()
		s.counts.add(own.counts)
		if err != nil {
			return err
		}
		s.state.Populations[concept] = own.state.Populations[concept]
		s.state.Done = append(s.state.Done, concept)
		slices.Sort(s.state.Done)
		s.save()
		s.report()
		return nil
	})
}

// best are the best members of all concepts; without X where one has none.
func (s *search) best() []Individual {
	all := make([]Individual, len(s.state.Populations))
	for i := range all {
		if m := s.state.Populations[i].Members; len(m) > 0 {
			all[i] = m[0]
		}
	}
	return all
}

func (s *search) save() {
	s.saved = s.state.clone()
	if s.options.Save != nil {
		s.options.Save(s.state.clone())
	}
}

// step does what the phase asks of one concept; rank is its place in the order.
func (s *search) step(ctx context.Context, concept, rank int) error {
	p, j := &s.state.Populations[concept], s.judges[concept]
	j.eye = s.glimpse()
	switch s.state.Phase {
	case phaseStart:
		return s.start(ctx, p, j)
	case phaseExplore:
		share, err := s.promise(ctx, concept)
		if err != nil {
			return err
		}
		if err := s.survey(ctx, p, j, max(1, s.scaled(explorePoints)/share), memberCount(j.concept)/share); err != nil {
			return err
		}
		if err := s.rounds(ctx, p, j, max(1, s.scaled(exploreRounds)/share)); err != nil {
			return err
		}
		return s.elect(ctx, p, j, max(1, elected/share))
	case phaseSight:
		if rank == 0 {
			return s.sightAll(ctx, concept)
		}
	case phaseNarrow, phaseNarrower:
		usual := map[int]int{phaseNarrow: narrowed, phaseNarrower: last}[s.state.Phase]
		if rank < s.goOn(usual) && s.rivals(concept, rank) || s.stays(concept) {
			if err := s.borrow(ctx, p, j, rank); err != nil {
				return err
			}
			if s.state.Phase == phaseNarrow {
				return s.improve(ctx, p, j, s.roundsOf(narrowRounds))
			}
			if err := s.resize(ctx, p, j); err != nil {
				return err
			}
			return s.improve(ctx, p, j, s.roundsOf(narrowerRounds))
		}
	case phaseGoal:
		if rank == 0 && s.options.Goal == "" && p.Members[0].feasible() {
			return s.tryMet(ctx, concept)
		}
	case phaseFollow:
		if rank < s.goOn(last) && s.rivals(concept, rank) {
			return s.followed(ctx, concept)
		}
	case phaseFinish:
		if rank == 0 && p.Followed {
			j.eye = s.sureEye()
			if err := s.sightOf(ctx, concept); err != nil {
				return err
			}
			if err := s.resize(ctx, p, j); err != nil {
				return err
			}
			if err := s.rounds(ctx, p, j, s.roundsOf(finishRounds)); err != nil {
				return err
			}
			if err := s.final(ctx, p, j); err != nil {
				return err
			}
			n := len(j.concept.ground.formats)
			return s.contest(ctx, concept, max(1, 2*contested*s.options.Budget/UsualBudget/(n+1)))
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

// goOn is how many concepts go on: of one format a candidate takes a third of the time that one of three formats does,
// and more of them are seen through.
func (s *search) goOn(usual int) int {
	if len(s.judges[0].concept.ground.formats) == 1 {
		return 2 * usual
	}
	return usual
}

// promise is by what the work of exploring a concept is divided: by three where all that it starts from costs so much more
// than the best of another does that it is told as it is in all likelihood, or stays too wet with air that would. On the
// examples exploring brings down what is paid by a third, and to less than half of it at a few.
func (s *search) promise(ctx context.Context, concept int) (share int, err error) {
	const full, third, dearer = 1, 3, 2.5
	best, own := &s.state.Lent[s.state.Order[0]], &s.state.Lent[concept]
	if !best.feasible() || own.X == nil || s.stays(concept) {
		return full, nil
	}
	cost := own.Cost
	if !own.feasible() {
		a := s.judges[concept].concept.arrange(own.X)
		bill, err := s.judges[concept].concept.ground.bill(ctx, &a, own.Pressure)
		if err != nil { // which no blower gives
			return third, ctx.Err()
		}
		cost = bill.cost
	}
	if cost > dearer*best.Cost {
		return third, nil
	}
	return full, nil
}

// followed has the water of a concept's best followed by the sure eye, and looks for better beside it.
func (s *search) followed(ctx context.Context, concept int) error {
	p, j := &s.state.Populations[concept], s.judges[concept]
	if err := s.sightOf(ctx, concept); err != nil {
		return err
	}
	if err := s.follow(ctx, p, j); err != nil {
		return err
	}
	if err := s.rounds(ctx, p, j, s.roundsOf(followRounds)); err != nil {
		return err
	}
	return s.final(ctx, p, j)
}

// rivals says whether a concept may still turn out the cheapest: it costs little more than the best does, or it misses
// what is asked by little. Others are told as they are. Of several formats, which take longer, fewer are gone on with once
// they have been narrowed.
func (s *search) rivals(concept, rank int) bool {
	dearer := 1.8
	if s.state.Phase > phaseNarrow && len(s.judges[0].concept.ground.formats) > 1 {
		dearer = 1.35
	}
	best, own := &s.state.Lent[s.state.Order[0]], &s.state.Lent[concept]
	return rank == 0 || !best.feasible() || own.feasible() && own.Cost < dearer*best.Cost || !own.feasible() && own.Violation < nearMiss/3
}

// stays says whether a concept changes what stands there: the least change that works is asked for, whatever it costs beside
// what would be new.
func (s *search) stays(concept int) bool {
	return s.judges[concept].concept.own && len(ladder(s.given)) > 1
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

// improve runs rounds of a concept's model and judges what it then holds for best.
func (s *search) improve(ctx context.Context, p *Population, j *judge, rounds int) error {
	const kept = 60
	p.prune(kept)
	if err := s.rounds(ctx, p, j, rounds); err != nil {
		return err
	}
	return s.elect(ctx, p, j, elected)
}

// borrow looks at what the concepts before this one have found, as far as it has the same variables.
func (s *search) borrow(ctx context.Context, p *Population, j *judge, rank int) error {
	var list []probe
	for _, other := range s.state.Order[:rank] {
		o := &s.state.Lent[other]
		if o.X == nil {
			continue
		}
		from := s.judges[other].concept
		x, shared := slices.Clone(p.Members[0].X), 0
		for i := range j.concept.variables {
			for k := range from.variables {
				if a, b := &j.concept.variables[i], &from.variables[k]; role(a.Name) == role(b.Name) && a.Format == b.Format {
					x[i] = a.at(b.value(o.X[k]))
					shared++
				}
			}
		}
		const worth = 3
		if a := j.concept.arrange(x); shared >= worth && j.concept.differ(x, p.Members[0].X) && j.concept.ground.misfit(&a) == 0 {
			list = append(list, j.concept.probe(x, o.Pressure))
		}
	}
	return s.probeAll(ctx, p, j, list)
}

// role is the name of a variable whatever kind of outlet it belongs to: manifolds start where knives do well.
func role(name string) string {
	return strings.NewReplacer("manifolds", "knives", "manifold", "knife").Replace(name)
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
		p.learn(j, &results[i])
	}
	p.Judged += len(list)
	sortMembers(p.Members)
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
	s.confirming = true
	defer func() { s.confirming = false }()
	p.Members = p.Members[:1]
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
			if f.trust > 0 {
				f.ind.Reserve = f.Reserve / f.trust // as the search has it at the pressure that was settled
			}
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
		if err := s.improve(ctx, p, j, s.scaled(repairRounds)); err != nil {
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
	weights := [phaseDone]float64{3, 9, 1, 3, 4, 1, 6, 15, 8} // of the CPU on the three sizes of can
	done, total := 0.0, 0.0
	for i, w := range weights {
		total += w
		if i < s.state.Phase {
			done += w
		}
	}
	if n := len(s.state.Order); n > 0 {
		done += weights[s.state.Phase] * float64(len(s.state.Done)) / float64(n)
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
