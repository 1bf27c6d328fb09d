package station

import "math"

// A shape answers where a ray meets the wall of a body. Rays are in the body's frame.
type shape struct {
	section      section
	segments     []segment
	radius       float64 // of the circle about the axis that holds the body
	bound        float64 // largest radius of the profile
	low, high    float64
	halfX, halfY float64
	levels       []level // from low to high, of equal height
	perLevel     float64 // 1 over that height
}

// A level is a slice of the body: segments [first, last) are all that reach into it.
type level struct{ first, last int }

const levelCount = 64

// slice finds the segments of each level.
func (s *shape) slice() {
	s.levels, s.perLevel = make([]level, levelCount), levelCount/(s.high-s.low)
	for i := range s.levels {
		s.levels[i] = level{len(s.segments), 0}
	}
	for i := range s.segments {
		g := &s.segments[i]
		for k := s.levelOf(g.zmin); k <= s.levelOf(g.zmax); k++ {
			l := &s.levels[k]
			l.first, l.last = min(l.first, i), max(l.last, i+1)
		}
	}
}

// levelOf is the level of a height.
func (s *shape) levelOf(z float64) int {
	return min(max(int((z-s.low)*s.perLevel), 0), levelCount-1)
}

// within are the segments [first, last) among which are all that reach between two heights, in their order.
func (s *shape) within(za, zb float64) (first, last int) {
	first = len(s.segments)
	for k := s.levelOf(za); k <= s.levelOf(zb); k++ {
		first, last = min(first, s.levels[k].first), max(last, s.levels[k].last)
	}
	return first, last
}

// A segment is one straight step of the sampled profile: a frustum of the body.
type segment struct {
	r0, z0, r1, z1 float64
	zmin, zmax     float64
	slope          float64 // dr/dz
	flat           bool    // z does not change: a ring that faces up or down
	nr0, nz0       float64 // outward normals at its two ends
	nr1, nz1       float64
}

// finest turn of the sampled profile between two normals; normals are interpolated between.
const turn = math.Pi / 16

func newShape(o *outline, g section) *shape {
	s := &shape{section: g, bound: o.radius, low: o.low, high: o.high}
	s.halfX, s.halfY = g.kx*o.radius, g.ky*o.radius
	s.radius = o.radius
	switch g.shape {
	case oval:
		s.radius = math.Max(s.halfX, s.halfY)
	case roundedRectangle:
		s.radius = math.Hypot(s.halfX-g.corner*o.radius, s.halfY-g.corner*o.radius) + g.corner*o.radius
	}
	pts := o.sample(turn)
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		t := segment{
			r0: a.r, z0: a.z, r1: b.r, z1: b.z, zmin: math.Min(a.z, b.z), zmax: math.Max(a.z, b.z),
			nr0: a.nr, nz0: a.nz, nr1: a.er, nz1: a.ez,
		}
		t.flat = t.zmax-t.zmin < 1e-9
		if !t.flat {
			t.slope = (b.r - a.r) / (b.z - a.z)
		}
		s.segments = append(s.segments, t)
	}
	s.slice()
	return s
}

// A beam is the rays of one direction. What does not depend on where they start is worked out once for all of them.
type beam struct {
	s          *shape
	d          Vec
	plan       float64 // square of its length in the plan view
	past       float64 // the body is surely passed by where the square of the way beside it, times that length, is above
	kx, ky     float64 // scale by which the section is a circle; distances along a ray do not change
	dx, dy, a2 float64 // so scaled
	cones      []cone  // by segment
}

// A cone is how a segment meets a beam: by how much its radius changes along a ray, and what is left of the ray's a2 then.
type cone struct{ w, a float64 }

// beam readies the rays along the unit vector d.
func (s *shape) beam(d Vec) *beam {
	b := &beam{s: s, d: d, plan: d.X*d.X + d.Y*d.Y, kx: 1 / s.section.kx, ky: 1 / s.section.ky}
	b.past = b.plan * s.radius * s.radius * (1 + 1e-9)
	if b.plan < 1e-18 {
		b.past = math.Inf(1)
	}
	b.dx, b.dy = d.X*b.kx, d.Y*b.ky
	b.a2 = b.dx*b.dx + b.dy*b.dy
	if s.section.shape == roundedRectangle {
		return b
	}
	b.cones = make([]cone, len(s.segments))
	for i := range s.segments {
		w := s.segments[i].slope * d.Z
		b.cones[i] = cone{w, b.a2 - w*w}
	}
	return b
}

// ray finds where the ray from o along the unit vector d first enters the body: the distance and the
// outward normal. It reports false for a miss.
func (s *shape) ray(o, d Vec) (t float64, n Vec, ok bool) {
	return s.beam(d).ray(o)
}

// ray is the ray of a beam that starts at o.
func (b *beam) ray(o Vec) (t float64, n Vec, ok bool) {
	t, at := b.meet(o, math.Inf(1))
	if at < 0 {
		return 0, Vec{}, false
	}
	return t, b.s.normal(at, o.along(t, b.d)), true
}

// before is the distance at which the ray from o first enters the body, limit where it does not before that.
func (b *beam) before(o Vec, limit float64) float64 {
	if t, at := b.meet(o, limit); at >= 0 {
		return t
	}
	return limit
}

// meet finds the distance at which the ray from o first enters the body before limit, and the segment; -1 when none.
func (b *beam) meet(o Vec, limit float64) (t float64, at int) {
	s, d := b.s, &b.d
	if d.X == 0 && d.Y == 0 && o.X*o.X+o.Y*o.Y < 1e-12 {
		o.X += 1e-6 // on the axis every cone is a point and has no direction
	}
	from, to, ok := b.span(o)
	if to = min(to, limit); !ok || from > to {
		return 0, -1
	}
	za, zb := o.Z+from*d.Z, o.Z+to*d.Z
	if za > zb {
		za, zb = zb, za
	}
	za -= 1e-9
	zb += 1e-9
	if s.section.shape == roundedRectangle {
		return s.meetGauge(o, *d, from, to, za, zb, limit)
	}
	ox, oy := o.X*b.kx, o.Y*b.ky
	b2 := ox*b.dx + oy*b.dy
	c2 := ox*ox + oy*oy
	best, at := limit, -1
	first, last := s.within(za, zb)
	for i := first; i < last; i++ {
		g := &s.segments[i]
		if g.zmin > zb || g.zmax < za {
			continue
		}
		if g.flat {
			if d.Z == 0 || d.Z*g.nz0 >= 0 {
				continue
			}
			t := (g.z0 - o.Z) / d.Z
			if t < 0 || t >= best {
				continue
			}
			r2 := c2 + t*(2*b2+t*b.a2)
			lo, hi := min(g.r0, g.r1), max(g.r0, g.r1)
			if r2 >= lo*lo && r2 <= hi*hi {
				best, at = t, i
			}
			continue
		}
		// (o + t d) on the cone r = p + t w
		k := &b.cones[i]
		p := g.r0 + g.slope*(o.Z-g.z0)
		h, c := b2-p*k.w, c2-p*p
		var t, later float64 // where it meets the cone; what the later one is over its a
		if math.Abs(k.a) < 1e-12 {
			if h == 0 {
				continue
			}
			t, later = -c/(2*h), math.Inf(1)
		} else {
			q := h*h - k.a*c
			if q < 0 {
				continue
			}
			q = math.Copysign(math.Sqrt(q), k.a)
			t, later = (-h-q)/k.a, -h+q
		}
		for n := range 2 {
			if n == 1 {
				t = later / k.a
			}
			if t >= best {
				break
			}
			z := o.Z + t*d.Z
			if t < 0 || z < g.zmin-1e-10 || z > g.zmax+1e-10 {
				continue
			}
			// Entering: the cone's radius grows past the ray's distance when the wall faces out.
			r := p + t*k.w
			in := b2 + t*b.a2 - r*k.w // half the rate of (distance2 - r2)
			if g.inward() {
				in = -in
			}
			if in < 0 {
				best, at = t, i
				break
			}
		}
	}
	return best, at
}

// inward reports whether the wall faces the axis.
func (g *segment) inward() bool { return g.nr0+g.nr1 < 0 }

// span clips the ray from o to the box and the cylinder that hold the body.
func (b *beam) span(o Vec) (from, to float64, ok bool) {
	s, d := b.s, &b.d
	if beside := o.X*d.Y - o.Y*d.X; beside*beside > b.past {
		return 0, 0, false
	}
	from, to = 0, math.Inf(1)
	if d.Z != 0 {
		a, b := (s.low-o.Z)/d.Z, (s.high-o.Z)/d.Z
		if a > b {
			a, b = b, a
		}
		from, to = max(from, a), min(to, b)
	} else if o.Z < s.low || o.Z > s.high {
		return 0, 0, false
	}
	h := o.X*d.X + o.Y*d.Y
	c := o.X*o.X + o.Y*o.Y - s.radius*s.radius
	if b.plan < 1e-18 {
		return from, to, c <= 0 && from <= to
	}
	q := h*h - b.plan*c
	if q < 0 {
		return 0, 0, false
	}
	q = math.Sqrt(q)
	from, to = max(from, (-h-q)/b.plan), min(to, (-h+q)/b.plan)
	return from, to, from <= to
}

// normal of segment i at a point of the wall.
func (s *shape) normal(i int, p Vec) Vec {
	g := &s.segments[i]
	var f float64
	v, gx, gy := s.section.gauge(p.X, p.Y)
	if dz, dr := g.z1-g.z0, g.r1-g.r0; math.Abs(dz) > math.Abs(dr) {
		f = (p.Z - g.z0) / dz
	} else {
		f = (v - g.r0) / dr
	}
	f = max(0, min(1, f))
	nr, nz := g.nr0+f*(g.nr1-g.nr0), g.nz0+f*(g.nz1-g.nz0)
	// The wall is v(x, y) - r(z) = 0; its gradient is (gx, gy, -dr/dz), and nz/nr = -dr/dz.
	return Vec{nr * gx, nr * gy, nz}.unit()
}

// meetGauge is meet for sections without a closed form: gauge - r is convex along the ray, so Newton's steps
// from outside come down on its root from one side.
func (s *shape) meetGauge(o, d Vec, from, to, za, zb, limit float64) (float64, int) {
	best, at := limit, -1
	first, last := s.within(za, zb)
	for i := first; i < last; i++ {
		g := &s.segments[i]
		if g.zmin > zb || g.zmax < za {
			continue
		}
		if g.flat {
			if d.Z == 0 || d.Z*g.nz0 >= 0 {
				continue
			}
			t := (g.z0 - o.Z) / d.Z
			if t < 0 || t >= best {
				continue
			}
			v, _, _ := s.section.gauge(o.X+t*d.X, o.Y+t*d.Y)
			if v >= math.Min(g.r0, g.r1) && v <= math.Max(g.r0, g.r1) {
				best, at = t, i
			}
			continue
		}
		start, sign := from, 1.0
		if g.inward() {
			start, sign = to, -1
		}
		t := start
		for range 60 {
			v, gx, gy := s.section.gauge(o.X+t*d.X, o.Y+t*d.Y)
			f := v - (g.r0 + g.slope*(o.Z+t*d.Z-g.z0))
			rate := gx*d.X + gy*d.Y - g.slope*d.Z
			if math.Abs(f) < 1e-10 {
				break
			}
			if f < 0 || rate*sign >= 0 { // started inside, or the ray passes by
				t = math.Inf(1)
				break
			}
			t -= f / rate
		}
		if math.IsInf(t, 0) || t < 0 || t >= best {
			continue
		}
		if z := o.Z + t*d.Z; z < g.zmin-1e-10 || z > g.zmax+1e-10 {
			continue
		}
		best, at = t, i
	}
	return best, at
}

// contains reports whether a point lies in the body, or within margin of it in the plan view.
func (s *shape) contains(p Vec, margin float64) bool {
	if p.Z < s.low-margin || p.Z > s.high+margin {
		return false
	}
	v, _, _ := s.section.gauge(p.X, p.Y)
	// Count the profile's crossings of the horizontal from the axis to the point, at a height inside.
	z := math.Max(s.low+1e-7, math.Min(s.high-1e-7, p.Z))
	inside := false
	for i := range s.segments {
		g := &s.segments[i]
		if g.flat || (g.z0 > z) == (g.z1 > z) {
			continue
		}
		if g.r0+g.slope*(z-g.z0)+margin > v {
			inside = !inside
		}
	}
	return inside
}

// widest returns the largest profile radius between two heights.
func (s *shape) widest(z0, z1 float64) float64 {
	w := 0.0
	for i := range s.segments {
		g := &s.segments[i]
		if g.zmax < z0 || g.zmin > z1 {
			continue
		}
		if g.flat {
			w = math.Max(w, math.Max(g.r0, g.r1))
			continue
		}
		for _, z := range [2]float64{math.Max(g.zmin, z0), math.Min(g.zmax, z1)} {
			w = math.Max(w, g.r0+g.slope*(z-g.z0))
		}
	}
	return w
}
