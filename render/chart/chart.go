// Package chart draws the figures of documents that are no pictures of things: curves, and bands against a
// limit. Sizes are millimetres of paper.
package chart

import (
	"math"
	"slices"

	"leste/render/drawing"
	"leste/render/typeface"
)

// An Axis is one axis of a chart: what it carries and how its numbers are written.
type Axis struct {
	Title  string
	Low    float64
	High   float64
	Number func(float64) string
	Second *Scale // the same in another unit, on the far side; may be nil
}

// A Scale is a second scale of an axis: what it carries, and how many of its units one of the axis is.
type Scale struct {
	Title string
	Per   float64
}

// A Series is one curve.
type Series struct {
	Name   string
	Points []drawing.Point // in the axes' values
	Colour drawing.Colour
	Dashed bool
}

// A Spot is one marked point with its words.
type Spot struct {
	At     drawing.Point
	Name   string
	Colour drawing.Colour
}

// Room around the axes [mm].
const (
	roomLeft   = 16.0
	roomBottom = 12.0
	roomTop    = 5.0
	roomRight  = 4.0
	roomSecond = 5.0  // of a second scale above, beside the titles
	wideSecond = 12.0 // of one at the right
	small      = 2.4
)

// area is where curves are drawn: the lower left corner and the size.
func area(width, height float64, x, y Axis) (corner, size drawing.Point) {
	up, beside := roomTop, roomRight
	if x.Second != nil {
		up += roomSecond
	}
	if y.Second != nil {
		beside = wideSecond
	}
	return drawing.Point{X: roomLeft, Y: roomBottom}, drawing.Point{X: width - roomLeft - beside, Y: height - roomBottom - up}
}

// Curves draws series over two linear axes.
func Curves(name string, width, height float64, x, y Axis, series []Series, spots []Spot) *drawing.Drawing {
	d := &drawing.Drawing{Name: name, Width: width, Height: height}
	origin, size := area(width, height, x, y)
	at := func(p drawing.Point) drawing.Point {
		return origin.Add(drawing.Point{X: size.X * (p.X - x.Low) / (x.High - x.Low), Y: size.Y * (p.Y - y.Low) / (y.High - y.Low)})
	}
	edge, ceiling := origin.X+size.X+roomRight, height // of what stands beside curves
	if y.Second != nil {
		edge = origin.X + size.X
	}
	if x.Second != nil {
		ceiling = origin.Y + size.Y
	}
	add := func(shapes ...drawing.Shape) { d.Paper = append(d.Paper, shapes...) }
	quiet := drawing.Drawn(drawing.Slate, 0)
	for _, v := range Ticks(x.Low, x.High, 6) {
		p := at(drawing.Point{X: v, Y: y.Low})
		add(drawing.Line{Layer: drawing.Chart, A: p, B: at(drawing.Point{X: v, Y: y.High}), Styled: drawing.Drawn(drawing.Mist, 0.1)},
			drawing.Text{Layer: drawing.Chart, At: p.Add(drawing.Point{Y: -3.2}), String: x.Number(v), Size: small, Align: drawing.Middle, Styled: quiet})
	}
	for _, v := range Ticks(y.Low, y.High, 5) {
		p := at(drawing.Point{X: x.Low, Y: v})
		add(drawing.Line{Layer: drawing.Chart, A: p, B: at(drawing.Point{X: x.High, Y: v}), Styled: drawing.Drawn(drawing.Mist, 0.1)},
			drawing.Text{Layer: drawing.Chart, At: p.Add(drawing.Point{X: -1.5, Y: -0.8}), String: y.Number(v), Size: small, Align: drawing.Right, Styled: quiet})
	}
	corner := drawing.Point{X: x.Low, Y: y.Low}
	add(drawing.Line{Layer: drawing.Chart, A: at(corner), B: at(drawing.Point{X: x.High, Y: y.Low}), Styled: drawing.Drawn(drawing.Slate, 0.25)},
		drawing.Line{Layer: drawing.Chart, A: at(corner), B: at(drawing.Point{X: x.Low, Y: y.High}), Styled: drawing.Drawn(drawing.Slate, 0.25)},
		drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: origin.X + size.X, Y: 1.6}, String: x.Title, Size: small, Align: drawing.Right, Styled: drawing.Drawn(drawing.Ink, 0)},
		drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: 1, Y: height - 2.6}, String: y.Title, Size: small, Styled: drawing.Drawn(drawing.Ink, 0)})
	for _, shape := range seconds(width, height, x, y, at) {
		add(shape)
	}
	var taken, curves []box
	for _, s := range series {
		var points []drawing.Point
		for _, p := range s.Points {
			if p.X >= x.Low && p.X <= x.High && p.Y >= y.Low && p.Y <= y.High {
				points = append(points, at(p))
			}
		}
		if len(points) < 2 {
			continue
		}
		style := drawing.Drawn(s.Colour, 0.5)
		if s.Dashed {
			style.Type = drawing.Dashed
			style.Pen = 0.35
		}
		add(drawing.Polyline{Layer: drawing.Chart, Points: points, Styled: style})
		name := label(s.Name, points[len(points)-1], edge, s.Colour)
		name.At.Y = min(name.At.Y, ceiling-small)
		taken, curves = append(taken, written(name)), append(curves, along(points)...)
		add(name)
	}
	for _, s := range spots {
		p, fill := at(s.At), s.Colour
		taken = append(taken, box{p.Add(drawing.Point{X: -dot, Y: -dot}), p.Add(drawing.Point{X: dot, Y: dot})})
		add(drawing.Circle(drawing.Chart, p, dot, drawing.Style{Fill: &fill, NoLine: true}))
	}
	for _, s := range spots {
		if s.Name != "" {
			name, free := beside(s.Name, at(s.At), edge, s.Colour, slices.Concat(taken, curves))
			if !free { // on a curve it can be read, on a point it cannot
				name, _ = beside(s.Name, at(s.At), edge, s.Colour, taken)
			}
			taken = append(taken, written(name))
			add(name)
		}
	}
	return d
}

// seconds draws the second scales: of the flat axis above the curves, of the upright one at their right.
func seconds(width, height float64, x, y Axis, at func(drawing.Point) drawing.Point) []drawing.Shape {
	var out []drawing.Shape
	quiet, ink, thin := drawing.Drawn(drawing.Slate, 0), drawing.Drawn(drawing.Ink, 0), drawing.Drawn(drawing.Slate, 0.15)
	const tick = 1.0
	if s := x.Second; s != nil {
		for _, v := range Ticks(x.Low*s.Per, x.High*s.Per, 6) {
			p := at(drawing.Point{X: v / s.Per, Y: y.High})
			out = append(out, drawing.Line{Layer: drawing.Chart, A: p, B: p.Add(drawing.Point{Y: tick}), Styled: thin},
				drawing.Text{Layer: drawing.Chart, At: p.Add(drawing.Point{Y: tick + 0.7}), String: x.Number(v), Size: small, Align: drawing.Middle, Styled: quiet})
		}
		middle := at(drawing.Point{X: (x.Low + x.High) / 2, Y: y.High})
		out = append(out, drawing.Line{Layer: drawing.Chart, A: at(drawing.Point{X: x.Low, Y: y.High}), B: at(drawing.Point{X: x.High, Y: y.High}), Styled: thin},
			drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: middle.X, Y: height - 2.6}, String: s.Title, Size: small, Align: drawing.Middle, Styled: ink})
	}
	if s := y.Second; s != nil {
		for _, v := range Ticks(y.Low*s.Per, y.High*s.Per, 5) {
			p := at(drawing.Point{X: x.High, Y: v / s.Per})
			out = append(out, drawing.Line{Layer: drawing.Chart, A: p, B: p.Add(drawing.Point{X: tick}), Styled: thin},
				drawing.Text{Layer: drawing.Chart, At: p.Add(drawing.Point{X: tick + 0.7, Y: -0.6}), String: y.Number(v), Size: small, Styled: quiet})
		}
		out = append(out, drawing.Line{Layer: drawing.Chart, A: at(drawing.Point{X: x.High, Y: y.Low}), B: at(drawing.Point{X: x.High, Y: y.High}), Styled: thin},
			drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: width - 1, Y: height - 2.6}, String: s.Title, Size: small, Align: drawing.Right, Styled: ink})
	}
	return out
}

// dot is the radius of a marked point [mm].
const dot = 1.1

// A box is a part of the paper that something is drawn on, from its lower left to its upper right corner.
type box struct{ low, high drawing.Point }

func (b box) meets(o box) bool {
	return b.low.X < o.high.X && o.low.X < b.high.X && b.low.Y < o.high.Y && o.low.Y < b.high.Y
}

// written is what a name takes of the paper.
func written(t drawing.Text) box {
	from := t.At.X
	switch t.Align {
	case drawing.Right:
		from -= t.Width()
	case drawing.Middle:
		from -= t.Width() / 2
	}
	return box{drawing.Point{X: from, Y: t.At.Y - 0.25*small}, drawing.Point{X: from + t.Width(), Y: t.At.Y + 0.8*small}}
}

// along covers a curve with boxes of half a millimetre.
func along(points []drawing.Point) []box {
	const step = 0.5
	var out []box
	for i := range len(points) - 1 {
		a, b := points[i], points[i+1]
		n := math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / step)
		for k := range int(n) {
			f := (float64(k) + 0.5) / n
			p := drawing.Point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
			out = append(out, box{p.Add(drawing.Point{X: -step / 2, Y: -step / 2}), p.Add(drawing.Point{X: step / 2, Y: step / 2})})
		}
	}
	return out
}

// beside writes the name of a point as near to it as what is taken leaves room, and reports whether it does.
func beside(name string, p drawing.Point, width float64, colour drawing.Colour, taken []box) (drawing.Text, bool) {
	first := label(name, p.Add(drawing.Point{X: 1, Y: 1}), width, colour)
	for away := 0.0; away < 12; away++ {
		for _, y := range []float64{2.2 + away, -3.2 - away} {
			for _, align := range []drawing.Align{drawing.Left, drawing.Right} {
				t := first
				t.Align, t.At = align, p.Add(drawing.Point{X: 2.2, Y: y})
				if align == drawing.Right {
					t.At.X = p.X - 2.2
				}
				b := written(t)
				if b.low.X < roomLeft || b.high.X > width-1 || slices.ContainsFunc(taken, b.meets) {
					continue
				}
				return t, true
			}
		}
	}
	return first, false
}

// label writes the name of a curve or point beside it, on the side where there is room.
func label(name string, at drawing.Point, width float64, colour drawing.Colour) drawing.Text {
	t := drawing.Text{Layer: drawing.Chart, At: at.Add(drawing.Point{X: 1.2, Y: 1.2}), String: name, Size: small, Styled: drawing.Drawn(colour, 0), Face: typeface.Bold}
	if t.At.X+t.Width() > width-1 {
		t.Align = drawing.Right
		t.At.X = min(at.X-1.2, width-1)
	}
	return t
}

// Ticks returns about n round numbers from low to high: steps of 1, 2 or 5.
func Ticks(low, high float64, n int) []float64 {
	if !(high > low) || n < 1 || math.IsInf(high-low, 0) {
		return nil
	}
	raw := (high - low) / float64(n)
	unit := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * unit
	for _, k := range []float64{1, 2, 5} {
		if raw <= k*unit*(1+1e-9) {
			step = k * unit
			break
		}
	}
	var out []float64
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		out = append(out, k*step+0) // a zero without a sign
	}
	return out
}

// A Bar is a band against a limit, as shares of the limit.
type Bar struct {
	Name              string
	Detail            string // under the name, small
	Low, Likely, High float64
	Text              string
	Colour            drawing.Colour
}

// Bands draws bands on a logarithmic scale with the limit at 1: what lies left of the line is better.
func Bands(name string, width float64, bars []Bar, better, limit string, number func(float64) string) *drawing.Drawing {
	const rowH, textW = 8.2, 30.0
	names := 0.0 // what they take, within a third to a half of the width
	for _, b := range bars {
		names = max(names, typeface.Regular.Width(b.Name, small)+4, typeface.Regular.Width(b.Detail, small)+4)
	}
	nameShare := min(max(names/width, 0.3), 0.5)
	low, high := 0.3, 3.0
	for _, b := range bars {
		if b.Low > 0 {
			low = min(low, b.Low)
		}
		if b.High > 0 && !math.IsInf(b.High, 0) {
			high = max(high, b.High)
		}
	}
	low, high = max(low, 0.01)/1.15, min(high, 100)*1.15
	height := rowH*float64(len(bars)) + 12
	d := &drawing.Drawing{Name: name, Width: width, Height: height}
	x0, x1 := width*nameShare, width-textW
	at := func(v float64) float64 {
		v = min(max(v, low), high)
		return x0 + (x1-x0)*math.Log(v/low)/math.Log(high/low)
	}
	add := func(shapes ...drawing.Shape) { d.Paper = append(d.Paper, shapes...) }
	floor := 6.0
	top := floor + rowH*float64(len(bars))
	for _, v := range []float64{0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50} {
		if v < low || v > high {
			continue
		}
		style := drawing.Drawn(drawing.Mist, 0.1)
		if v == 1 {
			style = drawing.Drawn(drawing.Ink, 0.4)
		}
		add(drawing.Line{Layer: drawing.Chart, A: drawing.Point{X: at(v), Y: floor - 1}, B: drawing.Point{X: at(v), Y: top + 0.5}, Styled: style},
			drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: at(v), Y: 1.8}, String: number(v), Size: small, Align: drawing.Middle, Styled: drawing.Drawn(drawing.Slate, 0)})
	}
	add(drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: at(1) - 1.5, Y: top + 2}, String: "← " + better, Size: small, Align: drawing.Right, Styled: drawing.Drawn(drawing.Fern, 0)},
		drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: at(1) + 1.5, Y: top + 2}, String: limit, Size: small, Styled: drawing.Drawn(drawing.Ink, 0), Face: typeface.Bold})
	for i, b := range bars {
		y := top - rowH*(float64(i)+0.5)
		line := y - 0.8
		if b.Detail != "" {
			line += 1.4
			add(drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: 0, Y: line - 3}, String: typeface.Regular.Fit(b.Detail, small, x0-3), Size: small, Styled: drawing.Drawn(drawing.Slate, 0)})
		}
		add(drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: 0, Y: line}, String: typeface.Regular.FitEnds(b.Name, small, x0-3), Size: small, Styled: drawing.Drawn(drawing.Ink, 0)})
		if math.IsNaN(b.Likely) {
			continue
		}
		add(drawing.Rect(drawing.Chart, drawing.Point{X: at(b.Low), Y: y - 1.3}, drawing.Point{X: max(at(b.High), at(b.Low)+0.4), Y: y + 1.3}, drawing.Filled(b.Colour.Mix(drawing.White, 0.65))))
		fill := b.Colour
		add(drawing.Circle(drawing.Chart, drawing.Point{X: at(b.Likely), Y: y}, 1.2, drawing.Style{Fill: &fill, NoLine: true}))
		add(drawing.Text{Layer: drawing.Chart, At: drawing.Point{X: x1 + 2, Y: y - 0.8}, String: typeface.Bold.Fit(b.Text, small, textW-2), Size: small, Styled: drawing.Drawn(b.Colour, 0), Face: typeface.Bold})
	}
	return d
}
