package scene

import (
	"math"

	"leste/job"
	"leste/render/drawing"
	"leste/render/words"
	"leste/station"
)

// A Subject is one station as one format meets it.
type Subject struct {
	Job    *job.Job
	Format station.FormatPlan
	Scene  station.Scene
	Words  words.Words

	nameRoom float64 // how wide the names of outlets may be [mm]; 0 is the widest
}

// turn is -1 when the operator sees travel from right to left.
func (s Subject) turn() float64 {
	if s.Job != nil && s.Job.Line.Travel == "right to left" {
		return -1
	}
	return 1
}

// span is how far the drawing shows the line on both sides of the datum [m].
func (s Subject) span() (from, to float64) {
	reach := 0.1
	if b := s.Format.Body; b != nil {
		reach = b.Width
	}
	if pitch := float64(s.Format.Pitch); pitch > 0 {
		reach = pitch + reach*0.8
	}
	from, to = -reach, reach
	for _, p := range s.Scene.Outlets {
		for _, part := range Solids(p) {
			for _, v := range part.corners() {
				from, to = min(from, v.X-0.02), max(to, v.X+0.02)
			}
		}
	}
	return from, to
}

// shapes draws one view with its dimensions, in millimetres of the real world. Dimensions and names make room for each
// other at the scale that they are printed at.
func (s Subject) shapes(view View, dimensioned bool, scale float64) []drawing.Shape {
	pr := projector{view, s.turn()}
	var out []drawing.Shape
	switch view {
	case Plan:
		out = s.plan(pr)
	case Along:
		out = s.along(pr)
	case Across:
		out = s.across(pr)
	}
	switch {
	case dimensioned:
		out = append(out, s.dimensions(pr, out, scale)...)
	case view == Plan:
		from, _ := s.span()
		out = append(out, s.travel(pr, from, scale)...)
	}
	return out
}

// containers lists the axes of the containers drawn, the one abreast of the datum first [m].
func (s Subject) containers() []float64 {
	xs := []float64{0}
	if pitch := float64(s.Format.Pitch); pitch > 0 {
		xs = append(xs, -pitch, pitch)
	}
	return xs
}

func (s Subject) plan(pr projector) []drawing.Shape {
	from, to := s.span()
	out := s.outlets(pr, func(p station.Placed) bool { return p.Side == "below" }) // under everything else
	wide := s.beltHalf()
	for _, y := range []float64{-wide, wide} {
		if s.gripped() {
			break
		}
		out = append(out, drawing.Line{Layer: drawing.Conveyor, A: pr.at(station.Vec{X: from, Y: y}), B: pr.at(station.Vec{X: to, Y: y})})
	}
	for _, bar := range s.Scene.Rails {
		for _, side := range []float64{-bar.Radius, bar.Radius} {
			out = append(out, drawing.Line{Layer: drawing.Conveyor, A: pr.at(station.Vec{X: from, Y: bar.Y + side}), B: pr.at(station.Vec{X: to, Y: bar.Y + side}), Styled: drawing.Style{Pen: 0.13}})
		}
	}
	out = append(out, s.boxes(pr, from, to)...)
	if b := s.Format.Body; b != nil && b.Surface != nil {
		for i, x := range s.containers() {
			layer := drawing.Neighbours
			if i == 0 {
				layer = drawing.Containers
			}
			out = append(out, drawPlan(pr, b, x, layer, true)...)
		}
	}
	out = append(out, s.outlets(pr, func(p station.Placed) bool { return p.Side != "below" })...)
	out = append(out, drawing.Line{Layer: drawing.Centre, A: pr.at(station.Vec{X: from - 0.01}), B: pr.at(station.Vec{X: to + 0.01})})
	out = append(out, s.cross(pr, station.Vec{Y: wide + 0.02}, station.Vec{Y: -wide - 0.02})...)
	return out
}

// outlets draws the outlets that are wanted.
func (s Subject) outlets(pr projector, want func(station.Placed) bool) []drawing.Shape {
	var out []drawing.Shape
	for _, p := range s.Scene.Outlets {
		if want(p) {
			out = append(out, drawOutlet(pr, p)...)
		}
	}
	return out
}

func (s Subject) along(pr projector) []drawing.Shape {
	from, to := s.span()
	out := s.floor(pr, station.Vec{X: from}, station.Vec{X: to})
	for _, bar := range s.Scene.Rails {
		if bar.Y*s.turn() > 0 {
			continue // on the far side
		}
		for _, side := range []float64{-bar.Radius, bar.Radius} {
			out = append(out, drawing.Line{Layer: drawing.Conveyor, A: pr.at(station.Vec{X: from, Z: bar.Z + side}), B: pr.at(station.Vec{X: to, Z: bar.Z + side}), Styled: drawing.Style{Pen: 0.13}})
		}
	}
	out = append(out, s.boxes(pr, from, to)...)
	if b := s.Format.Body; b != nil && b.Surface != nil {
		for i, x := range s.containers() {
			layer := drawing.Neighbours
			if i == 0 {
				layer = drawing.Containers
			}
			out = append(out, drawElevation(b, false, pr.at(station.Vec{X: x}).X, layer, true)...)
		}
		out = append(out, s.cross(pr, station.Vec{Z: -0.015}, station.Vec{Z: b.Height + 0.02})...)
	}
	out = append(out, s.outlets(pr, func(station.Placed) bool { return true })...)
	return append(out, datum(pr.at(station.Vec{})))
}

func (s Subject) across(pr projector) []drawing.Shape {
	wide := s.beltHalf()
	out := s.floor(pr, station.Vec{Y: -wide}, station.Vec{Y: wide})
	for _, bar := range s.Scene.Rails {
		out = append(out, drawing.Circle(drawing.Conveyor, pr.at(station.Vec{Y: bar.Y, Z: bar.Z}), bar.Radius*1e3, drawing.Style{}))
	}
	from, to := s.span()
	out = append(out, s.boxes(pr, from, to)...)
	if b := s.Format.Body; b != nil && b.Surface != nil {
		out = append(out, drawElevation(b, true, 0, drawing.Containers, true)...)
		out = append(out, s.cross(pr, station.Vec{Z: -0.015}, station.Vec{Z: b.Height + 0.02})...)
	}
	out = append(out, s.outlets(pr, func(station.Placed) bool { return true })...)
	return append(out, datum(pr.at(station.Vec{})))
}

// beltHalf is half the width that the belt is drawn with [m]; where there is none, its level is drawn a little wider than
// the container.
func (s Subject) beltHalf() float64 {
	if half := s.Scene.BeltHalf; half > 0 && !math.IsInf(half, 1) {
		return half
	}
	if s.Format.Body != nil {
		return s.Format.Body.Depth/2 + 0.012
	}
	return 0.05
}

// gripped says that grips carry the containers, so that there is no belt.
func (s Subject) gripped() bool { return !s.Scene.Belt && s.Scene.BeltHalf == 0 }

// floor draws the belt with its hatch, from one place to another [m]; where there is none, the level that heights count from.
func (s Subject) floor(pr projector, from, to station.Vec) []drawing.Shape {
	a, b := pr.at(from), pr.at(to)
	if a.X > b.X {
		a, b = b, a
	}
	const thick = 10.0
	c, d := drawing.Point{X: b.X, Y: -thick}, drawing.Point{X: a.X, Y: -thick}
	if s.gripped() {
		return []drawing.Shape{drawing.Line{Layer: drawing.Centre, A: a, B: b}}
	}
	out := []drawing.Shape{
		drawing.Line{Layer: drawing.Conveyor, A: a, B: b, Styled: drawing.Style{Pen: 0.35}},
	}
	if s.Scene.Belt {
		out = append(out, drawing.Hatch{Layer: drawing.Hatching, Boundary: []drawing.Point{a, b, c, d}, Angle: 45, Spacing: 1.2})
	}
	return out
}

// boxes draws obstacles and grips.
func (s Subject) boxes(pr projector, from, to float64) []drawing.Shape {
	var out []drawing.Shape
	draw := func(b job.Box, layer drawing.Layer) {
		var corners []station.Vec
		for _, x := range []float64{float64(b.XFrom), float64(b.XTo)} {
			for _, y := range []float64{float64(b.YFrom), float64(b.YTo)} {
				for _, z := range []float64{float64(b.ZFrom), float64(b.ZTo)} {
					corners = append(corners, station.Vec{X: min(max(x, from), to), Y: y, Z: z})
				}
			}
		}
		out = append(out, drawing.Polyline{Layer: layer, Points: hull(pr.all(corners)), Closed: true})
	}
	for _, b := range s.Scene.Grips {
		draw(b, drawing.Conveyor)
	}
	for _, b := range s.Scene.Obstacles {
		draw(b, drawing.Obstacles)
	}
	return out
}

// cross draws the container's axis.
func (s Subject) cross(pr projector, a, b station.Vec) []drawing.Shape {
	return []drawing.Shape{drawing.Line{Layer: drawing.Centre, A: pr.at(a), B: pr.at(b)}}
}

// travel draws the arrow of travel, upstream of everything else, as large on paper at every scale.
func (s Subject) travel(pr projector, from, scale float64) []drawing.Shape {
	on := func(x, y float64) drawing.Point { return drawing.Point{X: -x * s.turn() * scale, Y: y * scale} } // mm of paper, upstream and up
	end := pr.at(station.Vec{X: from}).Add(on(2.8, 1.6))
	neck := end.Add(on(2.4, 0))
	align := drawing.Right
	if s.turn() < 0 {
		align = drawing.Left
	}
	return []drawing.Shape{
		drawing.Line{Layer: drawing.Notes, A: end.Add(on(8.8, 0)), B: neck},
		drawing.Polyline{Layer: drawing.Notes, Points: []drawing.Point{end, neck.Add(on(0, 0.8)), neck.Add(on(0, -0.8))}, Closed: true, Styled: drawing.Filled(drawing.Ink)},
		drawing.Text{Layer: drawing.Notes, At: end.Add(on(0, 1.9)), String: s.Words.T("drawing.travel"), Size: 2.5, Align: align},
	}
}

// datum marks the datum: belt level at the container's axis.
func datum(at drawing.Point) drawing.Shape { return drawing.Mark{Layer: drawing.Datum, At: at} }

// degrees returns an angle [rad] in whole tenths of a degree.
func degrees(a float64) float64 { return math.Round(a*1800/math.Pi) / 10 }
