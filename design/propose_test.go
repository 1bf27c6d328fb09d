package design

import "testing"

// Every opening and spacing of the best is looked at a size larger and a size smaller, whatever a model tells of it, and
// nothing else of it is changed.
func TestLawSizesBesideTheBestAreLookedAt(t *testing.T) {
	o := small(3, 2)
	o.Concepts = []string{"tilted manifolds"}
	s, err := newSearch(eased(example(t, "can-330-sidewall"), 3), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	j, p := s.judges[0], &s.state.Populations[0]
	j.eye = s.glimpse()
	if err := s.start(t.Context(), p, j); err != nil {
		t.Fatal(err)
	}
	before := len(p.Samples)
	told := j.model(p, true, 1).tell(p)
	if err := s.resize(t.Context(), p, j); err != nil {
		t.Fatal(err)
	}
	tried := map[string]int{}
	for _, k := range p.Samples[before:] {
		differs := -1
		for i := range k.X {
			if k.X[i] != told[0].x[i] {
				if differs >= 0 {
					t.Errorf("it differs in %s and in %s", j.concept.variables[differs].Name, j.concept.variables[i].Name)
				}
				differs = i
			}
		}
		tried[j.concept.variables[differs].Name]++
	}
	if tried["bore of the side manifolds"] == 0 || tried["spacing of the side manifolds"] == 0 || len(tried) != 2 {
		t.Errorf("tried are %v", tried)
	}
}
