package airsupply

import q "leste/quantity"

// A DrawnPoint is one point of a blower's curve as it is drawn, with what its system asks at the same flow.
type DrawnPoint struct {
	Inlet  q.VolumeFlow // at the stagnation state before the blower
	Rise   q.PressureDrop
	System q.PressureDrop // the square of the flow through the operating point
}

// drawnSteps are the steps of a curve that is drawn.
const drawnSteps = 40

// Curve returns blower i of the nominal case at its speed and in its own inlet air, over the flows it admits; nil for
// one without a curve or without flow.
func (s *Supply) Curve(i int) []DrawnPoint {
	m, b := s.Plan.Network.Blowers[i].Machine, &s.Nominal.Blowers[i]
	if m == nil || !(b.Inlet > 0) {
		return nil
	}
	nominal := s.Plan.Site.Nominal()
	inlet := nominal.Inlet
	if own, ok := nominal.Own[b.Name]; ok {
		inlet = own
	}
	inlet.P += q.Absolute(b.Suction)
	inlet.T = b.InletAir // warmer where it draws some of its own air again
	density := float64(b.Flow) / float64(b.Inlet)
	low, high := float64(b.MinimumFlow), float64(b.MaximumFlow)
	points := make([]DrawnPoint, drawnSteps+1)
	for k := range points {
		flow := low + (high-low)*float64(k)/drawnSteps
		share := flow / float64(b.Inlet)
		points[k] = DrawnPoint{
			Inlet: q.VolumeFlow(flow), Rise: m.At(b.Speed, q.MassFlow(flow*density), inlet).Rise,
			System: q.PressureDrop(float64(b.Rise) * share * share),
		}
	}
	return points
}
