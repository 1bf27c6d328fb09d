package airsupply

import (
	"testing"

	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
)

// The operating point lies on the curve that is drawn and on the system's, whatever air a blower draws.
func TestLawTheOperatingPointLiesOnTheCurveDrawn(t *testing.T) {
	j := stationsApart()
	for i := range j.AirSupply.Blowers {
		j.AirSupply.Blowers[i].Speed = known(q.Ratio(0.9))
	}
	j.AirSupply.Blowers[1].Summer = job.RoomAir{Temperature: known(q.Celsius(60)), Humidity: known(q.Ratio(0.05))}
	s, err := Assess(t.Context(), j, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Nominal.Blowers {
		b, points := &s.Nominal.Blowers[i], s.Curve(i)
		k := 1
		for k < len(points)-1 && points[k].Inlet < b.Inlet {
			k++
		}
		p, n := points[k-1], points[k]
		share := float64(b.Inlet-p.Inlet) / float64(n.Inlet-p.Inlet)
		if share < 0 || share > 1 {
			t.Fatalf("%s: %g m3/s lies outside the curve", b.Name, float64(b.Inlet))
		}
		between := func(a, b q.PressureDrop) float64 { return float64(a) + share*float64(b-a) }
		// Straight lines between 41 points of either curve.
		near(t, b.Name+": curve", between(p.Rise, n.Rise), float64(b.Rise), 0.002*float64(b.Rise))
		near(t, b.Name+": system", between(p.System, n.System), float64(b.Rise), 0.002*float64(b.Rise))
	}
}
