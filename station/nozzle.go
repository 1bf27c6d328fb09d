package station

import (
	"math"

	"leste/physics/jet"
	q "leste/quantity"
)

// blowNozzles adds what the nozzles of an outlet do, each alone, as far as their jets have not merged.
func (e *Exposer) blowNozzles(s *source, x float64, f *Field) {
	o := s.lip(x)
	if _, _, _, ok := e.window(s, o); !ok {
		return
	}
	merges := s.row.Spacing > 0 && len(s.ports) > 1
	h := e.body.shape
	cols := e.body.Surface.Cols
	centre := Vec{0, 0, (h.low + h.high) / 2}
	tall := (h.high - h.low) / 2
	for _, z := range s.ports {
		p := o.along(z, s.l)
		// The nozzle's cone must meet the ball that holds the body.
		c := centre.sub(p)
		along := c.dot(s.a)
		ball := math.Hypot(h.radius, tall)
		if along+ball <= 0 || math.Sqrt(math.Max(0, c.dot(c)-along*along)) > ball+nearJet*(along+ball) {
			continue
		}
		ft := e.aim(s, p, x)
		if ft.weight <= 0 && ft.free <= 0 {
			continue
		}
		if ft.hit && merges {
			d := ft.at.sub(p).dot(s.a)
			ft.mix = 1 - float64(s.row.Merged(q.Length(d)))
		} else {
			ft.mix = 1
			if merges {
				ft.mix = 1 - float64(s.row.Merged(q.Length(math.Max(along, 0))))
			}
		}
		if ft.mix <= 0 {
			continue
		}
		for i := e.firstRow() * cols; i < len(e.cells); i++ {
			cl := &e.cells[i]
			var sum touch
			hit := false
			if ft.weight > 0 && ft.n.dot(cl.normal) > cosSepTo {
				hit = s.wallRound(&ft, cl, ft.weight, &sum)
			}
			if b := -s.a.dot(cl.normal); ft.free > 0 && b > 0 {
				if s.passRound(cl.pos.sub(p), cl, b, ft.free, ft.clear, &sum) {
					hit = true
				}
			}
			if !hit {
				continue
			}
			sum.thin(ft.mix)
			row := i / cols
			e.put(s, row, i-row*cols, &sum, f)
			e.touched.add(row)
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
	t.ue *= math.Min(1, 2*share)
	t.heat *= math.Min(1, 2*share)
}

// wallRound adds the wall part of a round jet to a cell; false when the cell is out of its reach.
func (s *source) wallRound(g *foot, c *cell, w float64, sum *touch) bool {
	n := c.normal
	chord := c.pos.sub(g.at)
	reach := roundTo / g.inv
	if chord.dot(chord) > reach*reach {
		return false
	}
	cc := g.n.dot(n)
	ca, cb := chord.dot(n), chord.dot(g.n)
	u := (cc - cosSepTo) * (curvePer / (1 - cosSepTo))
	ci := min(int(u), curvePer)
	fr := u - float64(ci)
	k0, k1 := &curves[ci], &curves[ci+1]
	bend := (k0.fromPatch+fr*(k1.fromPatch-k0.fromPatch))*ca + (k0.fromFoot+fr*(k1.fromFoot-k0.fromFoot))*cb
	stays := w * (k0.stays + fr*(k1.stays-k0.stays))
	if stays <= 0 {
		return false
	}
	// Arc vector in the foot's tangent plane, from the stagnation point.
	d := chord.along(-cb, g.n).along(bend, n.along(-cc, g.n)).along(-g.shift, g.t)
	step := (ca + cb) / 2
	r := math.Sqrt(d.dot(d) + step*step)
	xx := r * g.inv
	if xx >= roundTo {
		return false
	}
	var dir Vec
	if r > 0 {
		dir = d.scale(1 / r)
	}
	share := 1.0
	if g.cos > 0 {
		share = jet.RoundShareSI(g.cos, dir.dot(g.t))
	}
	drag := power(roundShare, share)
	top := math.Min(1, drag) * g.tau
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
		speed := math.Min(g.us, g.wall*math.Sqrt(share)*(w0.u+fv*(w1.u-w0.u)))
		t = math.Max(t, math.Min(top, g.drag*drag*(w0.tau+fv*(w1.tau-w0.tau))))
		ue = math.Min(ue, speed)
		heat *= speed / g.us
	}
	h := k0.turn + fr*(k1.turn-k0.turn)
	ns, na := g.n.dot(c.along), g.n.X*c.ax+g.n.Y*c.ay
	nd := n.dot(dir)
	ds := dir.dot(c.along) - nd*h*ns
	da := dir.X*c.ax + dir.Y*c.ay - nd*h*na
	shear := stays * t
	faces := k0.faces + fr*(k1.faces-k0.faces)
	if ca < cb {
		dent := dents(ca-cb, chord.dot(chord))
		shear *= dent
		faces += (1 - dent) * (1 - faces)
	}
	p := stays * faces * g.peak * press
	slope := -2 * jet.RoundShapeC * g.inv * g.inv * p * r
	sum.p += p
	sum.tauS += shear * ds
	sum.tauA += shear * da
	sum.gradS += slope * ds
	sum.gradA += slope * da
	sum.ue += stays * ue
	sum.heat += stays * heat
	return true
}

// passRound adds the free round jet that passes by or grazes; false when it is too far off.
func (s *source) passRound(d Vec, c *cell, b, free, clear float64, sum *touch) bool {
	along := d.dot(s.a)
	if along <= minX || along >= clear {
		return false
	}
	hx := jet.RoundDistanceSI(along, s.thrust, s.pg)
	y := d.along(-along, s.a)
	y2 := y.dot(y) / (hx * hx)
	if y2 > nearJet*nearJet {
		return false
	}
	g := math.Exp(-jet.RoundShapeC * y2)
	p90 := jet.RoundImpact * s.thrust / (hx * hx)
	us := math.Sqrt(2 * p90 / s.rho)
	tm := jet.MaxWallShearSI(jet.RoundShear, us, hx, s.rho, s.nu) * s.shear
	p := free * p90 * b * b * g * s.press
	tau := free * tm * g * math.Min(1, b*5)
	sum.p += p
	sum.tauS += tau * s.a.dot(c.along)
	sum.tauA += tau * (s.a.X*c.ax + s.a.Y*c.ay)
	slope := -2 * jet.RoundShapeC / (hx * hx) * p
	sum.gradS += slope * y.dot(c.along)
	sum.gradA += slope * (y.X*c.ax + y.Y*c.ay)
	sum.ue += free * us * math.Sqrt(g*math.Max(0, 1-b*b))
	sum.heat += free * g * math.Min(1, 0.85*jet.RoundDecay*math.Sqrt(4*s.thrust/(math.Pi*s.rho))/(hx*s.exit))
	return true
}
