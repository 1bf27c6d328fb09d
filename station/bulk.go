package station

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics/relation"
)

// What room an outlet takes behind its lip; makers' bodies differ, and a job that knows its own gives the bore of its
// plenum. Common practice, no source.
const (
	noseLong   = 0.030 // m, lip to the plenum
	noseBores  = 1.5   // and of nozzles at least so many bores
	lipHalf    = 0.002 // m, half the width of a knife's lip
	nozzleWall = 0.001 // m
	beltFrame  = 0.030 // m, what carries a belt stands so far out of it on each side
)

// Nose is the length from the lip to the plenum [m].
func (p *Placed) Nose() float64 {
	if p.Kind == job.AirKnife {
		return noseLong
	}
	return math.Max(noseLong, noseBores*p.Bore)
}

// LipHalf is half the width of what stands at the lip [m].
func (p *Placed) LipHalf() float64 {
	if p.Kind == job.AirKnife {
		return lipHalf
	}
	return p.Bore/2 + nozzleWall
}

// A Rod is a straight bar with round ends.
type Rod struct {
	From, To Vec
	Radius   float64 // m
}

// Rods are what an outlet takes up: the lip, half way along the nose, and the pipe behind it, whose round ends stand for
// its caps. A single nozzle has no pipe, and ends where its hose begins.
func (p *Placed) Rods() [3]Rod {
	long, lip := p.Nose(), p.LipHalf()
	back, r, over := long, lip, 0.0
	if p.Plenum > 0 {
		r = p.Plenum / 2
		back = long + r
		if p.Kind == job.NozzleManifold {
			over = p.Bore // it reaches beyond the outermost nozzles
		}
	}
	at := func(back, half, radius float64) Rod {
		m := p.Middle.along(-back, p.Axis)
		return Rod{m.along(-half, p.Line), m.along(half, p.Line), radius}
	}
	half := p.Length / 2
	return [3]Rod{at(0, half, lip), at(long/2, half, math.Min(lip+nozzleWall, r)), at(back, half+over, r)}
}

// Between is how far two outlets stand apart [m], b moved by dx along the line; below zero, how far they stand in each
// other.
func Between(a, b *[3]Rod, dx float64) float64 {
	least := math.Inf(1)
	for i := range a {
		for k := range b {
			m := b[k]
			m.From.X += dx
			m.To.X += dx
			least = math.Min(least, stretches(&a[i], &m)-a[i].Radius-m.Radius)
		}
	}
	return least
}

// stretches is the distance between the middle lines of two rods: where both end points of the shortest way lie within
// them, or else from an end of one of them.
func stretches(a, b *Rod) float64 {
	least := math.Min(
		math.Min(toSegment(a.From, b.From, b.To), toSegment(a.To, b.From, b.To)),
		math.Min(toSegment(b.From, a.From, a.To), toSegment(b.To, a.From, a.To)))
	d, e, w := a.To.sub(a.From), b.To.sub(b.From), a.From.sub(b.From)
	dd, de, ee := d.dot(d), d.dot(e), e.dot(e)
	det := dd*ee - de*de
	const parallel = 1e-9
	if !(det > parallel*dd*ee) {
		return least
	}
	s, t := (de*e.dot(w)-ee*d.dot(w))/det, (dd*e.dot(w)-de*d.dot(w))/det
	if s < 0 || s > 1 || t < 0 || t > 1 {
		return least
	}
	return math.Min(least, w.along(s, d).along(-t, e).norm())
}

// InBox is how deep a rod stands in a box [m]: 0 when it stands free of it.
func (r *Rod) InBox(b *job.Box) float64 {
	worst := 0.0
	r.each(func(v Vec) {
		out := Vec{
			beyond(v.X, float64(b.XFrom), float64(b.XTo)), beyond(v.Y, float64(b.YFrom), float64(b.YTo)), beyond(v.Z, float64(b.ZFrom), float64(b.ZTo)),
		}
		in := math.Min(math.Max(out.X, math.Max(out.Y, out.Z)), 0)
		out = Vec{math.Max(out.X, 0), math.Max(out.Y, 0), math.Max(out.Z, 0)}
		worst = math.Max(worst, r.Radius-out.norm()-in)
	})
	return worst
}

// OutOf is how far a rod reaches out of a box [m].
func (r *Rod) OutOf(b *job.Box) float64 {
	worst := 0.0
	for _, v := range [2]Vec{r.From, r.To} {
		out := math.Max(beyond(v.X, float64(b.XFrom), float64(b.XTo)),
			math.Max(beyond(v.Y, float64(b.YFrom), float64(b.YTo)), beyond(v.Z, float64(b.ZFrom), float64(b.ZTo))))
		worst = math.Max(worst, out+r.Radius)
	}
	return worst
}

// InBar is how deep a rod stands in a guide rail [m].
func (r *Rod) InBar(b *Bar) float64 {
	from, to := Vec{0, r.From.Y, r.From.Z}, Vec{0, r.To.Y, r.To.Z}
	return math.Max(0, b.Radius+r.Radius-toSegment(Vec{0, b.Y, b.Z}, from, to))
}

// InBelt is how deep a rod stands in the belt or what carries it [m]: 0 when it stands above it or hangs beside it.
func (s *Scene) InBelt(r *Rod) float64 {
	low := math.Max(0, r.Radius-math.Min(r.From.Z, r.To.Z))
	if low == 0 || s.BeltHalf == 0 {
		return 0
	}
	half := s.BeltHalf + beltFrame
	if math.IsInf(half, 1) {
		return low
	}
	worst := 0.0
	r.each(func(v Vec) {
		aside := math.Abs(v.Y) - half
		in := math.Min(math.Max(aside, v.Z), 0)
		worst = math.Max(worst, r.Radius-in-math.Hypot(math.Max(aside, 0), math.Max(v.Z, 0)))
	})
	return worst
}

// InWay is how far a rod stands in the way of the containers that pass [m].
func (b *Body) InWay(r *Rod) float64 {
	worst, high := 0.0, b.Height+r.Radius
	half, ky := b.Depth/2+r.Radius, b.shape.section.ky
	r.each(func(v Vec) {
		if math.Abs(v.Y) >= half || v.Z >= high || v.Z <= -r.Radius {
			return
		}
		v = Vec{0, math.Abs(v.Y), v.Z}
		d := math.Inf(1)
		for i := range b.shape.segments {
			g := &b.shape.segments[i]
			d = math.Min(d, toSegment(v, Vec{0, g.r0 * ky, g.z0}, Vec{0, g.r1 * ky, g.z1}))
		}
		if b.shape.contains(v, 0) {
			d = -d
		}
		worst = math.Max(worst, r.Radius-d)
	})
	return worst
}

// each calls f at places along a rod no farther apart than its radius, as far as that takes few of them.
func (r *Rod) each(f func(Vec)) {
	d := r.To.sub(r.From)
	const most = 16
	n := 2 * int(math.Min(most/2, math.Ceil(d.norm()/math.Max(2*r.Radius, 1e-3))))
	if n == 0 {
		f(r.From)
		return
	}
	for i := 0; i <= n; i++ {
		f(r.From.along(float64(i)/float64(n), d))
	}
}

// beyond is how far x is out of a range; below zero, how far within.
func beyond(x, from, to float64) float64 { return math.Max(from-x, x-to) }

// note tells what a body stands in, and how deep [m]. It is told and not refused: it is not the lip that stands there, and
// makers' bodies differ.
func (f *FormatPlan) note(deep float64, text string) {
	const told = 0.5e-3 // m
	if deep > told {
		f.Notes = append(f.Notes, relation.Note{Severity: relation.Info, Text: text, Value: deep * 1e3, Limit: 0, Unit: "mm"})
	}
}

// standsIn tells what of the line the body of an outlet stands in.
func (r *resolver) standsIn(p *Placed, s *Scene, f *FormatPlan) {
	rods := p.Rods()
	body := &rods[len(rods)-1]
	f.note(f.Body.InWay(body), fmt.Sprintf("the body behind the lip of %q stands in the way of %q", p.Name, f.Format.Name))
	if p.Side != below || s.Belt {
		f.note(s.InBelt(body), fmt.Sprintf("the body behind the lip of %q reaches below the belt, where the frame of the conveyor may stand", p.Name))
	}
	for i := range s.Rails {
		f.note(body.InBar(&s.Rails[i]), fmt.Sprintf("the body behind the lip of %q stands in a guide rail", p.Name))
	}
	for _, boxes := range [2][]job.Box{s.Grips, s.Obstacles} {
		for i := range boxes {
			f.note(body.InBox(&boxes[i]), fmt.Sprintf("the body behind the lip of %q stands in %s", p.Name, orElse(boxes[i].Name, "an obstacle")))
		}
	}
	if space := r.job.Site.Space; space != nil {
		f.note(body.OutOf(space), fmt.Sprintf("the body behind the lip of %q reaches out of the space given for the site", p.Name))
	}
}
