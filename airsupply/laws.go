package airsupply

import "math"

// Laws of the kinds of link. Heads are Pa over ambient; losses count along positive flow.

// leastSlope [Pa s/kg] keeps the matrix regular where a link has next to no loss or no flow.
const leastSlope = 1.0

// branchLaw is a run of ducts, hoses and fittings, with the lagged term of a tee or wye at its ends.
type branchLaw struct{ way }

func (*branchLaw) conductance() float64 { return 0 }

func (b *branchLaw) loss(r *run, i int, flow, from, to float64) (float64, float64) {
	loss, slope, choked := b.drop(r.gas, r.ducts, flow, r.pa+from, r.pa+to, r.t0[i], r.mu[i])
	r.mark(i, choked)
	return loss + r.lagged[i], max(slope, leastSlope)
}

// inletLaw is the filter and the way to the blower.
type inletLaw struct {
	blower int
	filter Filter
	way    way
}

func (*inletLaw) conductance() float64 { return 0 }

func (w *inletLaw) loss(r *run, i int, flow, _, _ float64) (float64, float64) {
	drop, slope := w.filter.drop(flow, r.drawn[w.blower].air, r.load)
	drop, slope = drop*r.filters, slope*r.filters
	behind := max(r.pa-math.Abs(drop), r.pa/2)
	way, more, choked := w.way.drop(r.drawn[w.blower].gas, 1, flow, behind, behind, r.t0[i], r.mu[i])
	r.mark(i, choked)
	return drop + way, max(slope+more, leastSlope)
}

// blowerLaw is a machine: a negative loss.
type blowerLaw struct{ number int }

func (*blowerLaw) conductance() float64 { return 0 }

func (b *blowerLaw) loss(r *run, i int, flow, from, _ float64) (float64, float64) {
	m := r.system.network.Blowers[b.number].Machine
	n := r.speed[b.number]
	p1, t1 := r.pa+from, r.t0[i]
	g := &r.drawn[b.number].gas
	perMass := g.r * t1 / (p1 * n) // rated flow per mass flow
	w, dw := m.drop(flow * perMass)
	ratio, dr := g.rise(w*n*n, t1)
	return -r.curve * p1 * (ratio - 1), -r.curve * p1 * dr * n * n * dw * perMass
}

// sourceLaw holds a pressure.
type sourceLaw struct{ number int }

func (*sourceLaw) conductance() float64 { return 0 }

func (b *sourceLaw) loss(r *run, _ int, _, _, _ float64) (float64, float64) {
	return -float64(r.system.network.Blowers[b.number].Source.Pressure), leastSlope
}

// flapLaw lets the air pass forward only: backward it is as good as closed, and still has a slope.
type flapLaw struct{ way }

func (*flapLaw) conductance() float64 { return 0 }

func (f *flapLaw) loss(r *run, i int, flow, from, to float64) (float64, float64) {
	if flow < 0 {
		const shut = 1e8 // Pa s/kg: 20 kPa pass 0.2 g/s
		return shut * flow, shut
	}
	loss, slope, choked := f.drop(r.gas, r.ducts, flow, r.pa+from, r.pa+to, r.t0[i], r.mu[i])
	r.mark(i, choked)
	return loss, max(slope, leastSlope)
}

// mouthLaw is an opening to the room without a plenum, or a short length of one that is fed from both ends:
// there the lagged term is the velocity head of the flow passing, which the opening does not see.
type mouthLaw struct {
	opening float64 // m2, Cd A
	leak    bool    // leaks do not close when the outlets' resistance is varied
}

func (m *mouthLaw) conductance() float64 { return m.opening }

func (m *mouthLaw) loss(r *run, i int, flow, _, _ float64) (float64, float64) {
	open := m.opening
	if !m.leak {
		open *= r.openings
	}
	over, slope := r.drive(flow, open, i)
	return over + r.lagged[i], slope
}

// drive is the pressure that drives a flow out of an opening; the slope is held where the flow is next to none.
func (r *run) drive(flow, open float64, i int) (over, slope float64) {
	over, slope = r.gas.drive(flow/open, r.t0[i], r.pa)
	if math.Abs(flow)/open < r.leastFlux {
		_, slope = r.gas.drive(r.leastFlux, r.t0[i], r.pa)
	}
	return over, slope / open
}

// plenumLaw is an outlet with its plenum and the loss of entering it.
type plenumLaw struct {
	plenum plenum
	entry  way
}

func (c *plenumLaw) conductance() float64 { return c.plenum.opening * c.plenum.parts }

func (c *plenumLaw) loss(r *run, i int, flow, from, to float64) (float64, float64) {
	p := r.adjusted(c.plenum)
	open := p.opening * p.parts
	if flow < r.leastFlux*open {
		over, slope := r.drive(flow, open, i)
		r.dead[i], r.deadAt[i] = r.pa+over, 0
		return over, slope
	}
	end := r.dead[i]
	if r.deadAt[i] > 0 { // the pressure goes nearly as the flow squared
		change := flow / r.deadAt[i]
		end = r.pa + (end-r.pa)*change*change
	}
	asked := plenumAsked{p, flow, r.t0[i], r.mu[i], end}
	if asked != r.asked { // a station often has two alike, on both sides of the line
		r.asked = asked
		r.told.over, r.told.slope, r.told.dead = p.loss(r.gas, flow, r.t0[i], r.pa, r.mu[i], end)
	}
	over, slope := r.told.over, r.told.slope
	r.dead[i], r.deadAt[i] = r.told.dead, flow
	entry, more, choked := c.entry.drop(r.gas, r.ducts, flow, r.pa+from, r.pa+to, r.t0[i], r.mu[i])
	r.mark(i, choked)
	return over + entry, slope + more
}

// plenumAsked is what the loss of a plenum follows from within one run, plenumTold what it is.
type (
	plenumAsked struct {
		plenum            plenum
		flow, t0, mu, end float64
	}
	plenumTold struct{ over, slope, dead float64 }
)

// adjusted is a plenum under the case's factors.
func (r *run) adjusted(p plenum) plenum {
	p.opening *= r.openings
	p.worse = r.plenums
	return p
}
