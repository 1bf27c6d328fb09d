package air

import (
	"math"

	"leste/physics/internal/solve"
	"leste/quantity"
)

// SaturationPressure is the vapour pressure over liquid water from 0 to 200 degC and over ice from -100 to
// 0 degC; NaN outside. Card saturation-pressure, source hyland-wexler-1983.
func SaturationPressure(t quantity.Temperature) quantity.Absolute {
	x := float64(t)
	switch {
	case x >= 173.15 && x < 273.15:
		return quantity.Absolute(math.Exp(-5.6745359e3/x + 6.3925247 - 9.677843e-3*x + 6.2215701e-7*x*x +
			2.0747825e-9*x*x*x - 9.484024e-13*x*x*x*x + 4.1635019*math.Log(x)))
	case x >= 273.15 && x <= 473.15:
		return quantity.Absolute(math.Exp(-5.8002206e3/x + 1.3914993 - 4.8640239e-2*x + 4.1764768e-5*x*x -
			1.4452093e-8*x*x*x + 6.5459673*math.Log(x)))
	}
	return quantity.Absolute(math.NaN())
}

// SaturationTemperature is the temperature at which vapour of partial pressure pv condenses, the inverse of
// SaturationPressure, to 1e-9 K; NaN for a pressure that is not positive or beyond its range.
func SaturationTemperature(pv quantity.Absolute) quantity.Temperature {
	if !(pv > 0) {
		return quantity.Temperature(math.NaN())
	}
	target := math.Log(float64(pv))
	return quantity.Temperature(solve.Root(func(t float64) float64 {
		return math.Log(float64(SaturationPressure(quantity.Temperature(t)))) - target
	}, 173.15, 473.15, 1e-9))
}

// DewPoint is the temperature at which the air's vapour begins to condense at its own pressure; NaN for dry
// air, which has none.
func (m Moist) DewPoint() quantity.Temperature { return SaturationTemperature(m.VapourPressure()) }

// WetBulb is the thermodynamic wet-bulb temperature, to 1e-9 K; card wet-bulb. It is NaN above saturation.
func (m Moist) WetBulb() quantity.Temperature {
	if !(m.P > 0) || !(m.W >= 0) {
		return quantity.Temperature(math.NaN())
	}
	t := m.T.C()
	excess := func(wet float64) float64 { return wetBulbRatio(float64(m.P), t, wet) - float64(m.W) }
	highest := t
	if boiling := SaturationTemperature(m.P).C() - 0.01; boiling < t { // hotter air has its wet bulb below boiling
		highest = boiling
	}
	wet := solve.Root(excess, max(highest-80, -95), highest, 1e-9)
	return quantity.Celsius(wet)
}

// wetBulbRatio returns the humidity ratio of air at p [Pa] with dry bulb t and wet bulb wet [degC]: over ice
// below 0 degC, over water from there.
func wetBulbRatio(p, t, wet float64) float64 {
	ps := float64(SaturationPressure(quantity.Celsius(wet)))
	ws := float64(MassRatio) * ps / (p - ps)
	if wet < 0 {
		return ((2830-0.24*wet)*ws - 1.006*(t-wet)) / (2830 + 1.86*t - 2.1*wet)
	}
	return ((2501-2.326*wet)*ws - 1.006*(t-wet)) / (2501 + 1.86*t - 4.186*wet)
}
