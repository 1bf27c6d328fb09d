package airsupply

import "math"

// A piece is one duct, hose or fitting of a branch: a loss K on the velocity head of an area, a friction
// length, or both.
type piece struct {
	name     string
	area     float64 // m2
	diameter float64 // m, hydraulic
	length   float64 // m
	rough    float64 // m
	friction float64 // given friction factor, 0 when calculated
	factor   float64 // on the friction factor, for hoses worse than their roughness
	k        float64 // loss coefficient
	surface  float64 // m2 of wall, for the heat lost
}

// round returns a piece of bore d without length or loss.
func round(name string, d float64) piece {
	return piece{name: name, area: math.Pi / 4 * d * d, diameter: d, factor: 1}
}

const (
	greatestShare = 0.05 // share of the total pressure one step may lose: then the midpoint step errs by less than 0.005 %
	mostSteps     = 64
	machLimit     = 0.9 // beyond it a loss is continued so that an iteration can come back; the answer is refused
)

// coefficient returns K = f L/D + K of a piece at a mass flow, and d ln K/d ln flow.
func (p *piece) coefficient(flow, mu float64) (k, slope float64) {
	if p.length == 0 {
		return p.k, 0
	}
	f, df := p.friction, 0.0
	if f == 0 {
		re := flow * p.diameter / (p.area * mu)
		f, df = friction(re, p.rough/p.diameter)
		f *= p.factor
	}
	along := f * p.length / p.diameter
	k = along + p.k
	if k == 0 {
		return 0, 0
	}
	return k, along * df / k
}

// pieceLoss returns the loss of stagnation pressure [Pa] of a flow > 0 that enters the piece at p0, t0, and
// whether it came near choking. The loss of a step is K (k/2) M^2 p0 at the step's middle.
func (g gas) pieceLoss(k, area, flow, p0, t0 float64) (loss float64, choked bool) {
	if k == 0 {
		return 0, false
	}
	flux := flow / area
	head := func(p float64) float64 {
		x, ok := g.mach2(flux, p, t0)
		if !ok || x > machLimit*machLimit {
			choked = true
			// Beyond the limit M^2 grows as the squared flux function does at the limit.
			c := flux * flux * g.r * t0 / (g.k * p * p)
			limit := machLimit * machLimit
			x = limit * c / (limit * math.Pow(1+g.half*limit, -g.flux))
		}
		return g.k / 2 * x * p
	}
	first := k * head(p0)
	steps := int(min(max(math.Ceil(math.Abs(first)/(greatestShare*p0)), 1), mostSteps))
	each := k / float64(steps)
	p := p0
	for range steps {
		drop := each * head(p)
		for range 8 {
			next := each * head(max(p-drop/2, p/2))
			done := math.Abs(next-drop) <= 1e-10*math.Abs(next)
			drop = next
			if done {
				break
			}
		}
		p = max(p-drop, 0.01*p0)
	}
	return p0 - p, choked
}

// way is a run of pieces in the order of positive flow.
type way []piece

// drop returns the loss of stagnation pressure [Pa] from the start of a way to its end, its slope, and whether
// any piece came near choking. from and to are the absolute stagnation pressures of its ends; worse
// multiplies every loss coefficient.
func (w way) drop(g gas, worse, flow, from, to, t0, mu float64) (loss, slope float64, choked bool) {
	size := math.Abs(flow)
	if size < 1e-12 {
		return 0, 0, false
	}
	p0 := from
	if flow < 0 {
		p0 = to
	}
	for i := range w {
		p := &w[i]
		if flow < 0 {
			p = &w[len(w)-1-i]
		}
		lost, steep, near := p.drop(g, worse, size, p0, t0, mu)
		p0 = max(p0-lost, 1)
		loss += lost
		slope += steep
		choked = choked || near
	}
	return math.Copysign(loss, flow), slope, choked
}

// drop returns the loss of one piece at a flow > 0 that enters it at p0, t0.
func (p *piece) drop(g gas, worse, flow, p0, t0, mu float64) (loss, slope float64, choked bool) {
	k, dk := p.coefficient(flow, mu)
	loss, choked = g.pieceLoss(k*worse, p.area, flow, p0, t0)
	return loss, loss * (2 + dk) / flow, choked
}
