package pdf

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"leste/render/drawing"
)

// WriteSheets writes each drawing on a page of its own paper size.
func WriteSheets(w io.Writer, title string, date time.Time, sheets ...*drawing.Drawing) error {
	if len(sheets) == 0 {
		return nil
	}
	c := newCanvas(sheets[0].Width, sheets[0].Height, about{title: title, subject: title, date: date})
	for _, d := range sheets {
		c.AddPageFormat("", fpdf.SizeType{Wd: d.Width, Ht: d.Height})
		c.Bookmark(d.Name, 0, 0)
		c.draw(d, 0, 0, 1)
	}
	return c.finish(w)
}

// draw plays a drawing with its upper left corner at x, y, enlarged by the factor.
func (c canvas) draw(d *drawing.Drawing, x, y, factor float64) {
	d.Play(&pen{canvas: c, x: x, y: y + d.Height*factor, factor: factor})
}

// pen draws on a canvas: paper millimetres from the lower left corner at x, y.
type pen struct {
	canvas
	x, y, factor float64
}

func (p *pen) at(q drawing.Point) fpdf.PointType {
	return fpdf.PointType{X: p.x + q.X*p.factor, Y: p.y - q.Y*p.factor}
}

// set chooses pen and colours and returns the letter for outline, fill or both.
func (p *pen) set(layer drawing.Layer, s drawing.Style) string {
	look := layer.Look()
	paint := ""
	if s.Fill != nil {
		p.SetFillColor(int(s.Fill.R), int(s.Fill.G), int(s.Fill.B))
		paint = "F"
	}
	if s.NoLine {
		return paint
	}
	colour, width, kind := look.Colour, look.Pen, look.Type
	if s.Stroke != nil {
		colour = *s.Stroke
	}
	if s.Pen > 0 {
		width = s.Pen
	}
	if s.Type != "" {
		kind = s.Type
	}
	p.SetDrawColor(int(colour.R), int(colour.G), int(colour.B))
	p.SetLineWidth(width * p.factor)
	dashes := append([]float64(nil), kind.Dashes()...)
	for i := range dashes {
		dashes[i] *= p.factor
	}
	p.SetDashPattern(dashes, 0)
	return paint + "D"
}

func (p *pen) Path(layer drawing.Layer, style drawing.Style, points []drawing.Point, closed bool) {
	how := p.set(layer, style)
	if how == "" {
		return
	}
	for i, q := range points {
		at := p.at(q)
		if i == 0 {
			p.MoveTo(at.X, at.Y)
		} else {
			p.LineTo(at.X, at.Y)
		}
	}
	if closed {
		p.ClosePath()
	}
	p.DrawPath(how)
}

// grain is how many steps of a region's outline a millimetre of the drawing has: finer than a printer's dot, and whole
// numbers are short.
const grain = 20

// Region fills all rings as one path by the winding rule, so that opposite rings cut holes. Maps have thousands of short
// lines, so that the path is written in grains.
func (p *pen) Region(_ drawing.Layer, fill drawing.Colour, rings [][]drawing.Point) {
	p.SetFillColor(int(fill.R), int(fill.G), int(fill.B))
	_, height := p.GetPageSize()
	scale := strconv.FormatFloat(p.factor/grain*perMM, 'f', 6, 64)
	path := fmt.Appendf(nil, "q %s 0 0 %s %.3f %.3f cm\n", scale, scale, p.x*perMM, (height-p.y)*perMM)
	for _, ring := range rings {
		lastX, lastY := 0, 0
		for i, q := range ring {
			x, y := int(math.Round(q.X*grain)), int(math.Round(q.Y*grain))
			if i > 0 && x == lastX && y == lastY {
				continue
			}
			how := " l\n"
			if i == 0 {
				how = " m\n"
			}
			path = strconv.AppendInt(path, int64(x), 10)
			path = append(path, ' ')
			path = strconv.AppendInt(path, int64(y), 10)
			path = append(path, how...)
			lastX, lastY = x, y
		}
		path = append(path, "h\n"...)
	}
	p.RawWriteBuf(bytes.NewReader(append(path, "f\nQ"...)))
}

func (p *pen) Arc(layer drawing.Layer, style drawing.Style, centre drawing.Point, r, from, to float64) {
	how := p.set(layer, style)
	if how == "" {
		return
	}
	c := p.at(centre)
	if to-from >= 360 {
		p.Circle(c.X, c.Y, r*p.factor, how)
		return
	}
	p.canvas.Arc(c.X, c.Y, r*p.factor, r*p.factor, 0, from, to, how)
}

func (p *pen) Text(layer drawing.Layer, style drawing.Style, t drawing.Text) {
	colour := layer.Look().Colour
	if style.Stroke != nil {
		colour = *style.Stroke
	}
	at := p.at(t.At)
	shift := map[drawing.Align]float64{drawing.Left: 0, drawing.Middle: -0.5, drawing.Right: -1}[t.Align] * t.Width() * p.factor
	if t.Turn == 0 {
		p.text(at.X+shift, at.Y, t.String, t.Face, t.Size*p.factor, colour)
		return
	}
	p.TransformBegin()
	p.TransformRotate(math.Mod(t.Turn, 360), at.X, at.Y)
	p.text(at.X+shift, at.Y, t.String, t.Face, t.Size*p.factor, colour)
	p.TransformEnd()
}
