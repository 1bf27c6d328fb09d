package station

import (
	"fmt"
	"math"
	"sort"

	"leste/job"
)

// A piece is a straight or round part of an outline in the half-plane (r, z). Drawn from base to top the
// body lies to the left; the outward normal of a tangent (tr, tz) is (tz, -tr).
type piece struct {
	r0, z0, r1, z1 float64
	length         float64
	start          float64 // arc length at its start
	zone           uint8

	// Of an arc: centre, radius, angle of the start, signed sweep (positive with the body's side, so
	// that the wall is convex there). radius is 0 for a straight piece.
	rc, zc, radius, angle, sweep float64
}

func line(r0, z0, r1, z1 float64) piece {
	return piece{r0: r0, z0: z0, r1: r1, z1: z1, length: math.Hypot(r1-r0, z1-z0)}
}

// arc from one point to another with radius b, bulging outward when b > 0. The shorter of the two arcs is
// meant.
func arc(r0, z0, r1, z1, b float64) (piece, error) {
	chord := math.Hypot(r1-r0, z1-z0)
	radius := math.Abs(b)
	if chord == 0 {
		return piece{}, fmt.Errorf("the arc goes nowhere: its two ends are the same point")
	}
	if radius < chord/2*(1-1e-9) {
		return piece{}, fmt.Errorf("an arc of %.4g mm cannot span %.4g mm; its radius must be at least half of that", radius*1e3, chord*1e3)
	}
	side := math.Copysign(1, b) // the centre lies to the left of the chord when the arc bulges right
	h := math.Sqrt(math.Max(0, radius*radius-chord*chord/4))
	p := piece{
		r0: r0, z0: z0, r1: r1, z1: z1, radius: radius,
		rc: (r0+r1)/2 - side*h*(z1-z0)/chord,
		zc: (z0+z1)/2 + side*h*(r1-r0)/chord,
	}
	p.angle = math.Atan2(z0-p.zc, r0-p.rc)
	p.sweep = side * 2 * math.Asin(math.Min(1, chord/(2*radius)))
	p.length = radius * math.Abs(p.sweep)
	return p, nil
}

// at returns point and unit tangent at arc length s from the piece's start.
func (p *piece) at(s float64) (r, z, tr, tz float64) {
	if p.radius == 0 {
		f := s / p.length
		return p.r0 + f*(p.r1-p.r0), p.z0 + f*(p.z1-p.z0), (p.r1 - p.r0) / p.length, (p.z1 - p.z0) / p.length
	}
	side := math.Copysign(1, p.sweep)
	sin, cos := math.Sincos(p.angle + side*s/p.radius)
	return p.rc + p.radius*cos, p.zc + p.radius*sin, -side * sin, side * cos
}

// moments returns the integrals of r and of r z along the piece between arc lengths a and b: the area of
// the wall over 2 pi, and its first moment.
func (p *piece) moments(a, b float64) (area, height float64) {
	if p.radius == 0 {
		r0, z0, _, _ := p.at(a)
		r1, z1, _, _ := p.at(b)
		l := b - a
		return l * (r0 + r1) / 2, l * (r0*z0/3 + r1*z1/3 + r0*z1/6 + r1*z0/6)
	}
	side := math.Copysign(1, p.sweep)
	t0, t1 := p.angle+side*a/p.radius, p.angle+side*b/p.radius
	s0, c0 := math.Sincos(t0)
	s1, c1 := math.Sincos(t1)
	k := p.radius
	d := t1 - t0
	area = k * (p.rc*d + k*(s1-s0))
	height = k * (p.rc*p.zc*d + p.zc*k*(s1-s0) - p.rc*k*(c1-c0) + k*k*(s1*s1-s0*s0)/2)
	return side * area, side * height
}

// enclosed returns the integrals of r2 dz and of r2 z dz along the whole piece: the volume over pi and its
// first moment.
func (p *piece) enclosed() (volume, height float64) {
	if p.radius == 0 {
		dz := p.z1 - p.z0
		volume = dz * (p.r0*p.r0 + p.r0*p.r1 + p.r1*p.r1) / 3
		// Simpson is exact for the cubic integrand.
		rm, zm := (p.r0+p.r1)/2, (p.z0+p.z1)/2
		height = dz / 6 * (p.r0*p.r0*p.z0 + 4*rm*rm*zm + p.r1*p.r1*p.z1)
		return volume, height
	}
	k, t0, t1 := p.radius, p.angle, p.angle+p.sweep
	s0, c0 := math.Sincos(t0)
	s1, c1 := math.Sincos(t1)
	// Integrals of cos, cos2, cos3 and the same times sin.
	i1 := s1 - s0
	i2 := (t1-t0)/2 + (s1*c1-s0*c0)/2
	i3 := (s1 - s1*s1*s1/3) - (s0 - s0*s0*s0/3)
	j1 := (s1*s1 - s0*s0) / 2
	j2 := -(c1*c1*c1 - c0*c0*c0) / 3
	j3 := -(c1*c1*c1*c1 - c0*c0*c0*c0) / 4
	volume = k * (p.rc*p.rc*i1 + 2*p.rc*k*i2 + k*k*i3)
	height = p.zc*volume + k*k*(p.rc*p.rc*j1+2*p.rc*k*j2+k*k*j3)
	return volume, height
}

// An outline is the profile of a body from the centre of its base to the centre of its top.
type outline struct {
	pieces []piece
	zones  []string
	length float64
	radius float64 // largest
	inner  float64 // least radius; below 0 it would cross the axis
	low    float64 // least and greatest height
	high   float64
}

// newOutline joins the steps of a profile, rounds its corners and checks that it is a body.
func newOutline(steps []job.ProfileStep) (*outline, error) {
	if len(steps) < 3 {
		return nil, fmt.Errorf("a profile needs at least 3 points, from the centre of the base to the centre of the top; this one has %d", len(steps))
	}
	o := &outline{}
	index := map[string]uint8{}
	zone := func(name string) uint8 {
		if name == "" {
			name = job.ZoneSidewall
		}
		i, ok := index[name]
		if !ok {
			i = uint8(len(o.zones)) //nolint:gosec // bounded below
			index[name] = i
			o.zones = append(o.zones, name)
		}
		return i
	}
	for i := range steps {
		r, z := float64(steps[i].Radius), float64(steps[i].Height)
		if !(r >= 0 && r <= 2) || !(z >= -0.5 && z <= 3) {
			return nil, fmt.Errorf("point %d of the profile lies at radius %.4g mm, height %.4g mm; a radius of 0 to 2 m and a height up to 3 m are expected", i+1, r*1e3, z*1e3)
		}
	}
	if steps[0].Radius != 0 || steps[len(steps)-1].Radius != 0 {
		return nil, fmt.Errorf("a profile starts and ends on the axis: the first and the last radius must be 0")
	}
	fillets := make([]float64, 0, len(steps))
	for i := 1; i < len(steps); i++ {
		a, b := steps[i-1], steps[i]
		r0, z0, r1, z1 := float64(a.Radius), float64(a.Height), float64(b.Radius), float64(b.Height)
		if r0 == r1 && z0 == z1 {
			return nil, fmt.Errorf("points %d and %d of the profile are the same", i, i+1)
		}
		p := line(r0, z0, r1, z1)
		if b.Bulge.V != 0 {
			var err error
			if p, err = arc(r0, z0, r1, z1, float64(b.Bulge.V)); err != nil {
				return nil, fmt.Errorf("point %d of the profile: %w", i+1, err)
			}
		}
		if len(o.zones) == 255 {
			return nil, fmt.Errorf("a profile can have at most 255 zones")
		}
		p.zone = zone(b.Zone)
		o.pieces = append(o.pieces, p)
		fillets = append(fillets, float64(b.Fillet.V))
	}
	if err := o.round(fillets); err != nil {
		return nil, err
	}
	o.measure()
	if err := o.check(); err != nil {
		return nil, err
	}
	return o, nil
}

// round puts a fillet on the corner at the end of each piece whose radius is not 0.
func (o *outline) round(fillets []float64) error {
	joined := make([]piece, 0, 2*len(o.pieces))
	for i := range o.pieces {
		joined = append(joined, o.pieces[i])
		f := fillets[i]
		if f == 0 || i+1 == len(o.pieces) {
			continue
		}
		if !(f > 0) {
			return fmt.Errorf("the fillet at point %d of the profile is %.4g mm; it must be positive", i+2, f*1e3)
		}
		a, b := &joined[len(joined)-1], &o.pieces[i+1]
		corner, ok, err := fillet(a, b, f)
		if err != nil {
			return fmt.Errorf("point %d of the profile: %w", i+2, err)
		}
		if ok {
			joined = append(joined, corner)
		}
	}
	o.pieces = o.pieces[:0:0]
	for _, p := range joined {
		if p.length > 1e-9 { // a fillet may use up the line it joins
			o.pieces = append(o.pieces, p)
		}
	}
	return nil
}

func (o *outline) measure() {
	o.length, o.radius, o.inner = 0, 0, 0
	o.low, o.high = math.Inf(1), math.Inf(-1)
	for i := range o.pieces {
		p := &o.pieces[i]
		p.start = o.length
		o.length += p.length
		n := 1
		if p.radius > 0 {
			n = 64
		}
		for k := 0; k <= n; k++ {
			r, z, _, _ := p.at(p.length * float64(k) / float64(n))
			o.radius, o.inner = math.Max(o.radius, r), math.Min(o.inner, r)
			o.low, o.high = math.Min(o.low, z), math.Max(o.high, z)
		}
		if p.radius > 0 { // the extreme points of the arc, exactly
			for quarter := -8; quarter <= 8; quarter++ {
				t := (float64(quarter)*math.Pi/2 - p.angle) / p.sweep
				if t > 0 && t < 1 {
					r, z, _, _ := p.at(t * p.length)
					o.radius, o.inner = math.Max(o.radius, r), math.Min(o.inner, r)
					o.low, o.high = math.Min(o.low, z), math.Max(o.high, z)
				}
			}
		}
	}
}

// at returns point and tangent at arc length s from the base's centre.
func (o *outline) at(s float64) (r, z, tr, tz float64) {
	i := sort.Search(len(o.pieces), func(i int) bool { return o.pieces[i].start > s }) - 1
	i = max(0, i)
	p := &o.pieces[i]
	return p.at(math.Min(math.Max(0, s-p.start), p.length))
}

// between adds up the moments of the wall between two arc lengths.
func (o *outline) between(a, b float64) (area, height float64) {
	for i := range o.pieces {
		p := &o.pieces[i]
		from, to := math.Max(a, p.start), math.Min(b, p.start+p.length)
		if to > from {
			m, h := p.moments(from-p.start, to-p.start)
			area += m
			height += h
		}
	}
	return area, height
}

// volume returns the enclosed volume over pi and its first moment in height.
func (o *outline) volume() (v, moment float64) {
	for i := range o.pieces {
		a, b := o.pieces[i].enclosed()
		v += a
		moment += b
	}
	return v, moment
}

// flipped turns the outline upside down and lets it stand at height 0.
func (o *outline) flipped() *outline {
	f := &outline{zones: o.zones, length: o.length, radius: o.radius, low: 0, high: o.high - o.low}
	for i := len(o.pieces) - 1; i >= 0; i-- {
		p := o.pieces[i]
		q := piece{
			r0: p.r1, z0: o.high - p.z1, r1: p.r0, z1: o.high - p.z0,
			length: p.length, zone: p.zone, rc: p.rc, zc: o.high - p.zc, radius: p.radius, sweep: p.sweep,
		}
		if p.radius > 0 {
			q.angle = math.Atan2(q.z0-q.zc, q.r0-q.rc)
		}
		f.pieces = append(f.pieces, q)
	}
	f.measure()
	return f
}

// raise moves the outline up by dz.
func (o *outline) raise(dz float64) {
	for i := range o.pieces {
		p := &o.pieces[i]
		p.z0 += dz
		p.z1 += dz
		p.zc += dz
	}
	o.low += dz
	o.high += dz
}

// check refuses an outline that crosses itself or the axis, or that is inside out.
func (o *outline) check() error {
	pts := o.sample(math.Pi / 24)
	if o.inner < -1e-9 {
		return fmt.Errorf("the profile crosses the axis: an arc of it reaches a radius of %.4g mm", o.inner*1e3)
	}
	for i := 0; i+1 < len(pts); i++ {
		for j := i + 2; j+1 < len(pts); j++ {
			if crosses(pts[i], pts[i+1], pts[j], pts[j+1]) {
				return fmt.Errorf("the profile crosses itself near radius %.4g mm, height %.4g mm", pts[j].r*1e3, pts[j].z*1e3)
			}
		}
	}
	v, _ := o.volume()
	if !(v > 0) {
		return fmt.Errorf("the profile is drawn the wrong way round: it goes from the centre of the base outward and up to the centre of the top")
	}
	return nil
}

// A knot is a point of the sampled outline with the outward normals before and after it.
type knot struct {
	r, z   float64
	nr, nz float64 // normal of the segment that starts here, at its start
	er, ez float64 // normal of that segment at its end
}

// sample turns the outline into a chain of segments; an arc's segments turn by at most step.
func (o *outline) sample(step float64) []knot {
	var out []knot
	for i := range o.pieces {
		p := &o.pieces[i]
		n := 1
		if p.radius > 0 {
			n = max(1, int(math.Ceil(math.Abs(p.sweep)/step)))
		}
		for k := range n {
			a, b := p.length*float64(k)/float64(n), p.length*float64(k+1)/float64(n)
			r, z, tr, tz := p.at(a)
			_, _, ur, uz := p.at(b)
			out = append(out, knot{r: r, z: z, nr: tz, nz: -tr, er: uz, ez: -ur})
		}
	}
	last := o.pieces[len(o.pieces)-1]
	return append(out, knot{r: last.r1, z: last.z1})
}

// crosses reports whether the segments ab and cd have a point in common that is not merely an end within
// rounding.
func crosses(a, b, c, d knot) bool {
	side := func(p, q, x knot) float64 { return (q.r-p.r)*(x.z-p.z) - (q.z-p.z)*(x.r-p.r) }
	if math.Max(a.r, b.r) < math.Min(c.r, d.r) || math.Max(c.r, d.r) < math.Min(a.r, b.r) ||
		math.Max(a.z, b.z) < math.Min(c.z, d.z) || math.Max(c.z, d.z) < math.Min(a.z, b.z) {
		return false
	}
	eps := 1e-12 // m2: a thousandth of a millimetre squared
	s1, s2, s3, s4 := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
	return (s1 > eps && s2 < -eps || s1 < -eps && s2 > eps) && (s3 > eps && s4 < -eps || s3 < -eps && s4 > eps)
}
