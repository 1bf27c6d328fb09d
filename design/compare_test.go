package design

import (
	"context"
	"math"
	"slices"
	"testing"

	leste "leste"
	"leste/job"
	q "leste/quantity"
)

// soon is an assessment that answers at once.
var soon = leste.Options{Method: "quick", Cell: equalCell, Nominal: true}

func TestLawOptionsStandBesideTheJob(t *testing.T) {
	j := example(t, "design-options-can")
	same := j.Options[0]
	same.Name, same.Stations = "the same again", j.Stations
	bad := job.Option{Name: "stands in the way", Stations: job.Clone(j).Stations}
	bad.Stations[0].Outlets[0].StandOff = q.Known(q.Length(-0.03))
	j.Options = []job.Option{j.Options[0], same, bad}
	before := job.Clone(j)
	rows, err := Compare(t.Context(), j, soon, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 4 || len(j.Options) != len(before.Options) {
		t.Fatalf("%d rows, %d options left", len(rows), len(j.Options))
	}
	first, tilted, again, wrong := rows[0], rows[1], rows[2], rows[3]
	if again.Water != first.Water || again.Reserve != first.Reserve || again.Cost != first.Cost {
		t.Errorf("the same station again leaves %v for %g, the first %v for %g", again.Water, again.Cost, first.Water, first.Cost)
	}
	const blurred = 0.04 // the quick method scatters by a few thousandths of the water, here some hundredths of the pressure
	if again.Equal == nil || math.Abs(math.Log(again.Equal.Pressure)) > blurred {
		t.Errorf("the same station leaves as much water at %+v", again.Equal)
	}
	if !(tilted.Reserve > first.Reserve) || tilted.Equal == nil || !(tilted.Equal.Pressure < 1) || !(tilted.Equal.Cost < tilted.Cost) {
		t.Errorf("tilted knives: reserve %.2f, level ones %.2f; for as much water %+v", tilted.Reserve, first.Reserve, tilted.Equal)
	}
	if first.Equal != nil || wrong.Problem == "" || wrong.Result != nil || wrong.Equal != nil {
		t.Errorf("first %+v, a station that cannot stand %q", first.Equal, wrong.Problem)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Compare(ctx, j, soon, nil); err == nil {
		t.Error("a cancelled comparison gives an answer")
	}
}

// Of a station that exists the smaller changes have no choice in what they leave as it is.
func TestLawRungsLeaveWhatTheyMayNotChange(t *testing.T) {
	j := example(t, "as-found-speed-up")
	s, err := newSearch(j, Options{})
	if err != nil {
		t.Fatal(err)
	}
	free := map[string][]string{}
	for _, jd := range s.judges {
		if !jd.concept.own {
			continue
		}
		names := []string{}
		for _, k := range jd.concept.active(true) {
			names = append(names, jd.concept.variables[k].Name)
		}
		free[jd.concept.name] = names
		x := make([]float64, len(jd.concept.variables))
		for i := range x {
			x[i] = 0.9 // wherever the search goes
		}
		a := jd.concept.arrange(x)
		given, got := &j.Stations[0].Outlets[0], a.job(9.6e3).Stations[0].Outlets[0]
		if jd.concept.name != asDrawn && got.Length != given.Length {
			t.Errorf("%s: the knife is %s long, found %s", jd.concept.name, q.Format(got.Length.V, q.SI), q.Format(given.Length.V, q.SI))
		}
		if jd.concept.name == "as found, other air" && (got.SlotGap != given.SlotGap || got.Tilt != given.Tilt) {
			t.Errorf("other air: slot gap %v and tilt %v, found %v and %v", got.SlotGap, got.Tilt, given.SlotGap, given.Tilt)
		}
	}
	if len(free["as found, other air"]) != 0 || len(free["as found, moved"]) == 0 ||
		len(free["as found, moved and opened"]) <= len(free["as found, moved"]) || len(free[asDrawn]) <= len(free["as found, moved and opened"]) {
		t.Errorf("free variables: %v", free)
	}
	planned := example(t, "can-330-sidewall")
	if rungs := ladder(planned); len(rungs) != 1 {
		t.Errorf("a planned station has %d rungs", len(rungs))
	}
}

// A layout that the layout of package station refuses is never taken for a station that works.
func TestLawWhatIsJudgedStandsAsCheckWants(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{quickOnly: true, Workers: 2, Concepts: []string{"tilted knives and a top knife"}})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	j := s.judges[0]
	j.eye = eyeRough
	refused := 0
	for _, x := range scatter(11, "layouts", 16, len(j.concept.variables)) {
		d, err := j.judge(t.Context(), x, startPressure)
		if err != nil {
			t.Fatal(err)
		}
		a := j.concept.arrange(x)
		filled := a.job(startPressure)
		job.Fill(filled)
		problems := leste.Check(filled)
		if len(problems) > 0 {
			refused++
		}
		close := j.concept.ground.crowded(&a) > 0 // bodies, which check does not refuse
		if (len(problems) > 0 || close) != (d.ind.Violation >= levelLayout) {
			t.Errorf("judged %.2f (%s), check says %v", d.ind.Violation, d.ind.Why, problems)
		}
	}
	if refused == 0 || refused == 16 {
		t.Errorf("%d of 16 layouts refused; the test needs both kinds", refused)
	}
}

func TestLawBorrowedSettingsAreThoseFound(t *testing.T) {
	o := small(5, 2)
	o.Concepts = []string{"tilted knives", "two stations"}
	s, err := newSearch(example(t, "can-330-sidewall"), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	for i, j := range s.judges {
		j.eye = eyeRough
		if err := s.explore(t.Context(), &s.state.Populations[i], j, 6, 6); err != nil {
			t.Fatal(err)
		}
	}
	s.state.Order, s.state.Lent = []int{0, 1}, s.best()
	if err := s.borrow(t.Context(), &s.state.Populations[1], s.judges[1], 1); err != nil {
		t.Fatal(err)
	}
	from, to := s.judges[0].concept, s.judges[1].concept
	best := s.state.Populations[0].Members[0].X
	if !slices.ContainsFunc(s.state.Populations[1].Samples, func(m Sample) bool {
		for i := range to.variables {
			for k := range from.variables {
				if to.variables[i].Name == from.variables[k].Name && to.variables[i].value(m.X[i]) != from.variables[k].value(best[k]) {
					return false
				}
			}
		}
		return true
	}) {
		t.Error("two stations have nothing of what one has found")
	}
}
