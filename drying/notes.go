package drying

import (
	"math"

	"leste/physics/relation"
	"leste/physics/water"
)

// notes says what of the water the air does not get at. Where the problem lies outside the ranges of the relations is
// said by whoever poses it.
func (r *run) notes() []relation.Note {
	var notes []relation.Note
	add := func(n relation.Note) { notes = append(notes, n) }
	if share := r.unreached(); share > 0.02 {
		add(relation.Note{
			Severity: relation.Caution, Text: "share of the wall that no air reaches; its water stays as it arrived",
			Value: 100 * share, Limit: 2, Unit: "%",
		})
	}
	if mist := r.moved.Mist; r.in > 0 && mist > 0.02*r.in {
		add(relation.Note{
			Severity: relation.Info, Relation: "mist", Value: 100 * mist / r.in, Limit: 2, Unit: "%",
			Text: "share of the water that is torn to mist; without an exhaust it settles on what is near",
		})
	}
	for i, c := range r.p.Body.Crevices {
		if c.Exit == exitBlind && r.water.Trapped[i] > 0 {
			add(relation.Note{
				Severity: relation.Caution, Relation: "crevice-clearing", Value: math.NaN(), Limit: math.NaN(),
				Text: c.Name + ": a crevice without a way out for the air is not cleared by any jet",
			})
		}
	}
	for _, pool := range r.p.Body.Pools {
		needs := float64(water.PoolPressure(r.chain.liquid, 1)) * pool.Depth
		if pool.FacesUp && r.p.Arrives.PoolsFull > 0 && r.poolPress(pool.Name) < needs {
			add(relation.Note{
				Severity: relation.Caution, Relation: "pool", Value: r.poolPress(pool.Name), Limit: needs, Unit: "Pa",
				Text: pool.Name + ": the air does not press hard enough to lift the water out of the recess",
			})
		}
	}
	return notes
}

// unreached is the share of the wall that no sweep reaches in any pass.
func (r *run) unreached() float64 {
	if len(r.seen) == 0 {
		return 0
	}
	dry, all := 0.0, 0.0
	for k, a := range r.p.Body.Surface.Area {
		all += a
		reached := false
		for _, s := range r.seen {
			reached = reached || len(s.of(k)) > 0
		}
		if !reached {
			dry += a
		}
	}
	return dry / all
}

// poolPress is the greatest pressure on a pool in any pass.
func (r *run) poolPress(name string) float64 {
	most := 0.0
	for i := range r.p.Body.Pools {
		if r.p.Body.Pools[i].Name != name {
			continue
		}
		for _, s := range r.seen {
			for _, row := range s.Pools[i] {
				for _, p := range row {
					most = max(most, float64(p))
				}
			}
		}
	}
	return most * r.p.Settings.Pressure
}
