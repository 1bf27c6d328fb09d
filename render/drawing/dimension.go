package drawing

import (
	"math"
	"strconv"
)

// Direction is what a dimension measures.
type Direction uint8

// The directions.
const (
	Aligned    Direction = iota // the distance itself
	Horizontal                  // its part along x
	Vertical                    // its part along y
)

// A Dimension measures between two points of a view. Its line lies Offset away from them on the sheet:
// above for a positive offset of a horizontal one, to the right for a vertical one, to the left of the
// direction from A to B for an aligned one.
type Dimension struct {
	A, B      Point
	Direction Direction
	Offset    float64 // mm of paper, from the farther point
	Digits    int     // decimals of the printed figure
	Prefix    string  // e.g. "Ø"
	Suffix    string
	String    string // replaces the measured figure when set
	Size      float64
	Outside   bool // a figure that has no room is written beyond A; otherwise it stands to the right
	// Elbow, when set, leads the figure from the middle of its line to a place where it has room [mm of paper].
	Elbow Point
}

// A PlacedDimension is a dimension on the sheet [mm of paper].
type PlacedDimension struct {
	A, B     Point   // the points measured
	LineA    Point   // ends of the dimension line
	LineB    Point   //
	TextAt   Point   // middle of the text
	Turn     float64 // deg, of the measured direction
	Measured float64 // mm of the real world
	String   string
}

// Measured returns what the dimension measures, in millimetres of the real world.
func (d Dimension) Measured() float64 {
	v := d.B.Sub(d.A)
	switch d.Direction {
	case Horizontal:
		return math.Abs(v.X)
	case Vertical:
		return math.Abs(v.Y)
	}
	return v.Len()
}

func (d Dimension) text() string {
	if d.String != "" {
		return d.String
	}
	return d.Prefix + strconv.FormatFloat(d.Measured(), 'f', d.Digits, 64) + d.Suffix
}

// place finds the dimension line.
func (d Dimension) place(t transform) PlacedDimension {
	a, b := t.at(d.A), t.at(d.B)
	var u, n Point // along and across the measured direction
	switch d.Direction {
	case Horizontal:
		u, n = Point{1, 0}, Point{0, 1}
	case Vertical:
		u, n = Point{0, 1}, Point{1, 0}
	default:
		v := b.Sub(a)
		if l := v.Len(); l > 0 {
			u = v.Times(1 / l)
		} else {
			u = Point{1, 0}
		}
		n = Point{-u.Y, u.X}
	}
	dot := func(p, q Point) float64 { return p.X*q.X + p.Y*q.Y }
	level := max(dot(a, n), dot(b, n)) + d.Offset
	if d.Offset < 0 {
		level = min(dot(a, n), dot(b, n)) + d.Offset
	}
	onLine := func(p Point) Point { return u.Times(dot(p, u)).Add(n.Times(level)) }
	pd := PlacedDimension{A: a, B: b, LineA: onLine(a), LineB: onLine(b), Measured: d.Measured(), String: d.text()}
	pd.Turn = math.Atan2(u.Y, u.X) * 180 / math.Pi
	pd.TextAt = pd.LineA.Add(pd.LineB).Times(0.5).Add(d.Elbow)
	return pd
}

func (d Dimension) play(p Pen, t transform) {
	pd := d.place(t)
	parts := func(p Pen) {
		for _, s := range d.parts(pd) {
			s.play(p, transform{scale: 1})
		}
	}
	if dp, ok := p.(DimensionPen); ok {
		dp.Dimension(pd, parts)
		return
	}
	parts(p)
}

func (d Dimension) bounds(b *Box, t transform) {
	for _, s := range d.parts(d.place(t)) {
		s.bounds(b, transform{scale: 1})
	}
}

// parts are the lines, arrows and text of a placed dimension.
func (d Dimension) parts(pd PlacedDimension) []Shape {
	const gap, beyond = 0.8, 1.4 // of the extension lines
	var shapes []Shape
	for _, e := range [][2]Point{{pd.A, pd.LineA}, {pd.B, pd.LineB}} {
		v := e[1].Sub(e[0])
		if l := v.Len(); l > gap {
			v = v.Times(1 / l)
			shapes = append(shapes, Line{Layer: Dimensions, A: e[0].Add(v.Times(gap)), B: e[1].Add(v.Times(beyond))})
		}
	}
	u := pd.LineB.Sub(pd.LineA)
	long := u.Len()
	if long == 0 {
		return shapes
	}
	u = u.Times(1 / long)
	size := d.Size
	if size <= 0 {
		size = 2.5
	}
	text := Text{Layer: Dimensions, String: pd.String, Size: size, Align: Middle}
	wide := text.Width()
	const arrows = 5.5 // room that two arrows take
	if long > arrows {
		shapes = append(shapes, Line{Layer: Dimensions, A: pd.LineA, B: pd.LineB}, arrow(Dimensions, pd.LineA, u), arrow(Dimensions, pd.LineB, u.Times(-1)))
	} else { // arrows point inward from outside
		shapes = append(shapes,
			Line{Layer: Dimensions, A: pd.LineA.Sub(u.Times(5)), B: pd.LineB.Add(u.Times(5))},
			arrow(Dimensions, pd.LineA, u.Times(-1)), arrow(Dimensions, pd.LineB, u))
	}
	if d.Elbow != (Point{}) {
		return append(shapes, d.led(pd, text)...)
	}
	turn := pd.Turn
	for turn > 90+1e-9 {
		turn -= 180
	}
	for turn <= -90+1e-9 {
		turn += 180
	}
	up := Point{-math.Sin(turn * math.Pi / 180), math.Cos(turn * math.Pi / 180)}
	at := pd.TextAt.Add(up.Times(0.8))
	if wide > long-1 { // no room between the arrows: write beyond the second one
		away := 5 + wide/2 + 1
		end := pd.LineB
		if d.Outside || math.Abs(turn-pd.Turn) > 1 {
			end, away = pd.LineA, -away
		}
		at = end.Add(u.Times(away)).Add(up.Times(0.8))
		shapes = append(shapes, Line{Layer: Dimensions, A: end, B: end.Add(u.Times(away + math.Copysign(wide/2, away)))})
	}
	text.At, text.Turn = at, turn
	return append(shapes, text)
}

// led are a figure that stands at the elbow of a dimension and the line that leads to it.
func (d Dimension) led(pd PlacedDimension, text Text) []Shape {
	shelf, gap := 2.0, 0.8
	text.Align = Left
	if d.Elbow.X < 0 {
		shelf, gap, text.Align = -shelf, -gap, Right
	}
	elbow := pd.LineA.Add(pd.LineB).Times(0.5).Add(d.Elbow)
	end := elbow.Add(Point{shelf, 0})
	text.At = end.Add(Point{gap, -0.9})
	return []Shape{Polyline{Layer: Dimensions, Points: []Point{elbow.Sub(d.Elbow), elbow, end}}, text}
}
