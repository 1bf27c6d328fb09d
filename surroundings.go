package leste

import (
	"math"

	"leste/airsupply"
	"leste/cost"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// exhaust reports where air, heat and moisture go.
func (a *assessment) exhaust(op *airsupply.Operation, room air.Moist) {
	nan := math.NaN()
	out := &a.result.Exhaust
	*out = ExhaustResult{Moisture: q.Ratio(nan), MakeUp: q.Power(nan), Heat: q.Power(nan)}
	if op.Grid > 0 {
		out.Heat = op.Grid
	}
	e := a.job.Cost.Enclosure
	if e == nil {
		return
	}
	found, err := cost.Ventilation(op.Flow+a.supply.Compressed.Flow, op.Grid, room, e)
	if err != nil {
		a.refused("exhaust", err)
		return
	}
	a.result.Notes = append(a.result.Notes, found.Notes...)
	if !found.Assessed {
		return
	}
	out.Assessed, out.Flow, out.Heat = true, found.Flow, found.Heat
	if e.Water.Known {
		out.Moisture = found.Moisture
	}
	if e.MakeUpFrom.Known {
		out.MakeUp = found.MakeUp
	}
}

// sound reports the station at 1 m, which the limit is about, and where a person stands.
func (a *assessment) sound(op *airsupply.Operation, room air.Moist) {
	all := *op
	all.Outlets = append(append([]airsupply.OutletState(nil), op.Outlets...), a.supply.Compressed.Outlets...)
	shapes := append(append([]airsupply.Outlet(nil), a.supply.Outlets...), a.supply.OnMain...)
	given := a.job.Cost.Sound
	near := given
	near.Distance, near.Background = q.Known(q.Length(1)), q.Maybe[q.SoundLevel]{}
	s := cost.Noise(all, shapes, a.machines(), room, near, a.job.Cost.Enclosure)
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
	if quiet := a.job.AirSupply.Silencer; quiet != nil && quiet.Attenuation.Known {
		a.result.Notes = append(a.result.Notes, relation.Note{
			Severity: relation.Info, Relation: "room-sound", Value: float64(quiet.Attenuation.V), Limit: math.NaN(), Unit: "dB",
			Text: "What the silencer takes off is not counted: a declared sound power does not say how much of it leaves by the inlet.",
		})
	}
	there := cost.Noise(all, shapes, a.machines(), room, given, a.job.Cost.Enclosure)
	out.Place = ListenerResult{
		Distance: given.Distance.V, Time: given.Exposure.V, Level: there.At, Hood: there.Hood, Dose: there.Dose,
		Daily: there.Daily, DailyLow: there.DailyLow, DailyHigh: there.DailyHigh, Action: there.Action,
	}
	if there.WithRoom.Known {
		out.Place.Level = there.WithRoom.V
	}
}

// conditions choose the cautions.
func (a *assessment) conditions(op *airsupply.Operation) cost.Conditions {
	c := cost.Conditions{
		CompressedAir: len(a.supply.OnMain) > 0, Flammable: a.job.Site.Flammable, Glass: a.hasGlass(), OpenProduct: a.openProduct(),
		Recirculation: a.job.AirSupply.Inlet.Recirculation.V > 0 || a.job.Site.InletFrom == "ceiling",
		DosedWater:    a.reused(),
	}
	if p := a.supply.Plan; p != nil && p.Network != nil {
		c.SeveralBlowers = p.Network.Parallel()
	}
	for i := range op.Blowers {
		c.HotSurface = c.HotSurface || op.Blowers[i].Discharge > cost.HotToHold
	}
	for _, b := range a.machines() {
		c.Belt, c.Inverter = c.Belt || b.Drive.Belt, c.Inverter || b.Drive.Inverter
	}
	for _, n := range a.supply.Notes {
		c.ColdDucts = c.ColdDucts || n.Text == airsupply.CondensesInDucts
	}
	return c
}

// reused reports whether the water on the containers goes round or is dosed, so that its mist is more than water.
func (a *assessment) reused() bool {
	from := func(v string) bool { return v == "pasteuriser" || v == "cooler" || v == "washer" }
	for i := range a.job.Formats {
		if f := a.job.Formats[i].Arrives; f != nil && from(f.From) || f == nil && from(a.job.Arrives.From) {
			return true
		}
	}
	return false
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
