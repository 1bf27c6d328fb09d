package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"

	"leste/render/typeface"
)

// SVG writes the picture as a standalone SVG 1.1 document, sized in mm.
func (p *Picture) SVG() ([]byte, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w, h := decimal(p.Width), decimal(p.Height)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img">`+"\n", w, h, w, h)
	fmt.Fprintf(&b, "<title>%s</title>\n", escape(p.Title))
	fmt.Fprintf(&b, `<rect width="%s" height="%s" fill="#ffffff"/>`+"\n", w, h)
	for _, s := range p.Shapes {
		writeSVG(&b, s)
	}
	b.WriteString("</svg>\n")
	return b.Bytes(), nil
}

func writeSVG(b *bytes.Buffer, s Shape) {
	switch s := s.(type) {
	case Area:
		fmt.Fprintf(b, `<path fill="%s" d="`, s.Fill.Hex())
		for _, ring := range s.Rings {
			writePath(b, ring, true)
		}
		b.WriteString("\"/>\n")
	case Line:
		fmt.Fprintf(b, `<path fill="none" stroke="%s" stroke-width="%s" stroke-linecap="round" stroke-linejoin="round" d="`,
			s.Colour.Hex(), decimal(s.Width))
		writePath(b, s.Points, s.Closed)
		b.WriteString("\"/>\n")
	case Text:
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" fill="%s" font-family="%s"`,
			decimal(s.At.X), decimal(s.At.Y), decimal(s.Size), s.Colour.Hex(), escape(typeface.Stack))
		if s.Face == typeface.Bold || s.Face == typeface.BoldItalic {
			b.WriteString(` font-weight="bold"`)
		}
		if s.Face == typeface.Italic || s.Face == typeface.BoldItalic {
			b.WriteString(` font-style="italic"`)
		}
		if anchor := [...]string{Start: "", Middle: "middle", End: "end"}[s.Anchor]; anchor != "" {
			fmt.Fprintf(b, ` text-anchor="%s"`, anchor)
		}
		fmt.Fprintf(b, ">%s</text>\n", escape(s.Text))
	}
}

// writePath writes a ring with steps relative to the last point, in hundredths that never drift: the place
// reached is kept as written.
func writePath(b *bytes.Buffer, ring []Point, closed bool) {
	x, y := 0, 0
	for i, at := range ring {
		nextX, nextY := hundredths(at.X), hundredths(at.Y)
		switch i {
		case 0:
			fmt.Fprintf(b, "M%s %s", short(nextX), short(nextY))
		default:
			separator := " "
			if i == 1 {
				separator = "l"
			}
			fmt.Fprintf(b, "%s%s %s", separator, short(nextX-x), short(nextY-y))
		}
		x, y = nextX, nextY
	}
	if closed && len(ring) > 0 {
		b.WriteByte('z')
	}
}

// hundredths rounds a length to a hundredth of a millimetre, which is finer than any printer's dot.
func hundredths(x float64) int { return int(math.Round(x * 100)) }

// short writes hundredths of a millimetre as millimetres.
func short(n int) string { return decimal(float64(n) / 100) }

// decimal writes a length to a hundredth of a millimetre without needless digits.
func decimal(x float64) string {
	s := strconv.FormatFloat(x, 'f', 2, 64)
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func escape(s string) string {
	var b bytes.Buffer
	// Writing to a buffer cannot fail, and letters that XML forbids are replaced.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
