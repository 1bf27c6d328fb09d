package water

import (
	"math"

	"leste/quantity"
)

// DrainedFilm is the film a vertical wall keeps at distance z below the upper edge after draining for t;
// card drained-film. It is +Inf at t = 0.
func DrainedFilm(l Liquid, z quantity.Length, t quantity.Duration) quantity.Length {
	return quantity.Length(math.Sqrt(float64(l.Viscosity) * float64(z) / (float64(l.Density) * Gravity * float64(t))))
}

// MeanDrainedFilm is the mean of DrainedFilm over a wall of the given height.
func MeanDrainedFilm(l Liquid, height quantity.Length, t quantity.Duration) quantity.Length {
	return 2.0 / 3 * DrainedFilm(l, height, t)
}

// WithdrawnFilm is the film carried along by a wall drawn out of water, or left by a level that falls, at
// speed u: the capillary law or its gravity limit, whichever is thinner; card withdrawn-film.
func WithdrawnFilm(l Liquid, u quantity.Speed) quantity.Length {
	ca := float64(l.Viscosity) * float64(u) / float64(l.Tension)
	lc := float64(l.CapillaryLength())
	return quantity.Length(lc * min(0.9458*math.Pow(ca, 2.0/3), math.Sqrt(ca)))
}

// ShearedFilm is the film that is left at distance s from the impingement line of a jet that has stood
// still for t with wall shear tau; card sheared-film.
func ShearedFilm(l Liquid, s quantity.Length, tau quantity.Stress, t quantity.Duration) quantity.Length {
	return quantity.Length(float64(l.Viscosity) * float64(s) / (float64(tau) * float64(t)))
}

// WipedFilm is the film that passes under a jet on a wall moving at speed u, held back by wall shear tau
// and by a pressure rising at the rate gradient against the motion (weight along the wall included);
// card wiped-film:
//
//	q(h) = u h - tau h2/(2 mu) - P h3/(3 mu);  film = max q / u
//
// A thinner incoming film passes unchanged. It is +Inf where neither shear nor pressure holds water back,
// 0 at u = 0 with something that does.
func WipedFilm(l Liquid, u quantity.Speed, tau quantity.Stress, gradient quantity.PressureGradient) quantity.Length {
	return quantity.Length(WipedFilmSI(float64(l.Viscosity), float64(u), float64(tau), float64(gradient)))
}

// WipedFilmSI is WipedFilm in Pa s, m/s, Pa, Pa/m and m.
func WipedFilmSI(mu, u, tau, gradient float64) float64 {
	h := throat(mu, u, tau, gradient)
	if math.IsInf(h, 1) {
		return h
	}
	// max q/u written without a division by u: at the throat P h2 = u mu - tau h.
	if u == 0 {
		return 0
	}
	return h * (2.0/3 - tau*h/(6*mu*u))
}

// throat is the thickness at which the flux past the jet is greatest.
func throat(mu, u, tau, gradient float64) float64 {
	d := tau*tau + 4*mu*u*gradient
	if d < 0 {
		return math.Inf(1)
	}
	below := tau + math.Sqrt(d)
	if below <= 0 {
		return math.Inf(1)
	}
	return 2 * mu * u / below
}

// Throat is the thickness of the film where the jet holds it back most.
func Throat(l Liquid, u quantity.Speed, tau quantity.Stress, gradient quantity.PressureGradient) quantity.Length {
	return quantity.Length(throat(float64(l.Viscosity), float64(u), float64(tau), float64(gradient)))
}

// WipedFilmProfileSI is the film that passes a jet given by its wall shear [Pa] and pressure gradient [Pa/m]
// at points along the wall: the least WipedFilmSI of all points. The two slices have one length; an empty
// profile holds nothing back (+Inf).
func WipedFilmProfileSI(mu, u float64, tau, gradient []float64) float64 {
	least := math.Inf(1)
	for i, t := range tau {
		least = min(least, WipedFilmSI(mu, u, t, gradient[i]))
	}
	return least
}
