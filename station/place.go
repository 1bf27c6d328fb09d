package station

import (
	"fmt"
	"math"

	"leste/job"
	q "leste/quantity"
)

// Sides of the line.
const (
	left  = "left"
	right = "right"
	above = "above"
	below = "below"
)

// setting is how far a frame is moved for a format.
type setting struct{ height, standOff, tilt, aim float64 }

func settingOf(st *job.Station, o *job.Outlet, format string) setting {
	for i := range st.Frames {
		if st.Frames[i].Name != o.Frame || o.Frame == "" {
			continue
		}
		for _, s := range st.Frames[i].Settings {
			if s.Format == format {
				return setting{float64(s.Height.V), float64(s.StandOff.V), float64(s.Tilt.V), float64(s.Aim.V)}
			}
		}
	}
	return setting{}
}

// frame returns the unit vectors of an outlet: along its line (towards downstream), and along its air, square
// to the line.
func frame(side string, tilt, down, along float64) (l, a Vec) {
	sinD, cosD := math.Sincos(down)
	sinA, cosA := math.Sincos(along)
	sinT, cosT := math.Sincos(tilt)
	switch side {
	case left:
		a, l = Vec{cosD * sinA, -cosD * cosA, -sinD}, Vec{cosT, 0, -sinT}
	case right:
		a, l = Vec{cosD * sinA, cosD * cosA, -sinD}, Vec{cosT, 0, -sinT}
	case below:
		a, l = Vec{cosD * sinA, sinD, cosD * cosA}, Vec{cosT, sinT, 0}
	default:
		a, l = Vec{cosD * sinA, sinD, -cosD * cosA}, Vec{cosT, sinT, 0}
	}
	a = a.unit()
	l = l.along(-l.dot(a), a).unit()
	return l, a
}

// place settles where an outlet stands for a format. Its nominal place is found against the first format.
func (r *resolver) place(st *job.Station, o *job.Outlet, path string, f *FormatPlan, first *Body) (Placed, bool) {
	p := Placed{Name: o.Name, Kind: o.Kind, Side: o.Side, StandOff: math.NaN()}
	if !r.opening(o, path, &p) {
		return p, false
	}
	s := settingOf(st, o, f.Format.Name)
	l, a := frame(o.Side, float64(o.Tilt.V), float64(o.AimDown.V), float64(o.AimAlong.V))
	if l.norm() < 0.5 {
		r.say(path+"/aim_along", "the air is aimed along the outlet's own line", "turn the tilt or the aim")
		return p, false
	}
	mid, ok := r.middle(o, path, a, first)
	if !ok {
		return p, false
	}
	p.Line, p.Axis = frame(o.Side, float64(o.Tilt.V)+s.tilt, float64(o.AimDown.V)+s.aim, float64(o.AimAlong.V))
	mid.Z += s.height
	switch o.Side {
	case left:
		mid.Y += s.standOff
	case right:
		mid.Y -= s.standOff
	case below:
		mid.Z -= s.standOff
	default:
		mid.Z += s.standOff
	}
	p.Middle = mid
	// Container abreast: its axis at the outlet's middle.
	if h, _, ok := f.Body.shape.ray(Vec{0, mid.Y, mid.Z}, p.Axis); ok {
		p.StandOff = h
	}
	return p, true
}

// opening sets size and number of the openings.
func (r *resolver) opening(o *job.Outlet, path string, p *Placed) bool {
	switch o.Kind {
	case job.AirKnife:
		p.Length, p.Gap = float64(o.Length.V), float64(o.Gap())
		p.Opening = q.Area(p.Length * p.Gap)
		p.Plenum = float64(o.Plenum(p.Opening))
		if !(p.Length > 0 && p.Gap > 0) {
			r.say(path, "the air knife has no slot", "give length and slot_gap")
			return false
		}
		return true
	case job.NozzleManifold, job.Nozzle:
	default:
		r.say(path+"/kind", fmt.Sprintf("the kind %q is not known", o.Kind), "write air knife, nozzle manifold or nozzle")
		return false
	}
	area := math.Pi / 4 * float64(o.Bore.V) * float64(o.Bore.V)
	if o.Wide.V > 0 && o.High.V > 0 {
		w, h := float64(o.Wide.V), float64(o.High.V)
		h = math.Min(w, h)
		w = math.Max(float64(o.Wide.V), float64(o.High.V))
		area = (w-h)*h + math.Pi/4*h*h // its short ends are round
	}
	if !(area > 0) {
		r.say(path, "the nozzle has no opening", "give bore, or opening_width and opening_height")
		return false
	}
	p.Bore = math.Sqrt(4 * area / math.Pi)
	n := 1
	if o.Kind == job.NozzleManifold {
		spacing := 0.0
		n, spacing = Nozzles(o)
		const most = 500
		if n > most {
			r.say(path+"/spacing", fmt.Sprintf("the manifold would have %d nozzles", n), fmt.Sprintf("at most %d are possible", most))
			return false
		}
		if n > 1 {
			p.Spacing = spacing
			p.Length = spacing * float64(n-1)
			if spacing < p.Bore {
				r.say(path+"/spacing", fmt.Sprintf("nozzles of %.4g mm stand %.4g mm apart and overlap", p.Bore*1e3, spacing*1e3), "give a spacing above the bore")
				return false
			}
		}
	}
	for i := range n {
		p.Ports = append(p.Ports, (float64(i)-float64(n-1)/2)*p.Spacing)
	}
	p.Opening = q.Area(area * float64(n))
	if o.Kind == job.NozzleManifold {
		p.Plenum = float64(o.Plenum(p.Opening))
	}
	return true
}

// middle finds the nominal place of an outlet's middle.
func (r *resolver) middle(o *job.Outlet, path string, a Vec, b *Body) (Vec, bool) {
	m := Vec{X: float64(o.X.V)}
	side := o.Side == left || o.Side == right
	sign := 1.0
	if o.Side == right {
		sign = -1
	}
	if side {
		m.Z = float64(o.Height.V)
		if !o.Height.Known && o.Height.V == 0 {
			m.Z = b.Height / 2
		}
		if o.Offset.Known {
			m.Y = sign * math.Abs(float64(o.Offset.V))
			return m, true
		}
	} else {
		m.Y = float64(o.Offset.V)
		if o.Height.Known {
			m.Z = float64(o.Height.V)
			return m, true
		}
	}
	away := Vec{0, sign, 0} // the way the outlet moves when the stand-off grows
	switch o.Side {
	case above:
		away = Vec{0, 0, 1}
	case below:
		away = Vec{0, 0, -1}
	}
	lip, ok := b.standOff(Vec{0, m.Y, m.Z}, a, away, float64(o.StandOff.V))
	if !ok {
		r.say(path+"/stand_off", fmt.Sprintf("the air of %q misses the container, so that there is no wall to stand off from", o.Name),
			"change its height, offset or aim, or give its distance from the centre as offset")
		return m, false
	}
	return Vec{m.X, lip.Y, lip.Z}, true
}

// standOff finds the lip from which the ray along a is d long, on the line through o along away.
func (b *Body) standOff(o, a, away Vec, d float64) (Vec, bool) {
	reach := func(k float64) float64 {
		h, _, ok := b.shape.ray(o.along(k, away), a)
		if !ok {
			return math.NaN()
		}
		return h
	}
	// Outside the body and far enough that every wall lies ahead; then come in.
	far := b.shape.radius + b.Height + d
	base := o.dot(away)
	start := far - base
	// The distance grows with k wherever the ray hits; moving by what is too much, over the ray's share of the
	// movement, converges on smooth walls. Steps in the profile are met by bisection.
	share := -a.dot(away)
	if share < 0.05 {
		return Vec{}, false
	}
	lo, hi := math.NaN(), math.NaN() // k with reach below and above d
	const n = 400
	for i := 0; i <= n; i++ {
		k := start - float64(i)/n*2*far
		h := reach(k)
		if math.IsNaN(h) {
			continue
		}
		if h >= d {
			hi = k
			continue
		}
		lo = k
		break
	}
	if math.IsNaN(hi) {
		return Vec{}, false
	}
	if math.IsNaN(lo) { // the ray leaves the wall before it comes so near: take the nearest
		lo = hi - 2*far/n
	}
	for range 60 {
		mid := (lo + hi) / 2
		if h := reach(mid); h >= d || math.IsNaN(h) {
			hi = mid
		} else {
			lo = mid
		}
	}
	if h := reach(hi); math.IsNaN(h) || math.Abs(h-d) > 1e-3+0.02*d {
		return Vec{}, false
	}
	return o.along(hi, away), true
}

// Nozzles is how many nozzles a manifold has, and how far apart they stand [m]: as its count says, or as many as fit
// on its length.
func Nozzles(o *job.Outlet) (n int, spacing float64) {
	length := float64(o.Length.V)
	spacing = float64(o.Spacing.V)
	switch {
	case o.Count > 0 && spacing > 0:
		return o.Count, spacing
	case o.Count > 1 && length > 0:
		return o.Count, length / float64(o.Count-1)
	case spacing > 0 && length > 0:
		return int(length/spacing+1e-9) + 1, spacing
	}
	return 1, spacing
}
