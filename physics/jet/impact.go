package jet

import (
	"math"

	"leste/quantity"
)

// Constants of the impact of a jet that hits a wall at right angles. Pressure and shape go together: for
// both shapes the pressure on the wall adds up to the thrust.
const (
	PlaneImpact = 3.5   // impact pressure = 3.5 thrust per length/distance
	RoundImpact = 31.8  // impact pressure = 31.8 thrust/distance2
	PlaneShapeC = 38.5  // pressure falls as exp(-38.5 (s/distance)2)
	RoundShapeC = 100.0 // pressure falls as exp(-100 (r/distance)2)

	PlaneShear    = 1.75  // greatest wall shear over rho U2 sqrt(nu/(U distance))
	RoundShear    = 2.37  // the same, round
	PlaneShearX   = 0.155 // where it is, over the distance
	RoundShearX   = 0.09
	planeFall     = 0.68  // how fast the shear falls beyond
	roundFall     = 0.58  //
	roundHighForm = 0.204 // upper estimate of the shear, round, over thrust/distance2
	highX         = 0.3   // where the wall jet's shear is taken as an upper estimate
)

// PlaneDistance is the distance that counts for the impact of a slot jet: the distance itself, or, within
// the jet's core, the distance at which the impact pressure would be the plenum's; card impact-pressure.
func PlaneDistance(h quantity.Length, m quantity.ThrustPerLength, plenum quantity.Gauge) quantity.Length {
	return quantity.Length(PlaneDistanceSI(float64(h), float64(m), float64(plenum)))
}

// RoundDistance is PlaneDistance for a round jet.
func RoundDistance(h quantity.Length, m quantity.Force, plenum quantity.Gauge) quantity.Length {
	return quantity.Length(RoundDistanceSI(float64(h), float64(m), float64(plenum)))
}

// PlaneDistanceSI is PlaneDistance in m, N/m and Pa.
func PlaneDistanceSI(h, m, plenum float64) float64 { return max(h, PlaneImpact*m/plenum) }

// RoundDistanceSI is RoundDistance in m, N and Pa.
func RoundDistanceSI(h, m, plenum float64) float64 { return max(h, math.Sqrt(RoundImpact*m/plenum)) }

// PlaneImpactPressure is the greatest pressure on the wall from a slot jet at right angles; card
// impact-pressure. The distance comes from PlaneDistance.
func PlaneImpactPressure(m quantity.ThrustPerLength, distance quantity.Length) quantity.Gauge {
	return quantity.Gauge(PlaneImpact * float64(m) / float64(distance))
}

// RoundImpactPressure is the greatest pressure on the wall from a round jet at right angles; card
// impact-pressure. The distance comes from RoundDistance.
func RoundImpactPressure(m quantity.Force, distance quantity.Length) quantity.Gauge {
	return quantity.Gauge(RoundImpact * float64(m) / float64(distance*distance))
}

// PressureShape is the pressure at offset s from the impingement line or point over the greatest.
func (s Shape) PressureShape(offset, distance quantity.Length) quantity.Ratio {
	x := float64(offset / distance)
	return quantity.Ratio(math.Exp(-s.pressureC() * x * x))
}

func (s Shape) pressureC() float64 {
	if s == Round {
		return RoundShapeC
	}
	return PlaneShapeC
}

// MaxPressureGradient is the steepest fall of the pressure along the wall, and where; card
// impact-gradient.
func (s Shape) MaxPressureGradient(p quantity.Gauge, distance quantity.Length) (quantity.PressureGradient, quantity.Length) {
	c := s.pressureC()
	return quantity.PressureGradient(math.Sqrt(2*c/math.E) * float64(p) / float64(distance)),
		quantity.Length(float64(distance) / math.Sqrt(2*c))
}

// ImpactVelocity is the velocity that would stagnate at p, and the greatest the air reaches along the wall.
func ImpactVelocity(p quantity.Gauge, rho quantity.Density) quantity.Speed {
	return quantity.Speed(math.Sqrt(2 * float64(p) / float64(rho)))
}

// MaxWallShear is the greatest wall shear of a jet at right angles, and where; card wall-shear. The velocity
// comes from ImpactVelocity, the distance from PlaneDistance or RoundDistance.
func (s Shape) MaxWallShear(u quantity.Speed, distance quantity.Length, rho quantity.Density, nu quantity.KinematicViscosity) (quantity.Stress, quantity.Length) {
	c, at := PlaneShear, PlaneShearX
	if s == Round {
		c, at = RoundShear, RoundShearX
	}
	return quantity.Stress(MaxWallShearSI(c, float64(u), float64(distance), float64(rho), float64(nu))),
		quantity.Length(at * float64(distance))
}

// MaxWallShearSI is MaxWallShear with c = PlaneShear or RoundShear, in m/s, m, kg/m3, m2/s and Pa.
func MaxWallShearSI(c, u, distance, rho, nu float64) float64 {
	return c * rho * u * u * math.Sqrt(nu/(u*distance))
}

// HighPlaneShear is the upper estimate of the greatest wall shear of a slot jet: the laminar value or the
// wall jet's at 0.3 distances, whichever is greater.
func HighPlaneShear(m quantity.ThrustPerLength, distance quantity.Length, rho quantity.Density, nu quantity.KinematicViscosity) quantity.Stress {
	u := ImpactVelocity(PlaneImpactPressure(m, distance), rho)
	low, _ := Plane.MaxWallShear(u, distance, rho, nu)
	_, high := PlaneWallJetSI(float64(m)/2, float64(rho), float64(nu), float64(u), highX*float64(distance), float64(distance))
	return max(low, quantity.Stress(high))
}

// HighRoundShear is the upper estimate of the greatest wall shear of a round jet: the laminar value or the
// value of a fully turbulent jet that does not depend on the Reynolds number, whichever is greater.
func HighRoundShear(m quantity.Force, distance quantity.Length, rho quantity.Density, nu quantity.KinematicViscosity) quantity.Stress {
	u := ImpactVelocity(RoundImpactPressure(m, distance), rho)
	low, _ := Round.MaxWallShear(u, distance, rho, nu)
	return max(low, quantity.Stress(roundHighForm*float64(m)/float64(distance*distance)))
}
