package drying

import (
	"slices"

	"leste/station"
)

// Where container and air are the same on both sides of the line, so is the water, to the last bit: sums over neighbours
// on two sides are taken in an order that a mirror does not change. It may then be followed on the left half alone: at
// the leading and the trailing line, what crosses it meets as much that comes back. Both halves are told of.

// halved is the left half of a body that is the same on both sides of the line, nil for any other. A crevice without a
// way out takes in water around its ring in turn, so that its two sides differ.
func halved(b *station.Body) *station.Body {
	s := b.Surface
	if !twoSided(s) || slices.ContainsFunc(b.Crevices, func(c station.Crevice) bool { return c.Exit == exitBlind }) {
		return nil
	}
	half := *b
	half.Surface = leftOf(s)
	half.Crevices, half.Pools = slices.Clone(b.Crevices), slices.Clone(b.Pools)
	for i := range half.Crevices {
		half.Crevices[i].Volume /= 2
	}
	for i := range half.Pools {
		half.Pools[i].Volume /= 2
	}
	return &half
}

// twoSided says whether the columns of a surface mirror each other in the plane of travel, to the last bit.
func twoSided(s *station.Surface) bool {
	if s.Cols%2 != 0 || s.Cols < 4 {
		return false
	}
	flip := func(v station.Vec) station.Vec { return station.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	back := func(v station.Vec) station.Vec { return station.Vec{X: -v.X, Y: -v.Y, Z: -v.Z} }
	for row := range s.Rows {
		for c := range s.Cols / 2 {
			i, j := row*s.Cols+c, (row+1)*s.Cols-1-c
			if s.Pos[i] != flip(s.Pos[j]) || s.Normal[i] != flip(s.Normal[j]) || s.Along[i] != flip(s.Along[j]) ||
				s.Around[i] != back(flip(s.Around[j])) || s.Area[i] != s.Area[j] || s.Zone[i] != s.Zone[j] ||
				s.FaceS[i] != s.FaceS[j] || s.StepA[i] != s.StepA[row*s.Cols] || s.StepA[j] != s.StepA[row*s.Cols] {
				return false
			}
		}
	}
	return true
}

// leftOf is the first half of the columns.
func leftOf(s *station.Surface) *station.Surface {
	half := *s
	half.Cols = s.Cols / 2
	half.Pos, half.Normal = left(s, s.Pos), left(s, s.Normal)
	half.Along, half.Around = left(s, s.Along), left(s, s.Around)
	half.Area, half.Zone = left(s, s.Area), left(s, s.Zone)
	half.StepA, half.FaceS = left(s, s.StepA), left(s, s.FaceS)
	return &half
}

func left[T any](s *station.Surface, all []T) []T {
	out := make([]T, 0, len(all)/2)
	for from := 0; from < len(all); from += s.Cols {
		out = append(out, all[from:from+s.Cols/2]...)
	}
	return out
}

// alike says whether a field mirrors itself in the plane of travel, to the last bit: an outlet across the line, which is
// looked at from both sides, makes one that does not.
func alike(f *station.Field, cols int) bool {
	for row := f.First; row < f.Last; row++ {
		for c := range cols / 2 {
			i, j := row*cols+c, (row+1)*cols-1-c
			if f.P[i] != f.P[j] || f.Ue[i] != f.Ue[j] || f.TauS[i] != f.TauS[j] || f.TauA[i] != -f.TauA[j] {
				return false
			}
		}
	}
	return true
}
