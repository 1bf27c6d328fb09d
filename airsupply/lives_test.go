package airsupply

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
)

// dryWhenLoaded are the generic blowers with the one that would be chosen for a job hindered from running with any less
// flow than it does nominally.
func dryWhenLoaded(t testing.TB, j *job.Job) (parts catalogue.Parts, hindered string) {
	t.Helper()
	parts = catalogue.GenericParts()
	parts.Blowers = slices.Clone(parts.Blowers) // they are those of everybody
	s, err := Assess(t.Context(), j, parts)
	if err != nil {
		t.Fatal(err)
	}
	b := s.Nominal.Blowers[0]
	hindered = s.Plan.Candidates[0].Part
	for i := range parts.Blowers {
		if p := &parts.Blowers[i]; p.Part == hindered {
			curve := *p.Blower.Curve
			curve.MinFlow = q.Known(b.Inlet / q.VolumeFlow(b.Speed) * 0.998)
			p.Blower.Curve = &curve
		}
	}
	return parts, hindered
}

// A blower that runs dry with a loaded filter is not chosen where another one does not; where there is no other it is,
// and its case is told as one without air.
func TestLawChosenBlowerGivesAirInEveryCase(t *testing.T) {
	j := bare(knife("A"), knife("B"))
	parts, hindered := dryWhenLoaded(t, j)
	s, err := Assess(t.Context(), j, parts)
	if err != nil {
		t.Fatal(err)
	}
	if s.Plan.Candidates[0].Part == hindered || s.Plan.Candidates[0].Rejected != "" {
		t.Fatalf("%s is chosen: %q", s.Plan.Candidates[0].Part, s.Plan.Candidates[0].Rejected)
	}
	told := false
	for i, c := range s.Plan.Candidates {
		told = told || c.Part == hindered && strings.Contains(c.Rejected, "in the case loaded filter it would run at")
		if i > 0 && c.Rejected == "" && s.Plan.Candidates[i-1].Rejected != "" {
			t.Errorf("%s does it and follows one that does not", c.Part)
		}
	}
	if !told {
		t.Errorf("%s is not rejected for what fails it: %+v", hindered, s.Plan.Candidates)
	}
	for i := range s.Study.Cases {
		if c := &s.Study.Cases[i]; c.Lacks() != Comes {
			t.Errorf("%s: %s", c.Name, c.Refused)
		}
	}
	if _, err := Lived(t.Context(), s.Plan); err != nil {
		t.Error(err)
	}
	for _, p := range parts.Blowers {
		if p.Part == hindered {
			parts.Blowers = []catalogue.BlowerPart{p}
		}
	}
	alone, err := Assess(t.Context(), j, parts)
	if err != nil {
		t.Fatal(err)
	}
	if c := alone.Study.Cases[1]; c.Name != "loaded filter" || c.Lacks() != Dry {
		t.Errorf("%s: %q", c.Name, c.Refused)
	}
	var refusal *Refusal
	if _, err := Lived(t.Context(), alone.Plan); !errors.As(err, &refusal) || !strings.Contains(err.Error(), "in the case ") {
		t.Errorf("it is told to live with every case: %v", err)
	}
}

// Of a machine that is taken to be far from the ends of its curve no case is refused.
func TestLawRoomyMachinesAreRefusedInNoCase(t *testing.T) {
	parts := catalogue.GenericParts()
	roomy, dry := 0, 0
	try := func(t rapid.TB, part string, pressure q.Gauge, gap q.Length, changeOut q.PressureDrop) {
		j := bare(knife("A"), knife("B"))
		for i := range j.Stations[0].Outlets {
			o := &j.Stations[0].Outlets[i]
			o.Pressure, o.SlotGap = known(pressure), known(gap)
		}
		j.AirSupply.Filter = &job.Filter{ChangeOut: known(changeOut)}
		j.AirSupply.Blowers = []job.Blower{{Name: "B", Part: part}}
		outlets, _, err := Outlets(j)
		if err != nil {
			t.Fatal(err)
		}
		ctx := context.Background()
		plan, err := Build(ctx, j, outlets, parts)
		if err != nil {
			return // it cannot give the pressure
		}
		op, err := Solve(ctx, plan.Network, plan.Site.Nominal())
		if err != nil {
			return
		}
		study, err := Study(ctx, plan.Network, plan.Site, 0)
		if err != nil {
			t.Fatal(err)
		}
		lacks := Comes
		for i := range study.Cases {
			lacks = max(lacks, study.Cases[i].Lacks())
		}
		_, lived := Lived(ctx, plan)
		switch far := roomyAt(plan, &op); {
		case far && lacks != Comes:
			t.Fatalf("%s is taken to be far from its ends: %+v", part, study.Worst)
		case (lived == nil) != (lacks == Comes):
			t.Fatalf("it is refused as %v, its cases lack %d", lived, lacks)
		case far:
			roomy++
		case lacks != Comes:
			dry++
		}
	}
	// Both kinds are among these whatever rapid draws below.
	for i := range parts.Blowers {
		for gap := q.Length(0.4e-3); gap < 3e-3; gap += 0.4e-3 {
			try(t, parts.Blowers[i].Part, 4e3, gap, 2e3)
			try(t, parts.Blowers[i].Part, 9e3, gap, 9e3)
			try(t, parts.Blowers[i].Part, 16e3, gap, 9e3)
		}
	}
	if roomy < 5 || dry < 5 {
		t.Errorf("%d stations were far from the ends, %d without air in a case: it has hardly been tried", roomy, dry)
	}
	rapid.Check(t, func(t *rapid.T) {
		try(t, rapid.SampledFrom(parts.Blowers).Draw(t, "part").Part,
			q.Gauge(rapid.Float64Range(3e3, 25e3).Draw(t, "pressure")),
			q.Length(rapid.Float64Range(0.4e-3, 3e-3).Draw(t, "gap")),
			q.PressureDrop(rapid.Float64Range(300, 9e3).Draw(t, "change-out")))
	})
}

// What a refused case means for the air follows from why it is solved and why it is refused.
func TestLawWhatRefusedCasesLack(t *testing.T) {
	for _, c := range []struct {
		role      Role
		refused   string
		tooLittle bool
		ends      bool
		want      Lack
	}{
		{OnSite, "", false, false, Comes},
		{OnSite, "below", true, false, Dry},
		{OnSite, "below", true, true, Unsure},
		{OnSite, "beyond", false, false, Unsure},
		{InReach, "below", true, false, Unsure},
		{InReach, "below", true, true, Unsure},
		{InReach, "beyond", false, false, Comes},
		{InFault, "below", true, false, Comes},
		{InGap, "below", true, false, Comes},
	} {
		got := (&CaseResult{Role: c.role, Refused: c.refused, TooLittle: c.tooLittle, Ends: c.ends}).Lacks()
		if got != c.want {
			t.Errorf("%+v lacks %d", c, got)
		}
	}
}

// The curve of a fan that ends where nothing more was measured does not say that it may run no farther; that of a machine
// that surges does, and so does a least flow that its maker states.
func TestLawCurvesOfFansEndWithoutALimit(t *testing.T) {
	points := []CurvePoint{{Flow: .05, Pressure: 4000, Power: 600}, {Flow: .1, Pressure: 3600, Power: 800}, {Flow: .15, Pressure: 2500, Power: 900}}
	for _, c := range []struct {
		kind  string
		least q.VolumeFlow
		want  string
	}{
		{Fan, 0, belowFirst},
		{Fan, .03, belowFirst},
		{Fan, .05, belowMinimum},
		{Fan, .06, belowMinimum},
		{HighSpeedCentrifugal, 0, belowMinimum},
		{Multistage, 0, belowMinimum},
		{SideChannel, 0, belowMinimum},
	} {
		m, err := NewMachine(Curve{Kind: c.kind, Points: points, Inlet: dry20(), MinFlow: c.least})
		if err != nil {
			t.Fatal(err)
		}
		if why := m.admits(.04); why != c.want {
			t.Errorf("%s with a least flow of %g: %q", c.kind, float64(c.least), why)
		}
	}
	n, c := worked(1.2e-3), site500()
	m, err := NewMachine(Curve{Kind: Fan, Points: []CurvePoint{{Flow: .14, Pressure: 15600, Power: 3380}, {Flow: .16, Pressure: 12400, Power: 3600}, {Flow: .18, Pressure: 8300, Power: 3700}}, Inlet: dry20()})
	if err != nil {
		t.Fatal(err)
	}
	n.Blowers[0].Machine = m
	var r *Refusal
	if _, err := Solve(t.Context(), n, c); !errors.As(err, &r) || !r.TooLittle || !r.Ends || !strings.Contains(r.Reason, belowFirst) {
		t.Errorf("got %v", err)
	}
}

// Where a falling function passes zero is found to the last digits, at the ends too, in far fewer looks than halving takes.
func TestLawCrossingIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(0, 1).Draw(t, "where")
		if rapid.Bool().Draw(t, "at an end") {
			want = math.Round(want)
		}
		bend := rapid.Float64Range(0, 20).Draw(t, "bend")
		looks := 0
		got := crossing(func(x float64) float64 {
			looks++
			return (want - x) * (1 + bend*x*x)
		}, 0, 1)
		if math.Abs(got-want) > 1e-12 || looks > 40 {
			t.Fatalf("%g is found as %g in %d looks", want, got, looks)
		}
	})
}
