package water

import (
	"math"

	"leste/physics/air"
	"leste/quantity"
)

// ColdProduct is a container that meets humid air after the station. Surface.Product is its temperature
// at the start.
type ColdProduct struct {
	Surface  air.Surface
	Capacity float64       // J/K of the container and what is in it
	Area     quantity.Area // that the air reaches
}

// Grown is what a cold product has gathered, and its temperature.
type Grown struct {
	Condensate quantity.AreaMass // negative: evaporated, if there was water to evaporate
	Product    quantity.Temperature
}

// After returns the condensate after t in the air; card condensate-growth: the surface balance at each
// instant, and the product warmed by what passes through the wall.
func (c ColdProduct) After(t quantity.Duration) Grown {
	steps := int(max(1, min(600, math.Ceil(float64(t)))))
	dt := float64(t) / float64(steps)
	s := c.Surface
	mass := 0.0
	for range steps {
		// Midpoint: the product's temperature half a step on, then the whole step with the flux there.
		half := s
		half.Product += quantity.Temperature(c.warming(s) * dt / 2)
		mass -= float64(half.Balance().Flux) * dt
		s.Product += quantity.Temperature(c.warming(half) * dt)
	}
	return Grown{Condensate: quantity.AreaMass(mass), Product: s.Product}
}

// warming is the rate at which the product's temperature rises, K/s.
func (c ColdProduct) warming(s air.Surface) float64 {
	return s.Balance().Inward * float64(c.Area) / c.Capacity
}

// WarmingBy is the rise of the product's temperature when a mass of water condenses on it and gives it all its
// heat; card condensate-growth.
func (c ColdProduct) WarmingBy(m quantity.AreaMass) quantity.TemperatureDifference {
	return quantity.TemperatureDifference(float64(m) * float64(c.Area) * float64(LatentHeat(c.Surface.Product)) / c.Capacity)
}
