package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
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
