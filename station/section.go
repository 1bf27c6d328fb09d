package station

import (
	"fmt"
	"math"

	"leste/job"
)

// A section is the cross-section of a body. At the profile's radius r its outline is r times the curve g.
// g is closed, runs counter-clockwise from +x and is symmetric about both axes.
type section struct {
	shape  string
	kx, ky float64 // half extents of g along x and y
	corner float64 // corner radius of g, rounded rectangle only
}

const (
	round            = "round"
	oval             = "oval"
	roundedRectangle = "rounded rectangle"
)

// newSection scales a section so that a profile of largest radius r gets its width and depth.
func newSection(s *job.Section, r float64) (section, error) {
	if s == nil || s.Shape == round || s.Shape == "" {
		return section{shape: round, kx: 1, ky: 1}, nil
	}
	w, d := float64(s.Width.V), float64(s.Depth.V)
	if !(w > 0) || !(d > 0) || w > 4 || d > 4 {
		return section{}, fmt.Errorf("a section that is not round needs a width and a depth above 0 and up to 4 m, not %.4g and %.4g mm", w*1e3, d*1e3)
	}
	g := section{shape: s.Shape, kx: w / 2 / r, ky: d / 2 / r}
	switch s.Shape {
	case oval:
	case roundedRectangle:
		c := float64(s.Corner.V)
		if !(c > 0) || c > math.Min(w, d)/2 {
			return section{}, fmt.Errorf("the corner radius of a rounded rectangle must be above 0 and at most half of its shorter side, not %.4g mm", c*1e3)
		}
		g.corner = c / r
	default:
		return section{}, fmt.Errorf("the section %q is not known; round, oval and rounded rectangle are", s.Shape)
	}
	return g, nil
}

// A ring is a section cut into columns of equal length. Point, direction and outward normal of column
// centres; the ring of radius r is r times it.
type ring struct {
	x, y   []float64 // centres
	tx, ty []float64 // unit tangents, counter-clockwise
	step   float64   // length of a column
	area   float64   // enclosed
}

// ring cuts the section into cols columns, a multiple of 4. The first starts on +x, so that the centres
// mirror in both axes; they do so to the last bit, which keeps mirrored stations mirrored.
func (g section) ring(cols int) ring {
	quarter := cols / 4
	k := ring{x: make([]float64, cols), y: make([]float64, cols), tx: make([]float64, cols), ty: make([]float64, cols)}
	arc := g.quarter()
	k.step = arc.length / float64(quarter)
	k.area = arc.area * 4
	for i := range quarter {
		x, y, tx, ty := arc.at((float64(i) + 0.5) * k.step)
		for _, m := range [4]struct {
			col    int
			fx, fy float64
		}{{i, 1, 1}, {2*quarter - 1 - i, -1, 1}, {2*quarter + i, -1, -1}, {4*quarter - 1 - i, 1, -1}} {
			k.x[m.col], k.y[m.col] = m.fx*x, m.fy*y
			k.tx[m.col], k.ty[m.col] = m.fy*tx, m.fx*ty
		}
	}
	return k
}

// A quadrant is the first quarter of a section by arc length.
type quadrant struct {
	g            section
	length, area float64
	s            []float64 // oval: arc length at equal steps of the parameter
}

func (g section) quarter() quadrant {
	q := quadrant{g: g}
	switch g.shape {
	case oval:
		const n = 2048
		q.s = make([]float64, n+1)
		speed := func(t float64) float64 { return math.Hypot(g.kx*math.Sin(t), g.ky*math.Cos(t)) }
		h := math.Pi / 2 / n
		for i := range n {
			t := float64(i) * h
			q.s[i+1] = q.s[i] + h/6*(speed(t)+4*speed(t+h/2)+speed(t+h))
		}
		q.length = q.s[n]
		q.area = math.Pi * g.kx * g.ky / 4
	case roundedRectangle:
		q.length = g.ky - g.corner + g.kx - g.corner + math.Pi/2*g.corner
		q.area = g.kx*g.ky - (1-math.Pi/4)*g.corner*g.corner
	default:
		q.length, q.area = math.Pi/2*g.kx, math.Pi/4*g.kx*g.kx
	}
	return q
}

// at returns point and unit tangent at arc length s of the quarter.
func (q *quadrant) at(s float64) (x, y, tx, ty float64) {
	g := q.g
	switch g.shape {
	case oval:
		lo, hi := 0, len(q.s)-1
		for hi-lo > 1 {
			if mid := (lo + hi) / 2; q.s[mid] <= s {
				lo = mid
			} else {
				hi = mid
			}
		}
		f := (s - q.s[lo]) / (q.s[hi] - q.s[lo])
		sin, cos := math.Sincos((float64(lo) + f) * math.Pi / 2 / float64(len(q.s)-1))
		dx, dy := -g.kx*sin, g.ky*cos
		d := math.Hypot(dx, dy)
		return g.kx * cos, g.ky * sin, dx / d, dy / d
	case roundedRectangle:
		up := g.ky - g.corner
		if s <= up {
			return g.kx, s, 0, 1
		}
		turn := (s - up) / g.corner
		if turn < math.Pi/2 {
			sin, cos := math.Sincos(turn)
			return g.kx - g.corner + g.corner*cos, up + g.corner*sin, -sin, cos
		}
		return g.kx - g.corner - (s - up - math.Pi/2*g.corner), g.ky, -1, 0
	default:
		sin, cos := math.Sincos(s / g.kx)
		return g.kx * cos, g.kx * sin, -sin, cos
	}
}

// gauge is 1 on g and grows in proportion outward; with its gradient.
func (g section) gauge(x, y float64) (v, gx, gy float64) {
	if g.shape != roundedRectangle {
		ux, uy := x/g.kx, y/g.ky
		v = math.Hypot(ux, uy)
		if v == 0 {
			return 0, 0, 0
		}
		return v, ux / v / g.kx, uy / v / g.ky
	}
	ax, ay := math.Abs(x), math.Abs(y)
	sx, sy := math.Copysign(1, x), math.Copysign(1, y)
	cx, cy := g.kx-g.corner, g.ky-g.corner // centre of the corner, at gauge 1
	v = math.Max(ax/g.kx, ay/g.ky)
	if v == 0 {
		return 0, 0, 0
	}
	if ax > cx*v && ay > cy*v {
		// |(ax, ay) - v (cx, cy)| = v corner
		a := cx*cx + cy*cy - g.corner*g.corner
		b := ax*cx + ay*cy
		c := ax*ax + ay*ay
		v = c / (b + math.Sqrt(math.Max(0, b*b-a*c)))
		nx, ny := ax-v*cx, ay-v*cy
		d := nx*cx + ny*cy + v*g.corner*g.corner
		return v, sx * nx / d, sy * ny / d
	}
	if ax/g.kx >= ay/g.ky {
		return v, sx / g.kx, 0
	}
	return v, 0, sy / g.ky
}
