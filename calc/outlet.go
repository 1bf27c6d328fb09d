package calc

import (
	"math"

	"leste/physics/air"
	"leste/physics/jet"
	q "leste/quantity"
)

// outletParams are the inputs of topics that begin at an air outlet.
func outletParams() []Param {
	return []Param{
		{Name: "slot-gap", Help: "Slot gap of an air knife; give this or the bore.", Kind: q.KindLength, Eg: "1.5 mm"},
		{Name: "bore", Help: "Bore of a nozzle; give this or the slot gap.", Kind: q.KindLength, Eg: "22 mm"},
		{Name: "spacing", Help: "Distance between the nozzles of a manifold, with the bore; one nozzle alone when left out.", Kind: q.KindLength, Eg: "60 mm"},
		{Name: "pressure", Help: "Plenum pressure (gauge).", Kind: q.KindGauge, Need: true},
		{Name: "temperature", Help: "Air temperature in the plenum.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
		{Name: "discharge", Help: "Discharge coefficient on the geometric area; from the opening's width when left out.", Kind: q.KindRatio, Eg: "0.95", Bounds: Share},
		{Name: "velocity-coefficient", Help: "Velocity coefficient; 1 is an outlet without loss, real ones reach 0.95 to 0.99.", Kind: q.KindRatio, Default: "1", Source: "an outlet without loss", Bounds: Share},
		{Name: "ambient", Help: "Absolute pressure of the room.", Kind: q.KindAbsolute, Default: "101325 Pa", Source: "published: ISO 2533, standard atmosphere"},
		{Name: "room-temperature", Help: "Air temperature of the room.", Kind: q.KindTemperature, Default: "20 degC", Source: "stated with the answer"},
	}
}

// An outlet is a slot, a nozzle or an endless row of nozzles with the air that leaves it.
type outlet struct {
	gap, bore, spacing q.Length // bore 0 is a slot, spacing 0 a single nozzle
	plenum             q.Gauge
	cd, cv             q.Ratio
	exit               jet.Discharge
	room               air.Moist

	perLength q.ThrustPerLength // of a slot
	thrust    q.Force           // of one nozzle
}

// outlet reads the outlet's inputs and checks the ranges of its discharge.
func (c *call) outlet() (outlet, error) {
	o := outlet{plenum: at[q.Gauge](c, "pressure"), cv: at[q.Ratio](c, "velocity-coefficient")}
	ambient := at[q.Absolute](c, "ambient")
	o.room = air.Dry(ambient, at[q.Temperature](c, "room-temperature"))
	switch {
	case c.has("slot-gap") == c.has("bore"):
		return o, c.wrong("slot-gap", "give either the slot gap of an air knife or the bore of a nozzle")
	case c.has("slot-gap") && c.has("spacing"):
		return o, c.wrong("spacing", "a slot has no spacing; give the bore of the nozzles instead of a slot gap")
	case c.has("slot-gap"):
		o.gap = at[q.Length](c, "slot-gap")
	default:
		o.bore = at[q.Length](c, "bore")
		if c.has("spacing") {
			if o.spacing = at[q.Length](c, "spacing"); o.spacing < o.bore {
				return o, c.wrong("spacing", "the nozzles are closer than their bore; give the distance between their axes")
			}
		}
	}
	gas := jet.DryAir()
	ratio := q.Ratio(ambient / o.plenum.Above(ambient))
	t0 := at[q.Temperature](c, "temperature")
	check(c, "discharge", "r", ratio)
	check(c, "discharge", "T0", t0)
	check(c, "thrust", "cv", o.cv)
	o.exit = gas.Isentropic(o.plenum.Above(ambient), t0, ambient)
	if err := c.discharge(&o, gas, ratio); err != nil {
		return o, err
	}
	if o.bore == 0 {
		o.perLength = o.exit.ThrustPerLength(o.cd, o.cv, o.gap)
	} else {
		o.thrust = o.exit.Thrust(o.cd, o.cv, o.area())
	}
	return o, nil
}

// discharge takes the coefficient given or finds the one of a smooth opening of that width.
func (c *call) discharge(o *outlet, gas jet.Gas, ratio q.Ratio) error {
	if c.has("discharge") {
		o.cd = at[q.Ratio](c, "discharge")
		if o.cd == 0 {
			return c.wrong("discharge", "a coefficient of 0 lets no air out; it must be above zero")
		}
		return nil
	}
	lip, width := jet.SmoothSlot, o.gap
	if o.bore > 0 {
		lip, width = jet.RoundedNozzle, o.bore
	} else {
		check(c, "discharge-coefficient", "b", o.gap)
	}
	re := o.reynolds()
	check(c, "discharge-coefficient", "re", re)
	band, err := jet.DischargeCoefficient(lip, jet.Opening{Width: width, Reynolds: re, Ratio: ratio, Gas: gas})
	if err != nil {
		return c.wrong("discharge", "%v", err)
	}
	o.cd = q.Ratio(band.Likely)
	if !(o.cd > 0) {
		return c.wrong("discharge", "the opening is too small for its coefficient to be known; give a measured one")
	}
	return nil
}

func (o outlet) area() q.Area { return q.Area(math.Pi / 4 * float64(o.bore) * float64(o.bore)) }

// reynolds is on the gap or bore and the state in the exit.
func (o outlet) reynolds() q.Ratio {
	width := max(o.gap, o.bore)
	return q.Ratio(float64(o.exit.MassFlux) * float64(width) / float64(air.Viscosity(o.exit.Temperature)))
}

func (o outlet) row() jet.Row { return jet.Row{Spacing: o.spacing, Thrust: o.thrust} }

// velocity is that on the centre of the jet at a distance.
func (o outlet) velocity(x q.Length) q.Speed {
	rho := o.room.Density()
	switch {
	case o.bore == 0:
		return jet.PlaneVelocity(o.perLength, rho, x, o.exit.Velocity)
	case o.spacing > 0:
		return o.row().Velocity(x, 0, rho, o.exit.Velocity)
	}
	return jet.RoundVelocity(o.thrust, rho, x, o.exit.Velocity)
}

// impact is what a wall at right angles feels.
type impact struct {
	pressure q.Gauge
	gradient q.PressureGradient
	shear    q.Stress
	distance q.Length // that counts
}

func (o outlet) impact(x q.Length) impact {
	rho, nu := o.room.Density(), o.room.KinematicViscosity()
	var i impact
	shape := jet.Plane
	if o.bore == 0 || o.spacing > 0 && o.row().Merged(x) >= 0.5 {
		m := o.perLength
		if o.bore > 0 {
			m = o.row().MomentumAt(x, 0)
		}
		i.distance = jet.PlaneDistance(x, m, o.plenum)
		i.pressure = jet.PlaneImpactPressure(m, i.distance)
	} else {
		shape = jet.Round
		i.distance = jet.RoundDistance(x, o.thrust, o.plenum)
		i.pressure = jet.RoundImpactPressure(o.thrust, i.distance)
	}
	i.gradient, _ = shape.MaxPressureGradient(i.pressure, i.distance)
	i.shear, _ = shape.MaxWallShear(jet.ImpactVelocity(i.pressure, rho), i.distance, rho, nu)
	return i
}

// checkJet notes where the jet or its impact leaves the range of its relations.
func (c *call) checkJet(o outlet, x q.Length) {
	width := max(o.gap, o.bore)
	re := o.reynolds()
	if o.bore == 0 {
		check(c, "plane-jet", "re_b", re)
		check(c, "plane-jet", "x_b", x/width)
	} else {
		check(c, "round-jet", "re_d", re)
		check(c, "round-jet", "x_d", x/width)
	}
	if o.spacing > 0 {
		check(c, "nozzle-row", "x_s", x/o.spacing)
	}
}
