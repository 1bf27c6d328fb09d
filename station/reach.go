package station

import "math"

// Widths that count for the reach, over the distance: of a jet to the side (0.2 % of its pressure is left), and
// past the end of a slot.
const (
	farthest  = 1.5 // m, to which a jet along travel is followed
	sideWidth = 0.4
	pastEnd   = 0.2
)

// reach finds the positions of the container's axis between which any jet comes near the body.
func (e *Exposer) reach() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	h := e.body.shape
	middle := Vec{0, 0, (h.low + h.high) / 2}
	for i := range e.sources {
		s := &e.sources[i]
		end := pastEnd
		if s.round {
			end = sideWidth
		}
		wideX := sideWidth*math.Abs(s.across.X) + end*math.Abs(s.l.X)
		wideZ := sideWidth*math.Abs(s.across.Z) + end*math.Abs(s.l.Z)
		const spots, steps = 9, 64
		for k := range spots {
			o := s.mid.along(s.length*(float64(k)/(spots-1)-0.5), s.l)
			// The jet counts up to where it passes the line of the bodies' middles; what lies beyond is in the lee.
			last := farthest
			if yz := 1 - s.a.X*s.a.X; yz > 1e-6 {
				last = math.Min(last, Vec{0, -o.Y, middle.Z - o.Z}.dot(s.a)/yz)
			}
			for m := 0; m <= steps; m++ {
				t := last * float64(m) / steps
				p := o.along(t, s.a)
				if t < 0 || p.Z < h.low-wideZ*t || p.Z > h.high+wideZ*t {
					continue
				}
				r := h.radius + sideWidth*t*math.Abs(s.across.Y)
				if q := r*r - p.Y*p.Y; q > 0 {
					q = math.Sqrt(q) + wideX*t
					from, to = math.Min(from, p.X-q), math.Max(to, p.X+q)
				}
			}
		}
	}
	return from, to
}
