package design

import (
	"context"
	"strings"
	"testing"
)

// Of several seeds the study of the best is given, as a search from its seed alone gives it, with what each ends at.
func TestLawOfSeveralSeedsTheBestIsTold(t *testing.T) {
	j := eased(example(t, "can-330-sidewall"), 2)
	const seeds = 3
	o := small(4, 2)
	o.Budget, o.Goal = 120, GoalLikely
	got, err := SearchSeeds(t.Context(), j, o, seeds)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Endings) != seeds || !got.Best().Works {
		t.Fatalf("%d ends, works: %v", len(got.Endings), got.Best().Works)
	}
	alone := o
	alone.Seed = got.Seed
	want, err := Search(t.Context(), j, alone)
	if err != nil {
		t.Fatal(err)
	}
	if stateOf(t, want) != stateOf(t, got) {
		t.Error("the study told is not that of its seed alone")
	}
	costs := map[float64]bool{}
	for k, e := range got.Endings {
		costs[e.Cost] = true
		if e.Seed != o.Seed+uint64(k) {
			t.Errorf("seed %d is told as number %d from %d on", e.Seed, k, o.Seed)
		}
		if e.Works && e.Goal == got.Goal && e.Cost < got.Best().Cost {
			t.Errorf("seed %d ends at %.2f, that of %d at %.2f is told", e.Seed, e.Cost, got.Seed, got.Best().Cost)
		}
		if e.Seed == got.Seed && (e.Cost != want.Best().Cost || e.Concept != want.Best().Concept || e.Goal != want.Goal || !e.Works) {
			t.Errorf("seed %d is told to end at %+v, alone at %.2f", e.Seed, e, want.Best().Cost)
		}
	}
	if len(costs) < 2 {
		t.Errorf("all end at the same cost: %v", got.Endings)
	}
	if said := got.Reasons[len(got.Reasons)-1]; !strings.Contains(said, "Of the searches from seeds 4 to 6 this one") {
		t.Errorf("told as %q", said)
	}
}

// A study says of other seeds what they end at, in whichever way they do.
func TestLawOtherSeedsAreTold(t *testing.T) {
	at := func(seed uint64, goal string, works bool, cost float64) Ending {
		return Ending{seed, "tilted knives", goal, works, cost}
	}
	for _, c := range []struct {
		endings []Ending
		works   bool
		asked   int
		want    string
	}{
		{
			[]Ending{at(1, GoalMet, true, 100), at(2, GoalMet, true, 110), at(3, GoalMet, true, 130)},
			true, 3,
			"Of the searches from seeds 1 to 3 this one, from seed 1, ends best; of the others 2 end at 110 to 130 EUR a year.",
		},
		{
			[]Ending{at(1, GoalMet, true, 100), at(2, GoalLikely, true, 80), at(3, GoalLikely, false, 0)},
			true, 4,
			"Of the searches from seeds 1 to 3 this one, from seed 1, ends best; of the others 1 ends at what keeps the likely values alone, 1 ends at nothing that works; 1 more were not searched from, as it was interrupted.",
		},
		{
			[]Ending{at(1, GoalLikely, false, 0), at(2, GoalLikely, false, 0)},
			false, 2,
			"Of the searches from seeds 1 to 2 this one, from seed 1, comes closest; none finds what works.",
		},
	} {
		s := Study{Seed: 1, Goal: c.endings[0].Goal, Endings: c.endings, Found: []Found{{Works: c.works}}}
		if got := s.amongSeeds(c.asked, "EUR"); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A search over several seeds that is cancelled gives the best of those that have ended.
func TestLawCancelledSeedsLeaveTheBest(t *testing.T) {
	j := eased(example(t, "can-330-sidewall"), 2)
	o := small(4, 2)
	o.Budget = 120
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	o.Progress = func(done, _ float64, _ string) {
		if done > 1.1 { // the second is on its way
			cancel()
		}
	}
	s, err := SearchSeeds(ctx, j, o, 3)
	if err != nil || s.Interrupted || s.Seed != 4 || len(s.Endings) != 1 {
		t.Fatalf("%v, %+v", err, s)
	}
}
