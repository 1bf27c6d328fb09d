package job

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	q "leste/quantity"
)

// jobs returns every job file there is: the starter, the base of the malformed files, the examples.
func jobs(t testing.TB) map[string]string {
	t.Helper()
	all := map[string]string{"starter": string(Starter())}
	paths, err := filepath.Glob(filepath.Join("..", "examples", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range append(paths, filepath.Join("testdata", "malformed", "base.yaml")) {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(p)] = string(data)
	}
	return all
}

func filled(t testing.TB, text string) (*Job, []Assumed) {
	t.Helper()
	f, problems := Load("job.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems.Error())
	}
	list := Fill(f.Job)
	return f.Job, list
}

func TestLawExamplesAndStarterHaveNoProblems(t *testing.T) {
	for name, text := range jobs(t) {
		if _, problems := Load(name, []byte(text)); len(problems) > 0 {
			t.Error(problems.Error())
		}
	}
}

// Filling a filled job changes nothing.
func TestLawFillTwiceIsFillOnce(t *testing.T) {
	for name, text := range jobs(t) {
		j, _ := filled(t, text)
		again := Clone(j)
		Fill(again)
		if d := cmp.Diff(j, again); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

// What the file says stays as it is and is never listed; what is filled stays not known.
func TestLawFillLeavesWhatIsKnown(t *testing.T) {
	for name, text := range jobs(t) {
		f, _ := Load(name, []byte(text))
		j := Clone(f.Job)
		list := Fill(j)
		before := map[string]string{}
		jobGroup.each(reflect.ValueOf(f.Job).Elem(), "", func(path string, fd *field, v, _ reflect.Value) {
			if text, known := fd.write(v); known && !v.IsZero() {
				before[path] = text
			}
		})
		for path, want := range before {
			got, known, err := Value(j, path)
			if err != nil || !known || got != want {
				t.Errorf("%s: %s was %q and is %q (known %v), %v", name, path, want, got, known, err)
			}
		}
		for _, a := range list {
			if _, ok := before[a.Path]; ok {
				t.Errorf("%s: %s is given and yet listed as assumed", name, a.Path)
			}
			if _, known, err := Value(j, a.Path); err != nil {
				t.Errorf("%s: %v", name, err)
			} else if _, fd := leafAt(t, j, a.Path); fd.maybe && known {
				t.Errorf("%s: %s is assumed and counts as known", name, a.Path)
			}
		}
	}
}

func leafAt(t testing.TB, j *Job, path string) (reflect.Value, *field) {
	t.Helper()
	f, v, err := settle(jobGroup, reflect.ValueOf(j).Elem(), split(path), "")
	if err != nil {
		t.Fatal(err)
	}
	return v, f
}

// Every assumption can be set to its value and to the ends of its range, which enclose it; each has a source.
// This is what the ranking of assumptions does.
func TestLawAssumptionsCanBePerturbed(t *testing.T) {
	total := 0
	for name, text := range jobs(t) {
		j, list := filled(t, text)
		seen := map[string]bool{}
		for _, a := range list {
			total++
			if seen[a.Path] || a.Source == "" || a.Value == "" {
				t.Errorf("%s: %+v is listed twice or says too little", name, a)
			}
			seen[a.Path] = true
			var x [3]float64
			for i, text := range []string{a.Low, a.Value, a.High} {
				if text == "" {
					x[i] = math.NaN()
					continue
				}
				c := Clone(j)
				if err := SetValue(c, a.Path, text); err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				Fill(c)
				v, f := leafAt(t, c, a.Path)
				if f.form == quantityForm {
					x[i] = v.Field(0).Float()
					if text == a.Value {
						w, _ := leafAt(t, j, a.Path)
						if math.Abs(w.Field(0).Float()-x[i]) > 0.05*math.Abs(x[i]) {
							t.Errorf("%s: %s is listed as %s and filled as %v", name, a.Path, a.Value, w)
						}
					}
				}
			}
			if x[0] > x[1] || x[1] > x[2] {
				t.Errorf("%s: %s: %s is not between %s and %s", name, a.Path, a.Value, a.Low, a.High)
			}
		}
	}
	if total < 300 {
		t.Errorf("only %d assumptions were looked at", total)
	}
}

// No value is NaN, infinite or out of its own limits once a job is filled.
func TestLawFilledValuesAreWithinLimits(t *testing.T) {
	for name, text := range jobs(t) {
		j, _ := filled(t, text)
		jobGroup.each(reflect.ValueOf(j).Elem(), "", func(path string, f *field, v, _ reflect.Value) {
			if f.maybe && f.form == quantityForm {
				x := v.Field(0).Float()
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Errorf("%s: %s is %v", name, path, x)
				}
				if x != 0 {
					known := reflect.New(v.Type()).Elem()
					known.Set(v)
					known.Field(1).SetBool(true)
					if fault := f.outside(known); fault != nil {
						t.Errorf("%s: %s: %s", name, path, fault.text)
					}
				}
			}
		})
	}
}

// The tags are consistent: defaults can be read and lie within their range and limits.
func TestLawTags(t *testing.T) {
	var walk func(g *group)
	walk = func(g *group) {
		for _, f := range g.fields {
			at := g.name + "." + f.key
			if f.doc == "" || !strings.HasSuffix(f.doc, ".") {
				t.Errorf("%s: the doc is no sentence: %q", at, f.doc)
			}
			if f.need && f.def != "" {
				t.Errorf("%s must be given and has a default", at)
			}
			if (f.low == "") != (f.high == "") || f.low != "" && f.source == "" {
				t.Errorf("%s: range %q to %q, source %q", at, f.low, f.high, f.source)
			}
			if f.limited && !(f.limit.least <= f.limit.most) || (f.least == "") != (f.most == "") {
				t.Errorf("%s: limits %+v", at, f.limit)
			}
			var last float64
			for i, text := range []string{f.low, f.def, f.high} {
				if text == "" {
					continue
				}
				switch f.form {
				case quantityForm:
					x, err := f.kind.Parse(text)
					if err != nil {
						t.Errorf("%s: %v", at, err)
					}
					if i > 0 && f.low != "" && x < last {
						t.Errorf("%s: %s is out of order", at, text)
					}
					if f.limited && (x < f.limit.least*(1-1e-9) || x > f.limit.most*(1+1e-9)) {
						t.Errorf("%s: %s is beyond its limits %s to %s", at, text, f.limit.leastText, f.limit.mostText)
					}
					last = x
				case choiceForm:
					if _, fault := f.choose(text); fault != nil {
						t.Errorf("%s: %s", at, fault.text)
					}
				}
			}
			if f.group != nil {
				walk(f.group)
			}
		}
	}
	walk(jobGroup)
}

const head = "leste: 1\njob: a\n"

func TestReferenceWaterFromWhatIsSeen(t *testing.T) {
	// Amounts and ranges: judgement anchored on the drainage of a 115 mm wall (mean film 72 um after 1 s)
	// and on a fully covered wall of 150 to 220 g/m2. Unseen walls: 50 g/m2 after 5 s, with the root of time.
	const format = "formats:\n- {name: f, container: {family: can}"
	for _, c := range []struct{ arrives, own, path, want, low, high string }{
		{"looks: streaming", "", "/arrives/water", "100 g/m2", "60 g/m2", "200 g/m2"},
		{"looks: wet", "", "/arrives/water", "50 g/m2", "20 g/m2", "100 g/m2"},
		{"looks: beaded", "", "/arrives/water", "40 g/m2", "20 g/m2", "80 g/m2"},
		{"looks: damp", "", "/arrives/water", "10 g/m2", "4 g/m2", "20 g/m2"},
		{"looks: not known", "", "/arrives/water", "50 g/m2", "20 g/m2", "100 g/m2"},
		{"time_since: 20 s", "", "/arrives/water", "25 g/m2", "10 g/m2", "50 g/m2"},
		{"time_since: 1 h", "", "/arrives/water", "20 g/m2", "8 g/m2", "40 g/m2"},
		{"time_since: 0 s", "", "/arrives/water", "100 g/m2", "40 g/m2", "200 g/m2"},
		{"looks: damp, time_since: 0 s", "", "/arrives/water", "10 g/m2", "4 g/m2", "20 g/m2"},
		{"looks: damp", "looks: wet", "/formats/0/arrives/water", "50 g/m2", "20 g/m2", "100 g/m2"},
		{"water: 7 g/m2", "looks: wet", "/formats/0/arrives/water", "50 g/m2", "20 g/m2", "100 g/m2"},
	} {
		text := head + "arrives: {" + c.arrives + "}\n" + format
		if c.own != "" {
			text += ", arrives: {" + c.own + "}"
		}
		j, list := filled(t, text+"}\n")
		var got *Assumed
		for i := range list {
			if list[i].Path == c.path {
				got = &list[i]
			}
		}
		if got == nil || got.Value != c.want || got.Low != c.low || got.High != c.high {
			t.Errorf("%s, own %s: %+v, want %s (%s to %s)", c.arrives, c.own, got, c.want, c.low, c.high)
			continue
		}
		if v, _, _ := Value(j, c.path); v != c.want {
			t.Errorf("%s: filled with %s", c.arrives, v)
		}
	}
}

// A format's own water says only what differs; the rest is the job's.
func TestLawFormatInheritsWater(t *testing.T) {
	j, list := filled(t, head+"arrives: {looks: wet, temperature: 12 degC, water: 33 g/m2}\nformats:\n- {name: f, container: {family: can}, arrives: {quality: syrup}}\n")
	own := j.Formats[0].Arrives
	if own.Looks != "wet" || own.Temperature != j.Arrives.Temperature || own.Water.V != 0.033 || own.Quality != "syrup" || own.Drop != j.Arrives.Drop {
		t.Errorf("%+v", own)
	}
	for _, a := range list {
		if strings.HasPrefix(a.Path, "/formats/0/arrives") {
			t.Errorf("inherited and yet listed: %+v", a)
		}
	}
}

func TestReferenceRequirementsFromMachineAndComplaint(t *testing.T) {
	// Tolerances: usual figures, no source. The zone is where each machine looks.
	want := func(zone, water, mass, drop, rejects string) string {
		return strings.Join([]string{zone, water, mass, drop, rejects}, "|")
	}
	const no = NotKnown
	for _, c := range []struct {
		family, next string
		want         []string
	}{
		{"can", "machine: camera", []string{want("seam", no, no, "1.5 mm", no)}},
		{"PET bottle", "machine: camera", []string{want("closure", no, no, "1.5 mm", no)}},
		{"PET bottle", "machine: labeller", []string{want("label panel", "1 g/m2", no, no, no), want("label panel", no, no, "1 mm", no)}},
		{"can", "machine: coder", []string{want("dome", "0.5 g/m2", no, no, no), want("dome", no, no, "200 um", no)}},
		{"can", "machine: packer", []string{want("all", no, "150 mg", no, no)}},
		{"can", "machine: wrapper", []string{want("all", no, "150 mg", no, no)}},
		{"can", "machine: other", []string{want("all", no, "150 mg", no, no)}},
		{"PET bottle", "machine: camera, complaint: 0.1 % rejects at the closure", []string{want("closure", no, no, "1.5 mm", "0.001")}},
		{"PET bottle", "machine: camera, complaint: \"0,5% at the neck ring\"", []string{want("neck ring", no, no, "1.5 mm", "0.005")}},
		{"PET bottle", "machine: camera, complaint: one in a thousand under the caps", []string{want("closure", no, no, "1.5 mm", "0.001")}},
		{"PET bottle", "machine: camera, complaint: 3 out of 2000", []string{want("closure", no, no, "1.5 mm", "0.0015")}},
		{"PET bottle", "machine: labeller, complaint: labels lift", []string{want("label panel", "1 g/m2", no, no, no), want("label panel", no, no, "1 mm", no)}},
		{"PET bottle", "machine: packer, complaint: wet shoulders", []string{want("shoulder", no, "150 mg", no, no)}},
		{"can", "machine: packer, complaint: 0.2 % wet trays", []string{want("all", no, no, "1.5 mm", "0.002")}},
		{"can", "machine: camera, complaint: a product escapes", []string{want("seam", no, no, "1.5 mm", no)}},
		{"can", "machine: camera, complaint: 200 % of all", []string{want("seam", no, no, "1.5 mm", no)}},
		{"can", "machine: camera, requires: [{zone: end, drop: not known}]", []string{want("end", no, no, "1.5 mm", no)}},
		{"can", "machine: labeller, requires: [{zone: end, water: not known}]", []string{want("end", "1 g/m2", no, no, no)}},
		{"can", "machine: camera, requires: [{zone: end, rejects: 0.1 %}]", []string{want("end", no, no, "1.5 mm", "0.001")}},
		{"can", "machine: camera, requires: [{zone: end, water: 3 g/m2}]", []string{want("end", "3 g/m2", no, no, no)}},
	} {
		j, _ := filled(t, head+"formats: [{name: f, container: {family: "+c.family+"}}]\nnext:\n- {"+c.next+"}\n")
		var got []string
		for _, r := range j.Next[0].Requires {
			show := func(k q.Kind, v float64) string {
				if v == 0 {
					return no
				}
				return k.Exact(v)
			}
			got = append(got, want(r.Zone, show(q.KindAreaMass, float64(r.Water.V)), show(q.KindMass, float64(r.Mass.V)), show(q.KindLength, float64(r.Drop.V)), show(q.KindRatio, float64(r.Rejects.V))))
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s, %s: %s", c.family, c.next, d)
		}
	}
}

func TestReferenceBeltAndRoom(t *testing.T) {
	// Friction of containers on conveyor chain: common practice, no source.
	for state, want := range map[string]q.Ratio{"dry": 0.35, "wet": 0.25, "lubricated": 0.12, "not known": 0.25} {
		j, _ := filled(t, head+"line: {belt: {state: "+state+"}}\nformats: [{name: f, container: {family: can}}]\n")
		if j.Line.Belt.Friction.V != want {
			t.Errorf("%s: %v, want %v", state, j.Line.Belt.Friction.V, want)
		}
	}
	for from, want := range map[string]float64{"room": 31, "outdoors": 30, "ceiling": 36} {
		j, _ := filled(t, head+"site: {inlet_from: "+from+", summer: {temperature: 31 degC}}\nstations: [{name: s, outlets: [{name: o, kind: nozzle, side: left, bore: 10 mm}]}]\n")
		if got := j.Site.InletSummer.Temperature.V.C(); math.Abs(got-want) > 1e-9 {
			t.Errorf("inlet from %s: %v degC, want %v", from, got, want)
		}
	}
	_, list := filled(t, head+"site: {barometer: 1000 mbar}\nair_supply: {blowers: [{name: b, part: p}]}\n")
	for _, a := range list {
		if a.Path == "/site/altitude" {
			t.Error("the altitude is assumed though the barometer is known")
		}
		for _, p := range []string{"/line", "/arrives", "/model", "/next"} {
			if strings.HasPrefix(a.Path, p) {
				t.Errorf("a job without containers assumes %s", a.Path)
			}
		}
	}
}

func TestReferenceOpenings(t *testing.T) {
	j, list := filled(t, head+`stations:
- name: s
  outlets:
  - {name: knife, kind: air knife, side: left, slot_gap: not known}
  - {name: row, kind: nozzle manifold, side: left, bore: not known, count: 5, length: 200 mm}
  - {name: long, kind: nozzle manifold, side: left, bore: 8 mm, count: 5, spacing: 30 mm}
  - {name: one, kind: nozzle, side: right, opening_width: 40 mm, opening_height: 4 mm, offset: 90 mm}
- name: found
  plenum_pressure: 18 kPa
  outlets:
  - {name: old, kind: air knife, side: left, slot_gap: 1 mm, length: 0.5 m}
`)
	o := j.Stations[0].Outlets
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"slot gap", float64(o[0].SlotGap.V), 1.2e-3},
		{"knife length", float64(o[0].Length.V), 0.3},
		{"bore", float64(o[1].Bore.V), 19e-3},
		{"spacing of 5 in 200 mm", float64(o[1].Spacing.V), 0.05},
		{"length of 5 at 30 mm", float64(o[2].Length.V), 0.12},
		{"bore of an oblong nozzle", float64(o[3].Bore.V), 0},
		{"stand-off of one placed by offset", float64(o[3].StandOff.V), 0},
		{"pressure wanted", float64(o[0].Pressure.V), 20e3},
		{"pressure of a measured station", float64(j.Stations[1].Outlets[0].Pressure.V), 0},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if j.Stations[1].State != AsFound || j.Stations[0].State != Planned {
		t.Errorf("states %q, %q", j.Stations[0].State, j.Stations[1].State)
	}
	if len(list) == 0 {
		t.Error("nothing is listed")
	}
}

func TestReferenceMotion(t *testing.T) {
	// Speed = rate times pitch, pitch = gap plus width; worked by hand. The container is 60 mm wide.
	for _, c := range []struct {
		line, format        string
		speed, rate         float64 // m/s, 1/s
		pitch, gap          float64 // mm
		touching            bool
		assumed, assumedGap bool
	}{
		{"rate: 600 /min, pitch: 80 mm", "", 0.8, 10, 80, 20, false, false, false},
		{"rate: 600 /min, container_gap: 20 mm", "", 0.8, 10, 80, 20, false, false, false},
		{"rate: 600 /min, touching: yes", "", 0.6, 10, 60, 0, true, false, false},
		{"rate: 600 /min", "", 0.6, 10, 60, 0, true, false, true},
		{"speed: 0.8 m/s, pitch: 80 mm", "", 0.8, 10, 80, 20, false, false, false},
		{"speed: 0.8 m/s, rate: 600 /min", "", 0.8, 10, 80, 20, false, false, false},
		{"speed: 0.6 m/s", "", 0.6, 10, 60, 0, true, false, true},
		{"", "", 0.6, 10, 60, 0, true, true, true},
		{"pitch: 80 mm", "", 0.6, 7.5, 80, 20, false, true, false},
		{"speed: 1 m/s", "rate: 600 /min", 1, 10, 100, 40, false, false, false},
		// What the format says wins; the line's spacing before its speed, its speed before its rate.
		{"speed: 1 m/s, pitch: 80 mm", "rate: 600 /min", 0.8, 10, 80, 20, false, false, false},
		{"rate: 600 /min, pitch: 80 mm", "speed: 0.4 m/s", 0.4, 5, 80, 20, false, false, false},
		{"speed: 0.8 m/s, rate: 600 /min", "pitch: 160 mm", 0.8, 5, 160, 100, false, false, false},
		{"rate: 600 /min, pitch: 80 mm", "container_gap: 40 mm", 1, 10, 100, 40, false, false, false},
		{"touching: yes, rate: 600 /min", "pitch: 80 mm", 0.8, 10, 80, 20, false, false, false},
		{"touching: yes", "speed: 1 m/s, rate: 600 /min", 1, 10, 100, 40, false, false, false},
	} {
		text := head + "line: {" + c.line + "}\nformats: [{name: f, container: {family: can, diameter: 60 mm}"
		if c.format != "" {
			text += ", " + c.format
		}
		j, list := filled(t, text+"}]\n")
		m := j.MotionOf(&j.Formats[0], 0.06)
		f := j.Formats[0]
		near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
		if !near(float64(m.Speed), c.speed) || !near(float64(m.Rate), c.rate) || !near(m.Pitch.MM(), c.pitch) || !near(m.Gap.MM(), c.gap) || m.Touching != c.touching {
			t.Errorf("line %q, format %q: %+v", c.line, c.format, m)
		}
		if !near(float64(f.Speed.V), c.speed) || !near(float64(f.Rate.V), c.rate) || !near(f.Pitch.V.MM(), c.pitch) || !near(f.Gap.V.MM(), c.gap) {
			t.Errorf("line %q, format %q: filled %+v", c.line, c.format, f)
		}
		speed, gap := false, false
		for _, a := range list {
			speed, gap = speed || a.Path == "/line/speed", gap || a.Path == "/line/container_gap"
		}
		if speed != c.assumed || gap != c.assumedGap {
			t.Errorf("line %q, format %q: speed assumed %v, gap assumed %v", c.line, c.format, speed, gap)
		}
	}
}

// Without the width only what needs it stays open.
func TestReferenceMotionWithoutWidth(t *testing.T) {
	j, _ := filled(t, head+"line: {rate: 600 /min, container_gap: 20 mm}\nformats: [{name: f, container: {family: can, size: 330 standard}}]\n")
	if m := j.MotionOf(&j.Formats[0], 0); m.Speed != 0 || m.Rate != 10 || m.Pitch != 0 || m.Gap != 0.02 || m.Touching {
		t.Errorf("%+v", m)
	}
	if m := j.MotionOf(&j.Formats[0], 0.066); math.Abs(float64(m.Speed)-0.86) > 1e-12 {
		t.Errorf("%+v", m)
	}
}

// Setting an assumed value and filling again moves what follows from it.
func TestLawFillFollowsWhatIsSet(t *testing.T) {
	j, _ := filled(t, head+"line: {container_gap: 20 mm}\nformats: [{name: f, container: {family: can, diameter: 60 mm}}]\n")
	if j.Formats[0].Rate.V != 7.5 {
		t.Fatalf("0.6 m/s at 80 mm: %v", j.Formats[0].Rate.V)
	}
	if err := SetValue(j, "/line/speed", "1.2 m/s"); err != nil {
		t.Fatal(err)
	}
	Fill(j)
	if j.Formats[0].Rate.V != 15 || j.Formats[0].Speed.V != 1.2 {
		t.Errorf("1.2 m/s at 80 mm: %+v", j.Formats[0])
	}
	if err := SetValue(j, "/line/belt/state", "dry"); err != nil {
		t.Fatal(err)
	}
	if Fill(j); j.Line.Belt.Friction.V != 0.35 {
		t.Errorf("dry belt: %v", j.Line.Belt.Friction)
	}
}

func TestLawCloneSharesNothing(t *testing.T) {
	for name, text := range jobs(t) {
		f, _ := Load(name, []byte(text))
		c := Clone(f.Job)
		if d := cmp.Diff(f.Job, c); d != "" {
			t.Fatalf("%s: %s", name, d)
		}
		again, _ := Load(name, []byte(text))
		scramble(reflect.ValueOf(c).Elem())
		if d := cmp.Diff(again.Job, f.Job); d != "" {
			t.Errorf("%s: a change of the copy reached the job: %s", name, d)
		}
	}
	if Clone(nil) != nil {
		t.Error("a copy of nothing is something")
	}
}

// scramble changes every value that v leads to.
func scramble(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			scramble(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			scramble(v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			scramble(v.Index(i))
		}
	case reflect.Float64:
		v.SetFloat(v.Float() + 1)
	case reflect.String:
		v.SetString(v.String() + "!")
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.Int:
		v.SetInt(v.Int() + 1)
	}
}
