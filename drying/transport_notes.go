package drying

import (
	"context"
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
			Severity: relation.Outside, Value: 1e3 * r.width, Limit: 1e3 * r.cell, Unit: "mm",
			Text: "an impingement line is narrower than a cell of the wall's grid; use a finer grid",
		})
	}
	// Deeper than a wide puddle on a surface that does not wet, water is no film any more.
	deepest := float64(water.PuddleHeight(r.f.liquid, math.Pi/2))
	if thick := slices.Max(r.f.thick); thick > deepest {
		add(relation.Note{
			Severity: relation.Caution, Value: 1e3 * thick, Limit: 1e3 * deepest, Unit: "mm",
			Text: "water gathers deeper than a film can be; how fast it runs there is an estimate",
		})
	}
	if b := r.out.Balance; b.In > 0 && b.Mist > mistWorthNoting*b.In {
		add(relation.Note{
			Severity: relation.Info, Relation: "mist", Value: 100 * b.Mist / b.In, Limit: 100 * mistWorthNoting, Unit: "%",
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

// compare gives every result its band, from the quick method's closed forms, and says why the two methods
// differ where they do by more than either allows for itself.
func (o *Outcome) compare(ctx context.Context, p *Problem) error {
	seen, err := look(ctx, p)
	if err != nil {
		return err
	}
	r := newRun(p, seen)
	if err := r.all(ctx); err != nil {
		return err
	}
	spreads, err := r.spreads(ctx)
	if err != nil {
		return err
	}
	spreads.Widen(p, o)
	here, quick := o.After.Total.Likely, r.after.Total.Likely
	if here <= 0 || quick <= 0 || (here < quick*waterFloor && quick < here*waterFloor) {
		return nil
	}
	// The zone that makes the difference.
	zone, most := 0, 0.0
	for i := range o.After.Zones {
		if d := math.Abs(o.After.Zones[i].Left.Likely - r.after.Zones[i].Left.Likely); d > most {
			zone, most = i, d
		}
	}
	z := &o.After.Zones[zone]
	why := "film draws back and drops are swept on behind the impingement line, which the closed forms do not follow"
	switch {
	case z.Left.Likely > r.after.Zones[zone].Left.Likely:
		why = "water that the air moved gathers there (" + z.Where + "), which the closed forms spread or send off the container"
	case z.Pool+z.Trapped+r.after.Zones[zone].Pool+r.after.Zones[zone].Trapped > z.Film+z.Drops+r.after.Zones[zone].Film+r.after.Zones[zone].Drops:
		why = "trapped water and pools see the pressure at each moment, not its largest value"
	}
	o.Notes = append(o.Notes, relation.Note{
		Severity: relation.Info, Value: 1e6 * here, Limit: 1e6 * quick, Unit: "mg",
		Text: "the quick method finds another amount right after the last station, mostly on the " + z.Zone + ": " + why,
	})
	return nil
}
