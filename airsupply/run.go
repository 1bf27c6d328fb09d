package airsupply

import (
	"context"
	"maps"
	"math"
	"slices"

	"leste/airsupply/flownet"
	"leste/physics/air"
	q "leste/quantity"
)

// run is one solve of a system in a case: what its laws look up, and the terms that lag behind the flows.
type run struct {
	system  *system
	gas     gas
	ambient air.Moist // behind the blowers, before they warm it
	drawn   []drawn   // by each blower
	pa      float64
	room    float64 // K, around the ducts

	load     float64   // of the filters
	filters  float64   // factor on their drop
	ducts    float64   // factor on every loss coefficient after the blowers
	plenums  float64   // factor on the friction in plenums
	openings float64   // factor on the outlets' openings
	curve    float64   // factor on the blowers' pressure
	speed    []float64 // of each blower

	t0, mu    []float64 // of each link, at its start
	lagged    []float64 // Pa, of each link
	dead      []float64 // Pa, static pressure at the dead end of each outlet link, kept as the next guess
	deadAt    []float64 // kg/s, the flow of that
	asked     plenumAsked
	told      plenumTold // to the last question about a plenum
	choked    []bool
	chokes    []int // iterations in which a link was choked
	terms     []terms
	leastFlux float64 // kg/(m2 s) of an outlet below which slopes are held
	nodeT     []float64
	order     []int
}

func (s *system) newRun(c Case) (*run, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	n := len(s.links)
	r := &run{
		system: s, gas: gasOf(c.Inlet), ambient: c.Inlet, pa: float64(c.Inlet.P), room: float64(c.Room),
		load: float64(c.Load), curve: orOne(c.Curve), ducts: 1, filters: 1, plenums: 1, openings: 1,
		t0: make([]float64, n), mu: make([]float64, n), lagged: make([]float64, n), dead: make([]float64, n), deadAt: make([]float64, n),
		choked: make([]bool, n), chokes: make([]int, n), nodeT: make([]float64, len(s.names)),
	}
	if r.room == 0 {
		r.room = float64(c.Inlet.T)
	}
	switch factor := orOne(c.System); c.Scope {
	case DuctsOnly:
		r.ducts, r.filters = factor, factor
	case OutletsOnly:
		r.openings = 1 / math.Sqrt(factor)
	default:
		r.ducts, r.plenums, r.openings = factor, factor, 1/math.Sqrt(factor)
	}
	for i := range s.network.Blowers {
		b := &s.network.Blowers[i]
		if b.Source != nil {
			if p := float64(b.Source.Pressure); !(p > 0 && p < 2e6) || !(b.Source.Temperature > 200 && b.Source.Temperature < 450) {
				return nil, refuse("source "+b.Name, "its pressure must be positive and its temperature that of air")
			}
			r.speed = append(r.speed, 1)
			continue
		}
		speed, given := c.Speed[b.Name]
		if !given {
			speed = b.Speed
		}
		if err := b.checkSpeed(float64(speed)); err != nil {
			return nil, err
		}
		r.speed = append(r.speed, float64(speed))
	}
	r.draw(c)
	for _, j := range s.junctions {
		r.terms = append(r.terms, terms{make([]float64, len(j.legs)), make([]float64, len(j.legs))})
	}
	return r, nil
}

// drawn is the air one blower draws, with its gas.
type drawn struct {
	air air.Moist
	gas gas
}

// draw sets the air of each blower, and that behind them: where they draw from different places, of the mean humidity
// by the flows of the middles of their curves.
func (r *run) draw(c Case) {
	r.drawn = make([]drawn, len(r.speed))
	var water, mass float64
	for i := range r.drawn {
		in, ok := c.Own[r.system.network.Blowers[i].Name]
		if !ok {
			in = c.Inlet
		}
		r.drawn[i] = drawn{in, gasOf(in)}
		if len(c.Own) > 0 && r.system.network.Blowers[i].Source == nil {
			flow, _ := r.middle(i)
			water += flow * float64(in.W) / (1 + float64(in.W))
			mass += flow
		}
	}
	if mass > 0 {
		r.ambient.W = q.Ratio(water / (mass - water))
		r.gas = gasOf(r.ambient)
	}
}

// slowest is the least speed ratio the similarity of a machine at two speeds is trusted for.
const slowest = 0.5

func (b *Blower) checkSpeed(speed float64) error {
	most := orOne(b.MaxSpeed)
	switch {
	case !(speed >= slowest):
		return refuse(called(b.Name), "its speed of %.3g of rated lies below %.2g, where its curve says nothing", speed, slowest)
	case speed > most*(1+1e-9):
		return refuse(called(b.Name), "its speed of %.3g of rated exceeds the greatest allowed, %.3g", speed, most)
	}
	return nil
}

func (c Case) check() error {
	t, p, w := c.Inlet.T, c.Inlet.P, c.Inlet.W
	switch {
	case !(t.C() >= -40 && t.C() <= 60):
		return refuse("inlet air", "its temperature of %.4g degC lies outside -40 to 60 degC", t.C())
	case !(p >= 60e3 && p <= 110e3):
		return refuse("inlet air", "its pressure of %.4g kPa lies outside 60 to 110 kPa", float64(p)/1e3)
	case !(w >= 0 && w < 0.06):
		return refuse("inlet air", "its humidity ratio must lie from 0 to 60 g/kg")
	case !(c.Load >= 0 && c.Load <= 1):
		return refuse("filter load", "it lies between 0 (clean) and 1 (at change-out)")
	}
	for _, name := range slices.Sorted(maps.Keys(c.Own)) {
		in := c.Own[name]
		if err := (Case{Inlet: in}).check(); err != nil {
			return refuse(called(name), "%v", err)
		}
		if in.P != p {
			return refuse(called(name), "its inlet air must have the pressure of the place")
		}
	}
	for _, f := range []struct {
		name  string
		value float64
	}{{"factor on the system", orOne(c.System)}, {"factor on the curve", orOne(c.Curve)}} {
		if !(f.value >= 0.1 && f.value <= 10) {
			return refuse(f.name, "it must lie between 0.1 and 10, not %g", f.value)
		}
	}
	return nil
}

// solve iterates from a first guess, or from the state of a similar case when warm is given.
func (r *run) solve(ctx context.Context, warm *flownet.Result) flownet.Result {
	flow, head := r.start(ctx, warm)
	most := r.pa
	for _, b := range r.system.network.Blowers {
		if b.Source != nil {
			most = max(most, 1.5*float64(b.Source.Pressure))
		}
	}
	return r.system.net.Solve(ctx, r, flow, head, nil, flownet.Options{
		HeadTolerance: 0.01, FlowTolerance: 1e-9, MaxIterations: 100,
		HeadLow: -0.5 * r.pa, HeadHigh: most, FlowGrowth: 5,
	})
}

// start returns flows and heads to begin with: each blower at the middle of its curve, split over the
// openings; and sets the temperatures.
func (r *run) start(ctx context.Context, warm *flownet.Result) (flow, head []float64) {
	t1 := float64(r.ambient.T)
	mu := viscosity(t1 + 20)
	for i := range r.t0 {
		r.t0[i], r.mu[i] = t1+20, mu
	}
	for i := range r.speed {
		t1 := float64(r.drawn[i].air.T)
		for _, l := range []int{r.system.inlets[i], r.system.blowers[i]} {
			if l >= 0 {
				r.t0[l], r.mu[l] = t1, viscosity(t1)
			}
		}
	}
	g := newGuess(r)
	r.leastFlux = 1e-3 * g.flow / g.opening
	if warm != nil && len(warm.Flow) == len(r.t0) {
		return warm.Flow, warm.Head
	}
	n := len(r.system.links)
	result := r.system.net.Solve(ctx, g, make([]float64, n), make([]float64, len(r.system.names)), nil,
		flownet.Options{MaxIterations: 2})
	return result.Flow, result.Head
}

// guess is a linear stand-in for the network: its one solution is the first guess.
type guess struct {
	run                     *run
	flow, opening, pressure float64 // of all blowers, of all outlets, of the middle of the curves
}

func newGuess(r *run) *guess {
	g := &guess{run: r}
	var pressure float64
	for i := range r.speed {
		q, dp := r.middle(i)
		g.flow += q
		pressure += dp
	}
	for _, l := range r.system.links {
		g.opening += l.law.conductance()
	}
	g.pressure = pressure / float64(len(r.speed))
	return g
}

// middle returns mass flow [kg/s] and pressure rise [Pa] of the middle of a blower's curve at its speed.
func (r *run) middle(i int) (flow, pressure float64) {
	if source := r.system.network.Blowers[i].Source; source != nil {
		var opening float64
		for _, l := range r.system.links {
			opening += l.law.conductance()
		}
		dp := float64(source.Pressure)
		return opening * r.gas.outflow(r.pa+dp, float64(source.Temperature), r.pa), dp
	}
	m, n := r.system.network.Blowers[i].Machine, r.speed[i]
	rated := (m.minFlow + m.maxFlow) / 2
	w, _ := m.work.at(rated)
	in := &r.drawn[i]
	ratio, _ := in.gas.rise(w*n*n, float64(in.air.T))
	return rated * n * float64(in.air.Density()), r.pa * (ratio - 1)
}

func (*guess) Lag(_, _ []float64) float64 { return 0 }

func (g *guess) Loss(i int, flow, _, _ float64) (loss, slope float64) {
	l := g.run.system.links[i].law
	switch b := l.(type) {
	case *blowerLaw:
		q, dp := g.run.middle(b.number)
		slope = 0.3 * dp / q
		return -dp + slope*(flow-q), slope
	case *sourceLaw:
		_, dp := g.run.middle(b.number)
		return -dp, 0.01 * dp / g.flow
	}
	slope = 0.01 * g.pressure / g.flow
	if c := l.conductance(); c > 0 {
		slope = g.pressure / g.flow * g.opening / c
	} else if b, ok := l.(*branchLaw); ok {
		for _, p := range b.way { // a narrow duct of a ring must not take what the main carries
			slope = max(slope, 0.05*g.pressure/g.flow*g.opening/p.area)
		}
	}
	return slope * flow, slope
}

// mark keeps whether a link came near choking in this iteration, and how often it did.
func (r *run) mark(i int, choked bool) {
	r.choked[i] = choked
	if choked {
		r.chokes[i]++
	}
}

// Loss implements flownet.Laws.
func (r *run) Loss(i int, flow, from, to float64) (loss, slope float64) {
	return r.system.links[i].law.loss(r, i, flow, from, to)
}

// Lag implements flownet.Laws: temperatures to 1e-3 K and lagged losses to 0.01 Pa.
func (r *run) Lag(flow, head []float64) float64 {
	const kelvin, pascal = 1e-3, 0.01
	change := r.temperatures(flow, head) / kelvin
	for n := range r.system.junctions {
		change = max(change, r.system.junctions[n].settle(r, r.terms[n], flow, head)/pascal)
	}
	for n := range r.system.cells {
		change = max(change, r.system.cells[n].heads(r, flow, head)/pascal)
	}
	return change
}

// shaft returns the shaft power [W] of a blower at a mass flow.
func (r *run) shaft(i int, flow, head float64) float64 {
	m, n := r.system.network.Blowers[i].Machine, r.speed[i]
	rho := (r.pa + head) / (r.drawn[i].gas.r * r.t0[r.system.blowers[i]])
	// Beyond the curve the power of its end holds; only iterations come there.
	rated := min(max(flow/(rho*n), m.power.x[0]), m.power.x[len(m.power.x)-1])
	p, _ := m.power.at(rated)
	return p * n * n * n * rho / m.rho
}

// temperatures sweeps the stagnation temperature along the flow: work of the blowers, mixing by enthalpy,
// heat lost through the walls. It returns the greatest change [K].
func (r *run) temperatures(flow, head []float64) float64 {
	s := r.system
	var change float64
	for i := range r.speed {
		inlet, blower := s.inlets[i], s.blowers[i]
		if source := s.network.Blowers[i].Source; source != nil {
			r.nodeT[s.links[blower].to] = float64(source.Temperature)
			continue
		}
		t1 := r.inletTemperature(i)
		change = max(change, r.setTemperature(inlet, t1), r.setTemperature(blower, t1))
		r.nodeT[s.links[blower].from] = t1
		q := max(flow[blower], 1e-2*r.leastFlux)
		out := s.links[blower].to
		r.nodeT[out] = t1 + r.shaft(i, q, head[s.links[blower].from])/(q*r.drawn[i].gas.cp)
	}
	if len(r.speed) == 1 && s.network.HeatTransfer == 0 {
		t := r.nodeT[s.links[s.blowers[0]].to]
		for i := range s.links {
			if i != s.inlets[0] && (i != s.blowers[0] || s.inlets[0] < 0) {
				change = max(change, r.setTemperature(i, t))
			}
		}
		return change
	}
	return max(change, r.sweep(flow, head))
}

func (r *run) setTemperature(link int, t float64) float64 {
	change := math.Abs(t - r.t0[link])
	if change > 0 {
		r.t0[link], r.mu[link] = t, viscosity(t)
	}
	return change
}

// inletTemperature is the room's, warmed by the share of the station's own air that is drawn back.
func (r *run) inletTemperature(i int) float64 {
	back := float64(r.system.network.Blowers[i].Inlet.Recirculation)
	t := float64(r.drawn[i].air.T)
	if back == 0 {
		return t
	}
	warm := r.nodeT[r.system.links[r.system.blowers[i]].to]
	return t + back*max(warm-t, 0)
}

// sweep carries temperatures from the blowers downstream, from high heads to low ones.
func (r *run) sweep(flow, head []float64) float64 {
	s := r.system
	if r.order == nil {
		r.order = make([]int, len(s.names))
		for v := range r.order {
			r.order[v] = v
		}
	}
	slices.SortStableFunc(r.order, func(a, b int) int {
		switch {
		case head[a] > head[b]:
			return -1
		case head[a] < head[b]:
			return 1
		}
		return a - b
	})
	var change float64
	for _, v := range r.order {
		if v == ambientNode {
			continue
		}
		r.mix(v, flow)
		for _, i := range s.touching[v] {
			if (flow[i] >= 0) == (s.links[i].from == v) {
				change = max(change, r.setTemperature(i, r.nodeT[v]))
			}
		}
	}
	return change
}

// mix sets the temperature of a place to that of the flows arriving there; a blower's outlet has its own.
func (r *run) mix(v int, flow []float64) {
	var heat, mass float64
	for _, i := range r.system.touching[v] {
		l := r.system.links[i]
		switch l.law.(type) {
		case *blowerLaw, *sourceLaw:
			if l.to == v {
				return
			}
		}
		if (flow[i] >= 0) == (l.to == v) {
			q := math.Abs(flow[i]) + 1e-9*r.leastFlux
			heat += q * r.arriving(i, q, flow[i] < 0)
			mass += q
		}
	}
	if mass > 0 {
		r.nodeT[v] = heat / mass
	}
}

// arriving is the temperature at the end of a link, cooled through its walls; flowsBack runs through its pieces from
// the last to the first.
func (r *run) arriving(i int, flow float64, flowsBack bool) float64 {
	u := float64(r.system.network.HeatTransfer)
	b, ok := r.system.links[i].law.(*branchLaw)
	if u == 0 || !ok {
		return r.t0[i]
	}
	t := r.t0[i]
	for k := range b.way {
		p := &b.way[k]
		if flowsBack {
			p = &b.way[len(b.way)-1-k]
		}
		around := r.around(p)
		t = around + (t-around)*math.Exp(-u*p.surface/(flow*r.gas.cp))
	}
	return t
}

// around is the temperature of the air around a piece.
func (r *run) around(p *piece) float64 {
	if p.around > 0 {
		return p.around
	}
	return r.room
}
