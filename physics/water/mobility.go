package water

import (
	"math"

	"leste/physics/internal/solve"
	"leste/quantity"
)

// Mobility tells how fast a pushed drop moves over a surface: the inverse of the moving contact line's
// hysteresis, tabulated for inner loops. Build it with NewMobility; it is read-only and safe to share.
type Mobility struct {
	rest  float64 // hysteresis at rest: below it nothing moves
	most  float64 // hysteresis at the last entry
	scale float64 // entries per unit of hysteresis
	table [mobilityEntries + 1]float64
}

const mobilityEntries = 1024

// NewMobility tabulates a surface; card moving-contact-angle. Interpolation is within 0.1 % of the relation
// or within 1e-6 of a capillary number.
func NewMobility(w Wetting) *Mobility {
	last := (cube(math.Pi) - cube(float64(w.Advancing))) / hysteresisSlope // advancing angle at 180 degrees
	last = max(last, cube(float64(w.Receding))/hysteresisSlope)
	m := &Mobility{rest: float64(w.Hysteresis()), most: float64(w.At(quantity.Ratio(last)).Hysteresis())}
	m.scale = mobilityEntries / (m.most - m.rest)
	for i := range m.table {
		target := m.rest + float64(i)/m.scale
		switch i {
		case 0:
			m.table[i] = 0
		case mobilityEntries:
			m.table[i] = last
		default:
			m.table[i] = solve.Root(func(ca float64) float64 {
				return float64(w.At(quantity.Ratio(ca)).Hysteresis()) - target
			}, 0, last, 1e-12)
		}
	}
	return m
}

// CapillarySI is the capillary number (viscosity times speed over tension) of a drop pushed with force
// RetentionFactor tension diameter push: 0 up to the hysteresis at rest. It ends at the speed at which the
// advancing angle reaches 180 degrees; card moving-contact-angle says the relation ends before.
func (m *Mobility) CapillarySI(push float64) float64 {
	if !(push > m.rest) {
		return 0
	}
	x := (push - m.rest) * m.scale
	i := int(min(x, mobilityEntries-1))
	return m.table[i] + min(1, x-float64(i))*(m.table[i+1]-m.table[i])
}

// Speed of a drop of base diameter d under a force along the wall.
func (m *Mobility) Speed(l Liquid, d quantity.Length, push quantity.Force) quantity.Speed {
	ca := m.CapillarySI(float64(push) / (RetentionFactor * float64(l.Tension) * float64(d)))
	return quantity.Speed(ca * float64(l.Tension) / float64(l.Viscosity))
}
