package papers

import (
	"os"
	"testing"

	"leste/job"
)

// BenchmarkTolerances finds how far the settings of three sizes on one frame may move, on one core.
func BenchmarkTolerances(b *testing.B) {
	const path = "../examples/cans-three-sizes.yaml"
	data, err := os.ReadFile(path)
	if err != nil {
		b.Fatal(err)
	}
	f, problems := job.Read(path, data)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	job.Fill(f.Job)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := tolerances(b.Context(), f.Job, nil, "", nil, 1); err != nil {
			b.Fatal(err)
		}
	}
}
