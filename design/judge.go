package design

import (
	"context"
	"errors"
	"fmt"
	"math"

	"leste/airsupply"
	"leste/cost"
	"leste/job"
	"leste/parallel"
	q "leste/quantity"
	"leste/station"
)

// sight is what the water of one demand is held against: factors from its likely value in the search to what a
// whole assessment finds, over all cases and with the band.
type sight struct {
	Likely float64       `json:"likely"`
	High   float64       `json:"high"` // upper end of the band
	Eyes   [eyes]float64 `json:"eyes"` // from the likely value as an eye sees it to that of the surest eye
}

// Goals of a search.
const (
	GoalMet    = "met"    // the whole band of every requirement is within its limit
	GoalLikely = "likely" // the likely values are, with a small reserve
)

// likelyReserve is kept when only likely values are asked for, so that a finer grid does not turn the verdict.
const likelyReserve = 1.08

// judge holds candidates of one concept against everything that is asked.
type judge struct {
	concept *concept
	sights  [][]sight // by format and demand
	goal    string
	eye     eye
}

// factor is what the likely value of a demand over its limit is multiplied with; at most 1 is asked.
func (s sight) factor(goal string) float64 {
	if goal == GoalMet {
		return s.High
	}
	return s.Likely * likelyReserve
}

// wet is the logarithm of the worst demand of a format over what is asked, and which demand it is.
func (j *judge) wet(format int, measures []float64) (worst float64, demand int) {
	worst = math.Inf(-1)
	for i, m := range measures {
		if v := math.Log(max(m*j.grid(format, i), 1e-12) * j.sights[format][i].factor(j.goal)); v > worst {
			worst, demand = v, i
		}
	}
	return worst, demand
}

// grid is the factor from a demand's value as it is looked at to that of the surest eye, on the safe side.
func (j *judge) grid(format, demand int) float64 {
	factor := j.sights[format][demand].Eyes[j.eye]
	if j.eye == eyeGlimpse {
		factor *= prudence
	}
	return factor
}

// prudence is by how much wetter than it finds a candidate the rough eye takes it: by what it scatters against the sure
// one. What it passes by a hair the other refuses, and mending that is dear; the plenum pressure is settled anew in the
// end, so that little is lost.
const prudence = 1.04

// reserve is the least of limit over likely value of a format.
func (j *judge) reserve(format int, measures []float64) float64 {
	least := math.Inf(1)
	for i, m := range measures {
		least = min(least, 1/max(m*j.grid(format, i)*j.sights[format][i].Likely, 1e-9))
	}
	return least
}

// The power of a station goes nearly with its opening and with this power of the plenum pressure.
const powerExponent = 1.5

// counts is the work that judging took.
type counts struct {
	Looks    int // passes of one format that were looked at
	Quick    int // evaluations of the water by the quick method
	Followed int // and by transport
	Air      int // air supplies solved
}

func (c *counts) add(o counts) {
	c.Looks += o.Looks
	c.Quick += o.Quick
	c.Followed += o.Followed
	c.Air += o.Air
}

// trial is the judging of one candidate.
type trial struct {
	*judge
	a      arrangement
	looks  []*look
	at     []float64   // plenum pressure of the measures of each format
	found  [][]float64 // measures of each format
	limits string      // what keeps the pressure from rising further; "" when it is what blowers hold
	counts counts

	alone   bool // no others are judged beside it
	workers int  // on as many cores its formats are seen at once
}

// trial begins the judging of a candidate.
func (j *judge) trial(x []float64) *trial {
	n := len(j.concept.ground.formats)
	return &trial{judge: j, a: j.concept.arrange(x), looks: make([]*look, n), at: make([]float64, n), found: make([][]float64, n), workers: 1}
}

// judge finds the least plenum pressure at which a candidate does everything, and what it costs; the pressure it starts
// from is guess.
func (j *judge) judge(ctx context.Context, x []float64, guess float64) (done, error) {
	return j.trial(x).judged(ctx, x, guess)
}

// alone judges a candidate that no others are judged beside: its formats are seen on several cores.
func (j *judge) alone(ctx context.Context, w *work, workers int) (done, error) {
	t := j.trial(w.x)
	t.alone, t.workers = true, workers
	return t.judged(ctx, w.x, w.guess)
}

func (t *trial) judged(ctx context.Context, x []float64, guess float64) (d done, err error) {
	d.ind, err = t.run(ctx, x, guess)
	if err == nil && d.ind.Violation < levelLayout {
		t.layOut(&d.ind)
	}
	for _, l := range t.looks {
		if l != nil {
			t.counts.add(*l.counts)
		}
	}
	d.counts, d.looks = t.counts, t.looks
	return d, err
}

func (t *trial) run(ctx context.Context, x []float64, guess float64) (Individual, error) {
	g := t.concept.ground
	ind := Individual{X: x, Pressure: guess}
	if m := g.misfit(&t.a); m > 0 {
		ind.Violation, ind.Why = within(levelMisfit, m), "it does not fit where it would stand"
		return ind, nil
	}
	least, most := float64(g.sizes.Pressure[0]), float64(g.sizes.Pressure[1])
	limit := most
	guess = min(max(guess, least), most)
	if t.alone { // most stand in every format
		if err := t.seeAll(ctx, guess); err != nil {
			return ind, err
		}
	}
	for f := range g.formats {
		if !t.alone {
			if err := t.see(ctx, f, guess); err != nil {
				return ind, err
			}
		}
		if h := t.looks[f].holds; h < limit {
			limit, t.limits = h, t.gives(f)
			ind.Why = t.limits
		}
		if limit < least {
			ind.Violation, ind.Pressure = within(levelStanding, math.Log(least/limit)), least
			return ind, nil
		}
	}
	return t.settle(ctx, ind, limit)
}

// settle finds the least plenum pressure up to a limit.
func (t *trial) settle(ctx context.Context, ind Individual, limit float64) (Individual, error) {
	g := t.concept.ground
	var pressure float64
	again, near := 1, 0.15
	if t.eye == eyeFollowed { // its pressures are compared closely
		again, near = 3, 0.03
	}
	for try := 0; ; try++ {
		var met bool
		var err error
		if pressure, met, err = t.least(ctx, limit); err != nil {
			return ind, err
		}
		if !met {
			return t.tooWet(ctx, ind, limit)
		}
		off := 0.0
		for _, l := range t.looks {
			off = max(off, math.Abs(math.Log(pressure/l.pressure)))
		}
		if off <= near || try >= again {
			break
		}
		limit, t.limits = float64(g.sizes.Pressure[1]), ""
		if err := t.seeAll(ctx, pressure); err != nil {
			return ind, err
		}
		for f := range g.formats {
			if h := t.looks[f].holds; h < limit {
				limit, t.limits = h, t.gives(f)
			}
		}
		if limit < float64(g.sizes.Pressure[0]) {
			ind.Violation, ind.Why = within(levelStanding, 0), t.limits
			return ind, nil
		}
	}
	ind.Violation, ind.Pressure = 0, pressure
	if _, err := t.binds(ctx, &ind); err != nil {
		return ind, err
	}
	more := ind
	if err := t.thrifty(ctx, &more, min(limit, furthest*pressure)); err != nil || more.Pressure == pressure {
		return more, err
	}
	if worst, err := t.binds(ctx, &more); err != nil || worst <= 0 {
		return more, err
	}
	return ind, t.pay(ctx, &ind) // with more air it is wetter
}

// tooWet says by how much the wettest format is too wet with as much air as there may be.
func (t *trial) tooWet(ctx context.Context, ind Individual, limit float64) (Individual, error) {
	ind.Pressure = limit
	for f := range t.looks {
		v, demand, err := t.wetAt(ctx, f, limit)
		if err != nil {
			return ind, err
		}
		if w := within(levelWater, max(v, 0)); w > ind.Violation {
			ind.Violation, ind.Why = w, t.wetWords(f, demand)
		}
	}
	ind.Reserve = t.leastReserve()
	// What is too wet and has no blower either is no nearer to working than what has one.
	paid := ind
	if err := t.pay(ctx, &paid); err != nil {
		return ind, err
	}
	if paid.Violation > levelAir {
		ind.Violation = within(levelAir, 1+ind.Violation)
		ind.Why += ", and no blower is fit for it"
	}
	return ind, nil
}

// see looks at a format anew.
func (t *trial) see(ctx context.Context, f int, pressure float64) error {
	l, err := t.concept.ground.look(ctx, t.a, f, pressure, t.eye)
	if err != nil {
		return err
	}
	t.take(f, l)
	return nil
}

// seeAll looks at all formats anew.
func (t *trial) seeAll(ctx context.Context, pressure float64) error {
	all := make([]*look, len(t.looks))
	err := parallel.Each(t.workers, len(all), func(f int) (err error) {
		all[f], err = t.concept.ground.look(ctx, t.a, f, pressure, t.eye)
		return err
	})
	if err != nil {
		return err
	}
	for f, l := range all {
		t.take(f, l)
	}
	return nil
}

// take has a new look at a format.
func (t *trial) take(f int, l *look) {
	t.counts.Looks++
	if old := t.looks[f]; old != nil {
		l.counts.add(*old.counts)
	}
	t.looks[f], t.at[f] = l, 0
}

// wetAt judges the water of a format at a pressure.
func (t *trial) wetAt(ctx context.Context, f int, pressure float64) (worst float64, demand int, err error) {
	if t.at[f] != pressure {
		if t.found[f], err = t.looks[f].measures(ctx, pressure); err != nil {
			return 0, 0, err
		}
		t.at[f] = pressure
	}
	worst, demand = t.wet(f, t.found[f])
	return worst, demand, nil
}

// least is the least pressure that can be set at which no format is too wet, up to a limit; without one it is not met.
func (t *trial) least(ctx context.Context, limit float64) (pressure float64, met bool, err error) {
	sizes := &t.concept.ground.sizes
	step := float64(sizes.PressureStep)
	now := float64(sizes.Pressure[0])
	for f := range t.looks {
		if f > 0 {
			v, _, err := t.wetAt(ctx, f, now)
			if err != nil {
				return 0, false, err
			}
			if v <= 0 {
				continue
			}
		}
		v, _, err := t.wetAt(ctx, f, limit)
		if err != nil || v > 0 {
			return limit, false, err
		}
		p, err := t.root(ctx, f, now, limit)
		if err != nil {
			return 0, false, err
		}
		now = max(now, min(roundUp(p, step), limit))
	}
	return now, true, nil
}

// root is the pressure between two at which a format is just dry enough; at high it is. Once two pressures near it
// are known, it lies on the straight line that joins them, as measures are told between them.
func (t *trial) root(ctx context.Context, f int, low, high float64) (float64, error) {
	const close, tries = 1.1, 8
	wetHigh, _, err := t.wetAt(ctx, f, high)
	if err != nil {
		return 0, err
	}
	wetLow, known := 0.0, false
	for range tries {
		if known && high <= low*close || high <= low {
			break
		}
		// The water falls about as the pressure rises; then the logarithms are joined by a straight line, kept from
		// creeping along one end.
		next := high * math.Exp(wetHigh/0.7)
		if known {
			share := min(max(wetHigh/(wetHigh-wetLow), 0.1), 0.9)
			next = high * math.Pow(low/high, share)
			next /= math.Sqrt(math.Sqrt(close)) // to come to lie beyond it
		}
		const least = 1.02
		next = max(low, min(next, high/least))
		v, _, err := t.wetAt(ctx, f, next)
		if err != nil {
			return 0, err
		}
		switch {
		case v <= 0 && next <= low:
			return low, nil
		case v <= 0:
			high, wetHigh = next, v
		default:
			low, wetLow, known = next, v, true
		}
	}
	if !known || high > low*close {
		return high, nil
	}
	return t.crossing(f, low, high), nil
}

// crossing is where the worst demand of a format meets its limit between two close pressures that are known.
func (t *trial) crossing(f int, low, high float64) float64 {
	l := t.looks[f]
	var ends [2]*point
	for i := range l.points {
		switch p := &l.points[i]; p.pressure {
		case low:
			ends[0] = p
		case high:
			ends[1] = p
		}
	}
	if ends[0] == nil || ends[1] == nil {
		return high
	}
	const halvings = 12
	for range halvings {
		middle := math.Sqrt(low * high)
		if v, _ := t.wet(f, ends[0].towards(ends[1], middle)); v > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// binds says which demand the pressure is needed for, how wet that is over what is asked as a logarithm, and the least
// reserve.
func (t *trial) binds(ctx context.Context, ind *Individual) (worst float64, err error) {
	worst = math.Inf(-1)
	for f := range t.looks {
		v, demand, err := t.wetAt(ctx, f, ind.Pressure)
		if err != nil {
			return 0, err
		}
		if v > worst {
			worst = v
			ind.Why = t.concept.ground.formats[f].name + ": " + t.concept.ground.formats[f].demands[demand].text
		}
	}
	ind.Reserve = t.leastReserve()
	return worst, nil
}

func (t *trial) leastReserve() float64 {
	least := math.Inf(1)
	for f := range t.looks {
		least = min(least, t.reserve(f, t.found[f]))
	}
	return min(least, 1e6)
}

func (t *trial) gives(f int) string {
	return fmt.Sprintf("with more air than %s, %s %s", q.KindGauge.FormatDigits(t.looks[f].holds, q.SI, 2), t.concept.ground.formats[f].name, t.looks[f].gives)
}

func (t *trial) wetWords(f, demand int) string {
	g := t.concept.ground
	limits := t.limits
	if limits == "" {
		limits = beyondTried(g.sizes.Pressure[1])
	}
	return g.formats[f].name + ": " + g.formats[f].demands[demand].text + staysTooWet + "; " + limits
}

// staysTooWet is said of a demand that is missed with as much air as there may be.
const staysTooWet = " stays too wet"

// layOut has the layout that check uses judge the candidate, in every format at its own setting.
func (t *trial) layOut(ind *Individual) {
	filled := t.a.job(ind.Pressure)
	job.Fill(filled)
	if _, problems := station.Resolve(filled, station.ResolveOptions{Cell: layoutCell, Bodies: t.concept.ground.bodies}); len(problems) > 0 {
		ind.Violation, ind.Why = within(levelLayout, float64(len(problems))), problems[0].Text
	}
}

// pay finds the candidate's blower and its yearly cost.
func (t *trial) pay(ctx context.Context, ind *Individual) error {
	t.counts.Air++
	s, err := t.concept.ground.bill(ctx, &t.a, ind.Pressure)
	var refusal *airsupply.Refusal
	switch {
	case errors.As(err, &refusal):
		ind.Violation, ind.Why = within(levelAir, 0.1), err.Error()
		return nil
	case err != nil:
		return err
	}
	ind.Cost, ind.Power, ind.Blower = s.cost, float64(s.grid), s.blower
	return nil
}

// supplied is the air supply of a candidate.
type supplied struct {
	grid   q.Power
	cost   float64
	blower string
}

// supply selects a blower unless the job names one, and finds the yearly cost as an assessment does. It refuses one that
// gives no air in a case that the station must live with.
func (g *ground) supply(ctx context.Context, j *job.Job) (supplied, error) {
	outlets, _, err := airsupply.Outlets(j)
	if err != nil {
		return supplied{}, err
	}
	plan, err := airsupply.Build(ctx, j, outlets, g.parts)
	if err != nil {
		return supplied{}, err
	}
	op, err := airsupply.Lived(ctx, plan)
	if err != nil {
		return supplied{}, err
	}
	filled := g.basis.Job()
	powers := cost.Powers{Producing: op.Grid, Peak: op.Grid}
	if filled.Cost.Idle == cost.TurnDown && len(op.Blowers) > 0 {
		down := float64(filled.Cost.IdleSpeed.V) / max(float64(op.Blowers[0].Speed), 0.1)
		powers.TurnedDown = op.Grid * q.Power(min(1, down*down*down))
	}
	belt := len(filled.AirSupply.Blowers) == 0
	for i := range filled.AirSupply.Blowers {
		belt = belt || filled.AirSupply.Blowers[i].Drive == "belt"
	}
	year, err := cost.Yearly(powers, filled.Cost, belt, 0)
	if err != nil {
		return supplied{}, err
	}
	s := supplied{grid: op.Grid, cost: year.Total}
	if len(plan.Candidates) > 0 {
		s.blower = plan.Candidates[0].Part
	}
	return s, nil
}
