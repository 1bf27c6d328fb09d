package drying

import "math"

// film is the water film on a wallGrid and what drives it.
//
// The flux per unit length across a face is f(h) = a h^2 + b h^3 with a = tau/(2 mu) and
// b = (rho g - dp/dn)/(3 mu), both of the face. The mean speed of a film too thick to be laminar is capped:
// by the friction c_f rho v^2 of a turbulent film against shear and weight, and by what pressure can
// accelerate water to, v^2 = |tau|/(c_f rho) + 2 p/rho + |g| H/c_f with H the height of a puddle.
type film struct {
	g   *wallGrid
	mu  float64 // Pa s
	rho float64 // kg/m3

	puddle float64 // m, height of a wide puddle

	h, next []float64 // m; 0 is a dry cell, every other cell is wholly wet
	as, bs  []float64 // a and b of the low-side faces along the profile, times the face's length
	aa, ba  []float64 // around
	cs, ca  []float64 // cap of the mean speed times the face's length, squared
	hold    []float64 // m; film thinner than this does not advance onto this cell while it is dry
	shut    []bool    // rows whose low-side faces let nothing through: sharp rims, handled apart

	live, liveNext []rowMask // blocks of columns with a wet cell
	bare, bareNext []bool    // rows of h and of next that hold nothing, not in their ghost columns either
	block          int       // columns per block
}

// rowMask has one bit per block of columns.
type rowMask uint64

// frictionOfThickFilm is c_f, the friction coefficient of a film too fast to be laminar. Smooth-wall
// value of turbulent films and wall layers; common practice, no source. It bounds how fast a thick ridge
// runs; the film left behind does not depend on it.
const frictionOfThickFilm = 0.003

func newFilm(g *wallGrid, mu, rho, puddle float64) *film {
	f := &film{g: g, mu: mu, rho: rho, puddle: puddle}
	for _, a := range []*[]float64{&f.h, &f.next, &f.as, &f.bs, &f.aa, &f.ba, &f.cs, &f.ca, &f.hold} {
		*a = make([]float64, g.size)
	}
	f.shut = make([]bool, g.rows+1)
	f.live, f.liveNext = make([]rowMask, g.rows+2*pad), make([]rowMask, g.rows+2*pad)
	f.bare, f.bareNext = make([]bool, g.rows), make([]bool, g.rows)
	f.block = max(8, (g.cols+63)/64)
	return f
}

// refresh rebuilds the ghost columns and the masks of the rows [r0, r1) after h was changed from outside
// the kernel.
func (f *film) refresh(r0, r1 int) {
	for r := r0; r < r1; r++ {
		f.g.wrapRow(f.h, r)
		f.live[r+pad] = f.maskOf(f.h[f.g.at(r, 0):f.g.at(r, f.g.cols)])
		f.bare[r] = f.live[r+pad] == 0
	}
}

func (f *film) maskOf(row []float64) rowMask {
	var m rowMask
	for b, c := 0, 0; c < len(row); b, c = b+1, c+f.block {
		for _, h := range row[c:min(c+f.block, len(row))] {
			if h > 0 {
				m |= 1 << b
				break
			}
		}
	}
	return m
}

// blocks is the number of blocks in a row.
func (f *film) blocks() int { return (f.g.cols + f.block - 1) / f.block }

// reach is the mask of the blocks of row r that can change in one step: wet ones and their neighbours.
func (f *film) reach(r int) rowMask {
	m := f.live[r+pad]
	if m|f.live[r+pad-1]|f.live[r+pad+1] == 0 {
		return 0
	}
	n := f.blocks()
	all := rowMask(1)<<n - 1
	if n == 64 {
		all = ^rowMask(0)
	}
	around := m<<1 | m>>1 | m>>(n-1) | m<<(n-1)
	return (m | around | f.live[r+pad-1] | f.live[r+pad+1]) & all
}

// runs calls do for every run [c0, c1) of columns that the mask covers.
func (f *film) runs(m rowMask, do func(c0, c1 int)) {
	n := f.blocks()
	for b := 0; b < n; {
		if m&(1<<b) == 0 {
			b++
			continue
		}
		e := b
		for e < n && m&(1<<e) != 0 {
			e++
		}
		do(b*f.block, min(e*f.block, f.g.cols))
		b = e
	}
}

// faces computes the volume flow [m3/s] across len(F) faces: from "low" to "high" positive. hm and hp are
// the film on the two sides, hmm and hpp one cell farther; holdm and holdp are what a dry cell on either
// side withstands.
//
//	F = max(f(hL), 0) + min(f(hR), 0)
//
// with the film at the face extrapolated from each side by the minmod slope inside the film: where a
// neighbour is dry there is no slope. Both terms may act at once, where streams converge.
func (f *film) faces(F, a, b, most, hmm, hm, hp, hpp, holdm, holdp []float64) {
	n := len(F)
	a, b, most = a[:n], b[:n], most[:n]
	hmm, hm, hp, hpp = hmm[:n], hm[:n], hp[:n], hpp[:n]
	holdm, holdp = holdm[:n], holdp[:n]
	for i := range F {
		u, d := hm[i], hp[i]
		if u+d == 0 {
			F[i] = 0
			continue
		}
		ai, bi := a[i], b[i]
		sum := 0.0
		if ai+bi*u > 0 && u > 0 && (d > 0 || u >= holdp[i]) {
			x := u
			if e := hmm[i]; e > 0 && d > 0 {
				x += 0.5 * minmod(u-e, d-u)
			}
			v := x * (ai + bi*x)
			if v > 0 {
				if v*v > most[i] {
					v = math.Sqrt(most[i])
				}
				sum = v * x
			}
		}
		if ai+bi*d < 0 && d > 0 && (u > 0 || d >= holdm[i]) {
			x := d
			if e := hpp[i]; e > 0 && u > 0 {
				x -= 0.5 * minmod(d-u, e-d)
			}
			v := x * (ai + bi*x)
			if v < 0 {
				if v*v > most[i] {
					v = -math.Sqrt(most[i])
				}
				sum += v * x
			}
		}
		F[i] = sum
	}
}

// minmod is the smaller of two slopes of the same sign, 0 when they differ in sign.
func minmod(a, b float64) float64 {
	return max(0, min(a, b)) + min(0, max(a, b))
}

// rowFlux holds the fluxes of one row: across its low-side faces along the profile, and around.
type rowFlux struct {
	s, a, keep []float64
	mask       rowMask // columns computed
	limited    bool    // some keep is below 1
	any        bool    // some flux along the profile may be non-zero
}

// filmScratch is what one worker needs to advance a block of rows.
type filmScratch struct {
	ring [4]rowFlux
}

func newFilmScratch(g *wallGrid) *filmScratch {
	w := new(filmScratch)
	for i := range w.ring {
		w.ring[i] = rowFlux{s: make([]float64, g.stride), a: make([]float64, g.stride), keep: make([]float64, g.stride)}
	}
	return w
}

func (w *filmScratch) row(r int) *rowFlux { return &w.ring[r&3] }

// step advances rows [r0, r1) by dt from h into next. Rows outside are only read. The result of a row
// does not depend on how the rows are shared out: the few fluxes at the seams are computed twice.
//
// The fluxes out of a cell are scaled down together where they would take more than it holds, so the film
// stays non-negative and no water is made or lost.
func (f *film) step(r0, r1 int, dt float64, w *filmScratch) {
	f.fluxS(r0-1, w)
	for r := r0 - 1; r <= r1; r++ {
		f.fluxS(r+1, w)
		f.fluxA(r, w)
		f.limit(r, dt, w)
		f.scale(r, w)
		if r > r0 {
			f.update(r-1, dt, w)
		}
	}
}

// fluxS fills the low-side fluxes along the profile of row r.
func (f *film) fluxS(r int, w *filmScratch) {
	q := w.row(r)
	if q.any {
		clear(q.s)
		q.any = false
	}
	if r <= 0 || r >= f.g.rows || f.shut[r] {
		return
	}
	m := f.reach(r) | f.reach(r-1)
	if m == 0 {
		return
	}
	q.any = true
	g := f.g
	f.runs(m, func(c0, c1 int) {
		i, n := g.at(r, c0), c1-c0
		j := i - g.stride
		f.faces(q.s[c0+pad:c1+pad], f.as[i:], f.bs[i:], f.cs[i:],
			f.h[j-g.stride:][:n], f.h[j:][:n], f.h[i:][:n], f.h[i+g.stride:][:n], f.hold[j:], f.hold[i:])
	})
}

// fluxA fills the low-side fluxes around of row r, column cols included.
func (f *film) fluxA(r int, w *filmScratch) {
	q := w.row(r)
	q.mask = 0
	if r < 0 || r >= f.g.rows {
		return
	}
	q.mask = f.reach(r)
	if q.mask == 0 {
		return
	}
	clear(q.a)
	g := f.g
	if g.merge[r] > 1 {
		q.mask = f.reachAll()
	}
	f.runs(q.mask, func(c0, c1 int) {
		i := g.at(r, c0)
		f.faces(q.a[c0+pad:c1+pad+1], f.aa[i:], f.ba[i:], f.ca[i:],
			f.h[i-2:], f.h[i-1:], f.h[i:], f.h[i+1:], f.hold[i-1:], f.hold[i:])
	})
	if m := g.merge[r]; m > 1 {
		for c := range g.cols + 1 {
			if c%m != 0 {
				q.a[c+pad] = 0
			}
		}
	}
}

func (f *film) reachAll() rowMask {
	n := f.blocks()
	if n == 64 {
		return ^rowMask(0)
	}
	return rowMask(1)<<n - 1
}

// limit fills keep of row r: the share of its outflow that a cell can deliver within dt.
func (f *film) limit(r int, dt float64, w *filmScratch) {
	q := w.row(r)
	q.limited = false
	if q.mask == 0 {
		return
	}
	g, up := f.g, w.row(r+1)
	m := g.merge[r]
	if m > 1 {
		f.limitMerged(r, m, dt, w)
		return
	}
	f.runs(q.mask, func(c0, c1 int) {
		n := c1 - c0
		s, t, a := q.s[c0+pad:][:n], up.s[c0+pad:][:n], q.a[c0+pad:][:n+1]
		i := g.at(r, c0)
		h, area := f.h[i:][:n], g.area[i:][:n]
		keep := q.keep[c0+pad:][:n]
		for k := range keep {
			out := 0.0
			if v := t[k]; v > 0 {
				out = v
			}
			if v := s[k]; v < 0 {
				out -= v
			}
			around := 0.0 // on its own, so that what mirrors the cell gets the same sum
			if v := a[k+1]; v > 0 {
				around = v
			}
			if v := a[k]; v < 0 {
				around -= v
			}
			out += around
			keep[k] = 1
			if have := h[k] * area[k]; out*dt > have {
				keep[k] = have / (out * dt)
				q.limited = true
			}
		}
	})
}

// limitMerged is limit for a row whose columns are merged by m.
func (f *film) limitMerged(r, m int, dt float64, w *filmScratch) {
	g, q, up := f.g, w.row(r), w.row(r+1)
	for c := 0; c < g.cols; c += m {
		end := min(c+m, g.cols)
		have, out := 0.0, 0.0
		leaves := func(k int) float64 { return max(up.s[k+pad], 0) - min(q.s[k+pad], 0) }
		for k := range m / 2 {
			a, b := g.pair(c, m, k)
			have += f.h[g.at(r, a)]*g.area[g.at(r, a)] + f.h[g.at(r, b)]*g.area[g.at(r, b)]
			out += leaves(a) + leaves(b)
		}
		from, to := q.a[c+pad], q.a[end+pad]
		if end < c+m { // the half ends in this cell: on its far side it is like on the near one
			to = -from
		}
		out += max(to, 0) - min(from, 0)
		share := 1.0
		if out*dt > have {
			share = have / (out * dt)
			q.limited = true
		}
		for k := c; k < end; k++ {
			q.keep[k+pad] = share
		}
	}
}

// scale applies keep to the fluxes around of row r and to those between rows r-1 and r. Only a wet cell
// gives, and wet cells lie inside the mask of their row, so keep of the giver is always set.
func (f *film) scale(r int, w *filmScratch) {
	q, down := w.row(r), w.row(r-1)
	n := f.g.cols
	if q.limited {
		keep := q.keep
		for k, c := range q.a[pad : pad+n+1] {
			switch {
			case c > 0:
				q.a[k+pad] *= keep[pad+(k+n-1)%n]
			case c < 0:
				q.a[k+pad] *= keep[pad+k%n]
			}
		}
	}
	if q.any && (q.limited || down.limited) {
		for k, c := range q.s[pad : pad+n] {
			switch {
			case c > 0 && down.limited:
				q.s[k+pad] *= down.keep[k+pad]
			case c < 0 && q.limited:
				q.s[k+pad] *= q.keep[k+pad]
			}
		}
	}
}

// update writes next of row r.
func (f *film) update(r int, dt float64, w *filmScratch) {
	g, q := f.g, w.row(r)
	row := g.at(r, 0)
	if q.mask == 0 { // nothing there and nothing comes
		f.liveNext[r+pad] = 0
		if !f.bareNext[r] { // next is of a time when the row may have been wet
			clear(f.next[row-pad : row+g.cols+pad])
			f.bareNext[r] = true
		}
		return
	}
	f.bareNext[r] = false
	copy(f.next[row:row+g.cols], f.h[row:row+g.cols])
	up := w.row(r + 1)
	if m := g.merge[r]; m > 1 {
		f.updateMerged(r, m, dt, w)
	} else {
		f.runs(q.mask, func(c0, c1 int) {
			n := c1 - c0
			s, t, a := q.s[c0+pad:][:n], up.s[c0+pad:][:n], q.a[c0+pad:][:n+1]
			i := g.at(r, c0)
			h, inv, next := f.h[i:][:n], g.invArea[i:][:n], f.next[i:][:n]
			for k := range next {
				x := h[k] - dt*inv[k]*((t[k]-s[k])+(a[k+1]-a[k]))
				next[k] = max(x, 0) // rounding only: the limiter keeps it non-negative
			}
		})
	}
	g.wrapRow(f.next, r)
	f.liveNext[r+pad] = f.maskOf(f.next[row : row+g.cols])
}

// updateMerged is update for a row whose columns are merged by m.
func (f *film) updateMerged(r, m int, dt float64, w *filmScratch) {
	g, q, up := f.g, w.row(r), w.row(r+1)
	for c := 0; c < g.cols; c += m {
		end := min(c+m, g.cols)
		volume, area, gain := 0.0, 0.0, 0.0
		for k := range m / 2 {
			a, b := g.pair(c, m, k)
			i, j := g.at(r, a), g.at(r, b)
			volume += f.h[i]*g.area[i] + f.h[j]*g.area[j]
			area += g.area[i] + g.area[j]
			gain += (q.s[a+pad] - up.s[a+pad]) + (q.s[b+pad] - up.s[b+pad])
		}
		from, to := q.a[c+pad], q.a[end+pad]
		if end < c+m {
			to = -from
		}
		gain += from - to
		h := max(0, (volume+dt*gain)/area)
		for k := c; k < end; k++ {
			f.next[g.at(r, k)] = h
		}
	}
}

// swap makes next the present film.
func (f *film) swap() {
	f.h, f.next = f.next, f.h
	f.live, f.liveNext = f.liveNext, f.live
	f.bare, f.bareNext = f.bareNext, f.bare
}

// fastest returns the largest rate [1/s] at which a wave crosses a cell of rows [r0, r1): the step must
// stay below courant over it.
func (f *film) fastest(r0, r1 int) float64 {
	g, worst := f.g, 0.0
	for r := r0; r < r1; r++ {
		m := f.live[r+pad]
		if m == 0 {
			continue
		}
		merged := float64(g.merge[r])
		f.runs(m, func(c0, c1 int) {
			for i := g.at(r, c0); i < g.at(r, c1); i++ {
				h := f.h[i]
				if h == 0 {
					continue
				}
				j := i + g.stride
				s := max(wave(h, f.as[i], f.bs[i], f.cs[i]), wave(h, f.as[j], f.bs[j], f.cs[j]))
				a := max(wave(h, f.aa[i], f.ba[i], f.ca[i]), wave(h, f.aa[i+1], f.ba[i+1], f.ca[i+1]))
				worst = max(worst, (s+a/merged)*g.invArea[i])
			}
		})
	}
	return worst
}

// wave is |df/dh| at film thickness h of a face with a, b and the cap times its length. A capped film moves
// as one.
func wave(h, a, b, most float64) float64 {
	v := math.Abs(h * (a + b*h))
	if v*v > most {
		return math.Sqrt(most)
	}
	return math.Abs(h * (2*a + 3*b*h))
}

// courant is the largest step over the wave's crossing time, summed over both directions. Above 1/2 the
// limited slopes no longer keep the film free of new extremes.
const courant = 0.4

// drive sets the face coefficients of rows [r0, r1] (the low-side faces of r1 included) from the air's
// shear [Pa] and pressure [Pa] at the cell centres, in the solver's layout with their ghost columns.
func (f *film) drive(r0, r1 int, tauS, tauA, p []float64) {
	g := f.g
	for r := r0; r <= min(r1, g.rows-1); r++ {
		i, n := g.at(r, 0), g.cols+1
		if r > 0 {
			j := i - g.stride
			f.coefficients(f.as[i:][:n], f.bs[i:], f.cs[i:], g.lenS[i:], g.invS[i:], g.gS[i:], tauS[j:], tauS[i:], p[j:], p[i:])
		}
		f.coefficients(f.aa[i:][:n], f.ba[i:], f.ca[i:], g.lenA[i:], g.invA[i:], g.gA[i:], tauA[i-1:], tauA[i:], p[i-1:], p[i:])
	}
}

func (f *film) coefficients(a, b, most, length, inv, grav, tau0, tau1, p0, p1 []float64) {
	n := len(a)
	b, most, length, inv, grav = b[:n], most[:n], length[:n], inv[:n], grav[:n]
	tau0, tau1, p0, p1 = tau0[:n], tau1[:n], p0[:n], p1[:n]
	half, third := 1/(2*f.mu), 1/(3*f.mu)
	byShear, byPressure := 0.5/(frictionOfThickFilm*f.rho), 1/f.rho
	byWeight := f.puddle / frictionOfThickFilm
	for k := range a {
		tau := tau0[k] + tau1[k]
		l := length[k]
		a[k] = 0.5 * tau * half * l
		b[k] = (f.rho*grav[k] - (p1[k]-p0[k])*inv[k]) * third * l
		most[k] = (byShear*math.Abs(tau) + byPressure*max(0, p0[k]+p1[k]) + byWeight*math.Abs(grav[k])) * l * l
	}
}
