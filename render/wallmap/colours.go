package wallmap

import (
	"math"
	"slices"

	"leste/render/picture"
)

// A scale divides water per area [g/m2] into classes at the steps 1, 2, 5. Class 0 lies below the first
// limit, class i between limit i-1 and limit i, the last class above the last limit.
type scale struct {
	limits  []float64
	colours []picture.Colour
}

// classes is the number of limits of a scale: two and a half decades.
const classes = 8

// newScale returns the scale whose last limit is the first step not below top [g/m2].
func newScale(top float64) scale {
	if !(top > 0) || math.IsInf(top, 0) {
		top = 1
	}
	last := 3 * int(math.Floor(math.Log10(top)))
	for step(last) < top*(1-1e-9) {
		last++
	}
	s := scale{colours: ramp(classes + 1)}
	for k := last - classes + 1; k <= last; k++ {
		s.limits = append(s.limits, step(k))
	}
	return s
}

// step returns the k-th number of ... 0.5, 1, 2, 5, 10 ...; number 0 is 1.
func step(k int) float64 {
	decade := (k - ((k%3)+3)%3) / 3
	digit := [...]float64{1, 2, 5}[k-3*decade]
	if decade < 0 {
		return digit / math.Pow10(-decade)
	}
	return digit * math.Pow10(decade)
}

// class returns the class of an amount; an unknown amount counts as none.
func (s scale) class(water float64) int {
	n := 0
	for n < len(s.limits) && water >= s.limits[n] {
		n++
	}
	return n
}

// The ramp runs from nearly white, where the wall is dry, over blue to a dark blue where it is wettest.
var rampThrough = []picture.Perceived{
	picture.Polar(0.965, 0.012, 95),
	picture.Polar(0.86, 0.060, 205),
	picture.Polar(0.70, 0.110, 230),
	picture.Polar(0.50, 0.130, 252),
	picture.Polar(0.27, 0.095, 272),
}

// ramp returns n colours spaced evenly by eye along the ramp.
func ramp(n int) []picture.Colour {
	const fine = 400
	path := make([]picture.Perceived, fine+1)
	far := make([]float64, fine+1)
	for i := range path {
		at := float64(i) / fine * float64(len(rampThrough)-1)
		k := min(int(at), len(rampThrough)-2)
		path[i] = rampThrough[k].Mix(rampThrough[k+1], at-float64(k))
		if i > 0 {
			far[i] = far[i-1] + path[i].Distance(path[i-1])
		}
	}
	out := make([]picture.Colour, n)
	for i := range out {
		want := far[fine] * float64(i) / float64(max(n-1, 1))
		k, _ := slices.BinarySearch(far, want)
		out[i] = path[min(k, fine)].Colour()
	}
	return out
}
