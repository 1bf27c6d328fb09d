package design

import (
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
)

// What the job draws came out as tilted knives to the last millimetre, and was told as a second station.
func TestLawAStationIsToldOnce(t *testing.T) {
	drawn := example(t, "design-pet-sketch")
	other := job.Clone(drawn)
	for i := range other.Stations[0].Outlets {
		o := &other.Stations[0].Outlets[i]
		o.Name, o.Pressure = "renamed "+o.Name, q.Known(q.Gauge(6e3))
	}
	moved := job.Clone(drawn)
	moved.Stations[0].Outlets[0].Height = q.Known(q.Length(0.3))
	ducted := job.Clone(drawn)
	ducted.AirSupply.Branches = []job.Branch{{Name: "duct"}}
	found := once([]Found{
		{Concept: "tilted knives", What: "a pair", Job: other},
		{Concept: "moved", Job: moved},
		{Concept: asDrawn, Job: drawn},
		{Concept: "ducted", Job: ducted},
		{Concept: "a third", Job: drawn},
		{Concept: "none"},
		{Concept: "none either"},
	})
	var told []string
	for i := range found {
		told = append(told, found[i].Concept)
	}
	if got := strings.Join(told, ", "); got != "tilted knives, moved, ducted, none, none either" {
		t.Errorf("told are %s", got)
	}
	if f := &found[0]; len(f.Also) != 2 || !strings.Contains(f.What, asDrawn) || !strings.Contains(f.What, "a third") {
		t.Errorf("%q: %s", f.Also, f.What)
	}
}
