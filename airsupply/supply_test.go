package airsupply

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leste/catalogue"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"

	"pgregory.net/rapid"
)

// Every job of the examples has an air side that is solved or refused in one sentence.
func TestLawExamplesHaveAir(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file, problems := job.Read(name, text)
		if file == nil {
			t.Logf("%s: not read here: %v", name, problems)
			continue
		}
		s, err := Assess(t.Context(), file.Job, catalogue.GenericParts())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		part := ""
		if s.Plan != nil && len(s.Plan.Candidates) > 0 {
			part = s.Plan.Candidates[0].Part
		}
		t.Logf("%s: %.3f kg/s, %.2f kW, %s", filepath.Base(name), float64(s.Nominal.Flow), float64(s.Nominal.Grid)/1e3, part)
	}
}

func TestLawAssessOfBareJob(t *testing.T) {
	s, err := Assess(t.Context(), bare(knife("A"), knife("B")), catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Study.Cases) < 10 || len(s.Loads) != 1 || len(s.Assumed) == 0 {
		t.Errorf("%d cases, %d loads, %d assumed", len(s.Study.Cases), len(s.Loads), len(s.Assumed))
	}
	near(t, "plenum", float64(s.Nominal.Outlets[0].DeadEnd), 20e3, 20)
	if s.Plan.Candidates[0].Reserve < wantedReserve {
		t.Errorf("the blower has %.3f in reserve", float64(s.Plan.Candidates[0].Reserve))
	}
}

func TestLawAssessOfMeasuredAndMain(t *testing.T) {
	j := bare(knife("A"), knife("B"))
	j.Stations[0].State = job.AsFound
	j.Stations[0].Outlets[1].Compressed = true
	s, err := Assess(t.Context(), j, catalogue.Parts{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Nominal.Outlets) != 1 || len(s.Nominal.Blowers) != 0 || len(s.Compressed.Outlets) != 1 {
		t.Errorf("%d measured, %d blowers, %d on the main", len(s.Nominal.Outlets), len(s.Nominal.Blowers), len(s.Compressed.Outlets))
	}
	near(t, "measured", float64(s.Nominal.Outlets[0].DeadEnd), 20e3, 1e-6)
	near(t, "main", float64(s.Compressed.Outlets[0].DeadEnd), 4e5, 1e-6)
}

// Two legs that end wide open in the room after a wye: the even split does not hold, and it is said what a lopsided
// start leads to.
func TestLawUncertainSplitIsSaid(t *testing.T) {
	leg := func(to string) job.Branch {
		return job.Branch{Name: "leg to " + to, From: "wye", To: to, Elements: []job.Element{
			{Kind: "duct", Bore: known(q.Millimetres(100)), Length: known(q.Millimetres(50))},
		}}
	}
	outlet := func(name string) Outlet {
		return Outlet{Name: name, Kind: Round, Area: 0.013, Count: 1, Cd: 0.95, Cv: 1}
	}
	n := &Network{
		Blowers: []Blower{{Name: "B", Source: &Source{Pressure: 800, Temperature: 300}}},
		Branches: []job.Branch{{Name: "duct", From: "B", To: "wye", Elements: []job.Element{
			{Kind: "duct", Bore: known(q.Millimetres(100)), Length: known(q.Millimetres(3000))},
		}}, leg("K1"), leg("K2")},
		Junctions: []job.Junction{{At: "wye", Kind: "wye", Angle: known(q.Degrees(30))}},
		Outlets:   []Outlet{outlet("K1"), outlet("K2")},
	}
	said := func() (notes []relation.Note) {
		op, err := Solve(t.Context(), n, site500())
		if err != nil {
			t.Fatal(err)
		}
		for _, note := range op.Notes {
			if strings.Contains(note.Text, "unevenly") {
				notes = append(notes, note)
			}
		}
		return notes
	}
	notes := said()
	if len(notes) != 1 || !strings.Contains(notes[0].Text, "does not come back") {
		t.Errorf("got %v", notes)
	}
	n.Outlets[0].Area, n.Outlets[1].Area = 0.004, 0.004
	if notes := said(); len(notes) != 0 {
		t.Errorf("legs with a resistance of their own: got %v", notes)
	}
}

// Whatever the outlets, the air side is solved or refused in one clear sentence; nothing is not a number.
func TestLawAnyOutletsAreSolvedOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var outlets []job.Outlet
		for i := range rapid.IntRange(1, 3).Draw(t, "outlets") {
			o := knife(string(rune('A' + i)))
			o.SlotGap.V = q.Length(math.Exp(rapid.Float64Range(math.Log(1e-4), math.Log(2e-2)).Draw(t, "gap")))
			o.Length.V = q.Length(rapid.Float64Range(0.02, 3).Draw(t, "length"))
			o.PlenumBore.V = q.Length(rapid.Float64Range(0.01, 0.4).Draw(t, "bore"))
			o.Feed = rapid.SampledFrom([]string{"end", "both ends", "centre"}).Draw(t, "feed")
			o.Pressure.V = q.Gauge(rapid.Float64Range(500, 60e3).Draw(t, "pressure"))
			if rapid.Bool().Draw(t, "nozzles") {
				o.Kind, o.Bore, o.Spacing = job.NozzleManifold, known(q.Length(rapid.Float64Range(0.002, 0.04).Draw(t, "nozzle"))), known(q.Millimetres(50))
			}
			outlets = append(outlets, o)
		}
		j := bare(outlets...)
		j.Site.Altitude = known(q.Length(rapid.Float64Range(-200, 4000).Draw(t, "altitude")))
		s, err := Assess(t.Context(), j, catalogue.GenericParts())
		if err != nil {
			if text := err.Error(); strings.Contains(text, "\n") || strings.Contains(text, "NaN") || len(text) > 600 {
				t.Fatalf("not a clear sentence: %q", text)
			}
			return
		}
		for _, o := range s.Nominal.Outlets {
			if x := float64(o.Flow) + float64(o.Velocity) + float64(o.Thrust) + float64(o.Stagnation) + float64(o.Inclination) + o.NonUniformity.High; math.IsNaN(x) || math.IsInf(x, 0) || o.Flow <= 0 {
				t.Fatalf("outlet %+v", o)
			}
		}
	})
}
