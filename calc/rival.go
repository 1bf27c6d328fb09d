package calc

import (
	"math"

	"leste/physics/air"
	"leste/physics/jet"
	q "leste/quantity"
)

func compressedAirTopic() Topic {
	return Topic{
		Name: "compressed-air", Asks: askRival,
		Help: "What nozzles on compressed air blow and what their compressor draws.",
		Params: []Param{
			{Name: "bore", Help: "Bore of a nozzle.", Kind: q.KindLength, Eg: "2 mm", Need: true},
			{Name: "count", Help: "Number of nozzles.", Kind: q.KindRatio, Default: "1", Source: "stated with the answer"},
			{Name: "pressure", Help: "Pressure at the nozzles (gauge).", Kind: q.KindGauge, Default: "4 bar", Source: "common practice, no source"},
			{Name: "discharge", Help: "Discharge coefficient.", Kind: q.KindRatio, Default: "0.97", Source: "published: orifice discharge tables, rounded entry 0.97", Bounds: Share},
			{Name: "velocity-coefficient", Help: "Velocity coefficient.", Kind: q.KindRatio, Default: "0.97", Source: "common practice, no source", Bounds: Share},
			{Name: "specific-power", Help: "Compressor power for each flow of free air.", Kind: q.KindSpecificPower, Default: "6.6 kW/(m3/min)", Source: "from memory of compressor data sheets"},
			{Name: "leaks", Help: "Share of the compressed air lost on the way.", Kind: q.KindRatio, Default: "0 %", Source: "none unless given", Bounds: Share},
			{Name: "temperature", Help: "Air temperature at the nozzles and in the room.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
			{Name: "ambient", Help: "Absolute pressure of the room.", Kind: q.KindAbsolute, Default: "101325 Pa", Source: "published: ISO 2533, standard atmosphere"},
		},
		Answers: []Output{
			{"flow_kg_s", "flow of the nozzles together", q.KindMassFlow},
			{"free_air_m3_min", "free air drawn by the compressor", q.KindVolumeFlow},
			{"power_w", "power of the compressor", q.KindPower},
			{"thrust_n", "thrust of the nozzles together", q.KindForce},
			{"power_per_thrust_w_n", "power for each newton of thrust", q.None},
			{"choked", "the nozzles are choked", q.None},
		},
		solve: solveCompressedAir,
	}
}

func solveCompressedAir(c *call) error {
	ambient, t := at[q.Absolute](c, "ambient"), at[q.Temperature](c, "temperature")
	leaks := float64(at[q.Ratio](c, "leaks"))
	if leaks == 1 {
		return c.wrong("leaks", "when all of it leaks, none is left; it must be below 1")
	}
	pressure := at[q.Gauge](c, "pressure")
	check(c, "orifice-table", "pg", pressure)
	c.use("discharge", "thrust", "power-per-thrust", "compressed-air-rival")
	d := jet.DryAir().Isentropic(pressure.Above(ambient), t, ambient)
	bore := float64(at[q.Length](c, "bore"))
	area := q.Area(math.Pi / 4 * bore * bore * float64(at[q.Ratio](c, "count")))
	cd := at[q.Ratio](c, "discharge")
	flow, thrust := d.MassFlow(cd, area), d.Thrust(cd, at[q.Ratio](c, "velocity-coefficient"), area)
	free := float64(jet.FreeAirFlow(flow, air.Dry(ambient, t).Density())) / (1 - leaks)
	power := free * float64(at[q.SpecificPower](c, "specific-power"))
	put(c, "flow_kg_s", flow)
	put(c, "free_air_m3_min", free)
	put(c, "power_w", power)
	put(c, "thrust_n", thrust)
	put(c, "power_per_thrust_w_n", power/float64(thrust))
	c.say("choked", d.Choked)
	return nil
}
