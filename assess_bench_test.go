package leste

import (
	"context"
	"os"
	"testing"

	"leste/job"
)

// exampleJob reads one of the examples.
func exampleJob(t testing.TB, name string) *job.Job {
	t.Helper()
	path := "examples/" + name + ".yaml"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, problems := job.Read(path, data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return f.Job
}

// BenchmarkAssessNominal is what the desk does while an outlet is dragged: one format, the nominal case, no
// ranking, air side included.
func BenchmarkAssessNominal(b *testing.B) {
	j := exampleJob(b, "can-330-sidewall")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Assess(context.Background(), j, Options{Method: "quick", Nominal: true, NoRanking: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAssessNominalTwo is the same on two cores.
func BenchmarkAssessNominalTwo(b *testing.B) {
	j := exampleJob(b, "can-330-sidewall")
	for b.Loop() {
		if _, err := Assess(context.Background(), j, Options{Method: "quick", Nominal: true, NoRanking: true, Workers: 2}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAssessCases adds every case.
func BenchmarkAssessCases(b *testing.B) {
	j := exampleJob(b, "can-330-sidewall")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Assess(context.Background(), j, Options{Method: "quick", NoRanking: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAssessAll adds what matters most and what would help, on two cores.
func BenchmarkAssessAll(b *testing.B) {
	j := exampleJob(b, "can-330-sidewall")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Assess(context.Background(), j, Options{Method: "quick", Workers: 2}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAssessFollowed follows the water of every case, on one core.
func BenchmarkAssessFollowed(b *testing.B) {
	for _, name := range []string{"cans-three-sizes", "pet-500-closure"} {
		b.Run(name, func(b *testing.B) {
			j := exampleJob(b, name)
			for b.Loop() {
				if _, err := Assess(context.Background(), j, Options{Method: "transport"}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
