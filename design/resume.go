package design

import "slices"

// sound says whether a saved state has the shape of one that this search writes: files are cut and edited, and what is
// missing in one would be reached for.
func (s *search) sound(r *State) bool {
	n := len(s.judges)
	known := func(list []int) bool {
		return !slices.ContainsFunc(list, func(i int) bool { return i < 0 || i >= n })
	}
	if r.Phase < 0 || r.Phase > phaseDone || r.Goal != GoalLikely && r.Goal != GoalMet || len(r.Populations) != n ||
		!known(r.Order) || !known(r.Done) || !known(r.Confirmed) || !known(r.Failed) ||
		len(r.Order) != 0 && (len(r.Order) != n || len(r.Lent) != n) {
		return false
	}
	if w := &r.Whole; w.Best.X != nil && (w.Concept < 0 || w.Concept >= n || len(w.Best.X) != len(s.judges[w.Concept].concept.variables)) {
		return false
	}
	for i := range r.Populations {
		c := s.judges[i].concept
		if !r.Populations[i].sound(c) || len(r.Order) != 0 && r.Lent[i].X != nil && len(r.Lent[i].X) != len(c.variables) {
			return false
		}
	}
	return true
}

// sound says whether a population may be one of a concept.
func (p *Population) sound(c *concept) bool {
	formats := c.ground.formats
	if p.Concept != c.name || p.Round < 0 || len(p.Sights) != len(formats) ||
		len(p.Kernels.Water.Scales) != len(p.Kernels.Used) || len(p.Kernels.Holds.Scales) != len(p.Kernels.Used) {
		return false
	}
	for f := range formats {
		if len(p.Sights[f]) != len(formats[f].demands) {
			return false
		}
	}
	for i := range p.Members {
		if len(p.Members[i].X) != len(c.variables) {
			return false
		}
	}
	return !slices.ContainsFunc(p.Samples, func(k Sample) bool { return !k.sound(c) })
}

// sound says whether a sample may be one of a concept.
func (k *Sample) sound(c *concept) bool {
	formats := c.ground.formats
	if len(k.X) != len(c.variables) || len(k.Formats) != len(formats) {
		return false
	}
	for f := range k.Formats {
		seen := &k.Formats[f]
		if len(seen.At) != len(seen.Water) {
			return false
		}
		for _, row := range seen.Water {
			if len(row) != len(formats[f].demands) {
				return false
			}
		}
	}
	return true
}
