package air

import (
	"math"

	"leste/quantity"
)

// Film is what a heat transfer correlation needs of the air.
type Film struct {
	Kinematic    quantity.KinematicViscosity
	Conductivity quantity.ThermalConductivity
	Prandtl      quantity.Ratio
}

// Film returns the properties of the air at its own temperature; give the film temperature, not the jet's.
func (m Moist) Film() Film {
	return Film{Kinematic: m.KinematicViscosity(), Conductivity: m.Conductivity(), Prandtl: m.Prandtl()}
}

// Reynolds is speed times length over kinematic viscosity.
func (f Film) Reynolds(u quantity.Speed, l quantity.Length) quantity.Ratio {
	return quantity.Ratio(float64(u) * float64(l) / float64(f.Kinematic))
}

// coefficient turns a Nusselt number on length l into a heat transfer coefficient.
func (f Film) coefficient(nusselt float64, l quantity.Length) quantity.HeatTransfer {
	return quantity.HeatTransfer(nusselt * float64(f.Conductivity) / float64(l))
}

// SingleNozzle is one round jet on a disc: bore, distance from mouth to wall, radius averaged over.
type SingleNozzle struct{ Bore, Distance, Radius quantity.Length }

// Nusselt on the bore, averaged over the disc; card heat-single-nozzle.
func (s SingleNozzle) Nusselt(reynolds, prandtl quantity.Ratio) quantity.Ratio {
	half := float64(s.Bore/s.Radius) / 2 // square root of the relative nozzle area
	g := 2 * half * (1 - 2.2*half) / (1 + 0.2*(float64(s.Distance/s.Bore)-6)*half)
	re := float64(reynolds)
	f := 2 * math.Sqrt(re) * math.Sqrt(1+0.005*math.Pow(re, 0.55))
	return quantity.Ratio(g * f * math.Pow(float64(prandtl), 0.42))
}

// Heat is the heat transfer coefficient averaged over the disc; u is the exit speed.
func (s SingleNozzle) Heat(u quantity.Speed, f Film) quantity.HeatTransfer {
	return f.coefficient(float64(s.Nusselt(f.Reynolds(u, s.Bore), f.Prandtl)), s.Bore)
}

// SingleSlot is one slot jet on a wall: full gap, distance, half-length averaged over, from the impingement
// line outwards.
type SingleSlot struct{ Gap, Distance, Reach quantity.Length }

// Nusselt on twice the gap, with the Reynolds number on twice the gap; card heat-single-slot.
func (s SingleSlot) Nusselt(reynolds, prandtl quantity.Ratio) quantity.Ratio {
	x, h := float64(s.Reach/s.Gap), float64(s.Distance/s.Gap)
	m := 0.695 - 1/(x/2+math.Pow(h/2, 1.33)+3.06)
	return quantity.Ratio(3.06 / (x + h + 2.78) * math.Pow(float64(reynolds), m) *
		math.Pow(float64(prandtl), 0.42))
}

// Heat is the heat transfer coefficient averaged over the reach; u is the exit speed.
func (s SingleSlot) Heat(u quantity.Speed, f Film) quantity.HeatTransfer {
	l := 2 * s.Gap
	return f.coefficient(float64(s.Nusselt(f.Reynolds(u, l), f.Prandtl)), l)
}

// NozzleField is a square field of round nozzles.
type NozzleField struct{ Bore, Distance, Spacing quantity.Length }

// Nusselt on the bore, averaged over the field; card heat-nozzle-field.
func (n NozzleField) Nusselt(reynolds, prandtl quantity.Ratio) quantity.Ratio {
	root := math.Sqrt(math.Pi) / 2 * float64(n.Bore/n.Spacing)
	h := float64(n.Distance / n.Bore)
	k := math.Pow(1+math.Pow(h*root/0.6, 6), -0.05)
	g := 2 * root * (1 - 2.2*root) / (1 + 0.2*(h-6)*root)
	return quantity.Ratio(k * g * 0.5 * math.Pow(float64(reynolds), 2.0/3) * math.Pow(float64(prandtl), 0.42))
}

// Heat is the heat transfer coefficient averaged over the field; u is the exit speed.
func (n NozzleField) Heat(u quantity.Speed, f Film) quantity.HeatTransfer {
	return f.coefficient(float64(n.Nusselt(f.Reynolds(u, n.Bore), f.Prandtl)), n.Bore)
}

// SlotField is a set of parallel slots.
type SlotField struct{ Gap, Distance, Spacing quantity.Length }

// Nusselt on twice the gap, averaged over the spacing; card heat-slot-field.
func (s SlotField) Nusselt(reynolds, prandtl quantity.Ratio) quantity.Ratio {
	area := float64(s.Gap / s.Spacing)
	a0 := 1 / math.Sqrt(60+4*math.Pow(float64(s.Distance/s.Gap)/2-2, 2))
	return quantity.Ratio(2.0 / 3 * math.Pow(a0, 0.75) *
		math.Pow(2*float64(reynolds)/(area/a0+a0/area), 2.0/3) * math.Pow(float64(prandtl), 0.42))
}

// Heat is the heat transfer coefficient averaged over the spacing; u is the exit speed.
func (s SlotField) Heat(u quantity.Speed, f Film) quantity.HeatTransfer {
	l := 2 * s.Gap
	return f.coefficient(float64(s.Nusselt(f.Reynolds(u, l), f.Prandtl)), l)
}

// SlotLine is the impingement line of a single slot.
type SlotLine struct{ Gap, Distance quantity.Length }

// Nusselt on the gap, on the impingement line; card heat-slot-line.
func (s SlotLine) Nusselt(reynolds quantity.Ratio) quantity.Ratio {
	return quantity.Ratio(1.2 * math.Pow(float64(reynolds), 0.58) * math.Pow(float64(s.Distance/s.Gap), -0.62))
}

// Heat is the heat transfer coefficient on the line; u is the exit speed.
func (s SlotLine) Heat(u quantity.Speed, f Film) quantity.HeatTransfer {
	return f.coefficient(float64(s.Nusselt(f.Reynolds(u, s.Gap))), s.Gap)
}

// CylinderNusselt is that of a cylinder across a stream, on its diameter with film properties; card
// heat-cylinder.
func CylinderNusselt(reynolds, prandtl quantity.Ratio) quantity.Ratio {
	re, pr := float64(reynolds), float64(prandtl)
	return quantity.Ratio(0.3 + 0.62*math.Sqrt(re)*math.Cbrt(pr)/math.Pow(1+math.Pow(0.4/pr, 2.0/3), 0.25)*
		math.Pow(1+math.Pow(re/282000, 0.625), 0.8))
}

// CylinderHeat is the mean heat transfer coefficient around a cylinder across a stream.
func CylinderHeat(d quantity.Length, u quantity.Speed, f Film) quantity.HeatTransfer {
	return f.coefficient(float64(CylinderNusselt(f.Reynolds(u, d), f.Prandtl)), d)
}
