package airsupply

import (
	"fmt"
	"math"
)

// spline is a cubic through points that bends nowhere between them (Fritsch & Carlson 1980; end slopes by the
// one-sided three-point formula, limited). Three points give their parabola exactly.
type spline struct {
	x, y, slope []float64
}

func newSpline(x, y []float64) (spline, error) {
	if len(x) != len(y) || len(x) < 3 {
		return spline{}, fmt.Errorf("a curve needs at least three points, not %d", len(x))
	}
	for i := range x {
		if math.IsNaN(x[i]) || math.IsInf(x[i], 0) || math.IsNaN(y[i]) || math.IsInf(y[i], 0) {
			return spline{}, fmt.Errorf("point %d of the curve is not a number", i+1)
		}
		if i > 0 && !(x[i] > x[i-1]) {
			return spline{}, fmt.Errorf("point %d of the curve must have a greater flow than the one before", i+1)
		}
	}
	s := spline{x: x, y: y, slope: make([]float64, len(x))}
	if len(x) == 3 {
		s.parabola()
	} else {
		s.monotone()
	}
	return s, nil
}

func (s *spline) parabola() {
	h0, h1 := s.x[1]-s.x[0], s.x[2]-s.x[1]
	d0, d1 := (s.y[1]-s.y[0])/h0, (s.y[2]-s.y[1])/h1
	bend := (d1 - d0) / (h0 + h1)
	s.slope[0] = d0 - bend*h0
	s.slope[1] = d0 + bend*h0
	s.slope[2] = d1 + bend*h1
}

func (s *spline) monotone() {
	n := len(s.x)
	h, d := make([]float64, n-1), make([]float64, n-1)
	for i := range h {
		h[i] = s.x[i+1] - s.x[i]
		d[i] = (s.y[i+1] - s.y[i]) / h[i]
	}
	for i := 1; i < n-1; i++ {
		if d[i-1]*d[i] <= 0 {
			continue
		}
		w1, w2 := 2*h[i]+h[i-1], h[i]+2*h[i-1]
		s.slope[i] = (w1 + w2) / (w1/d[i-1] + w2/d[i])
	}
	s.slope[0] = endSlope(h[0], h[1], d[0], d[1])
	s.slope[n-1] = endSlope(h[n-2], h[n-3], d[n-2], d[n-3])
}

func endSlope(h0, h1, d0, d1 float64) float64 {
	m := ((2*h0+h1)*d0 - h0*d1) / (h0 + h1)
	switch {
	case m*d0 <= 0:
		return 0
	case d0*d1 < 0 && math.Abs(m) > 3*math.Abs(d0):
		return 3 * d0
	}
	return m
}

// at returns value and slope; outside the points the end's tangent goes on, which is for iterations only.
func (s *spline) at(x float64) (y, slope float64) {
	n := len(s.x)
	switch {
	case x <= s.x[0]:
		return s.y[0] + s.slope[0]*(x-s.x[0]), s.slope[0]
	case x >= s.x[n-1]:
		return s.y[n-1] + s.slope[n-1]*(x-s.x[n-1]), s.slope[n-1]
	}
	i := 0
	for x > s.x[i+1] {
		i++
	}
	h := s.x[i+1] - s.x[i]
	t := (x - s.x[i]) / h
	u := 1 - t
	y = s.y[i]*u*u*(1+2*t) + s.y[i+1]*t*t*(3-2*t) + h*t*u*(s.slope[i]*u-s.slope[i+1]*t)
	slope = 6*t*u*(s.y[i+1]-s.y[i])/h + s.slope[i]*u*(1-3*t) + s.slope[i+1]*t*(3*t-2)
	return y, slope
}

// steepest is the greatest |slope| at the points.
func (s *spline) steepest() float64 {
	var greatest float64
	for _, m := range s.slope {
		greatest = max(greatest, math.Abs(m))
	}
	return greatest
}
