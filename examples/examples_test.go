// Package examples_test assesses every example and compares the verdict with what its notes expect.
package examples_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	"leste/render/asjson"
	"leste/render/text"
	"leste/render/wallmap"
)

func examples(t *testing.T) []string {
	t.Helper()
	names, err := filepath.Glob("*.yaml")
	if err != nil || len(names) < 11 {
		t.Fatalf("%d examples found (%v), want at least 11", len(names), err)
	}
	return names
}

func load(t *testing.T, name string) *job.Job {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	file, problems := job.Load(name, data)
	for _, p := range problems {
		t.Errorf("%v", p)
	}
	return file.Job
}

// expected reads "Expected: undecided or not met. ..." from the notes of an example: the verdicts named in the
// first clause.
func expected(t *testing.T, notes string) []leste.Verdict {
	t.Helper()
	_, after, found := strings.Cut(notes, "Expected: ")
	clause := after
	if end := strings.IndexAny(after, ".,;"); end >= 0 {
		clause = after[:end]
	}
	var verdicts []leste.Verdict
	for _, v := range []leste.Verdict{leste.NotMet, leste.Undecided, leste.Met} {
		if strings.Contains(clause, string(v)) {
			verdicts = append(verdicts, v)
			clause = strings.ReplaceAll(clause, string(v), "")
		}
	}
	if !found || len(verdicts) == 0 {
		t.Fatalf("the notes do not say what is expected: %q", notes)
	}
	return verdicts
}

func TestLawExamplesAreAnsweredAsTheirNotesExpect(t *testing.T) {
	for _, name := range examples(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			j := load(t, name)
			want := expected(t, j.Notes)
			r, err := leste.Assess(t.Context(), j, leste.Options{Method: "quick"})
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %s", name, r.Verdict)
			if !slices.Contains(want, r.Verdict) {
				t.Errorf("%s, the notes expect %v\n%s", r.Verdict, want, text.Report(r, text.Style{}))
			}
			for i := range r.Formats {
				if c := r.Formats[i].Balance.Closure; !(c <= 1e-9) {
					t.Errorf("%s: the water balance closes to %g of the water in, want 1e-9", r.Formats[i].Name, c)
				}
			}
			render(t, r)
		})
	}
}

// render makes sure that every renderer writes the result.
func render(t *testing.T, r *leste.Result) {
	t.Helper()
	document, err := asjson.Result(r)
	if err != nil {
		t.Error(err)
	}
	report := []byte(text.Report(r, text.Style{}))
	for _, word := range []string{"NaN", "Inf", "%!"} {
		if bytes.Contains(document, []byte(word)) || bytes.Contains(report, []byte(word)) {
			t.Errorf("%q is written", word)
		}
	}
	for i := range r.Formats {
		f := &r.Formats[i]
		if f.Map == nil {
			t.Errorf("%s has no map", f.Name)
			continue
		}
		p, err := wallmap.Draw(r, f)
		if err != nil {
			t.Error(err)
			continue
		}
		if _, err := p.SVG(); err != nil {
			t.Error(err)
		}
	}
}
