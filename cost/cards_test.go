package cost

import (
	"math"
	"testing"

	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// Every card's worked example comes out of the code it describes.
func TestReferenceCardExamples(t *testing.T) {
	registry, err := relation.New(Cards())
	if err != nil {
		t.Fatal(err)
	}
	compute := map[string]func(v func(string) float64) float64{
		"yearly-cost": func(v func(string) float64) float64 {
			y, err := Yearly(Powers{Producing: q.Power(v("P"))}, job.Costs{
				Hours: q.Known(q.Duration(v("h"))), IdleShare: q.Known(q.Ratio(v("i"))),
			}, false, 0)
			if err != nil {
				t.Fatal(err)
			}
			return float64(y.Energy)
		},
		"present-value": func(v func(string) float64) float64 { return EscalatingUPV(v("d"), v("e"), v("N")) },
		"compressed-air-rival": func(v func(string) float64) float64 {
			r, err := CompressedAir(q.Force(v("F")), 1, air.Dry(101325, q.Celsius(20)), &job.CompressedAir{
				Nozzle: q.Known(q.Gauge(v("p_n"))), SpecificPower: q.Known(q.SpecificPower(v("p_s"))),
			})
			if err != nil {
				t.Fatal(err)
			}
			return float64(r.Power)
		},
		"room-sound": func(v func(string) float64) float64 {
			return float64(PressureLevel(q.SoundLevel(v("Lw")), 0, Place{q.Length(v("r")), q.Ratio(v("Q")), q.Area(v("S")), q.Ratio(v("a"))}))
		},
		"noise-dose": func(v func(string) float64) float64 {
			return float64(DailyExposure([]Exposure{{q.SoundLevel(v("L")), q.Duration(v("t"))}}))
		},
		"exhaust-balance": func(v func(string) float64) float64 {
			return float64(ExhaustBalance(q.VolumeFlow(v("Q_blower")), q.Speed(v("v_in")), q.Area(v("A_open")), false))
		},
	}
	for _, c := range registry.All() {
		f, ok := compute[c.ID]
		if !ok {
			t.Errorf("card %s: no code is checked against its example", c.ID)
			continue
		}
		want := c.Example.Result.Value
		near(t, c.ID, f(c.Example.Value), want, c.Example.Digits*math.Abs(want))
	}
}
