package station

import (
	"math"
	"slices"

	"leste/physics/jet"
)

// A part is a ray through a round jet for an equal share of it, beside its axis over the distance.
type part struct{ l, c float64 } // along the outlet and across

// parts lie as the pressure that the jet brings, which falls as exp(-C (r/distance)2): each stands for as much of it, and
// they have its second moment. From one to the next they turn by the golden section, so that an edge passes them one by
// one. They mirror each other in groups of four, so that sums over them are the same bits on either side.
var parts = func() (all [24]part) {
	const n = len(all) / 4
	var square [n]float64
	mean := 0.0
	for i := range square {
		square[i] = -math.Log1p(-(float64(i) + 0.5) / float64(n))
		mean += square[i] / float64(n)
	}
	for i := range square {
		r := math.Sqrt(square[i] / mean / jet.RoundShapeC)
		_, turn := math.Modf((float64(i) + 0.5) / math.Phi)
		sin, cos := math.Sincos(turn * math.Pi / 2)
		for k := range 4 {
			all[4*i+k] = part{r * cos * float64(1-2*(k/2)), r * sin * float64(1-2*(k%2))}
		}
	}
	return all
}()

// amount is a number of each part, 0 of those that do not count.
type amount [len(parts)]float64

// sum adds up what mirrors each other first.
func (a *amount) sum() float64 {
	total := 0.0
	for i := 0; i < len(a); i += 4 {
		total += (a[i] + a[i+1]) + (a[i+2] + a[i+3])
	}
	return total
}

// struck is where the parts of a round jet meet the wall.
type struck struct {
	open   amount // share that nothing else takes
	weight amount // what presses of it; 0 where it misses
	far    amount // along the air
	n      [len(parts)]Vec
	wide   float64 // distance that the width of the jet goes with
}

// mostRoundFeet are those of a round jet at most: amid all that it meets, and before and behind a step.
const mostRoundFeet = 3

// strike finds the feet of a round jet with its lip at o: none, one, or more where it spans a step of the wall. The jet is
// wider than rims, seams and rails are: read along its axis alone, what it does to all of the wall around would turn with
// every edge that passes by, and stations would be found that thread a rail between two axes.
func (e *Exposer) strike(feet *[mostRoundFeet]foot, s *source, o Vec, x float64) int {
	limit, _, ok := s.aspect.rays.ray(o)
	if !ok {
		// Nothing beyond the place abreast of the body's middle matters to it.
		limit = Vec{0, 0, (e.body.shape.low + e.body.shape.high) / 2}.sub(o).dot(s.a)
	}
	all := struck{wide: max(limit, s.aspect.core)}
	arrives := e.shine(&all, s, o, limit, x)
	if arrives == 0 {
		return 0 // other things take all of it: nothing arrives beyond them
	}
	at, apart := all.step()
	feet[0] = foot{}
	e.stand(&feet[0], s, o, x, &all, math.Inf(-1), math.Inf(1))
	feet[0].free = arrives * all.grazing()
	if apart == 0 {
		return 1
	}
	feet[0].weight *= 1 - apart
	feet[1], feet[2] = foot{}, foot{}
	e.stand(&feet[1], s, o, x, &all, math.Inf(-1), at)
	e.stand(&feet[2], s, o, x, &all, at, math.Inf(1))
	feet[1].weight *= apart
	feet[2].weight *= apart
	return mostRoundFeet
}

// shine finds where the parts of a round jet with its lip at o meet the wall, and returns the share of it that nothing else
// takes before it is there, or before limit where it misses. What a rail takes it takes straight behind it: that air comes
// together again beyond is not counted.
func (e *Exposer) shine(k *struck, s *source, o Vec, limit, x float64) (arrives float64) {
	rays := s.aspect.rays
	for i, p := range parts {
		from := o.along(p.l*k.wide, s.l).along(p.c*k.wide, s.across)
		far, n, ok := rays.ray(from)
		if !ok {
			far = limit
		}
		if e.blockButRails(from, rays, far, x) < far {
			continue
		}
		k.open[i] = e.pastRails(from, rays.d, far, partWidth*k.wide)
		if ok {
			k.far[i], k.n[i], k.weight[i] = far, n, k.open[i]*presses(-s.a.dot(n))
		}
	}
	return k.open.sum() / float64(len(parts))
}

// partWidth is how far a part of a round jet reaches to either side of its ray, over the distance: by the edge of a square that
// an equal share of what presses fills in the middle of the jet, so that parts overlap. Rails would otherwise take them one by
// one; judgement.
var partWidth = math.Sqrt(math.Pi / (jet.RoundShapeC * float64(len(parts))))

// pastRails is the share of a ray from o with a half width that passes by the rails before a distance.
func (e *Exposer) pastRails(o, d Vec, far, half float64) float64 {
	open := 1.0
	for i := range e.scene.Rails {
		open *= 1 - e.scene.Rails[i].covers(o, d, far, half)
	}
	return open
}

// covers is the share of a ray with a half width that the bar takes before a distance.
func (b *Bar) covers(o, d Vec, far, half float64) float64 {
	y, z := o.Y-b.Y, o.Z-b.Z
	square := d.Y*d.Y + d.Z*d.Z
	at := -(y*d.Y + z*d.Z)
	if square == 0 || at < 0 || at > far*square {
		return 0
	}
	beside := math.Abs(y*d.Z-z*d.Y) / math.Sqrt(square)
	return max(0, min(b.Radius, beside+half)-max(-b.Radius, beside-half)) / (2 * half)
}

// grazing is the share of what arrives at the wall that does not press; all where nothing does.
func (k *struck) grazing() float64 {
	var square amount
	for i, w := range k.weight {
		if w > 0 {
			square[i] = w * w / k.open[i]
		}
	}
	if sum := k.weight.sum(); sum > 0 {
		return 1 - square.sum()/sum
	}
	return 1
}

// step is the distance in the middle of the deepest step of the wall that a jet spans, and how far it counts as two walls:
// from not at all, where it is shallow beside the distance, to all, where that is much less behind it.
func (k *struck) step() (at, apart float64) {
	const shallow, deep = 0.3, 0.6 // of the distance
	near, far := math.Inf(1), math.Inf(-1)
	var sorted [len(parts)]float64
	n := 0
	for i, d := range k.far {
		if k.weight[i] > 0 {
			near, far = min(near, d), max(far, d)
			sorted[n] = d
			n++
		}
	}
	if !(far-near > shallow*k.wide) {
		return 0, 0
	}
	slices.Sort(sorted[:n])
	deepest := 0.0
	for i := 1; i < n; i++ {
		if d := sorted[i] - sorted[i-1]; d > deepest {
			deepest, at = d, (sorted[i]+sorted[i-1])/2
		}
	}
	return at, max(0, min(1, (deepest/k.wide-shallow)/(deep-shallow)))
}

// stand sets the foot of the parts that meet the wall between two distances: amid them, by how much they press.
func (e *Exposer) stand(f *foot, s *source, o Vec, x float64, k *struck, from, to float64) {
	var weight, square, far, l, c, nx, ny, nz amount
	for i, w := range k.weight {
		if w == 0 || k.far[i] < from || k.far[i] >= to {
			continue
		}
		n := &k.n[i]
		weight[i], far[i], l[i], c[i] = w, w*k.far[i], w*parts[i].l*k.wide, w*parts[i].c*k.wide
		nx[i], ny[i], nz[i] = w*n.X, w*n.Y, w*n.Z
		square[i] = -w * s.a.dot(*n)
	}
	sum := weight.sum()
	if f.hit = sum > 0; !f.hit {
		return
	}
	h := far.sum() / sum
	f.at = o.along(h, s.a).along(l.sum()/sum, s.l).along(c.sum()/sum, s.across)
	f.n = Vec{nx.sum(), ny.sum(), nz.sum()}.unit()
	f.leans(s)
	// What each part of it brings square to the wall, not what all would to one that lies as the mean of theirs does.
	an := -s.a.dot(f.n)
	f.weight = square.sum() / (an * float64(len(parts)))
	s.strengthen(f, h, an, o.sub(s.mid).dot(s.l)+x*s.l.X)
}

// leans sets the wall frame of a round jet's foot.
func (f *foot) leans(s *source) {
	an := -s.a.dot(f.n)
	f.t = s.a.along(an, f.n)
	if d := f.t.norm(); d > 1e-9 {
		f.t = f.t.scale(1 / d)
	} else {
		f.t = s.l.along(-s.l.dot(f.n), f.n).unit()
	}
	f.cos = min(math.Sqrt(max(0, 1-an*an)), cosGrazing)
}
