package design

import (
	"slices"
	"strings"
	"testing"

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
	if words, _ := givesWay(station.Lift, "filled container, held by the grips, alone"); !strings.Contains(words, "out of the side grips") {
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
