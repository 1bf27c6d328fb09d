package design

import (
	"math"
	"testing"

	"leste/drying"
)

// The air that is kept is that of the exposer: the water follows it alike. Kept air that is the same on both sides of the
// line is followed on one of them; sums over the container are then twice those over a half, which may differ in the last
// bit: at 13 kPa they do.
func TestLawWaterFollowsKeptAirAsItFollowsTheAir(t *testing.T) {
	s := begun(t, example(t, "can-330-sidewall"))
	g := s.judges[0].concept.ground
	a := s.judges[0].concept.arrange(s.judges[0].concept.rule())
	for _, pressure := range []float64{8e3, 12e3, 13e3} {
		l, err := g.look(t.Context(), a, 0, 10e3, eyeGlimpse)
		if err != nil {
			t.Fatal(err)
		}
		kept, err := l.measures(t.Context(), pressure)
		if err != nil {
			t.Fatal(err)
		}
		p, err := l.problem(t.Context(), pressure)
		if err != nil {
			t.Fatal(err)
		}
		r, ok := p.Passes[0].Air.(*drying.Replay)
		if !ok || r.Kept() < 10 {
			t.Fatalf("the air is kept at no or few positions: %T", p.Passes[0].Air)
		}
		p.Passes[0].Air = r.Air()
		o, err := drying.Transport(t.Context(), &p, drying.TransportOptions{})
		if err != nil {
			t.Fatal(err)
		}
		seen, err := measure(&p, &o, g.formats[0].demands)
		if err != nil {
			t.Fatal(err)
		}
		for i := range seen {
			if !(kept[i] > 0) || math.Abs(seen[i]-kept[i]) > 1e-13*kept[i] {
				t.Errorf("at %g Pa %g of kept air, %g of the air itself", pressure, kept[i], seen[i])
			}
		}
	}
}

func TestLawMeasuresBetweenTwoPressuresLieBetweenThem(t *testing.T) {
	a, b := point{10e3, []float64{2, 0, math.Inf(1)}}, point{11e3, []float64{1, 1, 3}}
	for _, p := range []float64{10e3, 10.3e3, 11e3} {
		m := a.towards(&b, p)
		if m[0] > 2+1e-12 || m[0] < 1-1e-12 || m[1] != 1 || !math.IsInf(m[2], 1) {
			t.Errorf("at %g Pa %v", p, m)
		}
	}
	if m := a.towards(&b, 10e3); math.Abs(m[0]-2) > 1e-12 {
		t.Errorf("at its own pressure %g instead of 2", m[0])
	}
}
