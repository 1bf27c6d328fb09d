package drying

import (
	"math"
	"slices"
	"sync"

	"leste/station"
)

// coarse says which rows of a fine surface form each row of a coarse one. Columns go in pairs.
type coarse struct {
	fine, surface *station.Surface
	start         []int // per coarse row, and one more: first fine row
	rowOf         []int // per fine row: coarse row
	paired        int   // columns per coarse column
}

func newCoarse(b *station.Body) *coarse {
	s := b.Surface
	c := &coarse{fine: s, rowOf: make([]int, s.Rows), paired: 1}
	if s.Cols%4 == 0 && s.Cols > 4 {
		c.paired = 2
	}
	apart := make([]bool, s.Rows+1)
	for _, e := range s.Edge {
		apart[e.Row] = true
	}
	for _, p := range b.Pools {
		apart[p.Rows[0]], apart[p.Rows[1]] = true, true
	}
	for r := 0; r < s.Rows; {
		c.start = append(c.start, r)
		c.rowOf[r] = len(c.start) - 1
		r++
		if r < s.Rows && !apart[r] && s.Zone[r*s.Cols] == s.Zone[(r-1)*s.Cols] {
			c.rowOf[r] = len(c.start) - 1
			r++
		}
	}
	c.start = append(c.start, s.Rows)
	c.build()
	return c
}

// each calls do for the fine cells of coarse cell (r, col).
func (c *coarse) each(r, col int, do func(k int)) {
	for fr := c.start[r]; fr < c.start[r+1]; fr++ {
		for fc := col * c.paired; fc < (col+1)*c.paired; fc++ {
			do(fr*c.fine.Cols + fc)
		}
	}
}

func (c *coarse) build() {
	f := c.fine
	rows, cols := len(c.start)-1, f.Cols/c.paired
	n := rows * cols
	s := &station.Surface{
		Rows: rows, Cols: cols, Zones: f.Zones,
		Pos: make([]station.Vec, n), Normal: make([]station.Vec, n), Along: make([]station.Vec, n), Around: make([]station.Vec, n),
		Area: make([]float64, n), Zone: make([]uint8, n), StepA: make([]float64, n),
		S: make([]float64, rows), StepS: make([]float64, rows), FaceA: make([]float64, rows), FaceS: make([]float64, (rows+1)*cols),
	}
	for r := range rows {
		first := c.start[r]
		for fr := first; fr < c.start[r+1]; fr++ {
			s.StepS[r] += f.StepS[fr]
			s.FaceA[r] += f.FaceA[fr]
		}
		s.S[r] = f.S[first] - f.StepS[first]/2 + s.StepS[r]/2
		for col := range cols {
			k := r*cols + col
			c.each(r, col, func(j int) {
				a := f.Area[j]
				s.Area[k] += a
				s.StepA[k] += f.StepA[j] / float64(c.start[r+1]-first)
				s.Pos[k] = plus(s.Pos[k], f.Pos[j], a)
				s.Normal[k] = plus(s.Normal[k], f.Normal[j], a)
				s.Along[k] = plus(s.Along[k], f.Along[j], a)
				s.Around[k] = plus(s.Around[k], f.Around[j], a)
				s.Zone[k] = f.Zone[j]
			})
			s.Pos[k] = plus(station.Vec{}, s.Pos[k], 1/s.Area[k])
			s.Normal[k], s.Along[k], s.Around[k] = unit(s.Normal[k]), unit(s.Along[k]), unit(s.Around[k])
			for fc := col * c.paired; fc < (col+1)*c.paired; fc++ {
				s.FaceS[k] += f.FaceS[first*f.Cols+fc]
			}
		}
	}
	for _, e := range f.Edge {
		e.Row = c.rowOf[e.Row]
		s.Edge = append(s.Edge, e)
	}
	c.surface = s
}

// plus is a + f b.
func plus(a, b station.Vec, f float64) station.Vec {
	return station.Vec{X: a.X + f*b.X, Y: a.Y + f*b.Y, Z: a.Z + f*b.Z}
}

func unit(a station.Vec) station.Vec {
	return plus(station.Vec{}, a, 1/math.Sqrt(a.X*a.X+a.Y*a.Y+a.Z*a.Z))
}

// coarseAir is the air of a fine surface averaged over coarse cells. It remembers what it has seen: several runs
// look from the same positions, maybe at once.
type coarseAir struct {
	c     *coarse
	fine  Exposure
	field *station.Field
	mutex sync.Mutex // guards field and seen
	seen  map[float64]*station.Field
}

// At implements Exposure.
func (a *coarseAir) At(x float64, f *station.Field) {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	if before := a.seen[x]; before != nil {
		f.First, f.Last = before.First, before.Last
		from := [...][]float64{before.P, before.TauS, before.TauA, before.GradS, before.GradA, before.Ue, before.Heat}
		for i, to := range [...][]float64{f.P, f.TauS, f.TauA, f.GradS, f.GradA, f.Ue, f.Heat} {
			copy(to, from[i])
		}
		return
	}
	a.average(x, f)
	a.seen[x] = &station.Field{
		First: f.First, Last: f.Last, P: slices.Clone(f.P), TauS: slices.Clone(f.TauS), TauA: slices.Clone(f.TauA),
		GradS: slices.Clone(f.GradS), GradA: slices.Clone(f.GradA), Ue: slices.Clone(f.Ue), Heat: slices.Clone(f.Heat),
	}
}

// average looks at the fine surface.
func (a *coarseAir) average(x float64, f *station.Field) {
	a.fine.At(x, a.field)
	c, s := a.c, a.c.surface
	from := [...][]float64{a.field.P, a.field.TauS, a.field.TauA, a.field.GradS, a.field.GradA, a.field.Ue, a.field.Heat}
	to := [...][]float64{f.P, f.TauS, f.TauA, f.GradS, f.GradA, f.Ue, f.Heat}
	f.First, f.Last = 0, 0
	for i := range to {
		clear(to[i])
	}
	if a.field.First >= a.field.Last {
		return
	}
	f.First, f.Last = c.rowOf[a.field.First], c.rowOf[a.field.Last-1]+1
	for r := f.First; r < f.Last; r++ {
		for col := range s.Cols {
			k := r*s.Cols + col
			c.each(r, col, func(j int) {
				share := c.fine.Area[j] / s.Area[k]
				for i := range to {
					to[i][k] += share * from[i][j]
				}
			})
		}
	}
}
