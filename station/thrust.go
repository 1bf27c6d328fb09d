package station

import (
	"math"

	"leste/job"
	"leste/physics/jet"
)

// thrustCell is the size of the patches over which the pressure of the jets is added up to what it pushes with [m].
const thrustCell = 5e-3

// A lit patch is one that a jet from a direction may meet first.
type lit struct {
	pos     Vec
	push    Vec        // area times normal times the square of the incidence
	blocked float64    // distance against the air at which something else stands
	edges   [2]Vec     // of round jets: the patch as the air sees it, along its longer edge and square to that
	half    [2]float64 // half of how wide it is that way; of plane jets the first, across the jet
	u, v    Vec        // its edges on the wall
}

// span measures a patch of edges u and v as the air sees it. The patches of a wall lie beside each other in rows, so that
// what they cover adds up to the jet: those of a row along the longer edge, and the rows across it.
func (p *lit) span(s *source, u, v Vec) {
	p.u, p.v = u, v
	if !s.round {
		p.half[0] = math.Max(math.Abs(u.dot(s.across)), math.Abs(v.dot(s.across))) / 2
		return
	}
	u, v = u.along(-u.dot(s.a), s.a), v.along(-v.dot(s.a), s.a)
	if u.dot(u) < v.dot(v) {
		u, v = v, u
	}
	p.edges[0] = u.unit()
	p.edges[1] = s.a.cross(p.edges[0])
	p.half = [2]float64{u.norm() / 2, math.Abs(v.dot(p.edges[1])) / 2}
}

// share is the mean of exp(-y2) from y-half to y+half. At the middle of a patch alone it would not do: a jet near its lip
// is narrower than a patch, and would miss all middles or count as wide as the patch whose middle it meets.
func share(y, half float64) float64 {
	const narrow = 0.05 // the mean is that of the middle then
	if half < narrow {
		return math.Exp(-y * y)
	}
	return math.Sqrt(math.Pi) / 4 * (math.Erf(y+half) - math.Erf(y-half)) / half
}

// light finds the patches that a source may press on. The rays of a jet are parallel and what stands in their way passes
// with the container, or is the same all along the line, so that one ray tells for every position.
func (e *Exposer) light(s *source) []lit {
	if s.smeared || e.scene.Belt && s.mid.Z < 0 {
		return nil
	}
	f := e.body.thrust
	out := make([]lit, 0, len(f.Pos)/2)
	for i, pos := range f.Pos {
		n := f.Normal[i]
		b := -s.a.dot(n)
		if b <= 0 {
			continue
		}
		const off = 1e-3 // m, between the middle of a patch and the wall
		far := pos.along(-farthest, s.a)
		t, _, ok := e.body.shape.ray(far, s.a)
		if ok && t < farthest-off {
			continue
		}
		p := lit{pos: pos, push: n.scale(-b * b * f.Area[i]), blocked: math.Inf(1)}
		p.span(s, f.Along[i].scale(f.StepS[i/f.Cols]), f.Around[i].scale(f.StepA[i]))
		for _, dx := range e.scene.Neighbours {
			if t, _, ok := e.body.shape.ray(Vec{far.X - dx, far.Y, far.Z}, s.a); ok && t < farthest {
				p.blocked = math.Min(p.blocked, farthest-t)
			}
		}
		for k := range e.scene.Rails {
			if t := e.scene.Rails[k].ray(far, s.a); t < farthest {
				p.blocked = math.Min(p.blocked, farthest-t)
			}
		}
		out = append(out, p)
	}
	return out
}

// thrust adds up what the jets press the container with when its axis is at x: every patch takes of the momentum in its
// part of the jet what is square to it. On a flat wall the sum is the momentum of the jet times the sine of its
// incidence, as that of the pressures of the cells is. These stand for a wall of one piece around the point that the axis
// meets and jump where a rim passes by; the sum over patches changes evenly, and is the same on every grid.
func (e *Exposer) thrust(x float64) Load {
	l := Load{X: x}
	if x < e.from || x > e.to {
		return l
	}
	for i := range e.sources {
		s := &e.sources[i]
		if s.smeared {
			continue // its nozzles carry the momentum
		}
		own := Load{}
		o := s.lip(x)
		if _, _, _, ok := e.window(s, o); !ok {
			continue
		}
		if s.round {
			e.pressRound(s, o, x, &own)
		} else {
			e.pressPlane(s, o, x, &own)
		}
		if s.paired {
			own.Force, own.Moment = Vec{2 * own.Force.X, 0, 2 * own.Force.Z}, Vec{0, 2 * own.Moment.Y, 0}
		}
		l.Force, l.Moment = l.Force.along(s.press, own.Force), l.Moment.along(s.press, own.Moment)
	}
	return l
}

// gone is the exponent at which a jet's pressure ends: 3e-4 of that on its axis.
const gone = 8.0

// Roots of exponents, which do not change.
var (
	goneAt   = math.Sqrt(gone)
	planeFor = math.Sqrt(jet.PlaneShapeC)
	roundFor = math.Sqrt(jet.RoundShapeC)
)

func (e *Exposer) pressRound(s *source, o Vec, x float64, l *Load) {
	h := e.body.shape
	middle := Vec{0, 0, (h.low + h.high) / 2}
	ball := math.Hypot(h.radius, (h.high-h.low)/2)
	reach := goneAt / roundFor
	for _, z := range s.ports {
		p := o.along(z, s.l)
		c := middle.sub(p)
		along := c.dot(s.a)
		widest := reach * jet.RoundDistanceSI(math.Max(along+ball, minX), s.thrust, s.pg)
		if along+ball <= 0 || math.Sqrt(math.Max(0, c.dot(c)-along*along)) > ball+widest {
			continue
		}
		for i := range s.lit {
			t := &s.lit[i]
			d := t.pos.sub(p)
			along := d.dot(s.a)
			u, v := math.Abs(d.dot(t.edges[0])), math.Abs(d.dot(t.edges[1]))
			if along <= minX || u > widest+t.half[0] || v > widest+t.half[1] || along > t.blocked {
				continue
			}
			hx := jet.RoundDistanceSI(along, s.thrust, s.pg)
			k := roundFor / hx
			if offU, offV := math.Max(0, u-t.half[0])*k, math.Max(0, v-t.half[1])*k; offU*offU+offV*offV > gone {
				continue
			}
			if open := e.open(t, s.a, along, x); open > 0 {
				l.add(t, open*jet.RoundImpact*s.thrust/(hx*hx)*share(u*k, t.half[0]*k)*share(v*k, t.half[1]*k))
			}
		}
	}
}

func (e *Exposer) pressPlane(s *source, o Vec, x float64, l *Load) {
	for i := range s.lit {
		t := &s.lit[i]
		d := t.pos.sub(o)
		along, z := d.dot(s.a), d.dot(s.l)
		if along <= minX || along > t.blocked {
			continue
		}
		hx := jet.PlaneDistanceSI(along, s.thrust, s.pg)
		k := planeFor / hx
		y, half := math.Abs(d.dot(s.across))*k, t.half[0]*k
		if y-half > goneAt {
			continue
		}
		m := s.perLength(z, along)
		if m <= 0 {
			continue
		}
		if open := e.open(t, s.a, along, x); open > 0 {
			l.add(t, open*jet.PlaneImpact*m/hx*share(y, half))
		}
	}
}

// open is the share of a patch that no grip and no obstacle stands before. They stay where they are while the container
// passes, so that patches come out from behind them one by one: taken whole, the push would jump.
func (e *Exposer) open(t *lit, a Vec, along, x float64) float64 {
	if len(e.scene.Grips) == 0 && len(e.scene.Obstacles) == 0 {
		return 1
	}
	free := func(u, v float64) bool {
		return !e.boxed(t.pos.along(u, t.u).along(v, t.v).along(-along, a), a, along, x)
	}
	middle := free(0, 0)
	if middle == free(-0.5, -0.5) && middle == free(-0.5, 0.5) && middle == free(0.5, -0.5) && middle == free(0.5, 0.5) {
		if middle {
			return 1
		}
		return 0
	}
	const parts = 9
	n := 0
	for i := range parts {
		for k := range parts {
			if free((float64(i)+0.5)/parts-0.5, (float64(k)+0.5)/parts-0.5) {
				n++
			}
		}
	}
	return float64(n) / (parts * parts)
}

// boxed reports whether a grip or an obstacle stands in a ray's way; o is in the container's frame.
func (e *Exposer) boxed(o, d Vec, limit, x float64) bool {
	o.X += x
	for _, boxes := range [2][]job.Box{e.scene.Grips, e.scene.Obstacles} {
		for i := range boxes {
			if rayBox(&boxes[i], o, d) < limit {
				return true
			}
		}
	}
	return false
}

// add presses on a patch.
func (l *Load) add(t *lit, pressure float64) {
	f := t.push.scale(pressure)
	l.Force = l.Force.along(1, f)
	l.Moment = l.Moment.along(1, t.pos.cross(f))
}
