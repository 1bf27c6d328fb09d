package air

import (
	"math"

	"leste/quantity"
)

// StandardAtmosphere returns pressure and temperature at a geopotential altitude up to 11 km; NaN above.
// Card standard-atmosphere, source iso-2533. A site uses the pressure with its own temperature, never the
// standard one, and its own barometer where there is one.
func StandardAtmosphere(altitude quantity.Length) (quantity.Absolute, quantity.Temperature) {
	const (
		t0, p0 = 288.15, 101325.0
		lapse  = 0.0065 // K/m
		g0     = 9.80665
		r      = 287.05287
	)
	h := float64(altitude)
	if !(h >= -5000 && h <= 11000) {
		return quantity.Absolute(math.NaN()), quantity.Temperature(math.NaN())
	}
	t := t0 - lapse*h
	return quantity.Absolute(p0 * math.Pow(t/t0, g0/(lapse*r))), quantity.Temperature(t)
}
