package design

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// carriedJobs are jobs whose outlets are on frames: those of the examples, and two with all that a frame can do, one of them
// in customary units.
func carriedJobs(t *testing.T) (texts map[string]string) {
	t.Helper()
	text := func(j *job.Job) string {
		out, err := Write(j, "")
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	texts = map[string]string{"customary": strings.Replace(customary, "    outlets:", `    frames:
      - name: lifting frame
        axes:
          - { axis: height, low: 0 in, high: 3 in, step: 0.1 in }
          - { axis: stand-off, low: 0 in, high: 1 in, step: 0.05 in }
        settings:
          - { format: can, height: 0.5 in, stand_off: 0.2 in }
          - { format: sleek can, height: 1.25 in, stand_off: 0.3 in }
    outlets:`, 1)}
	texts["customary"] = strings.Replace(texts["customary"], "side: left,", "side: left, frame: lifting frame,", 1)
	for _, name := range []string{"can-330-sidewall", "cans-three-sizes", "pet-500-closure", "as-found-speed-up"} {
		texts[name] = text(example(t, name))
	}
	all := example(t, "cans-three-sizes") // a pair on two frames that are set for the first format too, and one above on one of them
	st := &all.Stations[0]
	mm, deg := func(v float64) q.Maybe[q.Length] { return q.Known(q.Millimetres(v)) }, func(v float64) q.Maybe[q.Angle] { return q.Known(q.Degrees(v)) }
	st.Frames = nil
	for _, side := range []string{left, right} {
		f := job.Frame{Name: side + " frame", Axes: []job.Axis{
			{Axis: "height", Low: "-10 mm", High: "60 mm", Step: "5 mm"},
			{Axis: "stand-off", Low: "not known", High: "20 mm"},
			{Axis: "tilt", Low: "0 deg", High: "30 deg", Step: "2 deg"},
			{Axis: "aim", Low: "-10 deg", High: "20 deg"},
		}}
		for i := range all.Formats {
			f.Settings = append(f.Settings, job.Setting{Format: all.Formats[i].Name, Height: mm(7 + 13*float64(i)), StandOff: mm(4 + float64(i)), Tilt: deg(6), Aim: deg(3)})
		}
		st.Frames = append(st.Frames, f)
	}
	for i := range st.Outlets {
		st.Outlets[i].Frame = st.Outlets[i].Side + " frame"
	}
	texts["two frames"] = text(all)
	st.Frames[0].Axes = st.Frames[0].Axes[:2]
	for i := range st.Frames[0].Settings {
		st.Frames[0].Settings[i].Tilt, st.Frames[0].Settings[i].Aim = q.Maybe[q.Angle]{}, q.Maybe[q.Angle]{}
	}
	for i := range st.Outlets {
		st.Outlets[i].Frame = "left frame"
	}
	st.Frames = append(st.Frames[:1], job.Frame{Name: "top frame", Axes: []job.Axis{{Axis: "height"}, {Axis: "stand-off"}}})
	for i := range all.Formats {
		st.Frames[1].Settings = append(st.Frames[1].Settings, job.Setting{Format: all.Formats[i].Name, Height: mm(20 * float64(i)), StandOff: mm(5)})
	}
	st.Outlets = append(st.Outlets, job.Outlet{
		Name: "top knife", Kind: job.AirKnife, Side: above, Frame: "top frame", X: mm(-300), Height: mm(215), Offset: mm(12),
		AimDown: deg(8), Tilt: deg(90), Length: mm(90), SlotGap: mm(1.5),
	})
	texts["one above"] = text(all)
	st.Outlets[len(st.Outlets)-1].Frame = "left frame"
	st.Frames[0].Name = "side frame" // as a search calls those that it makes
	for i := range st.Outlets {
		st.Outlets[i].Frame = "side frame"
	}
	texts["one for all"] = text(all)
	return texts
}

// Written jobs of the job's own outlets had frames with names, scales and zeros of their own, on which no reading of the old
// ones was right. Wherever a search puts its outlets, the written job has them there, by the scales that are there.
func TestLawFramesStayWithWhatTheyCarry(t *testing.T) {
	tried, kept, widened, gone := 0, 0, 0, 0
	for name, text := range carriedJobs(t) {
		file, problems := job.Load(name, []byte(text))
		if len(problems) > 0 {
			t.Fatal(name, problems)
		}
		given := file.Job
		s, err := newSearch(given, Options{quickOnly: true, Spelling: file.Spelling(), Sizes: Sizes{Units: file.Spelling().System()}})
		if err != nil {
			t.Fatal(name, err)
		}
		chance := rand.New(rand.NewPCG(1, uint64(len(name))))
		for _, jd := range s.judges {
			c := jd.concept
			if !c.own {
				continue
			}
			const points, spread = 12, 0.3
			for n := range points {
				x := c.rule()
				for k := range x {
					if n > 0 && (n > 2 || c.variables[k].Format == "") { // as drawn, then alike for all formats, then not
						x[k] = min(max(x[k]+spread*(chance.Float64()-0.5), 0), 1)
					}
				}
				a := c.arrange(x)
				found := s.finished(a.job(startPressure), "")
				written, err := WriteAs(found, "", file.Spelling())
				if err != nil {
					t.Fatal(err)
				}
				again, problems := job.Load("written", written)
				if len(problems) > 0 {
					t.Fatalf("%s, %s: %v\n%s", name, c.name, problems, written)
				}
				plan, ok := laidOut(again.Job)
				if !ok {
					continue // a lip in the container: which the search knows as well
				}
				tried++
				where := name + ", " + c.name
				for p := range given.Stations {
					stood := &given.Stations[p]
					for i := range stood.Frames {
						now := frameOf(&again.Job.Stations[p], stood.Frames[i].Name)
						if now == nil {
							gone++
							continue
						}
						kept++
						for k, axis := range stood.Frames[i].Axes {
							if now.Axes[k] != axis {
								widened++
								axis.Low, axis.High = now.Axes[k].Low, now.Axes[k].High
							}
							if now.Axes[k] != axis {
								t.Errorf("%s: the axis %v is %v", where, stood.Frames[i].Axes[k], now.Axes[k])
							}
						}
					}
					for f := range plan.Formats {
						sameLips(t, where, given, &again.Job.Stations[p], &a, p, f, plan.Formats[f].Stations[p].Outlets)
					}
				}
			}
		}
	}
	if tried < 60 || kept < 40 || widened < 20 || gone < 3 {
		t.Errorf("%d tried, with %d frames kept, %d scales widened and %d frames given up", tried, kept, widened, gone)
	}
}

// sameLips holds the outlets of a layout against where a search has them.
func sameLips(t *testing.T, where string, given *job.Job, st *job.Station, a *arrangement, place, format int, all []station.Placed) {
	t.Helper()
	for i := range a.setups {
		s := &a.setups[i]
		for n := range s.given {
			if s.place != place {
				continue
			}
			want := s.lip(n, format)
			k := slices.IndexFunc(all, func(o station.Placed) bool { return o.Name == s.given[n].Name })
			if k < 0 {
				t.Fatalf("%s: no outlet %q", where, s.given[n].Name)
			}
			close := 0.13e-3 // half a hundredth of an inch is written
			if hasFrame(given.Stations[place].Frames, st.Outlets[k].Frame) {
				if st.Outlets[k].Frame != s.given[n].Frame {
					t.Errorf("%s: %q went from %q to %q", where, all[k].Name, s.given[n].Frame, st.Outlets[k].Frame)
				}
			} else {
				close = 1e-3 // its stand-off is told in whole millimetres
			}
			const turn = 0.1 * degree
			if d := between(all[k].Middle, want.Middle); !(d <= close) || !(between(all[k].Axis, want.Axis) < turn) || !(between(all[k].Line, want.Line) < turn) {
				t.Errorf("%s: %q is at %.5v, and the search has it at %.5v (%.2g mm), aimed %.4v, not %.4v", where, all[k].Name, all[k].Middle, want.Middle, d*1e3, all[k].Axis, want.Axis)
			}
		}
	}
}

// A written job calls planned what stands there and is only set anew, since its pressures are wanted: as found they were
// measured, and no blower would be chosen for them. Its head says which station that is.
func TestLawWhatIsOnlySetAnewIsKnown(t *testing.T) {
	given := example(t, "as-found-speed-up")
	given.Stations[0].State = "" // the measured pressure says so
	s, err := newSearch(given, Options{quickOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, jd := range s.judges {
		c := jd.concept
		x := c.rule()
		for i := range x {
			if c.own {
				x[i] = 0.9
			}
		}
		a := c.arrange(x)
		j := s.finished(a.job(startPressure), "")
		if st := &j.Stations[0]; st.State != job.Planned || st.Plenum.Known {
			t.Errorf("%s: the station is %q, with a plenum at %v", c.name, st.State, st.Plenum)
		}
		var want []string
		if strings.HasPrefix(c.name, "as found") { // no other size
			want = []string{"old station"}
		}
		if got := setAnew(c.stations, j); !slices.Equal(got, want) {
			t.Errorf("%s: %q are set anew, not %q", c.name, got, want)
		}
	}
}

// The study told nothing of a concept that a job has not, and of scales that do not reach.
func TestLawWhatIsOtherwiseAboutFramesIsTold(t *testing.T) {
	was := []job.Station{{Frames: []job.Frame{
		{Name: "lifting frame", Axes: []job.Axis{{Axis: "height", Low: "0 mm", High: "80 mm", Step: "5 mm"}, {Axis: "stand-off", Low: "0 in", High: "1 in"}}},
		{Name: "top frame"},
	}}}
	now := job.Clone(&job.Job{Stations: was})
	f := &now.Stations[0].Frames[0]
	f.Settings = []job.Setting{{Height: q.Known(q.Millimetres(-12)), StandOff: q.Known(q.Millimetres(30))}, {Height: q.Known(q.Millimetres(80))}}
	for i := range f.Axes {
		reachFor(&f.Axes[i], f.Settings)
	}
	now.Stations[0].Frames = now.Stations[0].Frames[:1]
	want := []string{
		`The height scale of the frame "lifting frame" must reach down to -15 mm, not 0 mm.`,
		`The stand-off scale of the frame "lifting frame" must reach up to 1.2 in, not 1 in.`,
		`The frame "top frame" cannot carry its outlets any more, as they move apart; they are on other frames.`,
	}
	if got := scales(was, now); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	st := &Study{Found: []Found{{Works: true, Own: true, Scales: want[:1]}}, Undrawn: `"left nozzle" is a single nozzle` + unvaried}
	reasons := st.reasons("EUR")
	for _, text := range []string{want[0], `What the job draws is not searched from, as "left nozzle" is a single nozzle, which a search does not vary.`} {
		if !slices.Contains(reasons, text) {
			t.Errorf("%q lacks %q", reasons, text)
		}
	}
}

// A job whose outlets cannot be varied has no concept of them, and nothing but the docs said why.
func TestLawWhatIsNotVariedIsTold(t *testing.T) {
	frame := func(set func(s *job.Setting)) func(j *job.Job) {
		return func(j *job.Job) {
			f := &j.Stations[0].Frames[0]
			f.Axes = append(f.Axes, job.Axis{Axis: "tilt"}, job.Axis{Axis: "aim"})
			set(&f.Settings[1])
		}
	}
	for want, change := range map[string]func(j *job.Job){
		`"left knife" is fed with compressed air`: func(j *job.Job) { j.Stations[0].Outlets[0].Compressed = true },
		`"left knife" is a single nozzle`: func(j *job.Job) {
			o := &j.Stations[0].Outlets[0]
			o.Kind, o.Length, o.SlotGap, o.Bore = job.Nozzle, q.Maybe[q.Length]{}, q.Maybe[q.Length]{}, q.Known(q.Millimetres(12))
		},
		`"right knife" has oblong nozzles`: func(j *job.Job) {
			o := &j.Stations[0].Outlets[1]
			o.Kind, o.SlotGap, o.Wide, o.High, o.Spacing = job.NozzleManifold, q.Maybe[q.Length]{}, q.Known(q.Millimetres(12)), q.Known(q.Millimetres(3)), q.Known(q.Millimetres(40))
		},
		`the frame "lifting frame" tilts or aims "left knife" otherwise from format to format`: frame(func(s *job.Setting) { s.Aim = q.Known(q.Degrees(3)) }),
		"": func(*job.Job) {},
	} {
		j := example(t, "cans-three-sizes")
		change(j)
		if want != "" {
			want += unvaried
		}
		s, err := newSearch(j, Options{quickOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		own := slices.ContainsFunc(s.judges, func(j *judge) bool { return j.concept.own })
		if s.undrawn != want || own == (want != "") {
			t.Errorf("%q is told, not %q, and what is drawn is searched from: %v", s.undrawn, want, own)
		}
		if _, err := newSearch(j, Options{quickOnly: true, Concepts: []string{asDrawn}}); want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("asked for it is refused by %v", err)
		}
	}
}

// Of a station that stands there, with a mistake in its file, a study said that no change to it worked of those that were
// tried: none was, and nobody was told why.
func TestLawWhatCannotBeLaidOutIsToldNotTried(t *testing.T) {
	j := example(t, "cans-three-sizes")
	j.Stations[0].State = job.AsFound
	j.Stations[0].Outlets[0].Height = q.Known(q.Millimetres(400))
	s, err := newSearch(j, Options{quickOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	if want := `the air of "left knife" misses the container`; !strings.HasPrefix(s.undrawn, want) {
		t.Errorf("%q is told, not %q", s.undrawn, want)
	}
	st := &Study{Found: []Found{{Concept: "tilted knives", Works: true, Cost: 100}}, Undrawn: s.undrawn}
	st.Least = s.leastChange(st)
	if said := strings.Join(st.reasons("EUR"), " "); strings.Contains(said, "No change") || !strings.Contains(said, "misses the container") {
		t.Error(said)
	}
	j.Stations[0].Outlets = nil
	if s, err = newSearch(j, Options{quickOnly: true}); err != nil || s.undrawn != "" {
		t.Errorf("without outlets %q is told: %v", s.undrawn, err)
	}
}
