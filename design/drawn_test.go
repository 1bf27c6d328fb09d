package design

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// What a job draws is where the search of its own outlets starts from, for every format, whatever can be set.
func TestLawOwnOutletsStartWhereTheyAreDrawn(t *testing.T) {
	names, err := filepath.Glob("../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	jobs := map[string]*job.Job{}
	for _, name := range names {
		jobs[filepath.Base(name)] = example(t, strings.TrimSuffix(filepath.Base(name), ".yaml"))
	}
	odd := example(t, "cans-three-sizes") // steeply down beside the shoulder, off every scale, with a knife above at one height
	for i := range odd.Stations[0].Outlets {
		o := &odd.Stations[0].Outlets[i]
		o.Height, o.StandOff, o.Tilt = q.Known(q.Millimetres(121.3)), q.Known(q.Millimetres(38.7)), q.Known(q.Degrees(31.5))
		o.AimDown, o.Length = q.Known(q.Degrees(41.2)), q.Known(q.Millimetres(187))
		o.SetGap(q.Known(q.Millimetres(1.1)))
	}
	odd.Stations[0].Outlets = append(odd.Stations[0].Outlets, job.Outlet{
		Name: "top knife", Kind: job.AirKnife, Side: above, X: q.Known(q.Millimetres(-300)), Height: q.Known(q.Millimetres(215)),
		Tilt: q.Known(q.Degrees(90)), Length: q.Known(q.Millimetres(90)), SlotGap: q.Known(q.Millimetres(1.5)),
	})
	jobs["odd"] = odd
	for name, text := range carriedJobs(t) {
		f, problems := job.Load(name, []byte(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		jobs["carried: "+name] = f.Job
	}
	tried := 0
	for name, j := range jobs {
		s, err := newSearch(j, Options{quickOnly: true})
		if err != nil {
			continue // of which the search says why
		}
		want, ok := laidOut(j)
		for _, jd := range s.judges {
			c := jd.concept
			if !c.own {
				continue
			}
			tried++
			if !ok {
				t.Fatalf("%s cannot be laid out, and is searched for", name)
			}
			a := c.arrange(c.rule())
			got, ok := laidOut(a.job(startPressure))
			if !ok {
				t.Errorf("%s, %s: cannot be laid out any more", name, c.name)
				continue
			}
			for f := range want.Formats {
				for k := range want.Formats[f].Stations {
					for _, w := range want.Formats[f].Stations[k].Outlets {
						near(t, name+", "+c.name+", "+want.Formats[f].Format.Name, w, got.Formats[f].Stations[k].Outlets)
					}
				}
			}
		}
	}
	if tried < 6 {
		t.Errorf("%d concepts tried", tried)
	}
}

// near finds an outlet among others where it stands.
func near(t *testing.T, where string, want station.Placed, all []station.Placed) {
	t.Helper()
	const close = 1e-9
	for _, o := range all {
		if o.Name != want.Name {
			continue
		}
		if between(o.Middle, want.Middle) > close || between(o.Line, want.Line) > close || between(o.Axis, want.Axis) > close || math.Abs(o.Length-want.Length) > close ||
			math.Abs(o.Gap-want.Gap) > close || math.Abs(o.Bore-want.Bore) > close || math.Abs(o.Spacing-want.Spacing) > close {
			t.Errorf("%s: %s is at %.5v along %.5v, %.4g m long with openings of %.4g and %.4g m, drawn at %.5v along %.5v, %.4g m, %.4g and %.4g m",
				where, o.Name, o.Middle, o.Line, o.Length, o.Gap, o.Bore, want.Middle, want.Line, want.Length, want.Gap, want.Bore)
		}
		return
	}
	t.Errorf("%s: %s is missing", where, want.Name)
}

// Of a station that stands, changes that coarse cells find a little too wet are assessed, and explored like the best.
func TestLawChangesToWhatStandsThereAreSeenThrough(t *testing.T) {
	o := small(3, 2)
	o.Concepts = []string{"as found, moved", "as found, moved and opened", "tilted knives"}
	s, err := newSearch(example(t, "as-found-speed-up"), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	st := &Study{Goal: GoalLikely}
	for i, j := range s.judges {
		x := j.concept.fittedStances()[len(j.concept.fittedStances())-1]
		wet := Individual{X: x, Pressure: 12e3, Violation: within(levelWater, 0.3), Reserve: 0.75, Why: "too wet"}
		s.state.Populations[i].Members = []Individual{wet}
		st.Found = append(st.Found, s.found(i, &wet))
	}
	cheap := Individual{X: s.judges[0].concept.rule(), Pressure: 3e3, Cost: 1}
	for i, j := range s.judges {
		s.state.Order, s.state.Lent = []int{i, 0}, s.best()
		s.state.Lent[i] = cheap
		other := (i + 1) % len(s.judges)
		share, err := s.promise(t.Context(), other)
		if own := s.judges[other].concept.own; err != nil || (share == 1) != own {
			t.Errorf("%s is explored with a share of one in %d beside %s, %v", s.judges[other].concept.name, share, j.concept.name, err)
		}
	}
	if err := s.proveRungs(t.Context(), st); err != nil {
		t.Fatal(err)
	}
	for i := range st.Found {
		if f := &st.Found[i]; f.Sure != f.Own {
			t.Errorf("%s, assessed: %v", f.Concept, f.Sure)
		}
	}
}

// A station that is told to stay as it stands does so in its job file: stand-offs were rounded to whole millimetres there.
func TestLawWhatStaysIsWrittenWhereItStands(t *testing.T) {
	j := example(t, "as-found-speed-up")
	for i := range j.Stations[0].Outlets {
		o := &j.Stations[0].Outlets[i]
		o.StandOff, o.AimDown = q.Known(q.Millimetres(53.6)), q.Known(q.Degrees(17))
	}
	s, err := newSearch(j, Options{quickOnly: true, Concepts: []string{"as found, other air"}})
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	a := c.arrange(c.rule())
	want, ok := laidOut(j)
	got, again := laidOut(s.finished(a.job(startPressure), ""))
	if !ok || !again {
		t.Fatal("cannot be laid out")
	}
	for _, w := range want.Formats[0].Stations[0].Outlets {
		near(t, c.name, w, got.Formats[0].Stations[0].Outlets)
	}
}

// Round inches are told as such: 4 in read 4.02 in, as three digits of a millimetre. Rules of thumb have no more of them.
func TestLawLengthsAreToldToTheTenthOfAMillimetre(t *testing.T) {
	v := Variable{Kind: q.KindLength}
	for value, want := range map[float64]string{4 * inch: "101.6 mm", 9.5 * inch: "241.3 mm", 0.18: "180 mm", 39.727e-3: "39.7 mm", 0.40013: "400 mm"} {
		if got := v.text(value); got != want {
			t.Errorf("%g m reads %q, not %q", value, got, want)
		}
	}
}

// The clearance of level knives 60 mm from a can was told as 60.2 mm, by the centres of the can's cells.
func TestLawClearancesAreToldFromTheWall(t *testing.T) {
	s, err := newSearch(example(t, "as-found-speed-up"), Options{quickOnly: true, Concepts: []string{"as found, moved"}})
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	a := c.arrange(c.rule())
	told := a.laid(s.finished(a.job(startPressure), ""))
	for _, d := range c.departures(c.rule(), &told) {
		if strings.HasPrefix(d.Variable, "clearance") && (d.Value != "60 mm" || d.Rule != "60 mm") {
			t.Errorf("the %s is told as %s, drawn as %s", d.Variable, d.Value, d.Rule)
		}
	}
}
