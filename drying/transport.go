package drying

import (
	"context"
	"math"
	"slices"

	"leste/station"
)

// TransportOptions say how Transport runs. The zero value is one worker and no frames.
type TransportOptions struct {
	Frames     int                       // number of frames, spread evenly over the time under the stations
	FrameTimes []float64                 // s of time under the stations at which to keep frames, instead
	Workers    int                       // goroutines; the result is the same, bit for bit, for any number
	Refine     bool                      // also Prove the outcome
	Machines   bool                      // only the water at the machines is asked for: not that after the last station, nor notes
	Progress   func(done, total float64) // s of time under the stations; called from the caller's goroutine
}

// Transport follows the water of one container through its stations on the grid of the wall: film that the
// air drives, drops held and moving, ridges, rims, trapped water and pools. The grid is that of the problem's
// surface. It stops with the context's error, in the middle of a pass if need be.
//
// Water is neither made nor lost: when the balance does not close to 1e-9 of what came in, an error says so
// and no outcome is given. Bands come from the settings by the quick method's closed forms.
func Transport(ctx context.Context, p *Problem, o TransportOptions) (Outcome, error) {
	p, err := scanned(ctx, p, o.Workers)
	if err != nil {
		return Outcome{}, err
	}
	quick, err := quickly(ctx, p, o.Workers)
	if err != nil {
		return Outcome{}, err
	}
	spreads := p.Spreads
	if spreads == nil {
		s, err := quick.spreads(ctx, o.Workers)
		if err != nil {
			return Outcome{}, err
		}
		spreads = &s
	}
	out, err := follow(ctx, p, o)
	if err != nil {
		return Outcome{}, err
	}
	spreads.Widen(p, &out)
	if err := quick.explain(ctx, &out); err != nil {
		return Outcome{}, err
	}
	if o.Refine {
		if err := Prove(ctx, p, &out, o.Workers); err != nil {
			return Outcome{}, err
		}
	}
	return out, nil
}

// follow is Transport without bands.
func follow(ctx context.Context, p *Problem, o TransportOptions) (Outcome, error) {
	all, err := followTogether(ctx, []*Problem{p}, o)
	if err != nil {
		return Outcome{}, err
	}
	return all[0], nil
}

// transport is what Options ask of this method.
func (o Options) transport() TransportOptions {
	t := TransportOptions{Frames: o.Frames, FrameTimes: o.FrameTimes, Workers: o.Workers, Refine: o.Refine}
	if o.Progress != nil {
		t.Progress = func(done, total float64) { o.Progress(done, total, "following the water") }
	}
	return t
}

// transportRun is one call of Transport.
type transportRun struct {
	p     *Problem
	o     TransportOptions
	f     *flow
	team  *team
	cell  float64   // m, length of a cell along the wall
	in    float64   // m3 that came in
	phase Moved     // kg, on the way between the stations
	books []Balance // at each machine
	done  float64   // s under the stations so far
	total float64
	at    []float64 // s, frames still to keep
	width float64   // m, of the narrowest impingement line met
	out   Outcome
}

func newTransportRun(p *Problem, o TransportOptions) *transportRun {
	r := &transportRun{p: p, o: o, f: laid(p, &o), team: newTeam(o.Workers), width: math.Inf(1)}
	r.in = r.f.g.sides() * (r.f.held() + r.f.gone().Dripped)
	r.books = make([]Balance, len(p.Machines))
	r.cell = typicalCell(p.Body.Surface)
	for i := range p.Passes {
		r.total += passTime(&p.Passes[i])
	}
	r.at = slices.Sorted(slices.Values(o.FrameTimes))
	if len(r.at) == 0 {
		for k := range o.Frames {
			r.at = append(r.at, r.total*(float64(k)+0.5)/float64(o.Frames))
		}
	}
	r.out = Outcome{Method: methodTransport, Grid: math.NaN()}
	if n := len(p.Machines); n > 0 {
		r.out.At = make([]MachineWater, n)
	}
	return r
}

// typicalCell is the median length of a row along the profile.
func typicalCell(s *station.Surface) float64 {
	steps := slices.Sorted(slices.Values(s.StepS))
	return steps[len(steps)/2]
}

// passTime is the time a container spends under a station.
func passTime(s *Pass) float64 {
	t := s.Stand
	if s.Speed > 0 && s.To > s.From {
		t += (s.To - s.From) / s.Speed
	}
	return t
}

// all takes the container through every station.
func (r *transportRun) all(ctx context.Context) error {
	if err := r.reach(ctx, -1); err != nil {
		return err
	}
	for i := range r.p.Passes {
		if i > 0 {
			if err := r.travel(ctx, r.p.Passes[i].Before); err != nil {
				return err
			}
		}
		if err := r.pass(ctx, i); err != nil {
			return err
		}
		if err := r.reach(ctx, i); err != nil {
			return err
		}
	}
	if r.o.Machines {
		return nil
	}
	return r.drain(ctx, untilBroken)
}

// untilBroken is the time after the last station in which what film is about to break does so, s: several
// times the break-up time of any wall that does not wet.
const untilBroken = 0.1

// pass takes the container through a station.
func (r *transportRun) pass(ctx context.Context, i int) error {
	s := &r.p.Passes[i]
	air := newAirAhead(r.p, s, r.team, !r.o.Machines)
	start, spread := r.done, r.f.gone()
	r.f.travel, r.f.fast = s.Speed, 0
	if s.Speed > 0 && s.To > s.From {
		stops := s.Stand > 0 && s.StandAt > s.From && s.StandAt < s.To
		until := s.To
		if stops {
			until = s.StandAt
		}
		if err := r.move(ctx, s, air, s.From, until, start); err != nil {
			return err
		}
		if stops {
			if err := r.stand(ctx, s, air, start); err != nil {
				return err
			}
			if err := r.move(ctx, s, air, s.StandAt, s.To, start); err != nil {
				return err
			}
		}
	} else if s.Stand > 0 {
		if err := r.stand(ctx, s, air, start); err != nil {
			return err
		}
	}
	r.f.blow(r.team, nil)
	r.comeBack(spread)
	r.width = min(r.width, air.narrowest())
	return ctx.Err()
}

// The container moves between two looks at the air by a share of the length over which the pressure falls beside an
// impingement line, as far as that is a cell at least and one and a half at most: under nozzles mostly that, as steps that
// differ from station to station scatter what they leave. On a flat wall that a jet passes steps of half as much change the
// film left behind by less than 1 %.
const (
	frontShare                = 1. / 3
	leastCells, mostCellsOnce = 1.0, 1.5
	frontProbes               = 9 // looks at a pass that find that length
)

// frontStep is how far the container moves between two looks [m] on cells of a size, where the pressure falls over a
// length.
func frontStep(fall, cell float64) float64 {
	return max(leastCells*cell, min(frontShare*fall, mostCellsOnce*cell))
}

// edgeCourant is the largest share of a cell by which the edge of a film draws back in one step.
const edgeCourant = 0.4

// move carries the container past a station from position a to b.
func (r *transportRun) move(ctx context.Context, s *Pass, air *airAhead, a, b, start float64) error {
	n := max(1, int(math.Ceil((b-a)/frontStep(air.falls(), r.cell))))
	step := (b - a) / float64(n)
	dt := step / s.Speed
	r.f.cells = step / r.cell
	defer func() { r.f.cells, r.f.draw = 0, 1 }()
	for k := range n {
		if err := ctx.Err(); err != nil {
			return err
		}
		gust := air.gust(k, n, a, step)
		if air.err != nil {
			return air.err
		}
		r.f.feel(r.team, &gust)
		r.f.fast = max(r.f.fast, air.fastest)
		r.f.draw = 1 + int(dt/r.longest(r.f.filmed))
		r.f.advance(r.team, dt)
		r.tick(s, a+step*(float64(k)+1), dt, start)
	}
	return nil
}

// stand keeps the container still under a station.
func (r *transportRun) stand(ctx context.Context, s *Pass, air *airAhead, start float64) error {
	if r.f.travel == 0 {
		r.f.travel = standingFront
	}
	field := air.at(0, 1, s.StandAt, 0)
	if air.err != nil {
		return air.err
	}
	r.f.blow(r.team, field)
	r.f.fast = max(r.f.fast, air.fastest)
	for left := s.Stand; left > 0; {
		if err := ctx.Err(); err != nil {
			return err
		}
		dt := min(left, r.longest(r.f.drawing), blownSteps.at(s.Stand-left))
		r.f.advance(r.team, dt)
		left -= dt
		r.tick(s, s.StandAt, dt, start)
	}
	r.f.travel = s.Speed
	return nil
}

// standingFront is the speed of a front that stands: it leaves no small drops behind, m/s.
const standingFront = 1e-3

// longest is the longest step of edges: no edge of a film in rows that count draws back farther in it than a share of
// a cell.
func (r *transportRun) longest(counts func(row int) bool) float64 {
	fastest := 0.0
	for row, v := range r.f.recedes {
		if counts(row) {
			fastest = max(fastest, v)
		}
	}
	if fastest == 0 {
		return math.Inf(1)
	}
	return edgeCourant * r.cell / fastest
}

// tick counts time under the stations, keeps frames and reports progress.
func (r *transportRun) tick(s *Pass, x, dt, start float64) {
	r.done += dt
	for len(r.at) > 0 && r.done >= r.at[0]-dt*1e-6 {
		r.at = r.at[1:]
		r.out.Frames = append(r.out.Frames, Frame{Station: s.Station, X: x, Time: r.done - start, Water: r.f.perArea(), Press: r.f.pressed()})
	}
	if r.o.Progress != nil {
		r.o.Progress(r.done, r.total)
	}
}

// comeBack lays what comes back of the water that one station blew off evenly on the wall, as drops of the
// size that the fastest air tears off.
func (r *transportRun) comeBack(before Moved) {
	f := r.f
	now := f.gone()
	mist := r.p.Settings.MistBack * (now.Mist - before.Mist)
	// What the neighbours throw here equals what this one throws. Half of it lands before the sweep, which
	// takes it along.
	again := r.p.Settings.Rewetting / 2 * (now.BlownOff - before.BlownOff)
	if mist+again <= 0 {
		return
	}
	size := mistSize(f)
	area := 0.0
	for _, a := range f.p.Body.Surface.Area {
		area += a
	}
	for row := range f.g.rows {
		for c := range f.g.cols {
			i := f.g.at(row, c)
			f.drops.settle(i, (mist+again)/area, size)
		}
	}
	f.rims.lost.Mist -= mist
	f.rims.lost.BlownOff -= again
}

// perArea is the film and drops of every cell [kg/m2].
func (f *flow) perArea() []float64 {
	w := make([]float64, f.g.rows*f.g.cols)
	for r := range f.g.rows {
		for c := range f.g.cols {
			w[r*f.g.cols+c] = f.cellWater(f.g.at(r, c)) * f.p.Liquid.Density
		}
	}
	return w
}

// pressed is the pressure of the present air on every cell [Pa].
func (f *flow) pressed() []float64 {
	p := make([]float64, 0, f.g.rows*f.g.cols)
	for r := range f.g.rows {
		p = append(p, f.drops.p[f.g.at(r, 0):f.g.at(r, f.g.cols)]...)
	}
	return p
}

// travel lets the water drain for a time without air, then lets it evaporate or grow by condensation.
func (r *transportRun) travel(ctx context.Context, seconds float64) error {
	if seconds <= 0 {
		return nil
	}
	if err := r.drain(ctx, seconds); err != nil {
		return err
	}
	w := r.f.water()
	r.phase.Add(newTransit(r.p).phase(w, seconds))
	r.f.take(w)
	return nil
}

// growing are steps for water under air that does not change: what moves settles.
type growing struct {
	first, longest float64 // s
	share          float64 // of the time since the air last changed
}

// at is the step a time [s] after the air last changed.
func (g growing) at(since float64) float64 {
	return max(g.first, min(g.share*since, g.longest))
}

var (
	// drainedSteps end within 0.5 % of drainage in steps of a millisecond.
	drainedSteps = growing{first: 5e-3, longest: 0.3, share: 0.05}
	// blownSteps end within 1.2 % of steps of a millisecond under a jet, which moves more water than weight does: the
	// steps of drainage were up to 10 % off there.
	blownSteps = growing{first: 1e-3, longest: 0.3, share: 0.007}
)

// drain moves the water by its weight alone.
func (r *transportRun) drain(ctx context.Context, seconds float64) error {
	d := r.newDrainage()
	if err := d.until(ctx, seconds); err != nil {
		return err
	}
	d.last(seconds)
	return nil
}

// drainage is water that moves by its weight alone, in steps that do not depend on when somebody looks at it.
type drainage struct {
	r    *transportRun
	time float64 // s since it began
	rest bool    // nothing moves any more
}

func (r *transportRun) newDrainage() *drainage {
	f := r.f
	f.travel = 0
	f.blow(r.team, nil)
	f.drops.step++
	return &drainage{r: r}
}

// step is the length of the next step [s].
func (d *drainage) step() float64 { return min(drainedSteps.at(d.time), d.r.longest(d.r.f.drawing)) }

// until makes all the steps that end before a time [s].
func (d *drainage) until(ctx context.Context, time float64) error {
	for !d.rest {
		if err := ctx.Err(); err != nil {
			return err
		}
		dt := d.step()
		if d.time+dt >= time {
			return nil
		}
		d.advance(dt)
		d.time += dt
		d.rest = d.r.f.atRest()
	}
	return nil
}

// last goes on to a time [s] from the step before it. It ends the drainage.
func (d *drainage) last(time float64) {
	if dt := time - d.time; dt > 0 && !d.rest {
		d.advance(dt)
	}
}

func (d *drainage) advance(dt float64) {
	d.r.f.calm = true
	d.r.f.advance(d.r.team, dt)
	d.r.f.calm = false
}

// filmed reports whether there is film in row r.
func (f *flow) filmed(r int) bool { return f.film.live[r+pad] != 0 }

// drawing reports whether film in row r draws back from a dry edge.
func (f *flow) drawing(r int) bool { return f.draws[r+pad] == recedes }

// atRest reports whether no film is left and no drop moves.
func (f *flow) atRest() bool {
	for r := range f.g.rows {
		if f.film.live[r+pad] != 0 || f.drops.cols.any(r) {
			return false
		}
	}
	return true
}
