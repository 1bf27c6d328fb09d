package airsupply

import (
	"strings"
	"testing"

	"leste/physics/air"
	q "leste/quantity"

	"github.com/google/go-cmp/cmp"
)

func workedSite() Site {
	base := site500()
	in := Inlets{Inlet: base.Inlet, Room: base.Inlet}
	cold := air.Humid(base.Inlet.P, 283.15, 0.8)
	return Site{
		Pressure: base.Inlet.P, Summer: in, Winter: Inlets{Inlet: air.Humid(base.Inlet.P, 288.15, 0.5), Room: air.Humid(base.Inlet.P, 293.15, 0.4)},
		Coldest: cold, Hottest: air.Humid(base.Inlet.P, 313.15, 0.3),
	}
}

// Each case changes what its name says, by as much as is said, and nothing else.
func TestLawCasesAreWhatTheirNamesSay(t *testing.T) {
	site := workedSite()
	n := worked(1.2e-3)
	byName := map[string]Case{}
	for _, c := range casesOf(n, site, 0.6) {
		byName[c.Name] = c
	}
	summer := site.Nominal()
	winter := Case{Inlet: site.Winter.Inlet, Room: site.Winter.Room.T}
	for name, want := range map[string]func(c *Case){
		"nominal":                    func(*Case) {},
		"loaded filter":              func(c *Case) { c.Load = 1 },
		"winter":                     func(c *Case) { *c = winter },
		"winter, loaded filter":      func(c *Case) { *c = winter; c.Load = 1 },
		"hottest day, loaded filter": func(c *Case) { c.Inlet, c.Load = site.Hottest, 1 },
		"coldest day":                func(c *Case) { *c = winter; c.Inlet = site.Coldest },
		"system loss x 0.85":         func(c *Case) { c.System, c.Role = 0.85, InReach },
		"system loss x 1.15":         func(c *Case) { c.System, c.Role = 1.15, InReach },
		"blower curve - 5 %":         func(c *Case) { c.Curve, c.Role = 0.95, InReach },
		"K1 blocked":                 func(c *Case) { c.Closed, c.Role = []string{"K1"}, InFault },
		"K2 blocked, loaded filter":  func(c *Case) { c.Closed, c.Load, c.Role = []string{"K2"}, 1, InFault },
		"turned down while idle":     func(c *Case) { c.Speed, c.Role = map[string]q.Ratio{"B1": 0.6}, InGap },
	} {
		c := summer
		want(&c)
		c.Name = name
		if diff := cmp.Diff(c, byName[name]); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// What leaves a box enters its duct from rest, half a velocity head; what flows in loses all of its own.
func TestReferenceBoxLosses(t *testing.T) {
	legs := []leg{{area: 1, out: false}, {area: 1, out: true}, {area: 1, out: true}, {area: 1, out: true}}
	k, common := (&junction{kind: "box", legs: legs}).coefficients([]float64{-3, 1, 1, 1})
	// Published: Idelchik, sharp entry 0.5, exit into a large space 1.
	if diff := cmp.Diff([]float64{1, 0.5, 0.5, 0.5}, k); diff != "" || common != -1 {
		t.Errorf("common %d: %s", common, diff)
	}
}

func TestLawWorstCasePerCriterion(t *testing.T) {
	s, err := Study(t.Context(), worked(1.2e-3), workedSite(), 0.6)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Cases) != 14 {
		t.Errorf("%d cases, want 14", len(s.Cases))
	}
	for _, want := range []struct{ what, got, want string }{
		{"motor", s.Worst.Motor, "coldest day"},
		{"drying", s.Worst.Drying, "hottest day, loaded filter"},
		{"least flow", s.Worst.MinimumFlow, "blocked, loaded filter"},
		{"discharge", s.Worst.Hottest, "hottest day"},
	} {
		if !strings.Contains(want.got, want.want) {
			t.Errorf("%s: worst is %q, want %q", want.what, want.got, want.want)
		}
	}
	if !s.Motors[0].OK {
		t.Errorf("at 500 m the motor suffices: %+v", s.Motors[0])
	}
	// The cold day at sea level is another matter: the motor of 4 kW must fail there.
	sea := workedSite()
	sea.Coldest = coldSea().Inlet
	s, err = Study(t.Context(), worked(1.2e-3), sea, 0)
	if err != nil {
		t.Fatal(err)
	}
	if s.Motors[0].OK || !strings.Contains(s.Limit(), "motor") {
		t.Errorf("got %+v, limit %q; want the motor to fail", s.Motors[0], s.Limit())
	}
}

// A case has the same solution cold and warm.
func TestLawWarmStartChangesNothing(t *testing.T) {
	study, err := Study(t.Context(), worked(1.2e-3), workedSite(), 0.6)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range casesOf(worked(1.2e-3), workedSite(), 0.6) {
		if study.Cases[i].Refused != "" {
			continue
		}
		op, err := Solve(t.Context(), worked(1.2e-3), c)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.Name, float64(study.Cases[i].Operation.Flow), float64(op.Flow), 2e-6*float64(op.Flow)) // 0.01 Pa of 10 kPa
	}
}

func BenchmarkCasesOfTheExample(b *testing.B) {
	n, s := worked(1.2e-3), workedSite()
	for b.Loop() {
		if _, err := Study(b.Context(), n, s, 0.6); err != nil {
			b.Fatal(err)
		}
	}
}
