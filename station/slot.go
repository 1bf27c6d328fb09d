package station

import (
	"math"

	"leste/physics/jet"
)

const (
	slotStep = 2e-3 // spacing of the feet along a slot [m]
	mostFeet = 400
	nearJet  = 0.45 // a jet is followed to this offset over its distance: exp(-38.5 0.45^2) = 4e-4
	minX     = 1e-9
)

// lip is the outlet's middle in the container's frame with the axis at x.
func (s *source) lip(x float64) Vec { return Vec{s.mid.X - x, s.mid.Y, s.mid.Z} }

// window is the part of the outlet's line, from its middle, that can reach the body from a lip at o, and the
// largest distance at which it does. It reports false when none can.
func (e *Exposer) window(s *source, o Vec) (from, to, far float64, ok bool) {
	h := e.body.shape
	c := Vec{0, 0, (h.low + h.high) / 2}.sub(o)
	tall := (h.high - h.low) / 2
	extent := func(v Vec) float64 { return h.radius*math.Hypot(v.X, v.Y) + tall*math.Abs(v.Z) }
	far = c.dot(s.a) + extent(s.a)
	if far <= 0 {
		return 0, 0, 0, false
	}
	side := math.Abs(c.dot(s.across)) - extent(s.across)
	if side > nearJet*far {
		return 0, 0, 0, false
	}
	mid, wide := c.dot(s.l), extent(s.l)
	spread := 0.25 * far
	from = max(mid-wide, -s.length/2-spread)
	to = min(mid+wide, s.length/2+spread)
	return from, to, far, from < to
}

// blowSlot adds what a slot, or a row of nozzles whose jets have merged, does to the field.
func (e *Exposer) blowSlot(s *source, x float64, f *Field) {
	o := s.lip(x)
	from, to, _, ok := e.window(s, o)
	if !ok {
		return
	}
	n := min(mostFeet, max(2, int(math.Ceil((to-from)/slotStep))+1))
	step := (to - from) / float64(n-1)
	p := &e.strip
	p.lay(s, o, from, step, n)
	p.cellsWide = e.gap
	live := false
	for i := range p.feet {
		f := &p.feet[i]
		e.meet(f, s, o.along(from+float64(i)*step, s.l), x)
		live = live || (f.weight > 0 || f.free > 0) && f.mix > 0
	}
	if !live {
		return
	}
	join(p.feet)
	p.smoothen()
	e.sweep(p, f)
}

// join lends a foot that misses beside one that hits the place and strength of its neighbour, with no
// weight: the numbers then fade out between the two instead of being halved.
func join(feet []foot) {
	for i := range feet {
		if feet[i].hit {
			continue
		}
		var from *foot
		if i > 0 && feet[i-1].hit && feet[i-1].weight > 0 {
			from = &feet[i-1]
		} else if i+1 < len(feet) && feet[i+1].hit && feet[i+1].weight > 0 {
			from = &feet[i+1]
		}
		if from == nil {
			continue
		}
		own := feet[i]
		feet[i] = *from
		feet[i].weight, feet[i].free, feet[i].clear = 0, own.free, own.clear
		feet[i].hit = false
	}
}

// touch is what one outlet does to one cell.
type touch struct{ p, tauS, tauA, gradS, gradA, ue, heat float64 }

// dents fades the shear where patch and impingement point face each other across a recess: air that turns
// into a concave corner stagnates there. bend is chord.(n-nF), negative when concave; chord2 the square of
// the chord.
func dents(bend, chord2 float64) float64 {
	if bend*bend < 0.01*chord2 {
		return 1
	}
	return max(0, min(1, 1-(-bend/math.Sqrt(chord2)-0.1)/0.3))
}

// wallSlot adds the wall part of a slot jet to a cell and returns how far it lies from the stagnation line, over
// the distance of the jet; -1 when the cell is out of its reach. The foot g
// nearest to the cell gives directions; strengths are read between a and b at f.
//
// A cell opposite a place of the slot need not lie opposite its foot: behind the horizon of a round wall it
// lies round the corner, along the impingement line. Such a cell is as far from the foot as the way along
// the wall, across and along the line together. On a flat wall the way along the line is 0. Beside is how
// far along the slot the cell lies from the foot g. A step between foot and cell, as from a closure back
// to the shoulder, counts as way too: on one arc or one plane chord.n + chord.nF is 0.
func wallSlot(g *geometry, a, b *foot, f, beside float64, c *cell, cc, w float64, sum *touch) float64 {
	u := (cc - cosSepTo) * (curvePer / (1 - cosSepTo))
	ci := min(int(u), curvePer)
	fr := u - float64(ci)
	k0, k1 := &curves[ci], &curves[ci+1]
	stays := w * (k0.stays + fr*(k1.stays-k0.stays))
	if stays <= 0 {
		return -1
	}
	chordX, chordY, chordZ := c.pos.X-g.at.X, c.pos.Y-g.at.Y, c.pos.Z-g.at.Z
	ca := chordX*c.normal.X + chordY*c.normal.Y + chordZ*c.normal.Z
	cb := chordX*g.n.X + chordY*g.n.Y + chordZ*g.n.Z
	nt := c.normal.X*g.t.X + c.normal.Y*g.t.Y + c.normal.Z*g.t.Z
	nl := c.normal.X*g.l.X + c.normal.Y*g.l.Y + c.normal.Z*g.l.Z
	bend := (k0.fromPatch+fr*(k1.fromPatch-k0.fromPatch))*ca + (k0.fromFoot+fr*(k1.fromFoot-k0.fromFoot))*cb
	off := chordX*g.t.X + chordY*g.t.Y + chordZ*g.t.Z + nt*bend - (a.shift + f*(b.shift-a.shift))
	side := chordX*g.l.X + chordY*g.l.Y + chordZ*g.l.Z + nl*bend - beside*g.perL
	inv := a.inv + f*(b.inv-a.inv)
	xx := math.Abs(off * inv)
	way, k := math.Copysign(1, off), 0
	if off < 0 {
		k = 1
	}
	s0, s1 := &a.sides[k], &b.sides[k]
	sTau, sWall, sDrag := s0.tau+f*(s1.tau-s0.tau), s0.wall+f*(s1.wall-s0.wall), s0.drag+f*(s1.drag-s0.drag)
	round, step := side*inv, (ca+cb)/2*inv
	if r2 := round*round + step*step; r2 > 0.02*0.02 {
		away := math.Sqrt(xx*xx + r2)
		lean := xx / away
		o0, o1 := &a.sides[1-k], &b.sides[1-k]
		sTau = opposed(sTau, o0.tau+f*(o1.tau-o0.tau), lean)
		sWall = opposed(sWall, o0.wall+f*(o1.wall-o0.wall), lean)
		sDrag = opposed(sDrag, o0.drag+f*(o1.drag-o0.drag), lean)
		way *= lean
		xx = away
	}
	if xx >= wallTo {
		return -1
	}
	us := a.us + f*(b.us-a.us)
	heat := a.heat + f*(b.heat-a.heat)
	top := sTau
	ue, press, t := us, 0.0, 0.0
	if xx < impactTo {
		v := xx * impactPer
		vi := int(v)
		fv := v - float64(vi)
		n0, n1 := &planeNear[vi], &planeNear[vi+1]
		press = n0.press + fv*(n1.press-n0.press)
		ue = us * (n0.speed + fv*(n1.speed-n0.speed))
		t = top * (n0.shear + fv*(n1.shear-n0.shear))
	}
	if xx > jet.PlaneShearX {
		v := xx * wallPerX
		vi := int(v)
		fv := v - float64(vi)
		w0, w1 := &planeWall[vi], &planeWall[vi+1]
		speed := sWall * (w0.u + fv*(w1.u-w0.u))
		var drag float64
		if speed > us {
			speed = us
			drag = (a.held + f*(b.held-a.held)) * (w0.tauAtOne + fv*(w1.tauAtOne-w0.tauAtOne))
		} else {
			drag = sDrag * (w0.tau + fv*(w1.tau-w0.tau))
			heat *= speed * (a.perUs + f*(b.perUs-a.perUs))
		}
		t = max(t, min(drag, top))
		ue = min(ue, speed)
	}

	// Carry t and l to the patch by the smallest rotation that turns the foot's normal into the patch's.
	turn := k0.turn + fr*(k1.turn-k0.turn)
	ns := (g.n.X*c.along.X + g.n.Y*c.along.Y + g.n.Z*c.along.Z) * turn
	na := (g.n.X*c.ax + g.n.Y*c.ay) * turn
	ts := g.t.X*c.along.X + g.t.Y*c.along.Y + g.t.Z*c.along.Z - nt*ns
	ta := g.t.X*c.ax + g.t.Y*c.ay - nt*na
	ls := g.l.X*c.along.X + g.l.Y*c.along.Y + g.l.Z*c.along.Z - nl*ns
	la := g.l.X*c.ax + g.l.Y*c.ay - nl*na
	shear := stays
	faces := k0.faces + fr*(k1.faces-k0.faces)
	if ca < cb {
		d := dents(ca-cb, chordX*chordX+chordY*chordY+chordZ*chordZ)
		shear *= d
		faces += (1 - d) * (1 - faces) // in a corner the pressure builds up
	}
	tt := way * t * shear * g.square
	if xx < jet.PlaneShearX {
		still := alongShear * (a.tau + f*(b.tau-a.tau)) * (1 - xx*(1/jet.PlaneShearX))
		t = math.Sqrt(t*t + still*still)
	}
	full := g.al * t * shear
	sum.tauS += tt*ts + full*ls
	sum.tauA += tt*ta + full*la
	if press > 0 {
		p := stays * faces * press * (a.peak + f*(b.peak-a.peak))
		slope := -2 * jet.PlaneShapeC * inv * inv * p
		sum.p += p
		sum.gradS += slope * (off*ts + side*ls)
		sum.gradA += slope * (off*ta + side*la)
	}
	sum.ue += stays * ue
	sum.heat += stays * heat
	return xx
}

// opposed goes from the mean of two sides of an impingement line, at lean 0, to the first of them at 1.
func opposed(this, other, lean float64) float64 { return (this*(1+lean) + other*(1-lean)) / 2 }

// pass adds the free jet that passes by or grazes; false when it is too far off.
func (p *strip) pass(v *view, c *cell, free, clear float64, sum *touch) bool {
	s, k := p.s, p.s.aspect
	along := v.a - p.oa
	if along <= minX || along >= clear {
		return false
	}
	z, y := v.l-p.ol, math.Abs(v.c-p.oc)
	m, hx := s.thrust, max(along, k.core)
	if s.smeared {
		if y > nearJet*along && y > nearJet*s.farthestCore(along) {
			return false
		}
		if m = s.perLength(z, along); m <= 0 {
			return false
		}
		hx = jet.PlaneDistanceSI(along, m, s.pg)
	}
	if y > nearJet*hx {
		return false
	}
	if far := 0.3 * along; !s.smeared && (z+s.length/2 < far || s.length/2-z < far) {
		if m = s.perLength(z, along); m <= 0 {
			return false
		}
	}
	inv := 1 / hx
	yy := (v.c - p.oc) * inv
	root := fall(jet.PlaneShapeC / 2 * yy * yy)
	g := root * root
	us := k.speed * math.Sqrt(m*inv)
	press := free * jet.PlaneImpact * m * inv * v.b * v.b * g * s.press
	tau := free * jet.MaxWallShearSI(jet.PlaneShear, us, hx, s.rho, s.nu) * s.shear * g * v.grip
	sum.p += press
	sum.tauS += tau * v.as
	sum.tauA += tau * v.aa
	slope := -2 * jet.PlaneShapeC * yy * inv * press
	sum.gradS += slope * s.across.dot(c.along)
	sum.gradA += slope * (s.across.X*c.ax + s.across.Y*c.ay)
	sum.ue += free * us * root * v.slip
	sum.heat += free * g * min(1, k.heat*us)
	return true
}

// farthestCore is a distance that the core of a merged jet does not reach beyond: the sum over a row of jets is below that
// over an endless one.
func (s *source) farthestCore(along float64) float64 {
	const area = 1.51 // of exp(-2 ln2 d2), rounded up
	w := jet.RoundSpread * along
	most := 1 + area*w*s.aspect.perGap
	if s.aspect.perGap == 0 {
		most = float64(len(s.ports))
	}
	return jet.PlaneDistanceSI(0, s.thrust*smearing/w*most, s.pg)
}
