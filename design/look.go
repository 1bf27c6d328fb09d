package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	leste "leste"
	"leste/airsupply"
	"leste/drying"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// shape is an outlet of a group as the air side sees it.
func (s *setup) shape(pressure float64) (airsupply.Outlet, error) {
	o := s.outlet(0, pressure)
	shape, _, err := airsupply.OutletOf(o)
	return shape, err
}

// A look is what the air of an arrangement does to one format, seen at one plenum pressure. Near that pressure
// impact pressure and shear go as the plenum pressure, so that the water at others follows without looking again.
type look struct {
	ground   *ground
	format   int
	eye      eye
	pressure float64 // Pa, at which it was seen
	setups   []pose
	from     arrangement
	found    *recalled
	passes   []drying.Pass // nil until the air is asked for
	holds    float64       // Pa, plenum pressure up to which the container stands and no limit of the air is passed
	gives    string        // what gives way beyond
	points   []point       // what was measured, by rising plenum pressure
	counts   *counts
}

// pose is everything about a group that one format sees.
type pose struct{ tilt, down, along, x, length, gap, bore, spacing, height, offset float64 }

func (s *setup) pose(format int) pose {
	return pose{s.tilt, s.down, s.along, s.x, s.length, s.gap, s.bore, s.spacing, s.height[format], s.offset[format]}
}

// look sees a format pass the stations of an arrangement.
func (g *ground) look(ctx context.Context, a arrangement, format int, pressure float64, by eye) (*look, error) {
	l := &look{ground: g, format: format, eye: by, pressure: pressure, counts: new(counts), from: a}
	for i := range a.setups {
		l.setups = append(l.setups, a.setups[i].pose(format))
	}
	l.found = g.memory.of(l)
	var stands bool
	if l.holds, l.gives, stands = l.found.standing(); stands {
		return l, nil
	}
	if err := l.see(ctx); err != nil {
		return nil, err
	}
	l.found.stand(l.holds, l.gives)
	return l, nil
}

// see looks at the air.
func (l *look) see(ctx context.Context) error {
	g, a, format, pressure, by := l.ground, &l.from, l.format, l.pressure, l.eye
	f := g.formats[format].wall(by)
	speed := float64(f.plan.Speed) * max(1, float64(g.basis.Job().Line.Surge.V))
	l.holds, l.passes = math.Inf(1), make([]drying.Pass, 0, len(f.plan.Stations))
	end := math.Inf(-1)
	for k := range f.plan.Stations {
		scene := f.plan.Stations[k]
		var air []station.OutletAir
		scene.Outlets = nil
		for i := range a.setups {
			s := &a.setups[i]
			if s.place != k {
				continue
			}
			state, err := g.outletAir(s, pressure)
			if err != nil {
				return err
			}
			for n := range s.sides() {
				scene.Outlets = append(scene.Outlets, s.placed(n, format))
				air = append(air, state)
			}
		}
		e, err := station.NewExposer(f.plan.Body, scene, air, station.ExposerOptions{})
		if err != nil {
			return err
		}
		from, to := e.Range()
		if from > to {
			from, to = 0, 0
		}
		pass := drying.Pass{
			Station: scene.Name, From: from, To: to, Speed: speed, AirT: g.plenumTemperature(pressure), AirW: float64(g.room.W),
		}
		if k == 0 {
			pass.Before = float64(f.plan.Format.Arrives.Since.V)
		} else {
			pass.Before = max(0, scene.At+from-end) / speed
		}
		end = scene.At + to
		var record *station.Record
		if by.follows() {
			air, err := drying.NewReplay(ctx, e, f.plan.Body.Surface, from, to)
			if err != nil {
				return err
			}
			pass.Air, record = air, &air.Record
		} else {
			rec := &station.Recorder{E: e}
			pass.Air = rec
			if pass.Seen, err = drying.Scan(ctx, f.plan.Body, &pass); err != nil {
				return err
			}
			pass.Air, record = e, &rec.Record
		}
		l.passes = append(l.passes, pass)
		if err := l.standing(ctx, e, record); err != nil {
			return err
		}
	}
	return nil
}

// Factors by which a container must resist what the air does to it, beyond which nothing is in doubt. A container
// that slips stays on the line; one that tips does not.
const mustHold = 1.0

// standing finds up to which plenum pressure the container keeps its place. Pushes go as the plenum pressure.
func (l *look) standing(ctx context.Context, e *station.Exposer, r *station.Record) error {
	f := &l.ground.formats[l.format]
	options := f.passing
	if f.stops { // no push may then exceed what resists it, which is never less strict
		options = f.stopped
	}
	options.Record = r
	pushes, err := station.Stand(ctx, e, options)
	if err != nil {
		return err
	}
	for _, p := range pushes {
		need := 0.0
		switch p.Way {
		case station.Tip, station.Lift:
			need = leste.PushMargin
		case station.Slide, station.HeldBack:
			need = mustHold
		default:
			continue
		}
		words, _ := leste.GivesWay(p.Way, p.Case)
		l.hold(l.pressure*p.Factor/need, words)
	}
	limits, err := r.Limits(e, l.ground.given.Limits)
	if err != nil {
		return err
	}
	room := float64(l.ground.room.T)
	for _, limit := range limits {
		if !(limit.Value > 0) {
			continue
		}
		share := limit.Limit / limit.Value
		switch limit.Quantity {
		case "speed":
			share *= share
		case "temperature":
			share = math.Inf(1)
			if limit.Value > room {
				share = max(0, limit.Limit-room) / (limit.Value - room)
			}
		}
		l.hold(l.pressure*share, leste.TooMuchAir(limit.Quantity, limit.Zone))
	}
	return nil
}

func (l *look) hold(pressure float64, what string) {
	if pressure < l.holds {
		l.holds, l.gives = pressure, what
	}
}

// problem is the water at another plenum pressure.
func (l *look) problem(ctx context.Context, pressure float64) (drying.Problem, error) {
	if l.passes == nil {
		if err := l.see(ctx); err != nil {
			return drying.Problem{}, err
		}
	}
	p := *l.ground.formats[l.format].wall(l.eye).problem
	p.Passes = l.passes
	factor := pressure / l.pressure
	p.Settings.Pressure *= factor
	p.Settings.Shear *= factor
	return p, nil
}

// A point is what was measured at one plenum pressure.
type point struct {
	pressure float64
	measures []float64
}

// measures are the likely values of the format's demands over their limits at a plenum pressure. Between two close
// pressures at which they are known the logarithms are joined by a straight line.
func (l *look) measures(ctx context.Context, pressure float64) ([]float64, error) {
	at, known := slices.BinarySearchFunc(l.points, pressure, func(p point, v float64) int { return cmp.Compare(p.pressure, v) })
	if known {
		return l.points[at].measures, nil
	}
	const close = 1.1
	if at > 0 && at < len(l.points) && l.points[at].pressure <= close*l.points[at-1].pressure {
		return l.points[at-1].towards(&l.points[at], pressure), nil
	}
	m, err := l.measure(ctx, pressure)
	if err != nil {
		return nil, err
	}
	l.points = slices.Insert(l.points, at, point{pressure, m})
	return m, nil
}

// towards are the measures between two points.
func (p *point) towards(o *point, pressure float64) []float64 {
	share := math.Log(pressure/p.pressure) / math.Log(o.pressure/p.pressure)
	out := make([]float64, len(p.measures))
	for i, m := range p.measures {
		if m > 0 && o.measures[i] > 0 && !math.IsInf(m, 1) && !math.IsInf(o.measures[i], 1) {
			out[i] = m * math.Pow(o.measures[i]/m, share)
			continue
		}
		out[i] = max(m, o.measures[i])
	}
	return out
}

// measure follows the water, where nobody has done so before. What was found before counts as work as well, so that the
// count does not depend on who found it.
func (l *look) measure(ctx context.Context, pressure float64) ([]float64, error) {
	if l.eye.follows() {
		l.counts.Followed++
	} else {
		l.counts.Quick++
	}
	if m, known := l.found.measures(pressure); known {
		return m, nil
	}
	m, err := l.follow(ctx, pressure)
	if err != nil {
		return nil, err
	}
	l.found.measured(pressure, m)
	return m, nil
}

func (l *look) follow(ctx context.Context, pressure float64) ([]float64, error) {
	p, err := l.problem(ctx, pressure)
	if err != nil {
		return nil, err
	}
	var o drying.Outcome
	if l.eye.follows() {
		var all []drying.Outcome
		if all, err = drying.TransportTogether(ctx, []*drying.Problem{&p}, drying.TransportOptions{Machines: true}); err == nil {
			o = all[0]
		}
	} else {
		o, err = drying.Quick(ctx, &p)
	}
	if err != nil && l.eye.follows() && ctx.Err() == nil {
		return unanswered(len(l.ground.formats[l.format].demands)), nil
	}
	if err != nil {
		return nil, err
	}
	return measure(&p, &o, l.ground.formats[l.format].demands)
}

// unanswered are the measures of a candidate that transport gives no number for, as it refuses to when its balance
// does not close: too wet for anything, so that the search goes by and does not end.
func unanswered(demands int) []float64 {
	out := make([]float64, demands)
	for i := range out {
		out[i] = math.Inf(1)
	}
	return out
}

// seen are the measures of a format by each eye: the quick ones of the rough grid and of the fine one, and with
// transport; all of them at the same pressure.
func (g *ground) seen(ctx context.Context, a arrangement, format int, pressure float64, eyes ...eye) ([][]float64, error) {
	found := make([][]float64, len(eyes))
	for i, e := range eyes {
		l, err := g.look(ctx, a, format, pressure, e)
		if err != nil {
			return nil, err
		}
		if found[i], err = l.measures(ctx, pressure); err != nil {
			return nil, err
		}
	}
	return found, nil
}

// ratio of what one eye finds to what another does, as far as it can be trusted.
func ratio(fine, rough float64) float64 {
	const most = 3.0
	if !(fine > 0 && rough > 0) || math.IsInf(fine, 1) || math.IsInf(rough, 1) {
		return 1
	}
	return min(max(fine/rough, 1/most), most)
}

// measure reads the demands of an outcome. Of rejects the number of drops that count is taken: their share ends at 1.
func measure(p *drying.Problem, o *drying.Outcome, demands []demand) ([]float64, error) {
	out := make([]float64, len(demands))
	for i, d := range demands {
		m := p.Machines[d.machine]
		m.Requires = m.Requires[d.require : d.require+1]
		judged, err := drying.Judge(m, o.At[d.machine])
		if err != nil {
			return nil, err
		}
		j := &judged[0]
		if j.Quantity == "rejects" {
			out[i] = j.Drops / float64(water.DropsFor(q.Ratio(j.Limit)))
			continue
		}
		out[i] = j.Value.Likely / j.Limit
	}
	return out, nil
}
