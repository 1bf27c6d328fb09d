package drying

import (
	"math"

	"leste/physics/air"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// wall is one material with what the methods need of it again and again.
type wall struct {
	water.Wetting
	contact               q.Angle
	volume, front, height float64 // of a cap over its base diameter cubed, squared, and once
	wets                  float64 // share of the surface taken as wetting: 1 below 6 degrees receding, 0 from 12
	conductance           q.HeatTransfer
}

// Receding angles between which a wall passes from wetting to not wetting, degrees; judgement.
const (
	wetsBelow   = 6
	beadsFromOn = 12
)

func newWall(m station.Material) wall {
	w := wall{Wetting: water.Wetting{Advancing: m.Advancing, Receding: m.Receding}, conductance: m.Conductance}
	w.contact = w.Mean()
	w.volume = water.CapVolumeFactor(w.contact)
	w.front = water.CapFrontFactor(w.contact)
	w.height = water.CapHeightFactor(w.contact)
	w.wets = 1 - smoothstep((m.Receding.Deg()-wetsBelow)/(beadsFromOn-wetsBelow))
	return w
}

// walls returns one wall for each material of the body.
func walls(b *station.Body) []wall {
	all := make([]wall, len(b.Materials))
	for i, m := range b.Materials {
		all[i] = newWall(m)
	}
	return all
}

// liquid is the problem's water as the relations take it.
func (l Liquid) liquid() water.Liquid {
	return water.Liquid{
		Density: q.Density(l.Density), Viscosity: q.Viscosity(l.Viscosity), Tension: q.SurfaceTension(l.Tension),
	}
}

// moist is the room's air.
func (r Room) moist() air.Moist { return air.Humid(r.Pressure, r.Temperature, q.Ratio(r.Humidity)) }

// slide is the diameter of the largest drop that the wall holds against gravity at a cell whose normal has
// the given upward part.
func (w *wall) slide(l water.Liquid, up float64) float64 {
	incline := q.Angle(math.Acos(max(-1, min(1, up))))
	return float64(water.SlideDiameter(l, w.Wetting, incline))
}

// smoothstep rises from 0 at x = 0 to 1 at x = 1 with flat ends.
func smoothstep(x float64) float64 {
	x = max(0, min(1, x))
	return x * x * (3 - 2*x)
}
