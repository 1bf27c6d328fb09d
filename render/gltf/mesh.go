package gltf

import (
	"math"

	leste "leste"
	"leste/job"
	"leste/render/drawing"
	"leste/render/scene"
	"leste/station"
)

// mesh is a run of triangles with a normal and, where coloured, a colour for every corner.
type mesh struct {
	name      string
	material  material
	position  [][3]float32
	normal    [][3]float32
	colour    [][3]float32 // linear; empty when the material colours the mesh
	triangles []uint32
	along     []float64 // where along the line it stands [m]; none stands at the datum
}

// material is a plain surface.
type material struct {
	name   string
	colour drawing.Colour
	rough  float64
	opaque float64
}

// point turns station axes (z up) into those of the format (y up).
func point(v station.Vec) [3]float32 {
	return [3]float32{float32(v.X), float32(v.Z), float32(-v.Y)}
}

// linear takes an sRGB channel to linear light (IEC 61966-2-1).
func linear(v uint8) float32 {
	x := float64(v) / 255
	if x <= 0.04045 {
		return float32(x / 12.92)
	}
	return float32(math.Pow((x+0.055)/1.055, 2.4))
}

func linearColour(c drawing.Colour) [3]float32 {
	return [3]float32{linear(c.R), linear(c.G), linear(c.B)}
}

// flat adds a triangle with its own normal; one without area is left out.
func (m *mesh) flat(a, b, c station.Vec) {
	n := cross(sub(b, a), sub(c, a))
	long := math.Sqrt(n.X*n.X + n.Y*n.Y + n.Z*n.Z)
	if long < 1e-14 {
		return
	}
	n = station.Vec{X: n.X / long, Y: n.Y / long, Z: n.Z / long}
	for _, v := range []station.Vec{a, b, c} {
		m.triangles = append(m.triangles, uint32(len(m.position)))
		m.position = append(m.position, point(v))
		m.normal = append(m.normal, point(n))
	}
}

// solid adds a convex body between two loops, its faces outward.
func (m *mesh) solid(s scene.Solid) {
	n := len(s.A)
	if n < 3 || len(s.B) != n {
		return
	}
	centre := station.Vec{}
	for i := range n {
		centre = add(centre, times(add(s.A[i], s.B[i]), 0.5/float64(n)))
	}
	outward := func(a, b, c station.Vec) {
		normal := cross(sub(b, a), sub(c, a))
		if dot(normal, sub(a, centre)) < 0 {
			b, c = c, b
		}
		m.flat(a, b, c)
	}
	for i := range n {
		k := (i + 1) % n
		outward(s.A[i], s.A[k], s.B[i])
		outward(s.A[k], s.B[k], s.B[i])
		if i > 0 && i < n-1 {
			outward(s.A[0], s.A[i], s.A[i+1])
			outward(s.B[0], s.B[i], s.B[i+1])
		}
	}
}

// box adds an axis-parallel box.
func (m *mesh) box(b job.Box) {
	loop := func(z float64) []station.Vec {
		return []station.Vec{
			{X: float64(b.XFrom), Y: float64(b.YFrom), Z: z},
			{X: float64(b.XTo), Y: float64(b.YFrom), Z: z},
			{X: float64(b.XTo), Y: float64(b.YTo), Z: z},
			{X: float64(b.XFrom), Y: float64(b.YTo), Z: z},
		}
	}
	m.solid(scene.Solid{A: loop(float64(b.ZFrom)), B: loop(float64(b.ZTo))})
}

// wall adds a container as a closed skin through the centres of its cells. Colour gives the colour of a cell; nil leaves
// it to the material.
func (m *mesh) wall(b *station.Body, colour func(row, col int) drawing.Colour) {
	s := b.Surface
	first := uint32(len(m.position))
	put := func(v, n station.Vec, row, col int) {
		m.position = append(m.position, point(v))
		m.normal = append(m.normal, point(unit(n)))
		if colour != nil {
			m.colour = append(m.colour, linearColour(colour(row, col)))
		}
	}
	for r := range s.Rows {
		for c := range s.Cols {
			k := r*s.Cols + c
			put(s.Pos[k], normalAt(s, r, c), r, c)
		}
	}
	at := func(r, c int) uint32 { return first + uint32(r*s.Cols+c%s.Cols) }
	for r := range s.Rows - 1 {
		for c := range s.Cols { // seen from outside: up along the profile is on the left of going around
			a, b, d, e := at(r, c), at(r, c+1), at(r+1, c), at(r+1, c+1)
			m.triangles = append(m.triangles, a, b, e, a, e, d)
		}
	}
	for _, end := range []struct {
		row int
		up  float64
	}{{0, -1}, {s.Rows - 1, 1}} { // close the two middles
		centre := station.Vec{}
		for c := range s.Cols {
			centre = add(centre, times(s.Pos[end.row*s.Cols+c], 1/float64(s.Cols)))
		}
		middle := uint32(len(m.position))
		put(centre, station.Vec{Z: end.up}, end.row, 0)
		for c := range s.Cols {
			a, b := at(end.row, c), at(end.row, c+1)
			if end.up < 0 {
				a, b = b, a
			}
			m.triangles = append(m.triangles, a, b, middle)
		}
	}
}

// thin is how many rows and columns of a neighbour's wall one of its model's stands for: it is only there to
// show the room it takes. The container itself keeps its rows, where zones begin and end, and every second column.
const thin, thinColumns = 4, 2

// coarse returns a body with a coarser wall: one in so many of its rows and columns.
func coarse(b *station.Body, thinRows, thin int) *station.Body {
	s := b.Surface
	if s.Rows < 4*thinRows || s.Cols < 8*thin {
		return b
	}
	rows := []int{0}
	for r := thinRows; r < s.Rows-1; r += thinRows {
		rows = append(rows, r)
	}
	rows = append(rows, s.Rows-1)
	c := *b
	c.Surface = &station.Surface{Rows: len(rows), Cols: s.Cols / thin}
	for _, r := range rows {
		for k := range c.Surface.Cols {
			c.Surface.Pos = append(c.Surface.Pos, s.Pos[r*s.Cols+k*thin])
		}
	}
	return &c
}

// normalAt is the outward normal of a cell; from its neighbours where the surface carries none.
func normalAt(s *station.Surface, r, c int) station.Vec {
	if k := r*s.Cols + c; k < len(s.Normal) {
		return s.Normal[k]
	}
	up, down := min(r+1, s.Rows-1), max(r-1, 0)
	along := sub(s.Pos[up*s.Cols+c], s.Pos[down*s.Cols+c])
	around := sub(s.Pos[r*s.Cols+(c+1)%s.Cols], s.Pos[r*s.Cols+(c+s.Cols-1)%s.Cols])
	return cross(around, along)
}

// dry and wet end of the colours [kg/m2]: the steps between are logarithmic.
const (
	dryEnd = 1e-4
	wetEnd = 5e-2
)

// share is where an amount of water lies between the ends of the colours.
func share(water float64) float64 {
	if !(water > dryEnd) {
		return 0
	}
	return math.Log(water/dryEnd) / math.Log(wetEnd/dryEnd)
}

// coloured returns the colour of each cell of a body from a map that may have another grid.
func coloured(b *station.Body, m *leste.Map) func(row, col int) drawing.Colour {
	if m == nil || m.Rows < 1 || m.Cols < 1 || len(m.Water) < m.Rows*m.Cols {
		return func(int, int) drawing.Colour { return drawing.White }
	}
	s := b.Surface
	return func(row, col int) drawing.Colour {
		r := row * m.Rows / s.Rows
		c := col * m.Cols / s.Cols
		return drawing.Water(share(m.Water[r*m.Cols+c]))
	}
}

func add(a, b station.Vec) station.Vec { return station.Vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func sub(a, b station.Vec) station.Vec { return station.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func times(a station.Vec, f float64) station.Vec {
	return station.Vec{X: a.X * f, Y: a.Y * f, Z: a.Z * f}
}
func dot(a, b station.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func cross(a, b station.Vec) station.Vec {
	return station.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func unit(a station.Vec) station.Vec {
	long := math.Sqrt(dot(a, a))
	if long == 0 {
		return station.Vec{Z: 1}
	}
	return times(a, 1/long)
}
