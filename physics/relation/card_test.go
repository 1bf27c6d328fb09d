package relation

import (
	"math"
	"testing"
)

func card() Card {
	return Card{
		ID: "some-law", Title: "some law", Symbols: []Symbol{Sym("x", "s", "the wait")},
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
		if len(notes) != 1 || notes[0].Severity != c.severity || notes[0].Limit != c.limit || notes[0].Unit != "s" || notes[0].Relation != "some-law" {
			t.Errorf("%g: %+v, want %s at %g", c.value, notes, c.severity, c.limit)
		}
	}
}

// A reader sees degrees, not kelvins or radians, and lengths and pressures in the size they have.
func TestLawCheckSpeaksTheReadersUnits(t *testing.T) {
	for _, c := range []struct {
		unit         string
		value, limit float64 // SI
		want         Note
	}{
		{"K", 373.15, 363.15, Note{Value: 100, Limit: 90, Unit: "degC"}},
		{"rad", math.Pi, math.Pi / 2, Note{Value: 180, Limit: 90, Unit: "deg"}},
		{"m", 4e-3, 3e-3, Note{Value: 4, Limit: 3, Unit: "mm"}},
		{"m", 5000, 4000, Note{Value: 5000, Limit: 4000, Unit: "m"}},
		{"Pa", 6e4, 5e4, Note{Value: 60, Limit: 50, Unit: "kPa"}},
		{"Pa", 2, 1, Note{Value: 2, Limit: 1, Unit: "Pa"}},
		{"1", 3, 2, Note{Value: 3, Limit: 2, Unit: "1"}},
	} {
		one := Card{ID: "law", Symbols: []Symbol{Sym("x", c.unit, "it")}, Limits: []Limit{AtMost("x", c.limit, Outside, "")}}
		got := one.Check("x", c.value)
		if len(got) != 1 || math.Abs(got[0].Value-c.want.Value) > 1e-9 || math.Abs(got[0].Limit-c.want.Limit) > 1e-9 || got[0].Unit != c.want.Unit {
			t.Errorf("%s: %+v, want %+v", c.unit, got, c.want)
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
