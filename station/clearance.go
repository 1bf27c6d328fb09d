package station

import "math"

// HalfDepth is how far a body reaches from the line's centre between two heights [m]; 0 where it reaches neither.
func (b *Body) HalfDepth(low, high float64) float64 {
	return b.shape.section.ky * b.shape.widest(low, high)
}

// Clearance is the shortest distance from the lip of an outlet to a body that stands abreast of it [m]: what a block or a
// feeler measures. It is NaN without a body.
//
// It is looked for on the wall itself, around the nearest centre of a cell, until steps of a micrometre bring it no nearer.
// By that centre alone it would be too large by up to the square of half a cell over twice the distance.
func (b *Body) Clearance(p *Placed) float64 {
	if b == nil || b.Surface == nil || len(b.Surface.Pos) == 0 {
		return math.NaN()
	}
	mid, half := Vec{0, p.Middle.Y, p.Middle.Z}, p.Length/2
	away := func(v Vec) float64 { // from the nearest place of the lip
		d := v.sub(mid)
		return d.along(-min(max(d.dot(p.Line), -half), half), p.Line).norm()
	}
	best, at := math.Inf(1), Vec{}
	for _, v := range b.Surface.Pos {
		if d := away(v); d < best {
			best, at = d, v
		}
	}
	if b.shape != nil {
		best = min(best, b.shape.nearest(at, away))
	}
	if p.StandOff > 0 { // the way of the air is one of the ways to the wall
		best = min(best, p.StandOff)
	}
	return best
}

// nearest is the least of a distance over the wall around a place on it.
func (s *shape) nearest(at Vec, away func(Vec) float64) float64 {
	const start, fine = 4e-3, 1e-6 // m
	v, _, _ := s.section.gauge(at.X, at.Y)
	l, turn := s.lengthAt(v, at.Z), math.Atan2(at.Y, at.X)
	best := away(s.wall(l, turn))
	for step := start; step > fine; {
		r := max(math.Hypot(at.X, at.Y), step)
		moved := false
		for _, d := range [...][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			nl, nt := l+d[0]*step, turn+d[1]*step/r
			if now := away(s.wall(nl, nt)); now < best {
				best, l, turn, moved = now, nl, nt, true
			}
		}
		if !moved {
			step /= 2
		}
	}
	return best
}

// wall is the place on the wall at a length of the profile from the base and a turn around the axis.
func (s *shape) wall(l, turn float64) Vec {
	for i := range s.segments {
		g := &s.segments[i]
		long := math.Hypot(g.r1-g.r0, g.z1-g.z0)
		if l > long && i+1 < len(s.segments) {
			l -= long
			continue
		}
		f := 0.0
		if long > 0 {
			f = min(max(l/long, 0), 1)
		}
		sin, cos := math.Sincos(turn)
		v, _, _ := s.section.gauge(cos, sin)
		r := (g.r0 + f*(g.r1-g.r0)) / v
		return Vec{r * cos, r * sin, g.z0 + f*(g.z1-g.z0)}
	}
	return Vec{}
}

// lengthAt is the length of the profile from the base to where it comes nearest to a radius and a height.
func (s *shape) lengthAt(r, z float64) float64 {
	best, at, before := math.Inf(1), 0.0, 0.0
	for i := range s.segments {
		g := &s.segments[i]
		dr, dz := g.r1-g.r0, g.z1-g.z0
		long := math.Hypot(dr, dz)
		if long == 0 {
			continue
		}
		f := min(max(((r-g.r0)*dr+(z-g.z0)*dz)/(long*long), 0), 1)
		if d := math.Hypot(r-g.r0-f*dr, z-g.z0-f*dz); d < best {
			best, at = d, before+f*long
		}
		before += long
	}
	return at
}
