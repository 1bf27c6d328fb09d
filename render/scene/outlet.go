package scene

import (
	"math"

	"leste/job"
	"leste/render/drawing"
	"leste/station"
)

// around is the number of corners of a drawn circle. Makers' bodies differ: what is drawn is what room an outlet takes, as
// the layout has it, and not what it looks like.
const around = 20

// A Solid is a convex body between two loops of corners that belong to each other: a prism or a cone [m].
type Solid struct{ A, B []station.Vec }

// corners lists all corners of the solid.
func (s Solid) corners() []station.Vec {
	return append(append([]station.Vec(nil), s.A...), s.B...)
}

// Solids returns the convex parts that an outlet is drawn with.
func Solids(p station.Placed) []Solid {
	bore := p.Plenum
	n := cross(p.Axis, p.Line)
	half := p.Length / 2
	place := func(along, back float64) station.Vec { // along the outlet line, and back from the lip
		return add(p.Middle, add(times(p.Line, along), times(p.Axis, -back)))
	}
	circle := func(centre, u, v station.Vec, r float64) []station.Vec {
		out := make([]station.Vec, around)
		for i := range out {
			s, c := math.Sincos(2 * math.Pi * float64(i) / around)
			out[i] = add(centre, add(times(u, r*c), times(v, r*s)))
		}
		return out
	}
	tube := func(back, half float64) Solid {
		return Solid{circle(place(-half, back), p.Axis, n, bore/2), circle(place(half, back), p.Axis, n, bore/2)}
	}
	switch p.Kind {
	case job.AirKnife:
		section := lipSection(&p)
		loop := func(along float64) []station.Vec {
			out := make([]station.Vec, len(section))
			for i, c := range section {
				out[i] = add(place(along, c.X), times(n, c.Y))
			}
			return out
		}
		return []Solid{{loop(-half), loop(half)}}
	case job.NozzleManifold, job.Nozzle:
		long := p.Nose()
		var parts []Solid
		ports := p.Ports
		if len(ports) == 0 {
			ports = []float64{0}
		}
		for _, t := range ports {
			parts = append(parts, Solid{circle(place(t, 0), p.Line, n, p.LipHalf()), circle(place(t, long), p.Line, n, p.Bore*0.75+0.001)})
		}
		if p.Kind == job.NozzleManifold {
			parts = append(parts, tube(long+bore/2, half+p.Bore))
		}
		return parts
	}
	return nil
}

// lipSection is the section of an air knife: back from the lip, and across [m].
func lipSection(p *station.Placed) []drawing.Point {
	bore, lip := p.Plenum, p.LipHalf()
	points := []drawing.Point{{X: 0, Y: lip}, {X: 0, Y: -lip}}
	for i := range around {
		s, c := math.Sincos(2 * math.Pi * float64(i) / around)
		points = append(points, drawing.Point{X: p.Nose() + bore/2 + bore/2*c, Y: bore / 2 * s})
	}
	return hull(points)
}

// drawOutlet draws one outlet with where its air goes.
func drawOutlet(pr projector, p station.Placed) []drawing.Shape {
	var shapes []drawing.Shape
	pale := drawing.Shoal
	for _, part := range Solids(p) {
		shapes = append(shapes, drawing.Polyline{
			Layer: drawing.Outlets, Points: hull(pr.all(part.corners())), Closed: true,
			Styled: drawing.Style{Fill: &pale, Pen: 0.25},
		})
	}
	half := p.Length / 2
	a, b := pr.at(add(p.Middle, times(p.Line, -half))), pr.at(add(p.Middle, times(p.Line, half)))
	if p.Kind == job.AirKnife && a.Sub(b).Len() > 1 {
		shapes = append(shapes, drawing.Line{Layer: drawing.Outlets, A: a, B: b, Styled: drawing.Style{Pen: 0.6}})
	}
	reach := p.StandOff
	if math.IsNaN(reach) || reach <= 0 || reach > 0.6 {
		reach = 0.1
	}
	for _, t := range airFrom(p) {
		from := add(p.Middle, times(p.Line, t))
		to := add(from, times(p.Axis, reach))
		if pr.at(from).Sub(pr.at(to)).Len() > 2 {
			shapes = append(shapes, drawing.Line{Layer: drawing.Air, A: pr.at(from), B: pr.at(to)})
		}
	}
	return shapes
}

// airFrom lists the places along the outlet from which its air is drawn.
func airFrom(p station.Placed) []float64 {
	if len(p.Ports) > 0 {
		return p.Ports
	}
	if p.Kind == job.AirKnife {
		return []float64{-p.Length / 2, 0, p.Length / 2}
	}
	return []float64{0}
}

// Clearance returns the shortest distance from the outlet's lip to the container that stands abreast of
// it [m]: what a block or a feeler measures.
func Clearance(p station.Placed, b *station.Body) float64 { return b.Clearance(&p) }

// Tilt returns the slope of the outlet line against travel as the job states it [rad]: positive when its
// downstream end is lower, or further left above and below.
func Tilt(p station.Placed) float64 {
	l := p.Line
	if l.X < 0 {
		l = times(l, -1)
	}
	if p.Side == "above" || p.Side == "below" {
		return math.Atan2(l.Y, l.X)
	}
	return math.Atan2(-l.Z, math.Hypot(l.X, l.Y))
}

// TiltMoved is Tilt of an outlet beside the line once its tilt is set further by an angle before it is aimed [rad]. Of
// one that is aimed the lip turns by less than that: the tilt is the slope of what the air draws on an upright wall.
func TiltMoved(p station.Placed, by float64) float64 {
	l := p.Line
	if p.Axis.Y != 0 {
		l = sub(l, times(p.Axis, l.Y/p.Axis.Y)) // along the air onto the wall
	}
	if l.X < 0 {
		l = times(l, -1)
	}
	sin, cos := math.Sincos(math.Atan2(-l.Z, l.X) + by)
	l = station.Vec{X: cos, Z: -sin}
	p.Line = sub(l, times(p.Axis, dot(l, p.Axis)))
	return Tilt(p)
}
