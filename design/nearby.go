package design

import (
	"context"
	"math"
	"slices"

	"leste/parallel"
)

// A nearby is what the sure eye finds over what the rough one does at one point, in logarithms by format and demand. What
// the rough eye finds best is the best also because it errs there; told so at the points to which that leads, it leads
// on to others.
type nearby struct {
	X     []float64   `json:"x"`
	Ratio [][]float64 `json:"ratio"`
}

// How far what is known at one point is believed at others, and how much the difference that is believed of the whole
// concept counts beside it. Chosen, and tried on the three sizes of can alone.
const (
	nearbyReach = 0.15 // of the range of each variable
	nearbyPrior = 0.3
)

// learn has a member seen by both eyes and keeps the difference.
func (s *search) learn(ctx context.Context, p *Population, j *judge, ind *Individual) error {
	if s.options.quickOnly || ind.Violation >= levelStanding || slices.ContainsFunc(p.Near, func(n nearby) bool { return !j.concept.differ(n.X, ind.X) }) {
		return nil
	}
	g := j.concept.ground
	near := nearby{X: ind.X, Ratio: make([][]float64, len(g.formats))}
	err := parallel.Each(s.options.Workers, len(g.formats), func(f int) error {
		found, err := g.seen(ctx, j.concept.arrange(ind.X), f, ind.Pressure, s.glimpse(), s.sureEye())
		if err != nil {
			return err
		}
		near.Ratio[f] = make([]float64, len(found[0]))
		for i := range found[0] {
			near.Ratio[f][i] = math.Log(ratio(found[1][i], found[0][i]))
		}
		return nil
	})
	if err != nil {
		return err
	}
	p.Near = append(p.Near, near)
	j.near = p.Near
	return nil
}

// told is the judge as it sees a point with the rough eye: by what has been learnt near it.
func (j *judge) told(x []float64) *judge {
	if j.eye != eyeGlimpse || len(j.near) == 0 {
		return j
	}
	weights := make([]float64, len(j.near))
	for i := range j.near {
		d2 := 0.0
		for k := range x {
			d := (x[k] - j.near[i].X[k]) / nearbyReach
			d2 += d * d
		}
		weights[i] = math.Exp(-d2 / 2)
	}
	own := *j
	own.sights = make([][]sight, len(j.sights))
	for f := range j.sights {
		own.sights[f] = slices.Clone(j.sights[f])
		for i := range own.sights[f] {
			eye := &own.sights[f][i].Eyes[eyeGlimpse]
			sum, all := nearbyPrior*math.Log(*eye), nearbyPrior
			for n, w := range weights {
				sum, all = sum+w*j.near[n].Ratio[f][i], all+w
			}
			*eye = math.Exp(sum / all)
		}
	}
	return &own
}

// home moves the best of a population downhill by the rough eye, again and again, and has it seen by the sure one in
// between.
func (s *search) home(ctx context.Context, p *Population, j *judge, rounds int, d descent) error {
	const kept = 6
	d.budget = max(1, d.budget/rounds)
	for range rounds {
		if err := s.learn(ctx, p, j, &p.Members[0]); err != nil {
			return err
		}
		p.Members = p.Members[:min(kept, len(p.Members))]
		if err := s.again(ctx, p, j); err != nil {
			return err
		}
		if err := s.learn(ctx, p, j, &p.Members[0]); err != nil {
			return err
		}
		if err := s.descend(ctx, p, j, d); err != nil {
			return err
		}
	}
	if err := s.learn(ctx, p, j, &p.Members[0]); err != nil {
		return err
	}
	return s.again(ctx, p, j)
}
