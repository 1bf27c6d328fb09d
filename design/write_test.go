package design

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"leste/job"
	q "leste/quantity"
)

// Every example comes back from its written form.
func TestLawWrittenJobsSayTheSame(t *testing.T) {
	names, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(names) < 11 {
		t.Fatalf("%d examples (%v)", len(names), err)
	}
	near := cmp.FilterPath(func(p cmp.Path) bool { return p.Last().Type().Kind() == reflect.Float64 }, cmp.Comparer(func(a, b any) bool {
		x, y := reflect.ValueOf(a).Float(), reflect.ValueOf(b).Float()
		return math.Abs(x-y) <= 1e-12*math.Max(math.Abs(x), math.Abs(y))
	}))
	for _, name := range names {
		j := example(t, strings.TrimSuffix(filepath.Base(name), ".yaml"))
		text, err := Write(j, "a head")
		if err != nil {
			t.Fatal(err)
		}
		f, problems := job.Load("written", text)
		if len(problems) > 0 {
			t.Fatalf("%s: %v\n%s", name, problems, text)
		}
		if diff := cmp.Diff(j, f.Job, near, cmp.Exporter(func(reflect.Type) bool { return true })); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
	}
}

// Three metres were written as 3000 mm.
func TestLawLengthsOfAMetreAndMoreAreWrittenInMetres(t *testing.T) {
	for v, want := range map[q.Length]string{
		3: "distance: 3 m", 1: "distance: 1 m", 4.25: "distance: 4.25 m", 0.999: "distance: 999 mm", 1.0605: "distance: 1060.5 mm", 2.001: "distance: 2.001 m",
	} {
		j := example(t, "can-330-sidewall")
		j.Next[0].Distance = q.Known(v)
		text, err := Write(j, "")
		if err != nil || !strings.Contains(string(text), want+"\n") && !strings.Contains(string(text), want+"}") {
			t.Errorf("%g m: %v\n%s, want %q", float64(v), err, text, want)
		}
		f, problems := job.Load("written", text)
		if len(problems) > 0 || math.Abs(float64(f.Job.Next[0].Distance.V-v)) > 1e-12 {
			t.Errorf("%g m is read as %v, %v", float64(v), f.Job.Next[0].Distance, problems)
		}
	}
}

// 86 degF came back as 30.0000000000001 degC, and 1.4 in as 35.56 mm: every example, and one in US units, comes back with
// the texts of its quantities.
func TestLawWrittenJobsKeepTheirTexts(t *testing.T) {
	names, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(names) < 11 {
		t.Fatalf("%d examples (%v)", len(names), err)
	}
	texts := map[string]string{"in US units": customary}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(data)
	}
	for name, given := range texts {
		file, problems := job.Load(name, []byte(given))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		text, err := WriteAs(file.Job, "", file.Spelling())
		if err != nil {
			t.Fatal(err)
		}
		back, problems := job.Load("written", text)
		if len(problems) > 0 {
			t.Fatalf("%s: %v\n%s", name, problems, text)
		}
		all := cmp.Exporter(func(reflect.Type) bool { return true })
		if diff := cmp.Diff(file.Job, back.Job, all); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
		if diff := cmp.Diff(file.Spelling(), back.Spelling(), all); diff != "" {
			t.Errorf("%s is written otherwise:\n%s", name, diff)
		}
	}
}

const customary = `
leste: 1
job: in US units
site: {altitude: 400 ft, summer: {temperature: 86 degF, humidity: 60 %}, winter: {temperature: 64 degF, humidity: 40 %}}
line: {speed: 118 ft/min, container_gap: 0.55 in, rails: [{height: 1 1/2 in, play: 0.12 in}]}
arrives: {from: rinser, looks: wet, temperature: 64 degF}
formats:
  - {name: can, container: {family: can, size: 330 standard}, content: filled, fill_mass: 11.8 oz}
  - {name: sleek can, container: {family: can, size: 330 sleek}, content: filled, fill_mass: 11.8 oz}
stations:
  - name: before the packer
    outlets:
      - {name: left knife, kind: air knife, side: left, height: 2.4 in, stand_off: 1.4 in, tilt: 20 deg, length: 10 in, slot_gap: 0.05 in, plenum_pressure: 1.7 psi}
next: [{machine: packer, distance: 10 ft, requires: [{zone: all, mass: 900 mg}]}]
`

// What the given file does not say is in its units, in numbers that can be set, and is read as it was written.
func TestLawFoundNumbersAreInUnitsOfTheJobAndCanBeSet(t *testing.T) {
	const inch, psi, deg = 0.0254, 6894.757293168361, math.Pi / 180
	si := example(t, "can-330-sidewall")
	file, problems := job.Load("customary", []byte(customary))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	metric, err := Write(si, "")
	if err != nil {
		t.Fatal(err)
	}
	millimetres, _ := job.Load("metric", metric)
	mbar, _ := job.Load("mbar", []byte(strings.ReplaceAll(string(metric), "plenum_pressure: 20 kPa", "plenum_pressure: 200 mbar")))
	for _, c := range []struct {
		as   *job.File
		set  func(*job.Outlet)
		want string
	}{
		{file, func(o *job.Outlet) { o.Height = q.Known(q.Length(31 * 0.1 * inch)) }, "height: 3.1 in"},
		{file, func(o *job.Outlet) { o.StandOff = q.Known(q.Length(0.035)) }, "stand_off: 1.38 in"},
		{file, func(o *job.Outlet) { o.StandOff = q.Known(q.Length(1.4 * inch)) }, "stand_off: 1.4 in"},
		{file, func(o *job.Outlet) { o.X = q.Known(q.Length(0)) }, "x: 0 in"},
		{file, func(o *job.Outlet) { o.SlotGap = q.Known(q.Length(1.2e-3)) }, "slot_gap: 1.2 mm"}, // asked for in mm
		{file, func(o *job.Outlet) { o.Length = q.Known(q.Length(7.5 * inch)) }, "length: 7.5 in"},
		{millimetres, func(o *job.Outlet) { o.SlotGap = q.Known(q.Length(3. / 64 * inch)) }, "slot_gap: 0.046875 in"}, // asked for in inches, was 1.19 mm
		{file, func(o *job.Outlet) { o.Pressure = q.Known(q.Gauge(1.785 * psi)) }, "plenum_pressure: 1.785 psi"},
		{file, func(o *job.Outlet) { o.Pressure = q.Known(q.Gauge(12340)) }, "plenum_pressure: 1.79 psi"},
		{file, func(o *job.Outlet) { o.Tilt = q.Known(q.Angle(45 * deg)) }, "tilt: 45 deg"},
		{millimetres, func(o *job.Outlet) { o.Offset = q.Known(q.Length(0.0531234567)) }, "offset: 53.1 mm"},
		{millimetres, func(o *job.Outlet) { o.Pressure = q.Known(q.Gauge(12340)) }, "plenum_pressure: 12.34 kPa"},
		{mbar, func(o *job.Outlet) { o.Pressure = q.Known(q.Gauge(12340)) }, "plenum_pressure: 123.4 mbar"},
	} {
		j := job.Clone(c.as.Job)
		c.set(&j.Stations[0].Outlets[0])
		text, err := WriteAs(j, "", c.as.Spelling())
		if err != nil || !strings.Contains(string(text), c.want+"\n") && !strings.Contains(string(text), c.want+",") {
			t.Errorf("%v\n%s\nwant %q", err, text, c.want)
			continue
		}
		read := asRead(j, c.as.Spelling())
		again, err := WriteAs(read, "", c.as.Spelling())
		if err != nil || string(again) != string(text) {
			t.Errorf("%q is written again as\n%s", c.want, again)
		}
		if diff := cmp.Diff(read, asRead(read, c.as.Spelling()), cmp.Exporter(func(reflect.Type) bool { return true })); diff != "" {
			t.Errorf("%q is read otherwise:\n%s", c.want, diff)
		}
	}
}

// Sizes of a search for a job in US units are round in them: what it chooses is so as well.
func TestLawUsualSizesAreRoundInTheirUnits(t *testing.T) {
	for _, units := range []q.System{q.SI, q.US} {
		z := UsualSizes(units)
		if err := z.check(); err != nil {
			t.Errorf("%s: %v", units, err)
		}
		lengths := slices.Concat(z.Gaps, z.Bores, z.Spacings, z.Lengths[:], z.Clearance[:], []q.Length{z.LengthStep, z.HeightStep, z.ClearanceStep})
		for _, v := range lengths {
			unit := q.KindLength.Fit(float64(v), units)
			if text, digits := q.KindLength.ExactIn(float64(v), unit); digits > 4 {
				t.Errorf("%s: %s", units, text)
			}
		}
		for _, v := range []q.Gauge{z.Pressure[0], z.Pressure[1], z.PressureStep} {
			unit := map[q.System]string{q.SI: "kPa", q.US: "psi"}[units]
			if text, digits := q.KindGauge.ExactIn(float64(v), unit); digits > 2 {
				t.Errorf("%s: %s", units, text)
			}
		}
	}
}

// Lips of written jobs stood up to 0.7 mm beside what the study told, as stand-offs are rounded along air that is aimed
// steeply.
func TestLawStudiesTellLipsWhereTheJobPutsThem(t *testing.T) {
	const noise, apart = 1e-9, 0.3e-3
	beside := 0 // of lips that stand clearly beside where the search has them
	for _, name := range []string{"cans-three-sizes", "can-330-sidewall", "glass-330-shoulder"} {
		s := begun(t, example(t, name))
		for i, judge := range s.judges {
			c := judge.concept
			for _, x := range append(scatter(3, c.name, 60, len(c.variables)), c.rule()) {
				f := s.found(i, &Individual{X: x, Pressure: startPressure})
				plan, ok := laidOut(f.Job)
				if !ok {
					continue
				}
				a := c.arrange(x)
				next, told := make([]int, len(f.Job.Stations)), f.Settings
				for k := range a.setups {
					u := &a.setups[k]
					for format := range plan.Formats {
						m := plan.Formats[format].Stations[u.place].Outlets[next[u.place]].Middle
						lip := math.Abs(m.Y)
						if u.side == above || u.side == below {
							lip = m.Z
						} else if math.Abs(lip-u.offset[format]) > apart {
							beside++
						}
						if math.Abs(lip-float64(told[0].Clearance)) > noise || math.Abs(m.Z-float64(told[0].Height)) > noise {
							t.Errorf("%s, %s: %s of %s is told at %g mm, lip %g mm; the job puts it at %g mm, lip %g mm", name, c.name, told[0].Group, told[0].Format,
								told[0].Height.MM(), told[0].Clearance.MM(), m.Z*1e3, lip*1e3)
						}
						told = told[1:]
					}
					next[u.place] += len(u.sides())
				}
				if len(plan.Formats) > 1 {
					continue
				}
				laid := a.laid(f.Job)
				for k := range laid.setups {
					u := &laid.setups[k]
					if v := u.clear.variable; v >= 0 && u.side != above && u.side != below {
						low, high := u.span(u.height[0])
						want := c.variables[v].text(u.offset[0] - c.ground.formats[0].reaches(low, high))
						if !slices.ContainsFunc(f.Departures, func(d Departure) bool { return d.Variable == c.variables[v].Name && d.Value == want }) {
							t.Errorf("%s, %s: no clearance of %s in %+v", name, c.name, want, f.Departures)
						}
					}
				}
			}
		}
	}
	if beside == 0 {
		t.Error("no stand-off was rounded by enough to see it")
	}
}
