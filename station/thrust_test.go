package station

import (
	"math"
	"testing"

	"leste/job"
)

// What a jet pushes with changes evenly as the rim of a can passes through it. Told by the pressures of the cells it
// jumped by a third of the thrust within a millimetre, and what tips a can hung on where it was looked at.
func TestLawThrustChangesEvenlyAcrossARim(t *testing.T) {
	b := familyBody(t, "can", "250 slim", 5e-3)
	_, a := frame(left, 0, deg(45), 0)
	const thrust, step = 1.5, 1e-3
	for _, height := range []float64{0.9, 0.97, 1.05} {
		mid := Vec{0, 0, height * b.Height}.along(-0.08, a)
		e := exposed(b, roundSource(mid, a, thrust, 3e3))
		push := func(x float64) Vec { return e.thrust(x).Force }
		for x := -0.06; x <= 0.06; x += step {
			bend := push(x+step).along(-2, push(x)).along(1, push(x-step)).norm()
			if bend > 0.01*thrust {
				t.Errorf("lip at %.2f of the height, axis at %.0f mm: the push bends by %.3f N in a millimetre", height, x*1e3, bend)
			}
		}
	}
}

// The push does not depend on the grid that the water is followed on, but for the shear, which is small.
func TestLawThrustIsTheSameOnEveryGrid(t *testing.T) {
	var at [3]Load
	for i, cell := range []float64{10e-3, 5e-3, 2e-3} {
		b := familyBody(t, "can", "330 standard", cell)
		l, a := frame(left, deg(25), deg(10), deg(5))
		e := exposed(b, planeSource(Vec{0, 73e-3, 70e-3}, l, a, 0.3, 42, 20e3))
		at[i] = e.thrust(20e-3)
	}
	if at[0] != at[1] || at[1] != at[2] {
		t.Errorf("pushes %+v", at)
	}
	if at[0].Force.norm() < 1 {
		t.Errorf("the knife hardly pushes: %+v", at[0])
	}
}

// Reference: the momentum of the jet that is square to the wall, added up over a cylinder by hand: a slot along its axis
// presses each strip with its part of the momentum times the square of the cosine of the incidence, over the strip's own
// cosine once.
func TestReferenceThrustOnACylinder(t *testing.T) {
	const radius, lip, thrust, pg, length = 33e-3, 83e-3, 35.5, 20e3, 0.1
	b := tube(t, 0.2, 4e-3)
	e := exposed(b, planeSource(Vec{0, lip, 0.1}, Vec{0, 0, 1}, Vec{0, -1, 0}, length, thrust, pg))
	sum := 0.0
	const parts = 20_000
	for k := range parts {
		x := radius * (2*(float64(k)+0.5)/parts - 1)
		cos := math.Sqrt(1 - x*x/radius/radius)
		he := max(lip-radius*cos, 3.5*thrust/pg) // relation impact-pressure: the core keeps the plenum pressure
		sum += 3.5 * thrust / he * math.Exp(-38.5*x*x/he/he) * cos * cos * 2 * radius / parts
	}
	// The ends of the slot spread: what is missing on it arrives beyond.
	if got, want := -e.thrust(0).Force.Y, sum*length; math.Abs(got-want) > 0.02*want {
		t.Errorf("force %.3f N, by hand %.3f", got, want)
	}
}

// A neighbour or a rail that stands in the way takes the push.
func TestLawThrustIsTakenByWhatStandsInTheWay(t *testing.T) {
	b := can(t, 4e-3)
	for name, c := range map[string]struct {
		source source
		stand  func(s *Scene)
	}{
		"neighbour": {planeSource(Vec{-0.15, 0, 60e-3}, Vec{0, 1, 0}, Vec{1, 0, 0}, 0.06, 50, 20e3), func(s *Scene) { s.Neighbours = []float64{-66e-3, 66e-3} }},
		"rail":      {roundSource(Vec{0, 90e-3, 60e-3}, Vec{0, -1, 0}, 1.5, 3e3), func(s *Scene) { s.Rails = []Bar{{Y: 45e-3, Z: 60e-3, Radius: 10e-3}} }},
		"grip": {roundSource(Vec{0, 90e-3, 60e-3}, Vec{0, -1, 0}, 1.5, 3e3), func(s *Scene) {
			s.Obstacles = []job.Box{{XFrom: -0.1, XTo: 0.1, YFrom: 40e-3, YTo: 50e-3, ZFrom: 20e-3, ZTo: 100e-3}}
		}},
	} {
		free, shut := exposed(b, c.source), exposed(b, c.source)
		c.stand(&shut.scene)
		shut.prepare()
		with, without := shut.thrust(0).Force.norm(), free.thrust(0).Force.norm()
		if without < 1 || with > 0.3*without {
			t.Errorf("%s: the jet pushes with %.2f N behind it, with %.2f N alone", name, with, without)
		}
	}
}

// A jet that a wall takes whole pushes with its momentum, wherever it stands and however near: read at the middles of
// patches alone, a jet narrower than a patch pushed with nothing or with four times as much.
func TestLawThrustIsTheMomentumHoweverNear(t *testing.T) {
	wall := slab(t, 0.2, 0.2, 4e-3)
	const thrust, slot, pg = 0.25, 35.5, 20e3
	l := Vec{math.Cos(deg(30)), 0, math.Sin(deg(30))} // every place of the lip is as near to the wall
	a := Vec{0, -math.Cos(deg(25)), 0}.along(math.Sin(deg(25)), Vec{l.Z, 0, -l.X})
	sine := -a.Y
	for _, lip := range []float64{5e-3, 10e-3, 20e-3, 40e-3} {
		for dx := 0.0; dx < 5e-3; dx += 0.7e-3 {
			at := Vec{dx, 100e-3, 0.1 + dx/2}
			for name, c := range map[string]struct {
				e    *Exposer
				want float64
			}{
				"nozzle at right angles": {exposed(wall, roundSource(at.along(lip, Vec{0, 1, 0}), Vec{0, -1, 0}, thrust, pg)), thrust},
				"nozzle aslant":          {exposed(wall, roundSource(at.along(-lip, a), a, thrust, pg)), thrust * sine},
				"level knife":            {exposed(wall, planeSource(at.along(lip, Vec{0, 1, 0}), Vec{1, 0, 0}, Vec{0, -1, 0}, 0.06, slot, pg)), 0.06 * slot},
				"knife aslant":           {exposed(wall, planeSource(at.along(-lip, a), l, a, 0.06, slot, pg)), 0.06 * slot * sine},
			} {
				// The ends of a short knife fall between patches.
				if got := -c.e.thrust(0).Force.Y; math.Abs(got-c.want) > 0.06*c.want {
					t.Errorf("%s, lip at %.0f mm, %.1f mm beside: %.3f N, the momentum is %.3f", name, lip*1e3, dx*1e3, got, c.want)
				}
			}
		}
	}
}

// What a jet pushes with changes evenly as the wall comes out from behind something that stands in a part of the jet.
// Patches that were behind it whole or not at all let it jump by a third of the jet within a millimetre.
func TestLawThrustChangesEvenlyBehindAnObstacle(t *testing.T) {
	b := can(t, 4e-3)
	for name, s := range map[string]source{
		"upright knife": planeSource(Vec{0, 73e-3, 60e-3}, Vec{0, 0, 1}, Vec{0.26, -0.9656, 0}.unit(), 0.08, 40, 20e3),
		"level knife":   planeSource(Vec{0, 73e-3, 60e-3}, Vec{1, 0, 0}, Vec{0, -1, 0}, 0.06, 40, 20e3),
		"nozzle":        roundSource(Vec{0, 90e-3, 60e-3}, Vec{0.2, -0.95, -0.1}.unit(), 1.5, 3e3),
	} {
		free, e := exposed(b, s), exposed(b, s)
		e.scene.Obstacles = []job.Box{{XFrom: 5e-3, XTo: 60e-3, YFrom: 40e-3, YTo: 50e-3, ZFrom: 20e-3, ZTo: 100e-3}}
		most := free.thrust(0).Force.norm()
		const step = 1e-3
		for x := -0.08; x <= 0.08; x += step {
			bend := e.thrust(x-step).Force.along(-2, e.thrust(x).Force).along(1, e.thrust(x+step).Force).norm()
			if bend > 0.1*most {
				t.Errorf("%s, axis at %.0f mm: the push bends by %.0f %% of all of it in a millimetre", name, x*1e3, 100*bend/most)
			}
		}
	}
}
