package drying

import (
	"slices"

	"leste/physics/water"
)

// saved is all water of a flow at one moment.
type saved struct {
	h, age, first, fog []float64
	stuck, moving      []amounts
	beads              [][]float64
	pieces             [][]water.PushedWater
	film, recess       [][]float64
	lost               []Moved
	rims               Moved
	draws              []uint8
}

// save copies the water.
func (f *flow) save() *saved {
	s := &saved{
		h: slices.Clone(f.film.h), age: slices.Clone(f.age), first: slices.Clone(f.first),
		stuck: slices.Clone(f.drops.stuck), moving: slices.Clone(f.drops.moving), fog: slices.Clone(f.fog),
		lost: slices.Clone(f.lost), rims: f.rims.lost, draws: slices.Clone(f.draws),
	}
	for i := range f.rims.list {
		s.beads = append(s.beads, slices.Clone(f.rims.list[i].bead))
	}
	for i := range f.reservoir {
		s.pieces = append(s.pieces, slices.Clone(f.reservoir[i].pieces))
		s.film = append(s.film, slices.Clone(f.reservoir[i].film))
	}
	for i := range f.recess {
		s.recess = append(s.recess, slices.Clone(f.recess[i].water))
	}
	return s
}

// restore puts the water back as it was saved, in still air.
func (f *flow) restore(s *saved) {
	copy(f.film.h, s.h)
	copy(f.age, s.age)
	copy(f.first, s.first)
	copy(f.drops.stuck, s.stuck)
	copy(f.drops.moving, s.moving)
	copy(f.fog, s.fog)
	copy(f.lost, s.lost)
	f.rims.lost = s.rims
	for i := range f.rims.list {
		copy(f.rims.list[i].bead, s.beads[i])
	}
	for i := range f.reservoir {
		copy(f.reservoir[i].pieces, s.pieces[i])
		copy(f.reservoir[i].film, s.film[i])
	}
	for i := range f.recess {
		copy(f.recess[i].water, s.recess[i])
	}
	copy(f.draws, s.draws)
	f.film.refresh(0, f.g.rows)
	f.drops.recount()
}
