package design

import (
	"context"
	"math"
	"strconv"
	"strings"
	"testing"

	leste "leste"
)

// A search that took whole bands for its goal, and then had none confirmed, still ends with what its likely values
// allow.
func TestLawWithoutAWholeBandTheLikelyValueIsTheGoal(t *testing.T) {
	s := begun(t, eased(example(t, "can-330-sidewall"), 3))
	j := s.judges[0]
	j.eye = s.glimpse()
	p := &s.state.Populations[0]
	if err := s.explore(t.Context(), p, j, 20, 14); err != nil {
		t.Fatal(err)
	}
	if err := s.improve(t.Context(), p, j, 10); err != nil {
		t.Fatal(err)
	}
	if !p.Members[0].feasible() {
		t.Fatalf("the likely values are not within their limits: %s", p.Members[0].Why)
	}
	// The band is so wide that nothing brings it within the limits.
	s.state.Goal, j.goal = GoalMet, GoalMet
	for d := range j.sights[0] {
		j.sights[0][d].High = 1e3
	}
	if err := s.again(t.Context(), p, j); err != nil {
		t.Fatal(err)
	}
	if p.Members[0].feasible() {
		t.Fatal("a band of a thousand times is within its limit")
	}
	s.state.Phase, s.state.Order = phaseConfirm, s.ranking()
	if err := s.step(t.Context(), 0, 0); err != nil {
		t.Fatal(err)
	}
	if s.state.Goal != GoalLikely || !p.Members[0].feasible() {
		t.Errorf("goal %s, violation %.2f: %s", s.state.Goal, p.Members[0].Violation, p.Members[0].Why)
	}
}

// Transport refuses to answer when its balance does not close; that ends a candidate, not the search.
func TestLawWhatTransportDoesNotAnswerIsTooWet(t *testing.T) {
	s := begun(t, example(t, "can-330-sidewall"))
	j := s.judges[0]
	g := j.concept.ground
	a := j.concept.arrange(j.concept.rule())
	l, err := g.look(t.Context(), a, 0, 10e3, eyeGlimpse)
	if err != nil {
		t.Fatal(err)
	}
	g.formats[0].rough.problem.Liquid.Density = -1
	m, err := l.measures(t.Context(), 10e3)
	if err != nil || len(m) == 0 {
		t.Fatalf("%v, %v", m, err)
	}
	if wet, _ := j.wet(0, m); !math.IsInf(wet, 1) || within(levelWater, wet) != levelAir {
		t.Errorf("measures %v are wet by %g", m, wet)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := l.measures(ctx, 12e3); err == nil {
		t.Error("a cancelled search goes on")
	}
}

// How wide a band is thought is what an assessment tells of it; the likely value stays, and so does what others think.
func TestLawAnAssessmentTellsHowWideBandsAre(t *testing.T) {
	s := begun(t, example(t, "can-330-sidewall"))
	j := *s.judges[0]
	c := j.concept
	a := c.arrange(c.fittedStances()[0])
	r, refuse, err := s.assessJob(t.Context(), a.job(12e3), leste.Options{Cell: 6e-3})
	if err != nil || r == nil {
		t.Fatal(refuse, err)
	}
	before := j.sights
	usual := before[0][0]
	j.banded(r)
	for i, d := range c.ground.formats[0].demands {
		likely, high := overLimit(requirementOf(r, &c.ground.formats[0], d))
		now := j.sights[0][i]
		if want := high / likely; math.Abs(now.High/now.Likely/want-1) > 1e-12 || now.Likely != before[0][i].Likely {
			t.Errorf("%s: the band ends at %g of %g, want %g times it", d.text, now.High, now.Likely, want)
		}
	}
	if before[0][0] != usual || j.sights[0][0] == usual {
		t.Errorf("others think %+v and this one %+v; all thought %+v", before[0][0], j.sights[0][0], usual)
	}
}

// The drier the wall, the wider the band over the likely value: a whole band that reaches beyond its limit at first is
// brought within it.
func TestLawWholeBandsAreTriedForAsWideAsTheyAreFound(t *testing.T) {
	s, err := Search(t.Context(), example(t, "oval-750"), Options{Seed: 1, Budget: 600, Workers: 2, Concepts: []string{asDrawn}})
	if err != nil {
		t.Fatal(err)
	}
	if best := s.Best(); s.Goal != GoalMet || !best.Works || best.Verdict != leste.Met {
		t.Errorf("goal %s, works: %v, %s: %s", s.Goal, best.Works, best.Verdict, best.Fails)
	}
}

// A station that brings whole bands within their limits for far more than the likely values take is assessed and told beside
// them, under a name and with a job file of its own, which is met; where an assessment does not find it so it is not told.
func TestLawAWholeBandThatCostsFarMoreIsToldBeside(t *testing.T) {
	for _, c := range []struct {
		eased float64
		told  bool
	}{{20, true}, {1.5, false}} {
		s := begun(t, eased(example(t, "can-330-sidewall"), c.eased))
		ind := Individual{X: s.judges[0].concept.fittedStances()[1], Pressure: 4e3, Reserve: likelyReserve}
		if err := s.judges[0].trial(ind.X).pay(t.Context(), &ind); err != nil {
			t.Fatal(err)
		}
		first := s.found(0, &ind)
		st := &Study{Goal: GoalLikely, Found: []Found{first}}
		s.state.Whole = Whole{0, ind}
		if err := s.surely(t.Context(), st); err != nil {
			t.Fatal(err)
		}
		if told := len(st.Found) == 2; told != c.told {
			t.Fatalf("with %g of the water allowed it is told: %v", c.eased, told)
		}
		if !c.told {
			continue
		}
		f := &st.Found[1]
		if f.Verdict != leste.Met || !f.Works || !f.Whole || f.Concept != first.Concept+wholly || !strings.HasSuffix(f.Job.Name, f.Concept) {
			t.Errorf("%q, works: %v, %s: %q", f.Concept, f.Works, f.Verdict, f.Job.Name)
		}
		st.Found[0].Works = true
		if said := st.undecided("EUR"); !strings.Contains(said, strconv.Quote(f.Concept)+" brings the whole band within them") {
			t.Error(said)
		}
		if got := once([]Found{*f, first}); len(got) != 2 {
			t.Errorf("%d are told of two with the same outlets and other air", len(got))
		}
		// Of whole bands asked for there is one answer.
		met := &Study{Goal: GoalMet}
		if err := s.surely(t.Context(), met); err != nil || len(met.Found) > 0 {
			t.Errorf("%d, %v", len(met.Found), err)
		}
		cut := s.state.clone()
		if cut.Whole.Best.X = cut.Whole.Best.X[1:]; s.sound(&cut) || !s.sound(&s.state) {
			t.Error("a saved state with a part of a station is taken for sound")
		}
	}
}
