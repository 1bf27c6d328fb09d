package station

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"leste/catalogue"
	"leste/job"
)

func TestLawEveryFamilyMakesABody(t *testing.T) {
	for _, f := range catalogue.Families() {
		for _, s := range f.Sizes {
			for _, attitude := range []string{"upright", "inverted"} {
				c, _, _, err := catalogue.Expand(job.Container{Family: f.Name, Size: s.Name})
				if err != nil {
					t.Fatal(err)
				}
				format := job.Format{Name: s.Name, Container: c, Content: "filled"}
				format.FillMass.V = s.FillMass
				b, err := NewBody(format, 2e-3, attitude)
				if err != nil {
					t.Errorf("%s %s %s: %v", f.Name, s.Name, attitude, err)
					continue
				}
				if math.Abs(b.Height-float64(s.Height)) > 1e-9 || math.Abs(b.Depth-float64(s.Diameter)) > 1e-6 {
					t.Errorf("%s %s: %.2f x %.2f mm high, want %.2f x %.2f", f.Name, s.Name, b.Depth*1e3, b.Height*1e3, s.Diameter.MM(), s.Height.MM())
				}
				// A container holds its fill, and walls and headspace are no more than half of it (thick glass).
				if v := float64(b.Volume) * 1e3; v < float64(s.FillMass) || v > 1.75*float64(s.FillMass) {
					t.Errorf("%s %s: outer volume %.3f L for %.3f kg", f.Name, s.Name, v, float64(s.FillMass))
				}
				if b.CentreOfMass < 0.2*b.Height || b.CentreOfMass > 0.8*b.Height {
					t.Errorf("%s %s: centre of mass at %.1f of %.1f mm", f.Name, s.Name, b.CentreOfMass*1e3, b.Height*1e3)
				}
				t.Logf("%s %s %s: %d x %d, base %.1f mm, %.3f L, %d crevices, %d pools, zones %v", f.Name, s.Name, attitude, b.Surface.Rows, b.Surface.Cols, b.BaseRadius*1e3, b.Volume*1e3, len(b.Crevices), len(b.Pools), b.Surface.Zones)
			}
		}
	}
}

func TestExamplesResolve(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file, problems := job.Read(name, text)
		if len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		j := file.Job
		job.Fill(j)
		plan, problems := Resolve(j, ResolveOptions{})
		for _, p := range problems {
			t.Errorf("%s: %s: %s; %s", filepath.Base(name), p.Path, p.Text, p.Want)
		}
		for _, f := range plan.Formats {
			for _, s := range f.Stations {
				for _, o := range s.Outlets {
					t.Logf("%s %s %s: mid %.1f %.1f %.1f mm, stand-off %.1f, reach %.0f..%.0f", filepath.Base(name), f.Format.Name, o.Name, o.Middle.X*1e3, o.Middle.Y*1e3, o.Middle.Z*1e3, o.StandOff*1e3, s.Reach[0]*1e3, s.Reach[1]*1e3)
				}
			}
		}
	}
}
