package station

import (
	"math"

	"leste/physics/jet"
)

// An aspect is what does not depend on where the container stands of a source before a body. Wall and jets keep their
// directions while the container passes, so that much of what a jet does to a cell is known once for all positions.
type aspect struct {
	views []view // by cell
	rays  *beam  // along the air

	core   float64 // distance up to which the jet keeps the plenum pressure; not of merged jets
	speed  float64 // impact velocity times the distance, of a slot times its root
	shear  float64 // greatest shear times the square of the distance; not of a slot
	heat   float64 // share of the excess temperature over the impact velocity
	perGap float64 // ports: 1 over the distance between two; 0 where they are not as far apart from each other
}

// A view is a cell as a source sees it.
type view struct {
	l, a, c float64 // place along the outlet, along the air and across both, from the container's datum
	b       float64 // cosine between the air and the way into the wall
	slip    float64 // sine of it: what is left of the velocity along the wall
	grip    float64 // share of the shear that a wall feels which the air grazes
	as, aa  float64 // components of the air's direction along the wall
}

// look works out the aspect of a source.
func (e *Exposer) look(s *source) *aspect {
	p := &aspect{views: make([]view, len(e.cells)), perGap: evenly(s.ports), rays: e.body.shape.beam(s.a)}
	for i := range e.cells {
		c := &e.cells[i]
		b := -s.a.dot(c.normal)
		p.views[i] = view{
			l: c.pos.dot(s.l), a: c.pos.dot(s.a), c: c.pos.dot(s.across), b: b, slip: math.Sqrt(max(0, 1-b*b)), grip: min(1, b*5),
			as: s.a.dot(c.along), aa: s.a.X*c.ax + s.a.Y*c.ay, // a + b n has the same components along the wall
		}
	}
	if s.round {
		p.core = jet.RoundDistanceSI(0, s.thrust, s.pg)
		p.speed = math.Sqrt(2 * jet.RoundImpact * s.thrust / s.rho)
		p.shear = jet.MaxWallShearSI(jet.RoundShear, p.speed, 1, s.rho, s.nu) * s.shear
		p.heat = 0.85 * jet.RoundDecay * math.Sqrt(4*s.thrust/(math.Pi*s.rho)) / s.exit / p.speed
		return p
	}
	p.core = jet.PlaneDistanceSI(0, s.thrust, s.pg)
	p.speed = math.Sqrt(2 * jet.PlaneImpact / s.rho)
	p.heat = 0.9 * jet.PlaneDecay / math.Sqrt(2*jet.PlaneImpact) / s.exit
	return p
}

// evenly is 1 over the distance between neighbours among places that rise in even steps, 0 for others.
func evenly(places []float64) float64 {
	n := len(places)
	if n < 2 {
		return 0
	}
	step := (places[n-1] - places[0]) / float64(n-1)
	for i, p := range places {
		if !(step > 0) || math.Abs(p-places[0]-step*float64(i)) > 1e-3*step {
			return 0
		}
	}
	return 1 / step
}
