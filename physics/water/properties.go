package water

import (
	"math"

	"leste/physics/air"
	"leste/quantity"
)

// Gravity is the standard acceleration, m/s2.
const Gravity = 9.80665

// Liquid is what the relations need of the water on a container.
type Liquid struct {
	Density   quantity.Density
	Viscosity quantity.Viscosity
	Tension   quantity.SurfaceTension
}

// Pure returns clean water at t; cards surface-tension, water-viscosity, water-density. Rinse water with
// surfactant or lubricant has a lower tension: set it after.
func Pure(t quantity.Temperature) Liquid {
	return Liquid{Density: Density(t), Viscosity: Viscosity(t), Tension: Tension(t)}
}

// Tension is the surface tension of clean water against air; card surface-tension.
func Tension(t quantity.Temperature) quantity.SurfaceTension {
	x := 1 - float64(t)/647.096
	return quantity.SurfaceTension(0.2358 * math.Pow(x, 1.256) * (1 - 0.625*x))
}

// Viscosity is the dynamic viscosity of water at atmospheric pressure; card water-viscosity.
func Viscosity(t quantity.Temperature) quantity.Viscosity {
	x := float64(t) / 300
	return quantity.Viscosity(1e-6 * (280.68*math.Pow(x, -1.9) + 511.45*math.Pow(x, -7.7) +
		61.131*math.Pow(x, -19.6) + 0.45903*math.Pow(x, -40)))
}

// Density of air-free water at atmospheric pressure; card water-density.
func Density(t quantity.Temperature) quantity.Density {
	c := t.C()
	return quantity.Density((999.83952 + c*(16.945176+c*(-7.9870401e-3+c*(-46.170461e-6+
		c*(105.56302e-9-280.54253e-12*c))))) / (1 + 16.879850e-3*c))
}

// LatentHeat is the heat of evaporation; card latent-heat.
func LatentHeat(t quantity.Temperature) quantity.SpecificEnergy { return air.LatentHeat(t) }

// CapillaryLength is sqrt(tension/(density g)), about 2.7 mm.
func (l Liquid) CapillaryLength() quantity.Length {
	return quantity.Length(math.Sqrt(float64(l.Tension) / (float64(l.Density) * Gravity)))
}
