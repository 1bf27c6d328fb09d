package drying

import (
	"math"
	"math/bits"
	"slices"
)

// wetCover is the share of wall under drops above which they touch everywhere and become film. Random
// drops percolate near it; judgement.
const wetCover = 0.6

// patchOver is how wide the patch is, over the capillary length, that drops must cover to become film: 4 mm for water. On
// less of the wall tension draws what touches together to one drop; judgement. Judged cell by cell, the finer the cells
// were the more of the water under nozzles became film in streams a cell wide, and broke into drops too small to move: on
// cells of 1 mm the side of a can kept half as much again as on 4 mm, and keeps a tenth more now.
const patchOver = 1.5

// crowds say how much of the wall is covered about a cell.
type crowds struct {
	width   float64   // m, of a patch
	patches [][]band  // per row: the rows that its patches reach, itself first
	within  [][]int   // per row: the rows whose patches reach it
	cover   []float64 // per cell: share of it under water; more than 1 where drops lie over each other
}

// band is a length of a row along the profile [m].
type band struct {
	row    int
	length float64
}

// newCrowds lays the patches. No patch reaches over a sharp rim.
func (f *flow) newCrowds() crowds {
	steps := f.p.Body.Surface.StepS
	c := crowds{
		width:   patchOver * float64(f.liquid.CapillaryLength()),
		patches: make([][]band, f.g.rows), within: make([][]int, f.g.rows), cover: make([]float64, f.g.size),
	}
	for r := range c.patches {
		c.patches[r] = []band{{r, steps[r]}}
		for _, way := range [2]int{1, -1} {
			left := (c.width - steps[r]) / 2
			for k := r + way; left > 0 && k >= 0 && k < f.g.rows && !f.film.shut[max(k, k-way)]; k += way {
				c.patches[r] = append(c.patches[r], band{k, min(left, steps[k])})
				left -= steps[k]
			}
		}
		for _, b := range c.patches[r] {
			c.within[b.row] = append(c.within[b.row], r)
		}
	}
	return c
}

// crowd works out how much water covers of the cells of row r, where drops move in reach.
func (f *flow) crowd(r int) {
	g, d := f.g, f.drops
	if !slices.ContainsFunc(f.crowds.within[r], d.cols.any) {
		return
	}
	cover := f.crowds.cover[g.at(r, 0):g.at(r, g.cols)]
	for c := range cover {
		i := g.at(r, c)
		if cover[c] = 1; f.film.h[i] == 0 {
			cover[c] = d.cover(i)
		}
	}
}

// wet says whether film covers cell i: where it draws back, drops lie on the bared part.
func (f *flow) wet(i int) bool { return f.film.h[i] > 0 && f.first[i] == 0 }

// cover is the share of cell i that its drops cover.
func (d *drops) cover(i int) float64 {
	w, stuck, moving := &d.walls[d.wall[i]], &d.stuck[i], &d.moving[i]
	cover, all := 0.0, d.held[i]|d.busy[i]
	b := uint(bits.TrailingZeros16(uint16(all)))
	for rest := all >> b; rest != 0; rest, b = rest>>1, b+1 {
		cover += (stuck[b%dropBins] + moving[b%dropBins]) * w.cover[b%dropBins]
	}
	return cover
}

// floods says whether the drops of cell (r, c) touch everywhere, on the patch of wall about it as well.
func (f *flow) floods(r, c int) bool {
	i := f.g.at(r, c)
	if f.crowds.cover[i] <= wetCover || f.film.h[i] > 0 && f.drops.cover(i) <= wetCover {
		return false
	}
	sum, length := 0.0, 0.0
	for _, b := range f.crowds.patches[r] {
		sum, length = sum+f.across(b.row, c)*b.length, length+b.length
	}
	return sum > wetCover*length
}

// across is the cover of a patch's part of row r, to both sides of column c.
func (f *flow) across(r, c int) float64 {
	g := f.g
	cover := f.crowds.cover[g.at(r, 0):g.at(r, g.cols)]
	step := f.p.Body.Surface.StepA[r*g.cols+c]
	sum, width := cover[c]*step, step
	for k, left := 1, (f.crowds.width-step)/2; left > 0 && 2*k < g.around; k++ {
		part := min(left, step)
		sum += (cover[g.column(c-k)] + cover[g.column(c+k)]) * part
		width += 2 * part
		left -= step
	}
	return sum / width
}

// merge lets water of row r join: drops in a film cell become film; moving drops sweep up those at rest;
// drops that cover most of a patch become film.
func (f *flow) merge(r int, dt float64) {
	d, g, h := f.drops, f.g, f.film.h
	if f.film.live[r+pad] == 0 && !d.cols.any(r) {
		return
	}
	defer g.wrapRow(h, r)
	for c := range g.cols {
		i := g.at(r, c)
		wet, held, busy := f.wet(i), d.held[i], d.busy[i]
		switch {
		case busy == 0 && (!wet || held == 0):
		case wet, f.floods(r, c):
			stuck, moving := &d.stuck[i], &d.moving[i]
			for b := range stuck {
				h[i] += stuck[b] + moving[b]
				stuck[b], moving[b] = 0, 0
			}
			d.held[i] = 0
			d.stir(r, c, 0)
		case busy != 0:
			d.sweep(i, dt)
		}
	}
}

// sweep lets the moving drops of cell i take up those at rest.
func (d *drops) sweep(i int, dt float64) {
	stuck, moving, sure := &d.stuck[i], &d.moving[i], bins(0)
	if seen := &d.seen[i]; seen.step == d.step {
		sure = from(int(seen.slowest)) &^ from(int(seen.upTo)+1)
	}
	w, rate := &d.walls[d.wall[i]], 0.0
	sweeping := d.busy[i] & sure
	largest := sweeping.top()
	for ; sweeping != 0; sweeping &= sweeping - 1 {
		b := bits.TrailingZeros16(uint16(sweeping))
		v := d.v[i][b]
		rate += moving[b] * w.sweep[b] * math.Sqrt(float64(v.s*v.s+v.a*v.a))
	}
	if rate == 0 {
		return
	}
	swept := rate * dt
	swept += swept * swept / 2
	share := swept / (1 + swept) // 1 - exp(-rate dt) within 2 %, at a fraction of the time
	gain := moving[largest]
	for caught := d.held[i] &^ from(largest+1); caught != 0; caught &= caught - 1 {
		b := bits.TrailingZeros16(uint16(caught)) % dropBins
		taken := stuck[b] * share
		stuck[b] -= taken
		gain += taken
	}
	moving[largest] = gain
}
