package design

import (
	"context"
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strings"

	leste "leste"
	"leste/job"
	"leste/parallel"
)

// assessed is a candidate's job with what a whole assessment says of it.
type assessed struct {
	job    *job.Job
	result *leste.Result // nil when the assessment refused
	refuse string
}

// assessWritten assesses a job as it is written, once: what confirms a station is what its table tells.
func (s *search) assessWritten(ctx context.Context, j *job.Job) (r *leste.Result, refuse string, err error) {
	text, err := Write(j, "")
	if err != nil {
		return nil, "", err
	}
	if known, ok := s.told[string(text)]; ok {
		return known.result, known.refuse, nil
	}
	r, refuse, err = s.assessJob(ctx, j, leste.Options{Followed: s.followedOf(text)})
	if err == nil {
		s.told[string(text)] = assessed{job: j, result: r, refuse: refuse}
		if hash := hashOf(text); !slices.Contains(s.state.Assessed, hash) {
			s.state.Assessed = append(s.state.Assessed, hash)
		}
	}
	return r, refuse, err
}

// followedOf is what was followed of a written job.
func (s *search) followedOf(text []byte) *leste.Followed {
	key := string(text)
	if s.onFine[key] == nil {
		s.onFine[key] = leste.NewFollowed()
	}
	return s.onFine[key]
}

// knows says whether a job has been assessed as it is written, before the search was resumed or since.
func (s *search) knows(j *job.Job) bool {
	text, err := Write(asWritten(j), "")
	return err == nil && slices.Contains(s.state.Assessed, hashOf(text))
}

// hashOf is a short name of a text.
func hashOf(text []byte) string {
	h := fnv.New64a()
	_, _ = h.Write(text) // a hash never fails
	return fmt.Sprintf("%016x", h.Sum64())
}

// assessJob assesses a job; a refusal is told in words.
func (s *search) assessJob(ctx context.Context, j *job.Job, o leste.Options) (r *leste.Result, refuse string, err error) {
	o.NoRanking, o.Workers, o.Parts = true, max(1, s.options.Workers), &s.parts
	if s.options.quickOnly {
		o.Method = "quick"
	}
	r, err = leste.Assess(ctx, j, o)
	// The layout may be refused, or the air, and transport gives no number when its balance does not close.
	if err != nil && ctx.Err() == nil {
		return nil, err.Error(), nil
	}
	return r, "", err
}

// sightOf sets the sights of one concept by what the eyes and an assessment of all cases find of its best: of the
// formats that decide, or nearly do.
func (s *search) sightOf(ctx context.Context, concept int) error {
	p, j := &s.state.Populations[concept], s.judges[concept]
	best := p.Members[0]
	if best.Violation >= levelStanding {
		return nil
	}
	g := j.concept.ground
	found, err := s.compare(ctx, j, &best)
	if err != nil {
		return err
	}
	sure := *j
	sure.eye = s.sureEye()
	worst := math.Inf(-1)
	wet := make([]float64, len(g.formats))
	for f := range g.formats {
		wet[f], _ = sure.wet(f, found[f])
		worst = max(worst, wet[f])
	}
	const near = 0.2 // in the logarithm of the water: cases differ by less, on cans
	var only []string
	for f := range g.formats {
		if wet[f] > worst-near {
			only = append(only, g.formats[f].name)
		}
	}
	a := j.concept.arrange(best.X)
	filled := s.finished(a.job(best.Pressure), best.Blower)
	r, _, err := s.assessJob(ctx, filled, leste.Options{Method: "transport", Cell: searchCell, LikelyWater: true, Only: only})
	if err != nil || r == nil {
		return err
	}
	for f := range g.formats {
		if slices.Contains(only, g.formats[f].name) {
			j.corrected(f, found[f], r)
		}
	}
	p.Sights = j.sights
	return nil
}

// compare has a candidate seen by the rough eye and the sure one, and returns what the sure one finds. The best is the
// best also because the rough eye takes it for drier than it is: half of the difference is believed.
func (s *search) compare(ctx context.Context, j *judge, ind *Individual) ([][]float64, error) {
	const believed = 0.5
	g := j.concept.ground
	by := []eye{s.glimpse(), s.sureEye()}
	sure := make([][]float64, len(g.formats))
	err := parallel.Each(s.options.Workers, len(g.formats), func(f int) error {
		found, err := g.seen(ctx, j.concept.arrange(ind.X), f, ind.Pressure, by...)
		if err != nil {
			return err
		}
		sure[f] = found[1]
		for i := range found[1] {
			now := &j.sights[f][i].Eyes[by[0]]
			*now *= math.Pow(ratio(found[1][i], found[0][i])/(*now), believed)
		}
		return nil
	})
	return sure, err
}

// sightAll takes the sights of one concept for all: what cases and finer cells find more is mostly the container's.
func (s *search) sightAll(ctx context.Context, leader int) error {
	if err := s.sightOf(ctx, leader); err != nil {
		return err
	}
	from := s.judges[leader]
	goOn := make([]bool, len(s.judges))
	for i := range s.judges {
		goOn[i] = s.rivals(i, 1)
	}
	for i, j := range s.judges {
		p := &s.state.Populations[i]
		for f := range j.sights {
			for d := range j.sights[f] {
				if to, by := &j.sights[f][d], from.sights[f][d]; i != leader {
					to.Likely, to.High = math.Sqrt(to.Likely*by.Likely), math.Sqrt(to.High*by.High)
				}
			}
		}
		p.Sights = j.sights
		if i != leader && !goOn[i] {
			continue // it is told as it is
		}
		const kept = 1
		p.Members = p.Members[:min(kept, len(p.Members))]
		if err := s.again(ctx, p, j); err != nil {
			return err
		}
	}
	return nil
}

// correct sets the sights by an assessment: for each demand, what it finds over what the search found.
func (s *search) correct(ctx context.Context, j *judge, ind *Individual, r *leste.Result) error {
	g := j.concept.ground
	return parallel.Each(s.options.Workers, len(g.formats), func(f int) error {
		found, err := g.seen(ctx, j.concept.arrange(ind.X), f, ind.Pressure, s.sureEye())
		if err == nil {
			j.corrected(f, found[0], r)
		}
		return err
	})
}

// corrected sets the sights of one format by what an assessment finds over what the sure eye does. Where it tells no
// bands they are as wide as before.
func (j *judge) corrected(f int, sure []float64, r *leste.Result) {
	if airLacks(r) != "" {
		return // what arrives tells nothing of the air
	}
	for i, d := range j.concept.ground.formats[f].demands {
		req := requirementOf(r, &j.concept.ground.formats[f], d)
		if req == nil {
			continue
		}
		now := &j.sights[f][i]
		likely, high := overLimit(req)
		if !(high > likely) {
			high = likely * now.High / now.Likely
		}
		if sure[i] > 0 && !math.IsInf(sure[i], 1) && likely > 0 && !math.IsInf(likely, 1) && !math.IsInf(high, 1) {
			now.Likely, now.High = likely/sure[i], high/sure[i]
		}
	}
}

// banded sets how wide the bands of the sights are by an assessment, of all formats.
func (j *judge) banded(r *leste.Result) {
	sights := make([][]sight, len(j.sights))
	for f := range sights {
		sights[f] = slices.Clone(j.sights[f])
		for i, d := range j.concept.ground.formats[f].demands {
			req := requirementOf(r, &j.concept.ground.formats[f], d)
			if req == nil {
				continue
			}
			if likely, high := overLimit(req); likely > 0 && high >= likely && !math.IsInf(high, 1) {
				sights[f][i].High = sights[f][i].Likely * high / likely
			}
		}
	}
	j.sights = sights // the others go on with theirs
}

// bandedAs takes how wide bands are from another concept: it is mostly the container's.
func (j *judge) bandedAs(from *judge) {
	sights := make([][]sight, len(j.sights))
	for f := range sights {
		sights[f] = slices.Clone(j.sights[f])
		for i := range sights[f] {
			of := &from.sights[f][i]
			sights[f][i].High = sights[f][i].Likely * of.High / of.Likely
		}
	}
	j.sights = sights
}

// sureEye is the one that what is kept is judged by.
func (s *search) sureEye() eye {
	if s.options.quickOnly {
		return eyeFine
	}
	return eyeFollowed
}

// eyes are those that a search has, the surest last.
func (s *search) eyes() []eye {
	if s.options.quickOnly {
		return []eye{eyeFine, eyeRough, eyeFine}
	}
	return []eye{eyeGlimpse, eyeFollowed}
}

// requirementOf finds a demand in a result.
func requirementOf(r *leste.Result, f *formatGround, d demand) *leste.RequirementResult {
	nth := 0 // of the machine's requirements for the zone
	m := &f.problem.Machines[d.machine]
	for k := range d.require {
		if m.Requires[k].Zone == d.zone {
			nth++
		}
	}
	name := machineWords(m)
	for i := range r.Formats {
		if r.Formats[i].Name != f.name {
			continue
		}
		for z := range r.Formats[i].Zones {
			if r.Formats[i].Zones[z].Name != d.zone {
				continue
			}
			n := 0
			for k := range r.Formats[i].Zones[z].Requirements {
				q := &r.Formats[i].Zones[z].Requirements[k]
				if q.Machine != name {
					continue
				}
				if n == nth {
					return q
				}
				n++
			}
		}
	}
	return nil
}

// overLimit is a requirement's likely value and the upper end of its band over the limit. Shares of rejects stand for
// the number of drops that count.
func overLimit(r *leste.RequirementResult) (likely, high float64) {
	of := func(v float64) float64 { return v / r.Limit }
	if r.Quantity == "rejects" {
		of = func(v float64) float64 { return math.Log1p(-min(v, 1)) / math.Log1p(-r.Limit) }
	}
	return of(r.Value.Likely), of(r.Value.High)
}

// airLacks says in which case no air comes, or nobody knows whether it does, and why; "" where it comes in all.
func airLacks(r *leste.Result) string {
	for i := range r.Cases {
		if c := &r.Cases[i]; c.Lacking != "" {
			return fmt.Sprintf("no air is sure to come in the case %s: %s", c.Name, strings.TrimSuffix(c.Lacking, "."))
		}
	}
	return ""
}

// meets says whether a result meets a goal: its water, and everything that stands or falls. A station that is not sure of
// its air in every case meets none.
func meets(r *leste.Result, goal string) bool {
	if airLacks(r) != "" {
		return false
	}
	if goal == GoalMet {
		return r.Verdict == leste.Met
	}
	return r.Verdict != leste.NotMet
}
