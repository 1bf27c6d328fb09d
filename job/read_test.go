package job

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	q "leste/quantity"
)

func TestReferenceRead(t *testing.T) {
	// Every form of value; the SI values are worked by hand.
	f := mustRead(t, `# first
leste: 1
job: 'can: line'
notes: |
  two
  lines
site:
  altitude: 1,5 km
  barometer: 1013 hPa
  summer: {temperature: 82.4 °F, humidity: ?}
  winter: {temperature: not known, humidity: ~}
  noise_limit:
  flammable_vapour: yes
line:
  rate: 36000 b/h
  touching: no
  stops: NOT KNOWN
formats: [{name: 330, container: {family: can}, fill_mass: 12 oz}]
next:
- {machine: camera, formats: 330}
- {machine: packer, formats: [330, "a"]}
cost: {price: 12 000, years: 8}
`)
	var ounce q.Mass = 0.45359237 / 16
	want := &Job{Schema: 1, Name: "can: line", Notes: "two\nlines"}
	want.Site.Altitude = q.Known[q.Length](1500)
	want.Site.Barometer = q.Known[q.Absolute](101300)
	want.Site.Summer.Temperature = q.Known(q.Celsius(28))
	want.Site.Flammable = true
	want.Line.Rate = q.Known[q.Rate](10)
	want.Line.Touching = q.Known(false)
	want.Formats = []Format{{Name: "330", Container: Container{Family: "can"}, FillMass: q.Known(12 * ounce)}}
	want.Next = []NextMachine{{Machine: "camera", Formats: []string{"330"}}, {Machine: "packer", Formats: []string{"330", "a"}}}
	want.Cost.Price = q.Known(12000.)
	want.Cost.Years = 8
	near := cmp.Comparer(func(a, b q.Temperature) bool { return math.Abs(float64(a-b)) < 1e-9 }) // 82.4 °F is 28 °C but for rounding
	if d := cmp.Diff(want, f.Job, near); d != "" {
		t.Error(d)
	}
	if f.Job.Line.Stops.Known || f.Job.Site.Noise.Known {
		t.Error("not known is known")
	}
}

func TestReferenceAliasesAndMerges(t *testing.T) {
	f := mustRead(t, `leste: 1
job: a
stations:
- name: s
  outlets:
  - &left {name: l, kind: air knife, side: left, slot_gap: &gap 1 mm, height: 50 mm}
  - {<<: *left, name: r, side: right, height: 60 mm}
  - {<<: [*left], name: t, slot_gap: *gap}
`)
	o := f.Job.Stations[0].Outlets
	if o[1].Name != "r" || o[1].Side != "right" || o[1].SlotGap.V != 0.001 || o[1].Height.V != 0.06 || o[2].Height.V != 0.05 || o[2].SlotGap.V != 0.001 {
		t.Errorf("%+v", o)
	}
	if line, _ := f.Locate("/stations/0/outlets/1/slot_gap"); line != 6 {
		t.Errorf("a merged value is located in line %d, want 6", line)
	}
	// The gap of the first is also that of the others; the height of the second is its own.
	for _, path := range []string{"/stations/0/outlets/0/slot_gap", "/stations/0/outlets/2/slot_gap"} {
		if err := f.Set(path, "2 mm"); err == nil {
			t.Errorf("%s is shared and was edited", path)
		}
	}
	if err := f.Set("/stations/0/outlets/1/height", "70 mm"); err != nil || f.Job.Stations[0].Outlets[1].Height.V != 0.07 {
		t.Error(err)
	}
}

// Files made to exhaust a reader are refused in time and memory like any other; 5 s is a hundred times what
// the slowest takes.
func TestLawBombsAreRefused(t *testing.T) {
	var aliases strings.Builder
	aliases.WriteString("leste: 1\njob: a\nline:\n  rails: &a0 [{height: 1 mm}]\nx0: &b0 {height: 1 mm}\n")
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&aliases, "x%d: &b%d {<<: [%s]}\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*b%d, ", i-1), 30), ", "))
	}
	aliases.WriteString("site: {<<: [*b11, *b11, *b11]}\n")
	var keys strings.Builder
	keys.WriteString("leste: 1\njob: a\n")
	for i := range 60_000 {
		fmt.Fprintf(&keys, "key%d: 1\n", i)
	}
	for name, text := range map[string]string{
		"aliases":     aliases.String(),
		"list of one": "leste: 1\njob: a\nline: &l {rails: [{height: 1 mm}]}\nstations: [" + strings.TrimSuffix(strings.Repeat("{name: s, outlets: &o []}, ", 30_000), ", ") + "]\n",
		"one alias":   "leste: 1\njob: a\noptions:\n- name: a\n  stations: &s [" + strings.TrimSuffix(strings.Repeat("{name: s}, ", 500), ", ") + "]\n" + strings.Repeat("- {name: a, stations: *s}\n", 2000),
		"keys":        keys.String(),
		"nested":      "leste: 1\njob: " + strings.Repeat("[", 100_000),
		"braces":      "leste: 1\nsite: " + strings.Repeat("{a: ", 50_000),
		"large":       strings.Repeat("#", LargestFile+1),
		"merge loop":  "leste: 1\njob: a\nsite: &s {<<: *s}\n",
		"words":       "leste: 1\njob: a\nnext: [{machine: camera, formats: [" + strings.TrimSuffix(strings.Repeat("x, ", 100_000), ", ") + "]}]\n",
		"faults":      "leste: 1\njob: a\nline:\n  rails:\n" + strings.Repeat("  - {heihgt: 1}\n", 10_000),
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, problems := Load("x", []byte(text))
			if len(problems) == 0 {
				t.Error("nothing was wrong with it")
			}
			if len(problems) > 2*mostFaults {
				t.Errorf("%d problems", len(problems))
			}
			if d := time.Since(start); d > 5*time.Second {
				t.Errorf("took %v", d)
			}
		})
	}
}

func TestReferenceLocate(t *testing.T) {
	f := mustRead(t, "leste: 1\njob: a\nsite:\n  summer: {temperature: 28 degC}\nformats:\n  - name: x\n    container:\n      family: can\n")
	for _, c := range []struct {
		path         string
		line, column int
	}{
		{"", 1, 1},
		{"/job", 2, 6},
		{"/site", 3, 1},
		{"/site/summer", 4, 11},
		{"/site/summer/temperature", 4, 25},
		{"/site/summer/humidity", 4, 11},
		{"/site/winter/humidity", 3, 1},
		{"/formats", 5, 1},
		{"/formats/0", 6, 5},
		{"/formats/0/name", 6, 11},
		{"/formats/0/container", 7, 5},
		{"/formats/0/container/family", 8, 15},
		{"/formats/1", 5, 1},
		{"/formats/-1/x", 5, 1},
		{"/nothing/at/all", 1, 1},
		{"/job/x", 2, 6},
	} {
		if line, column := f.Locate(c.path); line != c.line || column != c.column {
			t.Errorf("%q is at %d:%d, want %d:%d", c.path, line, column, c.line, c.column)
		}
	}
	empty, _ := Read("x", nil)
	if line, column := empty.Locate("/job"); line != 1 || column != 1 {
		t.Errorf("a file without content: %d:%d", line, column)
	}
	if err := empty.Set("/job", "a"); err == nil {
		t.Error("a file that could not be read was edited")
	}
}

func TestLawProblemsAreSortedAndWritten(t *testing.T) {
	p := Problem{"a.yaml", 3, 5, "/x", CodeKey, "text", "want"}
	if p.String() != "a.yaml:3:5: text; want" || p.Error() != p.String() {
		t.Error(p.String())
	}
	if got := (Problem{Text: "text"}).String(); got != "text" {
		t.Error(got)
	}
	ps := Problems{{Line: 2, Column: 1}, {Line: 1, Column: 2}, {Line: 1, Column: 1}, {Line: 1, Column: 2}}.Sort()
	if len(ps) != 3 || ps[0].Column != 1 || ps[2].Line != 2 {
		t.Errorf("%+v", ps)
	}
}

// SetValue and Value are inverse for every value of every job.
func TestLawValueAndSetValue(t *testing.T) {
	for name, text := range jobs(t) {
		j, _ := filled(t, text)
		c := Clone(j)
		jobGroup.each(reflect.ValueOf(j).Elem(), "", func(path string, f *field, v, _ reflect.Value) {
			text, known, err := Value(j, path)
			if err != nil {
				t.Fatal(err)
			}
			if !known || f.form == textForm && text == "" {
				return
			}
			if err := SetValue(c, path, text); err != nil {
				t.Errorf("%s: %v", name, err)
				return
			}
			got, _ := leafAt(t, c, path)
			if f.form == quantityForm && f.maybe {
				a, b := got.Field(0).Float(), v.Field(0).Float()
				if a != b && (a/b < 1-1e-12 || a/b > 1+1e-12) {
					t.Errorf("%s: %s: %v became %q and %v", name, path, b, text, a)
				}
			} else if f.form != quantityForm && !reflect.DeepEqual(got.Interface(), v.Interface()) {
				t.Errorf("%s: %s: %v became %q and %v", name, path, v, text, got)
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	for _, text := range jobs(f) {
		f.Add([]byte(text))
	}
	for _, c := range allMalformed(f) {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, problems := Load("x", data)
		if file == nil || file.Job == nil {
			t.Fatal("no file")
		}
		for _, p := range problems {
			if p.Line < 1 || p.Column < 1 || p.Text == "" || p.Code == "" {
				t.Fatalf("incomplete: %#v", p)
			}
		}
		if !bytes.Equal(file.Bytes(), data) {
			t.Fatal("the text changed")
		}
		if len(problems) > 0 {
			return
		}
		before := Clone(file.Job)
		Fill(Clone(file.Job))
		if !reflect.DeepEqual(before, file.Job) {
			t.Fatal("filling a copy changed the job")
		}
		if err := file.Set("/notes", "edited: # yes"); err != nil {
			return // shared through an alias
		}
		before.Notes = "edited: # yes"
		if !reflect.DeepEqual(before, file.Job) {
			t.Fatalf("more than the notes changed:\n%s", file.Bytes())
		}
	})
}

func TestLawOneOfTheExamplesHasEveryPart(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "malformed", "base.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	f := mustRead(t, string(data))
	for _, path := range []string{"/formats/1/container/profile/3/arc", "/air_supply/blowers/0/curve/points/2/power", "/options/0/stations/0/outlets/0/slot_gap"} {
		if !f.Has(path) {
			t.Errorf("the base has no %s: the malformed files would not reach it", path)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	data := Starter()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, p := Read("starter.yaml", data); len(p) > 0 {
			b.Fatal(p.Error())
		}
	}
}

func BenchmarkCheck(b *testing.B) {
	data, err := os.ReadFile(filepath.Join("testdata", "malformed", "base.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	f, _ := Read("base.yaml", data)
	for b.Loop() {
		if p := Check(f); len(p) > 0 {
			b.Fatal(p.Error())
		}
	}
}

// BenchmarkLoad is what the command check does with a file.
func BenchmarkLoad(b *testing.B) {
	data, err := os.ReadFile(filepath.Join("testdata", "malformed", "base.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, p := Load("base.yaml", data); len(p) > 0 {
			b.Fatal(p.Error())
		}
	}
}

func BenchmarkFill(b *testing.B) {
	f, _ := Read("starter.yaml", Starter())
	for b.Loop() {
		Fill(Clone(f.Job))
	}
}

// An air side alone had to say on which side its outlets stand, of a container that there is none of.
func TestLawAnAirSideAloneNeedsNoPlaces(t *testing.T) {
	const text = `leste: 1
job: header
stations:
  - name: s
    outlets:
      - {name: bar, kind: nozzle manifold, length: 900 mm, bore: 10 mm, spacing: 50 mm, plenum_pressure: 15 kPa}
`
	if _, problems := Load("job.yaml", []byte(text)); len(problems) > 0 {
		t.Error(problems)
	}
}
