package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// Ways out of a crevice.
const (
	exitAround = "around"
	exitVents  = "vents"
	exitBlind  = "blind"
)

// creviceHold is the band of the pressure that holds water in a crevice of the body.
func creviceHold(l water.Liquid, gap float64, ws []wall, c *station.Crevice) q.Band {
	return water.CreviceHold(l, q.Length(gap), ws[c.Outer].Wetting, ws[c.Inner].Wetting)
}

// holdAt picks a point of a band: -1 low, 0 likely, 1 high.
func holdAt(b q.Band, end int) float64 {
	switch {
	case end < 0:
		return b.Low
	case end > 0:
		return b.High
	}
	return b.Likely
}

// clearing is what drives the water out of one crevice during one pass.
type clearing struct {
	liquid   water.Liquid
	gap      float64 // m
	hold     float64 // Pa
	pressure float64 // factor on the impact pressure
	step     float64 // s between two positions
	every    int     // columns between two that are followed
}

// left is the share of a crevice's water that a pass leaves in it, given the pressure at its mouth: one row of
// columns for each position.
//
// Around: the air drives the water half-way around, from the mouth that is pressed most to the one that is
// pressed least at that moment. Vents: each piece of the skirt empties through the depth of the gap to the
// room. Blind: nothing leaves.
func (c clearing) left(cr *station.Crevice, mouth [][]float32) float64 {
	switch cr.Exit {
	case exitBlind:
		return 1
	case exitVents:
		columns := len(mouth[0])
		sum, n := 0.0, 0
		for col := 0; col < columns; col += c.every {
			sum += c.push(cr.Depth, len(mouth), func(i int) float64 { return float64(mouth[i][col]) })
			n++
		}
		return sum / float64(n)
	}
	return c.push(math.Pi*cr.Radius, len(mouth), func(i int) float64 {
		most, least := float32(0), float32(math.Inf(1))
		for _, p := range mouth[i] {
			most, least = max(most, p), min(least, p)
		}
		return float64(most - least)
	})
}

// push follows the water of one way out through the positions and returns the share left, the film on the
// walls of the emptied part included.
func (c clearing) push(length float64, positions int, drive func(int) float64) float64 {
	w := water.PushedWater{Length: q.Length(length)}
	fastest := q.Speed(0)
	for i := range positions {
		net := c.pressure*drive(i) - c.hold
		if net <= 0 && w.Speed == 0 {
			continue
		}
		w = w.After(c.liquid, q.Length(c.gap), q.PressureDrop(net), q.Duration(c.step))
		fastest = max(fastest, w.Speed)
		if w.Length == 0 {
			break
		}
	}
	out := 1 - float64(w.Length)/length
	if fastest == 0 { // gone within one step: its mean speed
		fastest = q.Speed(length * out / c.step)
	}
	return 1 - out*(1-float64(water.MeniscusFilm(c.liquid, fastest)))
}
