package relation

import (
	"math"
	"strings"
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

// A page and a terminal show everything that a card holds.
func TestLawCardsAreShownWhole(t *testing.T) {
	c := card()
	c.Equation, c.Departs = "y = 2 x", "not at all like the source"
	c.Symbols = append(c.Symbols, Sym("y", "1", "the answer"))
	c.Sources = []Source{Cite("pope-2000", "table 5.1", FromMemory), Derived("by hand"), CommonPractice("seen often"), {Basis: Practice}, {Basis: Rederived}}
	c.Uncertainty = Uncertainty{Text: "some", Share: 0.1}
	c.Example = Example{Given: []Value{Val("x", 3, "s")}, Result: Val("y", 6, "1")}
	for name, text := range map[string]string{"page": Markdown([]Card{c}), "terminal": c.Text(400)} {
		for _, want := range []string{
			"some-law", "some law", "y = 2 x", "the wait", "the answer", "1 to 10", "from 0.5 (stop otherwise)", "some", "not at all like the source",
			"from memory of Pope, Turbulent flows (2000), table 5.1", "re-derived: by hand", "common practice, no source: seen often", "x = 3 s give y = 6",
		} {
			if !strings.Contains(strings.ToLower(text), strings.ToLower(want)) {
				t.Errorf("the %s lacks %q:\n%s", name, want, text)
			}
		}
	}
	for line := range strings.Lines(c.Text(40)) {
		if len(strings.TrimRight(line, "\n")) > 40 {
			t.Errorf("a line of %d characters: %q", len(line), line)
		}
	}
	if x := c.Example.Value("z"); !math.IsNaN(x) {
		t.Errorf("a value that was not given is %g", x)
	}
}

// A card that lacks something, or contradicts itself, is refused with the reason.
func TestLawCardsMustBeWhole(t *testing.T) {
	whole := card()
	whole.Equation, whole.Uncertainty = "y = x", Uncertainty{Text: "none"}
	whole.Sources = []Source{Derived("by hand")}
	whole.Example = Example{Given: []Value{Val("x", 3, "s")}, Result: Val("y", 6, "1")}
	if _, err := New([]Card{whole}); err != nil {
		t.Fatal(err)
	}
	for want, spoil := range map[string]func(c *Card){
		"lower-case":         func(c *Card) { c.ID = "Some Law" },
		"title, equation":    func(c *Card) { c.Equation = "" },
		"no source":          func(c *Card) { c.Sources = nil },
		"needs a citation":   func(c *Card) { c.Sources = []Source{{Basis: Published}} },
		"not stated":         func(c *Card) { c.Uncertainty = Uncertainty{} },
		"given twice":        func(c *Card) { c.Uncertainty.Factor, c.Uncertainty.Share = 2, 0.5 },
		"there twice":        func(c *Card) { c.Symbols = append(c.Symbols, c.Symbols[0]) },
		"lacks a unit":       func(c *Card) { c.Symbols = append(c.Symbols, Symbol{Name: "z"}) },
		"not a symbol":       func(c *Card) { c.Limits = append(c.Limits, AtLeast("z", 1, Stop, "")) },
		"enclose nothing":    func(c *Card) { c.Limits = append(c.Limits, Within("x", 3, 2, Stop, "")) },
		"has no severity":    func(c *Card) { c.Limits = append(c.Limits, AtLeast("x", 1, "", "")) },
		"example is missing": func(c *Card) { c.Example = Example{} },
	} {
		c := whole
		spoil(&c)
		if _, err := New([]Card{c}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// An unknown relation brings the known ones that come nearest, or all.
func TestLawUnknownRelationsAreHelped(t *testing.T) {
	r := Registry{cards: []Card{{ID: "film-break-up"}, {ID: "wiped-film"}, {ID: "cap"}}}
	for id, want := range map[string]string{"film": "near it are: film-break-up, wiped-film", "nonsense": "known are: film-break-up, wiped-film, cap"} {
		if _, err := r.Get(id); err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%s: %v", id, err)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("a relation that does not exist was checked")
		}
	}()
	r.Check("nonsense", "x", 1)
}
