package pdf

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // logos
	_ "image/png"  // logos

	"codeberg.org/go-pdf/fpdf"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

// figureSize returns the factor and the height of a figure in a column.
func figureSize(f document.Figure, column float64) (factor, height float64) {
	if f.Drawing == nil || f.Drawing.Width <= 0 {
		return 1, 0
	}
	factor = min(1, column/f.Drawing.Width, (bottom-top-14)/f.Drawing.Height)
	return factor, f.Drawing.Height * factor
}

// figure places a drawing with its caption, both on one page.
func (l *layout) figure(f document.Figure) {
	l.y += 1.5
	h := l.figureHeight(f, width)
	l.withClosing(h, 0)
	l.placeFigure(f, left, l.y, width)
	l.y += h
}

// figurePair places two narrow figures side by side.
func (l *layout) figurePair(a, b document.Figure) {
	const gutter = 6.0
	column := (width - gutter) / 2
	l.y += 1.5
	h := max(l.figureHeight(a, column), l.figureHeight(b, column))
	l.need(h)
	l.placeFigure(a, left, l.y, column)
	l.placeFigure(b, left+column+gutter, l.y, column)
	l.y += h
}

func (l *layout) captionLines(label, caption string, w float64) []string {
	return typeface.Regular.Wrap(caption, smallSize, w-typeface.Bold.Width(label+"  ", smallSize))
}

func (l *layout) figureHeight(f document.Figure, column float64) float64 {
	_, h := figureSize(f, column)
	label := fmt.Sprintf("%s %d", l.doc.Labels.Figure, l.figures+2)
	return h + 1.6 + float64(len(l.captionLines(label, f.Caption, column)))*smallLead + 4
}

func (l *layout) placeFigure(f document.Figure, x, y, column float64) {
	factor, h := figureSize(f, column)
	if f.Drawing != nil {
		l.draw(func(c canvas) { c.draw(f.Drawing, x, y, factor) })
		l.note(f.Drawing)
	}
	l.figures++
	l.caption(fmt.Sprintf("%s %d", l.doc.Labels.Figure, l.figures), f.Caption, x, y+h+1.6, column)
}

// caption sets a bold label with the words of a caption and returns its height.
func (l *layout) caption(label, caption string, x, y, column float64) float64 {
	l.text(x, y+ascent(smallSize, smallLead), label, typeface.Bold, smallSize, drawing.Sea)
	indent := typeface.Bold.Width(label+"  ", smallSize)
	return l.lines(x+indent, y, l.captionLines(label, caption, column), typeface.Regular, smallSize, smallLead, drawing.Slate)
}

// note collects the letters of a drawing that the fonts lack.
func (l *layout) note(d *drawing.Drawing) { d.Play(letters{l}) }

// letters is a Pen that only reads texts.
type letters struct{ l *layout }

func (letters) Path(drawing.Layer, drawing.Style, []drawing.Point, bool)                   {}
func (letters) Arc(drawing.Layer, drawing.Style, drawing.Point, float64, float64, float64) {}
func (p letters) Text(_ drawing.Layer, _ drawing.Style, t drawing.Text) {
	p.l.lacks(t.Face, t.String)
}

// picture is the logo of the letterhead.
type picture struct {
	data          []byte
	width, height float64 // pixels
	kind          string
}

// read reports whether the picture can be drawn.
func (p *picture) read() bool {
	if len(p.data) == 0 {
		return false
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(p.data))
	if err != nil || c.Width <= 0 || c.Height <= 0 || (kind != "png" && kind != "jpeg") {
		return false
	}
	p.width, p.height = float64(c.Width), float64(c.Height)
	p.kind = map[string]string{"png": "PNG", "jpeg": "JPG"}[kind]
	return true
}

func (p *picture) register(c canvas) {
	if p.read() {
		c.RegisterImageOptionsReader("logo", fpdf.ImageOptions{ImageType: p.kind}, bytes.NewReader(p.data))
	}
}

// place draws the picture inside a box, at its upper left corner, and returns its width.
func (p *picture) place(l *layout, x, y, w, h float64) float64 {
	if !p.read() {
		return 0
	}
	factor := min(w/p.width, h/p.height)
	pw, ph := p.width*factor, p.height*factor
	l.draw(func(c canvas) {
		c.ImageOptions("logo", x, y, pw, ph, false, fpdf.ImageOptions{ImageType: p.kind}, 0, "")
	})
	return pw
}
