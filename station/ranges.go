package station

import (
	"leste/physics"
	"leste/physics/jet"
	"leste/physics/relation"
)

// rangeNotes says where an outlet lies outside the ranges of the relations about its jet. cv is its velocity
// coefficient; the Reynolds numbers are taken, as those of the ranges, with the room's viscosity.
func rangeNotes(p *Placed, s *source, oa OutletAir, cv float64) []relation.Note {
	var out []relation.Note
	check := func(id, symbol string, value float64) {
		for _, n := range physics.Cards().Check(id, symbol, value) {
			n.Text = p.Name + ": " + n.Text
			out = append(out, n)
		}
	}
	ambient := float64(oa.Ambient)
	ratio := ambient / (ambient + s.pg)
	check("discharge", "r", ratio)
	if len(out) == 0 {
		check("discharge", "pg", s.pg)
	}
	check("discharge", "T0", float64(oa.Stagnation))
	check("thrust", "cv", cv)
	far := p.StandOff > 0 // an outlet that misses has no distance
	if s.round {
		re := s.exit * p.Bore / s.nu
		check("round-jet", "re_d", re)
		if re >= turbulentNozzle {
			check("wall-shear", "re_d", re)
		}
		if far && len(s.ports) > 1 && p.Spacing > 0 {
			check("nozzle-row", "x_s", p.StandOff/p.Spacing)
		}
		if far {
			check("round-jet", "x_d", p.StandOff/p.Bore)
			check("impact-pressure", "h_b", p.StandOff/p.Bore)
		}
		return out
	}
	re := s.exit * p.Gap / s.nu
	check("plane-jet", "re_b", re)
	check("plane-jet", "l_b", p.Length/p.Gap)
	if re >= turbulentSlot {
		check("wall-shear", "re_b", re)
	}
	if far {
		check("plane-jet", "x_b", p.StandOff/p.Gap)
		check("impact-pressure", "h_b", p.StandOff/p.Gap)
	}
	return out
}

// Reynolds numbers from which jets are surely turbulent; cards plane-jet and round-jet. Below, the jet itself is in
// doubt and says so; what it does to a wall need not be said as well.
const (
	turbulentSlot   = 5e3
	turbulentNozzle = 1e4
)

// checkCurvature says where the wall is curved too much for relations of flat walls.
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
		for _, n := range physics.Cards().Check("wall-shear", "rx", e.body.shape.radius/(at*p.StandOff)) {
			n.Text = p.Name + ": " + n.Text
			out = append(out, n)
		}
	}
	return out
}
