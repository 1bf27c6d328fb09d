package station

import (
	"fmt"
	"math"

	"leste/physics/jet"
	"leste/physics/relation"
)

// Widths that count for the reach, over the distance: of a jet to the side (0.2 % of its pressure is left), and
// past the end of a slot.
const (
	farthest  = 1.5 // m, to which a jet along travel is followed
	sideWidth = 0.4
	pastEnd   = 0.2
)

// reach finds the positions of the container's axis between which any jet comes near the body.
func (e *Exposer) reach() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	h := e.body.shape
	middle := Vec{0, 0, (h.low + h.high) / 2}
	for i := range e.sources {
		s := &e.sources[i]
		end := pastEnd
		if s.round {
			end = sideWidth
		}
		wideX := sideWidth*math.Abs(s.across.X) + end*math.Abs(s.l.X)
		wideZ := sideWidth*math.Abs(s.across.Z) + end*math.Abs(s.l.Z)
		const spots, steps = 9, 64
		for k := range spots {
			o := s.mid.along(s.length*(float64(k)/(spots-1)-0.5), s.l)
			// The jet counts up to where it passes the line of the bodies' middles; what lies beyond is in the lee.
			last := farthest
			if yz := 1 - s.a.X*s.a.X; yz > 1e-6 {
				last = math.Min(last, Vec{0, -o.Y, middle.Z - o.Z}.dot(s.a)/yz)
			}
			for m := 0; m <= steps; m++ {
				t := last * float64(m) / steps
				p := o.along(t, s.a)
				if t < 0 || p.Z < h.low-wideZ*t || p.Z > h.high+wideZ*t {
					continue
				}
				r := h.radius + sideWidth*t*math.Abs(s.across.Y)
				if q := r*r - p.Y*p.Y; q > 0 {
					q = math.Sqrt(q) + wideX*t
					from, to = math.Min(from, p.X-q), math.Max(to, p.X+q)
				}
			}
		}
	}
	return from, to
}

// rangeNotes says where a jet lies outside the range of its relations.
func rangeNotes(p *Placed, s *source, ambient float64, choked bool) []relation.Note {
	var out []relation.Note
	say := func(sev relation.Severity, card, text string, value, limit float64, unit string) {
		out = append(out, relation.Note{Severity: sev, Relation: card, Text: p.Name + ": " + text, Value: value, Limit: limit, Unit: unit})
	}
	if choked {
		say(relation.Caution, "discharge", "the jet leaves at the speed of sound; how it decays is not validated there", s.pg/1e3, (1/float64(jet.DryAir().CriticalRatio())-1)*ambient/1e3, "kPa")
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
