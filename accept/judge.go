package accept

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/physics/water"
	q "leste/quantity"
)

var nan = math.NaN()

// Verdict is what the measurements come to.
type Verdict string

// The verdicts.
const (
	Accepted    Verdict = "accepted"
	NotAccepted Verdict = "not accepted"
	NotEnough   Verdict = "not enough"
)

// Terms are how sure the acceptance must be. The zero value is the usual way.
type Terms struct {
	Confidence q.Ratio // to be reached; 0 means 95 %
	Share      q.Ratio // of containers that may carry a drop above its limit where the job names no share; 0 means 1 %
}

func (t Terms) filled() Terms {
	if t.Confidence <= 0 {
		t.Confidence = 0.95
	}
	if t.Share <= 0 {
		t.Share = 0.01
	}
	return t
}

// A Promise is one requirement that was promised.
type Promise struct {
	Format, Machine, Zone string
	Quantity              string // "water" [kg/m2], "mass" [kg], "drop" [m], "rejects" [1]
	Limit                 float64
	Area                  q.Area // of the zone, for water per area
}

// A Judged is one promise with what the measurements say of it. Confidence is how sure it is that the
// promise is kept; Doubt how sure that it is not; both are NaN where too little was measured to tell.
type Judged struct {
	Promise
	Verdict    Verdict
	Confidence q.Ratio
	Doubt      q.Ratio
	Containers int
	Failed     int
	Mean       float64  // measured mean, or share of failures
	Upper      float64  // bound at the confidence asked for
	More       int      // further containers needed if none of them fails; 0 when enough or not known
	Says       []string // each a sentence by itself
}

// A Judgement is the whole answer.
type Judgement struct {
	Verdict  Verdict
	Terms    Terms
	Promises []Judged
	Sound    []Level
	Readings []Reading
	Findings []Finding
	Beside   []string // what was measured and nothing is promised of, each a sentence by itself
}

// Judge judges the measurements against what was promised and what was expected on site.
func Judge(rows []Row, expected Expected, terms Terms) Judgement {
	terms = terms.filled()
	j := Judgement{Verdict: Accepted, Terms: terms}
	for _, p := range expected.Promises {
		j.Promises = append(j.Promises, judge(p, rows, expected, terms))
	}
	if len(j.Promises) == 0 {
		j.Verdict = NotEnough
	}
	for _, p := range j.Promises {
		switch {
		case p.Verdict == NotAccepted:
			j.Verdict = NotAccepted
		case p.Verdict == NotEnough && j.Verdict == Accepted:
			j.Verdict = NotEnough
		}
	}
	j.Readings = readings(rows, expected)
	if j.Verdict == Accepted && slower(j.Readings) {
		j.Verdict = NotEnough
	}
	j.Sound = expected.Noise.levels(rows)
	for _, l := range j.Sound {
		if expected.Noise.Asked && (l.Verdict == NotAccepted || l.Verdict == NotEnough && j.Verdict == Accepted) {
			j.Verdict = l.Verdict
		}
	}
	j.Beside = beside(rows, expected.Promises)
	j.Findings = diagnose(rows, j.Readings, j.Promises, expected)
	return j
}

// beside tells of rows that count for no promise.
func beside(rows []Row, promises []Promise) []string {
	var out []string
	for _, r := range rows {
		counts := func(p Promise) bool {
			switch p.Quantity {
			case "rejects":
				return r.What == Rejects && strings.EqualFold(r.At, p.Machine) && r.matches(p.Format)
			case "drop":
				return r.What == Drop && r.zone(p.Zone) && r.matches(p.Format)
			}
			return r.What == Water && r.zone(p.Zone) && r.matches(p.Format)
		}
		text := ""
		switch r.What {
		case Water:
			text = fmt.Sprintf("water was weighed in the zone %s, and none of its water is promised", r.At)
		case Drop:
			text = fmt.Sprintf("drops were measured in the zone %s, and none of its drops are promised", r.At)
		case Rejects:
			text = fmt.Sprintf("rejects were counted at %s, and none of its rejects are promised", r.At)
		}
		if text != "" && !slices.ContainsFunc(promises, counts) && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

// slower reports whether the belt ran slower than was promised for, where less water is left than at that speed.
func slower(rs []Reading) bool {
	return slices.ContainsFunc(rs, func(r Reading) bool { return r.What == Speed && r.Ratio < 1-speedShare })
}

func judge(p Promise, rows []Row, e Expected, t Terms) Judged {
	switch p.Quantity {
	case "rejects":
		return judgeRejects(p, rows, e, t)
	case "drop":
		return judgeDrops(p, rows, t)
	}
	return judgeWater(p, rows, t)
}

// matches reports whether a row is about a format; an empty name on either side is about all.
func (r Row) matches(format string) bool {
	return r.Format == "" || format == "" || strings.EqualFold(r.Format, format)
}

// zone reports whether a row is about a zone.
func (r Row) zone(name string) bool { return strings.EqualFold(r.At, name) }

func judgeRejects(p Promise, rows []Row, e Expected, t Terms) Judged {
	j := Judged{Promise: p, Mean: nan, Upper: nan}
	on, dry := e.counts(rows, p, AirOn), e.counts(rows, p, HandDried)
	j.Containers, j.Failed = on.Of, on.Failed
	if on.Of == 0 {
		return j.missing("no containers were counted with the air on", t)
	}
	j.Mean = on.Share()
	if upper, err := water.RejectUpper(on.Failed, on.Of, t.Confidence); err == nil {
		j.Upper = float64(upper)
	}
	j.Confidence = ConfidenceBelow(q.Ratio(p.Limit), on.Failed, on.Of)
	j.Doubt = ConfidenceAbove(q.Ratio(p.Limit), on.Failed, on.Of)
	j.settle(t)
	j.say("%d of %d containers were rejected", on.Failed, on.Of)
	if dry.Of > 0 && j.Verdict != Accepted {
		j.baseline(on, dry, t)
	}
	if j.Verdict == NotEnough && dry.Of == 0 { // with them, how many are needed depends on both kinds
		j.More = more(q.Ratio(p.Limit), on, t)
	}
	return j
}

// baseline takes the rejects of hand-dried containers off: what they share is not water. It is asked where the count of
// all rejects does not prove the promise, with a bound on either side at the confidence of the terms.
func (j *Judged) baseline(on, dry Count, t Terms) {
	low, high, err := Difference(on, dry, 2*t.Confidence-1) // one-sided at the confidence
	if err != nil {
		return
	}
	j.say("%d of %d hand-dried ones were rejected", dry.Failed, dry.Of)
	j.say("the difference lies between %.2g %% and %.2g %%, each bound by Newcombe's method 10 (1998) at %.3g %% confidence", 100*low, 100*high, 100*t.Confidence)
	switch {
	case float64(high) <= j.Limit:
		j.Verdict = Accepted
		j.Confidence = t.Confidence
		j.say("the rejects that remain are not due to water")
	case float64(low) > j.Limit:
		j.Verdict = NotAccepted
		j.Doubt = max(j.Doubt, t.Confidence)
	default:
		j.Verdict = NotEnough
		j.Confidence, j.Doubt = q.Ratio(nan), q.Ratio(nan) // those of all rejects, whatever made them
		j.say("more containers of both kinds are needed to tell water from other causes")
	}
}

// judgeDrops counts containers with a drop above the limit against the share that may have one.
func judgeDrops(p Promise, rows []Row, t Terms) Judged {
	j := Judged{Promise: p, Mean: nan, Upper: nan}
	c := Count{}
	for _, r := range rows {
		if r.What == Drop && r.matches(p.Format) && r.zone(p.Zone) {
			c.Of++
			if r.Value > p.Limit {
				c.Failed++
			}
		}
	}
	j.Containers, j.Failed = c.Of, c.Failed
	if c.Of == 0 {
		return j.missing("no drops were measured there", t)
	}
	j.Mean = c.Share()
	if upper, err := water.RejectUpper(c.Failed, c.Of, t.Confidence); err == nil {
		j.Upper = float64(upper)
	}
	j.Confidence = ConfidenceBelow(t.Share, c.Failed, c.Of)
	j.Doubt = ConfidenceAbove(t.Share, c.Failed, c.Of)
	j.settle(t)
	j.say("%d of %d containers carried a drop above the limit", c.Failed, c.Of)
	j.say("%.3g %% may", 100*float64(t.Share))
	if j.Verdict == NotEnough {
		j.More = more(t.Share, c, t)
	}
	return j
}

// fewest is the number of weighings below which the spread is not trusted.
const fewest = 3

// weighing is how unsure the water of one container is on a sheet of its own [kg], and shared where many are wiped with
// one; what is left on the wall stays. As the form of acceptance says; common practice, no source.
const weighing, shared = 5e-6, 1e-6

// judgeWater compares the mean of weighings with the limit. Their spread is at least what weighing is unsure by.
func judgeWater(p Promise, rows []Row, t Terms) Judged {
	j := Judged{Promise: p, Mean: nan, Upper: nan}
	var values []float64
	var weighed []Row
	unsure := 0.0
	for _, r := range rows {
		if r.What == Water && r.matches(p.Format) && r.zone(p.Zone) {
			weighed = append(weighed, r)
			v, off := r.each(), max(weighing/float64(max(r.Containers, 1)), shared)
			if p.Quantity == "water" {
				v, off = v/float64(p.Area), off/float64(p.Area)
			}
			values, unsure = append(values, v), max(unsure, off)
			j.Containers += r.Containers
		}
	}
	if len(values) == 0 {
		return j.missing("no containers were weighed there", t)
	}
	s := NewSample(values)
	s.Spread = max(s.Spread, unsure) // equal weighings are no surer than the balance; NaN stays
	j.Mean = s.Mean
	j.Says = sheetsRead(weighed)
	if p.Quantity == "water" && !(p.Area > 0) {
		j.Verdict = NotEnough
		j.Confidence, j.Doubt = q.Ratio(nan), q.Ratio(nan)
		j.say("the area of the zone is not known")
		return j
	}
	if s.N < fewest {
		j.Verdict = NotEnough
		j.Confidence, j.Doubt = q.Ratio(nan), q.Ratio(nan)
		j.More = fewest - s.N
		if s.N == 1 {
			j.say("a single weighing does not show the spread; at least %d are needed", fewest)
		} else {
			j.say("%d weighings do not show the spread; at least %d are needed", s.N, fewest)
		}
		return j
	}
	j.Upper = s.Upper(t.Confidence)
	below := s.ConfidenceBelow(p.Limit)
	j.Confidence, j.Doubt = q.Ratio(below), q.Ratio(1-below)
	j.settle(t)
	if j.Verdict == NotEnough && s.Mean < p.Limit {
		j.More = moreWeighings(s, p.Limit, t)
	}
	return j
}

// moreWeighings is how many further weighings of the same mean and spread would do.
func moreWeighings(s Sample, limit float64, t Terms) int {
	for n := s.N + 1; n <= 200; n++ {
		if (Sample{N: n, Mean: s.Mean, Spread: s.Spread}).ConfidenceBelow(limit) >= float64(t.Confidence) {
			return n - s.N
		}
	}
	return 0
}

// missing is the judgement of a promise that nothing was measured for.
func (j Judged) missing(text string, t Terms) Judged {
	j.Verdict = NotEnough
	j.Confidence, j.Doubt = q.Ratio(nan), q.Ratio(nan)
	j.say("%s", text)
	switch j.Quantity {
	case "rejects":
		j.More, _ = water.SampleSize(q.Ratio(j.Limit), t.Confidence, 0)
	case "drop":
		j.More, _ = water.SampleSize(t.Share, t.Confidence, 0)
	default:
		j.More = 10
	}
	return j
}

// say adds a sentence to what the measurements say.
func (j *Judged) say(format string, args ...any) {
	j.Says = append(j.Says, fmt.Sprintf(format, args...))
}

func (j *Judged) settle(t Terms) {
	switch {
	case j.Confidence >= t.Confidence:
		j.Verdict = Accepted
	case j.Doubt >= t.Confidence:
		j.Verdict = NotAccepted
		j.Doubt = max(j.Doubt, t.Confidence)
	default:
		j.Verdict = NotEnough
	}
}

// more is how many further containers without a failure would do.
func more(rate q.Ratio, c Count, t Terms) int {
	n, err := water.SampleSize(rate, t.Confidence, c.Failed)
	if err != nil {
		return 0
	}
	return max(n-c.Of, 0)
}

// counts adds the reject counts of a promise's machine in one state of the air.
func (e Expected) counts(rows []Row, p Promise, state string) Count {
	c := Count{}
	for _, r := range rows {
		if r.What == Rejects && r.State == state && r.matches(p.Format) && strings.EqualFold(r.At, p.Machine) {
			c.Failed += r.Failed
			c.Of += r.Containers
		}
	}
	return c
}
