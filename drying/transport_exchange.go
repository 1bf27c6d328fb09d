package drying

import (
	"math"
	"math/bits"

	"leste/physics/water"
	q "leste/quantity"
)

// loosen sets drops of row r in motion that the present air moves, once each, and lets rest those that it
// does not. What is set in motion leaves a share behind as drops of a quarter of its size.
func (f *flow) loosen(r int) {
	d, g := f.drops, f.g
	for c := range g.cols {
		i := g.at(r, c)
		held, busy := d.held[i], d.busy[i]
		if held|busy == 0 {
			continue
		}
		moves := from(d.velocities(i, (held | busy).top()))
		if held&moves == 0 && busy&^moves == 0 {
			continue
		}
		stuck, moving := &d.stuck[i], &d.moving[i]
		busy &= moves
		if start := held & moves; start != 0 {
			small := f.smallDrops(i, r*g.cols+c)
			held &^= start
			for ; start != 0; start &= start - 1 {
				b := bits.TrailingZeros16(uint16(start)) % dropBins
				behind := stuck[b] * small
				moving[b] += stuck[b] - behind
				stuck[b] = 0
				if moving[b] > dust {
					busy |= 1 << b
				}
				if behind > 0 {
					held |= 3 << lay(stuck, behind, float64(b)-quarter)
				}
			}
		}
		for b := range bits.TrailingZeros32(uint32(moves) | 1<<dropBins) {
			if moving[b] != 0 {
				stuck[b] += moving[b]
				moving[b] = 0
				held |= 1 << b
			}
		}
		d.held[i] = held
		d.stir(r, c, busy)
	}
}

// quarter is how many bins below its own a drop of a quarter of the size lies.
var quarter = math.Log(4) / logRatio

// smallDrops is the share of loosened drops that stays behind as small ones at cell i.
func (f *flow) smallDrops(i, plain int) float64 {
	ratio := f.frontSpeed(i, plain) / f.dewet[f.wall[i]]
	if !(ratio > 0) {
		return f.small[0]
	}
	x := (logarithm(ratio) + smallSpan) * (smallEntries / (2 * smallSpan))
	x = max(0, min(x, smallEntries))
	k := min(int(x), smallEntries-1)
	return f.small[k] + (x-float64(k))*(f.small[k+1]-f.small[k])
}

// smallShares tabulates the share by the logarithm of the front's speed over that at which a film draws back, up
// to smallSpan on both sides of 0: beyond, the share does not change. The share depends on that ratio alone.
func smallShares(most float64) []float64 {
	t := make([]float64, smallEntries+1)
	for i := range t {
		ratio := math.Exp((float64(i)/smallEntries*2 - 1) * smallSpan)
		t[i] = float64(water.SmallDropShare(q.Speed(ratio), 1, 0, q.Ratio(most)))
	}
	return t
}

const (
	smallEntries = 512
	smallSpan    = 4.0
)

// Film thinner than this is taken as gone from a wall that it does not wet, m; judgement, a hundredth of
// the thinnest film that any jet leaves.
const leastFilm = 0.1e-6

// restOfFilm is the share of a film that its edge leaves behind as small drops when it draws back; the same
// as the quick method's share on a wall that dries behind the front.
var restOfFilm = float64(water.FilmShare(0))

// What film that is thinner than critical does in a row.
const (
	ages    = 1 + iota // none of it has a dry edge
	recedes            // some draws back from one
)

// weaken ages the film of row r that is thinner than critical and works out what draws back from a dry
// edge. It changes no film: drawn does, once every row has been looked at.
func (f *flow) weaken(r int, dt float64) {
	g, h := f.g, f.film.h
	f.draws[r+pad] = 0
	if f.film.live[r+pad] == 0 {
		return
	}
	pole := r == 0 || r == g.rows-1 || f.film.shut[r] || f.film.shut[r+1]
	for c := range g.cols {
		i := g.at(r, c)
		f.backS[i], f.backA[i] = 0, 0
		x := h[i]
		if x == 0 {
			f.age[i], f.first[i] = 0, 0
			continue
		}
		hold := f.film.hold[i]
		if hold == 0 {
			continue
		}
		v := f.drawBack(f.wall[i], x)
		rate := dt * 2 * v / f.p.Settings.HoleSpacing
		if x >= hold {
			f.age[i], f.first[i] = max(0, f.age[i]-rate), 0
			continue
		}
		f.draws[r+pad] = max(f.draws[r+pad], ages)
		f.age[i] += rate
		if x < leastFilm {
			f.age[i] = 1
		}
		if f.age[i] >= 1 {
			continue
		}
		dryS, dryA := edge(h[i-g.stride], h[i+g.stride]), edge(h[i-1], h[i+1])
		if pole {
			dryS = 0
		}
		if dryS == 0 && dryA == 0 {
			f.first[i] = 0
			continue
		}
		f.first[i] = max(f.first[i], x)
		per := v * dt * f.first[i]
		s, a := dryS*per*max(g.lenS[i], g.lenS[i+g.stride]), dryA*per*g.lenA[i]
		have := x * g.area[i]
		if sum := math.Abs(s) + math.Abs(a); sum >= have {
			s, a = s/sum*have, a/sum*have
		}
		f.backS[i], f.backA[i] = s, a
		f.draws[r+pad] = recedes
	}
}

// edge says which way a film draws back between two neighbours: away from the dry one if the other is wet.
func edge(low, high float64) float64 {
	switch {
	case low == 0 && high > 0:
		return 1
	case high == 0 && low > 0:
		return -1
	}
	return 0
}

// shatter turns the film of cell i into drops.
func (f *flow) shatter(i int, x float64) {
	w := &f.walls[f.wall[i]]
	b := breakUp(x, x, f.p.Settings.HoleSpacing, f.p.Settings.DropSpread, w)
	f.bead(i, x, b.Median, b.Spread)
	f.film.h[i], f.age[i], f.first[i] = 0, 0, 0
}

// drawn breaks the film of row r that is old enough into drops and moves what draws back, in and out. The
// edge leaves a rest behind as small drops.
func (f *flow) drawn(r int) {
	g, h := f.g, f.film.h
	if f.draws[r+pad]|f.draws[r+pad-1]|f.draws[r+pad+1] == 0 {
		return
	}
	for c := range g.cols {
		i := g.at(r, c)
		gain, side := 0.0, 0.0
		if f.draws[r+pad-1] != 0 {
			gain += max(0, f.backS[i-g.stride])
		}
		if f.draws[r+pad+1] != 0 {
			gain -= min(0, f.backS[i+g.stride])
		}
		if f.draws[r+pad] != 0 {
			left, right := f.backA[g.at(r, g.left(c))], f.backA[g.at(r, g.right(c))]
			if g.half() { // what its mirror image does
				if c == 0 {
					left = -left
				}
				if c == g.cols-1 {
					right = -right
				}
			}
			side = max(0, left) - min(0, right)
			f.leave(i)
		}
		gain = (gain + side) * (1 - restOfFilm) * g.invArea[i]
		switch {
		case gain == 0:
		case h[i] > 0:
			h[i] += gain
		default: // this cell's film broke in the same step; what is drawn into it breaks too
			f.shatter(i, gain)
		}
	}
}

// leave takes from cell i the film that breaks or draws back in this step.
func (f *flow) leave(i int) {
	x := f.film.h[i]
	if x == 0 {
		return
	}
	if f.age[i] >= 1 {
		f.shatter(i, x)
		return
	}
	out := math.Abs(f.backS[i]) + math.Abs(f.backA[i])
	if out == 0 {
		return
	}
	moved := min(x, out*f.g.invArea[i])
	size := f.rest[f.wall[i]] * math.Sqrt(x)
	f.drops.settle(i, moved*restOfFilm, size)
	f.film.h[i] = x - moved
	if f.film.h[i] <= x*rounding {
		f.film.h[i] = 0
	}
}

// rounding is a share of a cell's water that is not worth a film of its own; it goes with what leaves.
const rounding = 1e-12

// tear takes from row r what does not stay on the wall: ridges where the air comes together from two sides and
// is fast enough to tear them to mist, and water hanging from a wall that faces down.
func (f *flow) tear(r int, dt float64) {
	g, h, s := f.g, f.film.h, f.p.Body.Surface
	if f.film.live[r+pad] == 0 {
		return
	}
	d := f.drops
	rho := d.air.rho
	for c := range g.cols {
		i := g.at(r, c)
		x := h[i]
		if x == 0 {
			continue
		}
		f.thick[r] = max(f.thick[r], x)
		plain := r*g.cols + c
		if s.Normal[plain].Z < -math.Sqrt2/2 {
			if over := x - float64(water.PuddleHeight(f.liquid, q.Angle(math.Pi/2))); over > 0 {
				h[i] -= over
				f.lost[r].Dripped += over * g.area[i]
				x = h[i]
			}
		}
		across := 0.0
		if d.tauA[i-1] > 0 && d.tauA[i+1] < 0 {
			across = s.StepA[plain]
		}
		if d.tauS[i-g.stride] > 0 && d.tauS[i+g.stride] < 0 {
			across = max(across, s.StepS[r])
		}
		if across == 0 {
			continue
		}
		// The ridge is narrower than a cell: its height is that of a cap with the cell's water.
		w := &f.walls[f.wall[i]]
		u := max(d.edge[i-g.stride], d.edge[i+g.stride], d.edge[i-1], d.edge[i+1])
		height := max(x, w.capHeight(x*across))
		onset := water.MistOnset * f.p.Liquid.Tension / (rho * u * u)
		if height <= onset {
			continue
		}
		incline := q.Angle(math.Acos(max(-1, min(1, s.Normal[plain].Z))))
		holds := float64(water.RidgeCapacity(f.liquid, w.Wetting, q.Density(rho), q.Speed(u), incline))
		holds = max(holds, min(w.capSection(onset), onset*across))
		// Torn away layer by layer, each in the time the air takes past the ridge's height.
		if over := x - holds/across; over > 0 {
			gone := over * -math.Expm1(-dt*u/height*math.Sqrt(rho/f.p.Liquid.Density))
			h[i] -= gone
			f.lost[r].Mist += gone * g.area[i]
		}
	}
}

// capHeight is the height of a ridge of a cross-section [m2] that stands as a cap, 0 on a wall that wets.
func (w *wall) capHeight(section float64) float64 {
	if w.front == 0 {
		return 0
	}
	return w.height * math.Sqrt(section/w.front)
}

// capSection is the cross-section [m2] of a cap of a height, +Inf on a wall that wets.
func (w *wall) capSection(height float64) float64 {
	if w.front == 0 {
		return math.Inf(1)
	}
	wide := height / w.height
	return w.front * wide * wide
}
