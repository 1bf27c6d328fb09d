package drawing

import "math"

// A Point is a place on the sheet or in a view [mm].
type Point struct{ X, Y float64 }

// Add returns p moved by d.
func (p Point) Add(d Point) Point { return Point{p.X + d.X, p.Y + d.Y} }

// Sub returns the vector from d to p.
func (p Point) Sub(d Point) Point { return Point{p.X - d.X, p.Y - d.Y} }

// Times returns p scaled by f.
func (p Point) Times(f float64) Point { return Point{p.X * f, p.Y * f} }

// Len returns the distance of p from zero.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// A Drawing is one sheet.
type Drawing struct {
	Name          string  // names the file and the figure
	Width, Height float64 // mm of paper
	Scale         float64 // real millimetres per millimetre of paper; 0 means 1
	Views         []View
	Paper         []Shape // border, title block, tables: mm of paper
}

// A View is a part of the sheet that shows the real world.
type View struct {
	Name   string
	Origin Point // mm of paper
	Shapes []Shape
}

// A Shape is one thing to be drawn: Line, Polyline, Circle, Arc, Hatch, Region, Text, Leader, Mark or
// Dimension.
type Shape interface {
	play(p Pen, t transform)
	bounds(b *Box, t transform)
}

// A Style overrides the look of a layer. The zero value overrides nothing.
type Style struct {
	Stroke *Colour
	Fill   *Colour  // fills closed shapes
	Pen    float64  // mm of paper; 0 keeps the layer's
	Type   LineType // "" keeps the layer's
	NoLine bool     // no outline, fill only
}

// Filled returns a style that fills without an outline.
func Filled(c Colour) Style { return Style{Fill: &c, NoLine: true} }

// Drawn returns a style with its own colour and pen width.
func Drawn(c Colour, pen float64) Style { return Style{Stroke: &c, Pen: pen} }

// transform takes a view's millimetres to the sheet: p = origin + q/scale.
type transform struct {
	origin Point
	scale  float64
}

func (t transform) at(q Point) Point {
	return Point{t.origin.X + q.X/t.scale, t.origin.Y + q.Y/t.scale}
}

func (t transform) length(l float64) float64 { return l / t.scale }

// scale returns the sheet's scale, 1 when none is set.
func (d *Drawing) scale() float64 {
	if d.Scale > 0 {
		return d.Scale
	}
	return 1
}

// A Pen draws the elements that shapes come down to, in millimetres of paper, y up.
type Pen interface {
	// Path draws a polyline; closed joins its ends. It is called with at least two points.
	Path(layer Layer, style Style, points []Point, closed bool)
	// Arc draws a circle's arc counter-clockwise from one angle to the other [deg]; 0 to 360 is a circle.
	Arc(layer Layer, style Style, centre Point, radius, from, to float64)
	// Text writes one line.
	Text(layer Layer, style Style, text Text)
}

// A DimensionPen is a Pen whose format knows dimensions as such. Parts draws the dimension's lines.
type DimensionPen interface {
	Pen
	Dimension(d PlacedDimension, parts func(Pen))
}

// A RegionPen is a Pen whose format fills areas with holes.
type RegionPen interface {
	Pen
	Region(layer Layer, fill Colour, rings [][]Point)
}

// A ViewPen is a Pen that wants to know where a view starts and ends.
type ViewPen interface {
	Pen
	BeginView(name string)
	EndView()
}

// Play draws the sheet with the pen: views in order, then the paper's own shapes.
func (d *Drawing) Play(p Pen) {
	views, named := p.(ViewPen)
	for _, v := range d.Views {
		if named {
			views.BeginView(v.Name)
		}
		for _, s := range v.Shapes {
			s.play(p, transform{v.Origin, d.scale()})
		}
		if named {
			views.EndView()
		}
	}
	for _, s := range d.Paper {
		s.play(p, transform{scale: 1})
	}
}

// A Box is an axis-parallel rectangle; the zero value holds nothing yet.
type Box struct {
	Min, Max Point
	set      bool
}

// Extend makes the box hold p.
func (b *Box) Extend(p Point) {
	if !b.set {
		*b = Box{p, p, true}
		return
	}
	b.Min = Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}
	b.Max = Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}
}

// Empty reports whether the box holds nothing.
func (b Box) Empty() bool { return !b.set }

// Size returns the box's extents.
func (b Box) Size() Point { return b.Max.Sub(b.Min) }

// Bounds returns the box of the shapes in their own millimetres, drawn at the given scale.
func Bounds(shapes []Shape, scale float64) Box {
	var b Box
	for _, s := range shapes {
		s.bounds(&b, transform{scale: scale})
	}
	b.Min, b.Max = b.Min.Times(scale), b.Max.Times(scale)
	return b
}
