package station

import (
	"math"
	"testing"

	"leste/job"
	q "leste/quantity"
)

// Clearances of cans were told up to 0.2 mm too large, by the centres of cells. Source: the geometry of a cylinder.
func TestLawClearanceIsThatOfTheWall(t *testing.T) {
	mm := func(v float64) q.Maybe[q.Length] { return q.Known(q.Millimetres(v)) }
	steps := []job.ProfileStep{step(0, 0), step(33e-3, 0), step(33e-3, 90e-3), step(26e-3, 110e-3), step(0, 110e-3)}
	wide := job.Section{Shape: oval, Width: mm(90), Depth: mm(50)}
	for name, section := range map[string]*job.Section{"round": nil, oval: &wide} {
		body := func(cell float64) *Body {
			b, err := NewBody(job.Format{Container: job.Container{Profile: steps, Section: section}}, cell, "upright")
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		coarse, fine := body(6.5e-3), body(0.4e-3)
		half := coarse.Depth / 2
		if got := coarse.HalfDepth(30e-3, 80e-3); math.Abs(got-half) > 1e-6 {
			t.Errorf("%s: it reaches %.3f mm from the centre, not %.3f", name, got*1e3, half*1e3)
		}
		for _, gap := range []float64{2e-3, 12e-3, 35e-3, 80e-3} {
			for _, tilt := range []float64{0, 20, 50} {
				sin, cos := math.Sincos(tilt * math.Pi / 180)
				p := Placed{Middle: Vec{1, half + gap, 47e-3}, Line: Vec{cos, 0, -sin}, Axis: Vec{0, -1, 0}, Length: 80e-3, StandOff: math.NaN()}
				if got := coarse.Clearance(&p); math.Abs(got-gap) > 1e-5 {
					t.Errorf("%s: a lip %.3f mm away, tilted by %g degrees, is told to be %.3f mm away", name, gap*1e3, tilt, got*1e3)
				}
				p.Middle.Z = 118e-3 // beside and above the shoulder
				got, want := coarse.Clearance(&p), fine.Clearance(&p)
				if math.Abs(got-want) > 0.1e-3 {
					t.Errorf("%s: a lip beside the shoulder, %g mm out, tilted by %g degrees, is %.3f mm away on coarse cells and %.3f on fine ones", name, gap*1e3, tilt, got*1e3, want*1e3)
				}
			}
		}
	}
}
