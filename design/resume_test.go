package design

import (
	"context"
	"encoding/json"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// impatient is a context that is cancelled once it has been asked so many times whether it is.
type impatient struct {
	context.Context
	left   *atomic.Int64
	cancel func()
}

func (c impatient) Err() error {
	if c.left.Add(-1) == 0 {
		c.cancel()
	}
	return c.Context.Err()
}

// again reads a state as a file of it is.
func again(t *testing.T, s State) *State {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	back := new(State)
	if err := json.Unmarshal(text, back); err != nil {
		t.Fatal(err)
	}
	return back
}

// A search that is cancelled in the middle of a step, and resumed, ends where it would have ended.
func TestLawSearchCancelledAnywhereEndsAtTheSameStudy(t *testing.T) {
	const first, most = 6000, 3
	j := eased(example(t, "can-330-sidewall"), 2)
	whole, err := Search(t.Context(), j, small(7, 2))
	if err != nil {
		t.Fatal(err)
	}
	o, cut := small(7, 2), 0
	for asks := int64(first); cut < most; asks = asks * 3 / 2 {
		ctx, cancel := context.WithCancel(t.Context())
		left := new(atomic.Int64)
		left.Store(asks)
		study, err := Search(impatient{ctx, left, cancel}, j, o)
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if !study.Interrupted {
			break
		}
		cut++
		t.Logf("cut in phase %d, step %d", study.State.Phase, len(study.State.Done))
		o.Resume = again(t, study.State)
	}
	resumed, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(stateOf(t, whole), stateOf(t, resumed)); diff != "" || cut == 0 {
		t.Errorf("cut %d times it ends elsewhere:\n%s", cut, diff)
	}
	if diff := cmp.Diff(whole.Reasons, resumed.Reasons); diff != "" {
		t.Errorf("it is told otherwise:\n%s", diff)
	}
}

// A station whose plenum pressure has been settled is not settled anew after the search was resumed.
func TestLawResumedSearchKnowsWhatWasAssessed(t *testing.T) {
	j := example(t, "can-330-sidewall")
	s := begun(t, j)
	f := s.found(0, &Individual{X: s.judges[0].concept.rule(), Pressure: startPressure})
	if s.knows(f.Job) {
		t.Fatal("what has not been assessed is known")
	}
	if err := s.tell(t.Context(), &Study{Goal: GoalLikely}, &f); err != nil {
		t.Fatal(err)
	}
	s.save()
	o := s.options
	o.Resume = again(t, s.saved)
	later, err := newSearch(j, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := later.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	if !later.knows(f.Job) {
		t.Error("what was assessed is not known any more")
	}
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if later.state.Phase, err = phaseSight, later.run(stopped); err == nil {
		t.Fatal("it went on")
	}
	for _, j := range later.judges { // a step of one concept may have others judged again
		if j.eye != later.glimpse() {
			t.Errorf("%s is looked at with the eye %d, a search that was not interrupted does so with %d", j.concept.name, j.eye, later.glimpse())
		}
	}
}

// A saved state that was cut or edited is refused, whatever is missing in it, and what a search has saved is not.
func TestLawDamagedStatesAreRefused(t *testing.T) {
	j := eased(example(t, "can-330-sidewall"), 2)
	var saved []State
	o := small(7, 2)
	o.Save = func(s State) { saved = append(saved, s) }
	if _, err := Search(t.Context(), j, o); err != nil {
		t.Fatal(err)
	}
	s, err := newSearch(j, small(7, 2))
	if err != nil {
		t.Fatal(err)
	}
	for i := range saved {
		if !s.sound(&saved[i]) {
			t.Fatalf("state %d of %d that a search saved is told to be damaged", i, len(saved))
		}
	}
	for name, damage := range map[string]func(r *State){
		"phase":     func(r *State) { r.Phase = 99 },
		"goal":      func(r *State) { r.Goal = "" },
		"order":     func(r *State) { r.Order = []int{3} },
		"lent":      func(r *State) { r.Order, r.Lent = []int{0}, nil },
		"confirmed": func(r *State) { r.Confirmed = []int{-1} },
		"concept":   func(r *State) { r.Populations[0].Concept = "another" },
		"member":    func(r *State) { r.Populations[0].Members[0].X = r.Populations[0].Members[0].X[1:] },
		"sights":    func(r *State) { r.Populations[0].Sights[0] = nil },
		"sample":    func(r *State) { r.Populations[0].Samples[0].X = nil },
		"formats":   func(r *State) { r.Populations[0].Samples[0].Formats = nil },
		"pressures": func(r *State) { r.Populations[0].Samples[0].Formats = []Seen{{At: []float64{1e3}}} },
		"water": func(r *State) {
			r.Populations[0].Samples[0].Formats = []Seen{{At: []float64{1e3}, Water: [][]float64{{}}}}
		},
		"kernel":         func(r *State) { r.Populations[0].Kernels.Holds.Scales = nil },
		"no populations": func(r *State) { r.Populations = nil },
	} {
		bad := saved[len(saved)/2].clone()
		damage(&bad)
		o := small(7, 2)
		o.Resume = &bad
		if _, err := Search(t.Context(), j, o); err == nil {
			t.Errorf("%s: a damaged state was taken up", name)
		}
	}
}
