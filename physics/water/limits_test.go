package water

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"leste/physics/air"
	"leste/quantity"
)

// The smallest drop that moves is where push and hold are equal, at rest and on the move, with and without slopes.
func TestLawCriticalDropIsInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Pure(quantity.Celsius(rapid.Float64Range(2, 80).Draw(t, "water")))
		receding := rapid.Float64Range(15, 90).Draw(t, "receding")
		w := Wetting{Advancing: quantity.Degrees(receding + rapid.Float64Range(8, 50).Draw(t, "hysteresis")), Receding: quantity.Degrees(receding)}
		s := Stream{
			Density: 1.15, Nu: 1.6e-5, Shear: quantity.Stress(rapid.Float64Range(2, 200).Draw(t, "tau")), Edge: quantity.Speed(rapid.Float64Range(30, 200).Draw(t, "edge")),
			Gradient: quantity.PressureGradient(rapid.Float64Range(0, 1e6).Draw(t, "slope")),
		}
		v := quantity.Speed(rapid.Float64Range(0, 2).Draw(t, "v"))
		d := CriticalDiameter(l, w, s, 0.2, v)
		if math.IsInf(float64(d), 1) || d <= smallestDrop {
			t.Skip("all of them move, or none")
		}
		moving := w.At(quantity.Ratio(float64(l.Viscosity) * float64(v) / float64(l.Tension)))
		push, hold := s.Push(d, w.Mean(), 0.2), RetentionForce(l, moving, d)
		if math.Abs(float64(push/hold)-1) > 1e-6 {
			t.Fatalf("%g m: pushed with %g N, held with %g N", d, push, hold)
		}
		if under := s.Push(0.9*d, w.Mean(), 0.2) / RetentionForce(l, moving, 0.9*d); under > 1 {
			t.Fatalf("a smaller drop moves as well: push over hold %g", under)
		}
	})
}

// On a wall where it slides by itself at all, the largest drop that stays has its weight equal to its hold; less slope
// holds more.
func TestLawSlideIsInBalance(t *testing.T) {
	w := Pure(293.15)
	for _, incline := range []float64{5, 30, 90} {
		d := SlideDiameter(w, bottle, quantity.Degrees(incline))
		weight := float64(w.Density) * Gravity * float64(SlideVolume(w, bottle, quantity.Degrees(incline))) * math.Sin(incline*math.Pi/180)
		if hold := float64(RetentionForce(w, bottle, d)); math.Abs(weight/hold-1) > 1e-9 {
			t.Errorf("%g degrees: weight %g, hold %g N", incline, weight, hold)
		}
	}
	if d := SlideDiameter(w, bottle, 0); !math.IsInf(float64(d), 1) {
		t.Errorf("on a level wall a drop of %g m slides", d)
	}
}

// Near the wall the air's speed is that of a viscous layer, far from it that of the logarithmic one, without a step.
func TestLawTheWallHasItsTwoEnds(t *testing.T) {
	for _, y := range []float64{1e-6, 0.1, 1} {
		if u := LawOfTheWall(y); math.Abs(u/y-1) > 0.03 {
			t.Errorf("u+ %g at y+ %g", u, y)
		}
	}
	for _, y := range []float64{60, 200, 1000} {
		if u, log := LawOfTheWall(y), 2.5*math.Log(y)+5.5; math.Abs(u/log-1) > 0.02 {
			t.Errorf("u+ %g at y+ %g, %g by the logarithm", u, y, log)
		}
	}
	rises(t, "speed over height", 0, 300, LawOfTheWall)
	s := Stream{Density: 1.2, Nu: 1.5e-5, Shear: 10, Edge: 30}
	if u := s.SpeedAt(1); u != s.Edge {
		t.Errorf("far from the wall %g m/s, more than %g", u, s.Edge)
	}
}

// Thin caps and round ones: volume, front and height join the flat limit and the hemisphere.
func TestLawCaps(t *testing.T) {
	for _, c := range []struct{ got, want float64 }{
		{CapVolumeFactor(1e-4) / (math.Pi / 32 * 1e-4), 1},
		{CapFrontFactor(1e-4) / (1e-4 / 6), 1},
		{CapHeightFactor(1e-4) / (1e-4 / 4), 1},
		{CapVolumeFactor(math.Pi / 2), math.Pi / 12},
		{CapHeightFactor(math.Pi / 2), 0.5},
		{CapFrontFactor(0.999999e-3) / CapFrontFactor(1e-3), 1},
	} {
		if math.Abs(c.got-c.want) > 2e-6 { // the sizes differ by a millionth where the forms join
			t.Errorf("%g, want %g", c.got, c.want)
		}
	}
	rises(t, "volume over angle", 0.05, 3, func(a float64) float64 { return CapVolumeFactor(quantity.Angle(a)) })
	rises(t, "front over angle", 0.05, 3, func(a float64) float64 { return CapFrontFactor(quantity.Angle(a)) })
}

// Between 6 and 12 degrees of receding angle the critical film fades in, without a step; above, the least of three
// heights counts.
func TestLawCriticalFilmFadesOut(t *testing.T) {
	w := Pure(293.15)
	contact := quantity.Degrees(50)
	at := func(receding float64) float64 {
		return float64(CriticalFilm(w, contact, quantity.Degrees(receding), 50, 0))
	}
	whole := float64(ShearCriticalFilm(w, contact, 50))
	if at(5.9) != 0 || math.Abs(at(12.1)/whole-1) > 1e-9 || math.Abs(at(9)/whole-0.5) > 1e-9 {
		t.Errorf("%g, %g, %g of %g m", at(5.9), at(9), at(12.1), whole)
	}
	last := 0.0
	for r := 5.0; r < 14; r += 0.05 {
		h := at(r)
		if h < last || h-last > 0.02*whole {
			t.Errorf("%g degrees: %g m after %g", r, h, last)
		}
		last = h
	}
	if h := CriticalFilm(w, contact, 1, 1e-3, 0); h != PuddleHeight(w, contact) {
		t.Errorf("with hardly any air %g m, a puddle has %g", h, PuddleHeight(w, contact))
	}
	if h := CriticalFilm(w, contact, 1, 1e-3, -Gravity); h != GravityCriticalFilm(w, contact, Gravity) {
		t.Errorf("under its weight %g m, the relation gives %g", h, GravityCriticalFilm(w, contact, Gravity))
	}
}

// Where one law takes over from another there is no step: dewetting, withdrawn film, wiping without shear.
func TestLawSwitchesHaveNoSteps(t *testing.T) {
	w := Pure(293.15)
	smooth := func(what string, from, to float64, f func(float64) float64) {
		t.Helper()
		const n = 2000
		last := f(from)
		for i := 1; i <= n; i++ {
			x := from * math.Pow(to/from, float64(i)/n)
			v := f(x)
			if math.IsNaN(v) || math.Abs(math.Log(v/last)) > 8*math.Log(to/from)/n {
				t.Fatalf("%s steps from %g to %g at %g", what, last, v, x)
			}
			last = v
		}
	}
	smooth("dewetting over film", 1e-7, 1e-2, func(h float64) float64 { return float64(DewettingSpeed(w, closure.Receding, quantity.Length(h))) })
	smooth("withdrawn film over speed", 1e-4, 10, func(u float64) float64 { return float64(WithdrawnFilm(w, quantity.Speed(u))) })
	smooth("wiped film over slope", 1e-2, 1e9, func(p float64) float64 { return WipedFilmSI(1e-3, 1, 5, p) })
	smooth("wiped film over shear", 1e-6, 1e3, func(tau float64) float64 { return WipedFilmSI(1e-3, 1, tau, 1e5) })
	smooth("clearing time over width", 1e-5, 3e-3, func(x float64) float64 { return float64(Crevice{quantity.Length(x), 0.02}.ClearingTime(w, 2000)) })
	smooth("fillet over pressure", 10, 1e5, func(p float64) float64 { return float64(CornerFillet(w, quantity.Gauge(p))) })
	smooth("ridge over air", 1, 100, func(u float64) float64 { return float64(RidgeCapacity(w, bottle, 1.2, quantity.Speed(u), 1)) })
	if DewettingSpeed(w, closure.Receding, 0) != DewettingSpeed(w, closure.Receding, 1e-9) {
		t.Error("a film of no thickness draws back at another speed than a very thin one")
	}
}

// What holds a film back: nothing lets all of it pass, a wall at rest nothing; weight that helps it along lets it pass.
func TestLawWipingAtItsEnds(t *testing.T) {
	w := Pure(293.15)
	if h := WipedFilm(w, 1, 0, 0); !math.IsInf(float64(h), 1) {
		t.Errorf("no air holds %g m back", h)
	}
	if h := WipedFilm(w, 0, 10, 0); h != 0 {
		t.Errorf("a wall at rest carries %g m", h)
	}
	if h := WipedFilm(w, 1, 1, -1e9); !math.IsInf(float64(h), 1) {
		t.Errorf("driven along, %g m pass", h)
	}
	if h := WipedFilm(w, 1, -5, 0); !math.IsInf(float64(h), 1) {
		t.Errorf("blown along, %g m pass", h)
	}
	// The flux is greatest at the throat, and there it is what passes.
	mu := float64(w.Viscosity)
	for _, c := range [][3]float64{{0.5, 20, 0}, {1, 50, 1e6}, {2, 5, 3e5}, {1, 60, -1e5}} {
		u, tau, p := c[0], c[1], c[2]
		flux := func(h float64) float64 { return u*h - tau*h*h/(2*mu) - p*h*h*h/(3*mu) }
		h := float64(Throat(w, quantity.Speed(u), quantity.Stress(tau), quantity.PressureGradient(p)))
		if flux(h) < flux(0.999*h) || flux(h) < flux(1.001*h) {
			t.Errorf("%v: the throat of %g m is not the greatest flux", c, h)
		}
		if film := WipedFilmSI(mu, u, tau, p); math.Abs(flux(h)/u/film-1) > 1e-9 {
			t.Errorf("%v: %g m pass, flux over speed %g", c, film, flux(h)/u)
		}
	}
}

// A puddle's weight presses its edge outwards as hard as tension holds it: rho g h2/2 = sigma (1 - cos). A ridge of
// Weber number 10 is torn, and what is torn off it has 12.
func TestLawEdgesOfWater(t *testing.T) {
	w := Pure(293.15)
	for _, contact := range []quantity.Angle{0.2, 1, 1.5, 2.5} {
		h := float64(PuddleHeight(w, contact))
		if press, hold := float64(w.Density)*Gravity*h*h/2, float64(w.Tension)*(1-math.Cos(float64(contact))); math.Abs(press/hold-1) > 1e-9 {
			t.Errorf("%g degrees: pressed with %g, held with %g N/m", contact.Deg(), press, hold)
		}
	}
	for u := quantity.Speed(10); u < 100; u += 20 {
		if we := MistWeber(w, 1.2, u, MistSize(w, 1.2, u)); math.Abs(float64(we)-12) > 1e-9 {
			t.Errorf("mist of Weber number %g at %g m/s", we, u)
		}
	}
	one, two := ShearedFilm(w, 0.03, 20, 0.1), ShearedFilm(w, 0.03, 40, 0.3)
	if math.Abs(float64(one/two)-6) > 1e-9 {
		t.Errorf("twice the shear for thrice the time leaves 1/%g of the film", one/two)
	}
}

// A drop whose angle stays while its edge recedes loses mass in proportion to its size: the water of a small step in
// diameter over the rate there, added up, is its lifetime.
func TestLawRecedingDropLastsAsLongAsItsWater(t *testing.T) {
	w, room, angle := Pure(293.15), air.Humid(101325, 298.15, 0.5), quantity.Degrees(50)
	pinned, receding := SessileLifetime(1e-3, angle, w, room, 293.15)
	const n = 20000
	sum := 0.0
	for i := range n {
		lo, hi := quantity.Length(float64(i)/n*1e-3), quantity.Length(float64(i+1)/n*1e-3)
		kg := float64(w.Density) * float64(CapVolume(hi, angle)-CapVolume(lo, angle))
		sum += kg / float64(SessileRate((lo+hi)/2, angle, room, 293.15, 1))
	}
	if math.Abs(sum/float64(receding)-1) > 1e-6 || !(receding > pinned) {
		t.Errorf("receding %g s, added up %g, pinned %g", receding, sum, pinned)
	}
}

// Shares stay shares and fronts keep their order.
func TestLawShares(t *testing.T) {
	for wet := quantity.Ratio(0); wet <= 1; wet += 0.25 {
		if s := FilmShare(wet); s < dryFrontRest || s > 1 || wet == 1 && math.Abs(float64(s)-1) > 1e-12 {
			t.Errorf("wet %g leaves %g", wet, s)
		}
	}
	if s := SmallDropShare(0, 0.3, 0.005, 0.1); s != 0.005 {
		t.Errorf("at rest %g", s)
	}
	rises(t, "small drops over speed", 0.1, 2, func(u float64) float64 { return float64(SmallDropShare(quantity.Speed(u), 0.3, 0.005, 0.1)) })
	if s := BrokenShare(0, 1); s != 0 {
		t.Errorf("at once %g of the film has broken", s)
	}
	rises(t, "broken share over time", 0.01, 5, func(x float64) float64 { return float64(BrokenShare(quantity.Duration(x), 1)) })
	if s := BrokenShare(3, 3); math.Abs(float64(s)-(1-1/math.E)) > 1e-12 {
		t.Errorf("in its time %g of the film breaks", s)
	}
	if b := BreakUpTime(4e-3, 0); !math.IsInf(float64(b), 1) {
		t.Errorf("a film that does not draw back breaks in %g s", b)
	}
	if _, err := RejectUpper(0, 1, 0.95); err != nil {
		t.Errorf("a sample of one: %v", err)
	}
	for p := quantity.Ratio(1e-6); p < 1; p *= 3 {
		if back := RejectRate(DropsFor(p)); math.Abs(float64(back/p)-1) > 1e-9 {
			t.Errorf("reject rate %g became %g", p, back)
		}
	}
	for v, n := range map[quantity.Volume]int{0: 0, 0.9e-9: 0, 1.1e-9: 1, 5.5e-9: 5, quantity.Volume(math.NaN()): 0} {
		if got := RunDown(v, 1e-9); got != n {
			t.Errorf("%g m3 run down in %d streaks, want %d", v, got, n)
		}
	}
}

// All drops of a population are as much water as the film they come from.
func TestLawPopulationKeepsItsWater(t *testing.T) {
	w, contact := Pure(293.15), quantity.Degrees(65)
	for _, spread := range []quantity.Ratio{0, 0.25, 0.6} {
		p := FromFilm(5e-6, 4e-3, contact, spread)
		number := p.NumberAbove(1e-9, w, contact)
		mean := float64(CapVolume(1, contact)) * cube(float64(p.Median)*math.Exp(-1.5*float64(spread*spread)))
		if water := number * float64(w.Density) * mean; math.Abs(water-1) > 1e-9 {
			t.Errorf("spread %g: %g kg of 1", spread, water)
		}
		if mean/(2.54*math.Pow(5e-6*4e-3, 1.5))-1 > 1e-9 {
			t.Errorf("spread %g: mean volume %g", spread, mean)
		}
		// Half of the drops are larger than the median by number, which lies three variances below that by volume.
		if spread > 0 {
			half := p.NumberAbove(p.Median*quantity.Length(math.Exp(-3*float64(spread*spread))), w, contact)
			if math.Abs(half/number-0.5) > 1e-9 {
				t.Errorf("spread %g: %g of the drops above their median", spread, half/number)
			}
			rises(t, "number above a falling size", -5, 3, func(x float64) float64 { // in standard deviations
				return p.NumberAbove(p.Median*quantity.Length(math.Exp(-x*float64(spread))), w, contact)
			})
		}
	}
}

// The share of a crevice's water that is out grows with the time and is all of it at the clearing time.
func TestLawClearedShare(t *testing.T) {
	w, c := Pure(293.15), Crevice{2e-4, 0.01}
	whole := float64(c.ClearingTime(w, 3000))
	rises(t, "share out", 0, 0.999, func(x float64) float64 { return float64(c.ClearedShare(w, 3000, quantity.Duration(x*whole))) })
	if s := c.ClearedShare(w, 3000, quantity.Duration(whole)); math.Abs(float64(s)-1) > 1e-9 {
		t.Errorf("at the clearing time %g is out", s)
	}
	if s := c.ClearedShare(w, -10, 1); s != 0 {
		t.Errorf("without pressure %g is out", s)
	}
	if s := c.ClearingTime(w, 0); !math.IsInf(float64(s), 1) {
		t.Errorf("without pressure cleared in %g s", s)
	}
	// Water that is pulled back stops and stays.
	slow := PushedWater{Length: 0.01, Speed: 0.1}.After(w, 2e-4, -5000, 1)
	if slow.Speed != 0 || slow.Length >= 0.01 || slow.Length <= 0 {
		t.Errorf("pulled back it is %+v", slow)
	}
	if m := MeniscusFilm(w, 1e3); !(m < 1.337/3.34 && m > 0.35) {
		t.Errorf("a fast meniscus leaves %g", m)
	}
}

// A drop pushed to a speed is held by its moving angles as much as it is pushed.
func TestLawMobilityInvertsTheMovingAngles(t *testing.T) {
	for _, w := range []Wetting{bottle, closure, {quantity.Degrees(65), quantity.Degrees(12)}} {
		m := NewMobility(w)
		// Pushed ever harder it ends where the receding angle is 0 or the advancing one 180 degrees, whichever is later.
		last := max(cube(math.Pi)-cube(float64(w.Advancing)), cube(float64(w.Receding))) / hysteresisSlope
		if got := m.CapillarySI(2); math.Abs(got/last-1) > 1e-9 {
			t.Errorf("%v: pushed hard %g, the angles end at %g", w, got, last)
		}
		for ca := 1e-4; ca < 0.01; ca *= 1.4 {
			push := float64(w.At(quantity.Ratio(ca)).Hysteresis())
			if got := m.CapillarySI(push); math.Abs(got-ca) > 1e-3*ca+1e-5 {
				t.Errorf("%v: capillary number %g became %g", w, ca, got)
			}
		}
	}
}

// A product that condensation warms takes up the heat of what condensed.
func TestLawCondensationWarms(t *testing.T) {
	c := ColdProduct{
		Surface:  air.Surface{Air: air.Humid(101325, 301.15, 0.65), Heat: 12, Product: 277.15, Inward: 300},
		Capacity: 1400, Area: 0.03,
	}
	g := c.After(30)
	latent := float64(c.WarmingBy(g.Condensate))
	if whole := float64(g.Product - c.Surface.Product); !(whole > latent && whole < 4*latent && latent > 0) {
		t.Errorf("warmed by %g K, of which %g K by what condensed", whole, latent)
	}
}

// Whatever is asked, nothing panics and nothing runs for ever.
func TestLawEveryRelationIsTotal(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{
		math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), -1, 1e-300, 1e300, -1e300,
	}))
	rapid.Check(t, func(t *rapid.T) {
		x, y, z := odd.Draw(t, "x"), odd.Draw(t, "y"), odd.Draw(t, "z")
		w := Wetting{Advancing: quantity.Angle(x), Receding: quantity.Angle(y)}
		for _, l := range []Liquid{Pure(293.15), Pure(quantity.Temperature(x))} {
			WipedFilm(l, quantity.Speed(x), quantity.Stress(y), quantity.PressureGradient(z))
			WithdrawnFilm(l, quantity.Speed(x))
			DewettingSpeed(l, quantity.Angle(x), quantity.Length(y))
			WetShare(l, quantity.Angle(x), quantity.Speed(y))
			CriticalFilm(l, quantity.Angle(x), quantity.Angle(y), quantity.Stress(z), x)
			SlideDiameter(l, w, quantity.Angle(z))
			s := Stream{Density: quantity.Density(x), Nu: quantity.KinematicViscosity(y), Shear: quantity.Stress(z), Edge: quantity.Speed(x), Gradient: quantity.PressureGradient(y)}
			CriticalDiameter(l, w, s, quantity.Ratio(y), quantity.Speed(z))
			CriticalDiameter(l, bottle, s, 0.2, 1)
			RidgeCapacity(l, w, quantity.Density(x), quantity.Speed(y), quantity.Angle(z))
			CreviceHold(l, quantity.Length(z), w, bottle)
			c := Crevice{quantity.Length(x), quantity.Length(y)}
			c.ClearedShare(l, quantity.PressureDrop(z), quantity.Duration(x))
			SessileLifetime(quantity.Length(x), quantity.Angle(y), l, air.Humid(101325, 298.15, 0.5), quantity.Temperature(z))
		}
		ViscousCleared(x)
		InertialCleared(x)
		RunDown(quantity.Volume(x), quantity.Volume(y))
		p := Population{quantity.Length(x), quantity.Ratio(y)}
		p.ShareBelowWithin(quantity.Length(z), quantity.Length(x))
		if math.IsNaN(x) {
			for name, v := range map[string]float64{
				"tension": float64(Tension(quantity.Temperature(x))), "viscosity": float64(Viscosity(quantity.Temperature(x))),
				"density": float64(Density(quantity.Temperature(x))), "law of the wall": LawOfTheWall(x), "volume": CapVolumeFactor(quantity.Angle(x)),
				"wiped film": float64(WipedFilm(Pure(293.15), quantity.Speed(x), 10, 0)), "critical drop": float64(CriticalDiameter(Pure(293.15), bottle, Stream{Density: 1.2, Nu: 1.5e-5, Shear: quantity.Stress(x), Edge: 50}, 0.2, 0)),
			} {
				if !math.IsNaN(v) {
					t.Fatalf("%s of no number is %g", name, v)
				}
			}
		}
	})
}
