package drying

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"leste/physics/water"
	q "leste/quantity"
)

// perCell is the number of drop populations the quick method keeps on a cell: those that arrive, and two
// kinds of small ones from each of the last sweeps.
const perCell = 6

// settled is a time after which every film that can break has broken [s].
const settled = 1.0

// Quick follows the water by closed forms: every cell meets the sweeps of every pass in their order, each
// leaves a film, a trail and small drops and moves the rest on; what is moved comes to rest on lines, leaves
// over edges or runs down; crevices and pools empty by their own laws. It answers in milliseconds and shares
// every relation about water with the transport method.
//
// An error says what of the problem is wrong; a cancelled context ends it with the context's error.
func Quick(ctx context.Context, p *Problem) (Outcome, error) { return quickOn(ctx, p, 1) }

// quickOn is Quick on several cores; the answer does not depend on how many.
func quickOn(ctx context.Context, p *Problem, workers int) (Outcome, error) {
	r, err := quickly(ctx, p, workers)
	if err != nil {
		return Outcome{}, err
	}
	out := r.outcome()
	spreads := p.Spreads
	if spreads == nil {
		s, err := r.spreads(ctx, workers)
		if err != nil {
			return Outcome{}, err
		}
		spreads = &s
	}
	spreads.Widen(p, &out)
	out.Spreads = spreads
	if out.Balance.Closure > balanceTolerance {
		return Outcome{}, fmt.Errorf("the water balance is off by %.2g of the water that came in; no number is given", out.Balance.Closure)
	}
	return out, nil
}

// quickly takes the container of a problem through every pass by closed forms.
func quickly(ctx context.Context, p *Problem, workers int) (*run, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	seen, err := look(ctx, p)
	if err != nil {
		return nil, err
	}
	r := newRun(p, seen)
	r.workers = workers
	return r, r.all(ctx)
}

// balanceTolerance is the share of the incoming water that may go unaccounted for: rounding only.
const balanceTolerance = 1e-9

// Check says what of a problem cannot be calculated, nil when everything can.
func (p *Problem) Check() error {
	var wrong []error
	say := func(bad bool, text string, v ...any) {
		if bad {
			wrong = append(wrong, fmt.Errorf(text, v...))
		}
	}
	positive := func(x float64) bool { return x > 0 && !math.IsInf(x, 1) }
	share := func(x float64) bool { return x >= 0 && x <= 1 }
	if p.Body == nil || p.Body.Surface == nil || len(p.Body.Surface.Area) == 0 {
		return errors.New("there is no container surface to follow water on")
	}
	say(len(p.Body.Material) < len(p.Body.Surface.Zones), "%d zones have no material", len(p.Body.Surface.Zones)-len(p.Body.Material))
	for _, m := range p.Body.Materials {
		say(!(m.Receding >= 0 && m.Receding <= m.Advancing && m.Advancing <= math.Pi),
			"%s: a receding angle of %.4g degrees and an advancing one of %.4g cannot be; they rise from 0 to 180", m.Name, m.Receding.Deg(), m.Advancing.Deg())
	}
	l := p.Liquid
	say(!positive(l.Tension) || !positive(l.Viscosity) || !positive(l.Density), "surface tension, viscosity and density of the water must be positive")
	a := p.Arrives
	say(!(a.Film >= 0 && a.Drops >= 0) || math.IsInf(a.Film+a.Drops, 1), "the water that arrives must be 0 or more")
	say(a.Drops > 0 && !positive(a.DropMedian), "the size of the drops that arrive must be positive")
	say(!share(a.TrappedFull) || !share(a.PoolsFull), "crevices and pools arrive between empty (0) and full (1)")
	for i := range p.Passes {
		pass := &p.Passes[i]
		say(!positive(pass.Speed), "%s: the speed of the container must be positive; a stop is given by how long it stands", pass.Station)
		say(!(pass.Before >= 0 && pass.Stand >= 0), "%s: times must be 0 or more", pass.Station)
		say(pass.Air == nil && pass.Seen == nil, "%s: there is no air to pass", pass.Station)
	}
	s := p.Settings
	say(!positive(s.Drag) || !positive(s.HoleSpacing) || !positive(s.DropSpread) || !positive(s.RecedingSpread) ||
		!positive(s.Shear) || !positive(s.Pressure), "drag, hole spacing, spreads and the factors on the air must be positive")
	say(!(s.SlideShare >= 0) || !share(s.SmallDrops) || !share(s.RunDown) || !share(s.Rewetting) || !share(s.MistBack),
		"shares of water lie between 0 and 1")
	for _, m := range p.Machines {
		say(m.After < -1 || m.After >= len(p.Passes), "%s follows a station that does not exist", nameOf(m))
		say(!(m.Travel >= 0), "%s: the time to reach it must be 0 or more", nameOf(m))
	}
	return errors.Join(wrong...)
}

// look returns what every pass does, scanning those that nobody has scanned before.
func look(ctx context.Context, p *Problem) ([]*Seen, error) {
	seen := make([]*Seen, len(p.Passes))
	for i := range p.Passes {
		if seen[i] = p.Passes[i].Seen; seen[i] != nil {
			continue
		}
		s, err := Scan(ctx, p.Body, &p.Passes[i])
		if err != nil {
			return nil, err
		}
		seen[i] = s
	}
	return seen, nil
}

// scanned is a problem whose passes have been looked at, so that several who ask the quick method need not do it again.
func scanned(ctx context.Context, p *Problem, workers int) (*Problem, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	seen := *p
	seen.Passes = slices.Clone(p.Passes)
	for i := range seen.Passes {
		pass := &seen.Passes[i]
		if pass.Seen != nil {
			continue
		}
		var err error
		if pass.Seen, err = ScanWith(ctx, p.Body, pass, ScanOptions{Workers: workers}); err != nil {
			return nil, err
		}
	}
	return &seen, nil
}

// run is one container on its way.
type run struct {
	p       *Problem
	seen    []*Seen
	chain   *chain
	transit *transit
	tally   *tally
	path    []float64 // m per cell: from where a front starts on its zone to the cell
	covered []bool    // by a pool as the container arrives
	workers int       // goroutines that share the cells; the result does not depend on it

	water  *Water
	in     float64
	moved  Moved
	landed [][]landing // by pass
	at     []MachineWater
	ledger []Moved // at each machine
	left   []float64
	after  MachineWater
}

func newRun(p *Problem, seen []*Seen) *run {
	r := &run{
		p: p, seen: seen, chain: newChain(p), transit: newTransit(p), tally: newTally(p),
		landed: make([][]landing, len(p.Passes)),
		at:     make([]MachineWater, len(p.Machines)), ledger: make([]Moved, len(p.Machines)), left: make([]float64, len(p.Machines)),
	}
	r.path = sweptBefore(p)
	r.covered = underPools(p)
	return r
}

// sweptBefore is the distance along travel between the leading end of a cell's zone, where a front meets it
// first, and the cell.
func sweptBefore(p *Problem) []float64 {
	s := p.Body.Surface
	lead := make([]float64, len(s.Zones))
	for i := range lead {
		lead[i] = math.Inf(-1)
	}
	for k, pos := range s.Pos {
		lead[s.Zone[k]] = max(lead[s.Zone[k]], pos.X)
	}
	path := make([]float64, len(s.Pos))
	for k, pos := range s.Pos {
		path[k] = lead[s.Zone[k]] - pos.X
	}
	return path
}

// underPools marks the cells below the water of pools.
func underPools(p *Problem) []bool {
	s := p.Body.Surface
	covered := make([]bool, len(s.Area))
	if p.Arrives.PoolsFull == 0 {
		return covered
	}
	for _, pool := range p.Body.Pools {
		if !pool.FacesUp {
			continue
		}
		for k := pool.Rows[0] * s.Cols; k < pool.Rows[1]*s.Cols; k++ {
			covered[k] = true
		}
	}
	return covered
}

// all takes the container through every pass.
func (r *run) all(ctx context.Context) error {
	cells := allCells(r.p)
	r.water = NewWater(r.p, perCell)
	r.arrive(cells)
	r.in = r.water.Mass(r.p.Body.Surface.Area) + r.moved.Dripped
	r.machines(-1)
	for i := range r.p.Passes {
		if err := ctx.Err(); err != nil {
			return err
		}
		if i > 0 {
			r.moved.Add(r.transit.phase(r.water, r.p.Passes[i].Before))
		}
		if err := r.pass(i, cells); err != nil {
			return err
		}
		r.machines(i)
	}
	for _, c := range cells {
		r.chain.wait(r.water, c.cell, r.wall(c.cell), settled)
	}
	r.after = r.sum(r.water, "")
	return nil
}

func (r *run) wall(cell int) *wall {
	return &r.chain.walls[r.p.Body.Material[r.p.Body.Surface.Zone[cell]]]
}

// arrive wets the cells, crevices and pools. What a draining film has lost by then has dripped.
func (r *run) arrive(cells []weighted) {
	a, b, s := r.p.Arrives, r.p.Body, r.p.Body.Surface
	top := math.Inf(-1)
	for _, pos := range s.Pos {
		top = max(top, pos.Z)
	}
	rho := float64(r.chain.liquid.Density)
	for _, c := range cells {
		k := c.cell
		if r.covered[k] {
			continue
		}
		m := r.wall(k)
		film := m.wets * a.Film
		if film > 0 && a.Since > 0 {
			drained := rho * float64(water.DrainedFilm(r.chain.liquid, q.Length(max(top-s.Pos[k].Z, 0)), q.Duration(a.Since)))
			if level := math.Abs(s.Normal[k].Z); level < 0.9 && drained < film {
				r.moved.Dripped += (film - drained) * s.Area[k] * c.weight
				film = drained
			}
		}
		r.water.Film[k] = film
		r.water.Thick[k] = film / rho
		if m.wets > 0 && m.wets < 1 && film > 0 {
			r.water.Thick[k] = film / rho / m.wets
		}
		if drops := (1 - m.wets) * a.Drops; drops > 0 {
			limit := m.slide(r.chain.liquid, s.Normal[k].Z)
			r.water.Add(k, Drops{Mass: drops, Median: a.DropMedian, Spread: r.chain.set.DropSpread, Limit: limit})
		}
	}
	for i, c := range b.Crevices {
		r.water.Trapped[i] = a.TrappedFull * rho * float64(c.Volume)
	}
	for i, pool := range b.Pools {
		if pool.FacesUp {
			r.water.Pools[i] = a.PoolsFull * rho * float64(pool.Volume)
		}
	}
}

// machines notes the water at the machines that follow a pass.
func (r *run) machines(pass int) {
	for i, m := range r.p.Machines {
		if m.After != pass {
			continue
		}
		w := r.water.Clone()
		for k := range w.Film {
			r.chain.wait(w, k, r.wall(k), m.Travel)
		}
		moved := r.moved
		r.transit.runDown(w)
		moved.Add(r.transit.phase(w, m.Travel))
		r.at[i] = r.sum(w, nameOf(m))
		r.ledger[i], r.left[i] = moved, w.Mass(r.p.Body.Surface.Area)
	}
}

func (r *run) sum(w *Water, machine string) MachineWater {
	mw := MachineWater{Machine: machine, Zones: r.tally.zones(w, allCells(r.p))}
	total := 0.0
	for i := range mw.Zones {
		total += mw.Zones[i].Left.Likely
		mw.Zones[i].Where = r.where(&mw.Zones[i], w)
	}
	mw.Total = exactly(total)
	return mw
}

// outcome puts the results together, with bands of no width.
func (r *run) outcome() Outcome {
	o := Outcome{Method: "quick", At: r.at, After: r.after, Grid: math.NaN()}
	o.Map = make([]float64, len(r.water.Film))
	for k := range o.Map {
		o.Map[k] = r.water.OnWall(k)
	}
	moved, left := r.moved, r.water.Mass(r.p.Body.Surface.Area)
	if last := lastMachine(r.p); last >= 0 {
		moved, left = r.ledger[last], r.left[last]
	}
	o.Balance = Balance{
		In: r.in, Left: left, BlownOff: moved.BlownOff, Mist: moved.Mist,
		Evaporated: moved.Evaporated, Condensed: moved.Condensed, Dripped: moved.Dripped,
	}
	o.Balance.close()
	o.Notes = r.notes()
	return o
}

// close works out how far the balance is from closing.
func (b *Balance) close() {
	rest := b.In + b.Condensed - b.Left - b.BlownOff - b.Mist - b.Evaporated - b.Dripped
	b.Closure = math.Abs(rest)
	if b.In > 0 {
		b.Closure /= b.In
	}
}

// lastMachine is the machine that a container reaches last, -1 when there is none.
func lastMachine(p *Problem) int {
	last := -1
	for i, m := range p.Machines {
		if last < 0 || m.After > p.Machines[last].After || m.After == p.Machines[last].After && m.Travel > p.Machines[last].Travel {
			last = i
		}
	}
	return last
}
