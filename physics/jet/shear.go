package jet

import (
	"math"

	"leste/quantity"
)

// PlaneShearShapeSI is the wall shear over its greatest value at xi = offset/(offset of the greatest), for a
// slot jet: 0 on the impingement line, 1 at xi = 1; card shear-shape. Beyond xi = 2 the wall jet governs.
func PlaneShearShapeSI(xi float64) float64 { return shearShape(xi, planeFall) }

// RoundShearShapeSI is PlaneShearShapeSI for a round jet.
func RoundShearShapeSI(xi float64) float64 { return shearShape(xi, roundFall) }

// ShearShape is the wall shear over its greatest value at an offset from the impingement line or point.
func (s Shape) ShearShape(offset, distance quantity.Length) quantity.Ratio {
	x := math.Abs(float64(offset / distance))
	if s == Round {
		return quantity.Ratio(shearShape(x/RoundShearX, roundFall))
	}
	return quantity.Ratio(shearShape(x/PlaneShearX, planeFall))
}

func shearShape(xi, fall float64) float64 {
	if xi <= 1 {
		x2 := xi * xi
		return xi * (1.69 - x2*(0.88-0.19*x2))
	}
	return 1 / (1 + fall*(xi-1)*(xi-1))
}

// Distances over which the shear near the impact gives way to the wall jet's, in jet distances.
const (
	planeFade = 0.3
	roundFade = 0.2
)

// PlaneWallJetSI is the greatest velocity [m/s] in, and the wall shear [Pa] under, a plane wall jet at offset
// s [m] from the impingement line; card plane-wall-jet. The side carries momentum side [N/m], half the
// thrust per length at right angles; u is never more than us, the impact velocity.
func PlaneWallJetSI(side, rho, nu, us, s, distance float64) (u, tau float64) {
	x := s + 0.67*distance
	u = min(us, 3.5*math.Sqrt(side/(rho*x)))
	re := u * 0.0117 * x / nu
	return u, 0.5 * rho * u * u * 0.0315 * math.Pow(re, -0.182)
}

// RoundWallJetSI is PlaneWallJetSI for the radial wall jet of a round jet of thrust m [N]; card
// round-wall-jet. At right angles m is the thrust; in an oblique direction, the thrust times that
// direction's share.
func RoundWallJetSI(m, rho, nu, us, r, distance float64) (u, tau float64) {
	k := m / rho
	root := math.Sqrt(k)
	x := r / distance
	u = min(us, 1.32*root/distance*math.Pow(x, -1.10))
	return u, 0.34 * rho * k / (distance * distance) * math.Pow(root/nu, -0.3) * math.Pow(x, -2.3)
}

// PlaneWallSI is the wall shear [Pa] and the velocity just outside the wall layer [m/s] at offset s >= 0 of
// a slot jet of greatest shear taumax and impact velocity us: the shape near the impact, the wall jet
// beyond it, joined without a step; card wall-shear-join.
func PlaneWallSI(side, rho, nu, us, taumax, s, distance float64) (tau, edge float64) {
	x := s / distance
	tau = taumax * PlaneShearShapeSI(x/PlaneShearX)
	edge = us * math.Sqrt(-math.Expm1(-PlaneShapeC*x*x))
	if x > PlaneShearX {
		u, wall := PlaneWallJetSI(side, rho, nu, us, s, distance)
		tau = max(tau*Fade(x/planeFade), min(taumax, wall))
		edge = min(edge, u)
	}
	return tau, edge
}

// RoundWallSI is PlaneWallSI for a round jet of thrust m.
func RoundWallSI(m, rho, nu, us, taumax, r, distance float64) (tau, edge float64) {
	x := r / distance
	tau = taumax * RoundShearShapeSI(x/RoundShearX)
	edge = us * math.Sqrt(-math.Expm1(-RoundShapeC*x*x))
	if x > RoundShearX {
		u, wall := RoundWallJetSI(m, rho, nu, us, r, distance)
		tau = max(tau*Fade(x/roundFade), min(taumax, wall))
		edge = min(edge, u)
	}
	return tau, edge
}

// Fade is 1 up to x = 1, 0 from x = 2, straight between.
func Fade(x float64) float64 { return max(0, min(1, 2-x)) }
