package station

import (
	"fmt"
	"math"

	"leste/job"
)

const (
	clearance = 1e-3 // m: what passes closer than this touches
	lipDepth  = 0.02 // m: an outlet is at least this deep behind its lip
	sinRefuse = 0.5  // an aim below 30 degrees against the wall is refused
)

// clash says what an outlet stands in, runs into or fails to reach.
func (r *resolver) clash(o *job.Outlet, path string, p *Placed, s *Scene, f *FormatPlan) {
	b := f.Body
	name := fmt.Sprintf("the outlet %q", o.Name)
	who := fmt.Sprintf("%q", f.Format.Name)
	back := p.Axis.scale(-lipDepth)
	half := math.Max(p.Length/2, p.Bore/2)
	points := make([]Vec, 0, 42)
	for i := 0; i <= 20; i++ {
		q := p.Middle.along(half*(float64(i)/10-1), p.Line)
		points = append(points, q, q.add(back))
	}
	const outside = "move it away from the line, or change height, offset or tilt"
	inside, swept := false, false
	for _, v := range points {
		// A container passes every x: what counts is its widest slice.
		swept = swept || b.shape.contains(Vec{0, v.Y, v.Z}, clearance)
		inside = inside || b.shape.contains(Vec{v.X - p.Middle.X, v.Y, v.Z}, 0)
	}
	switch {
	case inside:
		r.say(path, fmt.Sprintf("%s stands inside the container %s and its neighbours as they pass", name, who), outside)
	case swept:
		r.say(path, fmt.Sprintf("%s stands in the way of %s: a passing container sweeps over it", name, who), outside)
	}
	for _, v := range points {
		if v.Z < 0 && p.Side != below || v.Z < 0 && s.Belt {
			r.say(path, fmt.Sprintf("%s reaches below the belt", name), "raise it, as air comes from above the level of the belt beside a narrow one too, or say that the belt is open or that containers are gripped at their sides")
			break
		}
	}
	r.inSolids(path, name, points, s)
	if space := r.job.Site.Space; space != nil {
		for _, v := range points {
			if !inBox(space, v, 0) {
				r.say(path, fmt.Sprintf("%s reaches out of the space given for the site", name), "move it inside, shorten it, or widen site/space")
				break
			}
		}
	}
	best, blocked := r.bestIncidence(p, s, b)
	switch {
	case math.IsInf(best, -1) && blocked:
		r.say(path, fmt.Sprintf("%s does not reach %s: a rail, a grip, the belt or an obstacle stands in its way everywhere", name, who), "move the outlet or what covers it")
	case math.IsInf(best, -1):
		r.say(path, fmt.Sprintf("the air of %q misses the container %s", o.Name, who), "change its height, offset, tilt or aim")
	case best < sinRefuse:
		r.say(path, fmt.Sprintf("the air of %q meets the wall of %s at %.0f degrees at most; below 30 it only grazes and nothing is predicted", o.Name, who, math.Asin(best)*180/math.Pi),
			"aim it more squarely at the wall")
	}
}

// inSolids says when an outlet stands in a rail, a grip or an obstacle.
func (r *resolver) inSolids(path, name string, points []Vec, s *Scene) {
	for _, v := range points {
		for i := range s.Rails {
			if math.Hypot(v.Y-s.Rails[i].Y, v.Z-s.Rails[i].Z) < s.Rails[i].Radius {
				r.say(path, fmt.Sprintf("%s stands in a guide rail at a height of %.4g mm", name, s.Rails[i].Z*1e3), "move the outlet or the rail")
				return
			}
		}
		for _, boxes := range [2][]job.Box{s.Grips, s.Obstacles} {
			for i := range boxes {
				if inBox(&boxes[i], v, 0) {
					r.say(path, fmt.Sprintf("%s stands in %s", name, orElse(boxes[i].Name, "an obstacle")), "move one of them")
					return
				}
			}
		}
	}
}

func inBox(b *job.Box, v Vec, margin float64) bool {
	return v.X >= float64(b.XFrom)-margin && v.X <= float64(b.XTo)+margin &&
		v.Y >= float64(b.YFrom)-margin && v.Y <= float64(b.YTo)+margin &&
		v.Z >= float64(b.ZFrom)-margin && v.Z <= float64(b.ZTo)+margin
}

// bestIncidence is the sine of the squarest angle at which any part of an outlet meets the wall while a
// container passes, -Inf when none does; and whether something else stood in the way.
func (r *resolver) bestIncidence(p *Placed, s *Scene, b *Body) (best float64, blocked bool) {
	best = math.Inf(-1)
	e := &Exposer{body: b, scene: *s}
	e.scene.Neighbours = nil // they come and go
	spots := p.Ports
	if spots == nil {
		for i := 0; i <= 16; i++ {
			spots = append(spots, p.Length/2*(float64(i)/8-1))
		}
	}
	rays := b.shape.beam(p.Axis)
	for _, z := range spots {
		lip := p.Middle.along(z, p.Line)
		for i := -12; i <= 12; i++ {
			x := lip.X + float64(i)/12*(b.shape.radius+0.3*math.Abs(p.Axis.X))
			o := Vec{lip.X - x, lip.Y, lip.Z}
			h, n, ok := rays.ray(o)
			if !ok {
				continue
			}
			if e.block(o, rays, h, x) < h {
				blocked = true
				continue
			}
			best = math.Max(best, -p.Axis.dot(n))
		}
	}
	return best, blocked
}

// between looks for outlets of the whole line that stand in each other, and for obstacles in the containers' way.
func (r *resolver) between(plan *Plan) {
	for i := range plan.Formats {
		f := &plan.Formats[i]
		r.obstacles(f)
		type placed struct {
			at   float64
			p    *Placed
			path string
		}
		var all []placed
		for k := range f.Stations {
			s := &f.Stations[k]
			for m := range s.Outlets {
				if s.Outlets[m].Line.norm() > 0 {
					r.standsIn(&s.Outlets[m], s, f)
					all = append(all, placed{s.At, &s.Outlets[m], fmt.Sprintf("/stations/%d/outlets/%d", k, m)})
				}
			}
		}
		for k := range all {
			for m := k + 1; m < len(all); m++ {
				a, b := all[k], all[m]
				d := apart(a.p, b.p, b.at-a.at)
				if least := clearance + (a.p.Gap+a.p.Bore+b.p.Gap+b.p.Bore)/2; d < least {
					r.say(b.path, fmt.Sprintf("the outlets %q and %q stand in each other", a.p.Name, b.p.Name), "move one of them")
				}
				rods := [2][3]Rod{a.p.Rods(), b.p.Rods()}
				f.note(-Between(&rods[0], &rods[1], b.at-a.at), fmt.Sprintf("the bodies behind the lips of %q and %q stand in each other", a.p.Name, b.p.Name))
			}
		}
	}
}

// obstacles in the way of the containers themselves, rails and guides that hold nothing.
func (r *resolver) obstacles(f *FormatPlan) {
	b := f.Body
	for i := range r.job.Line.Obstacles {
		o := &r.job.Line.Obstacles[i]
		for k := 0; k <= 40; k++ {
			z := float64(o.ZFrom) + float64(o.ZTo-o.ZFrom)*float64(k)/40
			y := math.Max(float64(o.YFrom), math.Min(float64(o.YTo), 0))
			if b.shape.contains(Vec{0, y, z}, 0) {
				r.say(fmt.Sprintf("/line/obstacles/%d", i), fmt.Sprintf("%q runs into the obstacle %q", f.Format.Name, orElse(o.Name, "without a name")), "move the obstacle out of the containers' way")
				break
			}
		}
	}
	for i := range r.job.Line.Rails {
		if float64(r.job.Line.Rails[i].Height) > b.Height {
			r.say(fmt.Sprintf("/line/rails/%d/height", i), fmt.Sprintf("the rail at %.4g mm stands above %q, which is %.4g mm high", r.job.Line.Rails[i].Height.MM(), f.Format.Name, b.Height*1e3), "lower the rail")
		}
	}
	if g := r.job.Line.Grips; g != nil && (float64(g.ZFrom) > b.Height || g.ZTo <= g.ZFrom) {
		r.say("/line/side_grips", fmt.Sprintf("the gripping belts do not hold %q, which is %.4g mm high", f.Format.Name, b.Height*1e3), "give z_from below z_to and within the container's height")
	}
}

// apart is the distance between the lips of two outlets; b's station lies dx further on.
func apart(a, b *Placed, dx float64) float64 {
	const n = 24
	at := func(p *Placed, i int) Vec { return p.Middle.along(p.Length/2*(2*float64(i)/n-1), p.Line) }
	best := math.Inf(1)
	for i := 0; i < n; i++ {
		p0, p1 := at(a, i), at(a, i+1)
		for k := 0; k <= n; k++ {
			v := at(b, k)
			v.X += dx
			best = math.Min(best, toSegment(v, p0, p1))
			if a.Length == 0 {
				break
			}
		}
	}
	for k := 0; k <= n; k++ { // and b's stretches to a's points
		v := at(a, k)
		v.X -= dx
		for i := 0; i < n; i++ {
			best = math.Min(best, toSegment(v, at(b, i), at(b, i+1)))
		}
	}
	return best
}

func toSegment(v, a, b Vec) float64 {
	d := b.sub(a)
	l2 := d.dot(d)
	if l2 == 0 {
		return v.sub(a).norm()
	}
	t := math.Max(0, math.Min(1, v.sub(a).dot(d)/l2))
	return v.sub(a.along(t, d)).norm()
}
