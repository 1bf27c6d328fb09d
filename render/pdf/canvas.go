// Package pdf writes drawings and documents as PDF with embedded fonts: vectors only, the same bytes for
// the same content and date.
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"leste/render/drawing"
	"leste/render/typeface"
)

const family = "leste"

// points per millimetre.
const perMM = 72 / 25.4

// canvas is an open PDF file. Sizes are millimetres, y down from the upper edge.
type canvas struct {
	*fpdf.Fpdf
}

// about is what the file says of itself.
type about struct {
	title, subject, author, language string
	date                             time.Time
}

// newCanvas opens a file. Faces that are used are embedded as subsets of the letters used.
func newCanvas(width, height float64, a about) canvas {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: width, Ht: height}})
	f.SetCatalogSort(true) // the same bytes for the same content
	date := a.date.UTC()
	if date.IsZero() {
		date = time.Unix(0, 0).UTC() // never the clock: the same paper, the same bytes
	}
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetTitle(a.title, true)
	f.SetSubject(a.subject, true)
	f.SetAuthor(a.author, true)
	f.SetCreator("Leste", true)
	f.SetProducer("Leste", true)
	if a.language != "" {
		f.SetLang(a.language)
	}
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCellMargin(0)
	f.SetLineCapStyle("butt")
	f.SetLineJoinStyle("round")
	return canvas{f}
}

var styles = [...]string{typeface.Regular: "", typeface.Bold: "B", typeface.Italic: "I", typeface.BoldItalic: "BI"}

// text writes one line with its base line at y.
func (c canvas) text(x, y float64, s string, face typeface.Face, size float64, colour drawing.Colour) {
	if s == "" {
		return
	}
	c.AddUTF8FontFromBytes(family, styles[face], face.TTF()) // does nothing where the file has it
	c.SetFont(family, styles[face], size*perMM)
	c.SetTextColor(int(colour.R), int(colour.G), int(colour.B))
	c.Text(x, y, face.Replace(s))
}

// fill paints a rectangle.
func (c canvas) fill(x, y, w, h float64, colour drawing.Colour) {
	c.SetFillColor(int(colour.R), int(colour.G), int(colour.B))
	c.Rect(x, y, w, h, "F")
}

// rule draws a straight line.
func (c canvas) rule(x0, y0, x1, y1, pen float64, colour drawing.Colour) {
	c.SetDashPattern(nil, 0)
	c.SetLineWidth(pen)
	c.SetDrawColor(int(colour.R), int(colour.G), int(colour.B))
	c.Line(x0, y0, x1, y1)
}

// frame draws the outline of a rectangle.
func (c canvas) frame(x, y, w, h, pen float64, colour drawing.Colour) {
	c.SetDashPattern(nil, 0)
	c.SetLineWidth(pen)
	c.SetDrawColor(int(colour.R), int(colour.G), int(colour.B))
	c.Rect(x, y, w, h, "D")
}

// finish writes the file.
func (c canvas) finish(w io.Writer) error {
	var b bytes.Buffer
	if err := c.Output(&b); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}
