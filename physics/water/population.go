package water

import (
	"math"

	"leste/quantity"
)

// Population is a lognormal distribution of drop sizes. Its median is by volume: half of the water is in
// larger drops.
type Population struct {
	Median quantity.Length // volume-median base diameter
	Spread quantity.Ratio  // standard deviation of the logarithm
}

// meanVolume is the volume of a drop over (film thickness times hole spacing)^1.5, from half-cylinder
// rivulets that break at their fastest-growing length; card drop-size.
const meanVolume = 2.54

// FromFilm returns the drops into which a film of thickness h with holes at a spacing breaks; card
// drop-size. The mean drop volume is what the law gives, whatever the spread.
func FromFilm(h, holeSpacing quantity.Length, contact quantity.Angle, spread quantity.Ratio) Population {
	mean := math.Cbrt(meanVolume/CapVolumeFactor(contact)) * math.Sqrt(float64(h)*float64(holeSpacing))
	return Population{
		Median: quantity.Length(mean * math.Exp(1.5*float64(spread*spread))),
		Spread: spread,
	}
}

// ShareBelow is the share of the water in drops smaller than d.
func (p Population) ShareBelow(d quantity.Length) quantity.Ratio {
	return p.ShareBelowWithin(d, quantity.Length(math.Inf(1)))
}

// ShareBelowWithin is ShareBelow for a population of which only drops below limit are left.
func (p Population) ShareBelowWithin(d, limit quantity.Length) quantity.Ratio {
	if !(d > 0) {
		return 0
	}
	if d >= limit {
		return 1
	}
	return quantity.Ratio(p.phi(d, 0) / p.phi(limit, 0))
}

// NumberAbove is the number of drops larger than d, per mass of water in the population.
func (p Population) NumberAbove(d quantity.Length, l Liquid, contact quantity.Angle) float64 {
	s := float64(p.Spread)
	mean := float64(p.Median) * math.Exp(-1.5*s*s) // of the drop of mean volume
	return (1 - p.phi(d, 3)) / (float64(l.Density) * CapVolumeFactor(contact) * cube(mean))
}

// phi is the distribution function at d of the number (moment 3) or the volume (moment 0) of the drops.
func (p Population) phi(d quantity.Length, moment float64) float64 {
	s := float64(p.Spread)
	median := math.Log(float64(p.Median)) - moment*s*s
	if s == 0 {
		if math.Log(float64(d)) < median {
			return 0
		}
		return 1
	}
	return normal((math.Log(float64(d)) - median) / s)
}
