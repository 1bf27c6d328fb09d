package design

import (
	"context"
	"math"
	"slices"

	"leste/parallel"
)

// A Sample is one candidate looked at at one plenum pressure.
type Sample struct {
	X        []float64 `json:"x"`
	Pressure float64   `json:"plenum_pa"`
	Rough    bool      `json:"rough"` // by the eye for searching wide
	Cost     float64   `json:"cost_year"`
	Merit    float64   `json:"merit"` // of a candidate that was judged: less is better; 0 of one that a model proposed
	Formats  []Seen    `json:"formats"`
}

// Seen is what was seen of one format; without anything the candidate was given up before.
type Seen struct {
	At    []float64   `json:"at"`    // Pa, plenum pressures at which the water was followed
	Water [][]float64 `json:"water"` // by pressure and demand: logarithm of the likely value over its limit, as the eye finds it
	Holds float64     `json:"holds"` // logarithm of the plenum pressure [Pa] up to which the container keeps its place
}

// What is told of the water and of pressures ends here, so that what is drier than dry does not bend it.
const (
	driest, wettest = -3.0, 4.0 // logarithms over the limit
	weakest         = 4.6       // logarithm of a pressure [Pa]: 100 Pa
	strongest       = 11.5      // and 100 kPa
)

// slope is by how much the logarithm of the water falls with that of the plenum pressure, about.
const slope = 0.9

// probe is a candidate to be looked at, at a plenum pressure, and in which order its formats are.
type probe struct {
	x        []float64
	pressure float64
	order    []int
	most     float64 // Pa, more than this a format must not need; the rest is then left unseen
}

// probe is a candidate to be looked at at a plenum pressure, in all formats.
func (c *concept) probe(x []float64, pressure float64) probe {
	order := make([]int, len(c.ground.formats))
	for i := range order {
		order[i] = i
	}
	return probe{x: x, pressure: pressure, order: order}
}

// probeAll looks at candidates and has a population learn from them.
func (s *search) probeAll(ctx context.Context, p *Population, j *judge, list []probe) error {
	samples, err := s.sampleAll(ctx, j, list)
	if err != nil {
		return err
	}
	p.Samples = append(p.Samples, samples...)
	p.Judged += len(samples)
	return nil
}

// sampleAll looks at candidates on several goroutines; the results do not depend on how many.
func (s *search) sampleAll(ctx context.Context, j *judge, list []probe) ([]Sample, error) {
	out, work := make([]Sample, len(list)), make([]counts, len(list))
	err := parallel.Each(s.options.Workers, len(list), func(i int) (err error) {
		out[i], work[i], err = j.sample(ctx, &list[i])
		return err
	})
	for _, w := range work {
		s.counts.add(w)
	}
	return out, err
}

// sample looks at a candidate. Where the pressure turns out to be far from what a format needs, it is followed at a
// nearer one as well, which takes no new air.
func (j *judge) sample(ctx context.Context, p *probe) (Sample, counts, error) {
	g := j.concept.ground
	a := j.concept.arrange(p.x)
	out := Sample{X: slices.Clone(p.x), Pressure: p.pressure, Rough: j.rough(), Formats: make([]Seen, len(g.formats))}
	var work counts
	for _, f := range p.order {
		l, err := g.look(ctx, a, f, p.pressure, j.eye)
		if err != nil {
			return out, work, err
		}
		work.Looks++
		seen := Seen{Holds: l.heldUpTo()}
		const tries, far, least = 2, 0.4, 0.3e3
		pressure := max(least, min(p.pressure, l.holds)) // what the water does beyond helps nobody
		for range tries {
			m, err := l.measures(ctx, pressure)
			if err != nil {
				return out, work, err
			}
			logs := logsOf(m)
			seen.At, seen.Water = append(seen.At, pressure), append(seen.Water, logs)
			if len(logs) == 0 {
				break // nobody asks for this format to be dry
			}
			wet := j.wettest(f, logs) + math.Log(j.grid(f, 0)) // any demand will do to see how far it is
			if math.Abs(wet) < far {
				break
			}
			const furthest = 3.0
			pressure = max(least, pressure*math.Exp(min(max(wet/slope, -furthest), 1)))
		}
		work.add(*l.counts)
		out.Formats[f] = seen
		if p.most > 0 && (pressure > p.most || pressure > 1.5*l.holds) {
			break
		}
	}
	work.Air++
	s, err := g.bill(ctx, &a, p.pressure)
	if ctx.Err() != nil {
		return out, work, ctx.Err()
	}
	if err == nil {
		out.Cost = s.cost
	}
	return out, work, nil
}

// wettest is the greatest of a format's demands over what is asked, from logarithms as the surest eye finds them.
func (j *judge) wettest(format int, logs []float64) float64 {
	worst := math.Inf(-1)
	for d, v := range logs {
		worst = max(worst, v+math.Log(j.sights[format][d].factor(j.goal)))
	}
	return worst
}

// heldUpTo is the logarithm of the plenum pressure [Pa] up to which the container keeps its place.
func (l *look) heldUpTo() float64 { return min(max(math.Log(max(l.holds, 0)), weakest), strongest) }

// prune forgets what was seen of candidates that were judged, but for the best of them: a model need not know much of
// what is far from them.
func (p *Population) prune(kept int) {
	var merits []float64
	for i := range p.Samples {
		if p.Samples[i].Merit > 0 {
			merits = append(merits, p.Samples[i].Merit)
		}
	}
	if len(merits) <= kept {
		return
	}
	slices.Sort(merits)
	limit := merits[kept-1]
	p.Samples = slices.DeleteFunc(slices.Clone(p.Samples), func(s Sample) bool { return s.Merit > limit })
}

// learn adds what the judging of a candidate saw, unless the same eye has seen it before.
func (p *Population) learn(j *judge, d *done) {
	sample, ok := j.sampled(d)
	if !ok {
		return
	}
	name := j.concept.named(sample.X)
	for i := range p.Samples {
		if p.Samples[i].Rough == sample.Rough && j.concept.named(p.Samples[i].X) == name {
			return
		}
	}
	p.Samples = append(p.Samples, sample)
}

// sampled is what the judging of a candidate saw.
func (j *judge) sampled(d *done) (Sample, bool) {
	out := Sample{
		X: slices.Clone(d.ind.X), Pressure: d.ind.Pressure, Rough: j.rough(), Cost: d.ind.Cost,
		Formats: make([]Seen, len(d.looks)),
	}
	const dearest = 1e15 // beyond any cost
	out.Merit = d.ind.Cost
	if !d.ind.feasible() {
		out.Merit = dearest * (1 + d.ind.Violation)
	}
	any := false
	for f, l := range d.looks {
		if l == nil {
			continue
		}
		seen := Seen{Holds: l.heldUpTo()}
		if at := j.closest(l); at != nil {
			seen.At, seen.Water = []float64{at.pressure}, [][]float64{logsOf(at.measures)}
			any = true
		}
		out.Formats[f] = seen
	}
	return out, any
}

// closest is where, among what was measured of a look, the water is closest to what is asked; nil where nothing was.
func (j *judge) closest(l *look) *point {
	var best *point
	least := math.Inf(1)
	for i := range l.points {
		if wet, _ := j.wet(l.format, l.points[i].measures); math.Abs(wet) < least {
			best, least = &l.points[i], math.Abs(wet)
		}
	}
	return best
}

// logsOf are the logarithms of measures, as far as they are told.
func logsOf(measures []float64) []float64 {
	logs := make([]float64, len(measures))
	for i, v := range measures {
		logs[i] = min(max(math.Log(v), driest), wettest)
	}
	return logs
}
