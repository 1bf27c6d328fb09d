package scene

import (
	"cmp"
	"math"
	"slices"

	"leste/render/drawing"
)

// places are where the figure of a dimension may be led to from the middle of its line, the nearest first [mm of paper].
var places = func() []drawing.Point {
	var out []drawing.Point
	for _, y := range []float64{4, 7, 11, 16, 22, 29, 37, 46} {
		for _, x := range []float64{3, 7, 12, 18, 26, 36, 48} {
			for _, side := range [][2]float64{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
				out = append(out, drawing.Point{X: side[0] * x, Y: side[1] * y})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b drawing.Point) int { return cmp.Compare(a.Len(), b.Len()) })
	return out
}()

// crossing is how much farther a figure is led rather than across one more line [mm of paper].
const crossing = 3.0

// inward is how much farther a figure is led rather than towards the middle of its view [mm of paper].
const inward = 8.0

// cleared gives the figures of dimensions places where they lie on nothing that is drawn: beyond the other end of their
// line, or led off to where there is room. Those that have room where they are stay.
func cleared(dimensions, drawn []drawing.Shape, scale float64) []drawing.Shape {
	out := slices.Clone(dimensions)
	geometry := drawing.PlacedAt(scale, drawn...)
	for i := range out {
		d, ok := out[i].(drawing.Dimension)
		if !ok {
			continue
		}
		others := geometry.With(append(out[:i:i], out[i+1:]...)...)
		if under, _ := others.Covers(d); under == drawing.Clear {
			continue
		}
		least := math.Inf(1)
		try := func(d drawing.Dimension, cost float64) {
			under, crossed := others.Covers(d)
			if cost += crossing*float64(crossed) + 1e3*float64(under); cost < least {
				out[i], least = d, cost
			}
		}
		try(d, 0)
		beyond := d
		beyond.Outside = !d.Outside
		try(beyond, 1)
		for _, p := range places {
			if p.Len() >= least {
				break
			}
			led := d
			led.Elbow = p
			cost := p.Len()
			if middle := d.A.X + d.B.X; middle*p.X < 0 {
				cost += inward
			}
			try(led, cost)
		}
	}
	return out
}
