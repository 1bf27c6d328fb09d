package station

import "math"

// What a container may do while it passes: slip on the belt, and rock as a share of the angle at which it falls.
const (
	mayGive = 5e-3
	mayRock = 0.1
)

// passing replaces the factors of a container that stops in the worst place by those of one that passes, where they
// are greater.
func (s *stance) passing(loads []Load, own map[string]*finding) {
	for _, k := range []struct {
		way  string
		most func(scale float64) float64 // largest movement over what may be
	}{
		{Slide, func(k float64) float64 { return s.slip(loads, k, false) / mayGive }},
		{HeldBack, func(k float64) float64 { return s.slip(loads, k, true) / mayGive }},
		{Tip, func(k float64) float64 { return s.rock(loads, k) / mayRock }},
	} {
		p := own[k.way]
		const most = 100.0
		if p.Factor >= most {
			continue
		}
		lo, hi := p.Factor, most
		if k.most(hi) <= 1 {
			lo = hi
		}
		for hi > lo*1.005 {
			if mid := math.Sqrt(math.Max(lo, 1e-4) * hi); k.most(mid) <= 1 {
				lo = mid
			} else {
				hi = mid
			}
		}
		p.Factor = math.Max(p.Factor, lo)
	}
}

// slip is how far a container moves on the belt while it passes, with all loads times scale: along and across
// travel, or only against it.
func (s *stance) slip(loads []Load, scale float64, back bool) float64 {
	m := s.weight / gravity
	var vx, vy, x, y, far float64
	for i := 1; i < len(loads); i++ {
		dt := (loads[i].X - loads[i-1].X) / s.speed
		const parts = 4
		for k := range parts {
			f := (float64(k) + 0.5) / parts
			l := between(&loads[i-1], &loads[i], f)
			fx, fy := scale*l.Force.X, scale*l.Force.Y
			grip := s.friction * math.Max(0, s.weight-scale*l.Force.Z)
			if _, railed := s.rail(fy); railed {
				// The rail takes the push and rubs against the way the container slips, or would.
				rub := railFriction * math.Abs(fy)
				if back {
					fx -= rub
				}
				fy, vy = 0, 0
			}
			if back {
				fy, vy = 0, 0
				fx = math.Min(fx, 0)
			}
			vx, vy = slide(vx, vy, fx/m, fy/m, grip/m, dt/parts)
			x, y = x+vx*dt/parts, y+vy*dt/parts
			far = math.Max(far, math.Hypot(x, y))
		}
	}
	return far
}

// slide advances a slip velocity by dt under a push and a friction, both per mass.
func slide(vx, vy, ax, ay, friction, dt float64) (float64, float64) {
	ux, uy := vx+ax*dt, vy+ay*dt
	u := math.Hypot(ux, uy)
	if u <= friction*dt {
		return 0, 0
	}
	k := 1 - friction*dt/u
	return ux * k, uy * k
}

// rock is how far a container tilts while it passes, with all loads times scale, over the angle at which it
// falls.
func (s *stance) rock(loads []Load, scale float64) float64 {
	base := math.Max(s.body.BaseRadius, 1e-4)
	h := s.body.CentreOfMass
	m := s.weight / gravity
	r := math.Max(s.body.Width, s.body.Depth) / 2
	inertia := m * (base*base + h*h + (3*r*r+s.body.Height*s.body.Height)/12)
	falls := math.Atan2(base, math.Max(h, 1e-4))
	var tilt, rate, far float64
	for i := 1; i < len(loads); i++ {
		dt := (loads[i].X - loads[i-1].X) / s.speed
		const parts = 4
		for k := range parts {
			l := between(&loads[i-1], &loads[i], (float64(k)+0.5)/parts)
			push := scale * s.overturning(&l)
			// Its own weight rights it less and less the further it has tilted.
			right := s.weight * base * (1 - tilt/falls)
			rate += (push - right) / inertia * dt / parts
			tilt += rate * dt / parts
			if tilt <= 0 {
				tilt, rate = 0, 0
			}
			if tilt > falls {
				return math.Inf(1)
			}
			far = math.Max(far, tilt)
		}
	}
	return far / falls
}

// overturning is the moment that tips, less what rails and neighbours hold [N m].
func (s *stance) overturning(l *Load) float64 {
	stand := s.weight * math.Max(s.body.BaseRadius, 1e-4)
	tx, ty := s.tipShares(l, stand)
	return stand*math.Hypot(tx, ty) + math.Max(0, l.Force.Z)*math.Max(s.body.BaseRadius, 1e-4)
}

func between(a, b *Load, f float64) Load {
	mix := func(u, v Vec) Vec { return u.scale(1-f).along(f, v) }
	return Load{X: a.X + f*(b.X-a.X), Force: mix(a.Force, b.Force), Moment: mix(a.Moment, b.Moment)}
}
