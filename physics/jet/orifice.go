package jet

import (
	"math"

	"leste/quantity"
)

// FreeAirFlow is a mass flow as volume at the density of free air, as orifice tables give it; card
// orifice-table.
func FreeAirFlow(m quantity.MassFlow, free quantity.Density) quantity.VolumeFlow {
	return quantity.VolumeFlow(float64(m) / float64(free))
}

// CompressionWork is the isentropic work on the gas from p1, t1 to p2, per mass; card power-per-thrust.
func (g Gas) CompressionWork(p1 quantity.Absolute, t1 quantity.Temperature, p2 quantity.Absolute) quantity.SpecificEnergy {
	return quantity.SpecificEnergy(float64(g.SpecificHeat()) * float64(g.TemperatureRise(p1, t1, p2)))
}

// TemperatureRise is that of an isentropic compression; the real rise is this over the isentropic efficiency.
func (g Gas) TemperatureRise(p1 quantity.Absolute, t1 quantity.Temperature, p2 quantity.Absolute) quantity.TemperatureDifference {
	return quantity.TemperatureDifference(float64(t1) * (math.Pow(float64(p2/p1), (float64(g.K)-1)/float64(g.K)) - 1))
}

// BlowerPowerPerThrust is the power into a blower for each newton of thrust of the outlets it feeds: inlet at
// pa and t1, discharge at pg, overall efficiency eta, and the share of the shaft's work that the air still
// has at the outlet; card power-per-thrust.
func (g Gas) BlowerPowerPerThrust(pa quantity.Absolute, t1 quantity.Temperature, pg quantity.Gauge, eta, kept, cv quantity.Ratio) quantity.PowerPerForce {
	p0 := pg.Above(pa)
	work := float64(g.CompressionWork(pa, t1, p0)) / float64(eta)
	t0 := t1 + quantity.Temperature(float64(kept)*work/float64(g.SpecificHeat()))
	return g.powerPerThrust(work, p0, t0, pa, cv)
}

// CompressedAirPowerPerThrust is the compressor's power for each newton of thrust of plain nozzles fed from a
// header at pg and t0, from the compressor's power per free air flow at the density of free air; card
// power-per-thrust.
func (g Gas) CompressedAirPowerPerThrust(pa quantity.Absolute, t0 quantity.Temperature, pg quantity.Gauge, specific quantity.SpecificPower, free quantity.Density, cv quantity.Ratio) quantity.PowerPerForce {
	return g.powerPerThrust(float64(specific)/float64(free), pg.Above(pa), t0, pa, cv)
}

func (g Gas) powerPerThrust(perMass float64, p0 quantity.Absolute, t0 quantity.Temperature, pa quantity.Absolute, cv quantity.Ratio) quantity.PowerPerForce {
	d := g.Isentropic(p0, t0, pa)
	return quantity.PowerPerForce(perMass * float64(d.MassFlux) / float64(d.ThrustFlux(cv)))
}
