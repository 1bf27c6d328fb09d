package scene

import (
	"math"
	"os"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// The lip of an outlet that is aimed is less steep than its tilt, and turns by less than the tilt is moved: what an
// inclinometer may be off by is another angle than what the tilt of the job may.
func TestLawAMovedTiltReadsAsTheOutletSetSo(t *testing.T) {
	const path = "../../examples/can-330-sidewall.yaml"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	slopes := func(tilt, down, along float64) []station.Placed {
		f, problems := job.Read(path, data)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		outlets := f.Job.Stations[0].Outlets
		for i := range outlets {
			outlets[i].Tilt, outlets[i].AimDown, outlets[i].AimAlong = q.Known(q.Degrees(tilt)), q.Known(q.Degrees(down)), q.Known(q.Degrees(along))
			outlets[i].Height = q.Known(q.Millimetres(90))
		}
		job.Fill(f.Job)
		plan, problems := station.Resolve(f.Job, station.ResolveOptions{})
		if plan == nil {
			t.Fatal(problems)
		}
		return plan.Formats[0].Stations[0].Outlets
	}
	for _, aim := range [][2]float64{{0, 0}, {10, 0}, {44, -3}, {56, 0}, {30, 20}} {
		for _, tilt := range []float64{0, 15, 30} {
			for _, by := range []float64{-6, 4} {
				was, is := slopes(tilt, aim[0], aim[1]), slopes(tilt+by, aim[0], aim[1])
				for i := range was {
					if got, want := degrees(TiltMoved(was[i], by*math.Pi/180)), degrees(Tilt(is[i])); math.Abs(got-want) > 1e-6 {
						t.Errorf("%s, tilt %g moved by %g, aim %g: reads %.3f, want %.3f", was[i].Name, tilt, by, aim, got, want)
					}
				}
			}
		}
	}
}
