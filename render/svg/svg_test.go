package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leste/render/drawing"
)

func sample() *drawing.Drawing {
	return &drawing.Drawing{
		Name: "Plan <1>", Width: 200, Height: 100, Scale: 2,
		Views: []drawing.View{{Name: "plan", Origin: drawing.Point{X: 100, Y: 50}, Shapes: []drawing.Shape{
			drawing.Circle(drawing.Containers, drawing.Point{}, 33, drawing.Style{}),
			drawing.Arc{Layer: drawing.Centre, Centre: drawing.Point{}, Radius: 40, From: 20, To: 250},
			drawing.Dimension{A: drawing.Point{X: -33}, B: drawing.Point{X: 33}, Direction: drawing.Horizontal, Offset: 25, Prefix: "Ø"},
			drawing.Hatch{Layer: drawing.Hatching, Boundary: []drawing.Point{{X: -50, Y: -40}, {X: 50, Y: -40}, {X: 0, Y: -20}}, Angle: 45},
		}}},
		Paper: []drawing.Shape{drawing.Text{Layer: drawing.Border, At: drawing.Point{X: 5, Y: 5}, String: `a < b & "c"`, Turn: 90}},
	}
}

func TestLawSVGIsWellFormedAndRepeats(t *testing.T) {
	out := Bytes(sample(), Options{})
	if !bytes.Equal(out, Bytes(sample(), Options{})) {
		t.Error("two writes of one drawing differ")
	}
	texts, elements := "", 0
	for d := xml.NewDecoder(bytes.NewReader(out)); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			elements++
		case xml.CharData:
			texts += string(tok)
		}
	}
	for _, want := range []string{`a < b & "c"`, "Ø66", "Plan <1>"} {
		if !strings.Contains(texts, want) {
			t.Errorf("the text %q is missing", want)
		}
	}
	if elements < 15 {
		t.Errorf("only %d elements", elements)
	}
}

func TestLawTheSheetHasItsPaperSize(t *testing.T) {
	if out := string(Bytes(sample(), Options{})); !strings.Contains(out, `width="200mm" height="100mm" viewBox="0 0 200 100"`) {
		t.Error("the sheet is not 200 x 100 mm")
	}
	if out := string(Bytes(sample(), Options{Inline: true})); strings.Contains(out, "mm\"") || strings.Contains(out, "<?xml") {
		t.Error("inline SVG must take the width of its column")
	}
}

func TestLawAnAreaIsReadBackFromItsSteps(t *testing.T) {
	ring := []drawing.Point{{X: 1, Y: 90}, {X: 1, Y: 80.5}, {X: 30.25, Y: 80.5}, {X: 30.25, Y: 80.5}, {X: 44.129, Y: 70.111}, {X: 0.1, Y: 99.87}, {X: 0.05, Y: 95}, {X: 3, Y: 96}}
	d := &drawing.Drawing{Name: "map", Width: 100, Height: 100, Paper: []drawing.Shape{drawing.Region{Layer: drawing.Chart, Fill: drawing.Sea, Rings: [][]drawing.Point{ring}}}}
	out := string(Bytes(d, Options{}))
	_, rest, _ := strings.Cut(out, `<path transform="scale(0.05)" d="`)
	path, _, _ := strings.Cut(rest, `"`)
	var got []drawing.Point
	var at drawing.Point
	number := regexp.MustCompile(`-?(\d+\.?\d*|\.\d+)`)
	for _, step := range regexp.MustCompile(`[Mlhv][^MlhvZ]*`).FindAllString(path, -1) {
		var v []float64
		for _, s := range number.FindAllString(step[1:], -1) {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			v = append(v, x/20)
		}
		switch step[0] {
		case 'h':
			at.X += v[0]
		case 'v':
			at.Y += v[0]
		default:
			at = at.Add(drawing.Point{X: v[0], Y: v[1]})
		}
		got = append(got, drawing.Point{X: at.X, Y: 100 - at.Y})
	}
	want := slices.Delete(slices.Clone(ring), 3, 4) // a step of nothing is left out
	if len(got) != len(want) || !strings.HasSuffix(path, "Z") {
		t.Fatalf("%d corners, want %d: %s", len(got), len(want), path)
	}
	for i := range got { // steps do not add up their rounding
		if math.Abs(got[i].X-want[i].X) > 0.0251 || math.Abs(got[i].Y-want[i].Y) > 0.0251 {
			t.Errorf("corner %d is at %v, want %v", i, got[i], want[i])
		}
	}
}
