package answer

import (
	"slices"
	"testing"

	"leste/design"
)

// While a search ran, its curve told reserves of 16 and 40, which no cells tell and the study does not: what lies between
// 1 and 3, where the choice is, became a line at the foot of it.
func TestLawATradeOffThatFillsEndsWithPlentyAsTheStudys(t *testing.T) {
	p := design.Population{Concept: "level knives", Judged: 7}
	for i, reserve := range []float64{1.05, 1.055, 1.6, 1.2, 16, 40, 60} {
		p.Members = append(p.Members, design.Individual{Cost: float64(100 + i), Reserve: reserve})
	}
	front, judged := frontOf(design.State{Populations: []design.Population{p}})
	var told []float64
	for _, x := range front {
		told = append(told, x.Reserve)
	}
	if want := []float64{1.05, 1.6, 16}; !slices.Equal(told, want) || judged != 7 {
		t.Errorf("of %d are told %g, want %g", judged, told, want)
	}
}
