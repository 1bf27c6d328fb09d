package papers

import (
	"os"
	"testing"

	"leste/accept"
	"leste/job"
)

// An offer promised a plenum pressure down to 7.1 kPa where an assessment of every case finds the container too wet below
// 8.4: what the nominal case has to spare on coarse cells was told, and not what the case that decides has.
func TestLawWhatAnOfferPromisesGoesWithTheReserveThatItsResultTells(t *testing.T) {
	const path = "../examples/can-330-sidewall.yaml"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, problems := job.Read(path, data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	job.Fill(f.Job)
	last := -1.0
	for _, reserve := range []float64{1.01, 1.1, 1.3} {
		_, limits, err := tolerances(t.Context(), f.Job, nil, "quick", accept.Reserves{f.Job.Formats[0].Name: reserve}, 2)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, l := range limits {
			if l.What != accept.PlenumGiven {
				continue
			}
			found = true
			// The water goes with about the root of the pressure here, or faster.
			if l.Less <= last || l.Less > 2*(reserve-1)*l.Value+l.Reach/16 {
				t.Errorf("with a reserve of %g the plenum pressure may fall by %.0f Pa of %.0f, after %.0f with less", reserve, l.Less, l.Value, last)
			}
			last = l.Less
		}
		if !found {
			t.Error("no plenum pressure is promised")
		}
	}
}
