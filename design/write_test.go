package design

import (
	"math"
	"path/filepath"
	"reflect"
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
