package design

import (
	"math"
	"slices"
	"strings"
	"testing"

	leste "leste"
	q "leste/quantity"
	"leste/station"
)

// A container that hangs between side grips was told to slip on the belt, which it does not touch.
func TestLawContainersInGripsGiveWayInTheGrips(t *testing.T) {
	for name, where := range map[string]string{"base-330-coder": "in the side grips", "can-330-sidewall": "on the belt"} {
		s, err := newSearch(example(t, name), Options{})
		if err != nil {
			t.Fatal(err)
		}
		var told []string
		for _, j := range s.judges {
			l, err := j.concept.ground.look(t.Context(), j.concept.arrange(j.concept.rule()), 0, startPressure, eyeRough)
			if err != nil {
				t.Fatal(err)
			}
			told = append(told, l.gives)
		}
		if !slices.ContainsFunc(told, func(s string) bool { return strings.HasSuffix(s, where) }) {
			t.Errorf("%s: none of %q is %s", name, told, where)
		}
		if where != "on the belt" && strings.Contains(strings.Join(told, ";"), "belt") {
			t.Errorf("%s: %q", name, told)
		}
	}
	if words, _ := leste.GivesWay(station.Lift, "filled container, held by the grips, alone"); !strings.Contains(words, "out of the side grips") {
		t.Errorf("what is lifted out of its grips %s", words)
	}
}

// Both pairs of two stations were called side knives in the settings, and a rung without a choice was told to be worth a
// search of its own.
func TestLawStudiesNameWhatTheyTellOf(t *testing.T) {
	s, err := newSearch(example(t, "can-330-sidewall"), Options{Concepts: []string{"two stations"}})
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	a := c.arrange(c.rule())
	list, _ := a.settings()
	if len(list) != 2 || list[0].Group == list[1].Group {
		t.Errorf("the settings are of %+v", list)
	}
	for free, want := range map[int]bool{0: false, 5: true} {
		st := &Study{Found: []Found{{Concept: "tilted knives", Works: true, Cost: 100}, {Concept: "as found, other air", Fails: "it slips", Judged: 14, Free: free}}}
		if got := strings.Contains(strings.Join(st.reasons("EUR"), " "), "a search of its own"); got != want {
			t.Errorf("with %d free variables a search of its own is told: %v", free, got)
		}
	}
}

// "Nearly is held back" was written.
func TestLawWhatNearlyGivesWayIsToldInEnglish(t *testing.T) {
	for way, want := range map[string]string{
		station.HeldBack: "can is nearly held back by the air", station.Lift: "can is nearly lifted", station.Slide: "can nearly slips on the belt", station.Tip: "can nearly tips over",
	} {
		r := missed(1.2, 2)
		r.Formats[0].Standing = []leste.Push{{Way: way, Factor: 1.1, Case: "nominal"}}
		if got := remarks(r); len(got) != 1 || !strings.HasPrefix(got[0].Text, want) {
			t.Errorf("%s: %+v, want %q", way, got, want)
		}
	}
}

// Who asks for whole bands and gets nothing is told that less may be asked, and whether that is met; who did not ask is not.
func TestLawAGoalThatFailsNamesTheOther(t *testing.T) {
	for goal, want := range map[string]bool{GoalMet: true, GoalLikely: false, "": false} {
		s, err := newSearch(example(t, "can-330-sidewall"), Options{Goal: goal})
		if err != nil {
			t.Fatal(err)
		}
		if st, err := s.study(t.Context(), true); err != nil || st.whole != want {
			t.Errorf("goal %q: whole bands are asked for: %v, %v", goal, st.whole, err)
		}
	}
	for _, c := range []struct {
		whole   bool
		reserve float64
		want    string // "" for nothing
	}{{true, 1.3, "likely values only, which it meets"}, {true, 0.9, "likely values only."}, {false, 1.3, ""}} {
		st := &Study{Goal: GoalMet, whole: c.whole, Found: []Found{{Concept: "tilted knives", Fails: "its band", Result: missed(c.reserve, 2)}}}
		text := strings.Join(st.reasons("EUR"), " ")
		if told := strings.Contains(text, "likely values only"); told != c.whole || !strings.Contains(text, c.want) {
			t.Errorf("asked for whole bands: %v, reserve %g: %s", c.whole, c.reserve, text)
		}
	}
}

// What may work was told in a paragraph for each concept.
func TestLawWhatMayWorkIsToldAtOnce(t *testing.T) {
	st := &Study{Found: []Found{{Concept: "tilted knives", Works: true, Cost: 100}}}
	for _, name := range []string{"rigid set", "two stations", "level knives"} {
		st.Found = append(st.Found, Found{Concept: name, May: true, Cost: 300, Judged: 26})
	}
	told := 0
	for _, text := range st.reasons("EUR") {
		if strings.Contains(text, "works too") || strings.Contains(text, "work too") {
			told++
			for _, f := range st.Found[1:] {
				if !strings.Contains(text, f.Concept+" (300 EUR a year, the best of 26 candidates)") {
					t.Errorf("%s is not told in %q", f.Concept, text)
				}
			}
		}
	}
	if told != 1 {
		t.Errorf("told %d times", told)
	}
	st.Found = st.Found[:2]
	if text := strings.Join(st.reasons("EUR"), " "); !strings.Contains(text, "this works too: rigid set (300 EUR a year") || strings.Contains(text, "They were left") {
		t.Errorf("of one alone it is told: %s", text)
	}
}

// Settings were told that the layout does not keep: 12 mm less than 24 mm of clearance, where outlets stand 20 mm off.
func TestLawDeparturesTellWhereTheLipsEndUp(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{Concepts: []string{"tilted manifolds and a top manifold", "rigid set", asDrawn}})
	if err != nil {
		t.Fatal(err)
	}
	perFormat := 0
	for _, judge := range s.judges {
		c := judge.concept
		for _, x := range scatter(3, c.name, 30, len(c.variables)) {
			a := c.arrange(x)
			list := c.departures(x, &a)
			for _, k := range c.active(true) {
				v := &c.variables[k]
				if v.Late || strings.HasPrefix(v.Name, "height of the side") || strings.HasPrefix(v.Name, "clearance") {
					continue
				}
				if !slices.ContainsFunc(list, func(d Departure) bool {
					return d.Variable == v.Name && d.Format == v.Format && d.Value == v.text(v.value(x[k]))
				}) {
					t.Errorf("%s: the %s is not told as %s", c.name, v.Name, v.text(v.value(x[k])))
				}
			}
			for i := range a.setups {
				u := &a.setups[i]
				for f := range c.ground.formats {
					format := &c.ground.formats[f]
					if u.lift != nil && f > 0 {
						continue // the frame's height tells it
					}
					body := format.plan.Body
					ends := map[int]float64{}
					if k := u.share.variable; k >= 0 {
						ends[k] = u.height[f] / body.Height
					}
					if k := u.clear.variable; k >= 0 {
						if low, high := u.span(u.height[f]); u.side == beside {
							ends[k] = u.offset[f] - format.reaches(low, high)
						} else {
							ends[k] = u.height[f] - body.Height
						}
					}
					for k, want := range ends {
						v := &c.variables[k]
						n := slices.IndexFunc(list, func(d Departure) bool { return d.Variable == v.Name && (d.Format == "" || d.Format == format.name) })
						if n < 0 {
							t.Errorf("%s: the %s is not told for %s", c.name, v.Name, format.name)
							continue
						}
						if list[n].Format != "" {
							perFormat++
						}
						got, err := v.Kind.Parse(list[n].Value)
						near := 0.02 // of a height in steps of 2 mm
						if v.Kind == q.KindLength {
							near = 1.6e-3
						}
						if err != nil || math.Abs(got-want) > near {
							t.Errorf("%s: the %s for %s is told as %s (%v), the lip has %g", c.name, v.Name, format.name, list[n].Value, err, want)
						}
					}
				}
			}
		}
	}
	if perFormat == 0 {
		t.Error("no format has a setting of its own")
	}
}

// What the search alone has seen fail is not told as what an assessment finds, which may find that it works.
func TestLawOnlyAnAssessmentTellsThatItFails(t *testing.T) {
	for sure, want := range map[bool]string{true: "fails on this: too wet.", false: "fails as the search sees it, on coarse cells: too wet."} {
		st := &Study{Found: []Found{{Concept: "rigid set", Works: true}, {Concept: "level knives", Judged: 26, Sure: sure, Fails: "too wet."}}}
		if text := strings.Join(st.reasons("EUR"), " "); !strings.Contains(text, "Level knives: the best of 26 tried "+want) {
			t.Errorf("sure %v: %s", sure, text)
		}
	}
}

// The settings of a pair that stands there were told of one of the two alone, as though the other were set otherwise.
func TestLawSettingsOfAPairNameBoth(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{quickOnly: true, Concepts: []string{asDrawn}})
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	a := c.arrange(c.rule())
	list, _ := a.settings()
	for i := range list {
		if want := "left knife and right knife"; list[i].Group != want {
			t.Errorf("%q is set, not %q", list[i].Group, want)
		}
	}
	if len(list) != 3 {
		t.Errorf("%d settings of three formats are told", len(list))
	}
}

// A study of a search that was interrupted, before whole bands were tried for and anything was assessed, said that no station
// found brings them within their limits.
func TestLawAnInterruptedSearchSaysNothingOfWholeBands(t *testing.T) {
	const said = "the whole band within them"
	for _, interrupted := range []bool{false, true} {
		st := &Study{Goal: GoalLikely, Interrupted: interrupted, Found: []Found{{Concept: "tilted knives", Works: true, Cost: 100}}}
		if got := strings.Contains(strings.Join(st.reasons("EUR"), " "), said); got == interrupted {
			t.Errorf("interrupted: %v, told of whole bands: %v", interrupted, got)
		}
	}
}
