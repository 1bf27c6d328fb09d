package calc

import (
	"math"

	"leste/airsupply"
	"leste/physics/air"
	"leste/physics/jet"
	q "leste/quantity"
)

func ductTopic() Topic {
	return Topic{
		Name: "duct", Asks: askPath,
		Help: "Velocity and pressure loss of a round duct.",
		Params: []Param{
			{Name: "flow", Help: "Volume flow at the duct's own temperature and pressure.", Kind: q.KindVolumeFlow, Need: true},
			{Name: "bore", Help: "Inside diameter.", Kind: q.KindLength, Eg: "100 mm", Need: true},
			{Name: "length", Help: "Length.", Kind: q.KindLength, Default: "1 m", Source: "stated with the answer", Bounds: FromZero},
			{Name: "roughness", Help: "Roughness of the wall.", Kind: q.KindLength, Default: "0.15 mm", Source: "galvanised sheet, common practice, no source", Bounds: FromZero},
			{Name: "loss", Help: "Loss coefficients of bends and fittings together.", Kind: q.KindRatio, Default: "0", Source: "none unless given", Bounds: FromZero},
			{Name: "temperature", Help: "Air temperature in the duct.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
			{Name: "pressure", Help: "Absolute pressure in the duct.", Kind: q.KindAbsolute, Default: "101325 Pa", Source: "published: ISO 2533, standard atmosphere"},
		},
		Answers: []Output{
			{"velocity_m_s", "velocity", q.KindSpeed},
			{"reynolds", "Reynolds number", q.KindRatio},
			{"friction_factor", "friction factor (Darcy)", q.KindRatio},
			{"loss_pa", "pressure loss", q.KindPressureDrop},
			{"velocity_head_pa", "velocity head", q.KindPressureDrop},
		},
		solve: solveDuct,
	}
}

func solveDuct(c *call) error {
	m := air.Dry(at[q.Absolute](c, "pressure"), at[q.Temperature](c, "temperature"))
	rho, bore := float64(m.Density()), float64(at[q.Length](c, "bore"))
	u := float64(at[q.VolumeFlow](c, "flow")) / (math.Pi / 4 * bore * bore)
	re := u * bore / float64(m.KinematicViscosity())
	f := airsupply.Friction(q.Ratio(re), q.Ratio(float64(at[q.Length](c, "roughness"))/bore))
	head := rho * u * u / 2
	loss := head * (float64(f)*float64(at[q.Length](c, "length"))/bore + float64(at[q.Ratio](c, "loss")))
	check(c, "duct-friction", "re", re)
	check(c, "duct-friction", "e_d", float64(at[q.Length](c, "roughness"))/bore)
	check(c, "duct-friction", "dp_p", loss/float64(m.P))
	put(c, "velocity_m_s", u)
	put(c, "reynolds", re)
	put(c, "friction_factor", f)
	put(c, "loss_pa", loss)
	put(c, "velocity_head_pa", head)
	return nil
}

func plenumTopic() Topic {
	return Topic{
		Name: "plenum", Asks: askPath,
		Help: "How evenly an outlet blows that is fed from one end.",
		Params: []Param{
			{Name: "slot-gap", Help: "Slot gap; give this or the bore and count of nozzles.", Kind: q.KindLength, Eg: "1.5 mm"},
			{Name: "bore", Help: "Bore of the nozzles.", Kind: q.KindLength, Eg: "8 mm"},
			{Name: "count", Help: "Number of nozzles.", Kind: q.KindRatio, Eg: "12"},
			{Name: "length", Help: "Length of the outlet.", Kind: q.KindLength, Eg: "300 mm", Need: true},
			{Name: "plenum-bore", Help: "Bore of the plenum.", Kind: q.KindLength, Eg: "60 mm", Need: true},
			{Name: "discharge", Help: "Discharge coefficient of the outlet.", Kind: q.KindRatio, Default: "0.95", Source: "published: smooth slot of 1 mm, re-derived"},
			{Name: "friction", Help: "Friction factor of the plenum (Darcy).", Kind: q.KindRatio, Default: "0.02", Source: "common practice, no source", Bounds: FromZero},
			{Name: "regain", Help: "Share of the velocity head that the slowing air regains.", Kind: q.KindRatio, Default: "1", Source: "published: Bajura & Jones 1976; 0.8 to 1.2", Bounds: FromZero},
		},
		Answers: []Output{
			{"non_uniformity_pct", "difference of the velocity along the outlet", q.KindRatio},
			{"inclination_deg", "slant of the air at the feed end", q.KindAngle},
			{"opening_ratio", "opening over the cross-section of the plenum", q.KindRatio},
		},
		solve: solvePlenum,
	}
}

func solvePlenum(c *call) error {
	length, plenumBore := float64(at[q.Length](c, "length")), float64(at[q.Length](c, "plenum-bore"))
	var opening float64
	switch {
	case c.has("slot-gap") == c.has("bore"):
		return c.wrong("slot-gap", "give either the slot gap or the bore and count of the nozzles")
	case c.has("slot-gap"):
		opening = float64(at[q.Length](c, "slot-gap")) * length
	case !c.has("count"):
		return c.wrong("count", "it must be given with the bore, e.g. %q", "12")
	default:
		bore := float64(at[q.Length](c, "bore"))
		opening = math.Pi / 4 * bore * bore * float64(at[q.Ratio](c, "count"))
	}
	ratio := float64(at[q.Ratio](c, "discharge")) * opening / (math.Pi / 4 * plenumBore * plenumBore)
	d, notes := airsupply.Distribute(airsupply.PlenumGroups{
		Opening: q.Ratio(ratio), Friction: q.Ratio(float64(at[q.Ratio](c, "friction")) * length / plenumBore),
	}, at[q.Ratio](c, "regain"))
	check(c, "plenum", "r", at[q.Ratio](c, "regain"))
	c.note(notes...)
	put(c, "non_uniformity_pct", d.NonUniformity)
	put(c, "inclination_deg", d.Inclination)
	put(c, "opening_ratio", ratio)
	return nil
}

func compressionTopic() Topic {
	return Topic{
		Name: "compression", Asks: askPath,
		Help: "What a blower needs to raise air to a pressure, and how warm it gets.",
		Params: []Param{
			{Name: "flow", Help: "Inlet volume flow.", Kind: q.KindVolumeFlow, Need: true},
			{Name: "pressure", Help: "Pressure wanted at the blower's outlet (gauge).", Kind: q.KindGauge, Need: true},
			{Name: "inlet-loss", Help: "Loss of inlet and filter.", Kind: q.KindPressureDrop, Default: "0 Pa", Source: "none unless given", Bounds: FromZero},
			{Name: "efficiency", Help: "Isentropic efficiency of the blower.", Kind: q.KindRatio, Default: "65 %", Source: "common practice, no source", Bounds: Share},
			{Name: "temperature", Help: "Inlet air temperature.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
			{Name: "ambient", Help: "Absolute pressure of the room.", Kind: q.KindAbsolute, Default: "101325 Pa", Source: "published: ISO 2533, standard atmosphere"},
		},
		Answers: []Output{
			{"rise_pa", "pressure rise of the blower", q.KindPressureDrop},
			{"discharge_c", "discharge temperature", q.KindTemperature},
			{"shaft_w", "shaft power", q.KindPower},
			{"flow_kg_s", "mass flow", q.KindMassFlow},
		},
		solve: solveCompression,
	}
}

func solveCompression(c *call) error {
	ambient := at[q.Absolute](c, "ambient")
	inlet := ambient - q.Absolute(at[q.PressureDrop](c, "inlet-loss"))
	if inlet <= 0 {
		return c.wrong("inlet-loss", "it takes all the pressure of the room; it must be less than %.6g Pa", float64(ambient))
	}
	efficiency := float64(at[q.Ratio](c, "efficiency"))
	if efficiency == 0 {
		return c.wrong("efficiency", "it must be above zero")
	}
	outlet := at[q.Gauge](c, "pressure").Above(ambient)
	t := at[q.Temperature](c, "temperature")
	gas := jet.DryAir()
	flow := float64(gas.Density(inlet, t)) * float64(at[q.VolumeFlow](c, "flow"))
	check(c, "isentropic-compression", "p2_p1", outlet/inlet)
	put(c, "rise_pa", outlet-inlet)
	put(c, "discharge_c", float64(t)+float64(gas.TemperatureRise(inlet, t, outlet))/efficiency)
	put(c, "shaft_w", flow*float64(gas.CompressionWork(inlet, t, outlet))/efficiency)
	put(c, "flow_kg_s", flow)
	return nil
}

func motorTopic() Topic {
	return Topic{
		Name: "motor", Asks: askPath,
		Help: "Efficiency of a motor and its drive at a load.",
		Params: []Param{
			{Name: "rated", Help: "Rated power.", Kind: q.KindPower, Need: true},
			{Name: "load", Help: "Shaft power over rated power.", Kind: q.KindRatio, Default: "100 %", Source: "full load"},
			{Name: "class", Help: "Efficiency class.", Choices: []string{airsupply.IE2, airsupply.IE3, airsupply.IE4, airsupply.USPremium}, Default: airsupply.IE3, Source: "common practice, no source"},
			{Name: "poles", Help: "Number of poles.", Choices: []string{"2", "4"}, Default: "4", Source: "common practice, no source"},
			{Name: "inverter", Help: "Whether it runs on a variable-frequency drive.", Choices: []string{"no", "yes"}, Default: "no", Source: "none unless given"},
		},
		Answers: []Output{
			{"efficiency_pct", "efficiency of the motor at the load", q.KindRatio},
			{"full_load_pct", "efficiency at full load", q.KindRatio},
			{"drive_pct", "efficiency of the variable-frequency drive", q.KindRatio},
			{"grid_w", "power from the mains", q.KindPower},
		},
		solve: solveMotor,
	}
}

func solveMotor(c *call) error {
	rated := at[q.Power](c, "rated")
	motor := airsupply.Motor{Rated: rated, Class: c.words["class"], Poles: 4}
	if c.words["poles"] == "2" {
		motor.Poles = 2
	}
	full, err := motor.FullLoad()
	if err != nil {
		return c.wrong("rated", "%v", err)
	}
	drive := airsupply.Drive{Motor: motor, Inverter: c.words["inverter"] == "yes"}
	s, err := drive.Run(rated * q.Power(at[q.Ratio](c, "load")))
	if err != nil {
		return c.wrong("rated", "%v", err)
	}
	check(c, "motor-efficiency", "x", s.Load)
	put(c, "efficiency_pct", s.Motor)
	put(c, "full_load_pct", full)
	if drive.Inverter {
		c.use("inverter-efficiency")
		put(c, "drive_pct", s.Inverter)
	}
	put(c, "grid_w", s.Grid)
	return nil
}
