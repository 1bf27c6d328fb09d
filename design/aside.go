package design

import (
	"fmt"
	"math"

	leste "leste"
	"leste/drying"
	"leste/job"
	q "leste/quantity"
)

// A sweat is a requirement that is broken by what condenses on the way from the last station to its machine, whatever
// the air does before.
type sweat struct {
	format  *formatGround
	machine *drying.Machine
	text    string // how much condenses where, and how much is allowed
}

// sweats finds what condenses beyond a requirement; when the line has stood on the way, or as it runs.
func (g *ground) sweats(stopped bool) *sweat {
	var worst *sweat
	most := 1.0
	for i := range g.formats {
		f := &g.formats[i]
		p := g.basis.Problem(i, 1, 0)
		if stopped {
			if p = g.basis.Restart(i); p == nil {
				continue
			}
		}
		for m := range p.Machines {
			machine := &p.Machines[m]
			w := drying.NewWater(p, 1)
			drying.Transit(p, w, machine.Travel)
			for r := range machine.Requires {
				req := &machine.Requires[r]
				kg, area := fogOn(p, w, req.Zone)
				value, limit, kind := kg, req.Mass, q.KindMass
				if !math.IsNaN(req.Water) {
					value, limit, kind = kg/area, req.Water, q.KindAreaMass
				}
				if over := value / limit; over > most {
					most = over
					digits := q.Telling(limit, 2, value)
					worst = &sweat{f, machine, fmt.Sprintf("%s condense on the %s of %s on its way to the %s, where %s is allowed",
						kind.FormatDigits(value, q.SI, digits), zoneWords(req.Zone), f.name, machineWords(machine), kind.FormatDigits(limit, q.SI, digits+1))}
				}
			}
		}
	}
	return worst
}

// fogOn is what has condensed on a zone [kg], and how large that is [m2].
func fogOn(p *drying.Problem, w *drying.Water, zone string) (kg, area float64) {
	s := p.Body.Surface
	for k, a := range s.Area {
		if zone == job.ZoneAll || s.Zones[s.Zone[k]] == zone {
			kg, area = kg+w.Fog[k]*a, area+a
		}
	}
	return kg, area
}

// machineWords is a machine's name, or its kind.
func machineWords(m *drying.Machine) string {
	if m.Name != "" {
		return m.Name
	}
	return m.Kind
}

// keptBeside says whether a result keeps everything but what the line's stops break.
func keptBeside(r *leste.Result) bool {
	for i := range r.Cases {
		if c := &r.Cases[i]; c.Name != leste.CaseRestart && c.Verdict == leste.NotMet {
			return false
		}
	}
	return stands(r) && airLacks(r) == ""
}

// wetnessBeside is the worst of the cases but that of a restart over what is asked of likely values; at most 1 is asked.
func wetnessBeside(r *leste.Result) float64 {
	worst := 0.0
	for i := range r.Cases {
		if c := &r.Cases[i]; c.Name != leste.CaseRestart && c.Reserve > 0 {
			worst = max(worst, settledReserve/c.Reserve)
		}
	}
	return worst
}

// lay makes the grounds of the search: of the places that the job has, and of two stations. What condenses after a stop
// of the line and breaks a requirement alone is set aside: no station does anything about it, and every candidate would
// look as bad as any other. Containers are still held against falling where the line stops. Limits that nobody gave and
// no air can keep are raised.
func (s *search) lay() (one *ground, second func() (*ground, error), err error) {
	places := func() *job.Job {
		j := bare(s.given)
		if s.aside != nil {
			j.Line.Stops = q.Known(false)
		}
		return j
	}
	build := func(j *job.Job) (*ground, error) {
		g, err := newGround(j, s.options.Sizes, s.parts)
		if err == nil && s.aside != nil {
			for i := range g.formats {
				g.formats[i].stops = true
			}
		}
		return g, err
	}
	if one, err = build(places()); err != nil {
		return nil, nil, err
	}
	if s.allow(one) {
		if one, err = build(places()); err != nil {
			return nil, nil, err
		}
	}
	if s.aside = one.sweats(true); s.aside != nil && one.sweats(false) != nil {
		s.aside = nil // it sweats as it runs, which is told before the search
	}
	if s.aside != nil {
		if one, err = build(places()); err != nil {
			return nil, nil, err
		}
	}
	return one, func() (*ground, error) { return build(twice(places())) }, nil
}
