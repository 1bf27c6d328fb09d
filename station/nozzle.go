package station

import (
	"math"

	"leste/physics/jet"
	q "leste/quantity"
)

// A nozzle is one whose jet may reach the body, from where the container stands.
type nozzle struct {
	foot
	wall roundPatch
	free freeRound
}

// blowNozzles adds what the nozzles of an outlet do, each alone, as far as their jets have not merged.
func (e *Exposer) blowNozzles(s *source, x float64, f *Field) {
	o := s.lip(x)
	if _, _, _, ok := e.window(s, o); !ok {
		return
	}
	if most := mostRoundFeet * len(s.ports); cap(e.nozzles) < most {
		e.nozzles = make([]nozzle, most)
	}
	n := 0
	for _, z := range s.ports {
		n += e.aimNozzle(s, o.along(z, s.l), x, e.nozzles[n:n+mostRoundFeet])
	}
	if n == 0 {
		return
	}
	l := &e.lines[0]
	for row := e.firstRow(); row < e.body.Surface.Rows; row++ {
		l.clear()
		for i := range e.nozzles[:n] {
			e.nozzles[:n][i].seeRow(e, s.aspect, row, l)
		}
		e.store(s, row, l, f)
	}
}

// aimNozzle finds what a nozzle with its lip at p does, as several where its feet lie apart; none when nothing of it reaches
// the body.
func (e *Exposer) aimNozzle(s *source, p Vec, x float64, to []nozzle) (n int) {
	// The nozzle's cone must meet the ball that holds the body.
	h := e.body.shape
	c := Vec{0, 0, (h.low + h.high) / 2}.sub(p)
	along := c.dot(s.a)
	ball := math.Hypot(h.radius, (h.high-h.low)/2)
	if along+ball <= 0 || math.Sqrt(max(0, c.dot(c)-along*along)) > ball+nearJet*(along+ball) {
		return 0
	}
	var feet [mostRoundFeet]foot
	for i := range e.strike(&feet, s, p, x) {
		k := &to[n]
		if k.foot = feet[i]; k.weight <= 0 && k.foot.free <= 0 {
			continue
		}
		k.mix = 1
		if s.row.Spacing > 0 && len(s.ports) > 1 {
			d := max(along, 0)
			if k.hit {
				d = k.at.sub(p).dot(s.a)
			}
			k.mix -= float64(s.row.Merged(q.Length(d)))
		}
		if k.mix <= 0 {
			continue
		}
		k.free = s.freeRound(p, &k.foot)
		if k.weight > 0 {
			k.wall = roundFoot(&k.foot)
		}
		n++
	}
	return n
}

// seeRow adds what a nozzle does to a row of cells.
func (n *nozzle) seeRow(e *Exposer, k *aspect, row int, l *rowSeen) {
	cols := e.body.Surface.Cols
	cells, views := e.cells[row*cols:(row+1)*cols], k.views[row*cols:(row+1)*cols]
	passes := n.foot.free > 0
	for c := range cells {
		var sum touch
		hit := n.weight > 0 && n.wall.touch(&cells[c], &sum)
		if passes && views[c].b > 0 && n.free.pass(&views[c], &cells[c], &sum) {
			hit = true
		}
		if hit {
			sum.thin(n.mix)
			l.touch[c].add(&sum, 1)
			l.seen[c] = nearby
		}
	}
}

// thin takes the share of a jet that has not merged, or has. Of the speed twice the share counts, up to all
// of it: half merged, both views hold.
func (t *touch) thin(share float64) {
	if share == 1 {
		return
	}
	t.p *= share
	t.tauS *= share
	t.tauA *= share
	t.gradS *= share
	t.gradA *= share
	t.ue *= min(1, 2*share)
	t.heat *= min(1, 2*share)
}

// A roundPatch is the wall part of a round jet about its foot.
type roundPatch struct {
	*foot
	within, within2 float64 // reach of the wall jet, and its square
	share, root     float64 // momentum share at right angles to the air, and the root of it
	fall            float64 // of the pressure away from the stagnation point
}

func roundFoot(g *foot) roundPatch {
	w := roundPatch{foot: g, within: roundTo / g.inv, share: 1, root: 1, fall: -2 * jet.RoundShapeC * g.inv * g.inv}
	w.within2 = w.within * w.within
	if g.cos > 0 {
		w.share = jet.RoundShareSI(g.cos, 0)
		w.root = math.Sqrt(w.share)
	}
	return w
}

// touch adds the wall part of a round jet to a cell; false when the cell is out of its reach.
func (g *roundPatch) touch(c *cell, sum *touch) bool {
	n := &c.normal
	cc := g.n.X*n.X + g.n.Y*n.Y + g.n.Z*n.Z
	if !(cc > cosSepTo) {
		return false
	}
	chordX, chordY, chordZ := c.pos.X-g.at.X, c.pos.Y-g.at.Y, c.pos.Z-g.at.Z
	chord2 := chordX*chordX + chordY*chordY + chordZ*chordZ
	if chord2 > g.within2 {
		return false
	}
	ca := chordX*n.X + chordY*n.Y + chordZ*n.Z
	cb := chordX*g.n.X + chordY*g.n.Y + chordZ*g.n.Z
	u := (cc - cosSepTo) * (curvePer / (1 - cosSepTo))
	ci := min(int(u), curvePer)
	fr := u - float64(ci)
	k0, k1 := &curves[ci], &curves[ci+1]
	stays := g.weight * (k0.stays + fr*(k1.stays-k0.stays))
	if stays <= 0 {
		return false
	}
	bend := (k0.fromPatch+fr*(k1.fromPatch-k0.fromPatch))*ca + (k0.fromFoot+fr*(k1.fromFoot-k0.fromFoot))*cb
	// Arc vector in the foot's tangent plane, from the stagnation point.
	back := cb + bend*cc
	dX := chordX - back*g.n.X + bend*n.X - g.shift*g.t.X
	dY := chordY - back*g.n.Y + bend*n.Y - g.shift*g.t.Y
	dZ := chordZ - back*g.n.Z + bend*n.Z - g.shift*g.t.Z
	step := (ca + cb) / 2
	r := math.Sqrt(dX*dX + dY*dY + dZ*dZ + step*step)
	xx := r * g.inv
	if xx >= roundTo {
		return false
	}
	perR := 0.0
	if r > 0 {
		perR = 1 / r
	}
	lean := 1 / (1 - g.cos*perR*(dX*g.t.X+dY*g.t.Y+dZ*g.t.Z))
	drag := power(roundShare, g.share*lean*lean)
	top := min(1, drag) * g.tau
	ue, press, t := g.us, 0.0, 0.0
	heat := g.heat
	if xx < impactTo {
		v := xx * impactPer
		vi := int(v)
		fv := v - float64(vi)
		n0, n1 := &roundNear[vi], &roundNear[vi+1]
		press = n0.press + fv*(n1.press-n0.press)
		ue = g.us * (n0.speed + fv*(n1.speed-n0.speed))
		t = top * (n0.shear + fv*(n1.shear-n0.shear))
	}
	if xx > jet.RoundShearX {
		v := xx * wallPerX
		vi := int(v)
		fv := v - float64(vi)
		w0, w1 := &roundWall[vi], &roundWall[vi+1]
		speed := min(g.us, g.wall*g.root*lean*(w0.u+fv*(w1.u-w0.u)))
		t = max(t, min(top, g.drag*drag*(w0.tau+fv*(w1.tau-w0.tau))))
		ue = min(ue, speed)
		heat *= speed * g.perUs
	}
	h := (k0.turn + fr*(k1.turn-k0.turn)) * perR * (n.X*dX + n.Y*dY + n.Z*dZ)
	// Carried to the patch by the smallest rotation that turns the foot's normal into the patch's.
	ds := perR*(dX*c.along.X+dY*c.along.Y+dZ*c.along.Z) - h*(g.n.X*c.along.X+g.n.Y*c.along.Y+g.n.Z*c.along.Z)
	da := perR*(dX*c.ax+dY*c.ay) - h*(g.n.X*c.ax+g.n.Y*c.ay)
	shear := stays * t
	faces := k0.faces + fr*(k1.faces-k0.faces)
	if ca < cb {
		dent := dents(ca-cb, chord2)
		shear *= dent
		faces += (1 - dent) * (1 - faces)
	}
	p := stays * faces * g.peak * press
	slope := g.fall * p * r
	sum.p += p
	sum.tauS += shear * ds
	sum.tauA += shear * da
	sum.gradS += slope * ds
	sum.gradA += slope * da
	sum.ue += stays * ue
	sum.heat += stays * heat
	return true
}

// A freeRound is a free round jet that passes by or grazes.
type freeRound struct {
	s            *source
	l, a, c      float64 // of the lip, as views have them
	free         float64
	core         float64
	speed, heat  float64
	press, shear float64
}

func (s *source) freeRound(p Vec, ft *foot) freeRound {
	return freeRound{
		s: s, l: p.dot(s.l), a: p.dot(s.a), c: p.dot(s.across), free: ft.free,
		core: s.aspect.core, speed: s.aspect.speed, heat: s.aspect.heat, shear: s.aspect.shear,
		press: ft.free * jet.RoundImpact * s.thrust * s.press,
	}
}

// pass adds the free jet to a cell that faces it; false when it is too far off.
func (j *freeRound) pass(v *view, c *cell, sum *touch) bool {
	along := v.a - j.a
	if along <= minX {
		return false
	}
	dl, dc := v.l-j.l, v.c-j.c
	hx := max(along, j.core)
	y2 := dl*dl + dc*dc
	if y2 > nearJet*nearJet*hx*hx {
		return false
	}
	inv := 1 / hx
	inv2 := inv * inv
	root := fall(jet.RoundShapeC / 2 * y2 * inv2)
	g := root * root
	us := j.speed * inv
	p := j.press * inv2 * v.b * v.b * g
	tau := j.free * j.shear * inv2 * g * v.grip
	sum.p += p
	sum.tauS += tau * v.as
	sum.tauA += tau * v.aa
	slope := -2 * jet.RoundShapeC * inv2 * p
	l, a := &j.s.l, &j.s.across
	yX, yY, yZ := dl*l.X+dc*a.X, dl*l.Y+dc*a.Y, dl*l.Z+dc*a.Z
	sum.gradS += slope * (yX*c.along.X + yY*c.along.Y + yZ*c.along.Z)
	sum.gradA += slope * (yX*c.ax + yY*c.ay)
	sum.ue += j.free * us * root * v.slip
	sum.heat += j.free * g * min(1, j.heat*us)
	return true
}
