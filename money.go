package leste

import (
	"math"
	"slices"

	"leste/airsupply"
	"leste/cost"
	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

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
	a.exhaust(op, room)
	for _, c := range cost.Cautions(a.conditions(op)) {
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
		year, err := cost.Yearly(cost.Powers{Producing: op.Grid, TurnedDown: a.turnedDown(), Peak: a.peak()}, a.yearsCosts(), a.belt(), a.falseRejects())
		if err != nil {
			a.refused("energy and cost", err)
			c.Energy, c.Cost = q.Energy(math.NaN()), math.NaN()
		} else {
			c.Energy += year.Energy
			c.Cost += year.Total
			c.Year = runningCost(year)
			a.result.Notes = append(a.result.Notes, year.Notes...)
		}
	}
	if len(op.Outlets) == 0 {
		a.blowerInstead(onMain, room)
		return
	}
	a.rival(op, room, op.Grid+onMain)
}

// yearsCosts are the job's costs for all blowers, which have a set of filters and of belts each, counted as running on
// where they cannot be turned down.
func (a *assessment) yearsCosts() job.Costs {
	c := a.job.Cost
	machines, belts := 0, 0
	for _, b := range a.machines() {
		machines++
		if b.Drive.Belt {
			belts++
		}
	}
	c.FilterPrice.V *= float64(max(machines, 1))
	c.BeltPrice.V *= float64(max(belts, 1))
	if c.Idle == cost.TurnDown && !(a.turnedDown() > 0) {
		c.Idle = cost.RunOn
		a.result.Notes = append(a.result.Notes, relation.Note{
			Severity: relation.Caution, Relation: "yearly-cost",
			Text:  "The blowers cannot be turned down to the idle speed: they have no inverter, or no operating point there; they are counted as running on.",
			Value: float64(c.IdleSpeed.V), Limit: math.NaN(), Unit: "1",
		})
	}
	return c
}

// falseRejects are the containers rejected in a time, over the formats by their shares of the hours; 0 where no
// machine tolerates a share of rejects.
func (a *assessment) falseRejects() q.Rate {
	if a.plan == nil || !a.job.Cost.FalseReject.Known {
		return 0
	}
	var sum, shares float64
	for i := range a.result.Formats {
		f := &a.result.Formats[i]
		share := 1.0
		if given := a.job.Formats[a.indexOf(&a.plan.Formats[i])].Share; given.Known {
			share = float64(given.V)
		}
		shares += share
		if f.Pitch > 0 {
			sum += share * rejected(f) * float64(f.Speed) / float64(f.Pitch)
		}
	}
	if shares == 0 {
		return 0
	}
	return q.Rate(sum / shares)
}

// rejected is the greatest share of a format's containers that a machine is expected to reject.
func rejected(f *FormatResult) float64 {
	most := 0.0
	for _, z := range f.Zones {
		for _, r := range z.Requirements {
			if r.Quantity == "rejects" && !math.IsNaN(r.Value.Likely) {
				most = max(most, r.Value.Likely)
			}
		}
	}
	return most
}

func runningCost(y cost.Year) *RunningCost {
	out := &RunningCost{
		Mean: y.Mean, Electricity: y.Electricity, Demand: y.Demand, Filters: y.Filters, Belts: y.Belts, Spares: y.Spares,
		Maintenance: y.Maintenance, FalseReject: y.FalseReject, Total: y.Total, Emissions: q.Mass(math.NaN()),
	}
	if y.Emissions.Known {
		out.Emissions = y.Emissions.V
	}
	return out
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
	c.CompressedCost = float64(c.CompressedEnergy)*float64(a.job.Cost.Electricity.V) + float64(rival.Power)*float64(a.job.Cost.Demand.V)
	if op.Grid > 0 {
		c.PowerRatio, c.Band = rival.Ratio.Likely, rival.Ratio
		c.Unloading = rival.Unloading
		a.lifeCycle()
	}
	for _, n := range rival.Notes {
		// What the plant's compressor and its nozzles would have to mind is no matter of a station without them.
		if n.Severity == relation.Info {
			a.result.Notes = append(a.result.Notes, n)
		}
	}
}

// lifeCycle compares the station with compressed air over the years, where the station's price is known. False
// rejects are the same for both and do not enter.
func (a *assessment) lifeCycle() {
	c := &a.result.Cost
	given := &a.job.Cost
	if c.Year == nil || !given.Price.Known {
		return
	}
	main := a.compressedAir()
	if main == nil {
		main = &job.CompressedAir{}
	}
	rival := cost.Alternative{Price: main.Price.V, Energy: c.CompressedCost, Maintenance: main.Maintenance.V}
	station := cost.Alternative{
		Price: given.Price.V, Energy: c.Year.Electricity + c.Year.Demand,
		Maintenance: c.Year.Filters + c.Year.Belts + c.Year.Spares + c.Year.Maintenance,
	}
	d, e, n := float64(given.Discount.V), float64(given.Escalation.V), float64(given.Years)
	all, err := cost.Compare(rival, station, d, e, n)
	if err != nil {
		a.refused("cost over the years", err)
		return
	}
	rival.Energy *= float64(c.Unloading)
	kept, err := cost.Compare(rival, station, d, e, n)
	if err != nil {
		a.refused("cost over the years", err)
		return
	}
	c.Life = &LifeCycle{
		Years: n, Discount: q.Ratio(d), Escalation: q.Ratio(e), Cost: all.Cost, Compressed: all.BaseCost, NPV: all.NPV,
		Payback: all.Payback, Savings: all.SIR, Return: all.IRR, Unloaded: kept.NPV,
	}
	if !main.Price.Known {
		a.result.Notes = append(a.result.Notes, relation.Note{
			Severity: relation.Info, Relation: "present-value", Value: math.NaN(), Limit: math.NaN(),
			Text: "Compressed air is counted as being there already: the price of its station is not known.",
		})
	}
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

// turnedDown is the power drawn in idle gaps when the blowers are turned down; 0 when they are not or cannot be.
func (a *assessment) turnedDown() q.Power {
	if a.job.Cost.Idle != cost.TurnDown {
		return 0
	}
	return a.supply.Idle
}

func (a *assessment) belt() bool {
	return slices.ContainsFunc(a.machines(), func(b airsupply.Blower) bool { return b.Drive.Belt })
}
