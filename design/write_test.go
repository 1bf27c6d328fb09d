package design

import (
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"leste/job"
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
