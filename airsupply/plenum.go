package airsupply

import (
	"math"

	"leste/physics/relation"
	q "leste/quantity"
)

// plenum is a chamber with an outlet along it, fed at one end of each of its parts. Continuous openings are
// marched by Runge-Kutta steps; a row of few nozzles is marched nozzle by nozzle.
type plenum struct {
	area, bore float64 // m2, m: cross-section
	length     float64 // m, of one part
	opening    float64 // m2, Cd A of one part
	rough      float64 // m
	parts      float64 // 1, or 2 alike: fed in the centre or from both ends by one branch
	nozzles    int     // of one part; 0 is a slot
	regain     float64 // share of the through flow's velocity head regained; 1 in the network
	worse      float64 // factor on the friction
}

const plenumSteps = 8

// profile is what the march from the dead end finds.
type profile struct {
	flow     float64   // kg/s, at the feed of one part
	feed     float64   // stagnation pressure at the feed, Pa
	static   float64   // static pressure at the feed, Pa
	fastest  float64   // greatest and least static pressure along the outlet, Pa
	slowest  float64   //
	stations []station // when kept
}

type station struct {
	x, pressure, through float64 // share of the length from the feed, static pressure, through mass flux
}

// march integrates from the dead end at static pressure pl to the feed.
func (c *plenum) march(g gas, pl, t0, pa, mu float64, keep bool) profile {
	if c.nozzles > 0 {
		return c.hop(g, pl, t0, pa, mu, keep)
	}
	out := profile{fastest: pl, slowest: pl}
	n := plenumSteps
	h := c.length / float64(n)
	width := c.opening / c.length
	// Along the plenum the stagnation pressure changes by little, so that a series tells how much farther the air cools
	// that leaves than at the dead end.
	cooling := math.Pow(pl/pa, 1/g.ratio)
	rates := func(p, m float64) (head, dm float64) {
		x, _ := g.mach2(m/c.area, p, t0)
		return g.k / 2 * x * p, width * g.outflowCooling(cooling*onePlus((p-pl)/pl, 1/g.ratio)/(1+g.half*x), t0, pa)
	}
	// unregained is what the through flow's momentum fails to turn into pressure where it slows, as a loss of
	// stagnation pressure per length: (1-r) V dG.
	unregained := func(p, m, dm float64) float64 {
		if c.regain == 1 {
			return 0
		}
		x, _ := g.mach2(m/c.area, p, t0)
		return (1 - c.regain) * math.Sqrt(x*g.k*g.r*t0/(1+g.half*x)) * dm / c.area
	}
	p, m, factor := pl, 0.0, 0.0
	note := func(i int, ps float64) {
		out.fastest, out.slowest = max(out.fastest, ps), min(out.slowest, ps)
		if keep {
			out.stations = append(out.stations, station{1 - float64(i)/float64(n), ps, m / c.area})
		}
	}
	for i := range n {
		x, _ := g.mach2(m/c.area, p, t0)
		note(i, g.static(p, x))
		h1, k1m := rates(p, m)
		// The friction factor of a step is taken at its middle.
		factor = frictionFrom((m+h/2*k1m)*c.bore/(c.area*mu), c.rough/c.bore, factor)
		f := factor * c.worse / c.bore
		k1p := f*h1 + unregained(p, m, k1m)
		h2, k2m := rates(p+h/2*k1p, m+h/2*k1m)
		k2p := f*h2 + unregained(p+h/2*k1p, m+h/2*k1m, k2m)
		h3, k3m := rates(p+h/2*k2p, m+h/2*k2m)
		k3p := f*h3 + unregained(p+h/2*k2p, m+h/2*k2m, k3m)
		h4, k4m := rates(p+h*k3p, m+h*k3m)
		k4p := f*h4 + unregained(p+h*k3p, m+h*k3m, k4m)
		p += h / 6 * (k1p + 2*k2p + 2*k3p + k4p)
		m += h / 6 * (k1m + 2*k2m + 2*k3m + k4m)
	}
	x, _ := g.mach2(m/c.area, p, t0)
	out.flow, out.feed, out.static = m, p, g.static(p, x)
	note(n, out.static)
	return out
}

// hop marches nozzle by nozzle: each sees the static pressure just past its own junction; half a spacing lies
// between the last one and the feed.
func (c *plenum) hop(g gas, pl, t0, pa, mu float64, keep bool) profile {
	out := profile{fastest: pl, slowest: pl}
	each := c.opening / float64(c.nozzles)
	spacing := c.length / float64(c.nozzles)
	p, m := pl, 0.0
	for i := range c.nozzles {
		x, _ := g.mach2(m/c.area, p, t0)
		ps := g.static(p, x)
		out.fastest, out.slowest = max(out.fastest, ps), min(out.slowest, ps)
		if keep {
			out.stations = append(out.stations, station{1 - (float64(i)+0.5)/float64(c.nozzles), ps, m / c.area})
		}
		jet := each * g.outflow(ps, t0, pa)
		if c.regain != 1 {
			v := math.Sqrt(x * g.k * g.r * t0 / (1 + g.half*x))
			p += (1 - c.regain) * v * jet / c.area
		}
		m += jet
		run := spacing
		if i == c.nozzles-1 {
			run /= 2
		}
		f, _ := friction(m*c.bore/(c.area*mu), c.rough/c.bore)
		x, _ = g.mach2(m/c.area, p, t0)
		p += c.worse * f * run / c.bore * g.k / 2 * x * p
	}
	x, _ := g.mach2(m/c.area, p, t0)
	out.flow, out.feed, out.static = m, p, g.static(p, x)
	return out
}

// loss returns the stagnation pressure over ambient at the feed that drives a flow, its slope, and the static
// pressure at the dead end. end is a first guess of that pressure, 0 for none. Flows that are not positive
// take the opening alone.
func (c *plenum) loss(g gas, flow, t0, pa, mu, end float64) (over, slope, dead float64) {
	over, slope = g.drive(flow/(c.opening*c.parts), t0, pa)
	slope /= c.opening * c.parts
	if flow <= 0 {
		return over, slope, pa + over
	}
	want := flow / c.parts
	pl := end
	if !(pl > pa) {
		pl = pa + over
	}
	var lastFlow, lastEnd float64
	for i := range 40 {
		m := c.march(g, pl, t0, pa, mu, false)
		over = m.feed - pa
		// Both pressures over ambient scale nearly alike, so the slope at the feed follows from the dead end's.
		_, steep := g.drive(m.flow/c.opening, t0, pa)
		steep /= c.opening
		slope = steep * over / (pl - pa)
		miss := want - m.flow
		rise := steep // of the dead end's pressure with the flow; two marches tell it better than the opening alone
		if i > 0 && m.flow != lastFlow {
			rise = (pl - lastEnd) / (m.flow - lastFlow)
		}
		if !(rise > 0) {
			rise = steep
		}
		lastFlow, lastEnd = m.flow, pl
		pl = max(pl+miss*rise, pa+(pl-pa)/2)
		// Of a miss this small the slopes take off all but its square.
		if math.Abs(miss) <= 1e-6*want {
			over += miss * slope
			break
		}
	}
	return over, slope / c.parts, pl
}

// PlenumGroups are the two numbers that decide how evenly an outlet blows.
type PlenumGroups struct {
	Opening  q.Ratio // Cd times the area of the opening over the cross-section of the plenum, of one fed part
	Friction q.Ratio // friction factor times length over bore, of one fed part
}

// Distribution is how the air leaves along an outlet, in the limit of small pressures.
type Distribution struct {
	AtFeed        q.Ratio // jet velocity at the feed end over the one that the whole feed pressure would drive
	AtEnd         q.Ratio // the same at the dead end
	Mean          q.Ratio
	NonUniformity q.Ratio // (greatest - least)/greatest
	Inclination   q.Angle // of the jet at the feed end from the normal of the opening, without vanes
}

// Distribute returns the distribution along an end-fed outlet of a plenum whose through flow keeps its total
// pressure but for friction (regain 1), or regains another share of its velocity head.
//
//	dv/dx: A dV = -Cd t v dx, dp = -r rho V dV - (f/2D) rho V^2 dx
//
// Range: Opening below 0.8, outside it the note says no claim is made; regain 0.6 to 1.1 published. Source:
// the balances above, marched from the dead end; Wang 2001 and Bajura & Jones 1976 for the regain.
func Distribute(p PlenumGroups, regain q.Ratio) (Distribution, []relation.Note) {
	m, f, r := float64(p.Opening), float64(p.Friction), float64(regain)
	if !(m > 0) || !(f >= 0) || !(r >= 0) || math.IsInf(m+f+r, 0) {
		nan := q.Ratio(math.NaN())
		return Distribution{nan, nan, nan, nan, q.Angle(math.NaN())}, []relation.Note{{
			Severity: relation.Stop, Relation: "plenum",
			Text:  "Give a positive opening ratio and a friction group and regain of at least zero.",
			Value: m, Limit: 0, Unit: "1",
		}}
	}
	notes := append(cards().Check("plenum", "m", m), cards().Check("plenum", "r", r)...)
	return distribute(m, f, r), notes
}

const mostOpening = 0.8

// distribute marches v (jet over its value at the dead end) and u = V/v(dead end), rho constant, with
// p = v^2 in units of the dead end's pressure.
func distribute(m, f, r float64) Distribution {
	const n = 400
	h := 1.0 / n
	p, u := 1.0, 0.0
	rates := func(p, u float64) (dp, du float64) {
		v := math.Sqrt(max(p, 0))
		du = m * v
		return -2*r*u*du + f*u*u, du
	}
	low, high := 1.0, 1.0
	for range n {
		a1, b1 := rates(p, u)
		a2, b2 := rates(p+h/2*a1, u+h/2*b1)
		a3, b3 := rates(p+h/2*a2, u+h/2*b2)
		a4, b4 := rates(p+h*a3, u+h*b3)
		p += h / 6 * (a1 + 2*a2 + 2*a3 + a4)
		u += h / 6 * (b1 + 2*b2 + 2*b3 + b4)
		v := math.Sqrt(max(p, 0))
		low, high = min(low, v), max(high, v)
	}
	head := math.Sqrt(p + u*u) // velocity that the feed's total pressure would drive
	first := math.Sqrt(max(p, 0))
	return Distribution{
		AtFeed: q.Ratio(first / head), AtEnd: q.Ratio(1 / head), Mean: q.Ratio(u / m / head),
		NonUniformity: q.Ratio((high - low) / high), Inclination: q.Angle(math.Atan2(u, first)),
	}
}
