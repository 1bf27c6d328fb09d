package wallmap

import (
	"fmt"
	"math"
	"slices"

	leste "leste"
	"leste/job"
	"leste/render/picture"
)

// A wall is the rows of a map with the radii of their edges, split into base, side and top.
type wall struct {
	m     *leste.Map
	edge  []float64 // Rows+1: radius of the row edges [m]
	lower int       // rows below this one are the base
	upper int       // rows from this one on are the top
}

// newWall checks the shape of a map before anything is drawn from it.
func newWall(m *leste.Map) (wall, error) {
	rows, cols := m.Rows, m.Cols
	if rows < 1 || cols < 3 || len(m.S) != rows+1 || len(m.Radius) != rows || len(m.Zone) != rows || len(m.Water) != rows*cols {
		return wall{}, fmt.Errorf("the map of %q has %d rows and %d columns, but %d row edges, %d radii, %d zones and %d amounts",
			m.Title, rows, cols, len(m.S), len(m.Radius), len(m.Zone), len(m.Water))
	}
	for i := range rows {
		if !(m.S[i+1] > m.S[i]) || !(m.Radius[i] > 0) || math.IsInf(m.S[i+1], 0) || math.IsInf(m.Radius[i], 0) {
			return wall{}, fmt.Errorf("row %d of the map of %q has the radius %g m and the edges %g m and %g m: they must be positive and rising",
				i, m.Title, m.Radius[i], m.S[i], m.S[i+1])
		}
	}
	w := wall{m: m, edge: make([]float64, rows+1)}
	for i := 1; i < rows; i++ {
		w.edge[i] = (m.Radius[i-1] + m.Radius[i]) / 2
	}
	w.edge[rows] = max(0, 2*m.Radius[rows-1]-w.edge[rows-1])
	if m.Radius[0] > m.S[1]-m.S[0] { // a body without a base starts at a rim, not on the axis
		w.edge[0] = m.Radius[0]
	}
	for w.lower < rows && w.flat(w.lower, job.ZoneBase, job.ZoneDome) {
		w.lower++
	}
	w.upper = rows
	for w.upper > w.lower && w.flat(w.upper-1, job.ZoneEnd, job.ZoneCountersink) {
		w.upper--
	}
	return w, nil
}

// flat reports whether a row belongs to a disc: its wall lies flatter than about 50 degrees, or it is part
// of a zone that is seen along the axis as a whole.
func (w wall) flat(row int, zones ...string) bool {
	for _, z := range zones {
		if w.m.Zone[row] == z {
			return true
		}
	}
	return math.Abs(w.edge[row+1]-w.edge[row]) > 0.75*(w.m.S[row+1]-w.m.S[row])
}

// A view turns a place on the wall into a place on the sheet. Angle 0 is the leading side, a quarter turn
// is the left side.
type view interface {
	at(edge int, angle float64) picture.Point
	// steps is the number of pieces that a turn by angle needs to look round.
	steps(angle float64) int
	// straight says that a line along the profile is straight on the sheet.
	straight() bool
}

// side shows the rows between the discs, each as wide as it is around, with the rear in the middle.
type side struct {
	wall
	middle, bottom float64 // mm
	scale          float64 // mm of sheet per m of wall
}

func (v side) at(edge int, angle float64) picture.Point {
	return picture.Point{
		X: v.middle + (angle-math.Pi)*v.edge[edge]*v.scale,
		Y: v.bottom - (v.m.S[edge]-v.m.S[v.lower])*v.scale,
	}
}

func (side) steps(float64) int { return 1 }

func (side) straight() bool { return false }

// disc shows the base from below or the top from above; distances from the centre are those along the wall.
type disc struct {
	wall
	centre picture.Point
	scale  float64
	top    bool
	only   []string // zones that lie on this disc and not on the unrolled wall
}

func (v disc) at(edge int, angle float64) picture.Point {
	along := v.m.S[edge] - v.m.S[0]
	turn := 1.0 // from below, travel to the right, the left side is at the bottom
	if v.top {
		along = v.m.S[v.m.Rows] - v.m.S[edge]
		turn = -1
	}
	sin, cos := math.Sincos(angle)
	return picture.Point{X: v.centre.X + along*v.scale*cos, Y: v.centre.Y + turn*along*v.scale*sin}
}

// first and last are the edges between which the rows of the disc lie.
func (v disc) first() int {
	if v.top {
		return v.upper
	}
	return 0
}

func (v disc) last() int {
	if v.top {
		return v.m.Rows
	}
	return v.lower
}

func (disc) steps(angle float64) int { return max(1, int(math.Ceil(angle/(math.Pi/45)))) }

func (disc) straight() bool { return true }

// zonesOnlyOn returns the zones of a disc that the unrolled wall does not show, from the rim inwards.
func (w wall) zonesOnlyOn(d disc) []string {
	var only []string
	onWall := w.m.Zone[w.lower:w.upper]
	rows := w.m.Zone[:w.lower]
	if d.top {
		rows = w.m.Zone[w.upper:]
	}
	for _, zone := range rows {
		if !slices.Contains(onWall, zone) && !slices.Contains(only, zone) {
			only = append(only, zone)
		}
	}
	if !d.top {
		slices.Reverse(only)
	}
	return only
}

// A run is a stretch of rows and columns whose cells all belong to the same patch.
type run struct{ row, rows, from, to int }

// patches returns the rings around all cells whose class is at least least, between two rows. A stretch that
// repeats in the next row grows instead of starting anew.
func patches(v view, w wall, s scale, from, to, least int) [][]picture.Point {
	var rings [][]picture.Point
	step := 2 * math.Pi / float64(w.m.Cols)
	var open []run
	shut := func(runs []run) {
		for _, r := range runs {
			rings = append(rings, patch(v, r.row, r.row+r.rows, float64(r.from)*step, float64(r.to)*step))
		}
	}
	for row := from; row < to; row++ {
		next := w.runs(s, row, least)
		for i := range next {
			at := slices.IndexFunc(open, func(r run) bool { return r.from == next[i].from && r.to == next[i].to })
			if at >= 0 {
				next[i].row, next[i].rows = open[at].row, open[at].rows+1
				open = slices.Delete(open, at, at+1)
			}
		}
		shut(open)
		open = next
	}
	shut(open)
	return rings
}

// runs returns the stretches of one row whose class is at least least.
func (w wall) runs(s scale, row, least int) []run {
	var out []run
	cells := w.m.Water[row*w.m.Cols : (row+1)*w.m.Cols]
	for c := 0; c < len(cells); c++ {
		if s.class(cells[c]*1e3) < least {
			continue
		}
		end := c
		for end < len(cells) && s.class(cells[end]*1e3) >= least {
			end++
		}
		out = append(out, run{row, 1, c, end})
		c = end
	}
	return out
}

// patch returns the ring around rows from low to high, high not included, between two angles.
func patch(v view, low, high int, from, to float64) []picture.Point {
	ring := arc(v, low, from, to)
	for edge := low + 1; edge < high && !v.straight(); edge++ {
		ring = append(ring, v.at(edge, to))
	}
	ring = append(ring, arc(v, high, to, from)...)
	for edge := high - 1; edge > low && !v.straight(); edge-- {
		ring = append(ring, v.at(edge, from))
	}
	return ring
}

func arc(v view, edge int, from, to float64) []picture.Point {
	n := v.steps(math.Abs(to - from))
	points := make([]picture.Point, n+1)
	for i := range points {
		points[i] = v.at(edge, from+(to-from)*float64(i)/float64(n))
	}
	return points
}
