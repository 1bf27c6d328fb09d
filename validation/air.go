package validation

import (
	"fmt"

	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

func atmosphere(l *list) {
	g := group{l: l, relation: "standard-atmosphere", source: "ISO 2533 / U.S. Standard Atmosphere, public library fluids 1.0.22", basis: relation.Published, unit: "Pa", share: 2e-6}
	for _, c := range [][2]float64{{0, 101325}, {250, 98357.5}, {500, 95460.8}, {1000, 89874.6}, {1500, 84556.0}, {2000, 79495.2}, {2500, 74682.5}, {3000, 70108.5}} {
		p, _ := air.StandardAtmosphere(q.Length(c[0]))
		g.row(fmt.Sprintf("atmosphere-%g-m", c[0]), c[1], float64(p))
	}
	g = group{l: l, relation: "air-viscosity", source: "ISO 2533, Sutherland's law", basis: relation.Published, unit: "Pa s", share: 1e-4}
	g.row("air-viscosity-15-c", 1.7894e-5, float64(air.Viscosity(288.15)))
}

func humidAir(l *list) {
	const library = "psychrolib 2.5.0 (ASHRAE Handbook Fundamentals 2017)"
	for _, c := range []struct{ t, rh, p, w, wet, dew, rho, h float64 }{
		{20, .5, 101325, 7.2617, 13.783, 9.272, 1.19890, 38.552},
		{25, .5, 101325, 9.8810, 17.889, 13.864, 1.17696, 50.322},
		{30, .6, 101325, 16.0409, 23.812, 21.388, 1.15336, 71.193},
		{35, .8, 101325, 28.9204, 31.814, 31.025, 1.12629, 109.423},
		{5, .9, 101325, 4.8575, 4.302, 3.498, 1.26537, 17.224},
		{25, .5, 89874.6, 11.1625, 17.602, 13.864, 1.04316, 53.587},
		{30, .7, 79495.2, 24.1569, 25.237, 23.928, 0.90065, 91.944},
	} {
		m := air.Humid(q.Absolute(c.p), q.Celsius(c.t), q.Ratio(c.rh))
		id := fmt.Sprintf("air-%g-c-%g-pct-%.0f-pa", c.t, 100*c.rh, c.p)
		g := group{l: l, relation: "saturation-pressure", source: library, basis: relation.Published, unit: "g/kg", share: 1e-4}
		g.row(id+"-humidity", c.w, 1e3*float64(m.W))
		g.relation, g.unit, g.share, g.least = "wet-bulb", "degC", 0, 5e-3
		g.row(id+"-wet-bulb", c.wet, m.WetBulb().C())
		g.relation = "saturation-pressure"
		g.row(id+"-dew-point", c.dew, m.DewPoint().C())
		g.relation, g.unit, g.least, g.share = "moist-density", "kg/m3", 0, 5e-5
		g.row(id+"-density", c.rho, float64(m.Density()))
		g.relation, g.unit, g.share = "moist-enthalpy", "kJ/kg", 3e-4
		g.row(id+"-enthalpy", c.h, 1e-3*float64(m.Enthalpy()))
	}
	g := group{l: l, relation: "saturation-pressure", source: "ASHRAE Handbook Fundamentals 2017, table 3, as published test values", basis: relation.Published, unit: "Pa", share: 6e-4}
	for _, c := range [][2]float64{{5, 872.6}, {25, 3169.7}, {50, 12351.3}, {100, 101418}} {
		g.row(fmt.Sprintf("saturation-%g-c", c[0]), c[1], float64(air.SaturationPressure(q.Celsius(c[0]))))
	}
	g.source, g.share = "IAPWS-IF97, public library iapws 1.5", 3e-4
	for _, c := range [][2]float64{{10, 1228.18}, {20, 2339.21}, {30, 4246.69}, {40, 7384.43}, {60, 19945.8}} {
		g.row(fmt.Sprintf("saturation-if97-%g-c", c[0]), c[1], float64(air.SaturationPressure(q.Celsius(c[0]))))
	}
	wet := air.HumidByWetBulb(101325, q.Celsius(40), q.Celsius(20))
	g = group{l: l, relation: "wet-bulb", source: "ASHRAE Handbook Fundamentals 2017, chapter 1, example 1 (40 degC dry, 20 degC wet)", basis: relation.Published, unit: "1", least: 1e-4} // read off a chart to 0.1 g/kg
	g.row("ashrae-example-humidity", 0.0065, float64(wet.W))
	g.unit, g.least = "degC", 0.5
	g.row("ashrae-example-dew-point", 7, wet.DewPoint().C())
	g.unit, g.least = "%", 0.5
	g.row("ashrae-example-humidity-relative", 14, 100*float64(wet.RelativeHumidity()))
}

func phase(l *list) {
	const by = "heat and mass balance of the wall, independent program"
	cold := air.Surface{
		Air: air.Humid(101325, q.Celsius(28), 0.65), Heat: 12, Transfer: q.Speed(12.0 / 1086), Product: q.Celsius(4), Inward: 300,
	}
	e := cold.Balance()
	g := group{l: l, relation: "surface-balance", source: by, basis: relation.Rederived, unit: "degC", least: 0.03}
	g.row("cold-can-surface", 5.944, e.Surface.C())
	g.unit, g.least, g.share = "kg/(m2 s)", 0, 0.01
	g.row("cold-can-condensation", -1.2808e-4, float64(e.Flux))
	g = group{l: l, relation: "saturation-pressure", source: "ASHRAE saturation pressure, bisection by an independent program", basis: relation.Rederived, unit: "degC", least: 5e-3}
	g.row("dew-point-28-c-65-pct", 20.8078, cold.Air.DewPoint().C())
	g = group{l: l, relation: "wet-bulb", source: "ASHRAE Handbook Fundamentals 2017", basis: relation.Published, unit: "degC", least: 5e-3}
	g.row("wet-bulb-25-c-50-pct", 17.8893, air.Humid(101325, q.Celsius(25), .5).WetBulb().C())
	g = group{l: l, relation: "latent-heat", source: "steam tables after IAPWS-IF97", basis: relation.FromMemory, unit: "J/kg", share: 2e-3}
	for _, c := range [][2]float64{{4, 2491.4e3}, {20, 2453.5e3}, {40, 2406.0e3}} {
		g.row(fmt.Sprintf("latent-heat-%g-c", c[0]), c[1], float64(air.LatentHeat(q.Celsius(c[0]))))
	}
}
