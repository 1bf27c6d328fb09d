package design

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"leste/airsupply"
	"leste/drying"
	"leste/job"
	q "leste/quantity"
)

// codeDesign is the code of what makes a search pointless.
const codeDesign = "design"

// before says what cannot be had whatever is tried, before anything is searched: a space that no outlet fits, a
// catalogue without a fitting blower, requirements that contradict the line or the limits of the air.
func (s *search) before(ctx context.Context) (job.Problems, error) {
	var out job.Problems
	say := func(path, text, want string) {
		out = append(out, job.Problem{Path: path, Code: codeDesign, Text: text, Want: want})
	}
	s.stopped(say)
	if !s.asked() {
		say("/next", "no machine asks for any format to be dry, so that every station would do", "say under next which machine follows and what it tolerates")
		return out, nil
	}
	s.contradictions(say)
	if !s.fits() {
		path, want := "/site/space", "widen the space, or allow shorter outlets or smaller clearances"
		if s.given.Site.Space == nil {
			path, want = "/line", "make room between rails, grips and obstacles, or allow shorter outlets or smaller clearances"
		}
		say(path, fmt.Sprintf("no outlet fits: none of %d places tried for each kind of station is free of the belt, rails, obstacles and the space given", fitTries), want)
		return out, nil // without a place there is no air to ask for
	}
	why, err := s.blows(ctx)
	if err != nil {
		return nil, err
	}
	if why != "" {
		if len(s.given.AirSupply.Blowers) > 0 {
			say("/air_supply/blowers", "the blower of the job fits no station: "+why, "name another one, or none, so that one of the catalogue is taken")
		} else {
			say("/air_supply/blowers", "no blower of the catalogue fits any station: "+why, "add a blower to the catalogue, or name one in the job")
		}
	}
	return out, nil
}

// stopped are the reasons to make no promise at all.
func (s *search) stopped(say func(path, text, want string)) {
	if s.given.Site.Flammable {
		say("/site/flammable_vapour", "vapour of solvent or alcohol may be present: no station is proposed", "ask a specialist for explosive atmospheres")
	}
	for i := range s.given.Formats {
		if f := &s.given.Formats[i]; f.Content == "open" {
			say(fmt.Sprintf("/formats/%d/content", i), f.Name+" is filled and open: air would reach the product", "close it before the station")
		}
	}
}

// asked says whether any format has a requirement to meet.
func (s *search) asked() bool {
	return slices.ContainsFunc(s.judges[0].concept.ground.formats, func(f formatGround) bool { return len(f.demands) > 0 })
}

// contradictions looks for requirements that nothing can meet.
func (s *search) contradictions(say func(path, text, want string)) {
	g := s.judges[0].concept.ground
	const no = q.Gauge(20) // Pa, air that moves no water
	for i, l := range s.given.Limits {
		if !l.Pressure.Known || l.Pressure.V > no {
			continue
		}
		for k := range g.formats {
			for _, d := range g.formats[k].demands {
				if l.Zone == job.ZoneAll || l.Zone == d.zone {
					say(fmt.Sprintf("/limits/%d/pressure", i), fmt.Sprintf("at most %s of air may press on the zone %q, and %s is to be dry: air that weak moves no water", q.Format(l.Pressure.V, q.SI), l.Zone, d.text),
						"raise the limit, or leave the requirement out")
					return
				}
			}
		}
	}
	if w := g.sweats(false); w != nil {
		say(fmt.Sprintf("/next/%d/requires", s.indexOf(w.machine)), w.text+": no air at a station takes that off",
			fmt.Sprintf("bring the product to %s, the dew point of the room, dry its air, or move the machine nearer", g.dewPoint()))
		return
	}
	for i := range g.formats {
		f := &g.formats[i]
		for _, d := range f.demands {
			r := f.problem.Machines[d.machine].Requires[d.require]
			if d.zone != job.ZoneAll || !(r.Mass > 0) {
				continue
			}
			if out := f.sheltered(); out > r.Mass {
				say(fmt.Sprintf("/next/%d/requires", s.indexOf(&f.problem.Machines[d.machine])), fmt.Sprintf("%s may carry %s, but %s lie under it, where no air reaches on a closed belt",
					f.name, q.KindMass.FormatDigits(r.Mass, q.SI, 2), q.KindMass.FormatDigits(out, q.SI, 2)),
					"say that the belt is open, grip the containers at their sides, or ask for the zones that matter")
				return
			}
		}
	}
}

// dewPoint is that of the room, written.
func (g *ground) dewPoint() string {
	return q.KindTemperature.FormatDigits(float64(g.room.DewPoint()), q.SI, 4)
}

// indexOf is the index in the job of a machine.
func (s *search) indexOf(m *drying.Machine) int {
	for i := range s.given.Next {
		if n := &s.given.Next[i]; n.Machine == m.Kind && n.Name == m.Name {
			return i
		}
	}
	return 0
}

// fitTries is how many places of each kind of station are tried.
const fitTries = 400

// fits says whether any arrangement of any concept stands free.
func (s *search) fits() bool {
	for _, j := range s.judges {
		c := j.concept
		points := append([][]float64{c.rule()}, scatter(s.options.Seed, c.name, fitTries, len(c.variables))...)
		for _, x := range points {
			a := c.arrange(x)
			if c.ground.misfit(&a) == 0 {
				return true
			}
		}
	}
	return false
}

// blows says why no arrangement gets air; "" when one does. Of a blower that is too large for all of them it tells what the
// largest openings let it have, of others what the smallest ask for.
func (s *search) blows(ctx context.Context) (string, error) {
	const empty = "it is empty"
	why := empty
	for _, j := range s.judges {
		for _, x := range [][]float64{j.concept.opened(1), j.concept.rule(), j.concept.opened(0)} {
			a := j.concept.arrange(x)
			for _, pressure := range []float64{20e3, 10e3, 5e3, 2e3} {
				_, err := j.concept.ground.supply(ctx, a.job(pressure))
				var refusal *airsupply.Refusal
				switch {
				case err == nil:
					return "", nil
				case !errors.As(err, &refusal):
					return "", err
				case why == empty || !refusal.TooLittle:
					why = err.Error()
				}
			}
		}
	}
	return why, nil
}

// opened is the point with the smallest openings, 0, or the largest, 1.
func (c *concept) opened(size float64) []float64 {
	x := c.rule()
	for _, g := range c.groups {
		for _, k := range []coordinate{g.length, g.gap, g.bore} {
			if k.variable >= 0 {
				x[k.variable] = size
			}
		}
		if g.spacing.variable >= 0 {
			x[g.spacing.variable] = 1 - size
		}
	}
	return x
}
