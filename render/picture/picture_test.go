package picture

import (
	"bytes"
	"image/png"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"leste/render/typeface"
)

func pixel(t *testing.T, p *Picture, dots float64, x, y int) Colour {
	t.Helper()
	b, err := p.PNG(dots)
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	r, g, bl, _ := m.At(x, y).RGBA()
	return Colour{uint8(r >> 8), uint8(g >> 8), uint8(bl >> 8)}
}

// Rings that share an edge in the middle of a dot leave no seam.
func TestLawSharedEdgesLeaveNoSeam(t *testing.T) {
	black := Colour{}
	p := &Picture{Width: 10, Height: 10}
	p.Add(Area{Rings: [][]Point{Rectangle(1, 1, 4.43, 8), Rectangle(5.43, 1, 3.57, 8)}, Fill: black})
	for x := 2; x < 8; x++ {
		if got := pixel(t, p, 1, x, 5); got != black {
			t.Errorf("dot %d is %s, want black", x, got.Hex())
		}
	}
}

func TestLawARingTheOtherWayIsAHole(t *testing.T) {
	p := &Picture{Width: 10, Height: 10}
	hole := Rectangle(3, 3, 4, 4)
	hole[1], hole[3] = hole[3], hole[1]
	p.Add(Area{Rings: [][]Point{Rectangle(1, 1, 8, 8), hole}, Fill: Colour{}})
	if got := pixel(t, p, 2, 10, 10); got != (Colour{255, 255, 255}) {
		t.Errorf("inside the hole %s, want white", got.Hex())
	}
	if got := pixel(t, p, 2, 4, 4); got != (Colour{}) {
		t.Errorf("outside the hole %s, want black", got.Hex())
	}
}

func TestLawTextAndLinesArePainted(t *testing.T) {
	p := &Picture{Width: 20, Height: 10, Title: `a <b> & "c"`}
	p.Add(
		Line{Points: []Point{{0, 5}, {20, 5}}, Width: 2, Colour: Colour{R: 200}},
		Text{At: Point{10, 4}, Text: "H", Size: 3, Anchor: Middle, Face: typeface.Bold, Colour: Colour{B: 200}},
	)
	if got := pixel(t, p, 4, 40, 20); got != (Colour{R: 200}) {
		t.Errorf("on the line %s", got.Hex())
	}
	svg, err := p.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"&lt;b&gt; &amp;", `stroke-width="2"`, `text-anchor="middle"`, `font-weight="bold"`, `viewBox="0 0 20 10"`} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("the SVG lacks %q:\n%s", want, svg)
		}
	}
}

func TestLawImpossibleSheetsAreRefused(t *testing.T) {
	nan := math.NaN()
	for _, p := range []*Picture{
		{},
		{Width: -1, Height: 1},
		{Width: nan, Height: 1},
		{Width: 1e9, Height: 1},
		{Width: 1, Height: 1, Shapes: []Shape{Line{Points: []Point{{nan, 0}}}}},
		{Width: 1, Height: 1, Shapes: []Shape{Area{Rings: [][]Point{{{math.Inf(1), 0}}}}}},
		{Width: 1, Height: 1, Shapes: []Shape{Text{At: Point{0, nan}}}},
	} {
		if _, err := p.SVG(); err == nil {
			t.Errorf("%+v was written", p)
		}
	}
	if _, err := (&Picture{Width: 1, Height: 1}).PNG(math.NaN()); err == nil {
		t.Error("a resolution that is no number was used")
	}
}

func TestLawColoursGoThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Colour{rapid.Byte().Draw(t, "r"), rapid.Byte().Draw(t, "g"), rapid.Byte().Draw(t, "b")}
		if got := Perceive(c).Colour(); got != c {
			t.Errorf("%s came back as %s", c.Hex(), got.Hex())
		}
	})
}

// Lightness of the primaries in OKLab, from the table of the publication (rounded to three digits there).
func TestReferenceOklab(t *testing.T) {
	for c, want := range map[Colour]Perceived{
		{255, 255, 255}: {1, 0, 0},
		{255, 0, 0}:     {0.628, 0.225, 0.126},
		{0, 255, 0}:     {0.866, -0.234, 0.179},
		{0, 0, 255}:     {0.452, -0.032, -0.312},
	} {
		if d := Perceive(c).Distance(want); d > 1e-3 {
			t.Errorf("%s is perceived %.4f away from %v", c.Hex(), d, want)
		}
	}
}

func TestLawDecimalsAreShort(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1: "1", 1.5: "1.5", -0.001: "0", 12.345: "12.35", 100: "100", -2.5: "-2.5"} {
		if got := decimal(x); got != want {
			t.Errorf("decimal(%g) = %q, want %q", x, got, want)
		}
	}
}
