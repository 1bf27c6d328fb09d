package drawing

import (
	"math"
	"slices"
)

// trace is a Pen that keeps where lines, closed areas and texts lie on the sheet.
type trace struct {
	lines [][2]Point
	areas [][]Point
	texts []Box
}

func (t *trace) Path(_ Layer, _ Style, points []Point, closed bool) {
	for i := 1; i < len(points); i++ {
		t.lines = append(t.lines, [2]Point{points[i-1], points[i]})
	}
	if n := len(points); closed && n > 2 {
		t.lines = append(t.lines, [2]Point{points[n-1], points[0]})
		t.areas = append(t.areas, points)
	}
}

// Arc implements Pen by a polyline.
func (t *trace) Arc(layer Layer, style Style, centre Point, radius, from, to float64) {
	const corners = 24
	points := make([]Point, 0, corners+1)
	for i := range corners + 1 {
		points = append(points, centre.Add(polar(radius, from+(to-from)*float64(i)/corners)))
	}
	t.Path(layer, style, points, to-from >= 360)
}

func (t *trace) Text(_ Layer, _ Style, s Text) {
	var b Box
	s.bounds(&b, transform{scale: 1})
	t.texts = append(t.texts, b)
}

// Placed is where lines and texts of shapes lie at a scale.
type Placed struct {
	trace
	scale float64
}

// PlacedAt finds where shapes lie at a scale.
func PlacedAt(scale float64, shapes ...Shape) Placed {
	d := Placed{scale: scale}
	for _, s := range shapes {
		s.play(&d.trace, transform{scale: scale})
	}
	return d
}

// With adds shapes to what is drawn.
func (d Placed) With(shapes ...Shape) Placed {
	more := PlacedAt(d.scale, shapes...)
	more.lines = slices.Concat(d.lines, more.lines)
	more.areas = slices.Concat(d.areas, more.areas)
	more.texts = slices.Concat(d.texts, more.texts)
	return more
}

// A Crossing says how badly a shape gets in the way of others.
type Crossing uint8

// The crossings, each worse than the one before.
const (
	Clear   Crossing = iota
	Lines            // a line meets a line
	OnLines          // a text lies on a line, or a line runs through a text
	OnTexts          // a text lies on a text
)

// Crosses tells how a shape meets what is drawn: dimensions, leaders, texts.
func (d Placed) Crosses(shape Shape) Crossing {
	const air = 0.5 // left free around texts [mm of paper]
	own, rest := PlacedAt(d.scale, shape), d
	worst := Clear
	for _, a := range own.texts {
		a = a.grown(air)
		for _, b := range rest.texts {
			if a.meets(b) {
				return OnTexts
			}
		}
		for _, l := range rest.lines {
			if a.cut(l) {
				worst = OnLines
			}
		}
	}
	for _, l := range own.lines {
		for _, b := range rest.texts {
			if b.grown(air).cut(l) {
				worst = OnLines
			}
		}
		for _, k := range rest.lines {
			if meet(l, k) {
				worst = max(worst, Lines)
			}
		}
	}
	return worst
}

// Covers tells what lies under the texts of a shape: nothing, a line or a closed area, or another text; and how many
// lines its own lines cross.
func (d Placed) Covers(shape Shape) (under Crossing, crossed int) {
	const air = 0.3 // left free around texts [mm of paper]
	own := PlacedAt(d.scale, shape)
	for _, a := range own.texts {
		a = a.grown(air)
		for _, b := range d.texts {
			if a.meets(b) {
				return OnTexts, 0
			}
		}
		for _, l := range d.lines {
			if a.cut(l) {
				under = OnLines
			}
		}
		for _, area := range d.areas {
			if inside(a.Min.Add(a.Max).Times(0.5), area) {
				under = OnLines
			}
		}
	}
	for _, l := range own.lines {
		for _, b := range d.texts {
			if b.grown(air).cut(l) {
				under = OnLines
			}
		}
		for _, k := range d.lines {
			if meet(l, k) {
				crossed++
			}
		}
	}
	return under, crossed
}

// inside reports whether a point lies in a polygon, by the even-odd rule.
func inside(p Point, polygon []Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

func (b Box) grown(by float64) Box {
	d := Point{by, by}
	return Box{b.Min.Sub(d), b.Max.Add(d), b.set}
}

func (b Box) meets(o Box) bool {
	return b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y
}

// cut reports whether a line runs through the box (Liang and Barsky's clipping).
func (b Box) cut(l [2]Point) bool {
	d := l[1].Sub(l[0])
	from, to := 0.0, 1.0
	for _, side := range [4][2]float64{{-d.X, l[0].X - b.Min.X}, {d.X, b.Max.X - l[0].X}, {-d.Y, l[0].Y - b.Min.Y}, {d.Y, b.Max.Y - l[0].Y}} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q < 0:
			return false
		case p < 0:
			from = math.Max(from, q/p)
		case p > 0:
			to = math.Min(to, q/p)
		}
	}
	return from < to
}

// meet reports whether two lines cross within both.
func meet(a, b [2]Point) bool {
	turn := func(o, p, q Point) float64 { return (p.X-o.X)*(q.Y-o.Y) - (p.Y-o.Y)*(q.X-o.X) }
	return turn(a[0], a[1], b[0])*turn(a[0], a[1], b[1]) < 0 && turn(b[0], b[1], a[0])*turn(b[0], b[1], a[1]) < 0
}
