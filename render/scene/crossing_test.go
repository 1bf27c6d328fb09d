package scene

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leste/job"
	"leste/render/drawing"
	"leste/render/words"
	"leste/station"
)

// laidOut is an example with its stations; nil where it has no containers.
func laidOut(t *testing.T, path string) (*job.Job, *station.Plan) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	file, problems := job.Load(filepath.Base(path), data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	job.Fill(file.Job)
	if len(file.Job.Formats) == 0 {
		return file.Job, nil
	}
	plan, problems := station.Resolve(file.Job, station.ResolveOptions{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return file.Job, plan
}

// drawn is one drawing of an example: its station seen one way, in one direction of travel, in some units, to some scale.
type drawn struct {
	name   string
	scale  float64
	shapes []drawing.Shape
}

// everyDrawing draws the stations of all examples both ways of travel, in all units and to some scales.
func everyDrawing(t *testing.T, views []View, scales []float64, look func(d drawn)) {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, path := range files {
		j, plan := laidOut(t, path)
		if plan == nil {
			continue
		}
		for _, travel := range []string{"left to right", "right to left"} {
			j.Line.Travel = travel
			for _, units := range []words.Units{words.SI, words.US, words.Both} {
				w, err := words.New("de", units)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range plan.Formats {
					for _, st := range f.Stations {
						s := Subject{Job: j, Format: f, Scene: st, Words: w}
						for _, v := range views {
							for _, scale := range scales {
								name := fmt.Sprintf("%s, %s, %s, %s, view %d, 1:%g", filepath.Base(path), travel, units, st.Name, v, scale)
								look(drawn{name, scale, s.shapes(v, true, scale)})
							}
						}
					}
				}
			}
		}
	}
}

// others are the shapes beside the i-th.
func (d drawn) others(i int) []drawing.Shape { return slices.Concat(d.shapes[:i], d.shapes[i+1:]) }

// The name of an outlet was led through the figure of a dimension.
func TestLawLeadersCrossNoDimension(t *testing.T) {
	leaders := 0
	everyDrawing(t, []View{Plan, Along}, []float64{2, 2.5, 5, 10}, func(d drawn) {
		for i, shape := range d.shapes {
			l, ok := shape.(drawing.Leader)
			if !ok {
				continue
			}
			leaders++
			for _, other := range d.others(i) {
				switch other.(type) {
				case drawing.Dimension, drawing.Leader, drawing.Text:
					if c := drawing.PlacedAt(d.scale, other).Crosses(l); c >= drawing.OnLines {
						t.Errorf("%s: %q crosses %v", d.name, l.String, other)
					}
				}
			}
		}
	})
	if leaders < 100 {
		t.Errorf("only %d leaders were looked at", leaders)
	}
}

// Papers in US units had their drawings in millimetres.
func TestLawDrawingsAreDimensionedInTheirUnits(t *testing.T) {
	j, plan := literal("left to right")
	for units, want := range map[words.Units][2]string{words.SI: {"115", "mm"}, words.US: {"4.53", "inches"}, words.Both: {"115 [4.53]", "mm [in]"}} {
		o := options()
		o.Words.Units = units
		text := "\n" + all(read(Sheets(j, plan, o)[0].Drawing))
		for _, line := range want {
			if !strings.Contains(text, "\n"+line+"\n") {
				t.Errorf("%s: the sheet lacks %q", units, line)
			}
		}
		if units == words.US && (strings.Contains(text, "\n115\n") || strings.Contains(text, "\n68.0\n")) {
			t.Error("millimetres are left on a sheet in inches")
		}
	}
	o := options()
	o.Model = true
	if text := all(read(Sheets(j, plan, o)[0].Drawing)); !strings.Contains(text, "mm, model 1:1") {
		t.Error("the title block of a model does not say that it is in true millimetres")
	}
}

// Long names of outlets shrank the whole figure to 1:50.
func TestLawANameGivesWayBeforeTheScaleDoes(t *testing.T) {
	j, plan := literal("left to right")
	s := Subject{Job: j, Format: plan.Formats[0], Scene: plan.Formats[0].Stations[0], Words: options().Words}
	for _, units := range []words.Units{words.SI, words.Both} {
		s.Words.Units = units
		short := s.Figure(Plan, 160, 90, true).Scale
		long := s
		long.Scene.Outlets = nil
		for _, p := range s.Scene.Outlets {
			p.Name = p.Name + strings.Repeat(" of the upper row on the side of the operator", 3)
			long.Scene.Outlets = append(long.Scene.Outlets, p)
		}
		if d := long.Figure(Plan, 160, 90, true); d.Scale != short || d.Width > 164.1 {
			t.Errorf("%s: with long names the plan is drawn at 1:%g, %.0f mm wide; with short ones at 1:%g", units, d.Scale, d.Width, short)
		}
	}
}

// The figure of a stand-off lay over the outlets, and in both units over more.
func TestLawFiguresAndNamesLieOnNothing(t *testing.T) {
	looked := 0
	everyDrawing(t, []View{Plan, Along, Across}, []float64{2.5, 5, 10}, func(d drawn) {
		for i, shape := range d.shapes {
			text := ""
			switch x := shape.(type) {
			case drawing.Dimension:
				text = x.String
			case drawing.Leader:
				text = x.String
			case drawing.Text:
				text = x.String
			default:
				continue
			}
			looked++
			if under, _ := drawing.PlacedAt(d.scale, d.others(i)...).Covers(shape); under != drawing.Clear {
				t.Errorf("%s: %q lies on something (%d)", d.name, text, under)
			}
		}
	})
	if looked < 500 {
		t.Errorf("only %d figures were looked at", looked)
	}
}
