package drawing

import "math"

// A Line is a straight line.
type Line struct {
	Layer  Layer
	A, B   Point
	Styled Style
}

func (l Line) play(p Pen, t transform) {
	p.Path(l.Layer, l.Styled, []Point{t.at(l.A), t.at(l.B)}, false)
}

func (l Line) bounds(b *Box, t transform) { b.Extend(t.at(l.A)); b.Extend(t.at(l.B)) }

// A Polyline joins points by straight lines.
type Polyline struct {
	Layer  Layer
	Points []Point
	Closed bool
	Styled Style
}

func (l Polyline) play(p Pen, t transform) {
	if len(l.Points) < 2 {
		return
	}
	points := make([]Point, len(l.Points))
	for i, q := range l.Points {
		points[i] = t.at(q)
	}
	p.Path(l.Layer, l.Styled, points, l.Closed)
}

func (l Polyline) bounds(b *Box, t transform) {
	for _, q := range l.Points {
		b.Extend(t.at(q))
	}
}

// Rect returns the rectangle between two corners.
func Rect(layer Layer, a, c Point, style Style) Polyline {
	return Polyline{Layer: layer, Points: []Point{a, {c.X, a.Y}, c, {a.X, c.Y}}, Closed: true, Styled: style}
}

// An Arc is a circle's arc, counter-clockwise from From to To [deg]; 0 to 360 is the circle.
type Arc struct {
	Layer    Layer
	Centre   Point
	Radius   float64
	From, To float64
	Styled   Style
}

// Circle returns a whole circle.
func Circle(layer Layer, centre Point, radius float64, style Style) Arc {
	return Arc{Layer: layer, Centre: centre, Radius: radius, From: 0, To: 360, Styled: style}
}

func (a Arc) play(p Pen, t transform) {
	if a.Radius > 0 {
		p.Arc(a.Layer, a.Styled, t.at(a.Centre), t.length(a.Radius), a.From, a.To)
	}
}

func (a Arc) bounds(b *Box, t transform) {
	c, r := t.at(a.Centre), t.length(a.Radius)
	if a.To-a.From >= 360 {
		b.Extend(c.Add(Point{-r, -r}))
		b.Extend(c.Add(Point{r, r}))
		return
	}
	for i := range 33 {
		b.Extend(c.Add(polar(r, a.From+(a.To-a.From)*float64(i)/32)))
	}
}

// polar returns the point at a distance and an angle [deg].
func polar(r, deg float64) Point {
	s, c := math.Sincos(deg * math.Pi / 180)
	return Point{r * c, r * s}
}

// A Hatch fills a closed boundary with parallel lines.
type Hatch struct {
	Layer    Layer
	Boundary []Point
	Angle    float64 // deg
	Spacing  float64 // mm of paper; 0 means 1.5
	Styled   Style
}

func (h Hatch) play(p Pen, t transform) {
	for _, l := range h.lines(t) {
		p.Path(h.Layer, h.Styled, l, false)
	}
}

func (h Hatch) bounds(b *Box, t transform) {
	Polyline{Points: h.Boundary}.bounds(b, t)
}

// lines cuts the boundary with parallel lines on the sheet, by the even-odd rule.
func (h Hatch) lines(t transform) [][]Point {
	if len(h.Boundary) < 3 {
		return nil
	}
	spacing := h.Spacing
	if spacing <= 0 {
		spacing = 1.5
	}
	u := polar(1, h.Angle)
	n := Point{-u.Y, u.X}
	along := func(q Point) float64 { return q.X*u.X + q.Y*u.Y }
	across := func(q Point) float64 { return q.X*n.X + q.Y*n.Y }
	edge := make([]Point, len(h.Boundary))
	low, high := math.Inf(1), math.Inf(-1)
	for i, q := range h.Boundary {
		edge[i] = t.at(q)
		low, high = min(low, across(edge[i])), max(high, across(edge[i]))
	}
	const most = 4000 // lines; more is a mistake in the spacing, not a hatch
	if (high-low)/spacing > most {
		return nil
	}
	var out [][]Point
	for c := (math.Floor(low/spacing) + 0.5) * spacing; c < high; c += spacing {
		cuts := crossings(edge, c, along, across)
		for i := 0; i+1 < len(cuts); i += 2 {
			out = append(out, []Point{u.Times(cuts[i]).Add(n.Times(c)), u.Times(cuts[i+1]).Add(n.Times(c))})
		}
	}
	return out
}

// crossings returns, in order, where the line across = c meets the closed polygon.
func crossings(edge []Point, c float64, along, across func(Point) float64) []float64 {
	var cuts []float64
	for i, a := range edge {
		b := edge[(i+1)%len(edge)]
		ca, cb := across(a)-c, across(b)-c
		if (ca <= 0) == (cb <= 0) {
			continue
		}
		f := ca / (ca - cb)
		cuts = append(cuts, along(a)+f*(along(b)-along(a)))
	}
	for i := 1; i < len(cuts); i++ { // few cuts: insertion keeps it simple
		for j := i; j > 0 && cuts[j] < cuts[j-1]; j-- {
			cuts[j], cuts[j-1] = cuts[j-1], cuts[j]
		}
	}
	return cuts
}

// A Region is an area of several rings filled with one colour; a ring that runs the other way around inside
// another cuts a hole.
type Region struct {
	Layer Layer
	Rings [][]Point
	Fill  Colour
}

func (r Region) play(p Pen, t transform) {
	rings := make([][]Point, 0, len(r.Rings))
	for _, ring := range r.Rings {
		if len(ring) < 3 {
			continue
		}
		out := make([]Point, len(ring))
		for i, q := range ring {
			out[i] = t.at(q)
		}
		rings = append(rings, out)
	}
	if len(rings) == 0 {
		return
	}
	if rp, ok := p.(RegionPen); ok {
		rp.Region(r.Layer, r.Fill, rings)
		return
	}
	for _, ring := range rings {
		p.Path(r.Layer, Filled(r.Fill), ring, true)
	}
}

func (r Region) bounds(b *Box, t transform) {
	for _, ring := range r.Rings {
		Polyline{Points: ring}.bounds(b, t)
	}
}
