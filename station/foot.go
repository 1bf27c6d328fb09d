package station

import (
	"math"

	"leste/job"
	"leste/physics/jet"
	q "leste/quantity"
)

// A foot is where one station of a slot, or one nozzle, meets the wall, and how strongly.
//
// Geometry is read from the nearest foot of a slot, the numbers below it by interpolation between two.
type foot struct {
	// What follows varies smoothly along a slot and is read between two feet.
	weight float64 // share that presses: of a slot 1 where the axis meets the wall at 30 degrees or more, 0 where it misses
	free   float64 // share of the jet that is treated as passing by
	mix    float64 // share that has merged (a row as one jet) or has not (its nozzles alone)
	peak   float64 // pressure on the impingement line
	inv    float64 // 1/effective distance
	shift  float64 // stagnation line off the axis's, towards t
	us     float64 // impact velocity
	perUs  float64 // 1/us
	tau    float64 // greatest shear
	cos    float64 // of the incidence, in the plane across the impingement line
	heat   float64 // share of the excess temperature that arrives
	held   float64 // scale of the wall jet's shear while it runs at impact velocity
	wall   float64 // round: scale of the wall jet's velocity and of its shear in the mean direction
	drag   float64
	sides  [2]side // slot: the side the air leans to, and the other

	geometry
	hit bool
}

// The geometry of a foot.
type geometry struct {
	at, n, t, l Vec     // point, normal, wall direction of the air, direction of the impingement line
	al          float64 // component of the air along the impingement line
	square      float64 // sqrt(1 - al2): what is left across it
	perL        float64 // length of the impingement line per length of slot
	clear       float64 // distance from the lip up to which nothing stands in the way
	near        float64 // 1/effective distance
}

// A side of an impingement line: greatest shear, scales of the wall jet's velocity and shear.
type side struct{ tau, wall, drag float64 }

// aim finds where the ray from o along the source's axis meets the body and sets the wall frame there.
func (e *Exposer) aim(s *source, o Vec, x float64) (f foot) {
	e.meet(&f, s, o, x)
	return f
}

// meet is aim, written where it is kept.
func (e *Exposer) meet(f *foot, s *source, o Vec, x float64) {
	*f = foot{}
	rays := s.aspect.rays
	h, n, ok := rays.ray(o)
	limit := h
	if !ok {
		// Nothing beyond the place abreast of the body's middle matters to it.
		limit = Vec{0, 0, (e.body.shape.low + e.body.shape.high) / 2}.sub(o).dot(s.a)
	}
	f.clear = e.block(o, rays, limit, x)
	if f.clear < limit {
		// Something else takes the jet: nothing arrives beyond it.
		return
	}
	f.free, f.mix = 1, 1
	if s.smeared {
		f.mix = float64(s.row.Merged(q.Length(max(0, limit))))
	}
	if !ok {
		return
	}
	an := -s.a.dot(n)
	f.weight = presses(an)
	f.free = 1 - f.weight
	f.hit = f.weight > 0
	f.at, f.n = o.along(h, s.a), n
	if !f.hit {
		return
	}
	f.l = s.across.cross(n).unit()
	if f.l.dot(s.l) < 0 {
		f.l = f.l.scale(-1)
	}
	f.t = n.cross(f.l)
	if f.t.dot(s.a) < 0 {
		f.t = f.t.scale(-1)
	}
	f.al = s.a.dot(f.l)
	f.perL = 1 / max(0.05, f.l.dot(s.l))
	f.square = math.Sqrt(max(0, 1-f.al*f.al))
	at := max(0, s.a.dot(f.t))
	f.cos = min(at/math.Sqrt(an*an+at*at), cosGrazing)
	s.strengthen(f, h, an, o.sub(s.mid).dot(s.l)+x*s.l.X)
}

// presses is the share of air that presses where it meets the wall, by the sine of the incidence: all from 30 degrees on,
// nothing where it grazes.
func presses(sine float64) float64 { return max(0, min(1, 2*sine)) }

// impactOverWall is the ratio of impact velocity to that of the wall jet at the same thrust and distance, to the power
// of the friction: (2 PlaneImpact/(1/2))^(1/2) everywhere.
var impactOverWall = math.Pow(math.Sqrt(4*jet.PlaneImpact), -0.182)

// strengthen sets the numbers of a foot at a distance along the air; z is its place along the slot from the
// slot's middle.
func (s *source) strengthen(f *foot, h, an, z float64) {
	sin := math.Sqrt(1 - f.cos*f.cos)
	if s.round {
		he := jet.RoundDistanceSI(h, s.thrust, s.pg)
		p90 := jet.RoundImpact * s.thrust / (he * he)
		f.us = math.Sqrt(2 * p90 / s.rho)
		f.tau = jet.MaxWallShearSI(jet.RoundShear, f.us, he, s.rho, s.nu) * s.shear
		f.peak = p90 * an * s.press
		f.inv, f.perUs = 1/he, 1/f.us
		f.shift = -headsDepend * he * f.cos / sin
		k := math.Sqrt(s.thrust / s.rho)
		f.wall = k / he
		f.drag = s.rho * k * k / (he * he) * math.Pow(k/s.nu, -0.3) * s.shear
		ratio := jet.RoundDecay * math.Sqrt(4*s.thrust/(math.Pi*s.rho)) / (he * s.exit)
		f.heat = min(1, 0.85*ratio)
		return
	}
	m := s.perLength(z, h)
	if m <= 0 {
		f.hit, f.weight, f.free = false, 0, 0
		return
	}
	he := jet.PlaneDistanceSI(h, s.cap(m), s.pg)
	p90 := jet.PlaneImpact * m / he
	k := f.l.dot(s.l)
	f.us = math.Sqrt(2 * p90 / s.rho)
	f.tau = jet.MaxWallShearSI(jet.PlaneShear, f.us, he, s.rho, s.nu) * s.shear
	f.peak = p90 * an * k * s.press
	f.inv = 1 / he
	f.near = f.inv
	f.shift = -headsDepend * he * f.cos / sin
	f.perUs = 1 / f.us
	half := m / 2 / he
	wall := math.Sqrt(half / s.rho)
	drag := math.Exp(-0.182*math.Log(wall*he/s.nu)) * s.shear
	f.held = s.rho * f.us * f.us * drag * impactOverWall
	drag *= half
	for i, share := range [2]float64{1 + f.cos, 1 - f.cos} {
		p := power(planeShare, share)
		f.sides[i] = side{f.tau * min(1, p), wall * math.Sqrt(share), drag * p}
	}
	f.heat = min(1, 0.9*jet.PlaneDecay*math.Sqrt(m/(s.rho*he))/s.exit)
}

// perLength is the thrust per length that arrives opposite z at distance h: less near the ends of a slot; of
// a row, what its nozzles are smeared to.
func (s *source) perLength(z, h float64) float64 {
	if !s.smeared {
		u, v := z+s.length/2, s.length/2-z
		if far := 0.3 * h; u > far && v > far {
			return s.thrust
		}
		const least = 1e-3 // of which the table knows nine digits, and speeds as the root
		sharp := jet.EndSharpness / h
		if left := (erf(sharp*u) + erf(sharp*v)) / 2; left > least {
			return s.thrust * left
		}
		return s.thrust * jet.EndFactorSI(h, u, s.length)
	}
	const far = 3.5 // half-widths
	w := jet.RoundSpread * h
	perW, sum := 1/w, 0.0
	ports := s.ports
	if k := s.aspect.perGap; k > 0 {
		first, last := (z-ports[0]-far*w)*k, (z-ports[0]+far*w)*k
		if last < -1 || first > float64(len(ports)) {
			return 0
		}
		ports = ports[int(max(0, first)):min(len(ports), int(max(0, last))+2)]
	}
	for _, p := range ports {
		if d := (z - p) * perW; d > -far && d < far {
			sum += fall(2 * math.Ln2 * d * d)
		}
	}
	return s.thrust * smearing * perW * sum
}

// smearing is the greatest thrust per length of a round jet over its thrust, times its half-width.
var smearing = math.Sqrt(2 * math.Ln2 / math.Pi)

// cap is the thrust per length that decides how near the core reaches: the slot's own, without its ends.
func (s *source) cap(m float64) float64 {
	if s.smeared {
		return m
	}
	return s.thrust
}

// block is the distance at which something other than the body stands in a ray's way; limit or more when
// nothing does before it.
func (e *Exposer) block(o Vec, rays *beam, limit, x float64) float64 {
	best := e.blockButRails(o, rays, limit, x)
	for i := range e.scene.Rails {
		if t := e.scene.Rails[i].ray(o, rays.d); t < best {
			best = t
		}
	}
	if best >= limit-1e-6 {
		return math.Inf(1)
	}
	return best
}

// blockButRails is block of what is no rail.
func (e *Exposer) blockButRails(o Vec, rays *beam, limit, x float64) float64 {
	best, d := limit, rays.d
	for _, dx := range e.scene.Neighbours {
		best = rays.before(Vec{o.X - dx, o.Y, o.Z}, best)
	}
	for _, boxes := range [2][]job.Box{e.scene.Grips, e.scene.Obstacles} {
		for i := range boxes {
			if t := rayBox(&boxes[i], Vec{o.X + x, o.Y, o.Z}, d); t < best {
				best = t
			}
		}
	}
	if e.scene.Belt && d.Z != 0 {
		if t := -o.Z / d.Z; t > 1e-9 && t < best {
			best = t
		}
	}
	if best >= limit-1e-6 {
		return math.Inf(1)
	}
	return best
}

// ray is the distance at which a ray meets the bar, +Inf when it does not.
func (b *Bar) ray(o, d Vec) float64 {
	y, z := o.Y-b.Y, o.Z-b.Z
	a := d.Y*d.Y + d.Z*d.Z
	h := y*d.Y + z*d.Z
	c := y*y + z*z - b.Radius*b.Radius
	q := h*h - a*c
	if a == 0 || q < 0 {
		return math.Inf(1)
	}
	t := (-h - math.Sqrt(q)) / a
	if t < 0 {
		return math.Inf(1)
	}
	return t
}

// rayBox is the distance at which a ray meets a box, +Inf when it does not.
func rayBox(b *job.Box, o, d Vec) float64 {
	from, to := 0.0, math.Inf(1)
	for _, k := range [3][4]float64{
		{o.X, d.X, float64(b.XFrom), float64(b.XTo)},
		{o.Y, d.Y, float64(b.YFrom), float64(b.YTo)},
		{o.Z, d.Z, float64(b.ZFrom), float64(b.ZTo)},
	} {
		if k[1] == 0 {
			if k[0] < k[2] || k[0] > k[3] {
				return math.Inf(1)
			}
			continue
		}
		t0, t1 := (k[2]-k[0])/k[1], (k[3]-k[0])/k[1]
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		from, to = math.Max(from, t0), math.Min(to, t1)
	}
	if from > to {
		return math.Inf(1)
	}
	return from
}
