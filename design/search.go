package design

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	leste "leste"
	"leste/catalogue"
	"leste/job"
	"leste/parallel"
	q "leste/quantity"
	"leste/station"
)

// Search finds stations for a job. The job is not changed.
//
// What is wrong with the question comes before the search starts, as job.Problems: a job that cannot be laid out, a
// space that no outlet fits, requirements that contradict the line. A cancelled context ends the search; the study
// then holds the best so far and says so. The same job, seed, budget and options give the same study on any number
// of workers, and so does a search that is resumed from its saved state.
func Search(ctx context.Context, j *job.Job, o Options) (*Study, error) {
	s, err := newSearch(j, o)
	if err != nil {
		return nil, err
	}
	problems, err := s.before(ctx)
	if err != nil {
		return nil, err
	}
	if len(problems) > 0 {
		return nil, problems
	}
	if err := s.begin(ctx); err != nil {
		return nil, err
	}
	err = s.run(ctx)
	interrupted := err != nil && ctx.Err() != nil
	if err != nil && !interrupted {
		return nil, err
	}
	study, err := s.study(ctx, interrupted)
	if err != nil && ctx.Err() != nil {
		return s.study(ctx, true)
	}
	return study, err
}

// search is one search on its way.
type search struct {
	options    Options
	given      *job.Job
	drawn      *station.Plan // how what it draws is laid out; nil where it cannot be
	parts      catalogue.Parts
	judges     []*judge
	counts     counts
	state      State
	saved      State  // between the last two steps: one that ended in its middle is begun anew when the search is resumed
	aside      *sweat // a requirement that no station meets after a stop of the line; nil when there is none
	allowed    string // a limit that nobody gave, which was raised; "" when there is none
	undrawn    string // why what the job draws is not varied; "" where it is, or where it draws nothing
	confirming bool   // what is set aside is left out of assessments
	rough      map[string]*leste.Result
	onFine     map[string]*leste.Followed // what was followed of written jobs on the cells of an assessment
	told       map[string]assessed        // jobs as they are written, with what an assessment tells of them
}

func newSearch(j *job.Job, o Options) (*search, error) {
	s := &search{options: o, given: j, parts: catalogue.GenericParts(), told: map[string]assessed{}, rough: map[string]*leste.Result{}, onFine: map[string]*leste.Followed{}}
	if o.Parts != nil {
		s.parts = *o.Parts
	}
	s.drawn, _ = laidOut(j)
	if s.options.Budget == 0 {
		s.options.Budget = UsualBudget
	}
	if s.options.Budget < 0 {
		return nil, fmt.Errorf("a budget of %d candidates is none; %d are usual", o.Budget, UsualBudget)
	}
	switch o.Goal {
	case "", GoalMet, GoalLikely:
	default:
		return nil, fmt.Errorf("there is no goal %q; there are %s and %s", o.Goal, GoalLikely, GoalMet)
	}
	s.options.Sizes = o.Sizes.filled()
	if err := s.options.Sizes.check(); err != nil {
		return nil, err
	}
	one, second, err := s.lay()
	if err != nil {
		return nil, err
	}
	all, why, err := concepts(j, one, second)
	if err != nil {
		return nil, err
	}
	for _, name := range o.Concepts {
		if name == asDrawn && why != "" {
			return nil, fmt.Errorf("there is no concept %q for this job, as %s", name, why)
		}
		if !slices.Contains(names(all), name) {
			return nil, fmt.Errorf("there is no concept %q for this job; there are %s", name, strings.Join(names(all), ", "))
		}
	}
	if len(o.Concepts) == 0 {
		s.undrawn = why
	}
	for _, c := range all {
		if len(o.Concepts) == 0 || slices.Contains(o.Concepts, c.name) {
			s.judges = append(s.judges, &judge{concept: c, goal: GoalLikely})
		}
	}
	return s, nil
}

// bare is a job whose stations are places only: planned, without outlets, frames and measured pressures.
func bare(j *job.Job) *job.Job {
	b := job.Clone(j)
	if len(b.Stations) == 0 {
		b.Stations = []job.Station{{Name: job.FoundStation}}
	}
	for i := range b.Stations {
		st := &b.Stations[i]
		st.Outlets, st.Frames, st.Plenum, st.State = nil, nil, q.Maybe[q.Gauge]{}, job.Planned
		st.Search = true // what will stand there gets names by the search
	}
	b.Options = nil
	return b
}

// twice adds a place farther along the line; what followed the first station follows it.
func twice(j *job.Job) *job.Job {
	first := &j.Stations[0]
	second := job.Station{Name: first.Name + job.FoundSecond, State: job.Planned, Search: true, At: q.Known(first.At.V + farther)}
	for i := range j.Next {
		if j.Next[i].After == first.Name {
			j.Next[i].After = second.Name
		}
	}
	j.Stations = append(j.Stations, second)
	return j
}

// begin takes aim in every concept and takes up a saved state.
func (s *search) begin(ctx context.Context) error {
	for _, j := range s.judges { // the first one finds what the others share
		if err := s.common(ctx, j); err != nil {
			return err
		}
	}
	if err := parallel.Each(s.options.Workers, len(s.judges), func(i int) error { return s.aim(ctx, s.judges[i]) }); err != nil {
		return err
	}
	key, err := s.key()
	if err != nil {
		return err
	}
	goal := s.options.Goal
	if goal == "" {
		goal = GoalLikely
	}
	s.state = State{Version: stateVersion, Key: key, Goal: goal}
	for _, j := range s.judges {
		s.state.Populations = append(s.state.Populations, Population{Concept: j.concept.name, Sights: j.sights})
	}
	if r := s.options.Resume; r != nil {
		if r.Version != stateVersion {
			return fmt.Errorf("the saved state is of version %d, this program reads version %d; start anew", r.Version, stateVersion)
		}
		if r.Key != key || len(r.Populations) != len(s.judges) {
			return errors.New("the saved state is of another job or of other options; start anew, or give the same ones")
		}
		if !s.sound(r) {
			return errors.New("the saved state is damaged: it does not hold what a search writes; start anew")
		}
		s.state = r.clone()
	}
	for i, j := range s.judges {
		j.goal, j.sights = s.state.Goal, s.state.Populations[i].Sights
	}
	s.saved = s.state.clone()
	return nil
}

// common finds the bands of the formats once for all concepts of a ground.
func (s *search) common(ctx context.Context, j *judge) error {
	g := j.concept.ground
	if g.formats[0].problem.Spreads != nil {
		return nil
	}
	return g.spreads(ctx, j.concept.arrange(j.concept.rule()), startPressure)
}

// usualCases is by how much other cases find more than the search does before an assessment has told it: on cans 1.05 to
// 1.2. A search that thinks of nothing of the kind narrows what does not work in the end.
const usualCases = 1.12

// usualBand is the upper end of a band over its likely value before an assessment has told it.
const usualBand = 2.5

// aim sets the first sights of a concept: likely values as the search finds them, with bands of the usual width.
func (s *search) aim(ctx context.Context, j *judge) error {
	g := j.concept.ground
	a := j.concept.arrange(j.concept.rule())
	for f := range g.formats {
		by := s.eyes()
		found, err := g.seen(ctx, a, f, startPressure, by...)
		if err != nil {
			return err
		}
		m := found[len(by)-1]
		sights := make([]sight, len(m))
		for i := range sights {
			now := &sights[i]
			for n, e := range by {
				now.Eyes[e] = ratio(m[i], found[n][i])
			}
			now.Likely, now.High = usualCases, usualBand*usualCases
		}
		j.sights = append(j.sights, sights)
	}
	return nil
}
