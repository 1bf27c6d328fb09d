package leste

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics"
	"leste/physics/air"
	"leste/physics/relation"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// heed adds a note to the result; one that allows no number is also a reason for no promise.
func (a *assessment) heed(n relation.Note) {
	a.result.Notes = append(a.result.Notes, n)
	if n.Severity == relation.Stop {
		a.result.Stops = append(a.result.Stops, n.Text+", so nothing is promised.")
	}
}

// within notes where a value, in SI, is outside the range of a relation. What says whose value it is.
func (a *assessment) within(what, id, symbol string, value float64) {
	for _, n := range physics.Cards().Check(id, symbol, value) {
		n.Text = what + ": " + n.Text
		a.heed(n)
	}
}

// ranges notes where the job lies outside the ranges of the relations about its site, its water and its surfaces.
// Outlets, air supply and costs are checked where they are calculated.
func (a *assessment) ranges() {
	j := a.job
	if !j.Site.Barometer.Known {
		a.within("site", "standard-atmosphere", "h", float64(j.Site.Altitude.V))
	}
	for s, name := range [...]string{summer: "summer", winter: "winter"} {
		room := roomOf(j, season(s))
		a.within(name, "site-air", "T", float64(room.Temperature))
		a.within(name, "site-air", "p", float64(room.Pressure))
		a.within(name, "site-air", "W", float64(air.Humid(room.Pressure, room.Temperature, q.Ratio(room.Humidity)).W))
	}
	for i := range j.Stations {
		for k := range j.Stations[i].Outlets {
			if o := &j.Stations[i].Outlets[k]; o.Kind == job.AirKnife && !o.Discharge.Known {
				a.within(o.Name, "discharge-coefficient", "b", float64(o.Gap()))
			}
		}
	}
	sound := float64(a.roomAir().SoundSpeed())
	for _, o := range a.result.Air.Outlets {
		if o.Flow > 0 {
			a.within(o.Name, "jet-sound", "u_c", float64(o.Jet)/sound)
		}
	}
	if a.plan == nil {
		return
	}
	a.within("model", "film-break-up", "L", float64(j.Model.HoleSpacing.V))
	for i := range a.plan.Formats {
		a.formatRanges(&a.plan.Formats[i])
	}
}

// formatRanges is ranges for one format: its speeds, its water and its walls.
func (a *assessment) formatRanges(f *station.FormatPlan) {
	name := f.Format.Name
	check := func(id, symbol string, value float64) { a.within(name, id, symbol, value) }
	slowest, fastest := math.Inf(1), 0.0
	for _, s := range a.situations(f) {
		slowest, fastest = min(slowest, s.speed*float64(f.Speed)), max(fastest, s.speed*float64(f.Speed))
	}
	check("wiped-film", "u", slowest)
	if fastest > slowest {
		check("wiped-film", "u", fastest)
	}
	check("water-viscosity", "T", float64(f.Format.Arrives.Temperature.V))
	check("drained-film", "t", float64(f.Format.Arrives.Since.V))
	if f.Body.Product > q.ZeroCelsius { // below, frost is a reason of its own
		check("evaporation-flux", "Ts", float64(f.Body.Product))
	}
	for i := range f.Body.Materials {
		m := &f.Body.Materials[i]
		wall := water.Wetting{Advancing: m.Advancing, Receding: m.Receding}
		if wall.Receding.Deg() < wets {
			continue
		}
		what := fmt.Sprintf("%s, %s", name, m.Name)
		a.within(what, "dewetting-speed", "tr", float64(wall.Receding))
		a.within(what, "moving-contact-angle", "ta", float64(wall.Advancing))
		a.within(what, "cap", "th", float64(wall.Mean()))
		a.within(what, "sessile-drop", "th", float64(wall.Mean()))
	}
	for i := range f.Body.Crevices {
		a.within(name+", "+f.Body.Crevices[i].Name, "crevice-hold", "w", f.Body.Crevices[i].Gap)
	}
}

// wets is the receding angle [deg] below which water draws back from hardly any of a wall; no relation about drops
// or dewetting has much to say there.
const wets = 8
