package validation

import (
	"math"
	"testing"

	"leste/physics/air"
	"leste/physics/jet"
	waters "leste/physics/water"
	q "leste/quantity"
)

// Humid air against the ASHRAE Handbook of 2017 in a public library, from -20 to 90 degC, 60 to 130 kPa and 5 to 95 %.
// Both follow the same equations, so only digits may differ: the table has ten, and the library iterates its wet bulb to
// 0.001 K.
func TestReferencePsychrometrics(t *testing.T) {
	e := newErrors(t)
	load(t, "psychrometrics").each(t, func(row string, at func(string) float64) {
		p, dry := q.Absolute(at("pressure_pa")), q.Celsius(at("temperature_c"))
		m := air.Humid(p, dry, q.Ratio(at("relative_humidity")))
		e.share(row, "humidity ratio", float64(m.W), at("humidity_ratio"), 1e-8)
		// Just below 0 degC a wet bulb is wet with ice or with water; both belong to the same air.
		if wet := at("wet_bulb_c"); wet < -1 || wet > 0 {
			e.absolute(row, "wet bulb", m.WetBulb().C(), wet, 1e-3)
		}
		e.absolute(row, "dew point", m.DewPoint().C(), at("dew_point_c"), 1e-6)
		e.share(row, "density", float64(m.Density()), at("density_kg_m3"), 1e-6)
		e.absolute(row, "enthalpy", float64(m.Enthalpy()), at("enthalpy_j_kg"), 1e-3)
		// The humid air is found again from each of the library's own answers.
		e.absolute(row, "humidity ratio by wet bulb", float64(air.HumidByWetBulb(p, dry, q.Celsius(at("wet_bulb_c"))).W), at("humidity_ratio"), 3e-6)
		e.share(row, "humidity ratio by dew point", float64(air.HumidByDewPoint(p, dry, q.Celsius(at("dew_point_c"))).W), at("humidity_ratio"), 1e-8)
	})
}

// Density of humid air against an equation of state of real gases (IAPWS G8-10), from the air of high sites to the air
// behind a blower. What the ideal mixture misses grows with density: 0.06 % for each kg/m3.
func TestReferenceHumidAirOfRealGases(t *testing.T) {
	e := newErrors(t)
	load(t, "humid_air").each(t, func(row string, at func(string) float64) {
		want := at("density_kg_m3")
		m := air.Moist{P: q.Absolute(at("pressure_pa")), T: q.Celsius(at("temperature_c")), W: q.Ratio(at("humidity_ratio"))}
		e.share(row, "density", float64(m.Density()), want, 6e-4*want)
	})
}

// The formulation of 1983 against the ones of 1997 (water) and 2008 (ice): 0.05 % over water up to 200 degC; over ice
// they part in the cold, 0.1 % down to -30 degC and 0.5 % at -60.
func TestReferenceSaturation(t *testing.T) {
	e := newErrors(t)
	load(t, "saturation").each(t, func(row string, at func(string) float64) {
		c, want := at("temperature_c"), at("pressure_pa")
		tolerance, what := 5e-4, "over water"
		switch {
		case c < -30:
			tolerance, what = 5e-3, "over cold ice"
		case c < 0:
			tolerance, what = 1e-3, "over ice"
		}
		e.share(row, what, float64(air.SaturationPressure(q.Celsius(c))), want, tolerance)
		e.absolute(row, "temperature "+what, air.SaturationTemperature(q.Absolute(want)).C(), c, 0.08)
	})
}

// Liquid water from 0 to 95 degC. Tension and viscosity are the same formulas, so only rounding may differ; density is
// another formula of the same accuracy; the heat of evaporation is a straight line, 0.2 % off up to 60 degC.
func TestReferenceWater(t *testing.T) {
	e := newErrors(t)
	load(t, "water").each(t, func(row string, at func(string) float64) {
		w := waters.Pure(q.Celsius(at("temperature_c")))
		e.share(row, "tension", float64(w.Tension), at("tension_n_m"), 1e-8)
		e.share(row, "viscosity", float64(w.Viscosity), at("viscosity_pa_s"), 1e-8)
		e.share(row, "density", float64(w.Density), at("density_kg_m3"), 2e-5)
		tolerance := 2e-3
		if at("temperature_c") > 60 {
			tolerance = 1e-2
		}
		e.share(row, "heat of evaporation", float64(air.LatentHeat(q.Celsius(at("temperature_c")))), at("latent_heat_j_kg"), tolerance)
	})
}

// ISO 2533 and the atmosphere of 1976 are one below 11 km, gas constants apart.
func TestReferenceAtmosphere(t *testing.T) {
	e := newErrors(t)
	load(t, "atmosphere").each(t, func(row string, at func(string) float64) {
		p, temperature := air.StandardAtmosphere(q.Length(at("geopotential_m")))
		e.share(row, "pressure", float64(p), at("pressure_pa"), 3e-6)
		e.share(row, "temperature", float64(temperature), at("temperature_k"), 1e-9)
	})
}

func TestReferenceAirTransport(t *testing.T) {
	e := newErrors(t)
	load(t, "air").each(t, func(row string, at func(string) float64) {
		temperature := q.Temperature(at("temperature_k"))
		e.share(row, "viscosity", float64(air.Viscosity(temperature)), at("viscosity_pa_s"), 1e-9)
		e.share(row, "conductivity", float64(air.Dry(101325, temperature).Conductivity()), at("conductivity_w_m_k"), 2e-4)
	})
}

// What a nozzle passes over what it would pass without expansion, up to where it chokes.
func TestReferenceExpansibility(t *testing.T) {
	e := newErrors(t)
	load(t, "expansibility").each(t, func(row string, at func(string) float64) {
		pa, pg := at("ambient_pa"), at("gauge_pa")
		gas := jet.Gas{R: 287.05, K: q.Ratio(at("isentropic_exponent"))}
		p0 := q.Absolute(pa + pg)
		d := gas.Isentropic(p0, 300, q.Absolute(pa))
		if d.Choked {
			return // the standard's formula knows no choking
		}
		stiff := math.Sqrt(2 * float64(gas.Density(p0, 300)) * pg)
		e.share(row, "expansibility", float64(d.MassFlux)/stiff, at("expansibility"), 1e-7)
	})
}

func TestReferenceLongRadiusNozzle(t *testing.T) {
	e := newErrors(t)
	load(t, "long_radius_nozzle").each(t, func(row string, at func(string) float64) {
		b, err := jet.DischargeCoefficient(jet.RoundedNozzle, jet.Opening{Reynolds: q.Ratio(at("reynolds"))})
		if err != nil {
			t.Fatal(err)
		}
		e.share(row, "coefficient", b.Likely, at("discharge_coefficient"), 1e-6)
	})
}

func TestReferenceCompression(t *testing.T) {
	e := newErrors(t)
	load(t, "compression").each(t, func(row string, at func(string) float64) {
		gas := jet.Gas{R: 287.05, K: q.Ratio(at("isentropic_exponent"))}
		rise := gas.TemperatureRise(1e5, q.Temperature(at("inlet_k")), q.Absolute(1e5*at("pressure_ratio")))
		e.share(row, "rise", float64(rise), at("rise_k"), 1e-9)
	})
}
