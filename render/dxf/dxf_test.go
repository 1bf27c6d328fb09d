package dxf

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"leste/render/drawing"
)

const python = "/usr/bin/python3"

// reader prints what an independent DXF library finds in a file.
const reader = `
import json, sys, ezdxf
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
space = doc.modelspace()
first = lambda kind: [e for e in space if e.dxftype() == kind]
print(json.dumps({
  "version": doc.dxfversion,
  "errors": len(audit.errors), "fixes": len(audit.fixes),
  "units": doc.header.get("$INSUNITS", 0),
  "layers": sorted(l.dxf.name for l in doc.layers),
  "linetypes": sorted(l.dxf.name for l in doc.linetypes),
  "centre": doc.layers.get("CENTRE").dxf.linetype,
  "radii": [c.dxf.radius for c in first("CIRCLE")],
  "centres": [[c.dxf.center.x, c.dxf.center.y] for c in first("CIRCLE")],
  "measured": [d.get_measurement() for d in first("DIMENSION")],
  "blocks": [len(list(doc.blocks.get(d.dxf.geometry))) for d in first("DIMENSION")],
  "texts": [t.dxf.text for t in first("TEXT")],
  "lines": [[l.dxf.start.x, l.dxf.start.y, l.dxf.end.x, l.dxf.end.y] for l in first("LINE")],
  "closed": [bool(p.is_closed) for p in first("POLYLINE")],
  "solids": len(first("SOLID")),
}))
`

type found struct {
	Version           string
	Errors, Fixes     int
	Units             int
	Layers, Linetypes []string
	Centre            string
	Radii, Measured   []float64
	Centres, Lines    [][]float64
	Blocks            []int
	Texts             []string
	Closed            []bool
	Solids            int
}

// read has the independent library read a drawing, or skips the test where it is not installed.
func read(t *testing.T, d *drawing.Drawing) found {
	t.Helper()
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("the independent DXF reader (Debian package python3-ezdxf) is not installed")
	}
	path := filepath.Join(t.TempDir(), "sheet.dxf")
	if err := os.WriteFile(path, Bytes(d), 0o644); err != nil {
		t.Fatal(err)
	}
	var stderr bytes.Buffer
	cmd := exec.Command(python, "-c", reader, path)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the independent reader refuses the file: %v\n%s", err, stderr.String())
	}
	var f found
	if err := json.Unmarshal(out, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// Source: python3-ezdxf of Debian reads the file. Tolerance: coordinates are written with 1e-4 mm.
func TestReferenceAnIndependentReaderFindsTrueMillimetres(t *testing.T) {
	const origin = 60.0
	d := &drawing.Drawing{Name: "plan", Width: 420, Height: 297, Scale: 5, Views: []drawing.View{{
		Origin: drawing.Point{X: origin, Y: origin},
		Shapes: []drawing.Shape{
			drawing.Circle(drawing.Containers, drawing.Point{X: 10}, 33.1, drawing.Style{}),
			drawing.Line{Layer: drawing.Centre, A: drawing.Point{X: -50}, B: drawing.Point{X: 50}},
			drawing.Polyline{Layer: drawing.Outlets, Points: []drawing.Point{{X: 0, Y: 0}, {X: 80, Y: 0}, {X: 80, Y: 20}}, Closed: true},
			drawing.Dimension{A: drawing.Point{X: -23.1}, B: drawing.Point{X: 43.1}, Direction: drawing.Horizontal, Offset: 12, Digits: 1, Prefix: "Ø"},
			drawing.Dimension{A: drawing.Point{X: 0}, B: drawing.Point{Y: 115.2}, Direction: drawing.Vertical, Offset: 12, Digits: 1},
			drawing.Dimension{A: drawing.Point{}, B: drawing.Point{X: 30, Y: 40}, Offset: 8},
			drawing.Text{Layer: drawing.Notes, String: "Maßstab ±2°"},
		},
	}}}
	f := read(t, d)
	if f.Version != "AC1009" || f.Errors != 0 || f.Units != 4 {
		t.Errorf("version %s, %d errors, unit code %d; want AC1009, 0, 4", f.Version, f.Errors, f.Units)
	}
	for _, k := range drawing.Layers() {
		if !contains(f.Layers, string(k.Layer)) {
			t.Errorf("layer %s is missing in %v", k.Layer, f.Layers)
		}
	}
	if f.Centre != "CENTER" || !contains(f.Linetypes, "PHANTOM") {
		t.Errorf("line types: centre lines are %q, known %v", f.Centre, f.Linetypes)
	}
	near(t, "radius", f.Radii[0], 33.1)
	near(t, "centre x", f.Centres[0][0], 10+origin*5)
	near(t, "line length", f.Lines[0][2]-f.Lines[0][0], 100)
	for i, want := range []float64{66.2, 115.2, 50} {
		near(t, "dimension", f.Measured[i], want)
		if f.Blocks[i] < 5 {
			t.Errorf("dimension %d is drawn by %d entities only", i, f.Blocks[i])
		}
	}
	if len(f.Closed) != 1 || !f.Closed[0] {
		t.Errorf("polylines closed: %v, want one, closed", f.Closed)
	}
	if len(f.Texts) != 1 || f.Texts[0] != `Maßstab %%p2%%d` {
		t.Errorf("texts %q", f.Texts)
	}
}

func TestLawTheSameDrawingGivesTheSameBytes(t *testing.T) {
	d := &drawing.Drawing{Width: 100, Height: 100, Paper: []drawing.Shape{
		drawing.Dimension{B: drawing.Point{X: 40}, Offset: 10}, drawing.Text{String: "a\nb\x01Ω😀"},
	}}
	a, b := Bytes(d), Bytes(d)
	if !bytes.Equal(a, b) {
		t.Error("two writes differ")
	}
	if !bytes.Contains(a, []byte(`a b\U+03A9?`)) {
		t.Error("letters outside the code page are not encoded")
	}
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 2e-4 {
		t.Errorf("%s is %g, want %g", what, got, want)
	}
}
