package jet

import (
	"math"

	"leste/quantity"
)

// Constants of a jet that hits a wall aslant; cards oblique-pressure, oblique-plane, stagnation-offset,
// swept-line.
const (
	// LeastIncidence is the incidence below which nothing is promised: a jet that grazes.
	LeastIncidence = math.Pi / 6

	// SteepestCosine is the cosine of LeastIncidence, at which the oblique relations are held.
	SteepestCosine = 0.866

	// StagnationShift is how far the impingement line lies from where the axis meets the wall, towards the
	// acute side, in jet distances times the cotangent of the incidence.
	StagnationShift = 0.08

	// SweptShear is the wall shear on the impingement line of a slot jet that is blown along its line, over
	// the greatest wall shear across it, times the along-line share of the velocity.
	SweptShear = 0.81

	// PlaneSideExponent and RoundSideExponent are the powers of a direction's momentum share with which
	// the greatest shear falls on the weak side.
	PlaneSideExponent = 0.91
	RoundSideExponent = 0.85

	// Attached and Separated bound the turning of a convex wall, away from the impingement line, over
	// which the wall jet leaves it.
	Attached  = 100 * math.Pi / 180
	Separated = 120 * math.Pi / 180
)

// ObliquePressure is the impact pressure on the impingement line or point at an incidence (90 degrees is at
// right angles), with the offset counted along the wall; card oblique-pressure.
func ObliquePressure(normal quantity.Gauge, incidence quantity.Angle) quantity.Gauge {
	return normal * quantity.Gauge(math.Sin(float64(incidence)))
}

// StagnationOffset is the distance of the impingement line from where the jet's axis meets the wall, positive
// towards the acute side; card stagnation-offset.
func StagnationOffset(distance quantity.Length, incidence quantity.Angle) quantity.Length {
	return StagnationShift * distance / quantity.Length(math.Tan(float64(incidence)))
}

// PlaneSplit is the share of a slot jet's momentum that goes forward and back along a wall it hits at an
// incidence; card oblique-plane.
func PlaneSplit(incidence quantity.Angle) (forward, back quantity.Ratio) {
	c := math.Cos(float64(incidence))
	return quantity.Ratio((1 + c) / 2), quantity.Ratio((1 - c) / 2)
}

// RoundShare is the share of a round jet's momentum per direction over the mean of all directions, at an
// azimuth counted from forward; card oblique-round.
func RoundShare(incidence, azimuth quantity.Angle) quantity.Ratio {
	return quantity.Ratio(RoundShareSI(math.Cos(float64(incidence)), math.Cos(float64(azimuth))))
}

// RoundShareSI is RoundShare from the cosines of incidence and azimuth.
func RoundShareSI(cosIncidence, cosAzimuth float64) float64 {
	s2 := 1 - cosIncidence*cosIncidence
	d := 1 - cosIncidence*cosAzimuth
	return s2 * math.Sqrt(s2) / (d * d)
}

// AttachedShare is how much of the wall jet is still on a convex wall that has turned by an angle from the
// impingement line: 1 up to 100 degrees, 0 from 120; card wall-jet-separation.
func AttachedShare(turned quantity.Angle) quantity.Ratio {
	return quantity.Ratio(1 - max(0, min(1, (float64(turned)-Attached)/(Separated-Attached))))
}
