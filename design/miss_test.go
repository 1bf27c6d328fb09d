package design

import (
	"slices"
	"testing"

	leste "leste"
	"leste/station"
)

// Outlets closer to the wall were told to be enough alone though the bottle slips with them.
func TestLawNothingIsEnoughAloneWithWhichSomethingGivesWay(t *testing.T) {
	result := func(tip float64) *leste.Result {
		return &leste.Result{
			Formats: []leste.FormatResult{{Name: "bottle", Standing: []leste.Push{{Way: station.Tip, Factor: tip}}}},
			Helps: []leste.Help{
				{What: "closer", Ratio: 0.3, Air: true, Against: []string{"with it bottle slips on the belt"}},
				{What: "drain", Ratio: 0.4},
				{What: "again", Ratio: 0.9, Air: true},
			},
		}
	}
	own := []Remedy{{What: "without the case", Left: 0.45, Alone: true}}
	alone := func(list []Remedy) (names []string) {
		for i := range list {
			if list[i].Alone {
				names = append(names, list[i].What)
			}
		}
		return names
	}
	for _, c := range []struct {
		tip  float64
		goal string
		want []string
	}{
		{2, GoalLikely, []string{"drain", "without the case"}},
		{1.05, GoalLikely, []string{"drain", "without the case"}},
		{1.05, GoalMet, nil}, // to be sure it would have to stand more
		{0.9, GoalLikely, nil},
	} {
		got := changes(slices.Clone(own), result(c.tip), 2, c.goal)
		if !slices.Equal(alone(got), c.want) {
			t.Errorf("resistance over push %g, goal %s: %q are enough alone, want %q", c.tip, c.goal, alone(got), c.want)
		}
		if last := got[len(got)-1]; last.What != "closer" || len(last.Against) != 1 {
			t.Errorf("last comes %+v", last)
		}
	}
}
