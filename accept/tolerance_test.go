package accept

import (
	"context"
	"errors"
	"math"
	"slices"
	"sync/atomic"
	"testing"

	"leste/job"
	q "leste/quantity"
)

func twoKnives() *job.Job {
	knife := func(name, side string) job.Outlet {
		return job.Outlet{
			Name: name, Kind: job.AirKnife, Side: side, Height: q.Known(q.Millimetres(70)), StandOff: q.Known(q.Millimetres(40)),
			SlotGap: q.Known(q.Millimetres(1.5)), Pressure: q.Known(q.Gauge(20e3)),
		}
	}
	return &job.Job{
		Line:     job.Line{Rate: q.Known(q.Rate(10))},
		Arrives:  job.Arrives{Water: q.Maybe[q.AreaMass]{V: 0.05}},
		Formats:  []job.Format{{Name: "can", Product: q.Maybe[q.Temperature]{V: 291}}},
		Stations: []job.Station{{Name: "s", Outlets: []job.Outlet{knife("left", "left"), knife("right", "right")}}},
	}
}

func find(t *testing.T, ts []Tolerance, what string) Tolerance {
	t.Helper()
	for _, x := range ts {
		if x.What == what {
			return x
		}
	}
	t.Fatalf("no tolerance of the %s in %+v", what, ts)
	return Tolerance{}
}

// all is the reserve of a job that has one format.
func all(reserve float64) Reserves { return Reserves{"can": reserve} }

func TestLawATolerance(t *testing.T) {
	j := twoKnives()
	before := job.Clone(j)
	settings := append(Settings(j), Conditions(j)...)
	// The reserve falls with the stand-off of both knives: it passes 1 at 50 mm; below 30 mm nothing fits.
	try := func(_ context.Context, j *job.Job, _ []string) (Reserves, error) {
		l, r := j.Stations[0].Outlets[0], j.Stations[0].Outlets[1]
		if l.StandOff.V != r.StandOff.V {
			t.Error("the two sides are set apart")
		}
		if l.StandOff.V < 0.03 {
			return nil, errors.New("the outlet is inside the container")
		}
		return all(0.05 / float64(l.StandOff.V) / float64(j.Line.Rate.V/10)), nil
	}
	ts, err := Tolerances(context.Background(), j, settings, try)
	if err != nil {
		t.Fatal(err)
	}
	s := find(t, ts, StandOff)
	if len(s.Others) != 1 || s.Others[0] != "right" {
		t.Errorf("the right knife is not set with the left: %v", s.Others)
	}
	near(t, "stand-off more", s.More, 0.01, s.Reach/16)
	near(t, "stand-off less", s.Less, 0.01, s.Reach/16)
	if s.MoreFree || s.LessFree {
		t.Error("a stand-off that matters is free")
	}
	if h := find(t, ts, Height); !h.MoreFree || !h.LessFree || h.More != h.Reach {
		t.Errorf("a height that changes nothing: %+v", h)
	}
	v := find(t, ts, BeltSpeed)
	near(t, "speed", v.More, 0.25, v.Reach/16)
	if !math.IsNaN(v.Less) {
		t.Error("a slower line was examined")
	}
	if before.Stations[0].Outlets[0] != j.Stations[0].Outlets[0] || before.Line.Rate != j.Line.Rate {
		t.Error("the job was changed")
	}
}

func TestLawAPromiseNotMetGivesTheMoveThatCostsATenth(t *testing.T) {
	j := twoKnives()
	try := func(_ context.Context, j *job.Job, _ []string) (Reserves, error) {
		return all(0.02 / float64(j.Stations[0].Outlets[0].StandOff.V)), nil
	}
	ts, err := Tolerances(context.Background(), j, Settings(j), try)
	if err != nil {
		t.Fatal(err)
	}
	s := find(t, ts, StandOff)
	near(t, "stand-off more", s.More, 0.04/0.9-0.04, s.Reach/16)
}

// A promise with little to spare bears a little: told in whole parts of the reach it was said to bear nothing.
func TestLawALittleToSpareBearsALittle(t *testing.T) {
	j := twoKnives()
	try := func(_ context.Context, j *job.Job, _ []string) (Reserves, error) {
		return all(1.03 * math.Sqrt(0.05/float64(j.Arrives.Water.V))), nil
	}
	ts, err := Tolerances(context.Background(), j, Conditions(j), try)
	if err != nil {
		t.Fatal(err)
	}
	w := find(t, ts, ArrivingWater)
	if want := 0.05 * (1.03*1.03 - 1); w.More > want || w.More < want-w.Reach/128 {
		t.Errorf("bears %.2f g/m2 more, by hand %.2f", w.More*1e3, want*1e3)
	}
}

func TestLawToleranceEnds(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	j := twoKnives()
	_, err := Tolerances(ctx, j, Settings(j), func(ctx context.Context, _ *job.Job, _ []string) (Reserves, error) { cancel(); return all(2), nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled search ends with %v", err)
	}
	if _, err := Tolerances(context.Background(), j, nil, func(context.Context, *job.Job, []string) (Reserves, error) { return nil, errors.New("no") }); err == nil {
		t.Error("a job that cannot be assessed has tolerances")
	}
	for _, c := range Conditions(&job.Job{}) {
		t.Errorf("an empty job has the condition %s", c.What)
	}
}

func TestLawRunningCurrentFallsToTheMagnetisingPart(t *testing.T) {
	near(t, "full load", float64(RunningCurrent(20, 0.85, 1)), 20, 1e-9)
	near(t, "no load", float64(RunningCurrent(20, 0.85, 0)), 20*math.Sqrt(1-0.85*0.85), 1e-9)
	if RunningCurrent(20, 0.85, 0.5) >= RunningCurrent(20, 0.85, 0.8) {
		t.Error("less load takes more current")
	}
}

func TestLawTolerancesDoNotDependOnTheWorkers(t *testing.T) {
	j := &job.Job{}
	j.Arrives.Water = q.Known(q.AreaMass(0.05))
	var tried atomic.Int64
	try := func(_ context.Context, j *job.Job, _ []string) (Reserves, error) {
		tried.Add(1)
		return all(0.08 / float64(j.Arrives.Water.V)), nil
	}
	settings := append(Conditions(j), Conditions(j)...)
	alone, err := Tolerances(t.Context(), j, settings, try)
	if err != nil {
		t.Fatal(err)
	}
	calls := tried.Swap(0)
	for _, workers := range []int{0, 2, 16} {
		got, err := TolerancesOn(t.Context(), workers, j, settings, try)
		if err != nil {
			t.Fatal(err)
		}
		for i := range got {
			if got[i].More != alone[i].More || got[i].MoreFree != alone[i].MoreFree {
				t.Errorf("%d workers: %+v, alone %+v", workers, got[i], alone[i])
			}
		}
		if n := tried.Swap(0); n != calls {
			t.Errorf("%d workers try %d jobs, one tries %d", workers, n, calls)
		}
	}
}

// A tolerance is that of the format that fails first, whichever it is, and formats that hold to the end of the reach
// are not tried on the way there.
func TestLawFormatsThatHoldAreTriedOnce(t *testing.T) {
	j := twoKnives()
	limits := map[string]float64{"slim": 0.045, "can": 0.05, "tall": 1} // m of stand-off, at which the reserve passes 1
	tried := map[string]int{}
	try := func(_ context.Context, j *job.Job, formats []string) (Reserves, error) {
		r := Reserves{}
		for name, limit := range limits {
			if len(formats) == 0 || slices.Contains(formats, name) {
				tried[name]++
				r[name] = limit / float64(j.Stations[0].Outlets[0].StandOff.V)
			}
		}
		return r, nil
	}
	ts, err := Tolerances(t.Context(), j, Settings(j)[:1], try)
	if err != nil {
		t.Fatal(err)
	}
	s := find(t, ts, StandOff)
	near(t, "stand-off more", s.More, 0.005, s.Reach/16)
	if tried["tall"] != 3 || tried["can"] >= tried["slim"] || tried["can"] <= tried["tall"] {
		t.Errorf("tried %v: three times are enough for a format that holds: as set and at both ends", tried)
	}
}
