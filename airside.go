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
	"leste/physics/air"
	"leste/physics/relation"
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
	r.Notes = append(r.Notes, supply.Notes...)
	r.Air.Flow = supply.Nominal.Flow + supply.Compressed.Flow
	places := a.stationsByOutlet()
	for _, op := range []*airsupply.Operation{&supply.Nominal, &supply.Compressed} {
		for i := range op.Outlets {
			o := &op.Outlets[i]
			r.Air.Outlets = append(r.Air.Outlets, OutletResult{
				Name: o.Name, Station: places[o.Name], Plenum: o.DeadEnd, Jet: o.Velocity, Flow: o.Flow, Thrust: o.Thrust,
				NonUniformity: q.Ratio(o.NonUniformity.Likely), Temperature: o.Stagnation, Humidity: op.Humidity,
			})
		}
	}
	a.blowers()
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
		})
	}
	most := q.Ratio(0)
	for _, b := range a.supply.Nominal.Branches {
		if b.Idle {
			continue
		}
		r.Parts = append(r.Parts, LossResult{Name: b.Name, Loss: b.Loss, Share: b.Share})
		if b.Share > most {
			most = b.Share
			r.Limits = fmt.Sprintf("most of the pressure lost on the way goes in %s (%.0f %% of the blower's rise)", b.Name, 100*float64(b.Share))
		}
	}
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

// money works out energy, cost, the compressed air that would do the same, and sound.
func (a *assessment) money() {
	r := a.result
	nan := math.NaN()
	r.Cost.Currency = a.job.Cost.Currency
	r.Cost.PowerRatio, r.Cost.Band = nan, q.Band{Likely: nan, Low: nan, High: nan}
	op := &a.supply.Nominal
	room := a.roomAir()
	if len(op.Outlets)+len(a.supply.Compressed.Outlets) > 0 {
		a.energy(op, room)
		a.sound(op, room)
	}
	for _, c := range cost.Cautions(cost.Conditions{
		Belt: a.belt(), Inverter: len(op.Blowers) > 0, CompressedAir: len(a.supply.OnMain) > 0, Flammable: a.job.Site.Flammable,
		Glass: a.hasGlass(), OpenProduct: a.openProduct(), SeveralBlowers: len(op.Blowers) > 1,
	}) {
		r.Cautions = append(r.Cautions, c.Text)
	}
}

func (a *assessment) roomAir() air.Moist {
	room := roomOf(a.job, summer)
	return air.Humid(room.Pressure, room.Temperature, q.Ratio(room.Humidity))
}

// energy works out what the station takes in a year, from the mains and from the compressed-air main, and what the
// other of the two would take for the same thrust. What a measured plenum pressure hides is not known.
func (a *assessment) energy(op *airsupply.Operation, room air.Moist) {
	c := &a.result.Cost
	onMain := a.compressedPower(room)
	if len(op.Outlets) > 0 && !(op.Grid > 0) {
		c.Energy, c.Cost = q.Energy(math.NaN()), math.NaN()
	} else {
		c.Energy = q.Energy(float64(onMain) * a.mainHours())
		c.Cost = float64(c.Energy) * float64(a.job.Cost.Electricity.V)
	}
	if op.Grid > 0 {
		year, err := cost.Yearly(cost.Powers{Producing: op.Grid, TurnedDown: a.turnedDown(), Peak: a.peak()}, a.job.Cost, a.belt(), 0)
		if err != nil {
			a.refused("energy and cost", err)
			c.Energy, c.Cost = q.Energy(math.NaN()), math.NaN()
		} else {
			c.Energy += year.Energy
			c.Cost += year.Total
			a.result.Notes = append(a.result.Notes, year.Notes...)
		}
	}
	if len(op.Outlets) == 0 {
		a.blowerInstead(onMain, room)
		return
	}
	a.rival(op, room, op.Grid+onMain)
}

// compressedAir is what the job says of the plant's compressed air; nil when it says nothing.
func (a *assessment) compressedAir() *job.CompressedAir {
	if a.job.Cost.CompressedAir != nil {
		return a.job.Cost.CompressedAir
	}
	return a.job.AirSupply.Compressed
}

// compressedPower is what the compressor draws for the outlets on the main; 0 without any.
func (a *assessment) compressedPower(room air.Moist) q.Power {
	main := &a.supply.Compressed
	if !(main.Thrust > 0) {
		return 0
	}
	c := a.job.AirSupply.Compressed
	if c == nil {
		c = a.compressedAir()
	}
	now, err := cost.CompressedAir(main.Thrust, 1, room, c)
	if err != nil {
		a.refused("compressed air", err)
		return q.Power(math.NaN())
	}
	a.result.Notes = append(a.result.Notes, now.Notes...)
	return now.Power
}

// hours are those of a year with containers; mainHours those in which outlets on the main blow: always, unless
// something shuts them off in gaps.
func (a *assessment) hours() float64 {
	return float64(a.job.Cost.Hours.V) * (1 - float64(a.job.Cost.IdleShare.V))
}

func (a *assessment) mainHours() float64 {
	if a.job.Cost.Idle == "run on" {
		return float64(a.job.Cost.Hours.V)
	}
	return a.hours()
}

// blowerInstead compares a station on compressed air with a blower of the same thrust.
func (a *assessment) blowerInstead(onMain q.Power, room air.Moist) {
	c := &a.result.Cost
	c.CompressedEnergy, c.CompressedCost = c.Energy, c.Cost
	w := cost.BlowerInstead(a.supply.Compressed.Thrust, room)
	c.BlowerEnergy = q.Energy(w.Likely * a.mainHours())
	c.BlowerCost = float64(c.BlowerEnergy) * float64(a.job.Cost.Electricity.V)
	if onMain > 0 {
		p := float64(onMain)
		c.PowerRatio, c.Band = w.Likely/p, q.Band{Likely: w.Likely / p, Low: w.Low / p, High: w.High / p}
	}
}

// rival compares a station on blowers with compressed air doing the same.
func (a *assessment) rival(op *airsupply.Operation, room air.Moist, power q.Power) {
	thrust := op.Thrust + a.supply.Compressed.Thrust
	if !(thrust > 0) {
		return
	}
	rival, err := cost.CompressedAir(thrust, max(power, 1), room, a.compressedAir())
	if err != nil {
		a.refused("compressed air", err)
		return
	}
	c := &a.result.Cost
	c.CompressedEnergy = q.Energy(float64(rival.Power) * a.hours())
	c.CompressedCost = float64(c.CompressedEnergy) * float64(a.job.Cost.Electricity.V)
	if op.Grid > 0 {
		c.PowerRatio, c.Band = rival.Ratio.Likely, rival.Ratio
	}
	for _, n := range rival.Notes {
		// What the plant's compressor and its nozzles would have to mind is no matter of a station without them.
		if n.Severity == relation.Info {
			a.result.Notes = append(a.result.Notes, n)
		}
	}
}

func (a *assessment) sound(op *airsupply.Operation, room air.Moist) {
	all := *op
	all.Outlets = append(append([]airsupply.OutletState(nil), op.Outlets...), a.supply.Compressed.Outlets...)
	shapes := append(append([]airsupply.Outlet(nil), a.supply.Outlets...), a.supply.OnMain...)
	var blowers []airsupply.Blower
	if a.supply.Plan != nil && a.supply.Plan.Network != nil {
		blowers = a.supply.Plan.Network.Blowers
	}
	s := cost.Noise(all, shapes, blowers, room, a.job.Cost.Sound, a.job.Cost.Enclosure)
	power := s.Jets
	if s.Blowers.Known {
		power = cost.SumLevels(s.Jets, s.Blowers.V)
	}
	out := &a.result.Sound
	*out = SoundResult{Power: power, At1m: s.At, Low: s.Low, High: s.High, Limit: a.job.Site.Noise.V, Assessed: true}
	switch {
	case out.At1m > out.Limit:
		out.Verdict = NotMet
	case out.High > out.Limit:
		out.Verdict = Undecided
	default:
		out.Verdict = Met
	}
	a.result.Notes = append(a.result.Notes, s.Notes...)
}

// refused notes what could not be worked out.
func (a *assessment) refused(what string, err error) {
	a.result.Notes = append(a.result.Notes, relation.Note{
		Severity: relation.Stop, Text: what + " not worked out: " + err.Error(), Value: math.NaN(), Limit: math.NaN(),
	})
}

// peak is the greatest power drawn in any case.
func (a *assessment) peak() q.Power {
	most := a.supply.Nominal.Grid
	for _, c := range a.supply.Study.Cases {
		most = max(most, c.Operation.Grid)
	}
	return most
}

// turnedDown is the power drawn in idle gaps when the blowers are turned down.
func (a *assessment) turnedDown() q.Power {
	if a.job.Cost.Idle != "turn down" {
		return 0
	}
	for _, c := range a.supply.Study.Cases {
		if c.Name == "turned down while idle" && c.Refused == "" {
			return c.Operation.Grid
		}
	}
	return 0
}

func (a *assessment) belt() bool {
	for i := range a.job.AirSupply.Blowers {
		if a.job.AirSupply.Blowers[i].Drive == "belt" {
			return true
		}
	}
	return len(a.job.AirSupply.Blowers) == 0 && len(a.supply.Nominal.Blowers) > 0
}

func (a *assessment) hasGlass() bool {
	if a.plan == nil {
		return false
	}
	for i := range a.plan.Formats {
		for _, m := range a.plan.Formats[i].Body.Materials {
			if m.Name == "glass" || m.Name == "coated glass" {
				return true
			}
		}
	}
	return false
}

func (a *assessment) openProduct() bool {
	for i := range a.job.Formats {
		if a.job.Formats[i].Content == "open" {
			return true
		}
	}
	return false
}
