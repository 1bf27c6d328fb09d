package air

import (
	"math"
	"testing"

	"leste/physics/relation"
	"leste/quantity"
)

// A worked example was worked apart from the code, to the digits that its card states.
func TestReferenceWorkedExamples(t *testing.T) {
	type values = func(string) float64
	temperature := func(v values) quantity.Temperature { return quantity.Temperature(v("T")) }
	pressure := func(v values) quantity.Absolute { return quantity.Absolute(v("p")) }
	worked := map[string]func(values) float64{
		"standard-atmosphere": func(v values) float64 { p, _ := StandardAtmosphere(quantity.Length(v("h"))); return float64(p) },
		"site-air":            func(v values) float64 { return float64(Humid(pressure(v), temperature(v), quantity.Ratio(v("RH"))).W) },
		"saturation-pressure": func(v values) float64 { return float64(SaturationPressure(temperature(v))) },
		"wet-bulb": func(v values) float64 {
			return float64(Humid(pressure(v), quantity.Temperature(v("t")), quantity.Ratio(v("RH"))).WetBulb())
		},
		"moist-density": func(v values) float64 {
			return float64(Moist{P: pressure(v), T: temperature(v), W: quantity.Ratio(v("W"))}.Density())
		},
		"moist-enthalpy": func(v values) float64 {
			return float64(Moist{P: 101325, T: temperature(v), W: quantity.Ratio(v("W"))}.Enthalpy())
		},
		"air-viscosity":      func(v values) float64 { return float64(Viscosity(temperature(v))) },
		"air-conductivity":   func(v values) float64 { return float64(Dry(101325, temperature(v)).Conductivity()) },
		"vapour-diffusivity": func(v values) float64 { return float64(VapourDiffusivity(pressure(v), temperature(v))) },
		"latent-heat":        func(v values) float64 { return float64(LatentHeat(temperature(v))) },
		"mass-transfer": func(v values) float64 {
			return float64(MassTransfer(quantity.HeatTransfer(v("h")), Dry(pressure(v), temperature(v))))
		},
		"evaporation-flux": func(v values) float64 {
			ratio := 0.621945 * v("pv") / (v("p") - v("pv"))
			a := Moist{P: pressure(v), T: temperature(v), W: quantity.Ratio(ratio)}
			return float64(EvaporationFlux(quantity.Speed(v("km")), a, quantity.Temperature(v("Ts"))))
		},
		"surface-balance": func(v values) float64 {
			s := Surface{
				Air: Humid(101325, quantity.Temperature(v("Ta")), quantity.Ratio(v("RH"))), Heat: quantity.HeatTransfer(v("h")),
				Transfer: quantity.Speed(v("km")),
				Product:  quantity.Temperature(v("Tp")), Inward: quantity.HeatTransfer(v("U")),
			}
			return float64(s.Balance().Surface)
		},
		"heat-single-nozzle": func(v values) float64 {
			n := SingleNozzle{Bore: 1, Distance: quantity.Length(v("h_d")), Radius: quantity.Length(v("r_d"))}
			return float64(n.Nusselt(quantity.Ratio(v("re")), quantity.Ratio(v("pr"))))
		},
		"heat-single-slot": func(v values) float64 {
			n := SingleSlot{Gap: 1, Distance: quantity.Length(v("h_w")), Reach: quantity.Length(v("x_w"))}
			return float64(n.Nusselt(quantity.Ratio(v("re")), quantity.Ratio(v("pr"))))
		},
		"heat-nozzle-field": func(v values) float64 {
			n := NozzleField{Bore: 1, Distance: quantity.Length(v("h_d")), Spacing: quantity.Length(v("s_d"))}
			return float64(n.Nusselt(quantity.Ratio(v("re")), quantity.Ratio(v("pr"))))
		},
		"heat-slot-field": func(v values) float64 {
			n := SlotField{Gap: 1, Distance: quantity.Length(v("h_w")), Spacing: quantity.Length(v("s_w"))}
			return float64(n.Nusselt(quantity.Ratio(v("re")), quantity.Ratio(v("pr"))))
		},
		"heat-slot-line": func(v values) float64 {
			return float64(SlotLine{Gap: 1, Distance: quantity.Length(v("h_w"))}.Nusselt(quantity.Ratio(v("re"))))
		},
		"heat-cylinder": func(v values) float64 {
			return float64(CylinderNusselt(quantity.Ratio(v("re")), quantity.Ratio(v("pr"))))
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

func compare(t *testing.T, c relation.Card, got float64) {
	t.Helper()
	want := c.Example.Result.Value
	if !(math.Abs(got-want) <= c.Example.Digits*math.Abs(want)) {
		t.Errorf("%s: computed %.8g, the card says %.8g within a share of %g", c.ID, got, want, c.Example.Digits)
	}
}

func TestLawWetBulbLiesBetweenDewPointAndAir(t *testing.T) {
	for temperature := 1.0; temperature <= 50; temperature += 7 {
		for rh := 0.1; rh < 1; rh += 0.2 {
			m := Humid(101325, quantity.Celsius(temperature), quantity.Ratio(rh))
			if wet := m.WetBulb(); !(m.DewPoint() <= wet && wet <= m.T) {
				t.Errorf("%g degC, %g: dew %v, wet %v", temperature, rh, m.DewPoint().C(), wet.C())
			}
		}
	}
}

// The wet bulb of air hotter than water boils at its pressure lies below boiling; the search once ended without one.
func TestLawWetBulbOfAirHotterThanBoiling(t *testing.T) {
	for _, c := range []struct{ pascal, celsius, rh float64 }{{60e3, 90, 0.05}, {101325, 130, 0.01}, {200e3, 150, 0.02}} {
		m := Humid(quantity.Absolute(c.pascal), quantity.Celsius(c.celsius), quantity.Ratio(c.rh))
		wet := m.WetBulb()
		if !(m.DewPoint() < wet && wet < SaturationTemperature(m.P)) {
			t.Errorf("%g Pa, %g degC: dew point %g, wet bulb %g degC", c.pascal, c.celsius, m.DewPoint().C(), wet.C())
		}
		if back := HumidByWetBulb(m.P, m.T, wet); math.Abs(float64(back.W-m.W)) > 1e-9 {
			t.Errorf("%g Pa, %g degC: humidity ratio %g became %g", c.pascal, c.celsius, m.W, back.W)
		}
	}
}

func TestLawStatesInvert(t *testing.T) {
	for temperature := 1.0; temperature <= 50; temperature += 7 {
		for rh := 0.1; rh < 1; rh += 0.2 {
			m := Humid(89875, quantity.Celsius(temperature), quantity.Ratio(rh))
			for name, back := range map[string]Moist{
				"relative humidity": Humid(m.P, m.T, m.RelativeHumidity()),
				"dew point":         HumidByDewPoint(m.P, m.T, m.DewPoint()),
				"wet bulb":          HumidByWetBulb(m.P, m.T, m.WetBulb()),
			} {
				if math.Abs(float64(back.W-m.W)) > 1e-6*float64(m.W)+1e-9 {
					t.Errorf("%s at %g degC, %g: %g became %g", name, temperature, rh, m.W, back.W)
				}
			}
		}
	}
	for p := quantity.Absolute(700); p < 20e3; p *= 1.3 {
		if back := SaturationPressure(SaturationTemperature(p)); math.Abs(float64(back/p-1)) > 1e-8 {
			t.Errorf("saturation pressure %g became %g", p, back)
		}
	}
}

// Humid air is lighter than dry air; air thins with height and with heat.
func TestLawDensityFalls(t *testing.T) {
	last := math.Inf(1)
	for rh := quantity.Ratio(0); rh <= 1; rh += 0.25 {
		d := float64(Humid(101325, quantity.Celsius(30), rh).Density())
		if d >= last {
			t.Errorf("density at humidity %g is %g after %g", rh, d, last)
		}
		last = d
	}
	last = math.Inf(1)
	for h := quantity.Length(0); h <= 3000; h += 500 {
		p, temperature := StandardAtmosphere(h)
		d := float64(Dry(p, temperature).Density())
		if d >= last {
			t.Errorf("density at %g m is %g after %g", h, d, last)
		}
		last = d
	}
}

// A surface above the dew point dries and one below it gathers water; at the dew point nothing moves.
func TestLawFluxTurnsAtTheDewPoint(t *testing.T) {
	a := Humid(101325, quantity.Celsius(28), 0.65)
	dew := a.DewPoint()
	last := math.Inf(-1)
	for d := quantity.Temperature(-10); d <= 10; d++ {
		flux := float64(EvaporationFlux(0.01, a, dew+d))
		if flux <= last || d < 0 && flux >= 0 || d > 0 && flux <= 0 {
			t.Errorf("%g K from the dew point: flux %g after %g", d, flux, last)
		}
		if d == 0 && math.Abs(flux) > 1e-9 {
			t.Errorf("flux %g at the dew point", flux)
		}
		last = flux
	}
}

func TestLawImpossibleStatesAreNotNumbers(t *testing.T) {
	nan := math.NaN()
	for name, got := range map[string]float64{
		"density at no pressure":  float64(Dry(0, 300).Density()),
		"density below vacuum":    float64(Dry(-1, 300).Density()),
		"density at no heat":      float64(Dry(101325, 0).Density()),
		"humidity of no number":   float64(Humid(101325, 300, quantity.Ratio(nan)).W),
		"humidity below none":     float64(Humid(101325, 300, -0.1).W),
		"saturation of no number": float64(SaturationPressure(quantity.Temperature(nan))),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s is %g", name, got)
		}
	}
}
