package drawing

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// record is a Pen that keeps what it was told.
type record struct {
	paths [][]Point
	arcs  []float64 // radii
	texts []Text
}

func (r *record) Path(_ Layer, _ Style, p []Point, _ bool) { r.paths = append(r.paths, p) }
func (r *record) Arc(_ Layer, _ Style, _ Point, radius, _, _ float64) {
	r.arcs = append(r.arcs, radius)
}
func (r *record) Text(_ Layer, _ Style, t Text) { r.texts = append(r.texts, t) }

func TestLawAViewIsDrawnToScaleAboutItsOrigin(t *testing.T) {
	d := Drawing{Width: 420, Height: 297, Scale: 5, Views: []View{{
		Origin: Point{100, 50},
		Shapes: []Shape{
			Line{Outline, Point{0, 0}, Point{115, 0}, Style{}},
			Circle(Outline, Point{}, 33, Style{}),
		},
	}}, Paper: []Shape{Line{Border, Point{10, 10}, Point{410, 10}, Style{}}}}
	var r record
	d.Play(&r)
	want := [][]Point{{{100, 50}, {123, 50}}, {{10, 10}, {410, 10}}}
	if diff := cmp.Diff(want, r.paths); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]float64{6.6}, r.arcs); diff != "" {
		t.Error(diff)
	}
}

func TestLawADimensionPrintsTheRealDistanceAtAnyScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-2000, 2000)
		a := Point{coordinate.Draw(t, "ax"), coordinate.Draw(t, "ay")}
		b := Point{coordinate.Draw(t, "bx"), coordinate.Draw(t, "by")}
		scale := rapid.SampledFrom([]float64{1, 2, 5, 10, 20}).Draw(t, "scale")
		for direction, want := range map[Direction]float64{
			Horizontal: math.Abs(b.X - a.X), Vertical: math.Abs(b.Y - a.Y), Aligned: math.Hypot(b.X-a.X, b.Y-a.Y),
		} {
			d := Dimension{A: a, B: b, Direction: direction, Offset: 8, Digits: 1}
			var r record
			d.play(&r, transform{scale: scale})
			if want < 1e-6 { // below a nanometre there is nothing to draw
				continue
			}
			if got := r.texts[0].String; got != fmt.Sprintf("%.1f", want) {
				t.Fatalf("direction %d at 1:%g prints %s, want %.1f", direction, scale, got, want)
			}
			pd := d.place(transform{scale: scale})
			if got := pd.LineB.Sub(pd.LineA).Len() * scale; math.Abs(got-want) > 1e-6 {
				t.Fatalf("the dimension line is %g long, want %g", got, want)
			}
			if turn := r.texts[0].Turn; turn <= -90 || turn > 90+1e-9 {
				t.Fatalf("text turned by %g cannot be read from below or from the right", turn)
			}
		}
	})
}

func TestLawHatchLinesStayInsideAndMeasureTheArea(t *testing.T) {
	square := []Point{{0, 0}, {40, 0}, {40, 25}, {0, 25}}
	for _, angle := range []float64{0, 30, 45, 90, 135} {
		h := Hatch{Boundary: square, Angle: angle, Spacing: 0.05}
		sum := 0.0
		for _, l := range h.lines(transform{scale: 1}) {
			for _, p := range l {
				if p.X < -1e-9 || p.X > 40+1e-9 || p.Y < -1e-9 || p.Y > 25+1e-9 {
					t.Fatalf("hatch at %g deg leaves its boundary at %v", angle, p)
				}
			}
			sum += l[1].Sub(l[0]).Len() * 0.05
		}
		if math.Abs(sum-1000) > 3 { // a strip at each edge may be missed
			t.Errorf("hatch at %g deg covers %g mm2 of 1000", angle, sum)
		}
	}
}

func TestLawHatchLeavesANotchFree(t *testing.T) {
	notched := []Point{{0, 0}, {40, 0}, {40, 30}, {25, 30}, {25, 10}, {15, 10}, {15, 30}, {0, 30}}
	sum := 0.0
	for _, l := range (Hatch{Boundary: notched, Spacing: 0.05}).lines(transform{scale: 1}) {
		sum += l[1].Sub(l[0]).Len() * 0.05
	}
	if math.Abs(sum-1000) > 3 {
		t.Errorf("the hatch covers %g mm2 of 1000", sum)
	}
}

func TestLawBoundsHoldEverythingThatIsDrawn(t *testing.T) {
	shapes := []Shape{
		Line{Outline, Point{-10, 0}, Point{300, 40}, Style{}},
		Arc{Layer: Outline, Centre: Point{50, 50}, Radius: 30, From: 0, To: 90},
		Dimension{A: Point{0, 0}, B: Point{300, 0}, Direction: Horizontal, Offset: -12},
		Leader{Layer: Notes, To: Point{300, 40}, Elbow: Point{10, 8}, String: "air knife"},
	}
	box := Bounds(shapes, 5)
	d := Drawing{Scale: 5, Views: []View{{Shapes: shapes}}}
	var r record
	d.Play(&r)
	for _, path := range r.paths {
		for _, p := range path {
			p = p.Times(5)
			if p.X < box.Min.X-1e-6 || p.X > box.Max.X+1e-6 || p.Y < box.Min.Y-1e-6 || p.Y > box.Max.Y+1e-6 {
				t.Fatalf("%v lies outside %v", p, box)
			}
		}
	}
}

func TestLawWaterColoursDarkenSteadily(t *testing.T) {
	luminance := func(c Colour) float64 { // relative luminance of IEC 61966-2-1
		linear := func(v uint8) float64 {
			x := float64(v) / 255
			if x <= 0.04045 {
				return x / 12.92
			}
			return math.Pow((x+0.055)/1.055, 2.4)
		}
		return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
	}
	last := 2.0
	for i := range 101 {
		l := luminance(Water(float64(i) / 100))
		if l >= last {
			t.Fatalf("at %d %% the colour is not darker than before", i)
		}
		last = l
	}
}
