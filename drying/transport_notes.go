package drying

import (
	"math"
	"slices"

	"leste/physics/relation"
	"leste/physics/water"
)

// notes says where the method is used beyond what it is good for.
func (r *transportRun) notes() []relation.Note {
	var notes []relation.Note
	add := func(n relation.Note) { notes = append(notes, n) }
	if r.width < r.cell {
		add(relation.Note{
			Severity: relation.Outside, Value: r.width, Limit: r.cell, Unit: "m",
			Text: "an impingement line is narrower than a cell of the wall's grid; use a finer grid",
		})
	}
	// Deeper than a wide puddle on a surface that does not wet, water is no film any more.
	deepest := float64(water.PuddleHeight(r.f.liquid, math.Pi/2))
	if thick := slices.Max(r.f.thick); thick > deepest {
		add(relation.Note{
			Severity: relation.Caution, Value: thick, Limit: deepest, Unit: "m",
			Text: "water gathers deeper than a film can be; how fast it runs there is an estimate",
		})
	}
	fastest := 0.0
	for i := range r.p.Passes {
		fastest = max(fastest, r.p.Passes[i].Speed)
	}
	const fast = 3 // m/s
	if fastest > fast {
		add(relation.Note{
			Severity: relation.Outside, Relation: "wiped-film", Value: fastest, Limit: fast, Unit: "m/s",
			Text: "the line is faster than films under jets were looked at; the water left is an extrapolation",
		})
	}
	if b := r.out.Balance; b.In > 0 && b.Mist > mistWorthNoting*b.In {
		add(relation.Note{
			Severity: relation.Info, Relation: "mist", Value: b.Mist / b.In, Limit: mistWorthNoting, Unit: "1",
			Text: "share of the water that is torn to mist; without an exhaust it settles on what is near",
		})
	}
	for i := range r.p.Body.Crevices {
		if c := &r.p.Body.Crevices[i]; c.Exit == exitBlind && r.f.reservoir[i].total() > 0 {
			add(relation.Note{
				Severity: relation.Caution, Relation: "crevice-clearing", Value: math.NaN(), Limit: math.NaN(),
				Text: c.Name + ": a crevice without a way out for the air is not cleared by any jet",
			})
		}
	}
	return notes
}

// mistWorthNoting is the share of the water as mist from which a result says so.
const mistWorthNoting = 0.02
