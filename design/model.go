package design

import (
	"math"
	"slices"

	"leste/job"
	"leste/station"
)

// A model tells what the candidates of one concept would do from those that were looked at: how wet each format stays
// at a plenum pressure, up to which one it keeps its place, and by what its air costs other than the tariff tells.
type model struct {
	judge *judge
	used  []int // features that differ between the samples
	water [][]*regression
	holds []*regression
	bill  *regression // of the logarithm of the yearly cost, beside the tariff
}

// features are what one format sees of an arrangement at a plenum pressure, each about on a scale of one: not where
// outlets stand but where their air meets the container, from how far, and how much of it there is on a length. Each of
// them does more by itself than the variables do.
func (a *arrangement) features(format int, pressure float64) []float64 {
	row := []float64{math.Log(pressure)}
	for i := range a.setups {
		row = append(row, a.setups[i].features(format, a.concept.ground.formats[format].plan.Body)...)
	}
	return row
}

// features are those of one group; lengths are told in tenths of a container's height or so, and angles nearly so.
func (s *setup) features(format int, body *station.Body) []float64 {
	const metre, radian = 15.0, 1.5
	width, space, long := s.gap, 0.0, s.length
	if s.kind == job.NozzleManifold { // single nozzles are not searched for
		width, space = s.bore*s.bore/s.spacing, math.Log(s.spacing)
		long = float64(s.nozzles()) * s.spacing
	}
	row := []float64{radian * s.tilt, radian * s.down, radian * s.along, metre * s.x, math.Log(width), space, math.Log(long)}
	if s.side == above || s.side == below {
		far := math.Abs(s.height[format])
		if s.side == above {
			far = s.height[format] - body.Height
		}
		return append(row, math.Log(max(far, 1e-3)), metre*math.Abs(math.Sin(s.tilt))*long, 0)
	}
	clear := max(s.offset[format]-body.Depth/2, 1e-3)
	meets, half := s.height[format]-clear*math.Tan(s.down), math.Abs(math.Sin(s.tilt))*long/2
	return append(row, math.Log(clear/math.Cos(s.down)), metre*(meets+half-body.Height), metre*(meets-half))
}

// billed is what the air side sees of an arrangement at a plenum pressure: how much opening there is, and how it is shared.
func (a *arrangement) billed(pressure float64) []float64 {
	area := a.opening()
	row := []float64{math.Log(pressure), math.Log(area)}
	for i := 1; i < len(a.setups); i++ {
		row = append(row, math.Log(a.setups[i].opening()/area))
	}
	return row
}

// known are the places that samples make, by quantity.
type known struct {
	water [][]places // by format and demand
	holds []places
	bill  places
}

// gather puts together the samples of a concept.
func (j *judge) gather(samples []Sample) known {
	g := j.concept.ground
	k := known{water: make([][]places, len(g.formats)), holds: make([]places, len(g.formats))}
	for f := range g.formats {
		k.water[f] = make([]places, len(g.formats[f].demands))
	}
	for i := range samples {
		s := &samples[i]
		a := j.concept.arrange(s.X)
		for f := range s.Formats {
			seen := &s.Formats[f]
			for n, pressure := range seen.At {
				row := a.features(f, pressure)
				for d, v := range seen.Water[n] {
					k.water[f][d].add(row, s.Rough, v+slope*math.Log(pressure))
				}
				if n == 0 {
					k.holds[f].add(row, false, seen.Holds)
				}
			}
		}
		if s.Cost > 0 {
			const far = 0.2 // blowers end nearby, which is no trend
			if off := math.Log(s.Cost) - j.concept.tariff.told(j.concept, a.opening(), s.Pressure); math.Abs(off) < far {
				k.bill.add(a.billed(s.Pressure), false, off)
			}
		}
	}
	return k
}

// rough says whether a judge looks with the eye for searching wide.
func (j *judge) rough() bool { return j.eye == eyeGlimpse || j.eye == eyeRough }

// differing are the features that differ between places, each once.
func differing(k *known) []int {
	var rows [][]float64
	for f := range k.holds {
		rows = append(rows, k.holds[f].rows...)
	}
	if len(rows) == 0 {
		return nil
	}
	same := func(a, b int) bool {
		for _, r := range rows {
			if r[a] != r[b] {
				return false
			}
		}
		return true
	}
	var used []int
	for i := range rows[0] {
		constant := true
		for _, r := range rows {
			constant = constant && r[i] == rows[0][i]
		}
		if !constant && !slices.ContainsFunc(used, func(u int) bool { return same(u, i) }) {
			used = append(used, i)
		}
	}
	return used
}

// pick takes the features that are used.
func pick(row []float64, used []int) []float64 {
	out := make([]float64, len(used))
	for i, k := range used {
		out[i] = row[k]
	}
	return out
}

// Kernels are those of a concept's model.
type Kernels struct {
	Used  []int  `json:"used"` // features
	Water Kernel `json:"water"`
	Holds Kernel `json:"holds"`
}

// model joins the samples of a population. Kernels are found anew where that is asked, or where there are none for the
// features that differ by now.
func (j *judge) model(p *Population, anew bool, workers int) *model {
	k := j.gather(p.Samples)
	used := differing(&k)
	var water []places
	for f := range k.water {
		for d := range k.water[f] {
			k.water[f][d].pick(used)
			water = append(water, k.water[f][d])
		}
		k.holds[f].pick(used)
	}
	if !slices.Equal(used, p.Kernels.Used) {
		const noise, sum = 0.05, 0.5
		p.Kernels = Kernels{used, Kernel{units(len(used)), noise, sum}, Kernel{units(len(used)), noise, sum}}
		anew = true
	}
	if anew {
		p.Kernels.Water = tune(p.Kernels.Water, water, workers)
		p.Kernels.Holds = tune(p.Kernels.Holds, k.holds, workers)
	}
	m := &model{judge: j, used: used}
	for f := range k.water {
		var of []*regression
		for d := range k.water[f] {
			of = append(of, jointly(p.Kernels.Water, &k.water[f][d]))
		}
		m.water = append(m.water, of)
		m.holds = append(m.holds, jointly(p.Kernels.Holds, &k.holds[f]))
	}
	const jumps = 0.05 // with sizes of ducts
	m.bill = jointly(Kernel{units(1 + len(j.concept.groups)), jumps, 0}, &k.bill)
	return m
}

// jointly is a regression that tells spreads, nil without places.
func jointly(k Kernel, p *places) *regression {
	g, ok := regress(k, p)
	if !ok {
		return nil
	}
	g.ready()
	return g
}

func (p *places) pick(used []int) {
	for i := range p.rows {
		p.rows[i] = pick(p.rows[i], used)
	}
}

func units(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

// A forecast is what a model tells of a candidate.
type forecast struct {
	x        []float64
	pressure float64   // Pa, that it needs
	paid     float64   // Pa, at which it costs least, no less than it needs
	holds    float64   // Pa, up to which everything keeps its place, as told
	needs    []float64 // by format: logarithm of the worst demand over what is asked, near the pressure told: the greatest decides
	score    float64   // logarithm of the yearly cost; beyond unmet it does not work, by how much more
}

// Scores of candidates that do not work.
const (
	unmet   = 100.0
	misfits = 200.0
)

// forecast tells of a candidate, starting from a plenum pressure that may be near the one it needs. The water is
// thought to be drier than told by so many standard deviations as hope says, wetter where it is below zero.
func (m *model) forecast(x []float64, guess, hope float64) forecast {
	c := m.judge.concept
	g := c.ground
	a := c.arrange(x)
	out := forecast{x: x, pressure: guess}
	if off := g.misfit(&a); off > 0 {
		out.score = misfits + math.Log1p(off)
		return out
	}
	least, most := math.Log(float64(g.sizes.Pressure[0])), math.Log(float64(g.sizes.Pressure[1]))
	rows := make([][]float64, len(g.formats))
	for f := range rows {
		rows[f] = pick(a.features(f, guess), m.used)
	}
	logs := m.need(rows, math.Log(guess), &out)
	if hope != 0 {
		worst := math.Inf(-1)
		for _, f := range byNeed(out.needs) {
			if out.needs[f] > worst || hope < 0 { // else it cannot be the wettest
				worst = max(worst, out.needs[f]-hope*m.spread(f, rows[f]))
			}
		}
		logs += worst / slope
	}
	limit := most
	for f, row := range rows {
		h := m.holds[f]
		if h == nil {
			continue
		}
		v := h.at(row)
		const near = 0.3
		if hope <= 0 && v < logs+near && v > logs-near {
			v -= hold * h.spread(row)
		}
		limit = min(limit, v)
	}
	logs, out.holds = max(logs, least), math.Exp(limit)
	out.pressure = math.Exp(min(logs, limit))
	if logs > limit {
		out.score = unmet + m.over(rows, limit, hope)
		return out
	}
	out.score, out.paid = c.tariff.least(c, a.opening(), out.pressure, min(out.holds, furthest*out.pressure))
	if math.IsInf(out.score, 1) { // no blower gives it; the less it needs, the nearer it is
		out.score = unmet + 1 + logs/strongest
	}
	out.paid = math.Exp(out.paid)
	if m.bill != nil {
		out.score += m.bill.at(a.billed(out.paid))
	}
	return out
}

// over is by how much the wettest format is too wet at a pressure below what it needs.
func (m *model) over(rows [][]float64, logs, hope float64) float64 {
	at := slices.Index(m.used, 0)
	worst := 0.0
	for f, row := range rows {
		if at >= 0 {
			row[at] = logs
		}
		v := m.wet(f, row) - slope*logs
		if hope != 0 && (v > worst || hope < 0) {
			v -= hope * m.spread(f, row)
		}
		worst = max(worst, v)
	}
	return worst
}

// need is the logarithm of the pressure at which the wettest format is just dry enough, as told.
func (m *model) need(rows [][]float64, logs float64, out *forecast) float64 {
	at := slices.Index(m.used, 0) // the pressure
	const lowest, tries, close = 5.0, 5, 0.01
	out.needs = make([]float64, len(rows))
	worstYet := 0.0
	for try := range tries {
		worst := math.Inf(-1)
		for f, row := range rows {
			if at >= 0 {
				row[at] = logs
			}
			// What is far from deciding at first need not be told again.
			if try > 0 && out.needs[f] < worstYet-0.5 {
				continue
			}
			out.needs[f] = m.wet(f, row) - slope*logs
			worst = max(worst, out.needs[f])
		}
		if worstYet = worst; math.Abs(worst) < close {
			break
		}
		logs = min(max(logs+worst/slope, lowest), strongest)
	}
	return logs
}

// hold is by how many standard deviations a container must keep its place.
const hold = 0.5

// wet is the worst of a format's demands over what is asked, with the pressure's trend taken out.
func (m *model) wet(format int, row []float64) float64 {
	worst := math.Inf(-1)
	for d, g := range m.water[format] {
		if g != nil {
			worst = max(worst, g.at(row)+math.Log(m.judge.sights[format][d].factor(m.judge.goal)))
		}
	}
	return worst
}

// spread is how unsure the water of a format is told.
func (m *model) spread(format int, row []float64) float64 {
	most := 0.0
	for _, g := range m.water[format] {
		if g != nil {
			most = max(most, g.spread(row))
		}
	}
	return most
}
