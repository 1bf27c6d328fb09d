package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"leste/render/typeface"
)

// PNG writes the picture with the given number of dots per millimetre; 8 is about 200 dots per inch.
func (p *Picture) PNG(dotsPerMM float64) ([]byte, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if !(dotsPerMM >= 1 && dotsPerMM <= 40) {
		return nil, fmt.Errorf("%g dots per mm is not a useful resolution: it must lie between 1 and 40", dotsPerMM)
	}
	c := canvas{scale: dotsPerMM, faces: map[faceSize]font.Face{}}
	c.image = image.NewRGBA(image.Rect(0, 0, int(math.Ceil(p.Width*c.scale)), int(math.Ceil(p.Height*c.scale))))
	draw.Draw(c.image, c.image.Bounds(), image.White, image.Point{}, draw.Src)
	for _, s := range p.Shapes {
		if err := c.paint(s); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, c.image); err != nil {
		return nil, fmt.Errorf("the picture cannot be written as PNG: %w", err)
	}
	return b.Bytes(), nil
}

type faceSize struct {
	face typeface.Face
	size float64
}

type canvas struct {
	image *image.RGBA
	scale float64
	faces map[faceSize]font.Face
}

func (c *canvas) paint(s Shape) error {
	switch s := s.(type) {
	case Area:
		c.fill(s.Rings, s.Fill)
	case Line:
		c.stroke(s)
	case Text:
		return c.write(s)
	}
	return nil
}

// fill paints all rings in one go, so that shared edges cancel and leave no seam. Only the rectangle around
// the rings is rastered.
func (c *canvas) fill(rings [][]Point, colour Colour) {
	box := c.around(rings)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for _, ring := range rings {
		for i, at := range ring {
			x, y := float32(at.X*c.scale-float64(box.Min.X)), float32(at.Y*c.scale-float64(box.Min.Y))
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	r.Draw(c.image, box, image.NewUniform(rgba(colour)), image.Point{})
}

// around returns the dots that the rings touch, cut to the sheet.
func (c *canvas) around(rings [][]Point) image.Rectangle {
	least, most := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, ring := range rings {
		for _, at := range ring {
			least = Point{min(least.X, at.X), min(least.Y, at.Y)}
			most = Point{max(most.X, at.X), max(most.Y, at.Y)}
		}
	}
	if least.X > most.X {
		return image.Rectangle{}
	}
	sheet := c.image.Bounds()
	dot := func(x float64, limit int) int { return int(min(max(x*c.scale, 0), float64(limit))) }
	return image.Rect(dot(least.X, sheet.Dx()), dot(least.Y, sheet.Dy()),
		dot(most.X, sheet.Dx())+1, dot(most.Y, sheet.Dy())+1).Intersect(sheet)
}

// stroke paints a line as one quadrilateral for each of its pieces, lengthened by half the width so that
// corners close.
func (c *canvas) stroke(l Line) {
	n := len(l.Points)
	last := n - 1
	if l.Closed {
		last = n
	}
	half := l.Width / 2
	for i := range last {
		a, b := l.Points[i], l.Points[(i+1)%n]
		dx, dy := b.X-a.X, b.Y-a.Y
		length := math.Hypot(dx, dy)
		if length == 0 {
			continue
		}
		dx, dy = dx/length*half, dy/length*half
		c.fill([][]Point{{
			{a.X - dx - dy, a.Y - dy + dx},
			{b.X + dx - dy, b.Y + dy + dx},
			{b.X + dx + dy, b.Y + dy - dx},
			{a.X - dx + dy, a.Y - dy - dx},
		}}, l.Colour)
	}
}

func (c *canvas) write(t Text) error {
	face, err := c.face(t.Face, t.Size)
	if err != nil {
		return err
	}
	text := t.Face.Replace(t.Text)
	d := font.Drawer{Dst: c.image, Src: image.NewUniform(rgba(t.Colour)), Face: face}
	shift := [...]float64{Start: 0, Middle: 0.5, End: 1}[t.Anchor]
	x := t.At.X*c.scale - shift*float64(d.MeasureString(text))/64
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(math.Round(x * 64)), Y: fixed.Int26_6(math.Round(t.At.Y * c.scale * 64))}
	d.DrawString(text)
	return nil
}

func (c *canvas) face(f typeface.Face, size float64) (font.Face, error) {
	key := faceSize{f, size}
	if face, ok := c.faces[key]; ok {
		return face, nil
	}
	parsed, err := opentype.Parse(f.TTF())
	if err != nil {
		return nil, fmt.Errorf("the font of the picture cannot be read: %w", err)
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size * c.scale, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, fmt.Errorf("a font of %g mm cannot be made: %w", size, err)
	}
	c.faces[key] = face
	return face, nil
}

func rgba(c Colour) color.RGBA { return color.RGBA{c.R, c.G, c.B, 0xff} }
