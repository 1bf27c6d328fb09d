package airsupply

import (
	"math"

	q "leste/quantity"
)

// Limits of the friction law.
const (
	laminarEnd    = 2000.0 // Reynolds number
	turbulentFrom = 4000.0
	roughest      = 0.05 // roughness over bore
)

// Friction returns the Darcy friction factor of a round duct: 64/Re below Re 2000, Colebrook and White from
// Re 4000, between them a cubic in ln Re that keeps value and slope at both ends.
//
// Range: Re < 1e8, roughness over bore up to 0.05; +-5 %, hoses +-50 %, between Re 2000 and 4000 uncertain.
// Source: Colebrook 1939. NaN for a Reynolds number or roughness that cannot exist.
func Friction(reynolds, roughnessOverBore q.Ratio) q.Ratio {
	if !(reynolds > 0) || !(roughnessOverBore >= 0) || math.IsInf(float64(reynolds), 0) {
		return q.Ratio(math.NaN())
	}
	f, _ := friction(float64(reynolds), float64(roughnessOverBore))
	return q.Ratio(f)
}

// friction also returns d ln f/d ln Re.
func friction(re, rough float64) (f, slope float64) {
	switch {
	case re <= laminarEnd:
		return 64 / re, -1
	case re >= turbulentFrom:
		return colebrook(re, rough)
	}
	// Hermite cubic of ln f in ln Re.
	width := math.Log(turbulentFrom / laminarEnd)
	s := math.Log(re/laminarEnd) / width
	from, fromSlope := math.Log(64/laminarEnd), -width
	end, endSlope := colebrook(turbulentFrom, rough)
	to, toSlope := math.Log(end), endSlope*width
	value := from*(1+2*s)*(1-s)*(1-s) + fromSlope*s*(1-s)*(1-s) + to*s*s*(3-2*s) + toSlope*s*s*(s-1)
	slope = (6*s*(s-1)*(from-to) + fromSlope*(1-s)*(1-3*s) + toSlope*s*(3*s-2)) / width
	return math.Exp(value), slope
}

// colebrook solves x = -2 log10(e/3.7D + 2.51 x/Re) for x = 1/sqrt f by Newton's method from Haaland's formula.
func colebrook(re, rough float64) (f, slope float64) {
	return colebrookFrom(re, rough, -1.8/math.Ln10*math.Log(math.Pow(rough/3.7, 1.11)+6.9/re))
}

// colebrookFrom is colebrook from a first guess of x.
func colebrookFrom(re, rough, x float64) (f, slope float64) {
	const log10 = 2 / math.Ln10
	a, b := rough/3.7, 2.51/re
	for range 20 {
		arg := a + b*x
		step := (x + log10*math.Log(arg)) / (1 + log10*b/arg)
		x -= step
		if math.Abs(step) <= 1e-7*x { // what is left is about its square
			break
		}
	}
	share := log10 * b / (a + b*x)
	return 1 / (x * x), -2 * share / (1 + share)
}

// frictionFrom is the friction factor of a flow next to one whose factor is known; 0 where none is.
func frictionFrom(re, rough, known float64) float64 {
	if known > 0 && re >= turbulentFrom {
		f, _ := colebrookFrom(re, rough, 1/math.Sqrt(known))
		return f
	}
	f, _ := friction(re, rough)
	return f
}
