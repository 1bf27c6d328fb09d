package leste

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/airsupply"
	"leste/cost"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// air solves the air side and reports it. A job without outlets has none.
func (a *assessment) air(ctx context.Context) error {
	outlets := 0
	for i := range a.job.Stations {
		outlets += len(a.job.Stations[i].Outlets)
	}
	if outlets == 0 {
		return nil
	}
	supply, err := a.supplyOf(ctx)
	if err != nil {
		return err
	}
	a.supply = supply
	r := a.result
	for _, v := range supply.Assumed { // the air side fills the job too
		if !slices.ContainsFunc(r.Assumed, func(o job.Assumed) bool { return o.Path == v.Path }) {
			r.Assumed = append(r.Assumed, v)
		}
	}
	for _, n := range supply.Notes {
		a.heed(n)
	}
	r.Air.Flow = supply.Nominal.Flow + supply.Compressed.Flow
	places := a.stationsByOutlet()
	for _, op := range []*airsupply.Operation{&supply.Nominal, &supply.Compressed} {
		for i := range op.Outlets {
			o := &op.Outlets[i]
			r.Air.Outlets = append(r.Air.Outlets, OutletResult{
				Name: o.Name, Station: places[o.Name], Plenum: o.DeadEnd, Jet: o.Velocity, Flow: o.Flow, Thrust: o.Thrust,
				NonUniformity: q.Ratio(o.NonUniformity.Likely), Uneven: o.NonUniformity, Inclination: o.Inclination,
				Temperature: o.Stagnation, Humidity: op.Humidity,
			})
		}
	}
	a.blowers()
	a.airCases()
	a.choices()
	a.loads()
	return nil
}

// supplyOf solves the air side in every case, or in the nominal one where nothing else is asked and no outlet hangs
// on a compressed-air main.
func (a *assessment) supplyOf(ctx context.Context) (airsupply.Supply, error) {
	main := false
	for i := range a.job.Stations {
		for k := range a.job.Stations[i].Outlets {
			main = main || a.job.Stations[i].Outlets[k].Compressed
		}
	}
	if !a.options.Nominal || main {
		return airsupply.Assess(ctx, a.given, a.parts)
	}
	var s airsupply.Supply
	var err error
	if s.Outlets, s.Assumed, err = airsupply.Outlets(a.job); err != nil {
		return s, err
	}
	if s.Plan, err = airsupply.Build(ctx, a.given, s.Outlets, a.parts); err != nil {
		return s, err
	}
	s.Assumed = append(s.Assumed, s.Plan.Assumed...)
	if s.Plan.Network == nil {
		s.Nominal, err = airsupply.FixedPressure(s.Outlets, s.Plan.Measured, s.Plan.Site.Summer.Room, 0)
	} else {
		s.Nominal, err = airsupply.Solve(ctx, s.Plan.Network, s.Plan.Site.Nominal())
		if err == nil && a.job.Cost.Idle == cost.TurnDown {
			var down airsupply.Operation
			down, _, err = airsupply.Idle(ctx, s.Plan.Network, s.Plan.Site, a.job.Cost.IdleSpeed.V)
			s.Idle = down.Grid
		}
	}
	s.Notes = s.Nominal.Notes
	return s, err
}

func (a *assessment) stationsByOutlet() map[string]string {
	names := map[string]string{}
	for i := range a.job.Stations {
		s := &a.job.Stations[i]
		for k := range s.Outlets {
			names[s.Outlets[k].Name] = s.Name
		}
	}
	return names
}

// blowers reports the blowers at their operating points, the greatest losses and what limits the flow.
func (a *assessment) blowers() {
	r := &a.result.Air
	for _, b := range a.supply.Nominal.Blowers {
		reserve := math.NaN()
		for _, m := range a.supply.Study.Motors {
			if m.Blower == b.Name && m.Need > 0 {
				reserve = float64(m.Rated/m.Need) - 1
			}
		}
		r.Blowers = append(r.Blowers, BlowerResult{
			Name: b.Name, SpeedRatio: float64(b.Speed), Inlet: b.Inlet, Rise: b.Rise, Shaft: b.Drive.Shaft,
			Grid: b.Drive.Grid, Discharge: b.Discharge, Motor: b.MotorRated, Reserve: q.Ratio(reserve),
			MotorLoad: b.Drive.Load, FlowOver: b.Reserve, Efficiency: b.Efficiency, Filter: b.Filter,
		})
	}
	r.Ways = a.supply.Nominal.Ways
	most := q.Ratio(0)
	for _, b := range a.supply.Nominal.Branches {
		if b.Idle {
			continue
		}
		r.Parts = append(r.Parts, lossOf(&b))
		if b.Share > most {
			most = b.Share
			r.Limits = fmt.Sprintf("most of the pressure lost on the way goes in %s (%.0f %% of the blower's rise)", b.Name, 100*float64(b.Share))
		}
	}
}

func lossOf(b *airsupply.BranchState) LossResult {
	out := LossResult{
		Name: b.Name, Loss: b.Loss, Share: b.Share, Flow: b.Flow, Start: b.Start, End: b.End, Temperature: b.Air, Speed: b.Speed, Junction: b.Junction,
	}
	for _, p := range b.Pieces {
		e := ElementLoss{Kind: p.Name, Loss: p.Loss, Speed: p.Speed}
		if b.Loss != 0 {
			e.Share = b.Share * q.Ratio(p.Loss/b.Loss)
		}
		out.Elements = append(out.Elements, e)
	}
	return out
}

// state finds the air of an outlet, by a blower or from the main.
//
// An outlet that only a remedy has gets the air of the one it repeats, or of the first.
func (a *assessment) state(name string) (o *airsupply.OutletState, shape *airsupply.Outlet, humidity q.Ratio) {
	name = strings.TrimSuffix(name, repeated)
	if name == addedOutlet && len(a.supply.Nominal.Outlets) > 0 {
		name = a.supply.Nominal.Outlets[0].Name
	}
	for _, from := range []struct {
		op     *airsupply.Operation
		shapes []airsupply.Outlet
	}{{&a.supply.Nominal, a.supply.Outlets}, {&a.supply.Compressed, a.supply.OnMain}} {
		for i := range from.op.Outlets {
			if from.op.Outlets[i].Name == name && i < len(from.shapes) {
				return &from.op.Outlets[i], &from.shapes[i], from.op.Humidity
			}
		}
	}
	return nil, nil, 0
}

// outletAir is the nominal air of a scene's outlets.
func (a *assessment) outletAir(s station.Scene) []station.OutletAir {
	room := roomOf(a.job, summer)
	all := make([]station.OutletAir, len(s.Outlets))
	for i := range s.Outlets {
		all[i] = station.OutletAir{Ambient: room.Pressure, AmbientT: room.Temperature, Stagnation: room.Temperature}
		if o, shape, w := a.state(s.Outlets[i].Name); o != nil && !o.Blocked {
			all[i].Plenum, all[i].Stagnation, all[i].Humidity = o.DeadEnd, o.Stagnation, w
			all[i].Cd, all[i].Cv = float64(shape.Cd), float64(shape.Cv)
		}
	}
	return all
}

// airOf is the warmest air of a scene's outlets and its humidity ratio.
func (a *assessment) airOf(s station.Scene) (t q.Temperature, w float64) {
	t = roomOf(a.job, summer).Temperature
	for _, o := range a.outletAir(s) {
		if o.Stagnation >= t {
			t, w = o.Stagnation, float64(o.Humidity)
		}
	}
	return t, w
}

// airCases reports the air side in every case, and the worst one by each criterion.
func (a *assessment) airCases() {
	r, study := &a.result.Air, &a.supply.Study
	if len(study.Cases) == 0 {
		return
	}
	r.Limits = study.Limit()
	nominal := map[string]q.Force{}
	for _, o := range study.Cases[0].Operation.Outlets {
		nominal[o.Name] = o.Thrust
	}
	for i := range study.Cases {
		r.Cases = append(r.Cases, airCaseOf(&study.Cases[i], nominal))
	}
	w := study.Worst
	for _, one := range []AirWorst{
		{"motor", w.Motor, float64(w.MotorLoad)},
		{"drying", w.Drying, float64(w.ThrustShare)},
		{"least flow", w.MinimumFlow, float64(w.FlowReserve)},
		{"heat", w.Hottest, float64(w.Discharge)},
	} {
		if one.Case != "" {
			r.Worst = append(r.Worst, one)
		}
	}
}

func airCaseOf(c *airsupply.CaseResult, nominal map[string]q.Force) AirCase {
	nan := math.NaN()
	out := AirCase{
		Name: c.Name, Refused: c.Refused, Flow: q.MassFlow(nan), Plenum: q.Gauge(nan), Thrust: q.Ratio(nan), Grid: q.Power(nan),
		MotorLoad: q.Ratio(nan), FlowOver: q.Ratio(nan), Discharge: q.Temperature(nan),
	}
	if c.Refused != "" {
		return out
	}
	op := &c.Operation
	out.Flow, out.Grid = op.Flow, op.Grid
	plenum, thrust := math.Inf(1), math.Inf(1)
	for _, o := range op.Outlets {
		if !o.Blocked {
			plenum, thrust = min(plenum, float64(o.DeadEnd)), min(thrust, float64(o.Thrust/nominal[o.Name]))
		}
	}
	out.Plenum, out.Thrust = q.Gauge(plenum), q.Ratio(thrust)
	for i, b := range op.Blowers {
		if i == 0 {
			out.MotorLoad, out.FlowOver, out.Discharge = b.Drive.Load, b.Reserve, b.Discharge
			continue
		}
		out.MotorLoad, out.FlowOver = max(out.MotorLoad, b.Drive.Load), min(out.FlowOver, b.Reserve)
		out.Discharge = max(out.Discharge, b.Discharge)
	}
	return out
}

// choices reports the machines that a blower nobody named was chosen from.
func (a *assessment) choices() {
	if a.supply.Plan == nil {
		return
	}
	or := func(m q.Maybe[float64]) float64 {
		if m.Known {
			return m.V
		}
		return math.NaN()
	}
	for _, c := range a.supply.Plan.Candidates {
		a.result.Air.Choices = append(a.result.Air.Choices, BlowerChoice{
			Part: c.Part, Rejected: c.Rejected, Speed: c.Speed, Grid: c.Grid, Discharge: c.Discharge, Motor: c.Motor,
			MotorLoad: c.MotorLoad, Reserve: c.Reserve, Turndown: c.Turndown, Yearly: c.Yearly,
			Sound: q.SoundLevel(or(q.Maybe[float64]{V: float64(c.Sound.V), Known: c.Sound.Known})), Price: or(c.Price),
		})
	}
}

// loads reports the list that an electrician plans from.
func (a *assessment) loads() {
	for _, l := range a.supply.Loads {
		out := ElectricLoad{
			Blower: l.Blower, Rated: l.Rated, Class: l.Class, Voltage: l.Voltage, Frequency: l.Frequency, Current: l.Current,
			FromPlate: l.FromPlate, PowerFactor: l.PowerFactor, Starter: l.Starter, Starts: l.StartsPerH,
			Protection: l.Protection, Signals: l.Signals, Devices: l.Devices,
		}
		for _, n := range l.Notes {
			out.Notes = append(out.Notes, n.Text)
		}
		a.result.Air.Loads = append(a.result.Air.Loads, out)
	}
}

// machines are the blowers of the plan; none where a measured pressure stands in for them.
func (a *assessment) machines() []airsupply.Blower {
	if a.supply.Plan == nil || a.supply.Plan.Network == nil {
		return nil
	}
	return a.supply.Plan.Network.Blowers
}
