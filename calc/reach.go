package calc

import (
	"math"

	"leste/physics/jet"
	q "leste/quantity"
)

func reachTopic() Topic {
	return Topic{
		Name: "reach", Asks: askReach,
		Help: "How far from an outlet the air still has a velocity.",
		Params: append(outletParams(),
			Param{Name: "velocity", Help: "Velocity that is still wanted.", Kind: q.KindSpeed, Default: "40 m/s", Source: "common practice, no source"}),
		Answers: []Output{
			{"reach_mm", "distance at which the velocity is left", q.KindLength},
			{"exit_velocity_m_s", "exit velocity", q.KindSpeed},
			{"impact_pressure_pa", "impact pressure there", q.KindGauge},
			{"max_wall_shear_pa", "greatest wall shear there", q.KindStress},
			{"half_width_mm", "half-width of the jet there", q.KindLength},
		},
		solve: solveReach,
	}
}

func solveReach(c *call) error {
	o, err := c.outlet()
	if err != nil {
		return err
	}
	wanted := at[q.Speed](c, "velocity")
	put(c, "exit_velocity_m_s", o.exit.Velocity)
	c.use("reach")
	if wanted > o.exit.Velocity {
		return c.wrong("velocity", "the air leaves at %.3g m/s and is never faster; ask for less or raise the pressure", float64(o.exit.Velocity))
	}
	x := o.reach(wanted)
	c.checkJet(o, x)
	put(c, "reach_mm", x)
	i := o.impact(x)
	put(c, "impact_pressure_pa", i.pressure)
	put(c, "max_wall_shear_pa", i.shear)
	if o.bore == 0 {
		put(c, "half_width_mm", jet.PlaneHalfWidth(x))
	} else {
		put(c, "half_width_mm", jet.RoundHalfWidth(x))
	}
	return nil
}

// reach is the distance at which the velocity on the centre has fallen to the wanted one.
func (o outlet) reach(wanted q.Speed) q.Length {
	rho := o.room.Density()
	switch {
	case o.bore == 0:
		return jet.PlaneReach(o.perLength, rho, wanted)
	case o.spacing == 0:
		return jet.RoundReach(o.thrust, rho, wanted)
	}
	// The velocity of a row falls steadily: halve an interval that holds the answer.
	near, far := 0.0, float64(jet.RoundReach(o.thrust, rho, wanted))
	for o.velocity(q.Length(far)) > wanted {
		near, far = far, 2*far
	}
	for range 80 {
		middle := (near + far) / 2
		if o.velocity(q.Length(middle)) > wanted {
			near = middle
		} else {
			far = middle
		}
		if far-near <= 1e-9*math.Abs(far) {
			break
		}
	}
	return q.Length(far)
}
