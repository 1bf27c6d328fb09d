package design

import (
	"context"
	"slices"
)

// descent says how a member is moved downhill.
type descent struct {
	from   int     // member
	budget int     // candidates, about
	first  float64 // step of a coordinate to begin with
	late   bool    // the late variables move too
}

// descend moves a member along single coordinates, each with a step that grows where it helps and shrinks where it
// does not, and after each round as far again as the round went: pattern search after Hooke and Jeeves (J. ACM 8
// (1961) 212). It ends when no step that can be set helps.
func (s *search) descend(ctx context.Context, p *Population, j *judge, d descent) error {
	c := j.concept
	active := c.active(d.late)
	if d.from >= len(p.Members) || len(active) == 0 {
		return nil
	}
	best := p.Members[d.from]
	keep := j.eye == eyeFollowed // of the best what was seen, as that is dear
	if keep {
		defer func() { j.known = nil }()
		now, err := s.judgeAll(ctx, j, []work{{x: best.X, guess: best.Pressure}})
		if err != nil {
			return err
		}
		p.Judged++
		best, j.known = now[0].ind, now[0].looks
	}
	steps := make([]float64, len(c.variables))
	for _, k := range active {
		steps[k] = max(d.first, c.variables[k].stride())
	}
	// try judges points against the best, moves to the best of them and says which were better.
	try := func(points ...[]float64) ([]bool, error) {
		better := make([]bool, len(points))
		var list []work
		var of []int
		for i, x := range points {
			if x != nil && c.differ(x, best.X) {
				list, of = append(list, work{x: x, guess: best.Pressure, rival: &best}), append(of, i)
			}
		}
		results, err := s.judgeAll(ctx, j, list)
		if err != nil {
			return nil, err
		}
		p.Judged += len(list)
		next := -1
		for i, r := range results {
			if r.lost || !r.ind.better(&best) {
				continue
			}
			better[of[i]] = true
			if next < 0 || r.ind.better(&results[next].ind) {
				next = i
			}
		}
		if next >= 0 {
			best = results[next].ind
			if keep {
				j.known = results[next].looks
			}
		}
		return better, nil
	}
	const longer, shorter = 1.7, 0.45
	end := p.Judged + d.budget
	for round := 0; p.Judged < end; round++ {
		rng := random(s.options.Seed, c.name, "descent", p.Judged, d.from)
		before, moved, coarse := best.X, false, false
		order := rng.Perm(len(active))
		for n := 0; n < len(order) && p.Judged < end; n += abreast {
			var points [][]float64
			for _, at := range order[n:min(n+abreast, len(order))] {
				k := active[at]
				points = append(points, c.step(best.X, k, steps[k]), c.step(best.X, k, -steps[k]))
			}
			better, err := try(points...)
			if err != nil {
				return err
			}
			for i, at := range order[n:min(n+abreast, len(order))] {
				k := active[at]
				stride := c.variables[k].stride()
				if better[2*i] || better[2*i+1] {
					moved = true
					steps[k] = min(steps[k]*longer, 0.5)
					continue
				}
				coarse = coarse || steps[k] > stride*(1+1e-9)
				steps[k] = max(steps[k]*shorter, stride)
			}
		}
		if moved {
			further := slices.Clone(best.X)
			for _, k := range active {
				further[k] = min(max(2*best.X[k]-before[k], 0), 1)
			}
			if _, err := try(further); err != nil {
				return err
			}
		}
		if !moved && !coarse {
			break
		}
	}
	p.Members[d.from] = best
	sortMembers(p.Members)
	return nil
}

// abreast is the number of coordinates that are tried at once, so that several cores have work.
const abreast = 2

// step moves one coordinate, at least by what changes its value.
func (c *concept) step(x []float64, k int, by float64) []float64 {
	v := &c.variables[k]
	out := slices.Clone(x)
	out[k] = min(max(v.at(v.value(x[k]))+by, 0), 1)
	return out
}

// differ says whether two points stand for different values.
func (c *concept) differ(a, b []float64) bool {
	for i := range c.variables {
		if v := &c.variables[i]; v.value(a[i]) != v.value(b[i]) {
			return true
		}
	}
	return false
}

// fitted moves a point, but for one of its coordinates, to where its outlets fit: by the step that helps most, again and
// again. Where none helps it ends.
func (c *concept) fitted(x []float64, but int) []float64 {
	misfit := func(x []float64) float64 {
		a := c.arrange(x)
		return c.ground.misfit(&a)
	}
	const most = 40
	x = slices.Clone(x)
	now := misfit(x)
	for range most {
		best, at, to := now, -1, 0.0
		for _, k := range c.active(false) {
			if k == but || len(c.variables[k].Sizes) > 0 {
				continue
			}
			old := x[k]
			for _, by := range [4]float64{-0.1, -0.03, 0.03, 0.1} {
				x[k] = min(max(old+by, 0), 1)
				if m := misfit(x); m < best-1e-9 {
					best, at, to = m, k, x[k]
				}
			}
			x[k] = old
		}
		if at < 0 {
			break
		}
		x[at], now = to, best
		if now == 0 {
			break
		}
	}
	return x
}
