package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// poolWidth is how gradually the air takes hold of a pool around the pressure that lifts its water; judgement.
const poolWidth = 0.3

// blowOut is the air on one pool during one pass.
type blowOut struct {
	liquid   water.Liquid
	pressure float64 // factor on the impact pressure
	step     float64 // s between two positions
}

// left is what a pass leaves of a pool's water [kg], given the greatest pressure on it: one row of columns for
// each position. Where the air presses harder than the depth of the water it pushes it over the edge, for as
// long as that takes; the corners keep their fillets.
func (b blowOut) left(p *station.Pool, mass float64, press [][]float32) float64 {
	if mass <= 0 || len(press) == 0 {
		return mass
	}
	needs := float64(water.PoolPressure(b.liquid, q.Length(p.Depth)))
	columns := len(press[0])
	rest := 0.0
	for col := range columns {
		most, lasts, drive := 0.0, 0.0, 0.0
		for i := range press {
			v := b.pressure * float64(press[i][col])
			most = max(most, v)
			if v > needs {
				lasts += b.step
				drive += v * b.step
			}
		}
		share := 0.0
		if lasts > 0 {
			across := water.Crevice{Width: q.Length(p.Depth), Length: q.Length(p.Outer - p.Inner)}
			takes := float64(across.InertialTime(b.liquid, q.PressureDrop(drive/lasts-needs/2)))
			share = (1 - tail(math.Log(most/needs)/poolWidth)) * water.InertialCleared(lasts/takes)
		}
		fillets := 0.0
		if share > 0 {
			rims := 2 * math.Pi * (p.Outer + p.Inner) / float64(columns)
			fillets = float64(b.liquid.Density) * float64(water.CornerFillet(b.liquid, q.Gauge(most))) * rims
		}
		full := mass / float64(columns)
		rest += full*(1-share) + share*min(fillets, full)
	}
	return rest
}
