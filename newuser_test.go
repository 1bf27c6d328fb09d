package leste

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"leste/airsupply"
	"leste/job"
	"leste/station"
)

// A zone that no container has was found only after the whole calculation, as a refusal of the model.
func TestZoneThatNothingHasIsAProblemOfTheFile(t *testing.T) {
	j := canJob(t, func(j *job.Job) { j.Next[0].Requires[0].Zone = "sidewal" })
	for name, problems := range map[string]job.Problems{
		"check": Check(j),
		"assess": func() (p job.Problems) {
			_, err := Assess(context.Background(), j, fast())
			errors.As(err, &p)
			return p
		}(),
	} {
		if len(problems) != 1 || problems[0].Path != "/next/0/requires/0/zone" || !strings.Contains(problems[0].Want, job.ZoneSidewall) {
			t.Errorf("%s says %v", name, problems)
		}
	}
	j = canJob(t, func(j *job.Job) { j.Limits = []job.AirLimit{{Zone: "label edge"}} })
	if p := Check(j); len(p) != 1 || p[0].Path != "/limits/0/zone" {
		t.Errorf("of a limit check says %v", p)
	}
}

// Energy of a station whose blower nobody described was 0, and so was that of a station on compressed air.
func TestEnergyIsUnknownOrThatOfTheCompressor(t *testing.T) {
	o := fast()
	o.Nominal = true
	found := assess(t, exampleJob(t, "as-found-speed-up"), o).Cost
	if !math.IsNaN(float64(found.Energy)) || !math.IsNaN(found.Cost) || !math.IsNaN(found.Band.Likely) || !(found.CompressedEnergy > 0) {
		t.Errorf("a measured plenum pressure gives %+v", found)
	}
	j := exampleJob(t, "compressed-air-existing")
	now := assess(t, j, o).Cost
	if !(now.Energy > 0) || now.Energy != now.CompressedEnergy || !(now.BlowerEnergy > 0) {
		t.Fatalf("a station on compressed air gives %+v", now)
	}
	if now.PowerRatio < 0.12 || now.PowerRatio > 0.33 || now.Band.Low >= now.PowerRatio || now.Band.High <= now.PowerRatio {
		t.Errorf("a blower would take %.2g of it (%v)", now.PowerRatio, now.Band)
	}
	j = job.Clone(j)
	j.Cost.Idle = "switch off"
	if off := assess(t, j, o).Cost; math.Abs(float64(off.Energy/now.Energy)-0.8) > 1e-9 {
		t.Errorf("nozzles that are shut in gaps take %.3g of those that are not", off.Energy/now.Energy)
	}
}

// Every station was warned of what only compressed-air nozzles have to mind.
func TestRivalsCautionsBelongToStationsOnCompressedAir(t *testing.T) {
	o := fast()
	o.Nominal = true
	cautions := func(r *Result) (n int) {
		for _, note := range r.Notes {
			if strings.Contains(note.Text, "dead-ended") {
				n++
			}
		}
		return n
	}
	if n := cautions(assess(t, canJob(t, nil), o)); n != 0 {
		t.Errorf("a blower station is warned of dead-ended nozzles")
	}
	if n := cautions(assess(t, exampleJob(t, "compressed-air-existing"), o)); n != 1 {
		t.Errorf("a station at 3 bar is warned %d times", n)
	}
}

// Nobody at a plant can tell the settings of the water model.
func TestAskAsksForWhatAPlantCanTell(t *testing.T) {
	o := fast()
	o.NoRanking = false
	r := assess(t, canJob(t, nil), o)
	if len(r.Ask) == 0 {
		t.Fatal("nothing is asked")
	}
	for _, s := range r.Ask {
		if strings.Contains(s, "(model)") {
			t.Errorf("it is asked %q", s)
		}
	}
	if !strings.Contains(strings.Join(r.Ask, " "), "water on the wall per area") {
		t.Errorf("the questions do not say what is meant: %q", r.Ask)
	}
	for sentence, want := range map[string]string{"Water on the wall": "water on the wall", "UV lamp": "UV lamp", "": ""} {
		if got := lowered(sentence); got != want {
			t.Errorf("lowered(%q) = %q", sentence, got)
		}
	}
}

// With two stations the zones were told at the camera, and map and balance at the labeller after the second.
func TestMapAndBalanceBelongToTheMachineThatDecides(t *testing.T) {
	o := fast()
	o.Nominal = true
	f := assess(t, exampleJob(t, "pet-500-closure"), o).Formats[0]
	if f.Machine != "fill-level camera" {
		t.Fatalf("the machine that decides is %q", f.Machine)
	}
	if d := math.Abs(f.Balance.Left/f.Container.Likely - 1); d > 0.01 {
		t.Errorf("%.3g g stay in the balance, %.3g g on the container", 1e3*f.Balance.Left, 1e3*f.Container.Likely)
	}
}

// A case that the air side refused was calculated with the nominal air.
func TestCaseWithoutAirOfItsOwnIsNotCalculatedWithOther(t *testing.T) {
	a := &assessment{job: canJob(t, nil)}
	a.supply.Study.Cases = []airsupply.CaseResult{{Name: caseNominal}, {Name: caseWinter}, {Name: caseLoaded, Refused: "duct: it chokes"}}
	for _, s := range a.situations(&station.FormatPlan{}) {
		if s.name == caseLoaded {
			t.Errorf("the case %q is told to have air", s.name)
		}
	}
	if lacking := a.lacking(); len(lacking) != 1 || lacking[0].name != caseLoaded || lacking[0].lacks != airsupply.Unsure {
		t.Errorf("air lacks in %+v", lacking)
	}
	if a.operation(summer, true) != nil || a.operation(summer, false) != &a.supply.Nominal || a.operation(winter, false) != &a.supply.Study.Cases[1].Operation {
		t.Error("the cases get other air than their own")
	}
}

// Blower and ducts for outlets that blow on nothing named the relations of jets.
func TestAirSideAloneRestsOnNoJet(t *testing.T) {
	for _, id := range assess(t, exampleJob(t, "air-side-only"), fast()).Relations {
		if strings.HasPrefix(id, "plane-") || strings.HasPrefix(id, "oblique-") {
			t.Errorf("it names %q", id)
		}
	}
}

// A complaint about a part that a container drawn by its owner calls otherwise was blamed on a zone that the file
// does not name.
func TestComplaintAboutAPartThatNothingHasSaysSo(t *testing.T) {
	j := canJob(t, func(j *job.Job) {
		j.Next[0].Requires, j.Next[0].Complaint = nil, "0.1 % rejects at the closure"
	})
	problems := Check(j)
	if len(problems) != 1 || problems[0].Path != "/next/0/complaint" {
		t.Fatalf("%v", problems)
	}
	if p := problems[0]; !strings.Contains(p.Text, "is taken to be about the closure") || !strings.Contains(p.Want, "countersink") {
		t.Errorf("%+v", p)
	}
}
