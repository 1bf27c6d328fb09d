package calc

import (
	"math"

	"leste/physics/air"
	q "leste/quantity"
)

func airTopic() Topic {
	return Topic{
		Name: "air", Asks: askAir,
		Help: "The state of humid air on site.",
		Params: []Param{
			{Name: "temperature", Help: "Air temperature.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
			{Name: "humidity", Help: "Relative humidity.", Kind: q.KindRatio, Default: "50 %", Source: "stated with the answer", Bounds: Share},
			{Name: "pressure", Help: "Absolute air pressure; give this or the altitude.", Kind: q.KindAbsolute, Eg: "98 kPa"},
			{Name: "altitude", Help: "Height above sea level; 0 m when neither is given.", Kind: q.KindLength, Eg: "650 m", Bounds: Any},
		},
		Answers: []Output{
			{"pressure_pa", "absolute pressure", q.KindAbsolute},
			{"density_kg_m3", "density", q.KindDensity},
			{"humidity_ratio_g_kg", "moisture for each kg of dry air", q.KindRatio},
			{"vapour_pressure_pa", "vapour pressure", q.KindPressureDrop},
			{"wet_bulb_c", "wet-bulb temperature", q.KindTemperature},
			{"dew_point_c", "dew point", q.KindTemperature},
			{"viscosity_pa_s", "dynamic viscosity", q.KindViscosity},
		},
		solve: solveAir,
	}
}

func solveAir(c *call) error {
	if c.has("pressure") && c.has("altitude") {
		return c.wrong("altitude", "give either the pressure or the altitude, not both")
	}
	p := at[q.Absolute](c, "pressure")
	if !c.has("pressure") {
		altitude := q.Length(0)
		if c.has("altitude") {
			altitude = at[q.Length](c, "altitude")
		}
		check(c, "standard-atmosphere", "h", altitude)
		p, _ = air.StandardAtmosphere(altitude)
	}
	m := air.Humid(p, at[q.Temperature](c, "temperature"), at[q.Ratio](c, "humidity"))
	if math.IsNaN(float64(m.W)) {
		return c.wrong("humidity", "such air does not exist at that temperature and pressure; give less humidity or cooler air")
	}
	check(c, "site-air", "T", m.T)
	check(c, "site-air", "p", m.P)
	check(c, "site-air", "W", m.W)
	c.use("saturation-pressure", "moist-density", "wet-bulb", "air-viscosity")
	put(c, "pressure_pa", m.P)
	put(c, "density_kg_m3", m.Density())
	put(c, "humidity_ratio_g_kg", m.W)
	put(c, "vapour_pressure_pa", m.VapourPressure())
	put(c, "wet_bulb_c", m.WetBulb())
	put(c, "dew_point_c", m.DewPoint())
	put(c, "viscosity_pa_s", m.Viscosity())
	return nil
}
