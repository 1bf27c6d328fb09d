package design

import (
	"context"
	"fmt"
	"math"

	leste "leste"
	"leste/job"
	q "leste/quantity"
)

// miss says what stands in the way of the closest station, and what would have to change.
func (s *search) miss(ctx context.Context, f *Found) (*Miss, error) {
	m := &Miss{Concept: f.Concept, Binds: f.Fails, Over: math.NaN()}
	r, err := leste.Assess(ctx, f.Job, leste.Options{Method: "quick", Cell: searchCell, Workers: max(1, s.options.Workers), Parts: &s.parts})
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return m, nil // there is no air for it, which is what it fails on
	}
	seen := f.Result
	if seen == nil {
		seen = r
	}
	where, req := worstRequirement(seen)
	if req == nil {
		return m, nil
	}
	m.Binds = where
	kind := map[string]q.Kind{"water": q.KindAreaMass, "mass": q.KindMass, "drop": q.KindLength, "rejects": q.KindRatio}[req.Quantity]
	digits := q.Telling(req.Limit, 2, req.Value.Likely)
	m.Limit, m.Value = kind.FormatDigits(req.Limit, q.SI, digits+1), kind.FormatDigits(req.Value.Likely, q.SI, digits)
	if req.Limit > 0 {
		m.Over = req.Value.Likely / req.Limit
	}
	m.Out = s.outOfReach(req)
	for _, h := range r.Helps {
		m.Changes = append(m.Changes, Remedy{What: h.What, Left: h.Ratio, IsAir: h.Air, Alone: h.Ratio*m.Over <= 1})
	}
	return m, nil
}

// worstRequirement is the requirement with the least reserve, and where.
func worstRequirement(r *leste.Result) (where string, worst *leste.RequirementResult) {
	for i := range r.Formats {
		for z := range r.Formats[i].Zones {
			for k := range r.Formats[i].Zones[z].Requirements {
				if req := &r.Formats[i].Zones[z].Requirements[k]; worst == nil || req.Reserve < worst.Reserve {
					worst, where = req, placeOf(&r.Formats[i], z, k)
				}
			}
		}
	}
	return where, worst
}

// placeOf says where a requirement holds: "330 mL can: the sidewall for the packer".
func placeOf(f *leste.FormatResult, zone, requirement int) string {
	z := &f.Zones[zone]
	return fmt.Sprintf("%s: the %s for the %s", f.Name, zoneWords(z.Name), z.Requirements[requirement].Machine)
}

// outOfReach says how much of a mass asked about lies where no air of any station reaches: under a container on a
// closed belt.
func (s *search) outOfReach(req *leste.RequirementResult) string {
	if req.Quantity != "mass" {
		return ""
	}
	g := s.judges[0].concept.ground
	most, name := 0.0, ""
	for i := range g.formats {
		if kg := g.formats[i].sheltered(); kg > most {
			most, name = kg, g.formats[i].name
		}
	}
	const worth = 0.1 // of the limit
	if most < worth*req.Limit {
		return ""
	}
	return fmt.Sprintf("%s of what %s brings stays under it, where no air reaches on a closed belt", q.KindMass.FormatDigits(most, q.SI, 2), name)
}

// sheltered is the water that arrives on walls that face down on a closed belt [kg].
func (f *formatGround) sheltered() float64 {
	if !f.plan.Stations[0].Belt {
		return 0
	}
	s := f.plan.Body.Surface
	sum := 0.0
	for k, n := range s.Normal {
		const down = -0.5
		if n.Z < down && (s.Zones[s.Zone[k]] == job.ZoneBase || s.Zones[s.Zone[k]] == job.ZoneDome) {
			sum += s.Area[k] * f.problem.Arrives.Drops
		}
	}
	return sum
}
