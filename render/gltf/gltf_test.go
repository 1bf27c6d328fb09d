package gltf

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	leste "leste"
	"leste/job"
	"leste/render/drawing"
	"leste/render/scene"
	"leste/station"
)

// tube is a body of 66 mm by 115 mm without normals of its own.
func tube() *station.Body {
	const rows, cols = 40, 48
	b := &station.Body{Width: 0.066, Depth: 0.066, Height: 0.115, Surface: &station.Surface{Rows: rows, Cols: cols}}
	for r := range rows {
		for c := range cols {
			sin, cos := math.Sincos(2 * math.Pi * (float64(c) + 0.5) / cols)
			b.Surface.Pos = append(b.Surface.Pos, station.Vec{X: 0.033 * cos, Y: 0.033 * sin, Z: 0.115 * (float64(r) + 0.5) / rows})
		}
	}
	return b
}

func literal() (station.FormatPlan, station.Scene, *leste.Map) {
	s := station.Scene{
		Name: "before the packer", Belt: true, Neighbours: []float64{-0.08, 0.08},
		Rails:     []station.Bar{{Y: 0.042, Z: 0.03, Radius: 0.006}},
		Obstacles: []job.Box{{XFrom: 0.1, XTo: 0.2, YFrom: 0.1, YTo: 0.2, ZFrom: 0, ZTo: 0.1}},
		Outlets: []station.Placed{
			{Name: "left knife", Kind: job.AirKnife, Side: "left", Middle: station.Vec{Y: 0.073, Z: 0.07}, Line: station.Vec{X: 1}, Axis: station.Vec{Y: -1}, Length: 0.3, Gap: 0.0015, Plenum: 0.041},
			{Name: "top", Kind: job.NozzleManifold, Side: "above", Middle: station.Vec{Z: 0.2}, Line: station.Vec{Y: 1}, Axis: station.Vec{Z: -1}, Length: 0.06, Bore: 0.008, Ports: []float64{-0.03, 0.03}, Plenum: 0.02},
		},
	}
	m := &leste.Map{Rows: 20, Cols: 24, Water: make([]float64, 480)}
	for i := range m.Water {
		m.Water[i] = 0.05 * float64(i) / 480
	}
	return station.FormatPlan{Body: tube(), Pitch: 0.08, Stations: []station.Scene{s}}, s, m
}

func file(t *testing.T) []byte {
	t.Helper()
	f, s, m := literal()
	out, err := Bytes(f, s, m, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Source: the glTF validator of the format's owner (npm gltf-validator). It must have nothing to say.
func TestReferenceTheValidatorFindsNothing(t *testing.T) {
	if _, err := os.Stat("validator/node_modules/gltf-validator"); err != nil {
		t.Skip("the glTF validator is not installed (npm install in render/gltf/validator)")
	}
	path := filepath.Join(t.TempDir(), "station.glb")
	if err := os.WriteFile(path, file(t), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", "validator/check.js", path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var r struct {
		NumErrors, NumWarnings, NumInfos                    int
		Messages                                            json.RawMessage
		DrawCallCount, TotalVertexCount, TotalTriangleCount int
	}
	if err := json.Unmarshal(out, &r); err != nil {
		t.Fatal(err)
	}
	if r.NumErrors+r.NumWarnings+r.NumInfos > 0 {
		t.Errorf("%d errors, %d warnings, %d remarks: %s", r.NumErrors, r.NumWarnings, r.NumInfos, r.Messages)
	}
	if r.DrawCallCount != 7 { // container, neighbour (placed twice), two outlets, belt, rails, obstacles
		t.Errorf("%d parts are drawn, want 7", r.DrawCallCount)
	}
}

// volume is the volume inside a closed skin whose triangles look outward (divergence theorem).
func volume(m mesh) float64 {
	v := 0.0
	for i := 0; i < len(m.triangles); i += 3 {
		var p [3][3]float64
		for k := range p {
			for d, x := range m.position[m.triangles[i+k]] {
				p[k][d] = float64(x)
			}
		}
		a, b, c := p[0], p[1], p[2]
		v += (a[0]*(b[1]*c[2]-b[2]*c[1]) - a[1]*(b[0]*c[2]-b[2]*c[0]) + a[2]*(b[0]*c[1]-b[1]*c[0])) / 6
	}
	return v
}

// Source: closed forms. A prism of 48 corners has n/2 sin(2 pi/n) r2 of base; the box 0.1 x 0.1 x 0.1 m3.
// Tolerance: single precision.
func TestReferenceSkinsAreClosedAndLookOutward(t *testing.T) {
	var wall, box mesh
	wall.wall(tube(), nil)
	height := 0.115 * 39 / 40 // between the centres of the first and last cells
	want := 48.0 / 2 * math.Sin(2*math.Pi/48) * 0.033 * 0.033 * height
	if got := volume(wall); math.Abs(got/want-1) > 1e-4 {
		t.Errorf("container volume %g, want %g", got, want)
	}
	box.box(job.Box{XFrom: 0.1, XTo: 0.2, YFrom: -0.3, YTo: -0.2, ZFrom: 0, ZTo: 0.1})
	if got := volume(box); math.Abs(got-1e-3) > 1e-8 {
		t.Errorf("box volume %g, want 0.001", got)
	}
	_, s, _ := literal()
	for _, p := range s.Outlets {
		for _, solid := range scene.Solids(p) {
			var m mesh
			m.solid(solid)
			if volume(m) <= 0 {
				t.Errorf("%s: a part has a volume of %g", p.Name, volume(m))
			}
		}
	}
}

func TestLawTheContainerIsColouredByItsWater(t *testing.T) {
	f, _, m := literal()
	colour := coloured(f.Body, m)
	if dry, wet := colour(0, 0), colour(39, 47); dry != drawing.Water(0) || wet == dry {
		t.Errorf("dry %v, wet %v", dry, wet)
	}
	last := -1.0
	for _, w := range []float64{0, 1e-4, 1e-3, 1e-2, 5e-2} {
		if s := share(w); s < last {
			t.Errorf("%g kg/m2 is lighter than less water", w)
		} else {
			last = s
		}
	}
	if s := share(math.NaN()); s != 0 {
		t.Errorf("an unknown amount takes the share %g", s)
	}
	if c := coloured(f.Body, &leste.Map{Rows: 3, Cols: 3})(1, 1); c != drawing.White {
		t.Errorf("a map without water gives %v", c)
	}
}

func TestLawTheFileRepeatsAndStatesItsLength(t *testing.T) {
	a := file(t)
	if !bytes.Equal(a, file(t)) {
		t.Error("two writes differ")
	}
	if n := binary.LittleEndian.Uint32(a[8:]); int(n) != len(a) {
		t.Errorf("the head says %d bytes, the file has %d", n, len(a))
	}
	empty, err := Bytes(station.FormatPlan{}, station.Scene{}, nil, Options{})
	if err != nil || len(empty)%4 != 0 {
		t.Errorf("an empty station: %d bytes, %v", len(empty), err)
	}
}

func TestLawNeighboursAreDrawnOnceAndManyModelsAreCoarser(t *testing.T) {
	f, s, m := literal()
	full := file(t)
	if n := bytes.Count(full, []byte(`"translation"`)); n != 2 {
		t.Errorf("%d neighbours are placed, want 2", n)
	}
	if n := bytes.Count(full, []byte(`{"name":"neighbour","primitives"`)); n != 1 {
		t.Errorf("the neighbour is drawn %d times", n)
	}
	coarse, err := Bytes(f, s, m, Options{Coarse: true})
	if err != nil {
		t.Fatal(err)
	}
	if 10*len(coarse) > 8*len(full) {
		t.Errorf("a coarse model takes %d bytes, a full one %d", len(coarse), len(full))
	}
}
