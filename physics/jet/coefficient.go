package jet

import (
	"fmt"
	"math"
	"strings"

	"leste/quantity"
)

// Lip is the shape of the edge an outlet discharges from. The zero value is not a lip.
type Lip string

// The lips with a published or common discharge coefficient.
const (
	RoundedNozzle Lip = "rounded nozzle" // well-rounded round nozzle
	SmoothSlot    Lip = "smooth slot"    // short converging slot with smooth lips
	QuarterRound  Lip = "quarter round"  // quarter-round inlet edge
	SquareTube    Lip = "square tube"    // square-cut short tube or slot, reattached
	SharpEdge     Lip = "sharp edge"     // sharp-edged slot or hole
)

// Opening is what a discharge coefficient may depend on. Reynolds is on bore or gap and the exit state.
type Opening struct {
	Width    quantity.Length // bore, or whole slot gap
	Reynolds quantity.Ratio
	Ratio    quantity.Ratio // ambient over plenum pressure
	Gas      Gas
}

type lip struct {
	name   Lip
	likely func(Opening) float64
	spread float64 // of the coefficient, as a share
}

func lips() []lip {
	return []lip{
		{RoundedNozzle, func(o Opening) float64 { return 0.9965 - 6.53/math.Sqrt(float64(o.Reynolds)) }, 0.03},
		{SmoothSlot, func(o Opening) float64 { return smoothSlot(float64(o.Width)) }, 0.05},
		{QuarterRound, func(Opening) float64 { return 0.77 }, 0.04},
		{SquareTube, func(Opening) float64 { return 0.825 }, 0.04},
		{SharpEdge, sharpEdge, 0.03},
	}
}

// DischargeCoefficient on the geometric area, with its band; card discharge-coefficient. An unknown lip is an
// error that lists the known ones.
func DischargeCoefficient(name Lip, o Opening) (quantity.Band, error) {
	var known []string
	for _, l := range lips() {
		if l.name == name {
			c := l.likely(o)
			return quantity.Band{Likely: c, Low: c * (1 - l.spread), High: min(1, c*(1+l.spread))}, nil
		}
		known = append(known, string(l.name))
	}
	return quantity.Band{}, fmt.Errorf("no outlet edge %q; known are: %s", name, strings.Join(known, ", "))
}

// smoothSlot holds between gaps of 0.3 and 3 mm and stays at its ends beyond.
func smoothSlot(gap float64) float64 { return 1 - 0.05e-3/max(0.3e-3, min(3e-3, gap)) }

// sharpContraction is the contraction of a plane jet without compressibility.
const sharpContraction = 0.611

// sharpEdge balances momentum over the plane of the hole: the force missing on the upstream wall is the
// incompressible one times mass flow squared. The mass flow per hole area C G solves
//
//	p0 - pa + f (C G)2/rho0 = C (G u + excess)
func sharpEdge(o Opening) float64 {
	if o.Ratio >= 1 {
		return sharpContraction
	}
	const f = 1/sharpContraction - 1/(2*sharpContraction*sharpContraction)
	const pa, t0 = 1.0, 1.0 // the coefficient depends on neither
	p0 := pa / float64(o.Ratio)
	d := o.Gas.Isentropic(quantity.Absolute(p0), t0, pa)
	flux := float64(d.MassFlux)
	a := f * flux * flux / float64(o.Gas.Density(quantity.Absolute(p0), t0))
	b := float64(d.ThrustFlux(1))
	return 2 * (p0 - pa) / (b + math.Sqrt(b*b-4*a*(p0-pa)))
}
