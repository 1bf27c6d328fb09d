package air

import (
	"math"

	"leste/quantity"
)

// Gas constants of dry air and of water vapour, and their ratio.
// Source: ASHRAE Handbook Fundamentals 2017, chapter 1.
const (
	DryGasConstant    quantity.SpecificHeat = 287.042 // J/(kg K)
	VapourGasConstant quantity.SpecificHeat = 461.523 // J/(kg K)
	MassRatio         quantity.Ratio        = 0.621945
)

// Specific heats at constant pressure used for humid air, J/(kg K).
const (
	dryHeat    = 1006.0
	vapourHeat = 1860.0
)

// Moist is a state of humid air: absolute pressure, temperature, and humidity ratio in kg of vapour per kg
// of dry air. The zero value is no state; every property of it is NaN.
type Moist struct {
	P quantity.Absolute
	T quantity.Temperature
	W quantity.Ratio
}

// Dry returns air without moisture.
func Dry(p quantity.Absolute, t quantity.Temperature) Moist { return Moist{P: p, T: t} }

// Humid returns air of relative humidity rh, 0 to 1. Above boiling, or where the vapour pressure would
// reach the total pressure, W is NaN: such air does not exist.
func Humid(p quantity.Absolute, t quantity.Temperature, rh quantity.Ratio) Moist {
	return withVapour(p, t, quantity.Absolute(float64(rh)*float64(SaturationPressure(t))))
}

// HumidByDewPoint returns air whose vapour condenses at the dew point.
func HumidByDewPoint(p quantity.Absolute, t, dewPoint quantity.Temperature) Moist {
	return withVapour(p, t, SaturationPressure(dewPoint))
}

// HumidByWetBulb returns air with the given wet-bulb temperature; card wet-bulb. W is NaN where the wet bulb
// is above the dry bulb and negative where the pair is impossible.
func HumidByWetBulb(p quantity.Absolute, t, wetBulb quantity.Temperature) Moist {
	if wetBulb > t {
		return Moist{P: p, T: t, W: quantity.Ratio(math.NaN())}
	}
	return Moist{P: p, T: t, W: quantity.Ratio(wetBulbRatio(float64(p), t.C(), wetBulb.C()))}
}

func withVapour(p quantity.Absolute, t quantity.Temperature, pv quantity.Absolute) Moist {
	m := Moist{P: p, T: t, W: quantity.Ratio(math.NaN())}
	if pv >= 0 && pv < p {
		m.W = MassRatio * quantity.Ratio(pv/(p-pv))
	}
	return m
}

// At returns the same air, its moisture unchanged, at another pressure and temperature.
func (m Moist) At(p quantity.Absolute, t quantity.Temperature) Moist {
	return Moist{P: p, T: t, W: m.W}
}

// VapourPressure is the partial pressure of the vapour.
func (m Moist) VapourPressure() quantity.Absolute {
	return m.P * quantity.Absolute(m.W/(MassRatio+m.W))
}

// RelativeHumidity is the vapour pressure over the saturation pressure at T.
func (m Moist) RelativeHumidity() quantity.Ratio {
	return quantity.Ratio(m.VapourPressure() / SaturationPressure(m.T))
}

// GasConstant is that of the mixture, J/(kg K) of humid air.
func (m Moist) GasConstant() quantity.SpecificHeat {
	w := quantity.SpecificHeat(m.W)
	return (DryGasConstant + w*VapourGasConstant) / (1 + w)
}

// SpecificHeat is that of the mixture at constant pressure, J/(kg K) of humid air.
func (m Moist) SpecificHeat() quantity.SpecificHeat {
	w := float64(m.W)
	return quantity.SpecificHeat((dryHeat + vapourHeat*w) / (1 + w))
}

// IsentropicExponent is cp/(cp - R) of the mixture.
func (m Moist) IsentropicExponent() quantity.Ratio {
	cp := m.SpecificHeat()
	return quantity.Ratio(cp / (cp - m.GasConstant()))
}

// Density is that of the ideal mixture, kg of humid air per m3; card moist-density.
func (m Moist) Density() quantity.Density {
	if !(m.P > 0) || !(m.T > 0) {
		return quantity.Density(math.NaN())
	}
	w := float64(m.W)
	return quantity.Density(float64(m.P) * (1 + w) /
		(float64(DryGasConstant) * float64(m.T) * (1 + w/float64(MassRatio))))
}

// Enthalpy is counted from dry air and liquid water at 0 degC, in J per kg of dry air; card moist-enthalpy.
func (m Moist) Enthalpy() quantity.SpecificEnergy {
	t := m.T.C()
	return quantity.SpecificEnergy(dryHeat*t + float64(m.W)*(2.501e6+vapourHeat*t))
}

// SoundSpeed is sqrt(k R T).
func (m Moist) SoundSpeed() quantity.Speed {
	return quantity.Speed(math.Sqrt(float64(m.IsentropicExponent()) * float64(m.GasConstant()) * float64(m.T)))
}
