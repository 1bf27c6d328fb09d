// Package svg writes drawings as SVG: true to scale in print, scalable on a screen, one group per layer
// run, the same bytes for the same drawing.
package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"leste/render/drawing"
	"leste/render/typeface"
)

// Options change how a drawing is written.
type Options struct {
	Inline bool   // as part of an HTML page: no XML head, as wide as its column and in its font
	Title  string // read aloud by screen readers; the drawing's name when empty
}

// Write writes the drawing.
func Write(w io.Writer, d *drawing.Drawing, o Options) error {
	_, err := w.Write(Bytes(d, o))
	return err
}

// Bytes returns the drawing as SVG.
func Bytes(d *drawing.Drawing, o Options) []byte {
	var b bytes.Buffer
	if !o.Inline {
		b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	}
	title := o.Title
	if title == "" {
		title = d.Name
	}
	size := fmt.Sprintf(`width="%smm" height="%smm" `, num(d.Width), num(d.Height))
	font := fmt.Sprintf(" font-family='%s'", typeface.Stack)
	if o.Inline { // the page says how wide it is and in which font
		size, font = "", ""
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" %sviewBox="0 0 %s %s" role="img"%s>`+"\n",
		size, num(d.Width), num(d.Height), font)
	fmt.Fprintf(&b, "<title>%s</title>\n", escape(title))
	p := &pen{out: &b, height: d.Height}
	d.Play(p)
	p.closeLayer()
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// pen draws with SVG elements. Shapes of one layer that follow each other share a group.
type pen struct {
	out    *bytes.Buffer
	height float64
	layer  drawing.Layer
	open   bool
}

func (p *pen) BeginView(name string) {
	p.closeLayer()
	fmt.Fprintf(p.out, `<g data-view="%s">`+"\n", escape(name))
}

func (p *pen) EndView() {
	p.closeLayer()
	p.out.WriteString("</g>\n")
}

func (p *pen) closeLayer() {
	if p.open {
		p.out.WriteString("</g>\n")
		p.open = false
	}
}

func (p *pen) enter(layer drawing.Layer) {
	if p.open && p.layer == layer {
		return
	}
	p.closeLayer()
	k := layer.Look()
	fmt.Fprintf(p.out, `<g data-layer="%s" fill="none" stroke="%s" stroke-width="%s" stroke-linejoin="round"%s>`+"\n",
		escape(string(layer)), k.Colour.Hex(), num(k.Pen), dashes(k.Type))
	p.layer, p.open = layer, true
}

func (p *pen) Path(layer drawing.Layer, style drawing.Style, points []drawing.Point, closed bool) {
	p.enter(layer)
	fmt.Fprintf(p.out, `<path d="%s"%s/>`+"\n", p.trace(points, closed), attributes(style))
}

func (p *pen) Region(layer drawing.Layer, fill drawing.Colour, rings [][]drawing.Point) {
	p.enter(layer)
	var d strings.Builder
	for _, ring := range rings {
		d.WriteString(p.outline(ring))
	}
	fmt.Fprintf(p.out, `<path transform="scale(%s)" d="%s" stroke="none" fill="%s" shape-rendering="crispEdges"/>`+"\n", num(1.0/grain), d.String(), fill.Hex())
}

// fine is how many steps of a line a millimetre has.
const fine = 1000

// trace writes points as path data.
func (p *pen) trace(points []drawing.Point, closed bool) string {
	d := steps{grain: fine}
	d.walk(points, p.height)
	if closed {
		d.out.WriteByte('Z')
	}
	return d.out.String()
}

// grain is how many steps of an outline a millimetre has: finer than a printer's dot, and whole numbers are short.
const grain = 20

// outline writes a closed ring in grains.
func (p *pen) outline(ring []drawing.Point) string {
	d := steps{grain: grain, whole: true}
	d.walk(ring, p.height)
	d.out.WriteByte('Z')
	return d.out.String()
}

// steps writes path data step by step: maps have thousands of short ones, which take fewer letters than places.
type steps struct {
	out   strings.Builder
	grain float64 // steps of a millimetre
	whole bool    // lengths are written in grains, else in millimetres
	how   byte    // the command at hand; pairs and numbers that follow it need none of their own
}

// walk goes from point to point; those on the same grain are passed over, but a lone point is kept as a dot.
func (d *steps) walk(points []drawing.Point, height float64) {
	var x, y int // grains
	moved := false
	for i, q := range points {
		atX, atY := int(math.Round(q.X*d.grain)), int(math.Round((height-q.Y)*d.grain))
		dx, dy := atX-x, atY-y
		x, y = atX, atY
		last := i == len(points)-1
		switch {
		case i == 0:
			d.put('M', dx, dy)
		case dx == 0 && dy == 0 && (moved || !last):
		case dx == 0:
			d.put('v', dy)
		case dy == 0:
			d.put('h', dx)
		default:
			d.put('l', dx, dy)
		}
		moved = moved || i > 0 && (dx != 0 || dy != 0)
	}
}

// put writes a command with its numbers; a sign parts numbers as well as a space does.
func (d *steps) put(how byte, numbers ...int) {
	same := how == d.how
	if !same {
		d.out.WriteByte(how)
		d.how = how
	}
	for i, n := range numbers {
		if text := d.number(n); (same || i > 0) && text[0] != '-' {
			d.out.WriteString(" " + text)
		} else {
			d.out.WriteString(text)
		}
	}
}

func (d *steps) number(n int) string {
	if d.whole {
		return strconv.Itoa(n)
	}
	text := num(float64(n) / d.grain)
	if rest, ok := strings.CutPrefix(text, "0."); ok {
		return "." + rest
	}
	if rest, ok := strings.CutPrefix(text, "-0."); ok {
		return "-." + rest
	}
	return text
}

func (p *pen) Arc(layer drawing.Layer, style drawing.Style, c drawing.Point, r, from, to float64) {
	p.enter(layer)
	if to-from >= 360 {
		fmt.Fprintf(p.out, `<circle cx="%s" cy="%s" r="%s"%s/>`+"\n", num(c.X), num(p.height-c.Y), num(r), attributes(style))
		return
	}
	end := func(deg float64) (string, string) {
		s, k := math.Sincos(deg * math.Pi / 180)
		return num(c.X + r*k), num(p.height - c.Y - r*s)
	}
	x0, y0 := end(from)
	x1, y1 := end(to)
	large := 0
	if to-from > 180 {
		large = 1
	}
	fmt.Fprintf(p.out, `<path d="M%s %sA%s %s 0 %d 0 %s %s"%s/>`+"\n", x0, y0, num(r), num(r), large, x1, y1, attributes(style))
}

func (p *pen) Text(layer drawing.Layer, style drawing.Style, t drawing.Text) {
	p.enter(layer)
	colour := layer.Look().Colour
	if style.Stroke != nil {
		colour = *style.Stroke
	}
	anchor := ""
	switch t.Align {
	case drawing.Middle:
		anchor = ` text-anchor="middle"`
	case drawing.Right:
		anchor = ` text-anchor="end"`
	}
	face := ""
	if t.Face == typeface.Bold || t.Face == typeface.BoldItalic {
		face += ` font-weight="700"`
	}
	if t.Face == typeface.Italic || t.Face == typeface.BoldItalic {
		face += ` font-style="italic"`
	}
	turn := ""
	x, y := num(t.At.X), num(p.height-t.At.Y)
	if t.Turn != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s %s %s)"`, num(-t.Turn), x, y)
	}
	fmt.Fprintf(p.out, `<text x="%s" y="%s" font-size="%s" fill="%s" stroke="none"%s%s%s>%s</text>`+"\n",
		x, y, num(t.Size), colour.Hex(), anchor, face, turn, escape(t.String))
}

// attributes returns what a style changes against its layer.
func attributes(s drawing.Style) string {
	out := ""
	if s.NoLine {
		out += ` stroke="none"`
	} else if s.Stroke != nil {
		out += ` stroke="` + s.Stroke.Hex() + `"`
	}
	if s.Fill != nil {
		out += ` fill="` + s.Fill.Hex() + `"`
	}
	if s.Pen > 0 {
		out += ` stroke-width="` + num(s.Pen) + `"`
	}
	if s.Type != "" {
		if out2 := dashes(s.Type); out2 != "" {
			out += out2
		} else {
			out += ` stroke-dasharray="none"`
		}
	}
	return out
}

func dashes(t drawing.LineType) string {
	lengths := t.Dashes()
	if lengths == nil {
		return ""
	}
	parts := make([]string, len(lengths))
	for i, l := range lengths {
		parts[i] = num(l)
	}
	return ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
}

// num prints a length with a thousandth of a millimetre.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

func escape(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a bytes.Buffer does not fail
	return b.String()
}
