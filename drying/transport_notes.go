package drying

import (
	"context"
	"fmt"
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

// Explain says in a note why the quick method's closed forms answer p otherwise than the outcome of the transport
// method does, where the two differ by more than either allows for itself.
func Explain(ctx context.Context, p *Problem, o *Outcome) error {
	r, err := quickly(ctx, p, 1)
	if err != nil {
		return err
	}
	return r.explain(ctx, o)
}

// explain is Explain for who has gone through the closed forms already.
func (r *run) explain(ctx context.Context, o *Outcome) error {
	// The zone that makes the difference.
	zone, most := 0, 0.0
	for i := range o.After.Zones {
		if d := math.Abs(o.After.Zones[i].Left.Likely - r.after.Zones[i].Left.Likely); d > most {
			zone, most = i, d
		}
	}
	here, quick := &o.After, &r.after
	if most < worthSaying*max(here.Total.Likely, quick.Total.Likely) ||
		!farApart(here.Total.Likely, quick.Total.Likely) && !farApart(here.Zones[zone].Left.Likely, quick.Zones[zone].Left.Likely) {
		return nil
	}
	why, err := r.differs(ctx, zone, &o.After.Zones[zone])
	if err != nil {
		return err
	}
	o.Notes = append(o.Notes, relation.Note{
		Severity: relation.Info, Value: math.NaN(), Limit: math.NaN(),
		Text: fmt.Sprintf("followed in time the container keeps %s mg right after the last station, by the quick method's closed forms %s mg; most of the difference is on the %s (%s and %s mg): %s",
			milligrams(here.Total.Likely), milligrams(quick.Total.Likely), here.Zones[zone].Zone,
			milligrams(here.Zones[zone].Left.Likely), milligrams(quick.Zones[zone].Left.Likely), why),
	})
	return nil
}

// worthSaying is the share of a container's water by which a zone must differ before a result says why.
const worthSaying = 0.1

// farApart says that two amounts differ by more than either method allows for itself.
func farApart(a, b float64) bool { return a > b*waterFloor || b > a*waterFloor }

// differs says why a zone keeps another amount when its water is followed in time.
func (r *run) differs(ctx context.Context, zone int, followed *ZoneWater) (string, error) {
	z := &r.after.Zones[zone]
	if z.Pool+z.Trapped+followed.Pool+followed.Trapped > z.Film+z.Drops+followed.Film+followed.Drops {
		return "trapped water and pools see the pressure at each moment, not its largest value", nil
	}
	if followed.Left.Likely > z.Left.Likely {
		return fmt.Sprintf("water that the air moved gathers there (%s), which the closed forms spread or send off the container", followed.Where), nil
	}
	lines := 0.0
	if n := len(r.landed); n > 0 {
		for _, l := range r.landed[n-1] {
			if int(r.p.Body.Surface.Zone[l.cell]) == zone {
				r.chain.settle(l, r.wall(l.cell), r.p.Body.Height, func(d Drops) { lines += d.Mass })
			}
		}
	}
	alone := newRun(r.p, r.seen)
	alone.chain.alone, alone.workers = true, r.workers
	if err := alone.all(ctx); err != nil {
		return "", err
	}
	trail := z.Left.Likely - alone.after.Zones[zone].Left.Likely
	switch least := (z.Left.Likely - followed.Left.Likely) / 3; {
	case lines > trail && lines > least:
		return fmt.Sprintf("the closed forms leave %s mg lying where the air comes together (%s); followed in time, the air along that line takes it away",
			milligrams(lines), z.Where), nil
	case trail > least:
		return fmt.Sprintf("in the closed forms a ridge rides with the impingement line and leaves %s mg behind; followed in time, drops run ahead of the line and leave over an edge before it comes",
			milligrams(trail)), nil
	}
	return "film breaks and drops run on at each moment, for which the closed forms take one length and one share", nil
}
