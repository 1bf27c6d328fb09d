package quote

import (
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// A manifold whose nozzles follow from its length and spacing was listed with none.
func TestLawManifoldsAreListedWithTheirNozzles(t *testing.T) {
	in := input(t, result(1, short), "en")
	in.Job.Stations = []job.Station{{Name: "station", Outlets: []job.Outlet{{
		Name: "left", Kind: job.NozzleManifold, Length: q.Known(q.Length(0.2)), Spacing: q.Known(q.Length(0.04)), Bore: q.Known(q.Length(8e-3)),
	}}}}
	for _, row := range in.parts().Rows {
		if note, ok := row[len(row)-1].(string); ok && strings.HasPrefix(note, "6 nozzles") {
			return
		}
	}
	t.Errorf("six nozzles are missing from %v", in.parts().Rows)
}

// What was asked and what the technician reads is the speed that was ordered; the case that decides may be faster.
func TestLawTheLineRunsAsItWasOrdered(t *testing.T) {
	r := result(1, short)
	r.Formats = append([]leste.FormatResult(nil), r.Formats...)
	r.Formats[0].Speed = 0.805
	in := input(t, r, "en")
	in.Plan = &station.Plan{Formats: []station.FormatPlan{{Speed: 0.7}}}
	if got := in.speed(0); got != 0.7 {
		t.Errorf("the line runs at %g m/s, ordered are 0.7", float64(got))
	}
	in.Plan = nil
	if got := in.speed(0); got != 0.805 {
		t.Errorf("without a layout the line runs at %g m/s, the case at 0.805", float64(got))
	}
}
