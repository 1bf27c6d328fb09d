package air

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"leste/quantity"
)

// Every relation of heat transfer rises with the speed, falls with the distance, and gives the same coefficient from
// its Nusselt number as from the speed.
func TestLawHeatTransfer(t *testing.T) {
	film := Dry(101325, 300).Film()
	for name, heat := range map[string]func(u, distance float64) float64{
		"one nozzle": func(u, h float64) float64 {
			return float64(SingleNozzle{0.02, quantity.Length(h), 0.1}.Heat(quantity.Speed(u), film))
		},
		"one slot": func(u, h float64) float64 {
			return float64(SingleSlot{0.002, quantity.Length(h), 0.04}.Heat(quantity.Speed(u), film))
		},
		"field of nozzles": func(u, h float64) float64 {
			return float64(NozzleField{0.02, quantity.Length(h), 0.1}.Heat(quantity.Speed(u), film))
		},
		"field of slots": func(u, h float64) float64 {
			return float64(SlotField{0.002, quantity.Length(h), 0.1}.Heat(quantity.Speed(u), film))
		},
		"line of a slot": func(u, h float64) float64 {
			return float64(SlotLine{0.002, quantity.Length(h)}.Heat(quantity.Speed(u), film))
		},
		"cylinder": func(u, h float64) float64 { return float64(CylinderHeat(quantity.Length(h), quantity.Speed(u), film)) },
	} {
		last := 0.0
		for u := 20.0; u < 250; u *= 1.3 {
			h := heat(u, 0.05)
			if !(h > last && h < 5000) {
				t.Errorf("%s: %g W/(m2 K) at %g m/s after %g", name, h, u, last)
			}
			last = h
		}
		if near, far := heat(100, 0.05), heat(100, 0.1); far >= near {
			t.Errorf("%s: %g W/(m2 K) near, %g far", name, near, far)
		}
	}
	// The coefficient is the Nusselt number of the length that its card names.
	k, u := float64(film.Conductivity), quantity.Speed(100)
	for name, pair := range map[string][2]float64{
		"one nozzle":       {float64(SingleNozzle{0.02, 0.1, 0.1}.Heat(u, film)), float64(SingleNozzle{0.02, 0.1, 0.1}.Nusselt(film.Reynolds(u, 0.02), film.Prandtl)) * k / 0.02},
		"one slot":         {float64(SingleSlot{0.002, 0.05, 0.04}.Heat(u, film)), float64(SingleSlot{0.002, 0.05, 0.04}.Nusselt(film.Reynolds(u, 0.004), film.Prandtl)) * k / 0.004},
		"field of nozzles": {float64(NozzleField{0.02, 0.1, 0.1}.Heat(u, film)), float64(NozzleField{0.02, 0.1, 0.1}.Nusselt(film.Reynolds(u, 0.02), film.Prandtl)) * k / 0.02},
		"field of slots":   {float64(SlotField{0.002, 0.05, 0.1}.Heat(u, film)), float64(SlotField{0.002, 0.05, 0.1}.Nusselt(film.Reynolds(u, 0.004), film.Prandtl)) * k / 0.004},
		"line of a slot":   {float64(SlotLine{0.002, 0.05}.Heat(u, film)), float64(SlotLine{0.002, 0.05}.Nusselt(film.Reynolds(u, 0.002))) * k / 0.002},
		"cylinder":         {float64(CylinderHeat(0.05, u, film)), float64(CylinderNusselt(film.Reynolds(u, 0.05), film.Prandtl)) * k / 0.05},
	} {
		if math.Abs(pair[0]/pair[1]-1) > 1e-12 {
			t.Errorf("%s: %g W/(m2 K), by its Nusselt number %g", name, pair[0], pair[1])
		}
	}
	if re := film.Reynolds(10, 0.1); math.Abs(float64(re)*float64(film.Kinematic)-1) > 1e-12 {
		t.Errorf("Reynolds number %g", re)
	}
	if h := CylinderHeat(0.05, 0, film) * 0.05 / quantity.HeatTransfer(film.Conductivity); math.Abs(float64(h)-0.3) > 1e-9 {
		t.Errorf("in still air a Nusselt number of %g, the relation ends at 0.3", h)
	}
}

// What comes in by heat leaves by evaporation, whatever the wall, the air and the product are.
func TestLawSurfaceBalanceCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Surface{
			Air:     Humid(quantity.Absolute(rapid.Float64Range(70e3, 110e3).Draw(t, "p")), quantity.Celsius(rapid.Float64Range(5, 60).Draw(t, "t")), quantity.Ratio(rapid.Float64Range(0.05, 0.95).Draw(t, "rh"))),
			Heat:    quantity.HeatTransfer(rapid.Float64Range(2, 300).Draw(t, "h")),
			Product: quantity.Celsius(rapid.Float64Range(1, 60).Draw(t, "product")), Inward: quantity.HeatTransfer(rapid.Float64Range(0, 1000).Draw(t, "u")),
		}
		if math.IsNaN(float64(s.Air.W)) {
			t.Skip("no such air")
		}
		e := s.Balance()
		in := float64(s.Heat)*float64(s.Air.T-e.Surface) - e.Inward
		out := float64(e.Flux) * float64(LatentHeat(e.Surface))
		scale := float64(s.Heat)*math.Abs(float64(s.Air.T-s.Product)) + math.Abs(out) + 1
		if !(math.Abs(in-out) < 1e-6*scale) {
			t.Fatalf("%+v: %g W/m2 in, %g out at %g degC", s, in, out, e.Surface.C())
		}
		// A wall without a product ends near the wet bulb, which holds for air as for water within 1 K.
		s.Inward = 0
		if off := s.Balance().Surface - s.Air.WetBulb(); math.Abs(float64(off)) > 1.2 {
			t.Fatalf("%+v: %g K from the wet bulb", s, off)
		}
	})
}

// Humid air stays the same air when it is compressed and heated, and its properties join those of dry air.
func TestLawMixture(t *testing.T) {
	m := Humid(101325, 298.15, 0.6)
	if hot := m.At(121325, 340); hot.W != m.W || hot.P != 121325 || hot.T != 340 {
		t.Errorf("compressed it is %+v", hot)
	}
	dry := Dry(101325, 298.15)
	if r := dry.GasConstant(); r != DryGasConstant {
		t.Errorf("gas constant of dry air %g", r)
	}
	if k := float64(dry.IsentropicExponent()); math.Abs(k-1.4) > 1e-3 {
		t.Errorf("exponent of dry air %g", k)
	}
	if c := float64(dry.SoundSpeed()); math.Abs(c-346.1) > 0.1 { // m/s at 25 degC
		t.Errorf("sound runs at %g m/s", c)
	}
	for name, pair := range map[string][2]float64{
		"gas constant": {float64(m.GasConstant()), float64(dry.GasConstant())},
		"heat":         {float64(m.SpecificHeat()), float64(dry.SpecificHeat())},
		"sound speed":  {float64(m.SoundSpeed()), float64(dry.SoundSpeed())},
	} {
		if !(pair[0] > pair[1] && pair[0] < 1.05*pair[1]) {
			t.Errorf("%s %g humid, %g dry", name, pair[0], pair[1])
		}
	}
	if nu := float64(dry.KinematicViscosity()) * float64(dry.Density()); math.Abs(nu/float64(Viscosity(dry.T))-1) > 1e-12 {
		t.Errorf("kinematic viscosity times density %g", nu)
	}
	if pr := float64(dry.Prandtl()); math.Abs(pr-0.71) > 0.02 {
		t.Errorf("Prandtl number %g", pr)
	}
	if le := float64(dry.Lewis()); math.Abs(le-0.87) > 0.04 {
		t.Errorf("Lewis number %g", le)
	}
}

// Over ice and over water the saturation pressure meets at 0 degC to a few parts in ten thousand; both rise throughout.
func TestLawSaturationJoinsAtFreezing(t *testing.T) {
	below, above := SaturationPressure(273.15-1e-9), SaturationPressure(273.15)
	if math.Abs(float64(below/above)-1) > 3e-4 {
		t.Errorf("%g Pa over ice, %g over water", below, above)
	}
	last := quantity.Absolute(0)
	for x := quantity.Temperature(173.15); x <= 473.15; x += 0.5 {
		p := SaturationPressure(x)
		if !(p > last) {
			t.Fatalf("%g Pa at %g K after %g", p, x, last)
		}
		last = p
	}
	for _, x := range []quantity.Temperature{173, 473.2, 0, -1} {
		if p := SaturationPressure(x); !math.IsNaN(float64(p)) {
			t.Errorf("%g Pa at %g K", p, x)
		}
	}
	if x := SaturationTemperature(1e9); !math.IsNaN(float64(x)) {
		t.Errorf("a pressure that no water has saturates at %g K", x)
	}
}

// Numbers that no air has give numbers that are none, or the formula's; nothing panics or hangs.
func TestLawEveryRelationIsTotal(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{
		math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), -1, 1e-300, 1e300, -1e300,
	}))
	rapid.Check(t, func(t *rapid.T) {
		p, x, y := quantity.Absolute(odd.Draw(t, "p")), odd.Draw(t, "x"), odd.Draw(t, "y")
		temperature := quantity.Temperature(x)
		StandardAtmosphere(quantity.Length(x))
		for _, m := range []Moist{
			Humid(p, temperature, quantity.Ratio(y)), HumidByDewPoint(p, temperature, quantity.Temperature(y)),
			HumidByWetBulb(p, temperature, quantity.Temperature(y)),
			{P: p, T: temperature, W: quantity.Ratio(y)},
		} {
			m.WetBulb()
			m.DewPoint()
			m.Film()
			m.Lewis()
			if d := float64(m.Density()); (!(m.P > 0) || !(m.T > 0)) && !math.IsNaN(d) {
				t.Fatalf("%+v: density %g", m, d)
			}
			Surface{Air: m, Heat: quantity.HeatTransfer(y), Product: temperature, Inward: quantity.HeatTransfer(x)}.Balance()
			EvaporationFlux(quantity.Speed(y), m, temperature)
		}
		if math.IsNaN(x) {
			for name, v := range map[string]float64{
				"viscosity": float64(Viscosity(temperature)), "saturation": float64(SaturationPressure(temperature)),
				"latent heat": float64(LatentHeat(temperature)), "diffusivity": float64(VapourDiffusivity(101325, temperature)),
				"conductivity": float64(Dry(101325, temperature).Conductivity()), "dew point": float64(SaturationTemperature(quantity.Absolute(x))),
			} {
				if !math.IsNaN(v) {
					t.Fatalf("%s of no number is %g", name, v)
				}
			}
		}
	})
}
