package design

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// example reads one of the examples.
func example(t testing.TB, name string) *job.Job {
	t.Helper()
	data, err := os.ReadFile("../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	f, problems := job.Load(name, data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return f.Job
}

// small is a search that ends soon: one concept, few candidates, no transport.
func small(seed uint64, workers int) Options {
	return Options{Seed: seed, Budget: 240, Workers: workers, Concepts: []string{"tilted knives"}, quickOnly: true}
}

// bare studies compare without the jobs and results, which follow from the state.
func stateOf(t *testing.T, s *Study) string {
	t.Helper()
	text, err := json.Marshal(s.State)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestLawVariablesGiveBackWhatTheyStandFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Variable{Low: rapid.Float64Range(-1, 1).Draw(t, "low"), Step: rapid.SampledFrom([]float64{0, 1e-3, 0.01}).Draw(t, "step")}
		v.High = v.Low + rapid.Float64Range(0.05, 2).Draw(t, "range")
		if rapid.Bool().Draw(t, "sizes") {
			v.Sizes = []float64{0.8e-3, 1e-3, 1.2e-3, 2e-3}
			v.Step = 0
		}
		x := rapid.Float64Range(-0.5, 1.5).Draw(t, "x")
		value := v.value(x)
		const noise = 1e-9 // of a step: marks that close to an end are on it
		if off := 1e-12 + noise*v.Step; len(v.Sizes) == 0 && (value < v.Low-off || value > v.High+off) {
			t.Fatalf("%g is outside %g to %g", value, v.Low, v.High)
		}
		if again := v.value(v.at(value)); math.Abs(again-value) > 1e-9 {
			t.Fatalf("%g comes back as %g", value, again)
		}
		if v.value(math.NaN()) != v.value(0) {
			t.Fatal("a coordinate that is no number stands for something")
		}
	})
}

// The search places outlets by itself, as the layout of package station is too slow for it. Both must agree.
func TestLawOutletsStandWhereTheLayoutPutsThem(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	near := func(a, b station.Vec) bool {
		d := plus(a, -1, b)
		return math.Sqrt(dot(d, d)) < 1e-9
	}
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		if tried++; tried > 40 {
			return // a layout takes its time
		}
		j := s.judges[rapid.IntRange(0, len(s.judges)-1).Draw(t, "concept")]
		x := rapid.SliceOfN(rapid.Float64Range(0, 1), len(j.concept.variables), len(j.concept.variables)).Draw(t, "x")
		a := j.concept.arrange(x)
		filled := a.job(10e3)
		job.Fill(filled)
		plan, _ := station.Resolve(filled, station.ResolveOptions{Cell: 20e-3})
		for f := range plan.Formats {
			n := map[int]int{}
			for i := range a.setups {
				u := &a.setups[i]
				for k := range u.sides() {
					got := u.placed(k, f)
					want := plan.Formats[f].Stations[u.place].Outlets[n[u.place]]
					n[u.place]++
					if want.Line == (station.Vec{}) {
						continue // the layout refused it: nozzles that overlap
					}
					if got.Name != want.Name || !near(got.Middle, want.Middle) || !near(got.Line, want.Line) || !near(got.Axis, want.Axis) ||
						math.Abs(got.Length-want.Length) > 1e-9 || len(got.Ports) != len(want.Ports) || math.Abs(float64(got.Opening-want.Opening)) > 1e-12 || math.Abs(got.Plenum-want.Plenum) > 1e-12 {
						t.Fatalf("%s: %+v, the layout has %+v", j.concept.name, got, want)
					}
				}
			}
		}
	})
}

func TestLawSameStudyOnOneAndTwoWorkersAndResumed(t *testing.T) {
	j := eased(example(t, "can-330-sidewall"), 2)
	var saved []State
	o := small(7, 1)
	o.Save = func(s State) { saved = append(saved, s) }
	one, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	two, err := Search(t.Context(), j, small(7, 2))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(stateOf(t, one), stateOf(t, two)); diff != "" {
		t.Errorf("one and two workers differ:\n%s", diff)
	}
	text, err := json.Marshal(saved[len(saved)/2])
	if err != nil {
		t.Fatal(err)
	}
	var back State
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	o = small(7, 2)
	o.Resume = &back
	resumed, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(stateOf(t, one), stateOf(t, resumed)); diff != "" {
		t.Errorf("a resumed search ends elsewhere:\n%s", diff)
	}
	best := one.Best()
	if best == nil || !best.Works {
		t.Fatalf("nothing works: %+v", best)
	}
	if tilt := best.Job.Stations[0].Outlets[0].Tilt.V; tilt <= 0 {
		t.Errorf("the knives slope by %.3g degrees; the top must be swept first", tilt.Deg())
	}
	if best.Cost <= 0 || best.Power <= 0 || best.Reserve < 1 {
		t.Errorf("cost %g, power %g, reserve %g", best.Cost, float64(best.Power), best.Reserve)
	}
}

func TestLawSavedStatesOfOtherSearchesAreRefused(t *testing.T) {
	j := example(t, "can-330-sidewall")
	s, err := newSearch(j, small(1, 1))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(o *Options, state *State){
		"seed":    func(o *Options, _ *State) { o.Seed = 2 },
		"budget":  func(o *Options, _ *State) { o.Budget = 400 },
		"version": func(_ *Options, state *State) { state.Version = 99 },
	} {
		o, state := small(1, 1), s.state.clone()
		change(&o, &state)
		o.Resume = &state
		if _, err := Search(t.Context(), j, o); err == nil {
			t.Errorf("%s: a saved state of another search was taken up", name)
		}
	}
}

func TestLawCancelKeepsTheBest(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	o := small(3, 2)
	o.Save = func(s State) {
		if s.Phase >= phaseSight {
			cancel()
		}
	}
	study, err := Search(ctx, example(t, "can-330-sidewall"), o)
	if err != nil {
		t.Fatal(err)
	}
	if !study.Interrupted || study.Best() == nil || study.Best().Job == nil {
		t.Errorf("interrupted %v, best %+v", study.Interrupted, study.Best())
	}
}

func TestLawWrongQuestionsAreRefused(t *testing.T) {
	for name, change := range map[string]func(o *Options){
		"budget":   func(o *Options) { o.Budget = -1 },
		"goal":     func(o *Options) { o.Goal = "perfect" },
		"concept":  func(o *Options) { o.Concepts = []string{"magic"} },
		"sizes":    func(o *Options) { o.Sizes.Gaps = []q.Length{-1} },
		"lengths":  func(o *Options) { o.Sizes.Lengths = [2]q.Length{0.5, 0.1} },
		"pressure": func(o *Options) { o.Sizes.Pressure = [2]q.Gauge{q.Gauge(math.NaN()), 1} },
	} {
		o := small(1, 1)
		change(&o)
		if _, err := Search(t.Context(), example(t, "can-330-sidewall"), o); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
	nothing := &job.Job{Schema: 1, Name: "nothing"}
	if _, err := Search(t.Context(), nothing, Options{}); err == nil {
		t.Error("a job without formats was accepted")
	}
	narrow := example(t, "can-330-sidewall")
	narrow.Line.Gap = q.Maybe[q.Length]{}
	narrow.Line.Pitch = q.Known(q.Length(0.02))
	var problems job.Problems
	if _, err := Search(t.Context(), narrow, Options{}); !errors.As(err, &problems) {
		t.Errorf("a pitch below the container's width: %v, want problems", err)
	}
}

// The air costs less where less is asked.
func TestLawRelaxedRequirementIsNeverDearer(t *testing.T) {
	s := begun(t, example(t, "can-330-sidewall"))
	if err := s.explore(t.Context(), &s.state.Populations[0], s.judges[0], 24, 14); err != nil {
		t.Fatal(err)
	}
	if err := s.improve(t.Context(), &s.state.Populations[0], s.judges[0], 10); err != nil {
		t.Fatal(err)
	}
	x := s.state.Populations[0].Members[0].X
	last, met := math.Inf(1), false
	for _, limit := range []q.Mass{300e-6, 450e-6, 600e-6, 900e-6, 1500e-6} {
		j := example(t, "can-330-sidewall")
		j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneAll, Mass: q.Known(limit)}}
		done, err := begun(t, j).judges[0].judge(t.Context(), x, startPressure)
		if err != nil {
			t.Fatal(err)
		}
		cost := math.Inf(1)
		if done.ind.feasible() {
			cost, met = done.ind.Cost, true
		}
		if cost > last*1.001 {
			t.Errorf("%.0f mg cost %.0f a year, less water was cheaper at %.0f", float64(limit)*1e6, cost, last)
		}
		last = cost
	}
	if !met {
		t.Error("nothing was met at all")
	}
}

// begun is a small search that has taken aim.
// eased allows so many times the water, so that a short search finds a station.
func eased(j *job.Job, by float64) *job.Job {
	j = job.Clone(j)
	for i := range j.Next {
		for k := range j.Next[i].Requires {
			r := &j.Next[i].Requires[k]
			r.Mass.V, r.Water.V = q.Mass(by)*r.Mass.V, q.AreaMass(by)*r.Water.V
		}
	}
	return j
}

func begun(t testing.TB, j *job.Job) *search {
	t.Helper()
	s, err := newSearch(j, small(5, 2))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestLawWhatCannotBeHadIsSaidBeforeTheSearch(t *testing.T) {
	for name, c := range map[string]struct {
		change func(j *job.Job, o *Options)
		path   string
	}{
		"no blower": {func(_ *job.Job, o *Options) { o.Parts = &catalogue.Parts{} }, "/air_supply/blowers"},
		"too large a blower": {func(j *job.Job, o *Options) {
			parts := catalogue.GenericParts()
			parts.Blowers = slices.Clone(parts.Blowers)
			for i := range parts.Blowers {
				curve := *parts.Blowers[i].Blower.Curve
				curve.MinFlow = q.Known(curve.Points[len(curve.Points)-2].Flow)
				parts.Blowers[i].Blower.Curve = &curve
			}
			o.Parts = &parts
			j.AirSupply.Blowers = []job.Blower{{Name: "blower", Part: "generic belt 37"}}
		}, "/air_supply/blowers"},
		"no space": {func(j *job.Job, _ *Options) {
			j.Site.Space = &job.Box{XFrom: -0.01, XTo: 0.01, YFrom: -0.02, YTo: 0.02, ZFrom: 0, ZTo: 0.05}
		}, "/site/space"},
		"no air allowed": {func(j *job.Job, _ *Options) {
			j.Limits = []job.AirLimit{{Zone: job.ZoneSidewall, Pressure: q.Known(q.Gauge(10))}}
		}, "/limits/0/pressure"},
		"under it": {func(j *job.Job, _ *Options) {
			j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneAll, Mass: q.Known(q.Mass(50e-6))}}
		}, "/next/0/requires"},
		"nothing asked": {func(j *job.Job, _ *Options) { j.Next = nil }, "/next"},
		"vapour":        {func(j *job.Job, _ *Options) { j.Site.Flammable = true }, "/site/flammable_vapour"},
		"open":          {func(j *job.Job, _ *Options) { j.Formats[0].Content = "open" }, "/formats/0/content"},
	} {
		j, o := example(t, "can-330-sidewall"), small(1, 1)
		c.change(j, &o)
		_, err := Search(t.Context(), j, o)
		var problems job.Problems
		if !errors.As(err, &problems) || problems[0].Path != c.path || problems[0].Want == "" {
			t.Errorf("%s: %v, want a problem at %s", name, err, c.path)
		}
	}
}

// A format that no machine asks to be dry ended the program; it still has to fit and to stand.
func TestLawFormatsThatNobodyAsksAreSearchedForToo(t *testing.T) {
	j, o := example(t, "cans-three-sizes"), small(1, 2)
	o.Budget = 40
	j.Next[0].Formats = []string{j.Formats[1].Name}
	study, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	if best := study.Best(); best == nil || len(best.Settings) == 0 {
		t.Fatalf("found %+v", best)
	}
	for _, f := range j.Formats {
		if !slices.ContainsFunc(study.Best().Settings, func(set Setting) bool { return set.Format == f.Name }) {
			t.Errorf("%s has no setting", f.Name)
		}
	}
}

// A blower that is too large for usual openings and not for the largest is searched for.
func TestLawLargeBlowersMayHaveLargeOpenings(t *testing.T) {
	j, o := example(t, "can-330-sidewall"), small(1, 1)
	j.AirSupply.Blowers = []job.Blower{{Name: "blower", Part: "generic belt 37"}}
	s, err := newSearch(j, o)
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	usual := c.arrange(c.rule())
	if _, err := c.ground.supply(t.Context(), usual.job(startPressure)); err == nil {
		t.Fatal("usual openings are large enough for it")
	}
	if why, err := s.blows(t.Context()); why != "" || err != nil {
		t.Errorf("it is told to fit no station: %s, %v", why, err)
	}
}

// explore judges where a concept starts from and looks at what is about it.
func (s *search) explore(ctx context.Context, p *Population, j *judge, points, keep int) error {
	if err := s.start(ctx, p, j); err != nil {
		return err
	}
	return s.survey(ctx, p, j, points, keep)
}
