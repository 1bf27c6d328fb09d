package design

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Candidates are compared on the cells of an assessment several at once; which one wins does not depend on how many. The
// winner is one of those that the model tells of with caution, and what was followed of it is kept.
func TestLawTheSameCandidateWinsOnOneAndTwoWorkers(t *testing.T) {
	const n = 3
	won := func(workers int) ([]Individual, int) {
		o := Options{Seed: 4, Budget: 240, Workers: workers, Concepts: []string{"tilted manifolds"}}
		s, err := newSearch(eased(example(t, "can-330-sidewall"), 2), o)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.begin(t.Context()); err != nil {
			t.Fatal(err)
		}
		p, j := &s.state.Populations[0], s.judges[0]
		j.eye = s.glimpse()
		if err := s.explore(t.Context(), p, j, 6, 12); err != nil {
			t.Fatal(err)
		}
		list, err := s.finalists(t.Context(), p, j, n)
		if err != nil {
			t.Fatal(err)
		}
		if len(list) != n {
			t.Fatalf("%d are compared", len(list))
		}
		if err := s.contest(t.Context(), 0, n); err != nil {
			t.Fatal(err)
		}
		if len(p.Members) != 1 || !slices.ContainsFunc(list, func(i Individual) bool { return slices.Equal(i.X, p.Members[0].X) }) {
			t.Errorf("%+v won and was not among those compared", p.Members)
		}
		return p.Members, len(s.onFine)
	}
	one, kept := won(1)
	two, keptOfTwo := won(2)
	if diff := cmp.Diff(one, two); diff != "" || kept != keptOfTwo {
		t.Errorf("one and two workers differ, with %d and %d jobs followed:\n%s", kept, keptOfTwo, diff)
	}
	if kept < n {
		t.Errorf("of %d candidates %d jobs were followed", n, kept)
	}
}
