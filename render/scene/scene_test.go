package scene

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"leste/render/drawing"
	"leste/render/typeface"
	"leste/station"
)

// reader is a Pen that keeps what a sheet says and how far it reaches.
type reader struct {
	texts    []drawing.Text
	measured []float64
	box      drawing.Box
	layers   map[drawing.Layer]int
}

func (r *reader) Path(layer drawing.Layer, _ drawing.Style, points []drawing.Point, _ bool) {
	r.layers[layer]++
	for _, p := range points {
		r.box.Extend(p)
	}
}

func (r *reader) Arc(layer drawing.Layer, _ drawing.Style, c drawing.Point, radius, _, _ float64) {
	r.layers[layer]++
}

func (r *reader) Text(_ drawing.Layer, _ drawing.Style, t drawing.Text) { r.texts = append(r.texts, t) }

func (r *reader) Dimension(d drawing.PlacedDimension, parts func(drawing.Pen)) {
	r.measured = append(r.measured, d.Measured)
	parts(r)
}

func read(d *drawing.Drawing) *reader {
	r := &reader{layers: map[drawing.Layer]int{}}
	d.Play(r)
	return r
}

func TestLawTheSheetShowsTheKeyDimensions(t *testing.T) {
	for _, travel := range []string{"left to right", "right to left"} {
		j, plan := literal(travel)
		r := read(Sheets(j, plan, options())[0].Drawing)
		for what, want := range map[string]float64{
			"pitch": 80, "container height": 115, "container diameter": 66, "between the lips": 146, "lip from the axis": 73,
			"outlet above the belt": 68, "stand-off": 40, "rail above the belt": 30, "manifold from the datum": 120, "manifold above the belt": 200,
		} {
			found := false
			for _, m := range r.measured {
				found = found || math.Abs(m-want) < 0.6 // a stand-off that leans out of the view is shortened
			}
			if !found {
				t.Errorf("travel %s: the %s of %g mm is not dimensioned: %.1f", travel, what, want, r.measured)
			}
		}
		for _, layer := range []drawing.Layer{drawing.Outlets, drawing.Air, drawing.Containers, drawing.Neighbours, drawing.Conveyor, drawing.Centre, drawing.Datum, drawing.Border} {
			if r.layers[layer] == 0 {
				t.Errorf("nothing is drawn on %s", layer)
			}
		}
	}
}

func TestLawEverythingStaysInsideTheBorder(t *testing.T) {
	long := strings.Repeat("Donaudampfschiff", 8)
	for name, scale := range map[string]float64{"can": 1, "large": 6, "small": 0.3} {
		j, plan := literal("left to right")
		f := &plan.Formats[0]
		f.Format.Name, f.Stations[0].Name, j.Name = long, long, long
		for i, p := range f.Body.Surface.Pos {
			f.Body.Surface.Pos[i] = times(p, scale)
		}
		f.Body.Height, f.Body.Width, f.Body.Depth = f.Body.Height*scale, f.Body.Width*scale, f.Body.Depth*scale
		for i := range f.Stations[0].Outlets {
			o := &f.Stations[0].Outlets[i]
			o.Middle, o.Length, o.StandOff = times(o.Middle, scale), o.Length*scale, o.StandOff*scale
			o.Name = long
		}
		r := read(Sheets(j, plan, options())[0].Drawing)
		if r.box.Min.X < borderLeft-5.1 || r.box.Max.X > sheetWidth-border+5.1 || r.box.Min.Y < border-5.1 || r.box.Max.Y > sheetHeight-border+5.1 {
			t.Errorf("%s: lines reach %v", name, r.box)
		}
		for _, s := range r.texts {
			if end := s.At.X + s.Width(); s.Turn == 0 && s.Align == drawing.Left && end > sheetWidth-border {
				t.Errorf("%s: %q reaches %.0f mm", name, s.String, end)
			}
		}
	}
}

func TestLawTheScaleIsTheLargestThatFits(t *testing.T) {
	j, plan := literal("left to right")
	d := Sheets(j, plan, options())[0].Drawing
	if d.Scale != 5 {
		t.Errorf("the can station is drawn at 1:%g, want 1:5", d.Scale)
	}
	if text := all(read(d)); !strings.Contains(text, "1:5") || !strings.Contains(text, "Can line 2") {
		t.Errorf("the title block says %s", text)
	}
}

func all(r *reader) string {
	var b strings.Builder
	for _, t := range r.texts {
		b.WriteString(t.String + "\n")
	}
	return b.String()
}

func TestLawClearanceIsTheShortestWayToTheWall(t *testing.T) {
	body := can()
	for _, gap := range []float64{5, 20, 40, 80} {
		p := knife("k", "left", 0, 0, 33+gap)
		p.StandOff = math.NaN()
		// Half a cell is 1 mm high and 1.4 mm around: the nearest cell's centre lies off by less.
		if got, most := Clearance(p, body)*1e3, math.Sqrt(gap*gap+1+1.44*1.44)+0.15; got < gap-0.01 || got > most {
			t.Errorf("clearance %.2f mm at a stand-off of %g mm, want at most %.2f", got, gap, most)
		}
	}
	free := func(tilt float64) station.Placed {
		p := knife("k", "left", tilt, 0, 100)
		p.StandOff = math.NaN()
		return p
	}
	far := Clearance(free(0), body)
	for _, tilt := range []float64{10, 40} { // level or tilted, the middle stays nearest to a straight wall
		if got := Clearance(free(tilt), body); math.Abs(got-far) > 1e-4 {
			t.Errorf("tilt %g changes the clearance from %.4f to %.4f", tilt, far, got)
		}
	}
	near := free(0) // the cells' centres lie a little farther off than the wall that the air meets
	near.StandOff = far - 1e-4
	if got := Clearance(near, body); got != near.StandOff {
		t.Errorf("the clearance is %.5f, the stand-off %.5f: nothing is farther than the way of the air", got, near.StandOff)
	}
	if !math.IsNaN(Clearance(knife("k", "left", 0, 0, 100), nil)) {
		t.Error("without a container there is no clearance")
	}
}

func TestLawTiltIsThatOfTheJob(t *testing.T) {
	for _, tilt := range []float64{-30, 0, 22, 60} {
		for _, side := range []string{"left", "right"} {
			p := knife("k", side, tilt, 10, 70)
			for range 2 {
				if got := degrees(Tilt(p)); got != tilt {
					t.Errorf("tilt %g reads %g", tilt, got)
				}
				p.Line = times(p.Line, -1) // the sense of the line does not matter
			}
		}
	}
}

func TestLawTheHullHoldsItsPointsAndTurnsLeft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "n")
		points := make([]drawing.Point, n)
		for i := range points {
			points[i] = drawing.Point{X: float64(rapid.IntRange(-20, 20).Draw(t, "x")), Y: float64(rapid.IntRange(-20, 20).Draw(t, "y"))}
		}
		h := hull(points)
		if len(h) < 3 {
			return // all on one line
		}
		for i, a := range h {
			b := h[(i+1)%len(h)]
			for _, p := range points {
				if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) < -1e-6 {
					t.Fatalf("%v lies outside the edge from %v to %v", p, a, b)
				}
			}
		}
	})
}

func TestLawFiguresKeepToTheirSize(t *testing.T) {
	j, plan := literal("left to right")
	s := Subject{Job: j, Format: plan.Formats[0], Scene: plan.Formats[0].Stations[0], Words: options().Words}
	for _, v := range []View{Plan, Along, Across} {
		d := s.Figure(v, 160, 90, true)
		if d.Width > 164.1 || d.Height > 94.1 {
			t.Errorf("view %d is %.0f x %.0f mm", v, d.Width, d.Height)
		}
		for _, text := range read(d).texts {
			if w := text.At.X; w < -0.1 || w > d.Width+0.1 {
				t.Errorf("view %d: %q at %.1f of %.1f mm", v, text.String, w, d.Width)
			}
			if missing := typeface.Regular.Missing(text.String); len(missing) > 0 {
				t.Errorf("letters %q cannot be set", string(missing))
			}
		}
	}
}

func TestLawAStationWithoutContainersIsDrawn(t *testing.T) {
	j, plan := literal("left to right")
	plan.Formats[0].Body = nil
	plan.Formats[0].Pitch = 0
	plan.Formats[0].Stations[0].Outlets[0].StandOff = math.NaN()
	if r := read(Sheets(j, plan, options())[0].Drawing); r.layers[drawing.Outlets] == 0 {
		t.Error("no outlets are drawn")
	}
	if got := Sheets(j, &station.Plan{}, options()); len(got) != 0 {
		t.Errorf("an empty plan gives %d sheets", len(got))
	}
}

func BenchmarkSheet(b *testing.B) {
	j, plan := literal("left to right")
	for b.Loop() {
		Sheets(j, plan, options())
	}
}

// The belt was drawn 12 mm wider than the container on each side, whatever belt the job tells.
func TestLawTheBeltIsDrawnAsWideAsItIs(t *testing.T) {
	_, plan := literal("left to right")
	f := plan.Formats[0]
	drawn := func(half float64) float64 {
		f.Stations[0].BeltHalf = half
		s := Subject{Format: f, Scene: f.Stations[0]}
		widest := 0.0
		for _, shape := range s.floor(projector{Across, 1}, station.Vec{Y: -s.beltHalf()}, station.Vec{Y: s.beltHalf()}) {
			if l, ok := shape.(drawing.Line); ok {
				widest = math.Max(widest, math.Abs(l.B.X-l.A.X))
			}
		}
		return widest
	}
	for half, want := range map[float64]float64{0.0415: 83, 0.095: 190, 0: 90, math.Inf(1): 90} {
		if got := drawn(half); math.Abs(got-want) > 1e-9 {
			t.Errorf("half a width of %g m is drawn as %g mm, want %g", half, got, want)
		}
	}
}

// Containers that hang between grips were drawn on a belt.
func TestLawNoBeltIsDrawnUnderGrips(t *testing.T) {
	_, plan := literal("left to right")
	f := plan.Formats[0]
	f.Stations[0].Rails, f.Stations[0].Obstacles, f.Stations[0].Grips = nil, nil, nil
	conveyor := func(belt bool, half float64) int {
		f.Stations[0].Belt, f.Stations[0].BeltHalf = belt, half
		s := Subject{Format: f, Scene: f.Stations[0]}
		n := 0
		for _, shapes := range [][]drawing.Shape{s.plan(projector{Plan, 1}), s.along(projector{Along, 1}), s.across(projector{Across, 1})} {
			for _, shape := range shapes {
				if l, ok := shape.(drawing.Line); ok && l.Layer == drawing.Conveyor {
					n++
				}
			}
		}
		return n
	}
	if closed, open, none := conveyor(true, 0.0415), conveyor(false, 0.0415), conveyor(false, 0); closed != 4 || open != 4 || none != 0 {
		t.Errorf("%d lines of a closed belt are drawn, %d of an open one, %d of none", closed, open, none)
	}
}
