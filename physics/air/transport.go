package air

import (
	"math"

	"leste/quantity"
)

// Viscosity is the dynamic viscosity of air by Sutherland's law; card air-viscosity. Humidity lowers it by
// less than 1 % below W = 0.03 and is left out.
func (m Moist) Viscosity() quantity.Viscosity { return Viscosity(m.T) }

// Viscosity of dry air at t; card air-viscosity.
func Viscosity(t quantity.Temperature) quantity.Viscosity {
	x := float64(t)
	return quantity.Viscosity(1.458e-6 * x * math.Sqrt(x) / (x + 110.4))
}

// KinematicViscosity is viscosity over density.
func (m Moist) KinematicViscosity() quantity.KinematicViscosity {
	return quantity.KinematicViscosity(float64(m.Viscosity()) / float64(m.Density()))
}

// Conductivity is the thermal conductivity of dry air at T; card air-conductivity.
func (m Moist) Conductivity() quantity.ThermalConductivity {
	x := float64(m.T)
	return quantity.ThermalConductivity(2.64638e-3 * x * math.Sqrt(x) / (x + 245.4*math.Pow(10, -12/x)))
}

// VapourDiffusivity is the diffusion coefficient of water vapour in air at P and T; card vapour-diffusivity.
func (m Moist) VapourDiffusivity() quantity.Diffusivity { return VapourDiffusivity(m.P, m.T) }

// VapourDiffusivity of water vapour in air; card vapour-diffusivity.
func VapourDiffusivity(p quantity.Absolute, t quantity.Temperature) quantity.Diffusivity {
	if !(p > 0) || !(t > 0) {
		return quantity.Diffusivity(math.NaN())
	}
	return quantity.Diffusivity(2.11e-5 * math.Pow(float64(t)/273.15, 1.94) * 101325 / float64(p))
}

// ThermalDiffusivity is conductivity over density and specific heat.
func (m Moist) ThermalDiffusivity() quantity.Diffusivity {
	return quantity.Diffusivity(float64(m.Conductivity()) / (float64(m.Density()) * float64(m.SpecificHeat())))
}

// Prandtl is the ratio of the momentum to the thermal diffusivity.
func (m Moist) Prandtl() quantity.Ratio {
	return quantity.Ratio(float64(m.Viscosity()) * float64(m.SpecificHeat()) / float64(m.Conductivity()))
}

// Lewis is the ratio of the thermal to the vapour diffusivity.
func (m Moist) Lewis() quantity.Ratio {
	return quantity.Ratio(m.ThermalDiffusivity() / m.VapourDiffusivity())
}
