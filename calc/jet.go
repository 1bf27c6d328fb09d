package calc

import (
	"leste/physics/jet"
	q "leste/quantity"
)

func jetTopic() Topic {
	return Topic{
		Name: "jet", Asks: askJet,
		Help: "What leaves an air knife, a nozzle or a manifold, and what of it reaches a wall at right angles.",
		Params: append(outletParams(),
			Param{Name: "distance", Help: "Distance from the outlet to the wall along the air.", Kind: q.KindLength, Default: "100 mm", Source: "stated with the answer"}),
		Answers: []Output{
			{"exit_velocity_m_s", "exit velocity", q.KindSpeed},
			{"mass_flux_kg_s_m2", "mass flux in the exit", q.KindMassFluxDensity},
			{"flow_kg_s_m", "flow for each metre of slot", q.KindMassFlowPerLength},
			{"flow_kg_s", "flow of one nozzle", q.KindMassFlow},
			{"thrust_n_m", "thrust for each metre of slot", q.KindThrustPerLength},
			{"thrust_n", "thrust of one nozzle", q.KindForce},
			{"velocity_m_s", "velocity at the distance", q.KindSpeed},
			{"velocity_ratio", "velocity over exit velocity", q.KindRatio},
			{"half_width_mm", "half-width of the jet", q.KindLength},
			{"impact_pressure_pa", "impact pressure", q.KindGauge},
			{"max_pressure_gradient_pa_m", "steepest pressure gradient", q.KindPressureGradient},
			{"max_wall_shear_pa", "greatest wall shear", q.KindStress},
			{"merged", "the jets of the row have merged", q.None},
			{"ripple_pct", "velocity midway between nozzles, below that opposite one", q.KindRatio},
			{"discharge", "discharge coefficient used", q.KindRatio},
			{"choked", "the outlet is choked", q.None},
			{"sound_power_db_m", "sound power level of each metre of slot, over 1 pW", q.KindSoundLevel},
			{"sound_power_db", "sound power level of one nozzle, over 1 pW", q.KindSoundLevel},
		},
		solve: solveJet,
	}
}

func solveJet(c *call) error {
	o, err := c.outlet()
	if err != nil {
		return err
	}
	x := at[q.Length](c, "distance")
	c.checkJet(o, x)
	put(c, "exit_velocity_m_s", o.exit.Velocity)
	put(c, "mass_flux_kg_s_m2", o.exit.MassFlux)
	put(c, "discharge", o.cd)
	c.say("choked", o.exit.Choked)

	u := o.velocity(x)
	put(c, "velocity_m_s", u)
	put(c, "velocity_ratio", float64(u/o.exit.Velocity))
	if o.bore == 0 {
		put(c, "half_width_mm", jet.PlaneHalfWidth(x))
	} else {
		put(c, "half_width_mm", jet.RoundHalfWidth(x))
	}
	c.putImpact(o, x)
	c.putFlow(o)
	if o.spacing > 0 {
		c.say("merged", o.row().Merged(x) >= 0.5)
		put(c, "ripple_pct", o.row().Ripple(x))
	}
	return nil
}

func (c *call) putImpact(o outlet, x q.Length) {
	i := o.impact(x)
	c.use("impact-gradient")
	check(c, "impact-pressure", "h_b", x/max(o.gap, o.bore))
	if o.bore == 0 {
		check(c, "wall-shear", "re_b", o.reynolds())
	} else {
		check(c, "wall-shear", "re_d", o.reynolds())
	}
	put(c, "impact_pressure_pa", i.pressure)
	put(c, "max_pressure_gradient_pa_m", i.gradient)
	put(c, "max_wall_shear_pa", i.shear)
}

// putFlow gives flow, thrust and sound, per metre of a slot or per nozzle.
func (c *call) putFlow(o outlet) {
	sound := o.room.SoundSpeed()
	check(c, "jet-sound", "u_c", o.exit.Velocity/sound)
	if o.bore == 0 {
		flow := o.exit.MassFlowPerLength(o.cd, o.gap)
		put(c, "flow_kg_s_m", flow)
		put(c, "thrust_n_m", o.perLength)
		put(c, "sound_power_db_m", jet.SoundPowerLevel(q.Power(jet.SoundPowerPerLength(flow, o.exit.Velocity, sound))))
		return
	}
	flow := o.exit.MassFlow(o.cd, o.area())
	put(c, "flow_kg_s", flow)
	put(c, "thrust_n", o.thrust)
	put(c, "sound_power_db", jet.SoundPowerLevel(jet.SoundPower(flow, o.exit.Velocity, sound)))
}
