package cost

import (
	"fmt"
	"math"
)

// SPV is the present value of one unit paid after n years at discount rate d.
// Source: published: NIST Handbook 135; ISO 15686-5.
func SPV(d, n float64) float64 { return math.Pow(1+d, -n) }

// UPV is the present value of one unit paid at the end of each of n years at discount rate d.
// Source: published: NIST Handbook 135; ISO 15686-5.
func UPV(d, n float64) float64 {
	if d == 0 {
		return n
	}
	return -math.Expm1(-n*math.Log1p(d)) / d
}

// EscalatingUPV is UPV of a payment that starts at one unit of today's price and rises by the rate e each year.
// Source: published: NIST Handbook 135.
func EscalatingUPV(d, e, n float64) float64 {
	growth := math.Log1p(e) - math.Log1p(d)
	if math.Abs(growth) < 1e-12 {
		return n
	}
	return (1 + e) / (d - e) * -math.Expm1(n*growth)
}

// An Alternative is one way of doing the work.
type Alternative struct {
	Price       float64 // paid at the start
	Energy      float64 // first year's electricity at today's price
	Maintenance float64 // each year, everything that is not electricity
}

// A Comparison is what choosing an alternative instead of a base case brings over the years.
type Comparison struct {
	BaseCost, Cost float64 // life-cycle cost, present value
	YearlySaving   float64 // first year, maintenance included
	Payback        float64 // simple, years; +Inf when it never pays
	NPV            float64 // net present value of the choice
	SIR            float64 // savings to investment; NaN without an extra investment
	IRR            float64 // internal rate of return; NaN when there is none above -99 %
}

// Compare returns life-cycle costs of a base case and an alternative over n years at discount rate d, energy
// prices rising at e. It is meaningful only when both do the same drying.
func Compare(base, alternative Alternative, d, e, n float64) (Comparison, error) {
	for _, v := range []struct {
		name        string
		x           float64
		least, most float64
	}{{"discount rate", d, 0, 1}, {"escalation rate", e, -0.5, 1}, {"years", n, 1, 100}} {
		if !(v.x >= v.least && v.x <= v.most) {
			return Comparison{}, fmt.Errorf("cost: %s must lie between %g and %g, not %g", v.name, v.least, v.most, v.x)
		}
	}
	for _, a := range []Alternative{base, alternative} {
		if s := a.Price + a.Energy + a.Maintenance; math.IsNaN(s) || math.IsInf(s, 0) {
			return Comparison{}, fmt.Errorf("cost: prices and yearly costs must be numbers")
		}
	}
	life := func(a Alternative) float64 {
		return a.Price + a.Energy*EscalatingUPV(d, e, n) + a.Maintenance*UPV(d, n)
	}
	c := Comparison{BaseCost: life(base), Cost: life(alternative)}
	c.NPV = c.BaseCost - c.Cost
	c.YearlySaving = base.Energy - alternative.Energy + base.Maintenance - alternative.Maintenance
	extra := alternative.Price - base.Price
	switch {
	case extra <= 0 && c.YearlySaving >= 0:
		c.Payback = 0
	case c.YearlySaving <= 0:
		c.Payback = math.Inf(1)
	default:
		c.Payback = extra / c.YearlySaving
	}
	c.SIR, c.IRR = math.NaN(), math.NaN()
	if extra > 0 {
		saved := (base.Energy-alternative.Energy)*EscalatingUPV(d, e, n) + (base.Maintenance-alternative.Maintenance)*UPV(d, n)
		c.SIR = saved / extra
		c.IRR = internalRate(extra, base.Energy-alternative.Energy, base.Maintenance-alternative.Maintenance, e, n)
	}
	return c, nil
}

// internalRate is the discount rate at which savings pay for an investment, by bisection; NaN when there is
// none between -99 % and 10000 %.
func internalRate(extra, energy, maintenance, e, n float64) float64 {
	worth := func(d float64) float64 {
		return energy*EscalatingUPV(d, e, n) + maintenance*UPV(d, n) - extra
	}
	low, high := -0.99, 100.0
	if !(worth(low) > 0 && worth(high) < 0) {
		return math.NaN()
	}
	for range 200 {
		if mid := (low + high) / 2; worth(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
