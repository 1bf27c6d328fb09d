package calc

import (
	"leste/physics/water"
	q "leste/quantity"
)

// liquidParams are the inputs that describe the water.
func liquidParams() []Param {
	return []Param{
		{Name: "temperature", Help: "Temperature of the water.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
		{Name: "surface-tension", Help: "Surface tension; that of clean water when left out.", Kind: q.KindSurfaceTension},
	}
}

// liquid is the water of the inputs.
func (c *call) liquid() water.Liquid {
	l := water.Pure(at[q.Temperature](c, "temperature"))
	c.use("surface-tension", "water-viscosity", "water-density")
	if c.has("surface-tension") {
		l.Tension = at[q.SurfaceTension](c, "surface-tension")
	}
	return l
}

// angleParams are the contact angles of the wall; the defaults are those of PET.
func angleParams() []Param {
	return []Param{
		{Name: "advancing", Help: "Advancing contact angle of the wall.", Kind: q.KindAngle, Default: "80 deg", Source: "common practice for PET, no source", Bounds: FromZero},
		{Name: "receding", Help: "Receding contact angle of the wall.", Kind: q.KindAngle, Default: "50 deg", Source: "common practice for PET, no source", Bounds: FromZero},
	}
}

func (c *call) wetting() (water.Wetting, error) {
	w := water.Wetting{Advancing: at[q.Angle](c, "advancing"), Receding: at[q.Angle](c, "receding")}
	switch {
	case w.Receding > w.Advancing:
		return w, c.wrong("receding", "the receding angle cannot exceed the advancing one (%.3g deg)", w.Advancing.Deg())
	case w.Advancing.Deg() > 175 || w.Advancing == 0:
		return w, c.wrong("advancing", "it must lie above 0 and be at most 175 deg")
	}
	return w, nil
}

func filmTopic() Topic {
	params := append([]Param{
		{Name: "speed", Help: "Speed at which the wall moves under the jet, square to the impingement line.", Kind: q.KindSpeed, Eg: "0.8 m/s", Need: true},
		{Name: "shear", Help: "Greatest wall shear of the jet.", Kind: q.KindStress, Need: true, Bounds: FromZero},
		{Name: "gradient", Help: "Steepest pressure gradient of the jet.", Kind: q.KindPressureGradient, Need: true, Bounds: FromZero},
	}, liquidParams()...)
	return Topic{
		Name: "film", Asks: askStays,
		Help:    "The film that a jet lets pass on a wall that wets.",
		Params:  params,
		Answers: []Output{{"film_um", "film that passes", q.KindLength}, {"film_g_m2", "water in it", q.KindAreaMass}},
		solve:   solveFilm,
	}
}

func solveFilm(c *call) error {
	l := c.liquid()
	tau, gradient := at[q.Stress](c, "shear"), at[q.PressureGradient](c, "gradient")
	if tau == 0 && gradient == 0 {
		return c.wrong("shear", "without shear and pressure nothing holds water back; give at least one of them")
	}
	h := water.WipedFilm(l, at[q.Speed](c, "speed"), tau, gradient)
	c.use("wiped-film")
	put(c, "film_um", h)
	put(c, "film_g_m2", float64(h)*float64(l.Density))
	return nil
}

func dropTopic() Topic {
	params := append([]Param{
		{Name: "shear", Help: "Wall shear of the air.", Kind: q.KindStress, Need: true, Bounds: FromZero},
		{Name: "air-speed", Help: "Speed of the air just outside the wall layer; no drop feels more.", Kind: q.KindSpeed, Eg: "50 m/s", Need: true, Bounds: FromZero},
		{Name: "gradient", Help: "Pressure gradient that pushes the same way.", Kind: q.KindPressureGradient, Default: "0 Pa/m", Source: "none unless given", Bounds: FromZero},
		{Name: "slide-speed", Help: "Speed at which the drop must move; 0 asks only that it moves.", Kind: q.KindSpeed, Default: "0 m/s", Source: "the drop must move at all", Bounds: FromZero},
		{Name: "drag", Help: "Drag coefficient of the drop.", Kind: q.KindRatio, Default: "0.2", Source: "published: anchored on White & Schmucker 2021, judgement"},
		{Name: "incline", Help: "Slope of the wall for the drop that gravity moves; 90 deg is upright.", Kind: q.KindAngle, Default: "90 deg", Source: "an upright wall", Bounds: FromZero},
		{Name: "air-density", Help: "Density of the air.", Kind: q.KindDensity, Default: "1.2 kg/m3", Source: "room air at 20 degC"},
		{Name: "air-viscosity", Help: "Kinematic viscosity of the air.", Kind: q.KindKinematicViscosity, Default: "15.1 mm2/s", Source: "room air at 20 degC"},
	}, append(angleParams(), liquidParams()...)...)
	return Topic{
		Name: "drop", Asks: askStays,
		Help:   "Which drop the air moves, which one gravity holds, and how fast a film draws back.",
		Params: params,
		Answers: []Output{
			{"critical_diameter_mm", "smallest drop that the air moves", q.KindLength},
			{"held_volume_ul", "largest drop that stays on the wall without air", q.KindVolume},
			{"held_diameter_mm", "its diameter on the wall", q.KindLength},
			{"dewetting_speed_m_s", "speed below which the wall behind the front dries", q.KindSpeed},
		},
		solve: solveDrop,
	}
}

func solveDrop(c *call) error {
	l := c.liquid()
	w, err := c.wetting()
	if err != nil {
		return err
	}
	s := water.Stream{
		Density: at[q.Density](c, "air-density"), Nu: at[q.KinematicViscosity](c, "air-viscosity"),
		Shear: at[q.Stress](c, "shear"), Edge: at[q.Speed](c, "air-speed"), Gradient: at[q.PressureGradient](c, "gradient"),
	}
	c.use("drop-balance", "retention", "slide", "dewetting-speed")
	if at[q.Speed](c, "slide-speed") > 0 {
		c.use("moving-contact-angle")
	}
	put(c, "critical_diameter_mm", water.CriticalDiameter(l, w, s, at[q.Ratio](c, "drag"), at[q.Speed](c, "slide-speed")))
	put(c, "held_volume_ul", water.SlideVolume(l, w, at[q.Angle](c, "incline")))
	put(c, "held_diameter_mm", water.SlideDiameter(l, w, at[q.Angle](c, "incline")))
	put(c, "dewetting_speed_m_s", water.DewettingSpeed(l, w.Receding, 0))
	return nil
}

func creviceTopic() Topic {
	params := append([]Param{
		{Name: "gap", Help: "Width of the gap that holds the water.", Kind: q.KindLength, Eg: "0.2 mm", Need: true},
		{Name: "depth", Help: "Length of the water along the way out.", Kind: q.KindLength, Eg: "5 mm", Need: true},
		{Name: "pressure", Help: "Pressure of the air across the water.", Kind: q.KindPressureDrop, Eg: "3 kPa", Need: true},
		{Name: "time", Help: "Time for which the pressure acts.", Kind: q.KindDuration, Default: "10 ms", Source: "a container passing a knife at about 1 m/s"},
	}, append(angleParams(), liquidParams()...)...)
	return Topic{
		Name: "crevice", Asks: askStays,
		Help:   "Whether air drives trapped water out of a gap, and how long it takes.",
		Params: params,
		Answers: []Output{
			{"hold_pa", "pressure that holds the water, likely", q.KindPressureDrop},
			{"hold_low_pa", "the same, low", q.KindPressureDrop},
			{"hold_high_pa", "the same, high", q.KindPressureDrop},
			{"clearing_time_ms", "time until all of it is out", q.KindDuration},
			{"cleared_pct", "share that is out after the time", q.KindRatio},
		},
		solve: solveCrevice,
	}
}

func solveCrevice(c *call) error {
	l := c.liquid()
	w, err := c.wetting()
	if err != nil {
		return err
	}
	gap := at[q.Length](c, "gap")
	hold := water.CreviceHold(l, gap, w, w)
	net := at[q.PressureDrop](c, "pressure") - q.PressureDrop(hold.Likely)
	crevice := water.Crevice{Width: gap, Length: at[q.Length](c, "depth")}
	c.use("crevice-hold", "crevice-clearing", "crevice-cleared")
	put(c, "hold_pa", hold.Likely)
	put(c, "hold_low_pa", hold.Low)
	put(c, "hold_high_pa", hold.High)
	put(c, "clearing_time_ms", crevice.ClearingTime(l, net))
	put(c, "cleared_pct", crevice.ClearedShare(l, net, at[q.Duration](c, "time")))
	return nil
}
