package leste

import (
	"math"
	"slices"
	"strings"
	"testing"

	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// Every value that leaves the range of a relation is said, with value and limit in everyday units.
func TestLawOutOfRangeIsSaid(t *testing.T) {
	knives := func(change func(o *job.Outlet)) func(j *job.Job) {
		return func(j *job.Job) { outlets(j, change) }
	}
	asFound := func(pressure q.Gauge, more func(o *job.Outlet)) func(j *job.Job) {
		return knives(func(o *job.Outlet) {
			o.Pressure = q.Known(pressure)
			if more != nil {
				more(o)
			}
		})
	}
	nozzle := func(bore, standOff float64) func(o *job.Outlet) {
		return func(o *job.Outlet) {
			o.Kind, o.SlotGap, o.Tilt = job.Nozzle, q.Maybe[q.Length]{}, q.Known(q.Angle(0))
			o.Bore, o.StandOff = q.Known(q.Millimetres(bore)), q.Known(q.Millimetres(standOff))
		}
	}
	for _, c := range []struct {
		name     string
		change   func(j *job.Job)
		relation string
		severity relation.Severity
		value    float64 // 0 is any
		limit    float64
		unit     string
	}{
		{"slot of 0.3 mm at 5 kPa", asFound(5e3, func(o *job.Outlet) { o.SlotGap = q.Known(q.Millimetres(0.3)) }), "plane-jet", relation.Stop, 0, 2000, "1"},
		{"slot of 0.6 mm at 5 kPa", asFound(5e3, func(o *job.Outlet) { o.SlotGap = q.Known(q.Millimetres(0.6)) }), "plane-jet", relation.Caution, 0, 5000, "1"},
		{"slot of 0.4 mm", knives(func(o *job.Outlet) { o.SlotGap = q.Known(q.Millimetres(0.4)) }), "discharge-coefficient", relation.Caution, 0.4, 0.5, "mm"},
		{"slot of 0.2 mm", knives(func(o *job.Outlet) { o.SlotGap = q.Known(q.Millimetres(0.2)) }), "discharge-coefficient", relation.Outside, 0.2, 0.3, "mm"},
		{"slot as short as wide", knives(func(o *job.Outlet) { o.Length = q.Known(q.Millimetres(20)) }), "plane-jet", relation.Caution, 13.33, 20, "1"},
		{"plenum of 60 kPa", asFound(60e3, nil), "discharge", relation.Caution, 60, 50, "kPa"},
		{"plenum of 120 kPa", asFound(120e3, nil), "discharge", relation.Caution, 0, 0.52828, "1"},
		{"slow jet's sound", asFound(5e3, nil), "jet-sound", relation.Outside, 0, 0.4, "1"},
		{"nozzle of 2 mm from afar", asFound(60e3, nozzle(2, 250)), "round-jet", relation.Outside, 125, 75, "1"},
		{"nozzle of 0.3 mm", asFound(20e3, nozzle(0.3, 20)), "round-jet", relation.Stop, 0, 5000, "1"},
		{"nozzle of 60 mm", asFound(20e3, nozzle(60, 100)), "wall-shear", relation.Outside, 0, 4.5e5, "1"},
		{"nozzle that touches", asFound(20e3, nozzle(30, 20)), "impact-pressure", relation.Outside, 0.667, 1, "1"},
		{"line of 4 m/s", func(j *job.Job) { j.Line.Rate, j.Line.Speed = q.Maybe[q.Rate]{}, q.Known(q.Speed(4)) }, "wiped-film", relation.Outside, 4.6, 3, "m/s"},
		{"line of 0.03 m/s", func(j *job.Job) { j.Line.Rate, j.Line.Speed = q.Maybe[q.Rate]{}, q.Known(q.Speed(0.03)) }, "wiped-film", relation.Outside, 0.03, 0.05, "m/s"},
		{"water of 95 degC", func(j *job.Job) { j.Arrives.Temperature = q.Known(q.Celsius(95)) }, "water-viscosity", relation.Outside, 95, 90, "degC"},
		{"rinsed just before", func(j *job.Job) { j.Arrives.Since = q.Known(q.Duration(0.5)) }, "drained-film", relation.Outside, 0.5, 1, "s"},
		{"product of 80 degC", func(j *job.Job) { j.Formats[0].Product = q.Known(q.Celsius(80)) }, "evaporation-flux", relation.Outside, 80, 60, "degC"},
		{"site at 4500 m", func(j *job.Job) { j.Stations, j.Site.Altitude = nil, q.Known(q.Length(4500)) }, "standard-atmosphere", relation.Stop, 4500, 4000, "m"},
		{"steam room", func(j *job.Job) {
			j.Stations = nil // with outlets the air supply refuses it
			j.Site.Summer.Temperature, j.Site.Summer.Humidity = q.Known(q.Celsius(55)), q.Known(q.Ratio(0.8))
		}, "site-air", relation.Stop, 0, 0.06, "1"},
		{"film that tears widely", func(j *job.Job) { j.Model.HoleSpacing = q.Known(q.Millimetres(14)) }, "film-break-up", relation.Outside, 14, 10, "mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			within := canJob(t, atMeasuredPressure)
			j := canJob(t, atMeasuredPressure)
			c.change(j)
			o := fast()
			is := func(n relation.Note) bool {
				return n.Relation == c.relation && n.Severity == c.severity && math.Abs(n.Limit-c.limit) <= 1e-6*math.Abs(c.limit)
			}
			if r := assess(t, within, o); slices.ContainsFunc(r.Notes, is) {
				t.Fatal("the note is there while the value is in range")
			}
			r := assess(t, j, o)
			i := slices.IndexFunc(r.Notes, is)
			if i < 0 {
				t.Fatalf("no %s of %s at %g %s among %+v", c.severity, c.relation, c.limit, c.unit, r.Notes)
			}
			n := r.Notes[i]
			if n.Unit != c.unit || c.value != 0 && math.Abs(n.Value-c.value) > 1e-2*c.value || math.IsNaN(n.Value) {
				t.Errorf("%+v, want %g %s", n, c.value, c.unit)
			}
			stopped := slices.ContainsFunc(r.Stops, func(s string) bool { return strings.HasPrefix(s, n.Text) })
			if stopped != (c.severity == relation.Stop) {
				t.Errorf("a note of severity %s, and the promise: %q", n.Severity, r.Stops)
			}
			if stopped && r.Verdict == Met {
				t.Error("met, where nothing is promised")
			}
		})
	}
}

// atMeasuredPressure makes a planned station one as found: its plenum pressures hold whatever the outlets are.
func atMeasuredPressure(j *job.Job) {
	j.AirSupply, j.Line.Rails = job.AirSupply{}, nil
	j.Stations[0].State, j.Stations[0].Frames = "as found", nil
	outlets(j, func(o *job.Outlet) { o.Frame = "" })
}

// Of two notes that say the same the one farther out is kept.
func TestLawTheWorstOfLikeNotesStays(t *testing.T) {
	note := func(value float64) relation.Note {
		return relation.Note{Severity: relation.Outside, Relation: "wiped-film", Text: "x: fast", Value: value, Limit: 3, Unit: "m/s"}
	}
	other := relation.Note{Severity: relation.Info, Text: "other", Value: math.NaN(), Limit: math.NaN()}
	a := &assessment{job: &job.Job{}, result: &Result{Notes: []relation.Note{note(3.5), other, note(4.6), note(4), other}}}
	a.finish()
	if got := a.result.Notes; len(got) != 2 || got[0].Value != 4.6 || got[1].Text != "other" {
		t.Errorf("%+v", got)
	}
}
