package design

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	leste "leste"
	"leste/drying"
	"leste/job"
	q "leste/quantity"
)

// miss says what stands in the way of the closest station, and what would have to change: remedies of an assessment, and
// what follows from its cases and from what has condensed.
func (s *search) miss(ctx context.Context, f *Found) (*Miss, error) {
	m := &Miss{Concept: f.Concept, Binds: f.Fails, Over: math.NaN()}
	o := leste.Options{Workers: max(1, s.options.Workers), Parts: &s.parts}
	if s.options.quickOnly {
		o.Method = "quick"
	}
	r, err := leste.Assess(ctx, f.Job, o)
	if err != nil {
		return m, ctx.Err() // there is no air for it, which is what it fails on
	}
	worst := worstPlace(r)
	if worst == nil || worst.Reserve >= 1 {
		return m, nil // it falls, or only its band reaches beyond: water is not what stands in the way
	}
	m.Binds = worst.words()
	kind := map[string]q.Kind{"water": q.KindAreaMass, "mass": q.KindMass, "drop": q.KindLength, "rejects": q.KindRatio}[worst.Quantity]
	digits := q.Telling(worst.Limit, 2, worst.Value.Likely)
	m.Limit, m.Value = kind.FormatDigits(worst.Limit, q.SI, digits+1), kind.FormatDigits(worst.Value.Likely, q.SI, digits)
	if worst.Limit > 0 {
		m.Over = worst.Value.Likely / worst.Limit
	}
	m.Case = worst.Case
	m.Out = s.outOfReach(worst)
	m.Changes = changes(s.remedies(r, worst), r, m.Over, s.state.Goal)
	return m, nil
}

// changes are remedies with those of an assessment, the best first; those with which something gives way come after the
// others. Nothing that concerns the water is enough alone where something gives way, with it or as it is.
func changes(list []Remedy, r *leste.Result, over float64, goal string) []Remedy {
	for _, h := range r.Helps {
		list = append(list, Remedy{What: h.What, Left: h.Ratio, IsAir: h.Air, Alone: h.Ratio*over <= 1, Against: h.Against})
	}
	gives := !stands(r) || unsure(r, goal)
	for i := range list {
		list[i].Alone = list[i].Alone && !gives && len(list[i].Against) == 0
	}
	slices.SortStableFunc(list, func(a, b Remedy) int {
		return cmp.Or(cmp.Compare(min(len(a.Against), 1), min(len(b.Against), 1)), cmp.Compare(a.Left, b.Left))
	})
	return list
}

// place is a requirement with the format and the zone that it belongs to.
type place struct {
	*leste.RequirementResult
	format *leste.FormatResult
	zone   *leste.ZoneResult
}

// words say where a requirement holds: "330 mL can: the sidewall for the packer".
func (p *place) words() string {
	return fmt.Sprintf("%s: the %s for the %s", p.format.Name, zoneWords(p.zone.Name), p.Machine)
}

// worstPlace is the requirement with the least reserve; nil where there is none.
func worstPlace(r *leste.Result) *place {
	var worst *place
	for i := range r.Formats {
		for z := range r.Formats[i].Zones {
			zone := &r.Formats[i].Zones[z]
			for k := range zone.Requirements {
				if req := &zone.Requirements[k]; worst == nil || req.Reserve < worst.Reserve {
					worst = &place{req, &r.Formats[i], zone}
				}
			}
		}
	}
	return worst
}

// condensed is how much of what a requirement is judged by has condensed, in its unit; 0 where that is not told.
func (p *place) condensed() float64 {
	if p.Case != p.format.Case || p.Machine != p.format.Machine || !(p.zone.Left.Likely > 0) {
		return 0 // the parts are those of another case, or at another machine
	}
	if p.Quantity != "water" && p.Quantity != "mass" {
		return 0
	}
	return p.Value.Likely * p.zone.Parts[drying.CauseCondensation] / p.zone.Left.Likely
}

// withoutCase is what would have to be so that a case does not come, by its name.
var withoutCase = map[string]string{
	leste.CaseRestart: "keep the line from standing with containers between the station and the machine",
	"surge":           "keep the line from running faster than ordered",
	"touching":        "keep the containers apart under the station",
	"loaded filter":   "change the filter before it is loaded",
}

// remedies are those that follow from an assessment without another: without the case that is worst, and without what
// condenses.
func (s *search) remedies(r *leste.Result, worst *place) []Remedy {
	var out []Remedy
	const helps = 0.97 // of the water; less is not worth a word
	if what, known := withoutCase[worst.Case]; known {
		next := math.Inf(1)
		for i := range r.Cases {
			if c := &r.Cases[i]; c.Format == worst.format.Name && c.Name != worst.Case && !math.IsNaN(c.Reserve) {
				next = min(next, c.Reserve)
			}
		}
		if left := worst.Reserve / next; left < helps && !math.IsInf(next, 1) {
			out = append(out, Remedy{What: what, Left: left, Alone: next >= 1})
		}
	}
	if left := 1 - worst.condensed()/worst.Value.Likely; left < helps {
		out = append(out, Remedy{
			What: fmt.Sprintf("have the product no colder than %s, the dew point of the room, or the room so much drier", s.judges[0].concept.ground.dewPoint()),
			Left: left, Alone: left*worst.Value.Likely <= worst.Limit,
		})
	}
	return out
}

// outOfReach says how much of what is asked about no air takes off: it condenses after the last station, or lies under a
// container on a closed belt.
func (s *search) outOfReach(worst *place) string {
	const worth = 0.1 // of the limit
	if fog := worst.condensed(); fog >= worth*worst.Limit {
		kind := q.KindMass
		if worst.Quantity == "water" {
			kind = q.KindAreaMass
		}
		return fmt.Sprintf("%s of that condense on the way from the last station to the %s, in the case %s: no air at a station takes them off",
			kind.FormatDigits(fog, q.SI, q.Telling(worst.Limit, 2, fog)), worst.Machine, worst.Case)
	}
	if worst.Quantity != "mass" {
		return ""
	}
	g := s.judges[0].concept.ground
	most, name := 0.0, ""
	for i := range g.formats {
		if kg := g.formats[i].sheltered(); kg > most {
			most, name = kg, g.formats[i].name
		}
	}
	if most < worth*worst.Limit {
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
