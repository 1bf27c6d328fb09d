package design

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A kernel with nothing but the rest, so that the arithmetic can be followed.
func simple(scale, noise float64) Kernel { return Kernel{Scales: []float64{scale}, Noise: noise} }

// Two places at distance 1 with values 0 and 1: the mean is 1/2, and by hand the value told at any place is
// 1/2 + (k(x, 1) - k(x, 0)) / (2 (1 - k(0, 1))), with k(d) = (1 + d²/4)^-2.
func TestReferenceTwoPlacesByHand(t *testing.T) {
	var p places
	p.add([]float64{0}, false, 0)
	p.add([]float64{1}, false, 1)
	g, ok := regress(simple(1, 0), &p)
	if !ok {
		t.Fatal("two places cannot be joined")
	}
	k := func(d float64) float64 { return 1 / square(1+d*d/4) }
	for _, x := range []float64{-1, 0, 0.3, 0.5, 1, 4} {
		want := 0.5 + (k(x-1)-k(x))/(2*(1-k(1)))
		if got := g.at([]float64{x}); math.Abs(got-want) > 1e-6 {
			t.Errorf("at %g: %.9f, by hand %.9f", x, got, want)
		}
	}
}

func TestLawRegressionKeepsWhatIsKnown(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var p places
	f := func(x, y float64) float64 { return math.Sin(3*x) + 0.5*y*y }
	for range 60 {
		x, y := 2*rng.Float64(), 2*rng.Float64()
		p.add([]float64{x, y}, false, f(x, y))
	}
	g := jointly(Kernel{Scales: []float64{1, 1}, Noise: 1e-6, Sum: 0.5}, &p)
	for i, row := range p.rows {
		if got := g.at(row); math.Abs(got-p.value[i]) > 2e-3 {
			t.Errorf("at %v: %.4f, known %.4f", row, got, p.value[i])
		}
		if s := g.spread(row); s > 0.02 {
			t.Errorf("at %v, which is known: unsure by %.3f", row, s)
		}
	}
	if off := math.Abs(g.at([]float64{1.1, 0.7}) - f(1.1, 0.7)); off > 0.05 {
		t.Errorf("between the places it is off by %.3f", off)
	}
	if near, far := g.spread([]float64{1, 1}), g.spread([]float64{9, 9}); far < 5*near {
		t.Errorf("far from all places it is unsure by %.3f, amid them by %.3f", far, near)
	}
}

// A rough eye that sees everything higher by the same does not raise what is told, once a fine eye has looked too; nor
// does it hide where the least lies.
func TestLawRoughEyesShiftIsLearnt(t *testing.T) {
	const shift = 0.4
	f := func(x float64) float64 { return square(x - 0.6) }
	var p places
	for i := range 21 {
		x := float64(i) / 20
		p.add([]float64{4 * x}, true, f(x)+shift)
	}
	for _, x := range []float64{0.2, 0.5, 0.8} {
		p.add([]float64{4 * x}, false, f(x))
	}
	g, _ := regress(simple(2, 1e-3), &p)
	for _, x := range []float64{0.1, 0.35, 0.6, 0.95} {
		if got := g.at([]float64{4 * x}); math.Abs(got-f(x)) > 0.05 {
			t.Errorf("at %g: %.3f, a fine eye finds %.3f", x, got, f(x))
		}
	}
}

// Tuning tells features that matter from those that do not, and scatter from what is there.
func TestLawTuningFindsWhatMatters(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var p places
	for range 80 {
		x, y := 4*rng.Float64(), 4*rng.Float64()
		p.add([]float64{x, y}, true, math.Sin(2*x)+0.05*rng.NormFloat64())
	}
	k := tune(Kernel{Scales: []float64{1, 1}, Noise: 0.05, Sum: 0.5}, []places{p}, 2)
	if k.Scales[1] < 2*k.Scales[0] {
		t.Errorf("a feature without effect has the scale %.2f, one with it %.2f", k.Scales[1], k.Scales[0])
	}
	if k.Noise > 0.05 {
		t.Errorf("the scatter is a thousandth or so of the variance, not %.3f", k.Noise)
	}
}

func TestLawNothingKnownIsNothingTold(t *testing.T) {
	if _, ok := regress(simple(1, 0), new(places)); ok || jointly(simple(1, 0), new(places)) != nil {
		t.Error("a regression came from no places")
	}
	// Places that coincide, with values that differ, are told by their mean.
	var p places
	for _, v := range []float64{1, 2, 3} {
		p.add([]float64{0.5}, true, v)
	}
	if g, ok := regress(simple(1, 0.01), &p); !ok || math.Abs(g.at([]float64{0.5})-2) > 1e-6 {
		t.Error("three values at one place are not told by their mean")
	}
}
