package airsupply

import (
	"strings"
	"testing"

	"leste/physics/air"
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
