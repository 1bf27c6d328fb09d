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

// placed reads path data back: places from the lower left corner of a sheet 100 mm high.
func placed(t *testing.T, path string, grain float64) []drawing.Point {
	t.Helper()
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
			v = append(v, x/grain)
		}
		for len(v) > 0 {
			switch step[0] {
			case 'h':
				at.X += v[0]
				v = v[1:]
			case 'v':
				at.Y += v[0]
				v = v[1:]
			default:
				at = at.Add(drawing.Point{X: v[0], Y: v[1]})
				v = v[2:]
			}
			got = append(got, drawing.Point{X: at.X, Y: 100 - at.Y})
		}
	}
	return got
}

func TestLawAnAreaAndALineAreReadBackFromTheirSteps(t *testing.T) {
	ring := []drawing.Point{
		{X: 1, Y: 90},
		{X: 1, Y: 80.5},
		{X: 30.25, Y: 80.5},
		{X: 30.25, Y: 80.5},
		{X: 44.129, Y: 70.111},
		{X: 0.1, Y: 99.87},
		{X: 0.05, Y: 95},
		{X: 3, Y: 96},
		{X: 3.4, Y: 96.4},
		{X: 3.1, Y: 96.7},
		{X: 3.1, Y: 97.1},
		{X: 3.1, Y: 96.3},
	}
	want := slices.Delete(slices.Clone(ring), 3, 4) // a step of nothing is left out
	for name, c := range map[string]struct {
		shape drawing.Shape
		begin string
		grain float64
		end   string
	}{
		"area": {drawing.Region{Layer: drawing.Chart, Fill: drawing.Sea, Rings: [][]drawing.Point{ring}}, `<path transform="scale(0.05)" d="`, 20, "Z"},
		"line": {drawing.Polyline{Layer: drawing.Chart, Points: ring}, `<path d="`, 1, ""},
	} {
		out := string(Bytes(&drawing.Drawing{Name: "map", Width: 100, Height: 100, Paper: []drawing.Shape{c.shape}}, Options{}))
		_, rest, _ := strings.Cut(out, c.begin)
		path, _, _ := strings.Cut(rest, `"`)
		got := placed(t, path, c.grain)
		if len(got) != len(want) || strings.HasSuffix(path, "Z") != (c.end == "Z") {
			t.Fatalf("%s: %d corners, want %d: %s", name, len(got), len(want), path)
		}
		most := 0.0251
		if name == "line" {
			most = 0.000501
		}
		for i := range got { // steps do not add up their rounding
			if math.Abs(got[i].X-want[i].X) > most || math.Abs(got[i].Y-want[i].Y) > most {
				t.Errorf("%s: corner %d is at %v, want %v", name, i, got[i], want[i])
			}
		}
	}
}

func TestLawALineWithoutLengthStaysADot(t *testing.T) {
	d := &drawing.Drawing{Width: 100, Height: 100, Paper: []drawing.Shape{drawing.Polyline{Layer: drawing.Chart, Points: []drawing.Point{{X: 5, Y: 5}, {X: 5, Y: 5}}}}}
	if out := string(Bytes(d, Options{})); !strings.Contains(out, `d="M5 95v0"`) {
		t.Errorf("the dot is lost: %s", out)
	}
}
