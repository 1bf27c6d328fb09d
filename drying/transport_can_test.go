package drying

import (
	"context"
	"math"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// canBody is a plain 66 x 115 mm body of lacquered aluminium with small fillets.
func canBody(t testing.TB, cell float64) *station.Body {
	t.Helper()
	b, err := station.NewBody(job.Format{Name: "can", Container: job.Container{
		Material: "lacquered aluminium", EmptyMass: q.Known(q.Mass(0.013)),
		Profile: []job.ProfileStep{
			{Radius: 0, Height: 0},
			{Radius: 33e-3, Height: 0, Fillet: q.Known(q.Millimetres(3)), Zone: job.ZoneBase},
			{Radius: 33e-3, Height: 115e-3, Zone: job.ZoneSidewall},
			{Radius: 0, Height: 115e-3, Zone: job.ZoneEnd},
		},
	}}, cell, "upright")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// knives are two air knives, one on each side of the line, 40 mm from the wall of a 66 mm can: slot gap
// 1.5 mm, 20 kPa, 300 mm long. Tilt is the slope [rad] down along travel: positive sweeps the top first.
type knives struct {
	tilt     float64
	pressure float64
	onlyLeft bool
	length   float64
}

func (k knives) exposer(t testing.TB, b *station.Body) *station.Exposer {
	t.Helper()
	if k.length == 0 {
		k.length = 0.3
	}
	const clear = 0.040
	s := station.Scene{Name: "dryer", Belt: true}
	l := station.Vec{X: math.Cos(k.tilt), Z: -math.Sin(k.tilt)}
	for _, side := range []float64{1, -1} {
		if side < 0 && k.onlyLeft {
			break
		}
		s.Outlets = append(s.Outlets, station.Placed{
			Name: "knife", Kind: job.AirKnife,
			Middle: station.Vec{Y: side * (b.Depth/2 + clear), Z: b.Height / 2},
			Line:   l, Axis: station.Vec{Y: -side}, Length: k.length, Gap: 1.5e-3, StandOff: clear,
		})
	}
	air := make([]station.OutletAir, len(s.Outlets))
	for i := range air {
		air[i] = station.OutletAir{
			Plenum: q.Gauge(k.pressure), Stagnation: q.Celsius(35), Humidity: 0.008,
			Ambient: 101325, AmbientT: q.Celsius(20),
		}
	}
	e, err := station.NewExposer(b, s, air, station.ExposerOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func canProblem(t testing.TB, b *station.Body, k knives, speed float64) *Problem {
	t.Helper()
	e := k.exposer(t, b)
	from, to := e.Range()
	return &Problem{
		Body:    b,
		Arrives: Arrives{Film: 50e-3, Drops: 50e-3, DropMedian: 3.2e-3, TrappedFull: 1, PoolsFull: 1},
		Liquid:  Liquid{Temperature: q.Celsius(20), Tension: 0.0727, Viscosity: mu20, Density: rho20},
		Passes: []Pass{{
			Station: "dryer", Air: e, From: from, To: to, Speed: speed,
			AirT: q.Celsius(35), AirW: 0.008,
		}},
		Room: Room{Pressure: 101325, Temperature: q.Celsius(20), Humidity: 0.5, HeatTransfer: 12},
		Settings: Settings{
			Drag: 0.2, SlideShare: 0.5, HoleSpacing: 4e-3, SmallDrops: 0.1, DropSpread: 0.4,
			RecedingSpread: 8 * math.Pi / 180, Shear: 1, Pressure: 1, RunDown: 0.3,
		},
	}
}

func transported(t testing.TB, p *Problem, o TransportOptions) Outcome {
	t.Helper()
	out, err := Transport(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func zoneLeft(t testing.TB, w MachineWater, zone string) float64 {
	t.Helper()
	z, err := zoneOf(w, zone)
	if err != nil {
		t.Fatal(err)
	}
	return z.Left.Likely
}

const tiltDown = 27 * math.Pi / 180

func TestExploreCan(t *testing.T) {
	b := canBody(t, 2e-3)
	t.Logf("%d x %d, edges %v, base %v", b.Surface.Rows, b.Surface.Cols, b.Surface.Edge, b.BaseRadius)
	for _, u := range []float64{0.3, 1, 2} {
		for _, tilt := range []float64{tiltDown, 0, -tiltDown} {
			p := canProblem(t, b, knives{tilt: tilt, pressure: 20e3}, u)
			out := transported(t, p, TransportOptions{})
			z, _ := zoneOf(out.After, job.ZoneSidewall)
			t.Logf("%.1f m/s tilt %+.0f deg: sidewall %.1f mg (film %.1f drops %.1f; %s) of %.0f, largest %.2f mm; closure %.1e, blown %.0f mist %.0f drip %.0f; %.1f M cell-steps; range %.0f..%.0f mm", u, tilt*180/math.Pi,
				z.Left.Likely*1e6, z.Film*1e6, z.Drops*1e6, z.Where, out.Balance.In*1e6, z.Largest.Likely*1e3, out.Balance.Closure, out.Balance.BlownOff*1e6, out.Balance.Mist*1e6, out.Balance.Dripped*1e6, float64(out.CellSteps)/1e6, p.Passes[0].From*1e3, p.Passes[0].To*1e3)
		}
	}
}

func BenchmarkTransportCan(b *testing.B) {
	for _, c := range []struct {
		name string
		cell float64
		work int
	}{{"2mm", 2e-3, 1}, {"2mm-2cores", 2e-3, 2}, {"1mm", 1e-3, 1}, {"1mm-2cores", 1e-3, 2}} {
		b.Run(c.name, func(b *testing.B) {
			body := canBody(b, c.cell)
			p := canProblem(b, body, knives{tilt: tiltDown, pressure: 20e3}, 1)
			b.ReportAllocs()
			var steps int64
			for b.Loop() {
				steps += transported(b, p, TransportOptions{Workers: c.work}).CellSteps
			}
			b.ReportMetric(float64(steps)/b.Elapsed().Seconds()/1e6, "Mcellsteps/s")
		})
	}
}
