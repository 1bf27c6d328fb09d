// Package dxf writes drawings as DXF R12 (AC1009), the version that every CAD program reads: real
// millimetres in model space, one layer per meaning, dimensions as dimensions.
//
// A sheet at scale 1:n is written n times its paper size, so that everything shown in a view has its true
// length; the border and the title block grow with it.
package dxf

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"leste/render/drawing"
)

// Write writes the drawing.
func Write(w io.Writer, d *drawing.Drawing) error {
	_, err := w.Write(Bytes(d))
	return err
}

// Bytes returns the drawing as DXF.
func Bytes(d *drawing.Drawing) []byte {
	scale := d.Scale
	if scale <= 0 {
		scale = 1
	}
	p := &pen{scale: scale}
	p.body = &p.entities
	d.Play(p)

	var out tags
	out.header(d, scale)
	out.tables(scale)
	out.section("BLOCKS", p.blocks.Bytes())
	out.section("ENTITIES", p.entities.Bytes())
	out.tag(0, "EOF")
	return out.Bytes()
}

// tags is a run of DXF tags: a group code and a value, each on a line.
type tags struct{ bytes.Buffer }

func (t *tags) tag(code int, value string) {
	fmt.Fprintf(t, "%3d\n%s\n", code, value)
}

func (t *tags) number(code int, v float64) { t.tag(code, num(v)) }

func (t *tags) point(code int, p drawing.Point) {
	t.number(code, p.X)
	t.number(code+10, p.Y)
	t.number(code+20, 0)
}

func (t *tags) section(name string, content []byte) {
	t.tag(0, "SECTION")
	t.tag(2, name)
	t.Write(content)
	t.tag(0, "ENDSEC")
}

func (t *tags) header(d *drawing.Drawing, scale float64) {
	var h tags
	h.tag(9, "$ACADVER")
	h.tag(1, "AC1009")
	h.tag(9, "$DWGCODEPAGE")
	h.tag(3, "ANSI_1252")
	h.tag(9, "$INSUNITS") // 4 is millimetres
	h.tag(70, "4")
	h.tag(9, "$LTSCALE")
	h.number(40, scale)
	h.tag(9, "$DIMSCALE")
	h.number(40, scale)
	h.tag(9, "$EXTMIN")
	h.point(10, drawing.Point{})
	h.tag(9, "$EXTMAX")
	h.point(10, drawing.Point{X: d.Width * scale, Y: d.Height * scale})
	t.section("HEADER", h.Bytes())
}

func (t *tags) tables(scale float64) {
	var b tags
	table := func(name string, entries []func(*tags)) {
		b.tag(0, "TABLE")
		b.tag(2, name)
		b.tag(70, strconv.Itoa(len(entries)))
		for _, e := range entries {
			e(&b)
		}
		b.tag(0, "ENDTAB")
	}
	var types []func(*tags)
	for _, lt := range []drawing.LineType{drawing.Solid, drawing.Dashed, drawing.Chain, drawing.Phantom} {
		types = append(types, func(b *tags) { lineType(b, lt) })
	}
	table("LTYPE", types)
	var layers []func(*tags)
	entry := func(name string, colour int, lt drawing.LineType) func(*tags) {
		return func(b *tags) {
			b.tag(0, "LAYER")
			b.tag(2, name)
			b.tag(70, "0")
			b.tag(62, strconv.Itoa(colour))
			b.tag(6, string(lt))
		}
	}
	layers = append(layers, entry("0", 7, drawing.Solid))
	for _, k := range drawing.Layers() {
		layers = append(layers, entry(string(k.Layer), k.Index, k.Type))
	}
	table("LAYER", layers)
	table("STYLE", []func(*tags){func(b *tags) {
		b.tag(0, "STYLE")
		b.tag(2, "STANDARD")
		b.tag(70, "0")
		b.number(40, 0)
		b.number(41, 1)
		b.number(50, 0)
		b.tag(71, "0")
		b.number(42, 2.5*scale)
		b.tag(3, "txt")
		b.tag(4, "")
	}})
	t.section("TABLES", b.Bytes())
}

func lineType(b *tags, lt drawing.LineType) {
	b.tag(0, "LTYPE")
	b.tag(2, string(lt))
	b.tag(70, "0")
	b.tag(3, "")
	b.tag(72, "65")
	dashes := lt.Dashes()
	b.tag(73, strconv.Itoa(len(dashes)))
	total := 0.0
	for _, d := range dashes {
		total += d
	}
	b.number(40, total)
	for i, d := range dashes { // dash positive, space negative
		if i%2 == 1 {
			d = -d
		}
		b.number(49, d)
	}
}

// pen writes entities; coordinates of the sheet are multiplied by its scale.
type pen struct {
	scale    float64
	body     *tags // where entities go: the drawing, or the block of a dimension
	entities tags
	blocks   tags
	count    int // dimensions so far
}

func (p *pen) real(q drawing.Point) drawing.Point { return q.Times(p.scale) }

func (p *pen) start(kind string, layer drawing.Layer, style drawing.Style) {
	p.body.tag(0, kind)
	p.body.tag(8, string(layer))
	if style.Type != "" {
		p.body.tag(6, string(style.Type))
	}
}

// Path writes a LINE, a SOLID for a filled triangle or quadrilateral, or a POLYLINE. Larger filled areas
// keep their outline only: R12 has no filled polygon.
func (p *pen) Path(layer drawing.Layer, style drawing.Style, points []drawing.Point, closed bool) {
	if style.Fill != nil && style.NoLine {
		if n := len(points); n == 3 || n == 4 {
			p.solid(layer, style, points)
		}
		return
	}
	if len(points) == 2 {
		p.start("LINE", layer, style)
		p.body.point(10, p.real(points[0]))
		p.body.point(11, p.real(points[1]))
		return
	}
	p.start("POLYLINE", layer, style)
	p.body.tag(66, "1")
	p.body.point(10, drawing.Point{})
	flag := "0"
	if closed {
		flag = "1"
	}
	p.body.tag(70, flag)
	for _, q := range points {
		p.start("VERTEX", layer, drawing.Style{})
		p.body.point(10, p.real(q))
	}
	p.start("SEQEND", layer, drawing.Style{})
}

// solid writes the corners in the order of SOLID, whose third and fourth are swapped.
func (p *pen) solid(layer drawing.Layer, style drawing.Style, points []drawing.Point) {
	corners := []drawing.Point{points[0], points[1], points[2], points[2]}
	if len(points) == 4 {
		corners = []drawing.Point{points[0], points[1], points[3], points[2]}
	}
	p.start("SOLID", layer, drawing.Style{})
	for i, q := range corners {
		p.body.point(10+i, p.real(q))
	}
}

func (p *pen) Arc(layer drawing.Layer, style drawing.Style, c drawing.Point, r, from, to float64) {
	kind := "ARC"
	if to-from >= 360 {
		kind = "CIRCLE"
	}
	p.start(kind, layer, style)
	p.body.point(10, p.real(c))
	p.body.number(40, r*p.scale)
	if kind == "ARC" {
		p.body.number(50, from)
		p.body.number(51, to)
	}
}

func (p *pen) Text(layer drawing.Layer, _ drawing.Style, t drawing.Text) {
	p.start("TEXT", layer, drawing.Style{})
	at := p.real(t.At)
	p.body.point(10, at)
	const capital = 0.72 // height of a capital over the body; DXF counts capitals
	p.body.number(40, t.Size*capital*p.scale)
	p.body.tag(1, encode(t.String))
	if t.Turn != 0 {
		p.body.number(50, t.Turn)
	}
	if t.Align != drawing.Left {
		align := "1"
		if t.Align == drawing.Right {
			align = "2"
		}
		p.body.tag(72, align)
		p.body.point(11, at)
	}
}

// Dimension writes a DIMENSION with its own block of lines, as R12 wants it.
func (p *pen) Dimension(d drawing.PlacedDimension, parts func(drawing.Pen)) {
	p.count++
	name := "*D" + strconv.Itoa(p.count)
	var content tags
	p.body = &content
	parts(blockPen{p})
	p.body = &p.entities

	b := &p.blocks
	b.tag(0, "BLOCK")
	b.tag(8, "0")
	b.tag(2, name)
	b.tag(70, "1")
	b.point(10, drawing.Point{})
	b.Write(content.Bytes())
	b.tag(0, "ENDBLK")
	b.tag(8, "0")

	p.start("DIMENSION", drawing.Dimensions, drawing.Style{})
	p.body.tag(2, name)
	p.body.point(10, p.real(d.LineB))
	p.body.point(11, p.real(d.TextAt))
	p.body.tag(70, "0") // measured along the angle of group 50
	if d.String != "" {
		p.body.tag(1, encode(d.String))
	}
	p.body.point(13, p.real(d.A))
	p.body.point(14, p.real(d.B))
	p.body.number(50, d.Turn)
}

// blockPen hides the dimension method while a dimension's own lines are written.
type blockPen struct{ *pen }

func (b blockPen) Dimension(drawing.PlacedDimension, func(drawing.Pen)) {}

// encode writes letters outside ASCII in the ways that DXF R12 has for them: signs of its own, the code
// page of the header (Windows-1252), or a numbered letter.
func encode(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == 'Ø' || r == 'ø' || r == '⌀':
			b.WriteString("%%c")
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == '\n' || r == '\r' || r == '\t':
			b.WriteByte(' ')
		case r < 0x20:
		case r < 0x7f:
			b.WriteRune(r)
		case r >= 0xa0 && r <= 0xff: // the same in the code page named in the header
			b.WriteByte(byte(r))
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

// num prints a length with a ten-thousandth of a millimetre.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 4, 64)
	s = strings.TrimRight(s, "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}
