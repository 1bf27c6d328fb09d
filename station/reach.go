package station

import (
	"fmt"
	"math"

	"leste/physics/jet"
	"leste/physics/relation"
)

// farthest is the distance to which a jet is followed: beyond it nothing is left that moves water.
const farthest = 1.5

// reach finds the positions of the container's axis between which any jet comes near the body.
func (e *Exposer) reach() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	h := e.body.shape
	for i := range e.sources {
		s := &e.sources[i]
		ends := []float64{-s.length / 2, 0, s.length / 2}
		for _, z := range ends {
			o := s.mid.along(z, s.l)
			const steps = 128
			for k := 0; k <= steps; k++ {
				t := farthest * float64(k) / steps
				p := o.along(t, s.a)
				wide := nearJet*t + 0.25*t*math.Abs(s.l.X) // half width of the jet, and what spreads past the ends
				if p.Z < h.low-wide || p.Z > h.high+wide {
					continue
				}
				r := h.radius + wide
				if q := r*r - p.Y*p.Y; q > 0 {
					q = math.Sqrt(q)
					from, to = math.Min(from, p.X-q), math.Max(to, p.X+q)
				}
			}
		}
	}
	return from, to
}

// rangeNotes says where a jet lies outside the range of its relations.
func rangeNotes(p *Placed, s *source, choked bool) []relation.Note {
	var out []relation.Note
	say := func(sev relation.Severity, card, text string, value, limit float64, unit string) {
		out = append(out, relation.Note{Severity: sev, Relation: card, Text: p.Name + ": " + text, Value: value, Limit: limit, Unit: unit})
	}
	if choked {
		say(relation.Caution, "discharge", "the jet leaves at the speed of sound; how it decays is not validated there", s.pg/1e3, float64(math.Round(89.3)), "kPa")
	}
	if s.round {
		re := s.exit * p.Bore / s.nu
		switch {
		case re < 5e3:
			say(relation.Outside, "round-jet", "the jet is not reliably turbulent", re, 5e3, "1")
		case re > 4.5e5:
			say(relation.Outside, "wall-shear", "the jet's Reynolds number is above the range of the wall shear", re, 4.5e5, "1")
		case re > 1e5:
			say(relation.Caution, "wall-shear", "the likely wall shear may be up to a third too low", re, 1e5, "1")
		}
		return out
	}
	re := s.exit * p.Gap / s.nu
	switch {
	case re < 2e3:
		say(relation.Outside, "plane-jet", "the jet is not reliably turbulent", re, 2e3, "1")
	case re < 5e3:
		say(relation.Caution, "plane-jet", "the decay of a jet this slow or thin is sure to 20 % only", re, 5e3, "1")
	case re > 4e4:
		say(relation.Caution, "wall-shear", "the jet's Reynolds number is above the range of the wall shear", re, 4e4, "1")
	}
	return out
}

// checkCurvature notes where the wall is curved too much for relations of flat walls.
func (e *Exposer) checkCurvature() []relation.Note {
	var out []relation.Note
	for i := range e.sources {
		s := &e.sources[i]
		p := &e.scene.Outlets[s.index]
		if s.smeared || !(p.StandOff > 0) {
			continue
		}
		at := jet.PlaneShearX
		if s.round {
			at = jet.RoundShearX
		}
		if x, r := at*p.StandOff, e.body.shape.radius; r < 2*x {
			out = append(out, relation.Note{
				Severity: relation.Caution, Relation: "wall-shear",
				Text:  fmt.Sprintf("%s: the wall is curved too tightly for its distance; the wall shear is an indication", p.Name),
				Value: r * 1e3, Limit: 2 * x * 1e3, Unit: "mm",
			})
		}
	}
	return out
}
