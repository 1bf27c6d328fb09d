package catalogue

import (
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
)

func TestLawEverySizeExpands(t *testing.T) {
	for _, f := range Families() {
		for _, s := range f.Sizes {
			for _, c := range append([]string{""}, f.Closures...) {
				full, source, _, err := Expand(job.Container{Family: f.Name, Size: s.Name, Closure: c})
				if err != nil {
					t.Errorf("%s %s %s: %v", f.Name, s.Name, c, err)
					continue
				}
				if source == "" || len(full.Profile) < 5 || full.EmptyMass.V != s.EmptyMass || full.Height.V != s.Height {
					t.Errorf("%s %s: source %q, %d steps, %v, %v", f.Name, s.Name, source, len(full.Profile), full.EmptyMass.V, full.Height.V)
				}
				if again, _, _, err := Expand(full); err != nil || len(again.Crevices) != len(full.Crevices) || len(again.Walls) != len(full.Walls) {
					t.Errorf("%s %s: expanded twice: %v", f.Name, s.Name, err)
				}
				zones := map[string]bool{}
				top, wide := q.Length(0), q.Length(0)
				for _, p := range full.Profile {
					zones[p.Zone] = true
					top, wide = max(top, p.Height), max(wide, p.Radius)
				}
				if d := top - s.Height; d > 1e-9 || d < -1e-9 {
					t.Errorf("%s %s: profile reaches %v, want %v", f.Name, s.Name, top, s.Height)
				}
				for z := range zones {
					if z != "" && !contains(f.Zones, z) {
						t.Errorf("%s %s: zone %q is not listed", f.Name, s.Name, z)
					}
				}
				for _, k := range full.Crevices {
					if !zones[k.Zone] {
						t.Errorf("%s %s: crevice %q in zone %q, which the profile lacks", f.Name, s.Name, k.Name, k.Zone)
					}
				}
				for _, k := range full.Pools {
					if !zones[k.Zone] || k.Outer > wide {
						t.Errorf("%s %s: pool %q in zone %q to radius %v", f.Name, s.Name, k.Name, k.Zone, k.Outer)
					}
				}
			}
		}
	}
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}

func TestExpandSaysWhatIsKnown(t *testing.T) {
	for name, c := range map[string]struct {
		container job.Container
		want      []string
	}{
		"family":   {job.Container{Family: "cann"}, []string{`did you mean "can"`, "PET bottle", "jar"}},
		"size":     {job.Container{Family: "can", Size: "330 standart"}, []string{`did you mean "330 standard"`, "250 slim"}},
		"closure":  {job.Container{Family: "glass bottle", Closure: "crwn"}, []string{`did you mean "crown"`, "roll-on"}},
		"misfit":   {job.Container{Family: "glass bottle", Closure: CapPCO1881}, []string{"crown", "roll-on"}},
		"material": {job.Container{Family: "can", Material: "PETT"}, []string{`did you mean "PET"`, "glass"}},
		"nothing":  {job.Container{}, []string{"neither a family nor a profile", "can"}},
		"too low":  {job.Container{Family: "can", Height: q.Known(q.Length(0.02))}, []string{"too low"}},
		"thin":     {job.Container{Family: "can", Diameter: q.Known(q.Length(0.03))}, []string{"neck or end"}},
		"huge":     {job.Container{Family: "can", Height: q.Known(q.Length(20))}, []string{"10 to 1000 mm"}},
		"both":     {job.Container{Family: "can", Profile: make([]job.ProfileStep, 3)}, []string{"both a family and a profile"}},
	} {
		_, _, _, err := Expand(c.container)
		if err == nil {
			t.Errorf("%s: no error", name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q lacks %q", name, err, w)
			}
		}
	}
}

func TestLawChangesFollow(t *testing.T) {
	base, _, _, err := Expand(job.Container{Family: "PET bottle", Size: "500"})
	if err != nil {
		t.Fatal(err)
	}
	tall, _, _, err := Expand(job.Container{Family: "PET bottle", Size: "500", Height: q.Known(q.Length(0.260)), Diameter: q.Known(q.Length(0.070))})
	if err != nil {
		t.Fatal(err)
	}
	if tall.EmptyMass.V <= base.EmptyMass.V {
		t.Errorf("a larger bottle weighs %v, the listed one %v", tall.EmptyMass.V, base.EmptyMass.V)
	}
	if a, b := base.Crevices[0], tall.Crevices[0]; a.Radius != b.Radius || b.Height-a.Height < 0.0379 || b.Height-a.Height > 0.0381 {
		t.Errorf("the closure must move up with the height and keep its size: %+v, %+v", a, b)
	}
	if DefaultFill(job.Container{Family: "PET bottle", Size: "500"}) != 0.502 {
		t.Error("the listed fill of the 500 mL bottle is 502 g")
	}
}

func TestReferenceSurfactantLowersPET(t *testing.T) {
	// Reference: common practice, no source: PET 80/50 degrees clean, 65/30 with residues of detergent.
	m, err := MaterialNamed("pet")
	if err != nil {
		t.Fatal(err)
	}
	w := m.In(WaterSurfactant)
	if a, r := q.Angle(w.Advancing.Likely).Deg(), q.Angle(w.Receding.Likely).Deg(); a < 64.9 || a > 65.1 || r < 29.9 || r > 30.1 {
		t.Errorf("PET with residues: %.1f/%.1f degrees, want 65/30", a, r)
	}
}

func TestLawAngleBandsAreOrdered(t *testing.T) {
	for _, m := range Materials() {
		for _, w := range []string{WaterClean, WaterSyrup, WaterSurfactant, "not known"} {
			v := m.In(w)
			for _, b := range []q.Band{v.Advancing, v.Receding} {
				if !(b.Low <= b.Likely && b.Likely <= b.High && b.Low >= 0) {
					t.Errorf("%s in %s: %+v", m.Name, w, b)
				}
			}
			if v.Receding.Likely > v.Advancing.Likely {
				t.Errorf("%s in %s recedes above it advances", m.Name, w)
			}
		}
	}
}
