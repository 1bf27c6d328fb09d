package drying

import (
	"math"
	"slices"
	"testing"

	"leste/physics/water"
	"leste/station"
)

// stronger is an air times factors.
type stronger struct {
	air          Exposure
	shear, press float64
}

func (s stronger) At(x float64, f *station.Field) {
	s.air.At(x, f)
	if f.First >= f.Last {
		return
	}
	for i := range f.P { // what lies outside the rows reached is not looked at
		f.TauS[i], f.TauA[i] = f.TauS[i]*s.shear, f.TauA[i]*s.shear
		f.P[i], f.GradS[i], f.GradA[i] = f.P[i]*s.press, f.GradS[i]*s.press, f.GradA[i]*s.press
		f.Ue[i] *= math.Sqrt(s.press)
	}
}

// The factors on the air, fitted ones and those of a loaded filter or another season, reach water that is followed
// in time as if the air itself were stronger. They had reached the closed forms only.
func TestFactorsOnTheAirReachTheWater(t *testing.T) {
	left := func(factor float64, air bool) Outcome {
		p := canCase{cell: 5e-3}.problem(t)
		if air {
			p.Passes[0].Air = stronger{p.Passes[0].Air, factor, factor}
		} else {
			p.Settings.Shear, p.Settings.Pressure = factor, factor
		}
		return transported(t, p, TransportOptions{})
	}
	weak, usual, strong := left(0.5, false), left(1, false), left(2, false)
	for _, c := range []struct {
		by, of Outcome
	}{{strong, left(2, true)}, {weak, left(0.5, true)}} {
		a, b := c.by.After.Total.Likely, c.of.After.Total.Likely
		if math.Abs(a/b-1) > 1e-9 {
			t.Errorf("%g kg left by factors, %g kg by such air", a, b)
		}
	}
	a, b, c := zone(t, weak.After, "sidewall").Left.Likely, zone(t, usual.After, "sidewall").Left.Likely, zone(t, strong.After, "sidewall").Left.Likely
	if !(a > b && b > c) {
		t.Errorf("%.1f, %.1f and %.1f mg left on the sidewall by half the air, the air and twice the air", a*1e6, b*1e6, c*1e6)
	}
}

// Every setting that trials may fit moves what is left, but the one that only the closed forms have.
func TestLawEverySettingReachesTheWater(t *testing.T) {
	d := water.Defaults()
	left := func(change func(*Settings)) []float64 {
		p := canCase{cell: 8e-3}.problem(t)
		p.Machines = []Machine{{Kind: "camera", Travel: 3}}
		for i := range p.Body.Crevices { // so full that some of it runs down on the way
			p.Body.Crevices[i].Volume *= 10
		}
		change(&p.Settings)
		var zones []float64
		for _, z := range transported(t, p, TransportOptions{}).At[0].Zones {
			zones = append(zones, z.Left.Likely)
		}
		return zones
	}
	usual := left(func(*Settings) {})
	for name, change := range map[string]func(*Settings){
		"drag":         func(s *Settings) { s.Drag = d.Drag.High },
		"hole spacing": func(s *Settings) { s.HoleSpacing = d.HoleSpacing.High },
		"small drops":  func(s *Settings) { s.SmallDrops = d.SmallDropShare.High },
		"drop spread":  func(s *Settings) { s.DropSpread = d.Spread.High },
		"shear":        func(s *Settings) { s.Shear = 1.5 },
		"pressure":     func(s *Settings) { s.Pressure = 1.15 },
		"run-down":     func(s *Settings) { s.RunDown = d.RunDownShare.High },
		"rewetting":    func(s *Settings) { s.Rewetting = 0.1 },
		"mist back":    func(s *Settings) { s.MistBack = 0.3 },
	} {
		if got := left(change); slices.Equal(got, usual) {
			t.Errorf("%s: as much is left in every zone as before: %g kg", name, got)
		}
	}
}
