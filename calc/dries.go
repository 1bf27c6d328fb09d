package calc

import (
	"math"

	"leste/physics/air"
	"leste/physics/water"
	q "leste/quantity"
)

// roomParams are the inputs that describe the air around a container.
func roomParams() []Param {
	return []Param{
		{Name: "room-temperature", Help: "Air temperature.", Kind: q.KindTemperature, Default: "25 degC", Source: "stated with the answer"},
		{Name: "humidity", Help: "Relative humidity.", Kind: q.KindRatio, Default: "50 %", Source: "stated with the answer", Bounds: Share},
		{Name: "ambient", Help: "Absolute air pressure.", Kind: q.KindAbsolute, Default: "101325 Pa", Source: "published: ISO 2533, standard atmosphere"},
		{Name: "heat-transfer", Help: "Heat transfer coefficient between air and water.", Kind: q.KindHeatTransfer, Default: "12 W/(m2 K)", Source: "a container in single file, common practice, no source"},
		{Name: "product-temperature", Help: "Temperature of the product; the wall is without heat from it when left out.", Kind: q.KindTemperature, Eg: "4 degC"},
		{Name: "conductance", Help: "Heat passed from product to water for each area and kelvin.", Kind: q.KindHeatTransfer, Default: "150 W/(m2 K)", Source: "common practice, no source"},
	}
}

// wetWall is the surface of the inputs.
func (c *call) wetWall() (air.Surface, error) {
	m := air.Humid(at[q.Absolute](c, "ambient"), at[q.Temperature](c, "room-temperature"), at[q.Ratio](c, "humidity"))
	if math.IsNaN(float64(m.W)) {
		return air.Surface{}, c.wrong("humidity", "such air does not exist at that temperature and pressure; give less humidity or cooler air")
	}
	check(c, "site-air", "T", m.T)
	check(c, "site-air", "p", m.P)
	check(c, "site-air", "W", m.W)
	c.use("saturation-pressure", "mass-transfer", "evaporation-flux", "surface-balance")
	s := air.Surface{Air: m, Heat: at[q.HeatTransfer](c, "heat-transfer")}
	if c.has("product-temperature") {
		s.Product, s.Inward = at[q.Temperature](c, "product-temperature"), at[q.HeatTransfer](c, "conductance")
	}
	return s, nil
}

func evaporationTopic() Topic {
	return Topic{
		Name: "evaporation", Asks: askDries,
		Help: "How fast a film evaporates on the way, and how long it lasts.",
		Params: append([]Param{
			{Name: "film", Help: "Thickness of the film.", Kind: q.KindLength, Default: "10 um", Source: "stated with the answer"},
		}, roomParams()...),
		Answers: []Output{
			{"rate_um_s", "film lost in a second", q.KindSpeed},
			{"time_s", "time until the film is gone", q.KindDuration},
			{"surface_c", "temperature of the water", q.KindTemperature},
		},
		solve: solveEvaporation,
	}
}

func solveEvaporation(c *call) error {
	s, err := c.wetWall()
	if err != nil {
		return err
	}
	e := s.Balance()
	check(c, "surface-balance", "Ts", e.Surface)
	rate := float64(e.Flux) / float64(water.Density(e.Surface))
	put(c, "rate_um_s", rate)
	put(c, "surface_c", e.Surface)
	lasts := float64(at[q.Length](c, "film")) / rate
	if !(rate > 0) {
		lasts = math.NaN() // it never dries: water condenses on it
	}
	put(c, "time_s", lasts)
	return nil
}

func condensationTopic() Topic {
	return Topic{
		Name: "condensation", Asks: askDries,
		Help: "Whether a cold container sweats, and how much water it gathers.",
		Params: append([]Param{
			{Name: "time", Help: "Time in the room.", Kind: q.KindDuration, Default: "60 s", Source: "stated with the answer"},
			{Name: "heat-capacity", Help: "Product for each area of wall, as kg of water per m2.", Kind: q.KindAreaMass, Default: "16 kg/m2", Source: "330 mL on 0.02 m2, common practice, no source"},
		}, roomParams()...),
		Answers: []Output{
			{"dew_point_c", "dew point of the room", q.KindTemperature},
			{"sweats", "water condenses on the wall", q.None},
			{"condensate_g_m2", "water gathered in the time", q.KindAreaMass},
			{"surface_c", "temperature of the wall at the start", q.KindTemperature},
			{"product_c", "temperature of the product at the end", q.KindTemperature},
		},
		solve: solveCondensation,
	}
}

// waterHeat is the specific heat of water [J/(kg K)].
const waterHeat = 4186

func solveCondensation(c *call) error {
	if !c.has("product-temperature") {
		return c.wrong("product-temperature", "it must be given, e.g. %q", q.KindTemperature.Example())
	}
	s, err := c.wetWall()
	if err != nil {
		return err
	}
	c.use("condensate-growth")
	at0 := s.Balance()
	check(c, "surface-balance", "Ts", at0.Surface)
	const area = 1 // m2: capacity and condensate are per area
	grown := water.ColdProduct{Surface: s, Capacity: float64(at[q.AreaMass](c, "heat-capacity")) * waterHeat, Area: area}.
		After(at[q.Duration](c, "time"))
	put(c, "dew_point_c", s.Air.DewPoint())
	put(c, "surface_c", at0.Surface)
	c.say("sweats", at0.Flux < 0)
	put(c, "condensate_g_m2", max(grown.Condensate, 0))
	put(c, "product_c", grown.Product)
	return nil
}
