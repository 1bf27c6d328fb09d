package airsupply

import (
	"context"
	"math"
	"testing"

	"leste/physics/air"
	"leste/physics/jet"
	q "leste/quantity"
)

// A station taken at the plenum pressures of its own solution gives the same jets.
func TestLawFixedPressureAgreesWithSolve(t *testing.T) {
	n := worked(1.2e-3)
	c := site500()
	op, err := Solve(context.Background(), n, c)
	if err != nil {
		t.Fatal(err)
	}
	measured := Wanted{}
	for _, o := range op.Outlets {
		measured[o.Name] = o.DeadEnd
	}
	got, err := FixedPressure(n.Outlets, measured, c.Inlet, op.Outlets[0].Stagnation)
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range got.Outlets {
		near(t, "flow", float64(o.Flow), float64(op.Outlets[i].Flow), 1e-9)
		near(t, "feed", float64(o.Feed), float64(op.Outlets[i].Feed), 1e-3)
		near(t, "thrust", float64(o.Thrust), float64(op.Outlets[i].Thrust), 1e-6)
		near(t, "velocity", float64(o.Velocity), float64(op.Outlets[i].Velocity), 1e-6)
	}
}

// The mass flow of a choked nozzle and the law of the discharge relations are the same formula.
func TestLawHeaderIsChoked(t *testing.T) {
	room := air.Humid(101325, q.Celsius(20), 0)
	o := Outlet{Name: "N", Kind: Round, Area: 1e-4, Bore: 0.0113, Count: 1, Cd: 0.97, Cv: 0.97}
	op, err := Header([]Outlet{o}, 5e5, room)
	if err != nil {
		t.Fatal(err)
	}
	d := jet.GasOf(room).Isentropic(5e5+101325, room.T, 101325)
	if !d.Choked {
		t.Fatal("5 bar is not choked")
	}
	near(t, "flow", float64(op.Outlets[0].Flow), 0.97*1e-4*float64(d.MassFlux), 1e-12)
	near(t, "thrust", float64(op.Thrust), float64(d.Thrust(0.97, 0.97, 1e-4)), 1e-9)
}

func TestLawFixedPressureRefuses(t *testing.T) {
	room := air.Humid(101325, q.Celsius(20), 0.5)
	good := worked(1.2e-3).Outlets
	bad := worked(1.2e-3).Outlets
	bad[0].Area = q.Area(math.NaN())
	for name, f := range map[string]func() error{
		"no pressure":    func() error { _, err := FixedPressure(good, Wanted{"K1": 1e4}, room, 0); return err },
		"unknown outlet": func() error { _, err := FixedPressure(good, Wanted{"K9": 1e4}, room, 0); return err },
		"NaN pressure": func() error {
			_, err := FixedPressure(good, Wanted{"K1": q.Gauge(math.NaN()), "K2": 1}, room, 0)
			return err
		},
		"negative pressure": func() error { _, err := FixedPressure(good, Wanted{"K1": -1, "K2": 1}, room, 0); return err },
		"NaN area":          func() error { _, err := FixedPressure(bad, Wanted{"K1": 1e4, "K2": 1e4}, room, 0); return err },
		"no air":            func() error { _, err := FixedPressure(good, Wanted{"K1": 1e4, "K2": 1e4}, air.Moist{}, 0); return err },
	} {
		if f() == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
