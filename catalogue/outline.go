package catalogue

import (
	"math"

	"leste/job"
	q "leste/quantity"
)

var nan = math.NaN()

// A pen draws a profile in millimetres.
type pen struct {
	steps []job.ProfileStep
	r, z  float64
}

// start sets the centre of the base.
func start(z float64) *pen {
	return &pen{steps: []job.ProfileStep{{Height: q.Millimetres(z)}}, z: z}
}

// to draws a straight line to radius r and height z; the corner there is rounded by fillet unless 0.
func (p *pen) to(zone string, r, z, fillet float64) *pen { return p.arc(zone, r, z, 0, fillet) }

// arc draws an arc of the radius bulge, outward when positive.
func (p *pen) arc(zone string, r, z, bulge, fillet float64) *pen {
	s := job.ProfileStep{Radius: q.Millimetres(r), Height: q.Millimetres(z), Zone: zone}
	if bulge != 0 {
		s.Bulge = q.Known(q.Millimetres(bulge))
	}
	if fillet > 0 {
		s.Fillet = q.Known(q.Millimetres(fillet))
	}
	p.steps = append(p.steps, s)
	p.r, p.z = r, z
	return p
}

// dome draws a spherical dome of the rise given, sunk into the body, from its centre to radius r.
func (p *pen) dome(zone string, r, rise float64) *pen {
	return p.arc(zone, r, p.z-rise, -(r*r+rise*rise)/(2*rise), 0)
}

func mm(x float64) q.Maybe[q.Length] { return q.Known(q.Millimetres(x)) }
