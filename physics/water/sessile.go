package water

import (
	"math"

	"leste/physics/air"
	"leste/quantity"
)

// SessileRate is the mass a resting drop loses to still air, with the water at temperature surface; negative
// when it grows. Card sessile-drop. enhancement is the factor by which moving air speeds it up, 1 in
// still air.
func SessileRate(d quantity.Length, contact quantity.Angle, a air.Moist, surface quantity.Temperature, enhancement quantity.Ratio) quantity.MassFlow {
	t := float64(contact)
	return quantity.MassFlow(math.Pi * float64(d) / 2 * vapourStep(a, surface) * (0.27*t*t + 1.30) * float64(enhancement))
}

// vapourStep is diffusivity times the difference of vapour densities between the water and the room, kg/(m s).
// The vapour crosses all the air between the drop and the room, so the diffusivity is that of their mean
// temperature, as in card evaporation-flux.
func vapourStep(a air.Moist, surface quantity.Temperature) float64 {
	rv := float64(air.VapourGasConstant)
	at := float64(air.SaturationPressure(surface)) / (rv * float64(surface))
	room := float64(a.VapourPressure()) / (rv * float64(a.T))
	return float64(air.VapourDiffusivity(a.P, (a.T+surface)/2)) * (at - room)
}

// SessileLifetime is the time in which a drop dries up in still air, its edge pinned and its angle falling,
// or its angle kept and its edge receding, which takes longer; card sessile-drop. Both are +Inf when the
// drop does not dry.
func SessileLifetime(d quantity.Length, contact quantity.Angle, l Liquid, a air.Moist, surface quantity.Temperature) (pinned, receding quantity.Duration) {
	step := vapourStep(a, surface)
	if step <= 0 {
		return quantity.Duration(math.Inf(1)), quantity.Duration(math.Inf(1))
	}
	x, t := float64(d), float64(contact)
	rho := float64(l.Density)
	start := math.Pi * x / 2 * step * (0.27*t*t + 1.30)
	receding = quantity.Duration(1.5 * rho * CapVolumeFactor(contact) * cube(x) / start)
	// The edge stays and the angle falls: add up the volume lost in each small turn over the rate there.
	const steps = 400
	sum := 0.0
	for i := range steps {
		lo, hi := t*float64(i)/steps, t*float64(i+1)/steps
		mid := (lo + hi) / 2
		sum += (CapVolumeFactor(quantity.Angle(hi)) - CapVolumeFactor(quantity.Angle(lo))) / (0.27*mid*mid + 1.30)
	}
	pinned = quantity.Duration(rho * cube(x) * sum / (math.Pi * x / 2 * step))
	return pinned, receding
}
