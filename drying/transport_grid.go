package drying

import (
	"math"

	"leste/station"
)

// pad is the number of ghost cells on every side of the solver's grid. A face needs two donors on each
// side of it for its slope.
const pad = 2

// gravity is standard gravity [m/s2].
const gravity = 9.80665

// wallGrid is the geometry of a Surface in the layout of the transport solver: every array has a border of
// pad ghost cells, so that a row's neighbours, up, down and around, are reached by one offset each. Ghost
// columns repeat the columns at the other end; ghost rows stay dry.
//
// Index at(r, c) also names the faces of that cell on its low side: the face towards row r-1 (S) and the
// face towards column c-1 (A). Column cols repeats column 0.
type wallGrid struct {
	rows, cols, stride, size int

	// around is the number of columns all around. Of a grid of the left half of a container cols is half of it, and the
	// ghost columns mirror those beside them.
	around int

	area, invArea []float64 // m2, 1/m2
	lenS, lenA    []float64 // length of the low-side faces [m]
	invS, invA    []float64 // one over the distance of the two cell centres across them [1/m]
	gS, gA        []float64 // gravity along the wall across them [m/s2]
	cellGS        []float64 // gravity along the wall at the centre, towards the top [m/s2]
	cellGA        []float64 // and around
	pull          []float64 // both together

	ways []way // what drops need to know to leave a cell

	// merge is, per row, how many neighbouring columns form one cell for the film. Near the two centres
	// the columns crowd together; without merging them the narrowest one would set the time step.
	merge []int
}

// way is how drops leave a cell: the lengths of its faces towards the next row, the last and to either side [m], its
// area and one over it. All in one place, because the moving drops of a cell need all of it in every step.
type way struct{ up, down, side, area, inv float64 }

// at is the index of row r and column c.
func (g *wallGrid) at(r, c int) int { return (r+pad)*g.stride + c + pad }

// tierRows is how many rows form a tier. Drops move tier by tier, each as one piece of work whoever does it, so that
// the sums do not depend on how many workers there are. Of more rows than these the workers get uneven shares; of
// fewer, too much of the water waits between tiers.
const tierRows = 6

// tiers is the number of tiers.
func (g *wallGrid) tiers() int { return (g.rows + tierRows - 1) / tierRows }

// tier is the rows [r0, r1) of tier j.
func (g *wallGrid) tier(j int) (r0, r1 int) { return j * tierRows, min((j+1)*tierRows, g.rows) }

// mergeBelow is how narrow a column may be, as a share of the row's length along the profile, before
// columns are merged. A power of two keeps the merged width within [mergeBelow, 2 mergeBelow).
const mergeBelow = 0.5

func newWallGrid(s *station.Surface) *wallGrid { return gridOf(s, s.Cols) }

// newHalfGrid is the grid of the left half of a container.
func newHalfGrid(s *station.Surface) *wallGrid { return gridOf(s, 2*s.Cols) }

// half reports whether the grid is of the left half of a container only.
func (g *wallGrid) half() bool { return g.around > g.cols }

// sides is how many times the water on the grid is on the container.
func (g *wallGrid) sides() float64 { return float64(g.around / g.cols) }

// right and left are the columns beside column c on the grid: at the ends of a half, the column itself, which is what
// its mirror image is.
func (g *wallGrid) right(c int) int {
	switch {
	case c+1 < g.cols:
		return c + 1
	case g.half():
		return c
	}
	return 0
}

func (g *wallGrid) left(c int) int {
	switch {
	case c > 0:
		return c - 1
	case g.half():
		return 0
	}
	return g.cols - 1
}

// column is column c of all around, from -around on: on the grid of a half, that of which it is the mirror image.
func (g *wallGrid) column(c int) int {
	if c = mod(c, g.around); c >= g.cols {
		return g.around - 1 - c
	}
	return c
}

// pair is pair k of the m columns from c on that form one cell: from its two ends inwards. Sums over pairs are the same
// for what mirrors the cell; of one that a half ends in, both columns are one and the same.
func (g *wallGrid) pair(c, m, k int) (int, int) {
	a, b := c+k, c+m-1-k
	if b >= g.cols {
		b = 2*g.cols - 1 - b
	}
	return a, b
}

func gridOf(s *station.Surface, around int) *wallGrid {
	g := &wallGrid{rows: s.Rows, cols: s.Cols, stride: s.Cols + 2*pad, around: around}
	g.size = (s.Rows + 2*pad) * g.stride
	for _, a := range []*[]float64{
		&g.area, &g.invArea, &g.lenS, &g.lenA, &g.invS, &g.invA, &g.gS, &g.gA, &g.cellGS, &g.cellGA, &g.pull,
	} {
		*a = make([]float64, g.size)
	}
	for r := range s.Rows {
		for c := range s.Cols {
			k, i := r*s.Cols+c, g.at(r, c)
			g.area[i], g.invArea[i] = s.Area[k], 1/s.Area[k]
			g.cellGS[i], g.cellGA[i] = -gravity*s.Along[k].Z, -gravity*s.Around[k].Z
			g.pull[i] = math.Sqrt(g.cellGS[i]*g.cellGS[i] + g.cellGA[i]*g.cellGA[i])
			g.lenA[i] = s.FaceA[r]
			left := r*s.Cols + g.left(c)
			g.invA[i] = 2 / (s.StepA[k] + s.StepA[left])
			g.gA[i] = -gravity * (s.Around[k].Z + s.Around[left].Z) / 2
			if r > 0 {
				below := k - s.Cols
				g.lenS[i] = s.FaceS[k]
				g.invS[i] = 1 / (s.S[r] - s.S[r-1])
				g.gS[i] = -gravity * (s.Along[k].Z + s.Along[below].Z) / 2
			}
		}
	}
	for _, a := range [][]float64{g.area, g.invArea, g.lenS, g.lenA, g.invS, g.invA, g.gS, g.gA, g.cellGS, g.cellGA, g.pull} {
		g.wrap(a)
	}
	g.ways = make([]way, g.size)
	for r := range s.Rows {
		for i := g.at(r, 0); i < g.at(r, s.Cols); i++ {
			g.ways[i] = way{g.lenS[i+g.stride], g.lenS[i], g.lenA[i], g.area[i], g.invArea[i]}
		}
	}
	g.merge = make([]int, s.Rows)
	for r := range g.merge {
		narrowest := math.Inf(1)
		for c := range s.Cols {
			narrowest = min(narrowest, s.StepA[r*s.Cols+c])
		}
		m := 1
		for float64(m)*narrowest < mergeBelow*s.StepS[r] && around%(2*m) == 0 {
			m *= 2
		}
		g.merge[r] = m
	}
	return g
}

// wrap copies the columns at each end of every row of a into the ghost columns at the other end.
func (g *wallGrid) wrap(a []float64) {
	for r := range g.rows {
		g.wrapRow(a, r)
	}
}

func (g *wallGrid) wrapRow(a []float64, r int) {
	row := a[(r+pad)*g.stride : (r+pad+1)*g.stride]
	for j := range pad {
		if g.half() {
			row[j], row[pad+g.cols+j] = row[2*pad-1-j], row[pad+g.cols-1-j]
			continue
		}
		// Grids of one or two columns wrap onto themselves.
		row[j] = row[pad+mod(j-pad, g.cols)]
		row[pad+g.cols+j] = row[pad+mod(j, g.cols)]
	}
}

// turnRow is wrapRow for what points around: mirrored, it points the other way.
func (g *wallGrid) turnRow(a []float64, r int) {
	g.wrapRow(a, r)
	if !g.half() {
		return
	}
	row := a[(r+pad)*g.stride : (r+pad+1)*g.stride]
	for j := range pad {
		row[j], row[pad+g.cols+j] = -row[j], -row[pad+g.cols+j]
	}
}

func mod(a, n int) int { return ((a % n) + n) % n }
