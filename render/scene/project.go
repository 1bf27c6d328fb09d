package scene

import (
	"sort"

	"leste/render/drawing"
	"leste/station"
)

// A View is a direction to look from.
type View uint8

// The views.
const (
	Plan   View = iota // from above; travel to the right, unless the operator sees it to the left
	Along              // from the operator's side, across travel
	Across             // from the end at the right of the drawing
)

// projector takes station coordinates [m] to a view's millimetres.
type projector struct {
	view View
	turn float64 // -1 when travel is drawn from right to left
}

func (p projector) at(v station.Vec) drawing.Point {
	switch p.view {
	case Along:
		return drawing.Point{X: p.turn * v.X * 1e3, Y: v.Z * 1e3}
	case Across:
		return drawing.Point{X: p.turn * v.Y * 1e3, Y: v.Z * 1e3}
	}
	return drawing.Point{X: p.turn * v.X * 1e3, Y: p.turn * v.Y * 1e3}
}

func (p projector) all(vs []station.Vec) []drawing.Point {
	out := make([]drawing.Point, len(vs))
	for i, v := range vs {
		out[i] = p.at(v)
	}
	return out
}

// hull returns the convex outline of points, counter-clockwise (Andrew's monotone chain).
func hull(points []drawing.Point) []drawing.Point {
	if len(points) < 3 {
		return points
	}
	p := append([]drawing.Point(nil), points...)
	sort.Slice(p, func(i, j int) bool {
		if p[i].X != p[j].X {
			return p[i].X < p[j].X
		}
		return p[i].Y < p[j].Y
	})
	cross := func(o, a, b drawing.Point) float64 { return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X) }
	const straight = 1e-12 // points on one line add no corner
	half := func(seq func(yield func(drawing.Point) bool)) []drawing.Point {
		var h []drawing.Point
		for q := range seq {
			for len(h) >= 2 && cross(h[len(h)-2], h[len(h)-1], q) <= straight {
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		return h[:len(h)-1]
	}
	lower := half(func(yield func(drawing.Point) bool) {
		for _, q := range p {
			if !yield(q) {
				return
			}
		}
	})
	upper := half(func(yield func(drawing.Point) bool) {
		for i := len(p) - 1; i >= 0; i-- {
			if !yield(p[i]) {
				return
			}
		}
	})
	return append(lower, upper...)
}

// Vector arithmetic in station coordinates.

func add(a, b station.Vec) station.Vec { return station.Vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func sub(a, b station.Vec) station.Vec { return station.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func times(a station.Vec, f float64) station.Vec {
	return station.Vec{X: a.X * f, Y: a.Y * f, Z: a.Z * f}
}
func dot(a, b station.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func cross(a, b station.Vec) station.Vec {
	return station.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}
