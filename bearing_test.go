package leste

import (
	"math"
	"slices"
	"strings"
	"testing"

	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// What a remedy was said to cost was nothing: more pressure was listed though the bottle tips over with it. What is said
// is what an assessment of the job with the remedy finds.
func TestLawARemedyTellsWhatGivesWayWithIt(t *testing.T) {
	o := fast()
	o.Workers, o.Cell = 2, 4e-3 // not the cells of the bench
	ranked := o
	ranked.NoRanking = false
	light := exampleJob(t, "oval-750")
	for i := range light.Formats {
		light.Formats[i].FillMass = q.Known(q.Mass(0.12))
	}
	told := 0
	for name, given := range map[string]*job.Job{"cans": exampleJob(t, "cans-three-sizes"), "light bottle": light} {
		before := assess(t, given, ranked)
		filled := job.Clone(given)
		job.Fill(filled)
		pressures := func(j *job.Job) bool {
			const more = 1.25
			for i := range j.Stations {
				s := &j.Stations[i]
				s.Plenum.V *= more
				for k := range s.Outlets {
					s.Outlets[k].Pressure.V *= more
				}
			}
			return true
		}
		for what, change := range map[string]func(*job.Job) bool{
			"raise the plenum pressure by a quarter":                     pressures,
			"blow a second time with the same outlets, 0.6 m farther on": func(j *job.Job) bool { return again(j, filled, 0.6) },
			"run the line a fifth slower":                                func(j *job.Job) bool { return slowDown(j, filled, 0.8) },
		} {
			i := slices.IndexFunc(before.Helps, func(h Help) bool { return h.What == what })
			if i < 0 {
				continue
			}
			changed := job.Clone(given)
			change(changed)
			after := assess(t, changed, o)
			for k := range after.Formats {
				f := &after.Formats[k]
				says := slices.ContainsFunc(before.Helps[i].Against, func(s string) bool { return strings.HasPrefix(s, "with it "+f.Name+" ") })
				surely, maybe := false, false
				for _, p := range f.Standing {
					if _, gives := GivesWay(p.Way, p.Case); !gives {
						continue
					}
					need, was := 1.0, math.Inf(1)
					if p.falls() {
						need = pushMargin
					}
					for _, b := range before.Formats[k].Standing {
						if b.Way == p.Way {
							was = b.Factor
						}
					}
					const near = 0.04 // as far as the bench moves a push otherwise than the answer
					worse := was >= need || p.Factor < was*(1-near)
					surely = surely || worse && p.Factor < need*(1-near)
					maybe = maybe || p.Factor < need*(1+near) && p.Factor < was*(1+near)
				}
				if surely && !says || says && !maybe {
					t.Errorf("%s, %s, %s: says %q, stands as %+v", name, what, f.Name, before.Helps[i].Against, f.Standing)
				}
				if surely {
					told++
				}
			}
		}
		if !slices.IsSortedFunc(before.Helps, func(x, y Help) int { return min(len(x.Against), 1) - min(len(y.Against), 1) }) {
			t.Errorf("%s: what costs something is not last: %+v", name, before.Helps)
		}
	}
	if told < 3 {
		t.Errorf("only %d containers gave way with a remedy", told)
	}
}

// A remedy with which a limit of the air is passed says so; one that stays below it does not.
func TestLawARemedyTellsWhichLimitOfTheAirIsPassedWithIt(t *testing.T) {
	for _, c := range []struct {
		over float64 // limit over what the air does now
		want bool
	}{{1.1, true}, {2, false}} {
		o := fast()
		o.NoRanking = false
		j := canJob(t, nil)
		peak := peakOf(t, j, o)
		j.Limits = []job.AirLimit{{Zone: job.ZoneSidewall, Pressure: q.Known(q.Gauge(peak * c.over)), Reason: "label edge"}}
		r := assess(t, j, o)
		if len(r.Formats[0].Exceeded) > 0 {
			t.Fatalf("passed as it is: %v", r.Formats[0].Exceeded)
		}
		i := slices.IndexFunc(r.Helps, func(h Help) bool { return strings.HasPrefix(h.What, "raise the plenum pressure") })
		if i < 0 {
			t.Fatalf("more pressure does not help: %+v", r.Helps)
		}
		const says = "has too much pressure of the air at the sidewall"
		if got := slices.ContainsFunc(r.Helps[i].Against, func(s string) bool { return strings.HasSuffix(s, says) }); got != c.want {
			t.Errorf("with %g times what the air does allowed: %q", c.over, r.Helps[i].Against)
		}
	}
}

// peakOf is the greatest pressure of the air at the sidewall of a job's only format [Pa].
func peakOf(t *testing.T, j *job.Job, o Options) float64 {
	t.Helper()
	const far = 1e6
	tried := job.Clone(j)
	tried.Limits = []job.AirLimit{{Zone: job.ZoneSidewall, Pressure: q.Known(q.Gauge(far))}}
	o.NoRanking = true
	a := &assessment{given: tried, options: o, parts: catalogue.GenericParts()}
	if _, err := a.assess(t.Context()); err != nil {
		t.Fatal(err)
	}
	return far * a.bearings[0].used("pressure "+job.ZoneSidewall)
}

// A container that gives way already is told of where a remedy makes it worse, not where it leaves it.
func TestLawWhatGivesWayAlreadyIsToldWhereItGetsWorse(t *testing.T) {
	push := func(way string, factor float64) bearing {
		return bearing{format: "can", pushes: []Push{{Way: way, Factor: factor, Case: "empty container, dry belt, alone"}}}
	}
	for _, c := range []struct {
		way              string
		told, asIs, with float64
		want             string
	}{
		{station.Tip, 2, 2, 1.5, ""},
		{station.Tip, 2, 2, 1.1, "with it can nearly tips over"},
		{station.Tip, 2, 2, 0.9, "with it can tips over"},
		{station.Tip, 2, 1.6, 0.8, "with it can nearly tips over"}, // the bench finds all pushes stronger
		{station.Tip, 1.1, 1.1, 1.1, ""},                           // as it is
		{station.Tip, 0.9, 0.9, 0.9, ""},                           // as it is
		{station.Tip, 0.9, 0.9, 0.95, ""},                          // better
		{station.Tip, 0.9, 0.9, 0.7, "with it can tips over even sooner"},
		{station.Slide, 1.2, 1.2, 1.05, ""}, // slipping has no margin
		{station.Slide, 1.2, 1.2, 0.9, "with it can slips on the belt"},
		{station.Lift, math.Inf(1), math.Inf(1), 0.8, "with it can is lifted"}, // nothing lifts it as it is
		{station.Lift, 3, 3, 1.1, "with it can is nearly lifted"},
		{station.Turned, 2, 2, 0.5, ""}, // it stays on the line
	} {
		told, asIs, with := push(c.way, c.told), push(c.way, c.asIs), push(c.way, c.with)
		if got := strings.Join(told.worsened(&asIs, &with), "; "); got != c.want {
			t.Errorf("%s from %g, on the bench from %g to %g: %q, want %q", c.way, c.told, c.asIs, c.with, got, c.want)
		}
	}
}
