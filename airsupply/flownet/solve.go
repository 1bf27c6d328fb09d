package flownet

import (
	"context"
	"math"
)

// Laws say what the links of a network do.
type Laws interface {
	// Lag moves terms that depend on the whole solution (temperatures, losses of tees) to the flows and heads
	// given, and returns the greatest change in units of what is tolerated: at most 1 means settled.
	Lag(flow, head []float64) float64
	// Loss returns the loss of a link (head at From less head at To) at a flow, and its slope, which must be
	// positive. Heads are those of the present iteration.
	Loss(link int, flow, from, to float64) (loss, slope float64)
}

// Options of a solve. The zero value of a field takes the value named.
type Options struct {
	HeadTolerance float64 // greatest error of a link's loss, in units of head; 0.01
	FlowTolerance float64 // greatest imbalance of a node over the greatest flow; 1e-9
	MaxIterations int     // 60
	HeadLow       float64 // heads are kept between HeadLow and HeadHigh while iterating;
	HeadHigh      float64 // both 0 leaves them free
	FlowGrowth    float64 // a flow grows at most by this factor, and shrinks at most by its inverse; 0 is free
}

// Why a solve stopped.
const (
	Converged     = "converged"
	TooMany       = "too many iterations"
	Singular      = "no unique solution near the last iteration"
	NotFinite     = "a loss is not a number"
	Interrupted   = "interrupted"
	smallestSlope = 1e-30
)

// A Result is the state a solve ended in.
type Result struct {
	Flow       []float64
	Head       []float64
	Iterations int
	Residual   float64 // greatest |loss - head difference|
	Imbalance  float64 // greatest |inflow - outflow - demand| of a free node
	Worst      int     // link of the greatest residual, or the node or link that stopped it
	Stopped    string
}

// Solve iterates from the flows and heads given (neither need be consistent) to a solution. Demand may be nil;
// positive demand leaves the network. The slices are not changed.
func (n *Net) Solve(ctx context.Context, laws Laws, flow, head, demand []float64, o Options) Result {
	o = o.withDefaults()
	s := &state{
		Net: n, laws: laws, demand: demand, options: o,
		flow: append([]float64(nil), flow...), head: append([]float64(nil), head...),
		loss: make([]float64, len(n.links)), slope: make([]float64, len(n.links)),
		rhs: make([]float64, len(n.node)), balance: make([]float64, len(n.fixed)),
	}
	return s.run(ctx)
}

func (o Options) withDefaults() Options {
	if o.HeadTolerance == 0 {
		o.HeadTolerance = 0.01
	}
	if o.FlowTolerance == 0 {
		o.FlowTolerance = 1e-9
	}
	if o.MaxIterations == 0 {
		o.MaxIterations = 60
	}
	return o
}

type state struct {
	*Net
	laws        Laws
	demand      []float64
	options     Options
	flow, head  []float64
	loss, slope []float64
	rhs         []float64
	balance     []float64
}

func (s *state) run(ctx context.Context) Result {
	before, growing := math.Inf(1), 0
	for iteration := 0; ; iteration++ {
		lag := s.laws.Lag(s.flow, s.head)
		if bad := s.evaluate(); bad >= 0 {
			return s.end(iteration, NotFinite, bad)
		}
		residual, worst := s.residual()
		imbalance, scale := s.imbalance()
		switch {
		case residual < s.options.HeadTolerance && imbalance <= s.options.FlowTolerance*scale && lag <= 1:
			return s.end(iteration, Converged, worst)
		case iteration == s.options.MaxIterations:
			return s.end(iteration, TooMany, worst)
		case ctx.Err() != nil:
			return s.end(iteration, Interrupted, worst)
		}
		step := 1.0
		if residual > before {
			growing++
		} else {
			growing = 0
		}
		if growing >= 2 {
			step = 0.5
		}
		before = residual
		if row := s.step(step); row >= 0 {
			return s.end(iteration, Singular, s.node[row])
		}
	}
}

func (s *state) evaluate() int {
	for i, l := range s.links {
		loss, slope := s.laws.Loss(i, s.flow[i], s.head[l.From], s.head[l.To])
		if math.IsNaN(loss) || math.IsInf(loss, 0) || !(slope > smallestSlope) || math.IsInf(slope, 0) {
			return i
		}
		s.loss[i], s.slope[i] = loss, slope
	}
	return -1
}

func (s *state) residual() (greatest float64, worst int) {
	for i, l := range s.links {
		if r := math.Abs(s.loss[i] - (s.head[l.From] - s.head[l.To])); r > greatest {
			greatest, worst = r, i
		}
	}
	return greatest, worst
}

func (s *state) imbalance() (greatest, scale float64) {
	clear(s.balance)
	copy(s.balance, s.demand)
	for i, l := range s.links {
		s.balance[l.From] += s.flow[i]
		s.balance[l.To] -= s.flow[i]
		scale = max(scale, math.Abs(s.flow[i]))
	}
	for v, b := range s.balance {
		if !s.fixed[v] {
			greatest = max(greatest, math.Abs(b))
		}
	}
	return greatest, scale
}

// step solves the linearised network and moves towards its solution. It returns the row of a pivot that is
// not positive, or -1.
func (s *state) step(size float64) int {
	m := s.matrix
	m.clear()
	for r, v := range s.node {
		s.rhs[r] = 0
		if s.demand != nil {
			s.rhs[r] = -s.demand[v]
		}
	}
	for i, l := range s.links {
		w := 1 / s.slope[i]
		c := s.flow[i] - w*s.loss[i]
		a, b := s.row[l.From], s.row[l.To]
		if a == b {
			continue
		}
		if a >= 0 {
			m.diagonal[a] += w
			s.rhs[a] -= c
			if b < 0 {
				s.rhs[a] += w * s.head[l.To]
			}
		}
		if b >= 0 {
			m.diagonal[b] += w
			s.rhs[b] += c
			if a < 0 {
				s.rhs[b] += w * s.head[l.From]
			}
		}
		if e := s.entry[i]; e >= 0 {
			m.value[e] -= w
		}
	}
	if row := m.decompose(); row >= 0 {
		return row
	}
	m.solve(s.rhs)
	for r, v := range s.node {
		s.head[v] += size * (s.rhs[r] - s.head[v])
	}
	for i, l := range s.links {
		full := s.flow[i] - (s.loss[i]-(s.headAfter(l.From)-s.headAfter(l.To)))/s.slope[i]
		s.flow[i] = s.limited(s.flow[i], s.flow[i]+size*(full-s.flow[i]))
	}
	if s.options.HeadHigh > s.options.HeadLow {
		for _, v := range s.node {
			s.head[v] = min(max(s.head[v], s.options.HeadLow), s.options.HeadHigh)
		}
	}
	return -1
}

// headAfter is the head of the full linear step.
func (s *state) headAfter(v int) float64 {
	if r := s.row[v]; r >= 0 {
		return s.rhs[r]
	}
	return s.head[v]
}

// limited keeps a flow from growing or shrinking too far in one step while its sign holds.
func (s *state) limited(old, full float64) float64 {
	g := s.options.FlowGrowth
	if g == 0 || old*full <= 0 {
		return full
	}
	size := math.Abs(full)
	size = min(max(size, math.Abs(old)/g), math.Abs(old)*g)
	return math.Copysign(size, full)
}

func (s *state) end(iterations int, why string, worst int) Result {
	residual, at := s.residual()
	if why == Converged || why == TooMany {
		worst = at
	}
	imbalance, _ := s.imbalance()
	return Result{
		Flow: s.flow, Head: s.head, Iterations: iterations, Residual: residual, Imbalance: imbalance,
		Worst: worst, Stopped: why,
	}
}
