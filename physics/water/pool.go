package water

import (
	"math"

	"leste/quantity"
)

// PoolPressure is the impact pressure above which a jet blows a pool of the given depth out of its recess;
// card pool.
func PoolPressure(l Liquid, depth quantity.Length) quantity.Gauge {
	return quantity.Gauge(float64(l.Density) * Gravity * float64(depth))
}

// CornerFillet is the cross-section of the water that stays in a square corner under impact pressure p;
// card corner-fillet.
func CornerFillet(l Liquid, p quantity.Gauge) quantity.Area {
	const floor = 0.15e-3 // m
	r := max(floor, float64(l.Tension)/(0.1*float64(p)))
	return quantity.Area((1 - math.Pi/4) * r * r)
}

// RidgeCapacity is the cross-section of the water that stays along a line on which jets meet, with air of
// speed u beside it, on a wall inclined from the horizontal: what the air leaves or what does not run down by
// itself, whichever is less; card ridge. With no air it is the second.
func RidgeCapacity(l Liquid, w Wetting, rho quantity.Density, u quantity.Speed, incline quantity.Angle) quantity.Area {
	contact := w.Mean()
	front := CapFrontFactor(contact)
	height := 2 * float64(l.Tension) * float64(w.Hysteresis()) / (float64(rho) * float64(u) * float64(u))
	byAir := height / CapHeightFactor(contact)
	byWeight := float64(SlideDiameter(l, w, incline))
	d := min(byAir, byWeight)
	return quantity.Area(front * d * d)
}

// MistWeber is rho u2 h/tension of a ridge of height h in air of speed u; above MistOnset the ridge is torn
// into mist. Card mist.
func MistWeber(l Liquid, rho quantity.Density, u quantity.Speed, h quantity.Length) quantity.Ratio {
	return quantity.Ratio(float64(rho) * float64(u) * float64(u) * float64(h) / float64(l.Tension))
}

// MistOnset is the Weber number above which a ridge is torn into mist; card mist.
const MistOnset = 10

// MistSize is the diameter of the drops that air of speed u tears off; card mist.
func MistSize(l Liquid, rho quantity.Density, u quantity.Speed) quantity.Length {
	return quantity.Length(12 * float64(l.Tension) / (float64(rho) * float64(u) * float64(u)))
}

// RunDown is the number of streaks that a trapped volume gives when it comes out after the station: one for
// each largest drop that the wall holds; card run-down. The share of the water that ends on the wall below is
// a setting.
func RunDown(v, held quantity.Volume) int {
	n := math.Floor(float64(v / held))
	if !(n > 0) {
		return 0
	}
	return int(min(n, math.MaxInt32))
}
