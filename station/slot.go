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
	from = math.Max(mid-wide, -s.length/2-spread)
	to = math.Min(mid+wide, s.length/2+spread)
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
	feet := e.scratch(n)
	live := false
	for i := range feet {
		z := from + float64(i)*step
		feet[i] = e.aim(s, o.along(z, s.l), x)
		live = live || feet[i].weight > 0 || feet[i].free > 0
	}
	if !live {
		return
	}
	join(feet)
	e.sweep(s, o, feet, from, step, f)
}

// scratch returns n feet to write on.
func (e *Exposer) scratch(n int) []foot {
	if cap(e.feet) < n {
		e.feet = make([]foot, n, max(n, 256))
	}
	return e.feet[:n]
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

// sweep adds the jets of a slot to every cell. Algorithm: each cell reads the foot at its own place along the
// slot; on the wall the pressure follows the arc length from the stagnation line, the shear the boundary
// layer and then the wall jet; where the axis grazes or misses, the free jet at the cell counts.
func (e *Exposer) sweep(s *source, o Vec, feet []foot, z0, step float64, f *Field) {
	perZ := 1 / step
	last := len(feet) - 1
	cols := e.body.Surface.Cols
	l, a := s.l, s.a
	for i := range e.cells {
		c := &e.cells[i]
		if c.lies && e.scene.Belt {
			continue
		}
		d := c.pos.sub(o)
		u := (d.dot(l) - z0) * perZ
		if u < 0 || u > float64(last) {
			continue
		}
		j := min(int(u), last-1)
		fr := u - float64(j)
		p0, p1 := &feet[j], &feet[j+1]
		w := p0.weight + fr*(p1.weight-p0.weight)
		free := p0.free + fr*(p1.free-p0.free)
		b := -a.dot(c.normal)
		if free > 0 && b <= 0 {
			free = 0
		}
		if w <= 0 && free <= 0 {
			continue
		}
		g, beside := p0, fr
		if fr > 0.5 {
			g, beside = p1, fr-1
		}
		var sum touch
		hit := false
		if w > 0 {
			if cc := g.n.X*c.normal.X + g.n.Y*c.normal.Y + g.n.Z*c.normal.Z; cc > cosSepTo {
				hit = wallSlot(g, p0, p1, fr, beside*step, c, cc, w, &sum)
			}
		}
		if free > 0 && s.passSlot(d, c, b, free, g.clear, &sum) {
			hit = true
		}
		if !hit {
			continue
		}
		if s.smeared {
			sum.thin(p0.mix + fr*(p1.mix-p0.mix))
		}
		sum.store(f, i)
		row := i / cols
		if s.paired { // the twin on the other side does the same to the mirrored cell
			sum.tauA, sum.gradA = -sum.tauA, -sum.gradA
			sum.store(f, 2*row*cols+cols-1-i)
		}
		e.touched.add(row)
	}
}

// touch is what one outlet does to one cell.
type touch struct{ p, tauS, tauA, gradS, gradA, ue, heat float64 }

// store adds it to the field: pressures and shears add up, of speeds and heat the largest counts.
func (t *touch) store(f *Field, i int) {
	f.TauS[i] += t.tauS
	f.TauA[i] += t.tauA
	if t.p != 0 {
		f.P[i] += t.p
		f.GradS[i] += t.gradS
		f.GradA[i] += t.gradA
	}
	if t.ue > f.Ue[i] {
		f.Ue[i] = t.ue
	}
	if t.heat > f.Heat[i] {
		f.Heat[i] = t.heat
	}
}

// dents fades the shear where patch and impingement point face each other across a recess: air that turns
// into a concave corner stagnates there. bend is chord.(n-nF), negative when concave; chord2 the square of
// the chord.
func dents(bend, chord2 float64) float64 {
	if bend*bend < 0.01*chord2 {
		return 1
	}
	return max(0, min(1, 1-(-bend/math.Sqrt(chord2)-0.1)/0.3))
}

// wallSlot adds the wall part of a slot jet to a cell; false when the cell is out of its reach. The foot g
// nearest to the cell gives directions; strengths are read between a and b at f.
//
// A cell opposite a place of the slot need not lie opposite its foot: behind the horizon of a round wall it
// lies round the corner, along the impingement line. Such a cell is as far from the foot as the way along
// the wall, across and along the line together. On a flat wall the way along the line is 0. Beside is how
// far along the slot the cell lies from the foot g. A step between foot and cell, as from a closure back
// to the shoulder, counts as way too: on one arc or one plane chord.n + chord.nF is 0.
func wallSlot(g, a, b *foot, f, beside float64, c *cell, cc, w float64, sum *touch) bool {
	u := (cc - cosSepTo) * (curvePer / (1 - cosSepTo))
	ci := min(int(u), curvePer)
	fr := u - float64(ci)
	k0, k1 := &curves[ci], &curves[ci+1]
	stays := w * (k0.stays + fr*(k1.stays-k0.stays))
	if stays <= 0 {
		return false
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
	xx := off * inv
	sg, s0, s1 := 1.0, &a.fore, &b.fore
	if xx < 0 {
		xx, sg, s0, s1 = -xx, -1, &a.back, &b.back
	}
	round, step := side*inv, (ca+cb)/2*inv
	if r2 := round*round + step*step; r2 > 0.02*0.02 {
		away := math.Sqrt(xx*xx + r2)
		sg *= xx / away
		xx = away
	}
	if xx >= wallTo {
		return false
	}
	us := a.us + f*(b.us-a.us)
	heat := a.heat + f*(b.heat-a.heat)
	top := s0.tau + f*(s1.tau-s0.tau)
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
		speed := (s0.wall + f*(s1.wall-s0.wall)) * (w0.u + fv*(w1.u-w0.u))
		var drag float64
		if speed > us {
			speed = us
			drag = (a.held + f*(b.held-a.held)) * (w0.tauAtOne + fv*(w1.tauAtOne-w0.tauAtOne))
		} else {
			drag = (s0.drag + f*(s1.drag-s0.drag)) * (w0.tau + fv*(w1.tau-w0.tau))
			heat *= speed * (a.perUs + f*(b.perUs-a.perUs))
		}
		if drag > top {
			drag = top
		}
		if drag > t {
			t = drag
		}
		if speed < ue {
			ue = speed
		}
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
	tt := sg * t * shear * g.square
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
	return true
}

// passSlot adds the free jet that passes by or grazes; false when it is too far off.
func (s *source) passSlot(d Vec, c *cell, b, free, clear float64, sum *touch) bool {
	along := d.dot(s.a)
	if along <= minX || along >= clear {
		return false
	}
	z := d.dot(s.l)
	m := s.thrust
	if s.smeared {
		m = s.perLength(z, along)
	} else if far := 0.3 * along; z+s.length/2 < far || s.length/2-z < far {
		m = s.perLength(z, along)
	}
	if m <= 0 {
		return false
	}
	hx := jet.PlaneDistanceSI(along, s.cap(m), s.pg)
	y := d.dot(s.across)
	yy := y / hx
	if yy > nearJet || yy < -nearJet {
		return false
	}
	g := math.Exp(-jet.PlaneShapeC * yy * yy)
	p90 := jet.PlaneImpact * m / hx
	us := math.Sqrt(2 * p90 / s.rho)
	tm := jet.MaxWallShearSI(jet.PlaneShear, us, hx, s.rho, s.nu) * s.shear
	p := free * p90 * b * b * g * s.press
	tau := free * tm * g * math.Min(1, b*5)
	as, aa := s.a.dot(c.along), s.a.X*c.ax+s.a.Y*c.ay // a + b n has the same components along the wall
	sum.p += p
	sum.tauS += tau * as
	sum.tauA += tau * aa
	slope := -2 * jet.PlaneShapeC * yy / hx * p
	sum.gradS += slope * s.across.dot(c.along)
	sum.gradA += slope * (s.across.X*c.ax + s.across.Y*c.ay)
	sum.ue += free * us * math.Sqrt(g*math.Max(0, 1-b*b))
	sum.heat += free * g * math.Min(1, 0.9*jet.PlaneDecay*math.Sqrt(m/(s.rho*hx))/s.exit)
	return true
}
