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
	around   float64 // K of the air around it; 0 is the room's
}

// round returns a piece of bore d without length or loss.
func round(name string, d float64) piece {
	return piece{name: name, area: math.Pi / 4 * d * d, diameter: d, factor: 1}
}

const (
	greatestShare = 0.05 // share of the total pressure one step may lose: then the midpoint step errs by less than 0.005 %
	mostSteps     = 80
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
	first, _ := g.velocityHead(flux, p0, t0)
	steps := int(min(max(math.Ceil(k*first/(greatestShare*p0)), 1), mostSteps))
	end, fast, choked := g.march(k, flux, p0, t0, steps)
	if fast > finerFrom*finerFrom && steps < mostSteps {
		end, _, choked = g.march(k, flux, p0, t0, mostSteps)
	}
	return p0 - end, choked
}

// finerFrom is the Mach number beyond which a loss is marched in small steps: it steepens towards choking.
const finerFrom = 0.45

// march returns the stagnation pressure after a loss coefficient in equal steps, the greatest squared Mach
// number met and whether it passed the limit.
func (g gas) march(k, flux, p0, t0 float64, steps int) (end, fast float64, choked bool) {
	each := k / float64(steps)
	end = p0
	for range steps {
		head, _ := g.velocityHead(flux, end, t0)
		drop := each * head
		var x float64
		for range 12 {
			head, x = g.velocityHead(flux, max(end-drop/2, end/2), t0)
			next := each * head
			done := math.Abs(next-drop) <= 1e-10*math.Abs(next)
			drop = next
			if done {
				break
			}
		}
		fast = max(fast, x)
		end = max(end-drop, 0.01*p0)
	}
	return end, fast, fast > machLimit*machLimit
}

// velocityHead returns (k/2) M^2 p0 and M^2 of a mass flux. Beyond the limit M^2 grows on as the squared flux
// function does at the limit, so that an iteration can come back.
func (g gas) velocityHead(flux, p0, t0 float64) (head, x float64) {
	const limit = machLimit * machLimit
	x, ok := g.mach2(flux, p0, t0)
	if !ok || x > limit {
		c := flux * flux * g.r * t0 / (g.k * p0 * p0)
		x = limit * c / (limit * math.Pow(1+g.half*limit, -g.flux))
	}
	return g.k / 2 * x * p0, x
}

// limitFlux is the mass flux that reaches the limiting Mach number at the end of a loss coefficient, from the
// exact relation for flow with friction: L*(M1) - L*(limit) = K.
func (g gas) limitFlux(k, p0, t0 float64) float64 {
	rest := func(x float64) float64 { // K from a squared Mach number to 1
		return (1-x)/(g.k*x) + (g.k+1)/(2*g.k)*math.Log((g.k+1)*x/(2+(g.k-1)*x))
	}
	end := rest(machLimit * machLimit)
	low, high := 1e-8, machLimit*machLimit
	for range 40 {
		if mid := (low + high) / 2; rest(mid)-end > k {
			low = mid
		} else {
			high = mid
		}
	}
	return p0 * math.Sqrt(g.k/(g.r*t0)*low) * math.Pow(1+g.half*low, -g.flux/2)
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

// drop returns the loss of one piece at a flow > 0 that enters it at p0, t0. A flow that would choke gets the
// straight continuation of the loss just before, so that an iteration finds its way back.
func (p *piece) drop(g gas, worse, flow, p0, t0, mu float64) (loss, slope float64, choked bool) {
	at := func(flow float64) (loss, slope float64, choked bool) {
		k, dk := p.coefficient(flow, mu)
		loss, choked = g.pieceLoss(k*worse, p.area, flow, p0, t0)
		return loss, loss * (2 + dk) / flow, choked
	}
	if loss, slope, choked = at(flow); !choked {
		return loss, slope, false
	}
	k, _ := p.coefficient(flow, mu)
	low := min(g.limitFlux(k*worse, p0, t0)*p.area, flow)
	loss, slope, _ = at(low)
	before, _, _ := at(low * 0.999)
	slope = max(slope, (loss-before)/(low*0.001))
	return loss + slope*(flow-low), slope, true
}
