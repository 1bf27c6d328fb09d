package airsupply

import (
	"math"

	"leste/physics/relation"
	q "leste/quantity"
)

// An Operation is where blowers and system agree in one case.
type Operation struct {
	Case       string
	Flow       q.MassFlow // through all outlets
	Outlets    []OutletState
	Blowers    []BlowerState
	Branches   []BranchState
	Ways       []Way // one for each blower
	Leak       q.MassFlow
	Grid       q.Power                 // of all blowers
	Thrust     q.Force                 // of all outlets
	Humidity   q.Ratio                 // humidity ratio of the air, kg per kg dry
	Cooling    q.TemperatureDifference // how far bare ducts would cool the air, at 7 W/(m2 K); see HeatTransfer
	HeatLost   q.Power                 // of the ducts at the network's own heat transfer, or at 7 W/(m2 K) when it is 0
	Notes      []relation.Note
	Iterations int
	Residual   q.PressureDrop
	Stopped    string
}

// OutletState is the air at one outlet.
type OutletState struct {
	Name       string
	Blocked    bool
	Feed       q.Gauge // stagnation pressure at the feed of the plenum
	DeadEnd    q.Gauge // static pressure at the dead end: what a gauge reads there
	Velocity   q.Speed // mean, weighted by the opening
	Slowest    q.Speed
	Fastest    q.Speed
	Flow       q.MassFlow
	Thrust     q.Force
	Stagnation q.Temperature // of the air that leaves; the jet regains it as it slows
	Static     q.Temperature
	Density    q.Density // in the exit plane
	// NonUniformity is (fastest - slowest)/fastest; its band follows from a regain of 0.8 to 1.2.
	NonUniformity q.Band
	Inclination   q.Angle // of the jet at the feed from the normal of the opening, without vanes
	FeedSpeed     q.Speed // through the plenum at the feed
}

// BlowerState is one blower at work.
type BlowerState struct {
	Name        string
	Speed       q.Ratio
	Inlet       q.VolumeFlow // at the stagnation state before the blower
	Suction     q.Gauge      // stagnation pressure before the blower, negative
	Filter      q.PressureDrop
	Rise        q.PressureDrop
	Work        q.SpecificEnergy
	Efficiency  q.Ratio // isentropic
	Flow        q.MassFlow
	Drive       DriveState
	InletAir    q.Temperature
	Discharge   q.Temperature
	MinimumFlow q.VolumeFlow // at this speed
	MaximumFlow q.VolumeFlow
	Reserve     q.Ratio // inlet flow over the least flow, less 1
	MotorRated  q.Power
}

// BranchState is one branch at work.
type BranchState struct {
	Name     string
	Flow     q.MassFlow
	Start    q.Gauge // stagnation
	End      q.Gauge
	Loss     q.PressureDrop // of the branch with the tee or wye at its ends
	Junction q.PressureDrop // the tee's or wye's part of it
	Share    q.Ratio        // of the rise of the blower that feeds it
	Speed    q.Speed        // greatest in the branch
	Air      q.Temperature  // stagnation, where the flow enters
	Mach     q.Ratio
	Idle     bool // leads nowhere: no flow
	Pieces   []PieceState
}

// PieceState is one duct, hose or fitting at work.
type PieceState struct {
	Name     string
	Loss     q.PressureDrop
	Speed    q.Speed
	Reynolds q.Ratio
	Friction q.Ratio // 0 without a length
}

// read turns the solution into an Operation.
func (r *run) read(c Case, flow, head []float64) (Operation, error) {
	op := Operation{Case: c.Name, Humidity: r.ambient.W}
	for i := range r.system.network.Blowers {
		b, err := r.readBlower(i, flow, head)
		if err != nil {
			return Operation{}, err
		}
		op.Blowers = append(op.Blowers, b)
		op.Grid += b.Drive.Grid
	}
	for i := range r.system.network.Outlets {
		o := r.readOutlet(i, flow, head)
		op.Outlets = append(op.Outlets, o)
		op.Flow += o.Flow
		op.Thrust += o.Thrust
	}
	for i := range r.system.branches {
		op.Branches = append(op.Branches, r.readBranch(i, op.Blowers, flow, head))
	}
	op.Ways = r.ways(op.Blowers, flow, head)
	for _, i := range r.system.leaks {
		op.Leak += q.MassFlow(flow[i])
	}
	op.Cooling, op.HeatLost = r.cooling(flow)
	return op, nil
}

func (r *run) readBlower(i int, flow, head []float64) (BlowerState, error) {
	s := r.system
	b := &s.network.Blowers[i]
	link := s.links[s.blowers[i]]
	mass := flow[s.blowers[i]]
	if b.Source != nil {
		return BlowerState{
			Name: b.Name, Speed: 1, Rise: q.PressureDrop(b.Source.Pressure), Flow: q.MassFlow(mass), Discharge: b.Source.Temperature,
		}, nil
	}
	p1, t1 := r.pa+head[link.from], r.t0[s.blowers[i]]
	n := r.speed[i]
	drawn := &r.drawn[i]
	inlet := mass * drawn.gas.r * t1 / p1
	drop, _ := b.Inlet.Filter.drop(mass, drawn.air, r.load)
	w, _ := b.Machine.work.at(inlet / n)
	w *= n * n
	shaft := r.shaft(i, mass, head[link.from])
	chain, err := b.Drive.Run(q.Power(shaft))
	if err != nil {
		return BlowerState{}, refuse("motor of "+called(b.Name), "%v", err)
	}
	return BlowerState{
		Name: b.Name, Speed: q.Ratio(n), Inlet: q.VolumeFlow(inlet), Suction: q.Gauge(head[link.from]),
		Filter: q.PressureDrop(drop * r.filters), Rise: q.PressureDrop(head[link.to] - head[link.from]),
		Work: q.SpecificEnergy(w), Efficiency: q.Ratio(mass * w / shaft), Flow: q.MassFlow(mass), Drive: chain,
		InletAir: q.Temperature(t1), Discharge: q.Temperature(t1 + shaft/(mass*drawn.gas.cp)),
		MinimumFlow: q.VolumeFlow(b.Machine.minFlow * n), MaximumFlow: q.VolumeFlow(b.Machine.maxFlow * n),
		Reserve: q.Ratio(inlet/(b.Machine.minFlow*n) - 1), MotorRated: b.Drive.Motor.Rated,
	}, nil
}

// branchName is what a branch is called: one without a name by its ends.
func (r *run) branchName(i int) string {
	b := &r.system.network.Branches[i]
	if b.Name == "" {
		return b.From + " to " + b.To
	}
	return b.Name
}

func (r *run) readBranch(i int, blowers []BlowerState, flow, head []float64) BranchState {
	name := r.branchName(i)
	at := r.system.branches[i]
	if at < 0 {
		return BranchState{Name: name, Idle: true}
	}
	l := r.system.links[at]
	loss := head[l.from] - head[l.to]
	rise := math.NaN()
	if from := r.system.feeder[l.from]; from >= 0 {
		rise = float64(blowers[from].Rise)
	}
	b := BranchState{
		Name: name, Flow: q.MassFlow(flow[at]), Start: q.Gauge(head[l.from]), End: q.Gauge(head[l.to]),
		Loss: q.PressureDrop(loss), Junction: q.PressureDrop(r.lagged[at]), Share: q.Ratio(loss / rise), Air: q.Temperature(r.t0[at]),
	}
	p0 := r.pa + max(head[l.from], head[l.to])
	size := math.Abs(flow[at])
	pieces := l.law.(*branchLaw).way
	for k := range pieces {
		p := &pieces[k]
		if flow[at] < 0 {
			p = &pieces[len(pieces)-1-k]
		}
		x, _ := r.gas.mach2(size/p.area, p0, r.t0[at])
		v := math.Sqrt(x * r.gas.k * r.gas.r * r.t0[at] / (1 + r.gas.half*x))
		drop, _, _ := p.drop(r.gas, r.ducts, size, p0, r.t0[at], r.mu[at])
		state := PieceState{
			Name: p.name, Loss: q.PressureDrop(drop), Speed: q.Speed(v),
			Reynolds: q.Ratio(size * p.diameter / (p.area * r.mu[at])),
		}
		if p.length > 0 {
			along, _ := (&piece{area: p.area, diameter: p.diameter, length: p.diameter, rough: p.rough, friction: p.friction, factor: p.factor}).coefficient(size, r.mu[at])
			state.Friction = q.Ratio(along)
		}
		b.Pieces = append(b.Pieces, state)
		b.Speed, b.Mach = max(b.Speed, q.Speed(v)), max(b.Mach, q.Ratio(math.Sqrt(x)))
		p0 -= drop
	}
	return b
}

func (r *run) readOutlet(i int, flow, head []float64) OutletState {
	o := &r.system.network.Outlets[i]
	state := OutletState{Name: o.Name}
	links := r.system.outlets[i]
	if len(links) == 0 {
		state.Blocked = true
		return state
	}
	t0 := r.t0[links[0]]
	state.Stagnation, state.DeadEnd = q.Temperature(t0), r.deadEnd(i, flow, head)
	var places []opening
	for _, l := range links {
		state.Flow += q.MassFlow(flow[l])
		state.Feed = max(state.Feed, q.Gauge(head[r.system.links[l].from]))
	}
	switch l := r.system.links[links[0]].law.(type) {
	case *plenumLaw:
		p := r.adjusted(l.plenum)
		m := p.march(r.gas, r.dead[links[0]], t0, r.pa, r.mu[links[0]], true)
		places = p.openings(m)
		state.FeedSpeed = q.Speed(r.speedOf(m.flow/p.area, m.feed, t0))
		state.NonUniformity = r.evenness(p, r.dead[links[0]], t0, r.mu[links[0]])
	default:
		places = r.mouths(i, flow, head)
		if len(places) > 1 {
			e := spread(r, places, t0)
			state.NonUniformity = q.Band{Likely: e, Low: e, High: e}
			c := r.cellsOf(i)
			area := r.system.links[c.runs[0]].law.(*branchLaw).way[0].area
			state.FeedSpeed = q.Speed(r.speedOf(math.Abs(flow[c.runs[0]])/area, r.pa+float64(state.Feed), t0))
		}
	}
	r.fillJets(&state, o, places, t0)
	return state
}

// deadEnd is the static pressure at the dead end of an outlet that is not blocked.
func (r *run) deadEnd(i int, flow, head []float64) q.Gauge {
	first := r.system.outlets[i][0]
	if _, ok := r.system.links[first].law.(*plenumLaw); ok {
		return q.Gauge(r.dead[first] - r.pa)
	}
	most := math.Inf(-1)
	for _, p := range r.mouths(i, flow, head) {
		most = max(most, p.pressure)
	}
	return q.Gauge(most - r.pa)
}

// opening is a part of an outlet: its share of the outlet's opening and the static pressure behind it.
type opening struct{ share, pressure float64 }

// openings are the parts of a plenum's outlet, Simpson's weights along a slot, one for each nozzle of a row.
func (c *plenum) openings(m profile) []opening {
	out := make([]opening, len(m.stations))
	for i, s := range m.stations {
		w := 1 / float64(len(m.stations))
		if c.nozzles == 0 {
			n := len(m.stations) - 1
			w = 2 / float64(3*n)
			switch {
			case i == 0 || i == n:
				w = 1 / float64(3*n)
			case i%2 == 1:
				w = 4 / float64(3*n)
			}
		}
		out[i] = opening{w, s.pressure}
	}
	return out
}

// mouths are the parts of an outlet without an end-fed plenum: one, or one for each cell.
func (r *run) mouths(i int, flow, head []float64) []opening {
	links := r.system.outlets[i]
	out := make([]opening, len(links))
	for n, l := range links {
		out[n] = opening{1 / float64(len(links)), r.pa + head[r.system.links[l].from] - r.lagged[l]}
	}
	return out
}

func (r *run) cellsOf(outlet int) *cells {
	for i := range r.system.cells {
		if r.system.cells[i].outlet == outlet {
			return &r.system.cells[i]
		}
	}
	panic("airsupply: outlet has no cells")
}

func (r *run) speedOf(flux, p0, t0 float64) float64 {
	x, _ := r.gas.mach2(flux, p0, t0)
	return math.Sqrt(x * r.gas.k * r.gas.r * t0 / (1 + r.gas.half*x))
}

// fillJets computes velocity, thrust and inclination from the pressures along the opening.
func (r *run) fillJets(state *OutletState, o *Outlet, places []opening, t0 float64) {
	g := r.gas.jet()
	cv := o.Cv
	if cv == 0 {
		cv = 1
	}
	first := true
	for _, p := range places {
		d := g.Isentropic(q.Absolute(p.pressure), q.Temperature(t0), q.Absolute(r.pa))
		state.Velocity += q.Speed(p.share) * d.Velocity
		state.Thrust += q.Force(p.share) * d.Thrust(o.Cd*q.Ratio(r.openings), cv, o.Area)
		state.Static += q.Temperature(p.share) * d.Temperature
		state.Density += q.Density(p.share) * d.Density
		if first || d.Velocity < state.Slowest {
			state.Slowest = d.Velocity
		}
		if first || d.Velocity > state.Fastest {
			state.Fastest = d.Velocity
		}
		first = false
	}
	if state.FeedSpeed > 0 && len(places) > 0 {
		atFeed := g.Isentropic(q.Absolute(places[len(places)-1].pressure), q.Temperature(t0), q.Absolute(r.pa))
		state.Inclination = q.Angle(math.Atan2(float64(state.FeedSpeed), float64(atFeed.Velocity)))
	}
}

// evenness returns (fastest - slowest)/fastest of an outlet with the same dead end for regains of 1, 0.8 and 1.2.
func (r *run) evenness(p plenum, dead, t0, mu float64) q.Band {
	value := func(regain float64) float64 {
		p.regain = regain
		m := p.march(r.gas, dead, t0, r.pa, mu, false)
		return spread(r, []opening{{0, m.fastest}, {0, m.slowest}}, t0)
	}
	low, likely, high := value(0.8), value(1), value(1.2)
	return q.Band{Likely: likely, Low: min(low, likely, high), High: max(low, likely, high)}
}

func spread(r *run, places []opening, t0 float64) float64 {
	g := r.gas.jet()
	least, most := math.Inf(1), 0.0
	for _, p := range places {
		v := float64(g.Isentropic(q.Absolute(p.pressure), q.Temperature(t0), q.Absolute(r.pa)).Velocity)
		least, most = min(least, v), max(most, v)
	}
	if most == 0 {
		return 0
	}
	return (most - least) / most
}

// bareDuct is the heat transfer of a bare metal duct in still air, W/(m2 K); common practice, no source.
const bareDuct = 7.0

// cooling estimates what the ducts lose to the room, all branches together.
func (r *run) cooling(flow []float64) (q.TemperatureDifference, q.Power) {
	u := float64(r.system.network.HeatTransfer)
	if u == 0 {
		u = bareDuct
	}
	var heat, mass float64
	for _, i := range r.system.branches {
		if i < 0 {
			continue
		}
		for _, p := range r.system.links[i].law.(*branchLaw).way {
			heat += u * p.surface * (r.t0[i] - r.around(&p))
		}
	}
	for i := range r.speed {
		mass += flow[r.system.blowers[i]]
	}
	return q.TemperatureDifference(heat / (mass * r.gas.cp)), q.Power(heat)
}
