package airsupply

import (
	"math"

	"leste/physics/air"
	"leste/physics/jet"
	q "leste/quantity"
)

// gas is one composition of air with what the inner loops need of it worked out beforehand, all in SI.
type gas struct {
	r, cp, k float64

	half  float64 // (k-1)/2
	ratio float64 // k/(k-1): p0/p = (T0/T)^ratio
	flux  float64 // (k+1)/(k-1): exponent of the squared flux function
	choke float64 // greatest value of the squared flux function, at Mach 1

	series [9]float64 // of the squared Mach number in powers of the squared flux function, from the first
}

func newGas(r, cp float64) gas {
	k := cp / (cp - r)
	g := gas{r: r, cp: cp, k: k, half: (k - 1) / 2, ratio: k / (k - 1), flux: (k + 1) / (k - 1)}
	g.choke = math.Pow(1+g.half, -g.flux)
	// Lagrange's inversion of x = c (1 + half x)^flux: x = sum half^(n-1)/n binomial(n flux, n-1) c^n.
	for n := range g.series {
		order := float64(n + 1)
		term := 1 / order
		for i := range n {
			term *= g.half * (order*g.flux - float64(i)) / float64(i+1)
		}
		g.series[n] = term
	}
	return g
}

// Below these the series of the inner loops are exact to 1e-10 of the value.
const (
	seriesFlux = 0.02 // squared flux function, Mach 0.14
	seriesBase = 0.02
)

// onePlus returns (1+y)^e, by its binomial series where y is small.
func onePlus(y, e float64) float64 {
	if y > seriesBase || y < -seriesBase {
		return math.Pow(1+y, e)
	}
	sum, term := 1.0, 1.0
	for i := range 7 {
		term *= y * (e - float64(i)) * inverse[i]
		sum += term
	}
	return sum
}

var inverse = [...]float64{1, 1. / 2, 1. / 3, 1. / 4, 1. / 5, 1. / 6, 1. / 7}

func gasOf(m air.Moist) gas { return newGas(float64(m.GasConstant()), float64(m.SpecificHeat())) }

// jet returns the same gas for the discharge relations.
func (g gas) jet() jet.Gas {
	return jet.Gas{R: q.SpecificHeat(g.r), K: q.Ratio(g.k)}
}

// mach2 returns the squared Mach number of a mass flux [kg/(m2 s)] at stagnation state p0, t0, on the
// subsonic branch, and whether there is one: c = G^2 R T0/(k p0^2) = M^2 (1 + (k-1)/2 M^2)^(-(k+1)/(k-1)).
func (g gas) mach2(flux, p0, t0 float64) (float64, bool) {
	c := flux * flux * g.r * t0 / (g.k * p0 * p0)
	if !(c < g.choke) {
		return 1, false
	}
	x := 0.0
	for n := len(g.series) - 1; n >= 0; n-- {
		x = c * (g.series[n] + x)
	}
	if c < seriesFlux {
		return x, true
	}
	for range 30 {
		base := 1 + g.half*x
		p := c * onePlus(g.half*x, g.flux)
		step := (x - p) / (1 - p*g.flux*g.half/base)
		x = min(max(x-step, 0), 1)
		if math.Abs(step) <= 1e-13*x {
			break
		}
	}
	return x, true
}

// static returns the static pressure of a flow of squared Mach number x at stagnation pressure p0.
func (g gas) static(p0, x float64) float64 { return p0 * onePlus(g.half*x, -g.ratio) }

// outflow returns the mass flux [kg/(m2 s)] from stagnation state p0, t0 to pressure pa, choked when the
// ratio is critical; 0 at or below pa.
func (g gas) outflow(p0, t0, pa float64) float64 {
	if p0 <= pa {
		return 0
	}
	return g.outflowCooling(math.Pow(p0/pa, 1/g.ratio), t0, pa)
}

// outflowCooling is outflow from air that expanding to pa cools by a factor: T0 over the temperature there.
func (g gas) outflowCooling(ratio, t0, pa float64) float64 {
	if !(ratio > 1) {
		return 0
	}
	x := (ratio - 1) / g.half
	if x >= 1 {
		return pa * math.Pow(ratio, g.ratio) * math.Sqrt(g.k/(g.r*t0)*g.choke)
	}
	return pa * math.Sqrt(g.k*x*ratio/(g.r*t0))
}

// drive returns the stagnation pressure over pa [Pa] that drives a mass flux to pressure pa, odd in the flux,
// and its derivative; the inverse of outflow.
func (g gas) drive(flux, t0, pa float64) (over, slope float64) {
	f := math.Abs(flux)
	c := f * f * g.r * t0 / (g.k * pa * pa)
	root := math.Sqrt(1 + 4*g.half*c)
	x := (root - 1) / (2 * g.half)
	if x > 1 {
		p0 := f * math.Sqrt(g.r*t0/(g.k*g.choke))
		return math.Copysign(p0-pa, flux), p0 / f
	}
	base := 1 + g.half*x
	p0 := pa * math.Pow(base, g.ratio)
	// dx/dc = 1/root; dc/dG = 2 G R T0/(k pa^2)
	slope = p0 * g.ratio * g.half / base / root * 2 * f * g.r * t0 / (g.k * pa * pa)
	return math.Copysign(p0-pa, flux), slope
}

// rise returns the stagnation pressure ratio of isentropic work w [J/kg] from t1, and its derivative.
func (g gas) rise(w, t1 float64) (ratio, slope float64) {
	base := 1 + w/(g.cp*t1)
	if base <= 0 {
		return 0, g.ratio / (g.cp * t1)
	}
	ratio = math.Pow(base, g.ratio)
	return ratio, ratio * g.ratio / base / (g.cp * t1)
}

// work returns the isentropic work [J/kg] of a stagnation pressure ratio from t1, the inverse of rise.
func (g gas) work(ratio, t1 float64) float64 {
	return g.cp * t1 * (math.Pow(ratio, 1/g.ratio) - 1)
}

// viscosity [Pa s]; Sutherland's law of physics/air in plain numbers.
func viscosity(t float64) float64 { return float64(air.Viscosity(q.Temperature(t))) }
