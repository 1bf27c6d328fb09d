package airsupply

import (
	"context"
	"strings"
	"testing"

	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
)

func knife(name string) job.Outlet {
	return job.Outlet{
		Name: name, Kind: job.AirKnife, Length: known(q.Millimetres(300)), SlotGap: known(q.Millimetres(1.5)),
		PlenumBore: known(q.Millimetres(60)), Feed: "end", Pressure: known(q.Gauge(20e3)),
	}
}

func bare(outlets ...job.Outlet) *job.Job {
	return &job.Job{Stations: []job.Station{{Name: "s", Outlets: outlets}}}
}

func TestLawBuildFromOutletsAlone(t *testing.T) {
	for n := 1; n <= 5; n++ {
		var outlets []job.Outlet
		for i := range n {
			outlets = append(outlets, knife(string(rune('A'+i))))
		}
		j := bare(outlets...)
		air, _, err := Outlets(j)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := Build(context.Background(), j, air, catalogue.GenericParts())
		if err != nil {
			t.Fatalf("%d knives: %v", n, err)
		}
		op, err := Solve(context.Background(), plan.Network, plan.Site.Nominal())
		if err != nil {
			t.Fatalf("%d knives: %v", n, err)
		}
		ratio, _ := plan.Wanted.shortest(op)
		near(t, "least plenum pressure over the wanted one", ratio, 1, 1e-5)
		if len(op.Outlets) != n || len(plan.Assumed) < 3 {
			t.Errorf("%d knives: %d outlets solved, %d values assumed", n, len(op.Outlets), len(plan.Assumed))
		}
		t.Logf("%d knives: %s at %.3f, %.3f kg/s, %.2f kW", n, plan.Candidates[0].Part, float64(op.Blowers[0].Speed), float64(op.Flow), float64(op.Grid)/1e3)
	}
}

// The slot gap as built is the one that the air passes.
func TestLawSlotGapAsBuilt(t *testing.T) {
	drawn, built := knife("A"), knife("A")
	drawn.SlotGap = known(q.Millimetres(1.6))
	built.Built = known(q.Millimetres(1.6))
	one, _, err := OutletOf(drawn)
	if err != nil {
		t.Fatal(err)
	}
	other, _, err := OutletOf(built)
	if err != nil {
		t.Fatal(err)
	}
	if one != other || one.Gap != q.Millimetres(1.6) {
		t.Errorf("drawn %+v, built %+v", one, other)
	}
	if built.SetGap(known(q.Millimetres(2))); built.Gap() != q.Millimetres(2) {
		t.Errorf("a gap that is set anew is %g m", float64(built.Gap()))
	}
}

func TestLawBuildRefusesInOneSentence(t *testing.T) {
	weak := catalogue.Parts{Blowers: catalogue.GenericParts().Blowers[:1]}
	for _, c := range []struct {
		name  string
		job   *job.Job
		parts catalogue.Parts
		want  string
	}{
		{"no outlet", bare(), weak, "no outlet"},
		{"too weak a catalogue", bare(knife("A"), knife("B"), knife("C")), weak, "no blower of the catalogue"},
		{"unknown part", &job.Job{AirSupply: job.AirSupply{Blowers: []job.Blower{{Name: "B", Part: "nobody's"}}}, Stations: bare(knife("A")).Stations}, weak, "there is no blower"},
	} {
		air, _, err := Outlets(c.job)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Build(context.Background(), c.job, air, c.parts)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q in it", c.name, err, c.want)
		}
	}
}
