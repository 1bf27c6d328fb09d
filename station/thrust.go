package station

import (
	"cmp"
	"math"
	"slices"

	"leste/job"
	"leste/physics/jet"
)

// thrustCell is the size of the patches over which the pressure of the jets is added up to what it pushes with [m].
const thrustCell = 5e-3

// A lit patch is one that a jet from a direction may meet first.
type lit struct {
	l, a, c float64    // place along the outlet, along the air and across both, from the container's datum
	blocked float64    // distance against the air at which something else stands
	half    [2]float64 // half of how wide it is along its longer edge as the air sees it, and square to that; of plane jets the first, across the jet
	edgeL   float64    // of round jets: the longer edge, along the outlet and across it
	edgeC   float64
	per     float64 // 1 over what is half, or over the product of both
	force   Vec     // area times normal times the square of the incidence
	moment  Vec     // of that about the datum
	index   int     // among all patches
}

// span measures a patch of two edges as the air sees it. The patches of a wall lie beside each other in rows, so that
// what they cover adds up to the jet: those of a row along the longer edge, and the rows across it.
func (p *lit) span(s *source, edges [2]Vec) {
	const thin = 1e-9 // m, of a patch that the air sees from its edge
	u, v := edges[0], edges[1]
	if !s.round {
		p.half[0] = max(math.Abs(u.dot(s.across)), math.Abs(v.dot(s.across)), thin) / 2
		p.per = 1 / p.half[0]
		return
	}
	u, v = u.along(-u.dot(s.a), s.a), v.along(-v.dot(s.a), s.a)
	if u.dot(u) < v.dot(v) {
		u, v = v, u
	}
	edge := u.unit()
	p.edgeL, p.edgeC = edge.dot(s.l), edge.dot(s.across)
	p.half = [2]float64{max(u.norm(), thin) / 2, max(math.Abs(v.dot(s.a.cross(edge))), thin) / 2}
	p.per = 1 / (p.half[0] * p.half[1])
}

// within is half of the integral of exp(-y2) from y-half to y+half. The middle of a patch alone would not do: a jet near its
// lip is narrower than a patch, and would miss all middles or count as wide as the patch whose middle it meets.
func within(y, half float64) float64 {
	const narrow = 0.05 // the middle will do then
	if half < narrow {
		return half * fall(y*y)
	}
	return math.SqrtPi / 4 * (erf(y+half) - erf(y-half))
}

// light finds the patches that a source may press on. The rays of a jet are parallel and what stands in their way passes
// with the container, or is the same all along the line, so that one ray tells for every position. They are sorted by
// where they lie square to the air: of round jets along the outlet, of plane ones across it.
func (e *Exposer) light(s *source) {
	s.lit, s.patch = nil, 0
	if s.smeared || e.scene.Belt && s.mid.Z < 0 {
		return
	}
	f, rays := e.body.thrust, e.body.shape.beam(s.a)
	out := make([]lit, 0, len(f.Pos)/2)
	var order []sorted
	for i, pos := range f.Pos {
		n := &f.Normal[i]
		b := -s.a.dot(*n)
		if b <= 0 {
			continue
		}
		const off = 1e-3 // m, between the middle of a patch and the wall
		far := pos.along(-farthest, s.a)
		if rays.before(far, farthest-off) < farthest-off {
			continue
		}
		p := lit{
			l: pos.dot(s.l), a: pos.dot(s.a), c: pos.dot(s.across), index: i, force: n.scale(-b * b * f.Area[i]), blocked: math.Inf(1),
		}
		p.moment = pos.cross(p.force)
		p.span(s, f.edges(i))
		for _, dx := range e.scene.Neighbours {
			if t := rays.before(Vec{far.X - dx, far.Y, far.Z}, farthest); t < farthest {
				p.blocked = math.Min(p.blocked, farthest-t)
			}
		}
		for k := range e.scene.Rails {
			if t := e.scene.Rails[k].ray(far, s.a); t < farthest {
				p.blocked = math.Min(p.blocked, farthest-t)
			}
		}
		s.patch = max(s.patch, math.Hypot(p.half[0], p.half[1]))
		at := p.c
		if s.round {
			at = p.l
		}
		order = append(order, sorted{at, len(out)})
		out = append(out, p)
	}
	slices.SortFunc(order, func(a, b sorted) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.i, b.i)) })
	s.lit = make([]lit, len(out))
	for i, o := range order {
		s.lit[i] = out[o.i]
	}
}

// sorted is where a patch lies, and which it is.
type sorted struct {
	at float64
	i  int
}

// edges are those of a cell on the wall, along the profile and around.
func (s *Surface) edges(i int) [2]Vec {
	return [2]Vec{s.Along[i].scale(s.StepS[i/s.Cols]), s.Around[i].scale(s.StepA[i])}
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
	core := jet.RoundDistanceSI(0, s.thrust, s.pg)
	la, lc := o.dot(s.a), o.dot(s.across)
	for _, z := range s.ports {
		p := o.along(z, s.l)
		c := middle.sub(p)
		along := c.dot(s.a)
		widest := goneAt / roundFor * max(along+ball, core)
		if along+ball <= 0 || math.Sqrt(max(0, c.dot(c)-along*along)) > ball+widest {
			continue
		}
		ll := p.dot(s.l)
		far := widest + s.patch
		first, _ := slices.BinarySearchFunc(s.lit, ll-far, func(t lit, l float64) int { return cmp.Compare(t.l, l) })
		for i := first; i < len(s.lit); i++ {
			t := &s.lit[i]
			dl, dc, along := t.l-ll, t.c-lc, t.a-la
			if dl > far {
				break
			}
			if dc > far || dc < -far || along <= minX || along > t.blocked {
				continue
			}
			k := roundFor / max(along, core)
			u, v := math.Abs(dl*t.edgeL+dc*t.edgeC)*k, math.Abs(dc*t.edgeL-dl*t.edgeC)*k
			halfU, halfV := t.half[0]*k, t.half[1]*k
			if offU, offV := max(0, u-halfU), max(0, v-halfV); offU*offU+offV*offV > gone {
				continue
			}
			if open := e.open(t, s.a, along, x); open > 0 {
				l.add(t, open*jet.RoundImpact/jet.RoundShapeC*s.thrust*t.per*within(u, halfU)*within(v, halfV))
			}
		}
	}
}

func (e *Exposer) pressPlane(s *source, o Vec, x float64, l *Load) {
	h := e.body.shape
	core := jet.PlaneDistanceSI(0, s.thrust, s.pg)
	ll, la, lc := o.dot(s.l), o.dot(s.a), o.dot(s.across)
	ball := math.Hypot(h.radius, (h.high-h.low)/2)
	far := goneAt/planeFor*max((h.low+h.high)/2*s.a.Z-la+ball, core) + s.patch
	first, _ := slices.BinarySearchFunc(s.lit, lc-far, func(t lit, c float64) int { return cmp.Compare(t.c, c) })
	for i := first; i < len(s.lit); i++ {
		t := &s.lit[i]
		z, along, dc := t.l-ll, t.a-la, t.c-lc
		if dc > far {
			break
		}
		if along <= minX || along > t.blocked {
			continue
		}
		k := planeFor / max(along, core)
		y, half := math.Abs(dc)*k, t.half[0]*k
		if y-half > goneAt {
			continue
		}
		m := s.perLength(z, along)
		if m <= 0 {
			continue
		}
		if open := e.open(t, s.a, along, x); open > 0 {
			l.add(t, open*jet.PlaneImpact*m/planeFor*t.per*within(y, half))
		}
	}
}

// open is the share of a patch that no grip and no obstacle stands before. They stay where they are while the container
// passes, so that patches come out from behind them one by one: taken whole, the push would jump.
func (e *Exposer) open(t *lit, a Vec, along, x float64) float64 {
	if len(e.scene.Grips) == 0 && len(e.scene.Obstacles) == 0 {
		return 1
	}
	return e.uncovered(t, a, along, x)
}

// uncovered is open where there are some.
func (e *Exposer) uncovered(t *lit, a Vec, along, x float64) float64 {
	pos, edges := e.body.thrust.Pos[t.index], e.body.thrust.edges(t.index)
	free := func(u, v float64) bool {
		return !e.boxed(pos.along(u, edges[0]).along(v, edges[1]).along(-along, a), a, along, x)
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
	l.Force = l.Force.along(pressure, t.force)
	l.Moment = l.Moment.along(pressure, t.moment)
}
