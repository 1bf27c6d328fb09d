package design

import (
	"context"
	"hash/fnv"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
	"leste/parallel"
)

// Population is the state of the search in one concept. Everything random follows from seed, concept and the
// numbers in it, so that a saved state goes on as if it had never stopped.
type Population struct {
	Concept  string       `json:"concept"`
	Members  []Individual `json:"members"`
	Sights   [][]sight    `json:"sights"`
	Samples  []Sample     `json:"samples,omitempty"` // what was seen of candidates
	Kernels  Kernels      `json:"kernels"`
	Round    int          `json:"round"` // of its model
	Judged   int          `json:"judged"`
	Followed bool         `json:"followed"` // members are judged with the water followed
}

// random is the source of one draw: it depends on what is drawn, not on when.
func random(seed uint64, concept string, what string, numbers ...int) *rand.Rand {
	h := fnv.New64a()
	_, _ = h.Write([]byte(concept + "\x00" + what)) // a hash never fails
	x := h.Sum64()
	for _, n := range numbers {
		x = (x ^ uint64(n)) * 0x9e3779b97f4a7c15 //nolint:gosec // counters are never negative
		x ^= x >> 29
	}
	return rand.New(rand.NewPCG(seed, x))
}

// scatter draws points spread evenly over the unit cube: a Halton sequence, scrambled after Owen.
func scatter(seed uint64, concept string, n, dims int) [][]float64 {
	if n == 0 || dims == 0 {
		return nil
	}
	batch := mat.NewDense(n, dims, nil)
	src := rand.NewPCG(seed, random(seed, concept, "scatter").Uint64())
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(dims, nil), Src: src}.Sample(batch)
	out := make([][]float64, n)
	for i := range out {
		out[i] = slices.Clone(batch.RawRowView(i))
	}
	return out
}

// work is a candidate to be judged, and the pressure to start from.
type work struct {
	x     []float64
	guess float64
}

// done is a candidate judged.
type done struct {
	ind    Individual
	looks  []*look
	counts counts
}

// judgeAll judges candidates on several goroutines; the results do not depend on how many.
func (s *search) judgeAll(ctx context.Context, j *judge, list []work) ([]done, error) {
	out := make([]done, len(list))
	err := parallel.Each(s.options.Workers, len(list), func(i int) (err error) {
		if len(list) == 1 {
			out[i], err = j.alone(ctx, &list[i], s.options.Workers)
			return err
		}
		out[i], err = j.judge(ctx, list[i].x, list[i].guess)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i := range out {
		s.counts.add(out[i].counts)
	}
	return out, nil
}

// start judges what a concept starts from.
func (s *search) start(ctx context.Context, p *Population, j *judge) error {
	var list []work
	for _, x := range j.concept.fittedStances() {
		list = append(list, work{x: x, guess: startPressure})
	}
	results, err := s.judgeAll(ctx, j, list)
	if err != nil {
		return err
	}
	p.Judged += len(results)
	for i := range results {
		p.Members = append(p.Members, results[i].ind)
		p.learn(j, &results[i])
	}
	sortMembers(p.Members)
	return nil
}

// fittedStances are the stances of a concept where they fit.
func (c *concept) fittedStances() [][]float64 {
	all := c.stances()
	for i := range all {
		all[i] = c.fitted(all[i], -1)
	}
	return all
}

// survey looks at points about the best of what a concept starts from and at points spread over the whole space.
func (s *search) survey(ctx context.Context, p *Population, j *judge, points, keep int) error {
	c := j.concept
	const about = 3 // of them, where the budget is the usual one
	usual := max(1, keep*2/3)
	sown := max(usual, s.scaled(usual))
	rule, active := c.rule(), c.active(false)
	var from [][]float64
	for i := range p.Members[:min(about*sown/usual, len(p.Members))] {
		from = append(from, p.Members[i].X)
	}
	starts := c.sown(s.options.Seed, from, sown)
	// Most of the space does not fit, which is seen at once.
	const tried = 40
	for _, point := range scatter(s.options.Seed, c.name, tried*points, len(active)) {
		x := slices.Clone(rule)
		for n, i := range active {
			x[i] = point[n]
		}
		if a := c.arrange(x); c.ground.misfit(&a) > 0 {
			continue
		}
		starts = append(starts, x)
		if points--; points == 0 {
			break
		}
	}
	var list []probe
	for _, x := range starts {
		if a := c.arrange(x); c.ground.misfit(&a) == 0 {
			list = append(list, c.probe(x, startPressure))
		}
	}
	return s.probeAll(ctx, p, j, list)
}

// sown are points about some to begin with. Of every other one slopes and sizes of openings are spread evenly over what
// they may be, as what is best in the rest depends on them most and each leads to a best of its own, and lengths go with
// the slopes; the others stay near.
func (c *concept) sown(seed uint64, from [][]float64, n int) [][]float64 {
	const near = 0.08 // of the range
	var wide []int
	for i := range c.groups {
		g := &c.groups[i]
		for _, at := range []coordinate{g.tilt, g.gap, g.bore, g.spacing} {
			if at.variable >= 0 && !slices.Contains(wide, at.variable) {
				wide = append(wide, at.variable)
			}
		}
	}
	rng := random(seed, c.name, "near the rule")
	points := scatter(seed, c.name+", sown", n, len(wide))
	out := make([][]float64, n)
	for i := range out {
		x := slices.Clone(from[i/2%len(from)])
		spread := i%2 == 0
		for k, at := range wide {
			if !spread {
				break
			}
			const least, most = 0.15, 0.85 // nothing works at the ends
			before := x[at]
			x[at] = least + (most-least)*points[i][k]
			c.carry(x, at, before)
		}
		for _, k := range c.active(false) {
			if !spread || !slices.Contains(wide, k) {
				before := x[k]
				x[k] = min(max(x[k]+near*rng.NormFloat64(), 0), 1)
				if !spread {
					c.carry(x, k, before)
				}
			}
		}
		out[i] = c.fitted(x, -1)
	}
	return out
}

// startPressure is where the search for a plenum pressure begins [Pa].
const startPressure = 15e3

func sortMembers(members []Individual) {
	slices.SortStableFunc(members, func(a, b Individual) int {
		switch {
		case a.better(&b):
			return -1
		case b.better(&a):
			return 1
		}
		return 0
	})
}
