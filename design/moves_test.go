package design

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"leste/job"
)

// A pair that is tilted steeper goes on sweeping the same height, and one that is aimed farther down goes on meeting the
// container at the same height, as far as lengths and heights can be set.
func TestLawWhatIsCarriedKeepsWhatItDoes(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{Concepts: []string{"tilted manifolds"}})
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	g := &c.groups[0]
	value := func(x []float64, k coordinate) float64 { return c.variables[k.variable].value(x[k.variable]) }
	inside := func(x []float64, k coordinate) bool { return x[k.variable] > 0.01 && x[k.variable] < 0.99 }
	height := c.ground.formats[0].plan.Body.Height
	carried := 0
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(0.05, 0.95), len(c.variables), len(c.variables)).Draw(t, "x")
		to := rapid.Float64Range(0.05, 0.95).Draw(t, "to")
		tilted := append([]float64(nil), x...)
		tilted[g.tilt.variable] = to
		c.carry(tilted, g.tilt.variable, x[g.tilt.variable])
		const flat = 0.06 // a level pair sweeps nothing
		before, after := math.Abs(math.Sin(value(x, g.tilt))), math.Abs(math.Sin(value(tilted, g.tilt)))
		if before > flat && after > flat && inside(tilted, g.length) {
			carried++
			off := value(tilted, g.length)*after - value(x, g.length)*before
			if step := float64(c.ground.sizes.LengthStep); math.Abs(off) > step*after {
				t.Fatalf("tilted from %.2f to %.2f it sweeps %.1f mm more", value(x, g.tilt), value(tilted, g.tilt), off*1e3)
			}
		}
		aimed := append([]float64(nil), x...)
		aimed[g.down.variable] = to
		c.carry(aimed, g.down.variable, x[g.down.variable])
		meets := func(x []float64) float64 {
			return value(x, g.share)*height - value(x, g.clear)*math.Tan(value(x, g.down))
		}
		if off := meets(aimed) - meets(x); inside(aimed, g.share) && math.Abs(off) > 0.011*height {
			t.Fatalf("aimed from %.2f to %.2f it meets the container %.1f mm higher", value(x, g.down), value(aimed, g.down), off*1e3)
		}
	})
	if carried == 0 {
		t.Error("nothing was carried")
	}
}

// What next to nothing is known of is told with a wider spread, and caution keeps from it: of two that are told alike, the
// one that was looked at is the safer.
func TestLawCautionKeepsToWhatWasSeen(t *testing.T) {
	s := begun(t, eased(example(t, "can-330-sidewall"), 2))
	p, j := &s.state.Populations[0], s.judges[0]
	j.eye = s.glimpse()
	if err := s.explore(t.Context(), p, j, 12, 12); err != nil {
		t.Fatal(err)
	}
	if err := s.rounds(t.Context(), p, j, 4); err != nil {
		t.Fatal(err)
	}
	m := j.model(p, true, 1)
	seen := &p.Samples[len(p.Samples)-1]
	near, far := seen.X, j.concept.rule()
	for _, k := range j.concept.active(true) {
		far[k] = 1
	}
	spread := func(x []float64) float64 {
		a := j.concept.arrange(x)
		return m.spread(0, pick(a.features(0, seen.Formats[0].At[0]), m.used))
	}
	if a, b := spread(near), spread(far); !(a < 0.85*b) {
		t.Errorf("where it was looked it is unsure by %.3f, far from there by %.3f", a, b)
	}
	bold, cautious := m.forecast(near, startPressure, 0), m.forecast(near, startPressure, -2)
	if cautious.score < bold.score {
		t.Errorf("told with caution it scores %.3f, without %.3f", cautious.score, bold.score)
	}
}

// Whatever outlets a job may have, their features are numbers.
func TestLawFeaturesAreNumbers(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	kinds := map[string]bool{}
	for _, file := range files {
		s, err := newSearch(example(t, strings.TrimSuffix(filepath.Base(file), ".yaml")), Options{})
		if err != nil {
			continue // not every example is for a search
		}
		for _, j := range s.judges {
			a := j.concept.arrange(j.concept.rule())
			for i := range a.setups {
				kinds[a.setups[i].kind] = true
			}
			for f := range j.concept.ground.formats {
				for _, v := range a.features(f, startPressure) {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Fatalf("%s: %s has the features %v", file, j.concept.name, a.features(f, startPressure))
					}
				}
			}
		}
	}
	if !kinds[job.AirKnife] || !kinds[job.NozzleManifold] {
		t.Errorf("only outlets of the kinds %v were tried", kinds)
	}
}

// What starts from far dearer than another concept does is explored with a third of the work, what starts a little dearer with all of it.
func TestLawWhatStartsFarDearerIsExploredWithLess(t *testing.T) {
	o := small(1, 1)
	o.Concepts = nil
	s, err := newSearch(example(t, "can-330-sidewall"), o)
	if err != nil {
		t.Fatal(err)
	}
	x := s.judges[1].concept.rule()
	for cost, want := range map[float64]int{1000: 1, 2400: 1, 2600: 3} {
		s.state.Order = []int{0, 1}
		s.state.Lent = []Individual{{X: s.judges[0].concept.rule(), Cost: 1000}, {X: x, Cost: cost}}
		if share, err := s.promise(t.Context(), 1); err != nil || share != want {
			t.Errorf("at %g beside 1000 the work is divided by %d, %v", cost, share, err)
		}
	}
	wet := Individual{X: x, Pressure: startPressure, Violation: within(levelWater, 0.1)}
	for cost, want := range map[float64]int{1: 3, 1e6: 1} {
		s.state.Lent = []Individual{{X: s.judges[0].concept.rule(), Cost: cost}, wet}
		if share, err := s.promise(t.Context(), 1); err != nil || share != want {
			t.Errorf("too wet beside a cost of %g the work is divided by %d, %v", cost, share, err)
		}
	}
}
