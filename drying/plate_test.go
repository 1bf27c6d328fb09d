package drying

import (
	"math"

	"leste/physics/jet"
	q "leste/quantity"
	"leste/station"
)

// newPlate is a flat upright wall of rows by cols cells in the plane of travel, facing left, with one wall
// material. Its columns run against travel, so that "around" has the sense it has on a container's left side.
func newPlate(rows, cols int, cell float64, advancing, receding float64) *station.Body {
	n := rows * cols
	s := &station.Surface{
		Rows: rows, Cols: cols, Zones: []string{"sidewall"}, Zone: make([]uint8, n),
		Pos: make([]station.Vec, n), Normal: make([]station.Vec, n), Along: make([]station.Vec, n), Around: make([]station.Vec, n),
		Area: make([]float64, n), S: make([]float64, rows), StepS: make([]float64, rows), StepA: make([]float64, n),
		FaceS: make([]float64, (rows+1)*cols), FaceA: make([]float64, rows),
	}
	for r := range rows {
		s.S[r], s.StepS[r], s.FaceA[r] = (float64(r)+0.5)*cell, cell, cell
		for c := range cols {
			k := r*cols + c
			s.Pos[k] = station.Vec{X: (float64(cols)/2 - 0.5 - float64(c)) * cell, Z: s.S[r]}
			s.Normal[k], s.Along[k], s.Around[k] = station.Vec{Y: 1}, station.Vec{Z: 1}, station.Vec{X: -1}
			s.Area[k], s.StepA[k] = cell*cell, cell
			s.FaceS[k] = cell
		}
	}
	for c := range cols {
		s.FaceS[c] = 0
	}
	return &station.Body{
		Format: "plate", Surface: s, Material: []int{0}, Height: float64(rows) * cell, Width: float64(cols) * cell,
		Materials: []station.Material{{Name: "test wall", Advancing: q.Degrees(advancing), Receding: q.Degrees(receding), Conductance: 200}},
		Product:   q.Celsius(20),
	}
}

// planeJet blows square at the plate along a straight line that stands still in space; the plate moves past. The
// line leans by slope metres of travel for each metre of height.
type planeJet struct {
	body      *station.Body
	he        float64 // m, effective distance
	press     float64 // Pa on the line
	shear     float64 // Pa, greatest
	speed     float64 // m/s of the wall jet
	slope     float64
	positions int
}

// usualJet is the air of a 1.5 mm slot at 20 kPa, 40 mm from the wall.
func usualJet(b *station.Body) *planeJet {
	return &planeJet{body: b, he: 40e-3, press: 5250, shear: 36.8, speed: 93.5}
}

func (j *planeJet) At(x float64, f *station.Field) {
	j.positions++
	s := j.body.Surface
	f.First, f.Last = 0, s.Rows
	// The normal of the line in the plate, in travel and height.
	l := math.Hypot(1, j.slope)
	nx, nz := 1/l, -j.slope/l
	for k, pos := range s.Pos {
		d := (pos.X + x - j.slope*pos.Z) / l // from the line along its normal
		X := math.Abs(d) / j.he
		p := j.press * math.Exp(-38.5*X*X)
		tau := j.shear * jet.PlaneShearShapeSI(X/0.155) * math.Copysign(1, d)
		g := -2 * 38.5 / (j.he * j.he) * p * d
		f.P[k] = p
		f.TauA[k], f.TauS[k] = -tau*nx, tau*nz // around runs against travel
		f.GradA[k], f.GradS[k] = -g*nx, g*nz
		f.Ue[k] = j.speed * math.Sqrt(-math.Expm1(-38.5*X*X))
	}
}

// platePass is one pass of a plate in front of a jet.
func platePass(j *planeJet, speed float64) Pass {
	reach := j.body.Width/2 + 1.2*j.he + math.Abs(j.slope)*j.body.Height
	return Pass{Station: "jet", Air: j, From: -reach, To: reach, Speed: speed, Before: 1}
}
