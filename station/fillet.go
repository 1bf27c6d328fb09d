package station

import (
	"fmt"
	"math"
)

// fillet rounds the corner between a's end and b's start with radius f and shortens both. It reports false
// when there is no corner to round.
func fillet(a, b *piece, f float64) (piece, bool, error) {
	_, _, ar, az := a.at(a.length)
	pr, pz := a.r1, a.z1
	_, _, br, bz := b.at(0)
	turn := math.Atan2(ar*bz-az*br, ar*br+az*bz) // positive: to the left, convex
	if math.Abs(turn) < 1e-6 {
		return piece{}, false, nil
	}
	side := math.Copysign(1, turn)
	rc, zc, ok := meet(a.offset(side*f), b.offset(side*f), pr, pz)
	if !ok {
		return piece{}, false, fmt.Errorf("a fillet of %.4g mm does not fit the corner", f*1e3)
	}
	sa, okA := a.nearest(rc, zc)
	sb, okB := b.nearest(rc, zc)
	if !okA || !okB {
		return piece{}, false, fmt.Errorf("a fillet of %.4g mm is too large for the lines it joins", f*1e3)
	}
	r0, z0, _, _ := a.at(sa)
	r1, z1, _, _ := b.at(sb)
	a.cut(0, sa)
	b.cut(sb, b.length)
	c := piece{r0: r0, z0: z0, r1: r1, z1: z1, rc: rc, zc: zc, radius: f, zone: a.zone}
	c.angle = math.Atan2(z0-zc, r0-rc)
	c.sweep = math.Remainder(math.Atan2(z1-zc, r1-rc)-c.angle, 2*math.Pi)
	if c.sweep*side < 0 {
		c.sweep += side * 2 * math.Pi
	}
	c.length = f * math.Abs(c.sweep)
	return c, true, nil
}

// A curve is a straight line (point and unit direction) or a circle.
type curve struct {
	r, z, dr, dz, radius float64
	round                bool
}

// offset is the piece's curve moved to the left by d.
func (p *piece) offset(d float64) curve {
	if p.radius == 0 {
		_, _, tr, tz := p.at(0)
		return curve{r: p.r0 - d*tz, z: p.z0 + d*tr, dr: tr, dz: tz}
	}
	return curve{r: p.rc, z: p.zc, radius: p.radius - math.Copysign(d, d*p.sweep), round: true}
}

// meet finds the common point of two curves that is nearest to (r, z).
func meet(a, b curve, r, z float64) (float64, float64, bool) {
	var found [][2]float64
	switch {
	case !a.round && !b.round:
		det := a.dr*b.dz - a.dz*b.dr
		if math.Abs(det) < 1e-12 {
			return 0, 0, false
		}
		t := ((b.r-a.r)*b.dz - (b.z-a.z)*b.dr) / det
		found = append(found, [2]float64{a.r + t*a.dr, a.z + t*a.dz})
	case a.round && b.round:
		dr, dz := b.r-a.r, b.z-a.z
		d := math.Hypot(dr, dz)
		if d == 0 || a.radius <= 0 || b.radius <= 0 {
			return 0, 0, false
		}
		x := (d*d + a.radius*a.radius - b.radius*b.radius) / (2 * d)
		h2 := a.radius*a.radius - x*x
		if h2 < 0 {
			return 0, 0, false
		}
		h := math.Sqrt(h2)
		mr, mz := a.r+x*dr/d, a.z+x*dz/d
		found = append(found, [2]float64{mr - h*dz/d, mz + h*dr/d}, [2]float64{mr + h*dz/d, mz - h*dr/d})
	default:
		l, c := a, b
		if a.round {
			l, c = b, a
		}
		if c.radius <= 0 {
			return 0, 0, false
		}
		t := (c.r-l.r)*l.dr + (c.z-l.z)*l.dz
		fr, fz := l.r+t*l.dr, l.z+t*l.dz
		h2 := c.radius*c.radius - (fr-c.r)*(fr-c.r) - (fz-c.z)*(fz-c.z)
		if h2 < 0 {
			return 0, 0, false
		}
		h := math.Sqrt(h2)
		found = append(found, [2]float64{fr + h*l.dr, fz + h*l.dz}, [2]float64{fr - h*l.dr, fz - h*l.dz})
	}
	best := found[0]
	for _, f := range found[1:] {
		if math.Hypot(f[0]-r, f[1]-z) < math.Hypot(best[0]-r, best[1]-z) {
			best = f
		}
	}
	return best[0], best[1], true
}

// nearest is the arc length of the point of the piece nearest to (r, z) along its normal, and whether that
// lies on the piece.
func (p *piece) nearest(r, z float64) (float64, bool) {
	const slack = 1e-9
	if p.radius == 0 {
		s := ((r-p.r0)*(p.r1-p.r0) + (z-p.z0)*(p.z1-p.z0)) / p.length
		return math.Min(math.Max(0, s), p.length), s > -slack && s < p.length+slack
	}
	side := math.Copysign(1, p.sweep)
	t := side * math.Remainder(math.Atan2(z-p.zc, r-p.rc)-p.angle, 2*math.Pi)
	s := t * p.radius
	return math.Min(math.Max(0, s), p.length), s > -slack && s < p.length+slack
}

// cut keeps the part between two arc lengths.
func (p *piece) cut(from, to float64) {
	r0, z0, _, _ := p.at(from)
	r1, z1, _, _ := p.at(to)
	if p.radius > 0 {
		side := math.Copysign(1, p.sweep)
		p.angle += side * from / p.radius
		p.sweep = side * (to - from) / p.radius
	}
	p.r0, p.z0, p.r1, p.z1, p.length = r0, z0, r1, z1, to-from
}
