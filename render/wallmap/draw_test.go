package wallmap

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image/png"
	"io"
	"math"
	"os"
	"testing"

	leste "leste"
	q "leste/quantity"
	"leste/render/picture"
)

var keep = flag.String("keep", "", "folder to keep the drawn pictures in, to look at them")

type stretch struct {
	zone       string
	radius, to float64 // mm at its end: radius, arc length from the end before
}

// mapOf builds a map of a body from stretches of its profile, with water made up for a picture: wet at the
// rear, a wet ring, dry on the sides.
func mapOf(start float64, stretches ...stretch) *leste.Map {
	m := &leste.Map{Cols: 96, Station: "before the packer", S: []float64{0}}
	r0, s := start, 0.0
	for _, st := range stretches {
		rows := max(1, int(math.Round(st.to/2)))
		for i := range rows {
			t := (float64(i) + 0.5) / float64(rows)
			m.Radius = append(m.Radius, max(0.5, r0+t*(st.radius-r0))*1e-3)
			m.Zone = append(m.Zone, st.zone)
			s += st.to / float64(rows) * 1e-3
			m.S = append(m.S, s)
		}
		r0 = st.radius
	}
	m.Rows = len(m.Radius)
	for row := range m.Rows {
		for col := range m.Cols {
			angle := 2 * math.Pi * (float64(col) + 0.5) / float64(m.Cols)
			rear := math.Exp(-math.Pow((angle-math.Pi)/0.25, 2)) * 40
			ring := math.Exp(-math.Pow((m.S[row]-0.045)/0.004, 2)) * 6 * (1 + 0.5*math.Cos(3*angle))
			side := 0.3 + 0.25*math.Sin(angle*2)*math.Sin(m.S[row]*90)
			m.Water = append(m.Water, (rear*(1-m.S[row]*3)+ring+side)*1e-3)
		}
	}
	return m
}

func can() *leste.Map {
	return mapOf(0, stretch{"dome", 22, 24}, stretch{"base", 24, 6}, stretch{"heel", 33, 12}, stretch{"sidewall", 33, 90},
		stretch{"shoulder", 27, 14}, stretch{"seam", 27.3, 3}, stretch{"seam", 26, 1.5}, stretch{"countersink", 22, 8}, stretch{"end", 0, 22})
}

func bottle() *leste.Map {
	return mapOf(0, stretch{"base", 29, 30}, stretch{"heel", 32.5, 10}, stretch{"sidewall", 32.5, 40}, stretch{"label panel", 32.5, 70}, stretch{"shoulder", 14, 55},
		stretch{"finish", 13.5, 5}, stretch{"neck ring", 16.5, 3}, stretch{"neck ring", 13, 3}, stretch{"tamper band", 14, 5}, stretch{"closure", 14, 13}, stretch{"closure", 0, 14})
}

func formatOf(name string, m *leste.Map) *leste.FormatResult {
	f := &leste.FormatResult{Name: name, Verdict: leste.NotMet, Case: "surge", Map: m, Container: q.Band{Likely: 412e-6, Low: 150e-6, High: 1.1e-3}}
	for i, zone := range []string{"end", "countersink", "seam", "shoulder", "sidewall", "heel", "base", "dome", "closure", "tamper band", "neck ring", "finish", "label panel"} {
		x := 1e-6 * math.Pow(1.9, float64(i))
		f.Zones = append(f.Zones, leste.ZoneResult{Name: zone, Left: q.Band{Likely: x, Low: x / 2.5, High: x * 2.5}})
	}
	return f
}

func TestLawBothFormatsAreReadable(t *testing.T) {
	for name, m := range map[string]*leste.Map{"330 mL can": can(), "500 mL bottle": bottle()} {
		p, err := Draw(&leste.Result{Job: "Can line 2: sidewall and seam before the packer"}, formatOf(name, m))
		if err != nil {
			t.Fatal(err)
		}
		svg, err := p.SVG()
		if err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(bytes.NewReader(svg))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: not well-formed XML: %v", name, err)
			}
		}
		raster, err := p.PNG(6)
		if err != nil {
			t.Fatal(err)
		}
		size, err := png.DecodeConfig(bytes.NewReader(raster))
		if err != nil || size.Width != 1500 {
			t.Errorf("%s: PNG %d dots wide (%v), want 1500", name, size.Width, err)
		}
		again, _ := p.SVG()
		if !bytes.Equal(svg, again) {
			t.Errorf("%s: the same picture gave other bytes", name)
		}
		if *keep != "" {
			write(t, *keep+"/"+name+".svg", svg)
			write(t, *keep+"/"+name+".png", raster)
		}
	}
}

func write(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The unrolled wall and the discs show areas true to scale: the painted area of one class equals the area
// of its cells.
func TestLawAreasOnTheWallAreTrue(t *testing.T) {
	m := can()
	for k := range m.Water {
		m.Water[k] = 0
		if k/m.Cols == 40 && k%m.Cols < 24 {
			m.Water[k] = 1 // a quarter of one row
		}
	}
	w, err := newWall(m)
	if err != nil {
		t.Fatal(err)
	}
	v, _ := w.arrange()
	rings := patches(v, w, newScale(10), w.lower, w.upper, 8)
	got := 0.0
	for _, r := range rings {
		got += ringArea(r)
	}
	want := (m.S[41] - m.S[40]) * (w.edge[40] + w.edge[41]) / 2 * 2 * math.Pi / 4 * v.scale * v.scale
	if math.Abs(got-want) > 1e-9*want {
		t.Errorf("painted %g mm2, want %g mm2", got, want)
	}
}

func ringArea(ring []picture.Point) float64 {
	sum := 0.0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

func TestLawScaleHasRoundStepsUpToTheTop(t *testing.T) {
	for top, want := range map[float64]float64{0.03: 0.05, 1: 1, 1.01: 2, 37: 50, 500: 500, 0: 1, math.Inf(1): 1, math.NaN(): 1} {
		s := newScale(top)
		if got := s.limits[classes-1]; got != want {
			t.Errorf("newScale(%g) ends at %v, want %v", top, got, want)
		}
		for i := 1; i < classes; i++ {
			if r := s.limits[i] / s.limits[i-1]; r < 1.999 || r > 2.501 {
				t.Errorf("newScale(%g): step from %g to %g", top, s.limits[i-1], s.limits[i])
			}
		}
	}
	s := newScale(50)
	for water, want := range map[float64]int{0: 0, math.NaN(): 0, -1: 0, 0.19: 0, 0.2: 1, 49: 7, 50: 8, 1e9: 8} {
		if got := s.class(water); got != want {
			t.Errorf("class(%g) = %d, want %d", water, got, want)
		}
	}
}

// Neighbouring colours look equally far apart and only darken, so that the map reads in grey as well.
func TestLawColoursAreEvenAndDarken(t *testing.T) {
	colours := ramp(classes + 1)
	least, most := math.Inf(1), 0.0
	for i := 1; i < len(colours); i++ {
		a, b := picture.Perceive(colours[i-1]), picture.Perceive(colours[i])
		if b.L >= a.L-0.04 {
			t.Errorf("colour %d (%s) is not clearly darker than %s", i, colours[i].Hex(), colours[i-1].Hex())
		}
		least, most = min(least, a.Distance(b)), max(most, a.Distance(b))
	}
	if most > 1.15*least { // 8-bit channels and the bends of the path leave a few per cent
		t.Errorf("steps look between %.3f and %.3f apart", least, most)
	}
}

func TestLawBrokenMapsAreRefused(t *testing.T) {
	bad := map[string]func(*leste.Map){
		"no rows":         func(m *leste.Map) { m.Rows = 0 },
		"short water":     func(m *leste.Map) { m.Water = m.Water[:5] },
		"NaN radius":      func(m *leste.Map) { m.Radius[3] = math.NaN() },
		"infinite radius": func(m *leste.Map) { m.Radius[3] = math.Inf(1) },
		"falling edges":   func(m *leste.Map) { m.S[4] = m.S[3] },
		"zone missing":    func(m *leste.Map) { m.Zone = m.Zone[1:] },
	}
	for name, spoil := range bad {
		m := can()
		spoil(m)
		if _, err := Draw(&leste.Result{}, formatOf(name, m)); err == nil {
			t.Errorf("%s: drawn, want an error", name)
		}
	}
	if _, err := Draw(&leste.Result{}, &leste.FormatResult{Name: "x"}); !errors.Is(err, ErrNoMap) {
		t.Errorf("format without a map: %v, want ErrNoMap", err)
	}
}

func TestLawNaNWaterIsDrawnDry(t *testing.T) {
	m := can()
	for k := range m.Water {
		m.Water[k] = math.NaN()
	}
	p, err := Draw(&leste.Result{}, formatOf("can", m))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.SVG(); err != nil {
		t.Fatal(err)
	}
}

// The line under the scale ran into the view of the base.
func TestMeaningOfTheColoursStaysUnderTheWall(t *testing.T) {
	p := &picture.Picture{}
	explainScale(p, 100)
	found := 0
	for _, shape := range p.Shapes {
		text, ok := shape.(picture.Text)
		if !ok || text.Size != meaningSize {
			continue
		}
		found++
		if end := text.At.X + text.Face.Width(text.Text, text.Size); end > wallRight+1e-9 {
			t.Errorf("%q ends at %.1f mm, the wall at %.1f mm", text.Text, end, wallRight)
		}
	}
	if found < 2 {
		t.Errorf("%d lines tell what the colours mean", found)
	}
}
