package jet

import (
	"math"

	"leste/physics/air"
	"leste/quantity"
)

// Gas is an ideal gas as the discharge relations see it.
type Gas struct {
	R quantity.SpecificHeat // J/(kg K)
	K quantity.Ratio        // isentropic exponent
}

// DryAir returns the gas of the published tables.
func DryAir() Gas { return Gas{R: 287.05, K: 1.4} }

// GasOf returns the gas of a state of humid air.
func GasOf(m air.Moist) Gas { return Gas{R: m.GasConstant(), K: m.IsentropicExponent()} }

// SpecificHeat at constant pressure.
func (g Gas) SpecificHeat() quantity.SpecificHeat { return g.R * quantity.SpecificHeat(g.K/(g.K-1)) }

// Density of the gas at p and t.
func (g Gas) Density(p quantity.Absolute, t quantity.Temperature) quantity.Density {
	return quantity.Density(float64(p) / (float64(g.R) * float64(t)))
}

// CriticalRatio is the ratio of ambient to plenum pressure at and below which the outlet is choked.
func (g Gas) CriticalRatio() quantity.Ratio {
	k := float64(g.K)
	return quantity.Ratio(math.Pow(2/(k+1), k/(k-1)))
}

// Discharge is the ideal state in the exit plane of an outlet and what it carries per area.
type Discharge struct {
	Choked      bool
	Mach        quantity.Ratio
	Velocity    quantity.Speed
	Temperature quantity.Temperature // static
	Pressure    quantity.Absolute    // static: ambient, or above it when choked
	Density     quantity.Density
	MassFlux    quantity.MassFluxDensity
	Excess      quantity.PressureDrop // static pressure above ambient in the exit plane; 0 unless choked
}

// Isentropic returns the discharge from stagnation state p0, t0 to ambient pressure pa; card discharge. A
// plenum at or below ambient gives no flow. Non-positive pressures or temperature give NaN.
func (g Gas) Isentropic(p0 quantity.Absolute, t0 quantity.Temperature, pa quantity.Absolute) Discharge {
	if !(p0 > 0) || !(pa > 0) || !(t0 > 0) {
		nan := math.NaN()
		return Discharge{
			Mach: quantity.Ratio(nan), Velocity: quantity.Speed(nan), Temperature: quantity.Temperature(nan),
			Pressure: quantity.Absolute(nan), Density: quantity.Density(nan),
			MassFlux: quantity.MassFluxDensity(nan), Excess: quantity.PressureDrop(nan),
		}
	}
	k := float64(g.K)
	r := min(1, float64(pa/p0))
	if r <= float64(g.CriticalRatio()) {
		t := 2 / (k + 1) * float64(t0)
		p := float64(g.CriticalRatio()) * float64(p0)
		return g.exit(1, p, t, true, p-float64(pa))
	}
	ratio := math.Pow(r, -(k-1)/k) // stagnation over static temperature
	mach := math.Sqrt(2 / (k - 1) * (ratio - 1))
	return g.exit(mach, float64(pa), float64(t0)/ratio, false, 0)
}

func (g Gas) exit(mach, p, t float64, choked bool, excess float64) Discharge {
	u := mach * math.Sqrt(float64(g.K)*float64(g.R)*t)
	rho := p / (float64(g.R) * t)
	return Discharge{
		Choked: choked, Mach: quantity.Ratio(mach), Velocity: quantity.Speed(u),
		Temperature: quantity.Temperature(t), Pressure: quantity.Absolute(p), Density: quantity.Density(rho),
		MassFlux: quantity.MassFluxDensity(rho * u), Excess: quantity.PressureDrop(excess),
	}
}

// MassFlow through a geometric area with discharge coefficient cd.
func (d Discharge) MassFlow(cd quantity.Ratio, a quantity.Area) quantity.MassFlow {
	return quantity.MassFlow(float64(cd) * float64(a) * float64(d.MassFlux))
}

// MassFlowPerLength of a slot of the given gap.
func (d Discharge) MassFlowPerLength(cd quantity.Ratio, gap quantity.Length) quantity.MassFlowPerLength {
	return quantity.MassFlowPerLength(float64(cd) * float64(gap) * float64(d.MassFlux))
}

// ThrustFlux is the momentum that leaves per effective area, with velocity coefficient cv, plus the excess
// pressure of a choked exit; card thrust.
func (d Discharge) ThrustFlux(cv quantity.Ratio) quantity.MomentumFlux {
	return quantity.MomentumFlux(float64(cv)*float64(d.MassFlux)*float64(d.Velocity) + float64(d.Excess))
}

// Thrust of an outlet of geometric area a.
func (d Discharge) Thrust(cd, cv quantity.Ratio, a quantity.Area) quantity.Force {
	return quantity.Force(float64(cd) * float64(a) * float64(d.ThrustFlux(cv)))
}

// ThrustPerLength of a slot of the given gap.
func (d Discharge) ThrustPerLength(cd, cv quantity.Ratio, gap quantity.Length) quantity.ThrustPerLength {
	return quantity.ThrustPerLength(float64(cd) * float64(gap) * float64(d.ThrustFlux(cv)))
}

// StagnationFor returns the plenum pressure that drives a mass flux to ambient pa, the inverse of
// Isentropic, choked flow included; card discharge. The sign of the flux is kept: a flux inwards gives a
// pressure below ambient as though the flow were reversed.
func (g Gas) StagnationFor(flux quantity.MassFluxDensity, t0 quantity.Temperature, pa quantity.Absolute) quantity.Absolute {
	k, r := float64(g.K), float64(g.R)
	f := math.Abs(float64(flux))
	if !(pa > 0) || !(t0 > 0) {
		return quantity.Absolute(math.NaN())
	}
	c := f * f * r * float64(t0) / (k * float64(pa) * float64(pa))
	mach2 := (math.Sqrt(1+2*(k-1)*c) - 1) / (k - 1)
	p0 := float64(pa) * math.Pow(1+(k-1)/2*mach2, k/(k-1))
	if mach2 > 1 {
		p0 = f * math.Sqrt(r*float64(t0)/k) * math.Pow((k+1)/2, (k+1)/(2*(k-1)))
	}
	if flux < 0 {
		return 2*pa - quantity.Absolute(p0)
	}
	return quantity.Absolute(p0)
}
