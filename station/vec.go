package station

import "math"

func (a Vec) add(b Vec) Vec              { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) sub(b Vec) Vec              { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) scale(k float64) Vec        { return Vec{k * a.X, k * a.Y, k * a.Z} }
func (a Vec) dot(b Vec) float64          { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) norm() float64              { return math.Sqrt(a.dot(a)) }
func (a Vec) along(k float64, d Vec) Vec { return Vec{a.X + k*d.X, a.Y + k*d.Y, a.Z + k*d.Z} }

func (a Vec) cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// unit returns a scaled to length 1; the zero vector stays zero.
func (a Vec) unit() Vec {
	n := a.norm()
	if n == 0 {
		return a
	}
	return a.scale(1 / n)
}

func (a Vec) finite() bool {
	s := a.X + a.Y + a.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
