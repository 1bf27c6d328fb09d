package relation

import (
	"math"
	"testing"
)

func card() Card {
	return Card{
		ID: "some-law", Title: "some law", Symbols: []Symbol{Sym("x", "m", "the distance")},
		Limits: []Limit{
			Within("x", 1, 10, Outside, ""),
			AtLeast("x", 0.5, Stop, "nothing is calculated"),
		},
	}
}

func TestLawCheckNamesTheWorstLimit(t *testing.T) {
	for _, c := range []struct {
		value    float64
		severity Severity // "" for no note
		limit    float64
	}{
		{1, "", 0},
		{5, "", 0},
		{10, "", 0},
		{0.7, Outside, 1},
		{11, Outside, 10},
		{0.4, Stop, 0.5},
		{math.Inf(1), Outside, 10},
		{math.Inf(-1), Stop, 0.5},
		{math.NaN(), Stop, 0.5},
	} {
		notes := card().Check("x", c.value)
		if c.severity == "" {
			if len(notes) != 0 {
				t.Errorf("%g: %v", c.value, notes)
			}
			continue
		}
		if len(notes) != 1 || notes[0].Severity != c.severity || notes[0].Limit != c.limit || notes[0].Unit != "m" || notes[0].Relation != "some-law" {
			t.Errorf("%g: %+v, want %s at %g", c.value, notes, c.severity, c.limit)
		}
	}
}

func TestLawCheckOfUnknownSymbolPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a symbol that the card does not have was checked")
		}
	}()
	card().Check("y", 1)
}

func TestLawGetNamesTheUnknown(t *testing.T) {
	if _, err := (Registry{}).Get("no-such-law"); err == nil {
		t.Error("an unknown relation was found")
	}
	if _, err := New([]Card{card()}, []Card{card()}); err == nil {
		t.Error("two cards share an id")
	}
}
