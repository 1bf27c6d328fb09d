package water

import (
	"math"
	"testing"

	"leste/physics/air"
	"leste/physics/relation"
	"leste/quantity"
)

// A worked example was worked apart from the code, to the digits that its card states.
func TestReferenceWorkedExamples(t *testing.T) {
	type values = func(string) float64
	w20 := Pure(293.15)
	angles := func(v values) Wetting { return Wetting{quantity.Angle(v("ta")), quantity.Angle(v("tr"))} }
	worked := map[string]func(values) float64{
		"surface-tension": func(v values) float64 { return float64(Tension(quantity.Temperature(v("T")))) },
		"water-viscosity": func(v values) float64 { return float64(Viscosity(quantity.Temperature(v("T")))) },
		"water-density":   func(v values) float64 { return float64(Density(quantity.Temperature(v("T")))) },
		"moving-contact-angle": func(v values) float64 {
			return float64(Wetting{Advancing: quantity.Angle(v("ta"))}.At(quantity.Ratio(v("Ca"))).Advancing)
		},
		"cap":             func(v values) float64 { return float64(CapVolume(quantity.Length(v("d")), quantity.Angle(v("th")))) },
		"retention":       func(v values) float64 { return float64(RetentionForce(w20, angles(v), quantity.Length(v("d")))) },
		"slide":           func(v values) float64 { return float64(SlideDiameter(w20, angles(v), quantity.Angle(v("al")))) },
		"law-of-the-wall": func(v values) float64 { return LawOfTheWall(v("y+")) },
		"drop-balance": func(v values) float64 {
			s := Stream{Density: quantity.Density(v("rho_a")), Nu: quantity.KinematicViscosity(v("nu")), Shear: quantity.Stress(v("tau")), Edge: quantity.Speed(v("ue"))}
			return float64(CriticalDiameter(w20, angles(v), s, quantity.Ratio(v("CD")), quantity.Speed(v("v"))))
		},
		"ridge": func(v values) float64 {
			return float64(RidgeCapacity(w20, angles(v), quantity.Density(v("rho_a")), quantity.Speed(v("ua")), quantity.Angle(v("al"))))
		},
		"mist": func(v values) float64 {
			return float64(MistSize(w20, quantity.Density(v("rho_a")), quantity.Speed(v("ua"))))
		},
		"drained-film": func(v values) float64 {
			return float64(DrainedFilm(w20, quantity.Length(v("z")), quantity.Duration(v("t"))))
		},
		"withdrawn-film": func(v values) float64 { return float64(WithdrawnFilm(w20, quantity.Speed(v("u")))) },
		"sheared-film": func(v values) float64 {
			return float64(ShearedFilm(w20, quantity.Length(v("s")), quantity.Stress(v("tau")), quantity.Duration(v("t"))))
		},
		"wiped-film": func(v values) float64 {
			return float64(WipedFilm(w20, quantity.Speed(v("u")), quantity.Stress(v("tau")), quantity.PressureGradient(v("P"))))
		},
		"dewetting-speed": func(v values) float64 {
			return float64(DewettingSpeed(w20, quantity.Angle(v("tr")), quantity.Length(v("h"))))
		},
		"wet-share": func(v values) float64 { return float64(WetShare(w20, quantity.Angle(v("tr")), quantity.Speed(v("u")))) },
		"small-drops": func(v values) float64 {
			return float64(SmallDropShare(quantity.Speed(v("u")), quantity.Speed(v("ud")), quantity.Ratio(v("low")), quantity.Ratio(v("high"))))
		},
		"critical-film-shear": func(v values) float64 {
			return float64(ShearCriticalFilm(w20, quantity.Angle(v("th")), quantity.Stress(v("tau"))))
		},
		"critical-film-gravity": func(v values) float64 { return float64(GravityCriticalFilm(w20, quantity.Angle(v("th")), v("g"))) },
		"film-break-up":         func(v values) float64 { return float64(BreakUpTime(quantity.Length(v("L")), quantity.Speed(v("ud")))) },
		"drop-size": func(v values) float64 {
			return float64(FromFilm(quantity.Length(v("h")), quantity.Length(v("L")), quantity.Angle(v("th")), quantity.Ratio(v("s"))).Median)
		},
		"crevice-hold": func(v values) float64 { return CreviceHold(w20, quantity.Length(v("w")), angles(v), angles(v)).Likely },
		"crevice-clearing": func(v values) float64 {
			return float64(Crevice{quantity.Length(v("w")), quantity.Length(v("L"))}.ClearingTime(w20, quantity.PressureDrop(v("dp"))))
		},
		"crevice-cleared": func(v values) float64 { return ViscousCleared(v("x")) },
		"meniscus-film":   func(v values) float64 { return float64(MeniscusFilm(w20, quantity.Speed(v("v")))) },
		"pool":            func(v values) float64 { return float64(PoolPressure(w20, quantity.Length(v("depth")))) },
		"corner-fillet":   func(v values) float64 { return float64(CornerFillet(w20, quantity.Gauge(v("p")))) },
		"run-down":        func(v values) float64 { return float64(RunDown(quantity.Volume(v("V")), quantity.Volume(v("Vs")))) },
		"reject-rate":     func(v values) float64 { return float64(RejectRate(quantity.Ratio(v("lambda")))) },
		"sessile-drop":    func(v values) float64 { return float64(restingRate(v("d"), v("th"), v("D"), v("dc"))) },
		"condensate-growth": func(v values) float64 {
			// In air of 28 degC and 65 %, on a wall of 300 W/(m2 K) whose product stays as cold as it was; worked, as the
			// surface balance, with a vapour transfer of h/(1086 J/(m3 K)).
			c := ColdProduct{
				Surface: air.Surface{
					Air: air.Humid(101325, 301.15, 0.65), Heat: quantity.HeatTransfer(v("h")), Transfer: quantity.Speed(v("h") / 1086),
					Product: quantity.Temperature(v("T")), Inward: 300,
				},
				Capacity: 1e9, Area: 0.03,
			}
			return float64(c.After(quantity.Duration(v("t"))).Condensate)
		},
		"acceptance-sample": func(v values) float64 {
			n, err := SampleSize(quantity.Ratio(v("p")), quantity.Ratio(v("c")), int(v("k")))
			if err != nil {
				return math.NaN()
			}
			return float64(n)
		},
		"reject-bounds": func(v values) float64 {
			p, err := RejectUpper(int(v("k")), int(v("n")), quantity.Ratio(v("c")))
			if err != nil {
				return math.NaN()
			}
			return float64(p)
		},
	}
	for _, c := range Cards() {
		compute := worked[c.ID]
		if compute == nil {
			t.Errorf("%s: nothing computes its example", c.ID)
			continue
		}
		compare(t, c, compute(c.Example.Value))
	}
}

// restingRate is SessileRate in other units of vapour: it is in proportion to diffusivity and difference of densities.
func restingRate(d, contact, diffusivity, difference float64) quantity.MassFlow {
	room, surface := air.Humid(101325, 298.15, 0.4), quantity.Temperature(298.15)
	step := float64(air.VapourDiffusivity(room.P, surface)) * float64(air.SaturationPressure(surface)-room.VapourPressure()) /
		(float64(air.VapourGasConstant) * float64(surface))
	return SessileRate(quantity.Length(d), quantity.Angle(contact), room, surface, 1) * quantity.MassFlow(diffusivity*difference/step)
}

func compare(t *testing.T, c relation.Card, got float64) {
	t.Helper()
	want := c.Example.Result.Value
	if !(math.Abs(got-want) <= c.Example.Digits*math.Abs(want)) {
		t.Errorf("%s: computed %.8g, the card says %.8g within a share of %g", c.ID, got, want, c.Example.Digits)
	}
}

var (
	bottle  = Wetting{quantity.Degrees(80), quantity.Degrees(50)}
	closure = Wetting{quantity.Degrees(100), quantity.Degrees(82)}
)

// rises fails where f falls, or stands still, from one step to the next.
func rises(t *testing.T, what string, from, to float64, f func(float64) float64) {
	t.Helper()
	const steps = 40
	last := f(from)
	for i := 1; i <= steps; i++ {
		x := from + (to-from)*float64(i)/steps
		v := f(x)
		if !(v > last) {
			t.Errorf("%s does not rise at %g: %g after %g", what, x, v, last)
		}
		last = v
	}
}

// A faster line leaves more water, stronger air less; pressure helps and never hurts.
func TestLawWiping(t *testing.T) {
	mu := float64(Pure(293.15).Viscosity)
	rises(t, "film over speed", 0.05, 3, func(u float64) float64 { return WipedFilmSI(mu, u, 40, 3e5) })
	rises(t, "film over less shear", -100, -1, func(tau float64) float64 { return WipedFilmSI(mu, 1, -tau, 3e5) })
	rises(t, "film over less slope", -1e6, 0, func(p float64) float64 { return WipedFilmSI(mu, 1, 40, -p) })
	if got, want := WipedFilmSI(mu, 1, 50, 1e-9), WipedFilmSI(mu, 1, 50, 0); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("film %g steps to %g where the slope ends", got, want)
	}
	profile := WipedFilmProfileSI(mu, 1, []float64{10, 50, 20}, []float64{0, 1e5, 1e6})
	for i, one := range []float64{WipedFilmSI(mu, 1, 10, 0), WipedFilmSI(mu, 1, 50, 1e5), WipedFilmSI(mu, 1, 20, 1e6)} {
		if profile > one {
			t.Errorf("profile passes %g, point %d only %g", profile, i, one)
		}
	}
	if !math.IsInf(WipedFilmProfileSI(mu, 1, nil, nil), 1) {
		t.Error("an empty profile holds water back")
	}
}

func TestLawFilmsDrain(t *testing.T) {
	w := Pure(293.15)
	rises(t, "film back in time", -30, -1, func(s float64) float64 { return float64(DrainedFilm(w, 0.1, quantity.Duration(-s))) })
	rises(t, "film downwards", 0.01, 0.3, func(z float64) float64 { return float64(DrainedFilm(w, quantity.Length(z), 3)) })
	mean, foot := MeanDrainedFilm(w, 0.1, 3), DrainedFilm(w, 0.1, 3)
	if math.Abs(float64(mean/foot)-2.0/3) > 1e-9 {
		t.Errorf("mean film %g of %g", mean, foot)
	}
}

// A front outruns the wall's dewetting by degrees, not at a step, and a thick film is slower than a thin one.
func TestLawFronts(t *testing.T) {
	w := Pure(293.15)
	last := -1.0
	for u := 0.0; u <= 3; u += 0.01 {
		s := float64(WetShare(w, bottle.Receding, quantity.Speed(u)))
		if s < last || s < 0 || s > 1 || u > 0 && s-last > 0.1 {
			t.Errorf("wet share %g after %g at %g m/s", s, last, u)
		}
		last = s
	}
	rises(t, "dewetting over receding angle", 5*math.Pi/180, 80*math.Pi/180, func(a float64) float64 { return float64(DewettingSpeed(w, quantity.Angle(a), 1e-5)) })
	if thin, thick := DewettingSpeed(w, closure.Receding, 1e-5), DewettingSpeed(w, closure.Receding, 1e-4); thick >= thin {
		t.Errorf("a film of 100 um draws back at %g, of 10 um at %g m/s", thick, thin)
	}
}

// Stronger air moves smaller drops; a drop that must run along is harder to move.
func TestLawDrops(t *testing.T) {
	w := Pure(293.15)
	least := func(tau, v, slope float64) float64 {
		s := Stream{Density: 1.2, Nu: 1.5e-5, Shear: quantity.Stress(tau), Edge: 90, Gradient: quantity.PressureGradient(slope)}
		return float64(CriticalDiameter(w, bottle, s, 0.2, quantity.Speed(v)))
	}
	// From about 50 Pa the air over so small a drop is as fast as it gets outside the wall layer.
	rises(t, "size over less shear", -45, -5, func(tau float64) float64 { return least(-tau, 0.5, 0) })
	rises(t, "size over speed", 0, 1.5, func(v float64) float64 { return least(40, v, 0) })
	if with, without := least(40, 0.5, 7e5), least(40, 0.5, 0); with >= without {
		t.Errorf("with the pressure's push %g, without %g m", with, without)
	}
	for _, a := range []float64{20, 60, 90, 120} {
		d := quantity.Length(2e-3)
		if back := CapDiameter(CapVolume(d, quantity.Degrees(a)), quantity.Degrees(a)); math.Abs(float64(back/d)-1) > 1e-9 {
			t.Errorf("drop of %g degrees: %g became %g m", a, d, back)
		}
	}
	if moved := (Wetting{bottle.Advancing, bottle.Receding}).At(0); math.Abs(float64(moved.Advancing-bottle.Advancing))+math.Abs(float64(moved.Receding-bottle.Receding)) > 1e-12 {
		t.Errorf("angles at rest become %v", moved)
	}
}

// The balance of forces and the speed of a drop are two sides of one relation.
func TestLawMobilityStartsAtRetention(t *testing.T) {
	w, d := Pure(293.15), quantity.Length(1e-3)
	m := NewMobility(bottle)
	held := RetentionForce(w, bottle, d)
	if v := m.Speed(w, d, held*0.99); v != 0 {
		t.Errorf("a drop held back slides at %g m/s", v)
	}
	rises(t, "speed over push", 1.01, 2, func(x float64) float64 { return float64(m.Speed(w, d, held*quantity.Force(x))) })
}

func TestLawCrevices(t *testing.T) {
	w := Pure(293.15)
	b := CreviceHold(w, 2e-4, bottle, closure)
	if !(b.Low < b.Likely && b.Likely < b.High) {
		t.Errorf("hold %v", b)
	}
	for _, cleared := range []func(float64) float64{ViscousCleared, InertialCleared} {
		rises(t, "cleared share", 0, 0.99, cleared)
		if cleared(0) != 0 || math.Abs(cleared(1)-1) > 1e-9 {
			t.Errorf("cleared from %g to %g", cleared(0), cleared(1))
		}
	}
	rises(t, "clearing time over length", 1e-3, 5e-2, func(l float64) float64 {
		return float64(Crevice{2e-4, quantity.Length(l)}.ClearingTime(w, 3000))
	})
	rises(t, "clearing time over less pressure", -5000, -500, func(p float64) float64 {
		return float64(Crevice{2e-4, 0.01}.ClearingTime(w, quantity.PressureDrop(-p)))
	})
}

// Small steps of the pushed water arrive when the closed form says so.
func TestLawPushedWaterAgreesWithItsClearingTime(t *testing.T) {
	w := Pure(293.15)
	c := Crevice{Width: 2e-4, Length: 0.045}
	whole := float64(c.ClearingTime(w, 4532))
	state, elapsed := PushedWater{Length: c.Length}, 0.0
	for step := whole / 20000; state.Length > 0.002*c.Length && elapsed < 3*whole; elapsed += step {
		state = state.After(w, c.Width, 4532, quantity.Duration(step))
	}
	if math.Abs(elapsed/whole-1) > 0.05 {
		t.Errorf("cleared after %g s, closed form %g s", elapsed, whole)
	}
}

func TestLawPopulationIsByVolume(t *testing.T) {
	p := Population{Median: 1e-3, Spread: 0.4}
	if s := p.ShareBelow(1e-3); math.Abs(float64(s)-0.5) > 1e-12 {
		t.Errorf("%g of the water lies below the volume median", s)
	}
	rises(t, "share below", 1e-4, 4e-3, func(d float64) float64 { return float64(p.ShareBelow(quantity.Length(d))) })
	if s := p.ShareBelowWithin(2e-3, 2e-3); math.Abs(float64(s)-1) > 1e-12 {
		t.Errorf("%g below the largest drop", s)
	}
}

func TestLawRejectBounds(t *testing.T) {
	for _, k := range []int{0, 1, 5, 50} {
		low, high, err := RejectBounds(k, 500, 0.95)
		share := quantity.Ratio(float64(k) / 500)
		if err != nil || !(low <= share && share < high) {
			t.Errorf("%d of 500: %g to %g, %v", k, low, high, err)
		}
		// The sample that proves a rate is the smallest whose upper bound is at or below it.
		n, err := SampleSize(0.01, 0.95, k)
		if err != nil {
			t.Fatal(err)
		}
		enough, err1 := RejectUpper(k, n, 0.95)
		short, err2 := RejectUpper(k, n-1, 0.95)
		if err1 != nil || err2 != nil || !(enough <= 0.01 && short > 0.01) {
			t.Errorf("%d failures: sample %d bounds %g, one less %g (%v, %v)", k, n, enough, short, err1, err2)
		}
	}
	for _, c := range []struct{ k, n int }{{-1, 10}, {11, 10}, {0, 0}} {
		if p, err := RejectUpper(c.k, c.n, 0.95); err == nil {
			t.Errorf("%d failures of %d have a bound of %g", c.k, c.n, p)
		}
	}
}

// Drops dry in proportion to the square of their size, and not at all in saturated air.
func TestLawRestingDrops(t *testing.T) {
	w, room := Pure(293.15), air.Humid(101325, 298.15, 0.5)
	one, _ := SessileLifetime(1e-3, quantity.Degrees(50), w, room, 293.15)
	two, _ := SessileLifetime(2e-3, quantity.Degrees(50), w, room, 293.15)
	if math.Abs(float64(two/one)-4) > 1e-6 {
		t.Errorf("twice the size lasts %g times as long", two/one)
	}
	rises(t, "lifetime over humidity", 0, 0.7, func(rh float64) float64 {
		pinned, _ := SessileLifetime(1e-3, quantity.Degrees(50), w, air.Humid(101325, 298.15, quantity.Ratio(rh)), 293.15)
		return float64(pinned)
	})
}

// A colder product and a longer wait gather more.
func TestLawCondensateGrows(t *testing.T) {
	after := func(celsius, seconds float64) float64 {
		c := ColdProduct{
			Surface:  air.Surface{Air: air.Humid(101325, 301.15, 0.65), Heat: 12, Product: quantity.Celsius(celsius), Inward: 300},
			Capacity: 1400, Area: 0.03,
		}
		return float64(c.After(quantity.Duration(seconds)).Condensate)
	}
	rises(t, "condensate over time", 1, 60, func(s float64) float64 { return after(4, s) })
	rises(t, "condensate over cold", -18, -2, func(t float64) float64 { return after(-t, 10) })
}

// Diffusion from a disc and from a hemisphere has exact solutions, 4 R D dc and 2 pi R D dc; the fit in between
// (Hu and Larson 2002) keeps both to about 2 %.
func TestReferenceRestingDropAgainstExactDiffusion(t *testing.T) {
	const radius, vapour = 1e-3, 461.5 // m, J/(kg K)
	room, surface := air.Humid(101325, 298.15, 0.5), quantity.Temperature(298.15)
	step := float64(air.VapourDiffusivity(room.P, surface)) * float64(air.SaturationPressure(surface)) * 0.5 / (vapour * float64(surface))
	for angle, exact := range map[float64]float64{0.01: 4 * radius * step, 90: 2 * math.Pi * radius * step} {
		got := float64(SessileRate(2*radius, quantity.Degrees(angle), room, surface, 1))
		if math.Abs(got/exact-1) > 0.03 {
			t.Errorf("%g degrees: %g kg/s, exact %g", angle, got, exact)
		}
	}
}
