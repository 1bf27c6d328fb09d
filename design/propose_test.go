package design

import (
	"slices"
	"testing"
)

// The opening and the spacing of the best are looked at a size larger and a size smaller, and both at once, whatever a model
// tells of them, as far as they fit: each once.
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
	index := func(name string) int {
		return slices.IndexFunc(j.concept.variables, func(v Variable) bool { return v.Name == name })
	}
	tried := map[[2]int]int{}
	for _, k := range p.Samples[before:] {
		var by [2]int
		for i, v := range [2]int{index("bore of the side manifolds"), index("spacing of the side manifolds")} {
			of := &j.concept.variables[v]
			was, is := slices.Index(of.Sizes, of.value(told[0].x[v])), slices.Index(of.Sizes, of.value(k.X[v]))
			if by[i] = is - was; by[i] < -1 || by[i] > 1 {
				t.Errorf("%s is %d sizes off", of.Name, by[i])
			}
		}
		tried[by]++
	}
	const beside = 8
	if tried[[2]int{}] > 0 || len(tried) > beside || len(tried) < beside/2 {
		t.Errorf("tried are %v", tried)
	}
	for by, n := range tried {
		if n > 1 {
			t.Errorf("sizes %v off are looked at %d times", by, n)
		}
	}
}
