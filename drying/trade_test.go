package drying

import (
	"fmt"
	"math"
	"testing"

	"leste/calc"
	"leste/job"
	q "leste/quantity"
)

// knifeLength is the length that `leste calc sweep` gives a knife at a tilt [m].
func knifeLength(t testing.TB, height, speed, tilt float64) float64 {
	t.Helper()
	topic, err := calc.Find("sweep")
	if err != nil {
		t.Fatal(err)
	}
	a, err := topic.Answer(map[string]string{
		"height": fmt.Sprintf("%g mm", height*1e3), "speed": fmt.Sprintf("%g m/s", speed),
		"tilt": fmt.Sprintf("%g deg", tilt*180/math.Pi), "distance": "40 mm",
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range a.Results {
		if r.Output.Key == "length_mm" {
			return r.InUnit() * 1e-3
		}
	}
	t.Fatal("calc sweep gave no length")
	return 0
}

// The tilts at which a knife of a given length leaves least, simulated, lie around the one for which `leste calc
// sweep` gives that length, within 20 %: flatter it does not reach over the whole height, steeper its front is
// faster. The least is flat: its middle is taken, tilts weighed by the fourth power of what they leave.
func TestLawKnifeLengthIsTheSimulatedOptimum(t *testing.T) {
	b := canBody(t, 5e-3)
	for _, length := range []float64{0.2, 0.3} {
		sum, weights := 0.0, 0.0
		for deg := 18.0; deg <= 50; deg += 4 {
			p := canProblem(t, b, knives{tilt: deg * math.Pi / 180, pressure: 20e3, length: length}, 1)
			left := zoneLeft(t, transported(t, p, TransportOptions{}).After, job.ZoneSidewall)
			sum, weights = sum+deg/math.Pow(left, 4), weights+1/math.Pow(left, 4)
		}
		best := sum / weights
		want := knifeLength(t, b.Height, 1, best*math.Pi/180)
		t.Logf("%.0f mm: least left around %.1f deg, for which calc sweep gives %.0f mm", length*1e3, best, want*1e3)
		if math.Abs(want/length-1) > 0.2 {
			t.Errorf("a knife of %.0f mm leaves least around %.1f deg; calc sweep gives %.0f mm there", length*1e3, best, want*1e3)
		}
	}
}

// A faster line and a taller container need a longer knife for the same water left; a fact of the trade (common
// practice, no source), not tuned for. Each length stands at the tilt at which calc sweep makes it reach over the
// height.
func TestLawSpeedAndHeightNeedALongerKnife(t *testing.T) {
	lengths := []float64{0.14, 0.16, 0.2, 0.25, 0.3, 0.4, 0.5}
	needed := func(height, u float64) float64 {
		for i, length := range lengths {
			tilt := 80 * math.Pi / 180
			for knifeLength(t, height, u, tilt) < length {
				tilt -= math.Pi / 180
			}
			p := canProblem(t, roundBody(t, 5e-3, q.Length(height)), knives{tilt: tilt, pressure: 20e3, length: length}, u)
			side := zone(t, transported(t, p, TransportOptions{}).After, job.ZoneSidewall)
			if side.Left.Likely/side.Area < 3e-3 { // kg/m2
				return lengths[i]
			}
		}
		return math.Inf(1)
	}
	slow, fast, short := needed(0.115, 0.5), needed(0.115, 2), needed(0.07, 0.5)
	t.Logf("needed: %.0f mm at 0.5 m/s, %.0f mm at 2 m/s, %.0f mm for a body of 70 mm at 0.5 m/s", slow*1e3, fast*1e3, short*1e3)
	if !(slow < fast) {
		t.Errorf("0.5 m/s needs a knife of %.0f mm, 2 m/s one of %.0f mm", slow*1e3, fast*1e3)
	}
	if !(short < slow) {
		t.Errorf("a body of 70 mm needs a knife of %.0f mm, one of 115 mm of %.0f mm", short*1e3, slow*1e3)
	}
}

// On a wall that wets there are no drops to sweep and no film that breaks: what stays is the film that the front
// lets pass, or, under a level knife, the one that its air drains for as long as the container is under it. The two
// are of one size; how a knife is tilted hardly matters there, and by both methods.
func TestLawOnAWallThatWetsTheTiltHardlyMatters(t *testing.T) {
	b := canBody(t, 6e-3)
	for i := range b.Materials {
		b.Materials[i].Advancing, b.Materials[i].Receding = q.Degrees(10), 0
	}
	for _, u := range []float64{1, 2} {
		for name, left := range map[string]func(*Problem) MachineWater{
			"followed":     func(p *Problem) MachineWater { return transported(t, p, TransportOptions{}).After },
			"closed forms": func(p *Problem) MachineWater { return quick(t, p).After },
		} {
			tilted := zoneLeft(t, left(canProblem(t, b, knives{tilt: tiltDown, pressure: 20e3}, u)), job.ZoneSidewall)
			level := zoneLeft(t, left(canProblem(t, b, knives{pressure: 20e3}, u)), job.ZoneSidewall)
			t.Logf("%s, %g m/s: %.0f mg tilted, %.0f mg level", name, u, tilted*1e6, level*1e6)
			if brought := 50e-3 * zone(t, left(canProblem(t, b, knives{pressure: 20e3}, u)), job.ZoneSidewall).Area; max(tilted, level) > 0.6*brought {
				t.Errorf("%s, %g m/s: %.0f mg tilted and %.0f mg level are left of %.0f mg", name, u, tilted*1e6, level*1e6, brought*1e6)
			}
			if math.Abs(math.Log(tilted/level)) > math.Log(1.4) {
				t.Errorf("%s, %g m/s: %.0f mg tilted, %.0f mg level", name, u, tilted*1e6, level*1e6)
			}
		}
	}
}
