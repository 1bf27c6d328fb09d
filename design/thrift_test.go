package design

import (
	"math"
	"testing"
)

// spread are points of a concept all over its space, each with a plenum pressure that it may need [Pa].
func spread(c *concept, n int, visit func(x []float64, need float64)) {
	for i := range n {
		x := c.rule()
		for _, k := range c.active(true) {
			x[k] = math.Mod(0.1+0.37*float64(i+k), 1)
		}
		visit(x, 1.2e3*math.Pow(1.07, float64(i)))
	}
}

// A candidate is paid at no less than it needs, for no more than just that costs; where nothing gives just that, more may.
func TestLawMoreAirThanIsNeededCostsNoMore(t *testing.T) {
	s, err := newSearch(example(t, "design-pet-sketch"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	less, alone := 0, 0
	for _, j := range s.judges {
		spread(j.concept, 40, func(x []float64, need float64) {
			just, best := Individual{X: x, Pressure: need}, Individual{X: x, Pressure: need}
			if err := j.trial(x).pay(t.Context(), &just); err != nil {
				t.Fatal(err)
			}
			most := furthest * need
			if err := j.trial(x).thrifty(t.Context(), &best, most); err != nil {
				t.Fatal(err)
			}
			switch {
			case best.Pressure < need || best.Pressure > most:
				t.Errorf("%s: it needs %.0f Pa and is paid at %.0f", j.concept.name, need, best.Pressure)
			case just.feasible() && (!best.feasible() || best.Cost > just.Cost):
				t.Errorf("%s: at %.0f Pa it costs %.0f, at the %.0f that it needs %.0f", j.concept.name, best.Pressure, best.Cost, need, just.Cost)
			case just.feasible() && best.Pressure > need:
				less++
			case !just.feasible() && best.feasible():
				alone++
			}
		})
	}
	if less < 10 || alone == 0 {
		t.Errorf("%d cost less with more air, %d have a blower for that alone: it has hardly been tried", less, alone)
	}
}

// Air is taken from a station only where that saves something, whatever blowers there are.
func TestLawLessAirNeverCostsMore(t *testing.T) {
	s := begun(t, example(t, "design-pet-sketch"))
	saved, kept := 0, 0
	for i, j := range s.judges {
		spread(j.concept, 24, func(x []float64, need float64) {
			ind := Individual{X: x, Pressure: need}
			if err := j.trial(x).pay(t.Context(), &ind); err != nil {
				t.Fatal(err)
			}
			if !ind.feasible() {
				return
			}
			f := s.found(i, &ind)
			next, ok, err := s.blown(t.Context(), &f, 0.6)
			switch {
			case err != nil:
				t.Fatal(err)
			case !ok:
				kept++
			case next.Cost > f.Cost || next.Pressure >= f.Pressure:
				t.Errorf("%s: from %.0f Pa for %.0f to %.0f Pa for %.0f", j.concept.name, float64(f.Pressure), f.Cost, float64(next.Pressure), next.Cost)
			default:
				saved++
			}
		})
	}
	if saved < 3 || kept < 1 {
		t.Errorf("%d saved, %d were kept: it has hardly been tried", saved, kept)
	}
}

// A tariff tells what the air side of a candidate costs a year, of most to a few per cent, at the plenum pressure at which it
// costs least of those that do.
func TestLawTariffTellsWhatTheAirCosts(t *testing.T) {
	const close, most = 0.07, 0.75
	for _, name := range []string{"cans-three-sizes", "design-pet-sketch"} {
		s, err := newSearch(example(t, name), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range s.judges {
			c := j.concept
			tried, met := 0, 0
			spread(c, 24, func(x []float64, need float64) {
				a := c.arrange(x)
				told, at := c.tariff.least(c, a.opening(), need, furthest*need)
				if at < math.Log(need)-1e-9 || at > math.Log(furthest*need)+1e-9 {
					t.Errorf("%s needs %.0f Pa, the tariff takes %.0f", c.name, need, math.Exp(at))
				}
				ind := Individual{X: x, Pressure: need}
				if err := j.trial(x).thrifty(t.Context(), &ind, furthest*need); err != nil {
					t.Fatal(err)
				}
				tried++
				if math.IsInf(told, 1) == ind.feasible() {
					return
				}
				if !ind.feasible() || math.Abs(told-math.Log(ind.Cost)) < close {
					met++
				}
			})
			if float64(met) < most*float64(tried) {
				t.Errorf("%s, %s: of %d the tariff tells %d", name, c.name, tried, met)
			}
		}
	}
}
