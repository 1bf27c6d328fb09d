package chart

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"leste/render/drawing"
)

func TestLawTicksAreRoundAndInside(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      []float64
	}{{0, 10, []float64{0, 2, 4, 6, 8, 10}}, {0, 0.5, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5}}, {3, 27, []float64{5, 10, 15, 20, 25}}} {
		got := Ticks(c.low, c.high, 5)
		if len(got) != len(c.want) {
			t.Errorf("%g to %g: %v", c.low, c.high, got)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%g to %g: %v, want %v", c.low, c.high, got, c.want)
			}
		}
	}
	for _, bad := range [][2]float64{{1, 1}, {2, 1}, {math.NaN(), 1}, {0, math.Inf(1)}} {
		if got := Ticks(bad[0], bad[1], 5); got != nil {
			t.Errorf("%v: %v", bad, got)
		}
	}
}

// spots is a Pen that keeps the places of circles.
type spots struct{ at []drawing.Point }

func (s *spots) Path(drawing.Layer, drawing.Style, []drawing.Point, bool) {}
func (s *spots) Arc(_ drawing.Layer, _ drawing.Style, c drawing.Point, _, _, _ float64) {
	s.at = append(s.at, c)
}
func (s *spots) Text(drawing.Layer, drawing.Style, drawing.Text) {}

func TestLawASpotLiesWhereItsValuesSay(t *testing.T) {
	plain := func(float64) string { return "" }
	d := Curves("c", 100, 60, Axis{High: 10, Number: plain}, Axis{High: 20, Number: plain}, nil, []Spot{{At: drawing.Point{X: 5, Y: 10}}})
	var s spots
	d.Play(&s)
	want := []drawing.Point{{X: roomLeft + (100-roomLeft-roomRight)/2, Y: roomBottom + (60-roomBottom-roomTop)/2}}
	if diff := cmp.Diff(want, s.at); diff != "" {
		t.Error(diff)
	}
}

// A paper in both units had its charts in one. Source: 1 m3/h is 0.5886 cfm, 1 kPa 0.1450 psi (ISO 80000).
func TestReferenceASecondScaleStandsWhereItsValuesAre(t *testing.T) {
	number := func(v float64) string { return fmt.Sprintf("%.4g", v) }
	x := Axis{Title: "m3/h", High: 1000, Number: number, Second: &Scale{"cfm", 0.588578}}
	y := Axis{Title: "kPa", High: 40, Number: number, Second: &Scale{"psi", 0.145038}}
	steep := []Series{{Name: "system", Points: []drawing.Point{{X: 100, Y: 5}, {X: 600, Y: 39.9}}}, {Name: "blower", Points: []drawing.Point{{X: 100, Y: 30}, {X: 980, Y: 10}}}}
	d := Curves("c", 164, 74, x, y, steep, []Spot{{At: drawing.Point{X: 500, Y: 20}, Name: "here"}})
	var w words
	var s spots
	d.Play(&w)
	d.Play(&s)
	found := map[string]drawing.Text{}
	for _, text := range w.of {
		if first, twice := found[text.String]; !twice || text.Align != drawing.Right && text.At.Y < first.At.Y {
			found[text.String] = text
		}
	}
	for name, want := range map[string]float64{"300": 300 / 0.588578, "400": 400} { // above, and below
		if text := found[name]; math.Abs((text.At.X-roomLeft)/(s.at[0].X-roomLeft)-want/500) > 1e-9 {
			t.Errorf("%s stands at %v, the point of 500 m3/h at %v", name, text.At, s.at[0])
		}
	}
	if text := found["4"]; math.Abs((text.At.Y+0.6-roomBottom)/(s.at[0].Y-roomBottom)-4/0.145038/20) > 1e-9 {
		t.Errorf("4 psi stands at %v, the point of 20 kPa at %v", text.At, s.at[0])
	}
	for i, a := range w.of {
		if b := written(a); b.low.X < 0 || b.high.X > 164 || a.At.Y+0.8*small > 74 {
			t.Errorf("%q leaves the figure", a.String)
		}
		for _, b := range w.of[:i] {
			if written(a).meets(written(b)) {
				t.Errorf("%q lies on %q", a.String, b.String)
			}
		}
	}
	corner, size := area(164, 74, x, y)
	for _, name := range []string{"system", "blower", "here"} {
		if b := written(found[name]); b.high.X > corner.X+size.X || b.high.Y > corner.Y+size.Y {
			t.Errorf("%q lies on a second scale: %v", name, b)
		}
	}
	if _, ok := found["cfm"]; !ok {
		t.Error("the second scale has no title")
	}
}

// words is a Pen that keeps the lines of text.
type words struct{ of []drawing.Text }

func (w *words) Path(drawing.Layer, drawing.Style, []drawing.Point, bool)                   {}
func (w *words) Arc(drawing.Layer, drawing.Style, drawing.Point, float64, float64, float64) {}
func (w *words) Text(_ drawing.Layer, _ drawing.Style, t drawing.Text)                      { w.of = append(w.of, t) }

// The name of the operating point lay on the points of the other cases.
func TestLawTheNameOfASpotLiesOnNoOtherSpot(t *testing.T) {
	plain := func(float64) string { return "" }
	for _, right := range []float64{0.5, 0.96} {
		width, height := 100.0, 60.0
		all := []Spot{{At: drawing.Point{X: right, Y: 0.5}, Name: "operating point"}}
		for _, dx := range []float64{-0.03, 0, 0.03} {
			for _, dy := range []float64{-0.04, 0.04} {
				all = append(all, Spot{At: drawing.Point{X: right + dx, Y: 0.5 + dy}})
			}
		}
		curve := []Series{{Name: "blower", Points: []drawing.Point{{X: 0.1, Y: 0.7}, {X: right, Y: 0.5}}}}
		d := Curves("c", width, height, Axis{High: 1, Number: plain}, Axis{High: 1, Number: plain}, curve, all)
		var s spots
		var w words
		d.Play(&s)
		d.Play(&w)
		named := 0
		for _, text := range w.of {
			if text.String != "operating point" {
				continue
			}
			named++
			b := written(text)
			for _, p := range s.at {
				if b.meets(box{p.Add(drawing.Point{X: -1, Y: -1}), p.Add(drawing.Point{X: 1, Y: 1})}) {
					t.Errorf("the name at %v lies on the point at %v", text.At, p)
				}
			}
			if b.low.X < 0 || b.high.X > width {
				t.Errorf("the name leaves the figure: %v", b)
			}
		}
		if named != 1 {
			t.Errorf("named %d times", named)
		}
	}
}

func TestLawBetterBandsLieFartherLeft(t *testing.T) {
	d := Bands("b", 160, []Bar{{Likely: 0.5, Low: 0.2, High: 1.2}, {Likely: 2, Low: 1, High: math.Inf(1)}, {Likely: math.NaN()}}, "better", "limit", func(float64) string { return "" })
	var s spots
	d.Play(&s)
	if len(s.at) != 2 || s.at[0].X >= s.at[1].X || s.at[0].Y <= s.at[1].Y {
		t.Errorf("spots at %v", s.at)
	}
	for _, p := range s.at {
		if p.X < 0 || p.X > 160 {
			t.Errorf("%v lies outside", p)
		}
	}
}
