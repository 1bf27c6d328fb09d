package drawing

import (
	"leste/render/typeface"
)

// Align says which point of a line of text lies at its place.
type Align uint8

// The alignments.
const (
	Left Align = iota
	Middle
	Right
)

// A Text is one line of text with its place on the base line.
type Text struct {
	Layer  Layer
	At     Point
	String string
	Size   float64 // height of the letters' body [mm of paper]; 0 means 2.5
	Align  Align
	Turn   float64 // deg
	Face   typeface.Face
	Styled Style
}

// Width returns the width of the text [mm of paper].
func (s Text) Width() float64 { return s.Face.Width(s.String, s.Body()) }

// Body returns the size of the text.
func (s Text) Body() float64 {
	if s.Size > 0 {
		return s.Size
	}
	return 2.5
}

func (s Text) play(p Pen, t transform) {
	if s.String == "" {
		return
	}
	s.At = t.at(s.At)
	s.Size = s.Body()
	p.Text(s.Layer, s.Styled, s)
}

func (s Text) bounds(b *Box, t transform) {
	w := s.Width()
	start := map[Align]float64{Left: 0, Middle: -w / 2, Right: -w}[s.Align]
	u := polar(1, s.Turn)
	n := Point{-u.Y, u.X}
	at := t.at(s.At)
	for _, along := range []float64{start, start + w} {
		for _, up := range []float64{-0.22 * s.Body(), 0.78 * s.Body()} {
			b.Extend(at.Add(u.Times(along)).Add(n.Times(up)))
		}
	}
}

// A Leader points from a note to a place, with a small arrow at the place.
type Leader struct {
	Layer  Layer
	To     Point // the place
	Elbow  Point // offset of the note from the place [mm of paper]
	String string
	Size   float64
	Styled Style
}

func (l Leader) play(p Pen, t transform) {
	for _, s := range l.parts(t) {
		s.play(p, transform{scale: 1})
	}
}

func (l Leader) bounds(b *Box, t transform) {
	for _, s := range l.parts(t) {
		s.bounds(b, transform{scale: 1})
	}
}

// parts are the leader's shapes on the sheet.
func (l Leader) parts(t transform) []Shape {
	tip := t.at(l.To)
	elbow := tip.Add(l.Elbow)
	shelf, gap, align := 3.0, 0.8, Left
	if l.Elbow.X < 0 {
		shelf, gap, align = -3, -0.8, Right
	}
	end := elbow.Add(Point{shelf, 0})
	text := Text{Layer: l.Layer, At: end.Add(Point{gap, -0.9}), String: l.String, Size: l.Size, Align: align, Styled: l.Styled}
	shapes := []Shape{
		Polyline{Layer: l.Layer, Points: []Point{tip, elbow, end}, Styled: Style{Pen: 0.13}},
		text,
	}
	if d := elbow.Sub(tip); d.Len() > 0 {
		shapes = append(shapes, arrow(l.Layer, tip, d.Times(1/d.Len())))
	}
	return shapes
}

// arrow is a slim filled arrow head at tip, pointing against the direction dir.
func arrow(layer Layer, tip, dir Point) Shape {
	const long, half = 2.4, 0.36
	n := Point{-dir.Y, dir.X}
	back := tip.Add(dir.Times(long))
	c := layer.Look().Colour
	return Polyline{Layer: layer, Points: []Point{tip, back.Add(n.Times(half)), back.Sub(n.Times(half))}, Closed: true, Styled: Filled(c)}
}

// A Mark is a sign of fixed size on the sheet, drawn about a place of a view: a filled triangle that
// points up to it, as a datum is marked.
type Mark struct {
	Layer Layer
	At    Point
	Size  float64 // mm of paper; 0 means 2.4
}

func (m Mark) shape(t transform) Polyline {
	size := m.Size
	if size <= 0 {
		size = 2.4
	}
	at := t.at(m.At)
	half := size / 2
	return Polyline{
		Layer: m.Layer, Points: []Point{at, at.Add(Point{-half, -size * 0.87}), at.Add(Point{half, -size * 0.87})}, Closed: true,
		Styled: Filled(m.Layer.Look().Colour),
	}
}

func (m Mark) play(p Pen, t transform)    { m.shape(t).play(p, transform{scale: 1}) }
func (m Mark) bounds(b *Box, t transform) { m.shape(t).bounds(b, transform{scale: 1}) }
