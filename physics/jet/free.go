package jet

import (
	"math"

	"leste/quantity"
)

// Constants of the free jets. The decay constants and spreading rates are best estimates of the
// published scatter; cards plane-jet and round-jet hold their ranges.
const (
	PlaneDecay  = 2.5   // centreline velocity, plane: u = 2.5 sqrt(thrust per length/(rho x))
	PlaneSpread = 0.105 // half-width over distance, plane
	RoundDecay  = 6.0   // centreline velocity, round, in bores
	RoundSpread = 0.095 // half-width over distance, round

	// roundMomentum is the round decay in momentum form: u = roundMomentum sqrt(thrust/rho)/x.
	roundMomentum = 2 / 1.7724538509055160273 * RoundDecay // 2/sqrt(pi) B = 6.77
)

// PlaneVelocity is the centreline velocity of a plane jet at distance x from the lip, never more than
// exit; card plane-jet. At x = 0 it is exit.
func PlaneVelocity(m quantity.ThrustPerLength, rho quantity.Density, x quantity.Length, exit quantity.Speed) quantity.Speed {
	return min(exit, quantity.Speed(PlaneDecay*math.Sqrt(float64(m)/(float64(rho)*float64(x)))))
}

// RoundVelocity is the centreline velocity of a round jet at distance x from the mouth, never more than
// exit; card round-jet. At x = 0 it is exit.
func RoundVelocity(m quantity.Force, rho quantity.Density, x quantity.Length, exit quantity.Speed) quantity.Speed {
	return min(exit, quantity.Speed(roundMomentum*math.Sqrt(float64(m)/float64(rho))/float64(x)))
}

// PlaneHalfWidth is the distance from the centre plane at which the velocity is half the centreline's.
func PlaneHalfWidth(x quantity.Length) quantity.Length { return PlaneSpread * x }

// RoundHalfWidth is the distance from the axis at which the velocity is half the centreline's.
func RoundHalfWidth(x quantity.Length) quantity.Length { return RoundSpread * x }

// Profile is the velocity at distance y from the centre over the centreline velocity.
func Profile(y, halfWidth quantity.Length) quantity.Ratio {
	s := float64(y / halfWidth)
	return quantity.Ratio(math.Exp(-math.Ln2 * s * s))
}

// PlaneReach is the distance at which a plane jet still has the velocity wanted; card reach.
func PlaneReach(m quantity.ThrustPerLength, rho quantity.Density, wanted quantity.Speed) quantity.Length {
	return quantity.Length(PlaneDecay * PlaneDecay * float64(m) / (float64(rho) * float64(wanted) * float64(wanted)))
}

// RoundReach is the distance at which a round jet still has the velocity wanted; card reach.
func RoundReach(m quantity.Force, rho quantity.Density, wanted quantity.Speed) quantity.Length {
	return quantity.Length(roundMomentum * math.Sqrt(float64(m)/float64(rho)) / float64(wanted))
}

// EndFactor is the share of a plane jet's momentum that is left, at distance x, opposite the point z of a
// slot of length l (z counted from one end): 1 at mid-length of a long slot, one half opposite its end;
// card slot-ends.
func EndFactor(x, z, l quantity.Length) quantity.Ratio {
	return quantity.Ratio(EndFactorSI(float64(x), float64(z), float64(l)))
}

// EndFactorSI is EndFactor in metres. At x = 0 it is 1 inside the slot, 0 outside and 1/2 on its ends.
func EndFactorSI(x, z, l float64) float64 {
	a := EndSharpness / x
	if x <= 0 {
		a = math.MaxFloat64
	}
	return (math.Erf(a*z) + math.Erf(a*(l-z))) / 2
}

// EndSharpness is sqrt(2 ln 2) over the plane spreading rate.
const EndSharpness = 1.1774100225154747 / PlaneSpread

// Dilution is the excess of the jet's centreline temperature over the room's, as a share of the plenum's
// excess (stagnation, not static: total enthalpy is what is conserved), from the uncapped velocity ratio of
// the jet. The excess humidity is diluted alike. Cards plane-jet-temperature, round-jet-temperature.
func Dilution(s Shape, velocityRatio quantity.Ratio) quantity.Ratio {
	share := quantity.Ratio(0.9)
	if s == Round {
		share = 0.85
	}
	return min(1, share*velocityRatio)
}

// Shape tells a plane jet from a round one.
type Shape uint8

// The two shapes.
const (
	Plane Shape = iota // from a slot
	Round              // from a nozzle
)
