package water

import (
	"math"

	"leste/quantity"
)

// hysteresisSlope is the constant of Cox and Voinov as used here: angle cubed changes by 150 capillary
// numbers; cards dewetting-speed, moving-contact-angle.
const hysteresisSlope = 150

// receding scatter of a surface and the share left on a wall that dries behind the front.
const (
	angleScatter = 8 * math.Pi / 180
	dryFrontRest = 0.02
)

// DewettingSpeed is the speed at which the edge of a film of thickness h draws back from a wall that it
// recedes on at the given angle: the viscous law, or the inertial one where that is slower; card
// dewetting-speed. A film of no thickness has no inertial limit.
func DewettingSpeed(l Liquid, receding quantity.Angle, h quantity.Length) quantity.Speed {
	r := float64(receding)
	viscous := float64(l.Tension) / float64(l.Viscosity) * r * r * r / hysteresisSlope
	if !(h > 0) {
		return quantity.Speed(viscous)
	}
	inertial := math.Sqrt(2 * float64(l.Tension) * (1 - math.Cos(r)) / (float64(l.Density) * float64(h)))
	return quantity.Speed(min(viscous, inertial))
}

// WetShare is the share of a surface on which a front that moves at speed u leaves a continuous film behind,
// given that the receding angle scatters by 8 degrees over the surface; card wet-share.
func WetShare(l Liquid, receding quantity.Angle, u quantity.Speed) quantity.Ratio {
	critical := math.Cbrt(hysteresisSlope * float64(l.Viscosity) * float64(u) / float64(l.Tension))
	return quantity.Ratio(normal((critical - float64(receding)) / angleScatter))
}

// FilmShare is the share of the wiped film that stays behind: all of it where the wall stays wet, 2 % as small
// drops where it dries.
func FilmShare(wet quantity.Ratio) quantity.Ratio { return dryFrontRest + (1-dryFrontRest)*wet }

// SmallDropShare is the share of the water swept along in drops that they leave behind as small drops, rising
// from low to high as the front outruns twice the dewetting speed; card small-drops.
func SmallDropShare(u, dewetting quantity.Speed, low, high quantity.Ratio) quantity.Ratio {
	if !(u > 0) {
		return low
	}
	return low + (high-low)*quantity.Ratio(normal(math.Log(float64(u/(2*dewetting)))/0.3))
}

// normal is the standard normal distribution function.
func normal(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// ShearCriticalFilm is the thickness below which a film under wall shear tau can stay broken and above which
// it spreads over a dry patch; card critical-film-shear.
func ShearCriticalFilm(l Liquid, contact quantity.Angle, tau quantity.Stress) quantity.Length {
	return quantity.Length(math.Cbrt(6 * wettingWork(l, contact) * float64(l.Viscosity) * float64(l.Viscosity) /
		(float64(l.Density) * float64(tau) * float64(tau))))
}

// GravityCriticalFilm is ShearCriticalFilm for a film that runs down under the acceleration g along the
// wall; card critical-film-gravity.
func GravityCriticalFilm(l Liquid, contact quantity.Angle, g float64) quantity.Length {
	rho := float64(l.Density)
	return quantity.Length(math.Pow(15*wettingWork(l, contact)*float64(l.Viscosity)*float64(l.Viscosity)/
		(rho*rho*rho*g*g), 0.2))
}

func wettingWork(l Liquid, contact quantity.Angle) float64 {
	return float64(l.Tension) * (1 - math.Cos(float64(contact)))
}

// CriticalFilm is the least of the shear and gravity forms and of the height of a puddle, faded to nothing as
// the receding angle falls from 12 to 6 degrees, below which the wall stays wet whatever the film; card
// critical-film-shear.
func CriticalFilm(l Liquid, contact, receding quantity.Angle, tau quantity.Stress, g float64) quantity.Length {
	h := PuddleHeight(l, contact)
	h = min(h, ShearCriticalFilm(l, contact, tau))
	if g != 0 {
		h = min(h, GravityCriticalFilm(l, contact, math.Abs(g)))
	}
	return h * quantity.Length(smoothstep((receding.Deg()-6)/6))
}

// PuddleHeight is the thickness of a wide puddle at rest.
func PuddleHeight(l Liquid, contact quantity.Angle) quantity.Length {
	return 2 * l.CapillaryLength() * quantity.Length(math.Sin(float64(contact)/2))
}

// smoothstep rises from 0 at x = 0 to 1 at x = 1 with flat ends.
func smoothstep(x float64) float64 {
	x = max(0, min(1, x))
	return x * x * (3 - 2*x)
}

// BreakUpTime is the time a film needs to break into drops once it is thinner than critical, from the
// spacing of the holes that open in it; card film-break-up. It is +Inf where the film does not draw back.
func BreakUpTime(holeSpacing quantity.Length, dewetting quantity.Speed) quantity.Duration {
	return quantity.Duration(float64(holeSpacing) / (2 * float64(dewetting)))
}

// BrokenShare is the share of a film that has broken after a time; card film-break-up.
func BrokenShare(t, breakUp quantity.Duration) quantity.Ratio {
	return quantity.Ratio(-math.Expm1(-float64(t / breakUp)))
}
