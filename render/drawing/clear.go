package drawing

import "math"

// trace is a Pen that keeps where lines and texts lie on the sheet.
type trace struct {
	lines [][2]Point
	texts []Box
}

func (t *trace) Path(_ Layer, _ Style, points []Point, closed bool) {
	for i := 1; i < len(points); i++ {
		t.lines = append(t.lines, [2]Point{points[i-1], points[i]})
	}
	if n := len(points); closed && n > 2 {
		t.lines = append(t.lines, [2]Point{points[n-1], points[0]})
	}
}

func (*trace) Arc(Layer, Style, Point, float64, float64, float64) {}

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
