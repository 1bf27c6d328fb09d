package design

import (
	"math"

	"leste/job"
	"leste/station"
)

// Depth of an outlet behind its lip and what stays free between things that do not touch [m]; the layout of package
// station asks for the same. Bodies behind the lips keep more from each other, for a bracket and for the fingers that
// turn its screws, and from what stands or passes beside them. Common practice, no source.
const (
	lipDepth = 20e-3
	free     = 1e-3
	bodyRoom = 20e-3 // m, between two bodies
	bodyFree = 10e-3 // m, from a body to containers, rails, grips and obstacles
)

// misfit is how far an arrangement stands in things for any format, in steps of 10 mm; 0 when it fits. It is quick;
// the layout itself judges what is kept.
func (g *ground) misfit(a *arrangement) float64 {
	const step = 10e-3
	return max(0, g.astray(a)+g.crowded(a)-a.concept.stands) / step
}

// astray is how far the lips of an arrangement and what is close behind them stand in things [m].
func (g *ground) astray(a *arrangement) float64 {
	sum := 0.0
	for f := range g.formats {
		plan := g.formats[f].plan
		var lips [][]station.Vec
		for k := range a.setups {
			s := &a.setups[k]
			scene := &plan.Stations[s.place]
			for i := range s.sides() {
				p := s.lip(i, f)
				points := line(&p)
				sum += g.stray(&p, points, scene) + g.formats[f].swept(&p, points)
				for n := range points {
					points[n].X += scene.At
				}
				lips = append(lips, points)
			}
			sum += s.overlap()
		}
		for i := range lips {
			for k := range i {
				if d := apart(lips[i], lips[k]); d < g.spacing {
					sum += g.spacing - d
				}
			}
		}
	}
	return sum
}

// crowded is how far the bodies behind the lips of an arrangement lack the room that they need from each other and from
// what stands or passes beside them [m].
func (g *ground) crowded(a *arrangement) float64 {
	sum := 0.0
	for f := range g.formats {
		format := &g.formats[f]
		type bulk struct {
			rods [3]station.Rod
			at   float64
		}
		var all []bulk
		for k := range a.setups {
			s := &a.setups[k]
			scene := &format.plan.Stations[s.place]
			for i := range s.sides() {
				p := s.lip(i, f)
				b := bulk{p.Rods(), scene.At}
				for n := range all {
					o := &all[n]
					sum += max(0, bodyRoom-station.Between(&o.rods, &b.rods, b.at-o.at))
				}
				all = append(all, b)
				sum += g.lacks(b.rods[len(b.rods)-1], &p, scene, format)
			}
		}
	}
	return sum
}

// lacks is how much room a body lacks from what is no outlet [m].
func (g *ground) lacks(body station.Rod, p *station.Placed, s *station.Scene, f *formatGround) float64 {
	sum := 0.0
	if p.Side != below || s.Belt {
		sum += s.InBelt(&body)
	}
	if space := g.given.Site.Space; space != nil {
		sum += max(0, body.OutOf(space))
	}
	body.Radius += bodyFree
	sum += f.plan.Body.InWay(&body)
	for i := range s.Rails {
		sum += body.InBar(&s.Rails[i])
	}
	for _, boxes := range [2][]job.Box{s.Grips, s.Obstacles} {
		for i := range boxes {
			sum += body.InBox(&boxes[i])
		}
	}
	return sum
}

// wallOfNozzles is the least spacing of nozzles over their bore.
const wallOfNozzles = 1.2

// overlap is how far the nozzles of a manifold overlap.
func (s *setup) overlap() float64 {
	if s.kind != job.NozzleManifold {
		return 0
	}
	return max(0, wallOfNozzles*s.bore-s.spacing)
}

const linePoints = 8

// line are points along the lip of an outlet.
func line(p *station.Placed) []station.Vec {
	half := max(p.Length, p.Bore) / 2
	points := make([]station.Vec, 0, linePoints+1)
	for i := 0; i <= linePoints; i++ {
		points = append(points, plus(p.Middle, half*(2*float64(i)/linePoints-1), p.Line))
	}
	return points
}

// stray is how far the lip and what is behind it stand in the belt, a rail, a grip, an obstacle, or out of the
// space given.
func (g *ground) stray(p *station.Placed, points []station.Vec, s *station.Scene) float64 {
	sum := 0.0
	space := g.given.Site.Space
	for _, v := range points {
		for _, w := range [2]station.Vec{v, plus(v, -lipDepth, p.Axis)} {
			if w.Z < 0 && (p.Side != below || s.Belt) {
				sum -= w.Z
			}
			for i := range s.Rails {
				sum += max(0, s.Rails[i].Radius+free-math.Hypot(w.Y-s.Rails[i].Y, w.Z-s.Rails[i].Z))
			}
			for _, boxes := range [2][]job.Box{s.Grips, s.Obstacles} {
				for i := range boxes {
					sum += inside(&boxes[i], w)
				}
			}
			if space != nil {
				sum += outside(space, w)
			}
		}
	}
	return sum / float64(2*len(points))
}

// swept is how far the lip and what is behind it stand in the way of the containers that pass.
func (f *formatGround) swept(p *station.Placed, points []station.Vec) float64 {
	sum := 0.0
	for _, v := range points {
		for _, w := range [2]station.Vec{v, plus(v, -lipDepth, p.Axis)} {
			if half := f.half(w.Z); half > 0 {
				sum += max(0, half+free-math.Abs(w.Y))
			}
		}
	}
	return sum / float64(2*len(points))
}

// inside is the least way out of a box, 0 outside it.
func inside(b *job.Box, v station.Vec) float64 {
	d := min(v.X-float64(b.XFrom), float64(b.XTo)-v.X, v.Y-float64(b.YFrom), float64(b.YTo)-v.Y, v.Z-float64(b.ZFrom), float64(b.ZTo)-v.Z)
	return max(0, d+free)
}

// outside is how far a point is out of a box.
func outside(b *job.Box, v station.Vec) float64 {
	beyond := func(x, from, to float64) float64 { return max(0, from-x, x-to) }
	return beyond(v.X, float64(b.XFrom), float64(b.XTo)) + beyond(v.Y, float64(b.YFrom), float64(b.YTo)) +
		beyond(v.Z, float64(b.ZFrom), float64(b.ZTo))
}

// apart is the least distance between two lips, each given by points along a straight line.
func apart(a, b []station.Vec) float64 {
	best := math.Inf(1)
	for _, v := range a {
		best = min(best, toLine(v, b[0], b[len(b)-1]))
	}
	for _, v := range b {
		best = min(best, toLine(v, a[0], a[len(a)-1]))
	}
	return best
}

func toLine(v, from, to station.Vec) float64 {
	d, e := plus(to, -1, from), plus(v, -1, from)
	t := 0.0
	if l := dot(d, d); l > 0 {
		t = max(0, min(1, dot(e, d)/l))
	}
	off := plus(e, -t, d)
	return math.Sqrt(dot(off, off))
}
