package airsupply

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// Ratings checks what the air asks of hoses in the harshest of some operations: pressure, temperature and bend radius
// against what their makers allow. Ratings that nobody gave are noted once.
func Ratings(ops []Operation, branches []job.Branch) []relation.Note {
	var out []relation.Note
	add := func(sev relation.Severity, text string, value, limit float64, unit string) {
		out = append(out, relation.Note{Severity: sev, Relation: "", Text: text, Value: value, Limit: limit, Unit: unit})
	}
	hottest, strongest := q.Temperature(0), q.Gauge(0)
	for _, op := range ops {
		for _, b := range op.Blowers {
			hottest = max(hottest, b.Discharge)
		}
		for _, b := range op.Branches {
			strongest = max(strongest, b.Start, b.End)
		}
	}
	unrated := false
	for _, b := range branches {
		for _, e := range b.Elements {
			if e.Kind != "hose" {
				continue
			}
			name := "The hose in " + b.Name
			switch {
			case !e.RatedTo.Known:
				unrated = true
			case hottest > e.RatedTo.V:
				add(relation.Caution, name+" bears less heat than the air has.", hottest.C(), e.RatedTo.V.C(), "degC")
			}
			switch {
			case !e.RatedFor.Known:
				unrated = true
			case strongest > e.RatedFor.V:
				add(relation.Caution, name+" bears less pressure than the blower gives.", float64(strongest), float64(e.RatedFor.V), "Pa")
			}
			if e.LeastRadius.Known && e.BentTo.Known && e.BentTo.V < e.LeastRadius.V {
				add(relation.Caution, name+" is bent more tightly than its maker allows.", float64(e.BentTo.V), float64(e.LeastRadius.V), "m")
			}
		}
	}
	if unrated {
		add(relation.Info, fmt.Sprintf("Choose hoses rated for at least %.0f degC and %.0f kPa.", math.Ceil(hottest.C()/10)*10+10, math.Ceil(float64(strongest)/5e3)*5+5), math.NaN(), math.NaN(), "")
	}
	return out
}

// DuctDewPoint is the temperature below which water condenses out of the air in a duct under pressure.
func DuctDewPoint(inlet air.Moist, duct q.Gauge) q.Temperature {
	return inlet.At(duct.Above(inlet.P), inlet.T).DewPoint()
}

// CondensesInDucts is the text of the note of Condensation.
const CondensesInDucts = "Water condenses in ducts that are as cold as the room, at every start: insulate them and drain their low points."

// Condensation notes that the air condenses in ducts colder than its dew point under pressure, when the room
// around them is: at start, or on a long way through a cold hall.
func Condensation(op Operation, inlet air.Moist, room q.Temperature) []relation.Note {
	var strongest q.Gauge
	for _, b := range op.Branches {
		strongest = max(strongest, b.Start)
	}
	dew := DuctDewPoint(inlet, strongest)
	if !(dew > room) {
		return nil
	}
	return []relation.Note{{
		Severity: relation.Caution, Relation: "",
		Text:  CondensesInDucts,
		Value: room.C(), Limit: dew.C(), Unit: "degC",
	}}
}
