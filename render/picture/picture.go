package picture

import (
	"fmt"
	"math"

	"leste/render/typeface"
)

// A Picture is a sheet with shapes on it. Lengths are in mm.
type Picture struct {
	Width, Height float64
	Title         string // what the picture shows, for readers that cannot see it
	Shapes        []Shape
}

// A Shape is an Area, a Line or a Text.
type Shape interface{ shape() }

// Point is a place on the sheet [mm].
type Point struct{ X, Y float64 }

// Colour is an opaque sRGB colour.
type Colour struct{ R, G, B uint8 }

// Hex writes the colour as SVG and HTML do.
func (c Colour) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// An Area is filled rings. Rings that share an edge leave no seam between them; a ring that runs the other
// way around inside another cuts a hole.
type Area struct {
	Rings [][]Point
	Fill  Colour
}

// A Line is an open or closed stroke.
type Line struct {
	Points []Point
	Colour Colour
	Width  float64
	Closed bool
}

// Anchor says which end of a text lies at its point.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// A Text is one line of text with its baseline at At.
type Text struct {
	At     Point
	Text   string
	Size   float64 // height of the em
	Face   typeface.Face
	Anchor Anchor
	Colour Colour
}

func (Area) shape() {}
func (Line) shape() {}
func (Text) shape() {}

// Add paints shapes on top of those already there.
func (p *Picture) Add(shapes ...Shape) { p.Shapes = append(p.Shapes, shapes...) }

// Rectangle returns a ring around a rectangle.
func Rectangle(x, y, width, height float64) []Point {
	return []Point{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}
}

// maxSide bounds the sheet: a picture larger than this is a mistake of its maker.
const maxSide = 5000 // mm

// check says why the sheet cannot be written, or nil.
func (p *Picture) check() error {
	for _, side := range []float64{p.Width, p.Height} {
		if !(side > 0 && side <= maxSide) {
			return fmt.Errorf("a picture of %g mm by %g mm cannot be written: each side must lie above 0 and be at most %d mm",
				p.Width, p.Height, maxSide)
		}
	}
	for _, s := range p.Shapes {
		for _, at := range points(s) {
			if math.IsNaN(at.X+at.Y) || math.IsInf(at.X+at.Y, 0) {
				return fmt.Errorf("a picture holds a %T at (%g, %g): places must be finite", s, at.X, at.Y)
			}
		}
	}
	return nil
}

func points(s Shape) []Point {
	switch s := s.(type) {
	case Area:
		var all []Point
		for _, ring := range s.Rings {
			all = append(all, ring...)
		}
		return all
	case Line:
		return s.Points
	case Text:
		return []Point{s.At}
	}
	return nil
}
