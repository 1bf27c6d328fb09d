package scene

import (
	"math"

	"leste/render/drawing"
	"leste/station"
)

// silhouette is the outline of a body: half its extent and its height, row by row [m].
type silhouette struct {
	half, height []float64
	low, high    int // rows at which the body is lowest and highest: what lies inside them is hidden
}

// outline finds the silhouette across x (acrossY false) or across y.
func outline(b *station.Body, acrossY bool) silhouette {
	s := b.Surface
	out := silhouette{half: make([]float64, s.Rows), height: make([]float64, s.Rows)}
	for r := range s.Rows {
		for c := range s.Cols {
			v := s.Pos[r*s.Cols+c]
			reach := math.Hypot(v.X, v.Y)
			if b.Width != b.Depth { // not round
				reach = math.Abs(v.X)
				if acrossY {
					reach = math.Abs(v.Y)
				}
			}
			out.half[r] = max(out.half[r], reach)
			out.height[r] += v.Z / float64(s.Cols)
		}
	}
	for r := range s.Rows {
		if out.height[r] < out.height[out.low] {
			out.low = r
		}
		if out.height[r] > out.height[out.high] {
			out.high = r
		}
	}
	return out
}

// drawElevation draws a body from the side with its axis at x [mm].
func drawElevation(b *station.Body, acrossY bool, x float64, layer drawing.Layer, white bool) []drawing.Shape {
	o := outline(b, acrossY)
	point := func(r int, side float64) drawing.Point {
		return drawing.Point{X: x + side*o.half[r]*1e3, Y: o.height[r] * 1e3}
	}
	run := func(from, to int, side float64) []drawing.Point {
		var points []drawing.Point
		for r := from; r <= to; r++ {
			points = append(points, point(r, side))
		}
		return points
	}
	right := run(o.low, o.high, 1)
	var around []drawing.Point
	around = append(around, right...)
	left := run(o.low, o.high, -1)
	for i := len(left) - 1; i >= 0; i-- {
		around = append(around, left[i])
	}
	style := drawing.Style{}
	if white {
		paper := drawing.White
		style.Fill = &paper
	}
	shapes := []drawing.Shape{drawing.Polyline{Layer: layer, Points: around, Closed: true, Styled: style}}
	if layer != drawing.Containers {
		return shapes
	}
	for _, side := range []float64{-1, 1} { // the dome of the base and the recess of the end
		if o.low > 1 {
			shapes = append(shapes, drawing.Polyline{Layer: drawing.Hidden, Points: run(0, o.low, side)})
		}
		if o.high < len(o.half)-2 {
			shapes = append(shapes, drawing.Polyline{Layer: drawing.Hidden, Points: run(o.high, len(o.half)-1, side)})
		}
	}
	return shapes
}

// drawPlan draws a body from above: its widest section and its highest rim.
func drawPlan(pr projector, b *station.Body, x float64, layer drawing.Layer, white bool) []drawing.Shape {
	o := outline(b, false)
	wide := 0
	for r := range o.half {
		if o.half[r] > o.half[wide] {
			wide = r
		}
	}
	style := drawing.Style{}
	if white {
		paper := drawing.White
		style.Fill = &paper
	}
	shapes := []drawing.Shape{ring(pr, b, wide, x, layer, style)}
	if layer == drawing.Containers && o.high != wide && o.half[o.high] < 0.97*o.half[wide] {
		shapes = append(shapes, ring(pr, b, o.high, x, drawing.Thin, drawing.Style{}))
	}
	return shapes
}

// ring draws one row of the body from above; a round one as a true circle.
func ring(pr projector, b *station.Body, row int, x float64, layer drawing.Layer, style drawing.Style) drawing.Shape {
	s := b.Surface
	centre := pr.at(station.Vec{X: x})
	if b.Width == b.Depth {
		reach := 0.0
		for c := range s.Cols {
			v := s.Pos[row*s.Cols+c]
			reach = max(reach, math.Hypot(v.X, v.Y))
		}
		return drawing.Circle(layer, centre, reach*1e3, style)
	}
	points := make([]drawing.Point, s.Cols)
	for c := range s.Cols {
		points[c] = pr.at(add(s.Pos[row*s.Cols+c], station.Vec{X: x}))
	}
	return drawing.Polyline{Layer: layer, Points: points, Closed: true, Styled: style}
}
