// Package solve finds the root of a function of one variable, the same way on every machine.
package solve

import "math"

// Root returns x in [lo, hi] with f(x) = 0, by Brent's method, to within tol or the spacing of floating-point
// numbers, whichever is larger. It returns NaN when f(lo) and f(hi) have the same sign, when either is NaN,
// or when a bound is not finite: a caller that can meet this says what it means.
func Root(f func(float64) float64, lo, hi, tol float64) float64 {
	a, b := lo, hi
	fa, fb := f(a), f(b)
	switch {
	case fa == 0:
		return a
	case fb == 0:
		return b
	case math.IsInf(a, 0) || math.IsInf(b, 0) || !(fa*fb < 0): // also catches NaN
		return math.NaN()
	}
	c, fc := a, fa
	d := b - a
	e := d
	for range maxIterations {
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		near := 2*epsilon*math.Abs(b) + tol/2
		half := (c - b) / 2
		if math.Abs(half) <= near || fb == 0 {
			return b
		}
		if step, ok := interpolated(a, b, c, fa, fb, fc, half, near, e); ok {
			e, d = d, step
		} else {
			d, e = half, half
		}
		a, fa = b, fb
		if math.Abs(d) > near {
			b += d
		} else {
			b += math.Copysign(near, half)
		}
		fb = f(b)
	}
	return b
}

const (
	maxIterations = 200
	epsilon       = 0x1p-52
)

// interpolated returns the secant or inverse-quadratic step from b, and whether it is short enough to be
// preferred over halving the bracket.
func interpolated(a, b, c, fa, fb, fc, half, near, before float64) (float64, bool) {
	if math.Abs(before) < near || math.Abs(fa) <= math.Abs(fb) {
		return 0, false
	}
	s := fb / fa
	var p, q float64
	if a == c {
		p, q = 2*half*s, 1-s
	} else {
		q = fa / fc
		r := fb / fc
		p = s * (2*half*q*(q-r) - (b-a)*(r-1))
		q = (q - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	}
	p = math.Abs(p)
	if 2*p < math.Min(3*half*q-math.Abs(near*q), math.Abs(before*q)) {
		return p / q, true
	}
	return 0, false
}
