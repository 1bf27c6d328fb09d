package leste

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"strings"

	"leste/job"
	"leste/station"
)

// A bearing is how a format bears the air: what it resists the pushes with, and how its zones keep the limits of the air.
type bearing struct {
	format string
	pushes []Push
	limits []station.LimitResult // of every station
	steps  []float64             // m, between the positions of each pass that were looked at
}

// bears finds how a format bears the air of its recorded passes.
func (a *assessment) bears(ctx context.Context, f *station.FormatPlan, st *stage) (bearing, error) {
	b := bearing{format: f.Format.Name}
	options := a.standOptions()
	worst := newWorstPushes()
	for i, e := range st.exposers {
		options.Record = st.records[i]
		// A container that passes may slip or rock a little; one that stops under the air may not.
		options.Speed = f.Speed
		pushes, err := station.Stand(ctx, e, options)
		if err != nil {
			return b, err
		}
		worst.add(pushes, "")
		if a.job.Line.Stops.V {
			options.Speed = 0
			if pushes, err = station.Stand(ctx, e, options); err != nil {
				return b, err
			}
			worst.add(pushes, ", line stopped")
		}
		found, err := st.records[i].Limits(e, a.job.Limits)
		if err != nil {
			return b, err
		}
		b.limits = append(b.limits, found...)
	}
	b.pushes = worst.found
	return b, nil
}

// What a container does that gives way: on a belt, or between side grips, which touches no belt.
var (
	givesOnBelt = map[string]string{
		station.Tip: "tips over", station.Lift: "is lifted", station.Slide: "slips on the belt", station.HeldBack: "is held back by the air",
	}
	givesInGrips = map[string]string{station.Lift: "is pushed up out of the side grips", station.Slide: "slips in the side grips"}
)

// GivesWay says what a container does that a push moves, in the case that it is told for; false where it keeps its place
// on the line all the same, as one that is turned does.
func GivesWay(way, in string) (words string, gives bool) {
	const inGrips = "held by the grips" // stands in the case then
	if strings.Contains(in, inGrips) {
		words, gives = givesInGrips[way]
	} else {
		words, gives = givesOnBelt[way]
	}
	return words, gives
}

// TooMuchAir says which limit of the air is passed at a zone, of a container.
func TooMuchAir(quantity, zone string) string {
	if zone == job.ZoneAll {
		return fmt.Sprintf("has too much %s of the air", quantity)
	}
	return fmt.Sprintf("has too much %s of the air at the %s", quantity, zone)
}

// Nearly says of what a container does that it is near to it.
func Nearly(does string) string {
	if suffers, is := strings.CutPrefix(does, "is "); is {
		return "is nearly " + suffers
	}
	return "nearly " + does
}

// bear finds how every format bears the air of a variation, on the cells of the bench; nil where it cannot be laid out.
func (b *bench) bear(ctx context.Context, v variation) ([]bearing, error) {
	t := b.varied(v)
	if t == nil {
		return nil, nil
	}
	var all []bearing
	for i := range b.a.bearings {
		told := &b.a.bearings[i]
		f := t.formatNamed(told.format)
		if f == nil {
			return nil, nil
		}
		st, err := t.newStage(f, false)
		if err != nil {
			return nil, nil // as in try
		}
		for k, e := range st.exposers {
			step := 0.0
			if n := len(told.steps); n > 0 {
				step = told.steps[min(k, n-1)] // a station that a variation adds is one like the last
			}
			r, err := station.NewRecord(ctx, e, step)
			if err != nil {
				return nil, err
			}
			st.records = append(st.records, r)
		}
		found, err := t.bears(ctx, f, st)
		if err != nil {
			return nil, err
		}
		all = append(all, found)
	}
	return all, nil
}

// against says what gives way with a variation and does not without it, or more easily than without it. asIs is what bear
// finds of the job as it is: levels of the bench are not those of the answer, only ratios are used.
func (b *bench) against(ctx context.Context, v variation, asIs []bearing) ([]string, error) {
	if v.asSeen || v.airComes || len(asIs) == 0 {
		return nil, nil // the air of the nominal case stays what it is
	}
	with, err := b.bear(ctx, v)
	if err != nil || with == nil {
		return nil, err
	}
	var out []string
	for i := range with {
		out = append(out, b.a.bearings[i].worsened(&asIs[i], &with[i])...)
	}
	return out, nil
}

// clearly is the least change of a push that is told of a container that gives way already; smaller ones may come from
// the cells.
const clearly = 1.02

// worsened says what of a format gives way, or does so more easily, when the bench finds it to bear the air like with and
// not like asIs.
func (b *bearing) worsened(asIs, with *bearing) []string {
	out := b.moves(asIs, with)
	told := map[string]bool{}
	for _, l := range with.limits {
		key := limitKey(&l)
		if told[key] {
			continue
		}
		told[key] = true
		before := b.used(key)
		after := moved(before, asIs.used(key), with.used(key))
		does := TooMuchAir(l.Quantity, l.Zone)
		switch {
		case after <= 1, before > 1 && after < before*clearly:
			continue
		case before > 1:
			does += evenSooner
		}
		out = append(out, b.with(does))
	}
	return out
}

// moves says how a container gives way: that it falls, or else that it nearly does and that it slips.
func (b *bearing) moves(asIs, with *bearing) (out []string) {
	falls, near, slips := "", "", ""
	for _, p := range with.pushes {
		does, gives := GivesWay(p.Way, p.Case)
		if !gives {
			continue
		}
		before := b.factor(p.Way)
		after := moved(before, asIs.factor(p.Way), p.Factor)
		need := 1.0
		if p.falls() {
			need = pushMargin
		}
		switch {
		case after >= need, before < need && after*clearly > before:
			continue
		case after >= 1:
			near = cmp.Or(near, Nearly(does))
			continue
		case before < 1:
			does += evenSooner
		}
		if p.falls() {
			falls = cmp.Or(falls, does)
		} else {
			slips = cmp.Or(slips, does)
		}
	}
	if falls != "" {
		near, slips = "", ""
	}
	for _, does := range []string{falls, near, slips} {
		if does != "" {
			out = append(out, b.with(does))
		}
	}
	return out
}

// with says what the container does with a remedy.
func (b *bearing) with(does string) string { return "with it " + b.format + " " + does }

// evenSooner stands behind what happens already, with less air than now.
const evenSooner = " even sooner"

// factor is the resistance over push in one way; without end where nothing pushes.
func (b *bearing) factor(way string) float64 {
	for _, p := range b.pushes {
		if p.Way == way {
			return p.Factor
		}
	}
	return math.Inf(1)
}

func limitKey(l *station.LimitResult) string { return l.Quantity + " " + l.Zone }

// used is how much of a limit of the air is used; 0 where nothing is, or there is none.
func (b *bearing) used(key string) float64 {
	most := 0.0
	for i := range b.limits {
		if l := &b.limits[i]; limitKey(l) == key && l.Limit > 0 {
			most = max(most, l.Value/l.Limit)
		}
	}
	return most
}

// moved is a number of the answer moved as the bench finds it to; where it has no ratio, it is that of the bench.
func moved(told, asIs, with float64) float64 {
	if by := with / asIs; by > 0 && !math.IsInf(by, 1) && told > 0 && !math.IsInf(told, 1) {
		return told * by
	}
	return with
}

// falls says whether a container that gives way so does not stay on the line.
func (p *Push) falls() bool { return p.Way == station.Tip || p.Way == station.Lift }
