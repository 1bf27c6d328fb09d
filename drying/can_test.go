package drying

import (
	"math"
	"testing"

	"leste/job"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// canLine is a line of filled 330 mL cans between two air knives. Invented.
const canLine = `
leste: 1
job: cans between two knives
line:
  speed: 1 m/s
  container_gap: 14 mm
formats:
  - name: can
    container: { family: can, size: 330 standard }
    content: filled
stations:
  - name: station
    outlets:
      - { name: left, kind: air knife, side: left, height: 62 mm, stand_off: 40 mm, tilt: 25 deg, length: 260 mm, slot_gap: 1.5 mm, plenum_pressure: 20 kPa }
      - { name: right, kind: air knife, side: right, height: 62 mm, stand_off: 40 mm, tilt: 25 deg, length: 260 mm, slot_gap: 1.5 mm, plenum_pressure: 20 kPa }
`

// canCase is what the tests vary.
type canCase struct {
	speed    float64 // m/s
	pressure q.Gauge
	cell     float64
	change   func(*job.Job)
}

// problem lays the can line out and gives the problem of its can.
func (c canCase) problem(t testing.TB) *Problem {
	t.Helper()
	f, problems := job.Read("can.yaml", []byte(canLine))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	j := job.Clone(f.Job)
	if c.change != nil {
		c.change(j)
	}
	job.Fill(j)
	if c.cell == 0 {
		c.cell = 4e-3
	}
	plan, problems := station.Resolve(j, station.ResolveOptions{Cell: c.cell})
	for _, p := range problems {
		t.Log(p)
	}
	fp := plan.Formats[0]
	if c.pressure == 0 {
		c.pressure = 20e3
	}
	if c.speed == 0 {
		c.speed = 1
	}
	p := &Problem{
		Body:     fp.Body,
		Arrives:  Arrives{Film: 0.05, Drops: 0.05, DropMedian: 3.2e-3, TrappedFull: 1, PoolsFull: 0.7, Since: 5},
		Liquid:   coldWater(),
		Room:     usualRoom(),
		Settings: usualSettings(),
	}
	for _, scene := range fp.Stations {
		air := make([]station.OutletAir, len(scene.Outlets))
		for i := range air {
			air[i] = station.OutletAir{Plenum: c.pressure, Stagnation: q.Celsius(40), Humidity: 0.008, Ambient: 101325, AmbientT: q.Celsius(25)}
		}
		e, err := station.NewExposer(fp.Body, scene, air, station.ExposerOptions{})
		if err != nil {
			t.Fatal(err)
		}
		from, to := e.Range()
		p.Passes = append(p.Passes, Pass{Station: scene.Name, Air: e, From: from, To: to, Speed: c.speed, Before: 1})
	}
	return p
}

func usualRoom() Room {
	return Room{Pressure: 101325, Temperature: q.Celsius(25), Humidity: 0.5, HeatTransfer: 12}
}

func coldWater() Liquid {
	l := water.Pure(q.Celsius(20))
	return Liquid{Temperature: q.Celsius(20), Tension: float64(l.Tension), Viscosity: float64(l.Viscosity), Density: float64(l.Density)}
}

func usualSettings() Settings {
	d := water.Defaults()
	return Settings{
		Drag: d.Drag.Likely, SlideShare: d.SlideShare.Likely, HoleSpacing: d.HoleSpacing.Likely,
		SmallDrops: d.SmallDropShare.Likely, DropSpread: d.Spread.Likely, RecedingSpread: 8 * math.Pi / 180,
		Shear: 1, Pressure: 1, RunDown: d.RunDownShare.Likely, Rewetting: 0.02, MistBack: 0,
	}
}

// zone finds a zone's water.
func zone(t testing.TB, w MachineWater, name string) ZoneWater {
	t.Helper()
	z, err := zoneOf(w, name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}
