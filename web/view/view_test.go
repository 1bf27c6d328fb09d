package view_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	"leste/station"
	"leste/web/view"
)

// laidOut reads an example, fills it and lays it out with cells of the quick method's size.
func laidOut(t *testing.T, name string) (given, filled *job.Job, plan *station.Plan) {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	f, problems := job.Load(name, text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	filled = job.Clone(f.Job)
	job.Fill(filled)
	plan, problems = station.Resolve(filled, station.ResolveOptions{Cell: 5e-3})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return f.Job, filled, plan
}

func near(a view.Number, b, within float64) bool { return math.Abs(float64(a)-b) <= within }

func TestLawTheLineIsToScale(t *testing.T) {
	_, j, plan := laidOut(t, "can-330-sidewall")
	l := view.LineOf(j, &plan.Formats[0])
	// By hand from the file: 600 /min at a pitch of 66 + 14 mm is 0.8 m/s; wetted 5 s before; knives 300 mm long,
	// tilted by 22 degrees about x = 0 and square to their air, which points 10 degrees down; the packer 3 m behind.
	tilt, down := 22*math.Pi/180, 10*math.Pi/180
	half := 150 * math.Cos(tilt) / math.Sqrt(1-math.Pow(math.Sin(tilt)*math.Sin(down), 2))
	if !near(l.Speed, 0.8, 0.003) || !near(l.Pitch, 80, 0.5) {
		t.Errorf("speed %v m/s, pitch %v mm", l.Speed, l.Pitch)
	}
	if len(l.Stations) != 1 || !near(l.Stations[0].From, -half, 0.1) || !near(l.Stations[0].To, half, 0.1) || l.Stations[0].Path != "/stations/0" {
		t.Errorf("%+v", l.Stations)
	}
	if !near(l.Arrives.At, float64(l.Stations[0].From)-float64(l.Speed)*5e3, 0.1) || l.Arrives.From != "rinser" || l.Arrives.Looks != "wet" {
		t.Errorf("%+v", l.Arrives)
	}
	if len(l.Machines) != 1 || !near(l.Machines[0].At, 3000, 1e-6) || l.Machines[0].Name != "tray packer" || l.Machines[0].After != "before the packer" {
		t.Errorf("%+v", l.Machines)
	}
	if empty := view.LineOf(&job.Job{}, nil); empty.Stations == nil || empty.Machines == nil {
		t.Error("lists of an empty line are null")
	}
}

func TestLawTheSceneSaysWhereThingsAreInTheFile(t *testing.T) {
	given, j, plan := laidOut(t, "pet-500-closure")
	s := view.SceneOf(j, plan, "")
	if len(s.Stations) != len(given.Stations) || s.Format != given.Formats[0].Name {
		t.Fatalf("%d stations for %q", len(s.Stations), s.Format)
	}
	for _, st := range s.Stations {
		for _, o := range st.Outlets {
			name, _, err := job.Value(given, o.Path+"/name")
			if err != nil || name != o.Name {
				t.Errorf("%s is %q in the file, %q in the scene: %v", o.Path, name, o.Name, err)
			}
			if len(o.Solids) == 0 || len(o.Middle) != 3 {
				t.Errorf("%s cannot be drawn: %+v", o.Path, o)
			}
		}
	}
	if got := s.Stations[0]; !near(got.Belt, 83, 1e-9) || got.Gripped {
		t.Errorf("the belt is %v mm wide, gripped: %v", got.Belt, got.Gripped)
	}
	_, hangs, between := laidOut(t, "base-330-coder")
	if got := view.SceneOf(hangs, between, "").Stations[0]; !got.Gripped || !math.IsNaN(float64(got.Belt)) {
		t.Errorf("between grips there is a belt of %v mm, gripped: %v", got.Belt, got.Gripped)
	}
	for i, want := range []view.Rail{
		{Path: "/line/rails/0", Z: 60, Radius: 6, Play: 3},
		{Path: "/line/rails/0", Z: 60, Radius: 6, Play: 3},
		{Path: "/line/neck_guide", Z: 168, Radius: 5, Play: 4},
		{Path: "/line/neck_guide", Z: 168, Radius: 5, Play: 4},
	} {
		got := s.Stations[0].Rails[i]
		if got.Y > 0 == (i%2 == 1) {
			t.Errorf("rail %d stands at %v", i, got.Y)
		}
		if got.Y = 0; got != want {
			t.Errorf("rail %d is %+v, want %+v", i, got, want)
		}
	}
	b := s.Body
	if b == nil || len(b.Side.A) != len(b.Side.B) || !near(b.Width, 2*slices.Max(b.Side.A), 1) || len(b.Zones) < 3 {
		t.Errorf("body %+v", b)
	}
	if again := view.SceneOf(j, plan, "no such format"); again.Format != s.Format {
		t.Errorf("an unknown format shows %q", again.Format)
	}
	if none := view.SceneOf(j, nil, ""); none.Body != nil || len(none.Line.Machines) != len(given.Next) {
		t.Errorf("without a plan: %+v", none)
	}
}

func TestLawTheWallCarriesTheWaterOfTheResult(t *testing.T) {
	given, j, plan := laidOut(t, "can-330-sidewall")
	r, err := leste.Assess(t.Context(), given, leste.Options{Method: "transport", Cell: 5e-3, Nominal: true, NoRanking: true, Frames: 6})
	if err != nil {
		t.Fatal(err)
	}
	name := given.Formats[0].Name
	w := view.WallOf(plan, r, name)
	if w == nil || w.Rows*w.Cols != len(w.Water) || 3*len(w.Water) != len(w.Pos) || len(w.S) != w.Rows+1 || len(w.Zones) != w.Rows {
		t.Fatalf("%+v", w)
	}
	for i, water := range r.Formats[0].Map.Water {
		if math.Abs(w.Water[i]-1e3*water) > 1e-9 {
			t.Fatalf("cell %d: %g g/m2, the result has %g kg/m2", i, w.Water[i], water)
		}
	}
	if view.WallOf(plan, r, "other") != nil || view.WallOf(plan, nil, name) != nil {
		t.Error("a wall without a result")
	}
	p, err := view.PassOf(t.Context(), j, plan, r, name)
	if err != nil || len(p.Frames) == 0 || len(p.Pushes) != 1 {
		t.Fatalf("%v, %d frames, %d pushes", err, len(p.Frames), len(p.Pushes))
	}
	for _, f := range p.Frames {
		if len(f.Water) != len(w.Water) {
			t.Errorf("a frame of %d cells", len(f.Water))
		}
	}
	// Two like knives on both sides: they press inwards equally, so that little is left across.
	across, along := 0.0, 0.0
	for i := range p.Pushes[0].X {
		across, along = max(across, math.Abs(p.Pushes[0].Across[i])), max(along, math.Abs(p.Pushes[0].Along[i]))
	}
	if !(along > 0) || across > 1e-6*along+1e-6 {
		t.Errorf("up to %g N across and %g N along", across, along)
	}
	// 335 g of product and a can of about 12 g weigh 3.4 N.
	if !near(p.Pushes[0].Weight, 3.4, 0.05) {
		t.Errorf("weighs %v N", p.Pushes[0].Weight)
	}
	text, err := json.Marshal(struct {
		A any
		B any
		C any
	}{w, p, view.SceneOf(j, plan, name)})
	if err != nil || strings.Contains(string(text), "NaN") {
		t.Error(err)
	}
}

func TestLawUnknownNumbersAreNull(t *testing.T) {
	text, err := json.Marshal(struct {
		N view.Numbers
		X view.Number
	}{view.Numbers{1.0 / 3, math.NaN(), math.Inf(-1), 1e-12, 12345678}, view.Number(math.Inf(1))})
	if err != nil || string(text) != `{"N":[0.33333,null,null,0,1.2346e+07],"X":null}` {
		t.Errorf("%s, %v", text, err)
	}
}

func TestLawPackedNumbersComeBack(t *testing.T) {
	in := view.Packed{0, 1.5, -3.25e-3, math.NaN(), 12345}
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	var out view.Packed
	if err := json.Unmarshal(text, &out); err != nil || len(out) != len(in) {
		t.Fatalf("%v of %s, %v", out, text, err)
	}
	for i := range in {
		if float32(in[i]) != float32(out[i]) && !(math.IsNaN(in[i]) && math.IsNaN(out[i])) {
			t.Errorf("%g came back as %g", in[i], out[i])
		}
	}
	for _, bad := range []string{`1`, `"?"`} {
		if json.Unmarshal([]byte(bad), &out) == nil {
			t.Errorf("%s was read", bad)
		}
	}
}
