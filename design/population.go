package design

import (
	"context"
	"hash/fnv"
	"math"
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
	Concept    string       `json:"concept"`
	Members    []Individual `json:"members"`
	Archive    [][]float64  `json:"archive"` // points that were replaced; they keep the steps wide
	Generation int          `json:"generation"`
	Step       float64      `json:"step"`  // mean length of steps towards and between members
	Cross      float64      `json:"cross"` // mean share of coordinates that a trial takes over
	Sights     [][]sight    `json:"sights"`
	Near       []nearby     `json:"near,omitempty"`
	Judged     int          `json:"judged"`
	Followed   bool         `json:"followed"` // members are judged with the water followed
}

// Differential evolution towards one of the best members, with steps that adapt and an archive: Zhang and Sanderson,
// JADE, IEEE Trans. Evol. Comput. 13 (2009) 945. Candidates are compared by Deb's rules (Comput. Methods Appl. Mech.
// Eng. 186 (2000) 311): less violation first, then less cost.
const (
	learning  = 0.1  // weight of a generation in the means
	elite     = 0.15 // share of members that steps go towards
	startMean = 0.5
)

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

// work is a candidate to be judged against a rival.
type work struct {
	x     []float64
	guess float64
	rival *Individual
}

// done is a candidate judged.
type done struct {
	ind    Individual
	lost   bool
	looks  []*look
	counts counts
}

// judgeAll judges candidates on several goroutines; the results do not depend on how many.
func (s *search) judgeAll(ctx context.Context, j *judge, list []work) ([]done, error) {
	out := make([]done, len(list))
	err := parallel.Each(s.options.Workers, len(list), func(i int) (err error) {
		out[i], err = j.judge(ctx, list[i].x, list[i].guess, list[i].rival)
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

// explore fills a population from the rules of thumb and from points spread over the whole space.
func (s *search) explore(ctx context.Context, p *Population, j *judge, points, keep int) error {
	c := j.concept
	rule, active := c.rule(), c.active(false)
	var starts [][]float64
	for _, x := range c.stances() {
		starts = append(starts, c.fitted(x, -1))
	}
	rng := random(s.options.Seed, c.name, "near the rule")
	const near = 0.12
	for n := range keep / 2 {
		x := slices.Clone(starts[n%len(starts)])
		for _, i := range active {
			x[i] = min(max(x[i]+near*rng.NormFloat64(), 0), 1)
		}
		starts = append(starts, c.fitted(x, -1))
	}
	// Most of the space does not fit, which is seen at once.
	const tried = 40
	var misfits [][]float64
	for _, point := range scatter(s.options.Seed, c.name, tried*points, len(active)) {
		x := slices.Clone(rule)
		for n, i := range active {
			x[i] = point[n]
		}
		if a := c.arrange(x); c.ground.misfit(&a) > 0 {
			misfits = append(misfits, x)
			continue
		}
		starts = append(starts, x)
		if points--; points == 0 {
			break
		}
	}
	starts = append(starts, misfits[:min(points, len(misfits))]...)
	list := make([]work, len(starts))
	for i, x := range starts {
		list[i] = work{x: x, guess: startPressure}
	}
	results, err := s.judgeAll(ctx, j, list)
	if err != nil {
		return err
	}
	members := make([]Individual, len(results))
	for i, r := range results {
		members[i] = r.ind
	}
	p.Judged += len(members)
	sortMembers(members)
	p.Members = members[:min(keep, len(members))]
	p.Step, p.Cross = startMean, startMean
	return nil
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

// evolve runs one generation; late says whether the late variables take part.
func (s *search) evolve(ctx context.Context, p *Population, j *judge, late bool) error {
	n := len(p.Members)
	active := j.concept.active(late)
	if n < 4 || len(active) == 0 { // with nothing to choose all members are one
		return nil
	}
	sortMembers(p.Members)
	list := make([]work, n)
	steps, crosses := make([]float64, n), make([]float64, n)
	for i := range n {
		rng := random(s.options.Seed, p.Concept, "generation", p.Generation, i)
		list[i], steps[i], crosses[i] = p.offspring(i, active, rng)
	}
	results, err := s.judgeAll(ctx, j, list)
	if err != nil {
		return err
	}
	var sumF, sumF2, sumC float64
	won := 0
	for i, r := range results {
		if r.lost || !r.ind.better(&p.Members[i]) {
			continue
		}
		p.Archive = append(p.Archive, p.Members[i].X)
		p.Members[i] = r.ind
		sumF, sumF2, sumC = sumF+steps[i], sumF2+steps[i]*steps[i], sumC+crosses[i]
		won++
	}
	rng := random(s.options.Seed, p.Concept, "archive", p.Generation)
	for len(p.Archive) > n {
		k := rng.IntN(len(p.Archive))
		p.Archive = slices.Delete(p.Archive, k, k+1)
	}
	if won > 0 {
		p.Step = (1-learning)*p.Step + learning*sumF2/sumF
		p.Cross = (1-learning)*p.Cross + learning*sumC/float64(won)
	}
	p.Generation++
	p.Judged += n
	return nil
}

// offspring makes the trial of member i.
func (p *Population) offspring(i int, active []int, rng *rand.Rand) (w work, step, cross float64) {
	n := len(p.Members)
	cross = min(max(p.Cross+0.1*rng.NormFloat64(), 0.05), 1)
	for step <= 0 {
		step = p.Step + 0.1*math.Tan(math.Pi*(rng.Float64()-0.5))
	}
	step = min(step, 1)
	best := p.Members[rng.IntN(max(2, int(elite*float64(n))))].X
	r1 := rng.IntN(n - 1)
	if r1 >= i {
		r1++
	}
	r2 := rng.IntN(n + len(p.Archive))
	for r2 == i || r2 == r1 {
		r2 = rng.IntN(n + len(p.Archive))
	}
	second := func() []float64 {
		if r2 < n {
			return p.Members[r2].X
		}
		return p.Archive[r2-n]
	}()
	own := p.Members[i].X
	x := slices.Clone(own)
	sure := active[rng.IntN(len(active))]
	for _, k := range active {
		if k != sure && rng.Float64() >= cross {
			continue
		}
		v := own[k] + step*(best[k]-own[k]) + step*(p.Members[r1].X[k]-second[k])
		if v < 0 {
			v = own[k] / 2
		}
		if v > 1 {
			v = (1 + own[k]) / 2
		}
		x[k] = v
	}
	return work{x: x, guess: p.Members[i].Pressure, rival: &p.Members[i]}, step, cross
}
