package relation

import (
	"fmt"
	"math"
	"strings"
)

// Card describes one relation.
type Card struct {
	ID          string // lower case, words joined by hyphens
	Title       string
	Equation    string
	Symbols     []Symbol
	Limits      []Limit // range of validity; a symbol may have several, of different severity
	Sources     []Source
	Uncertainty Uncertainty
	Departs     string // how the implementation departs from the source; "" when it does not
	Example     Example
}

// Symbol is a quantity of the equation, in SI units.
type Symbol struct {
	Name    string
	Unit    string // "1" for a pure number
	Meaning string
}

// Limit says where the relation stops being known. An open end is infinite. Low and High belong to the range.
type Limit struct {
	Symbol    string
	Low, High float64
	Severity  Severity
	Text      string // what a result says outside, one clause without numbers; "" for the usual one
}

// Uncertainty of the result within the limits. At most one of Factor and Share is set.
type Uncertainty struct {
	Text   string
	Factor float64 // the value lies within times and divided by this factor
	Share  float64 // the value lies within plus and minus this share
}

// Basis says how well a source is known.
type Basis string

// The bases, surest first.
const (
	Published  Basis = "published"
	SecondHand Basis = "second-hand"
	FromMemory Basis = "from memory"
	Rederived  Basis = "re-derived"
	Practice   Basis = "common practice, no source"
)

// Source is where a relation comes from.
type Source struct {
	Key      string // of the bibliography; "" for common practice
	Citation string
	Where    string // chapter, equation or table; "" when the whole is meant
	Basis    Basis
}

// Text says the source as a reader meets it, with its basis.
func (s Source) Text() string {
	what := s.Citation
	if s.Where != "" {
		what += ", " + s.Where
	}
	switch s.Basis {
	case Practice:
		if s.Where != "" {
			return string(Practice) + ": " + s.Where
		}
		return string(Practice)
	case FromMemory:
		return "from memory of " + what
	case Rederived:
		if what == "" {
			return "re-derived"
		}
		return "re-derived: " + strings.TrimPrefix(what, ", ")
	default:
		return string(s.Basis) + ": " + what
	}
}

// Example is a worked case.
type Example struct {
	Given  []Value
	Result Value
	Digits float64 // relative rounding of the printed result
}

// Value is a named number in SI units.
type Value struct {
	Name  string
	Value float64
	Unit  string
}

// Value returns the given value of that name; NaN when there is none.
func (e Example) Value(name string) float64 {
	for _, v := range e.Given {
		if v.Name == name {
			return v.Value
		}
	}
	return math.NaN()
}

// Check returns what is to be said about a symbol's value, in SI: nothing inside the range, else one note for the
// most severe limit that it breaks, with value and limit in the unit a reader meets. NaN breaks every limit. Asking for a symbol that the card does not have is
// a programming error and panics.
func (c Card) Check(symbol string, value float64) []Note {
	s, ok := c.symbol(symbol)
	if !ok {
		panic(fmt.Sprintf("relation: card %s has no symbol %q; it has %s", c.ID, symbol, strings.Join(c.symbolNames(), ", ")))
	}
	var worst []Note
	for _, l := range c.Limits {
		if l.Symbol != symbol || (value >= l.Low && value <= l.High) {
			continue
		}
		n := c.note(l, s, value)
		if len(worst) == 0 || n.Severity.rank() > worst[0].Severity.rank() {
			worst = []Note{n}
		}
	}
	return worst
}

func (c Card) note(l Limit, s Symbol, value float64) Note {
	limit, side := l.Low, "below"
	switch {
	case math.IsNaN(value):
		side = "not a number for"
		if math.IsInf(limit, 0) {
			limit = l.High
		}
	case value > l.High:
		limit, side = l.High, "above"
	}
	text := fmt.Sprintf("%s is %s the range of %s", s.Meaning, side, c.Title)
	if l.Text != "" {
		text += ": " + l.Text
	}
	n := Note{Severity: l.Severity, Relation: c.ID, Text: text}
	n.Value, n.Limit, n.Unit = shown(value, limit, s.Unit)
	return n
}

func (c Card) symbol(name string) (Symbol, bool) {
	for _, s := range c.Symbols {
		if s.Name == name {
			return s, true
		}
	}
	return Symbol{}, false
}

func (c Card) symbolNames() []string {
	var names []string
	for _, s := range c.Symbols {
		names = append(names, s.Name)
	}
	return names
}

// rank orders the severities, mildest first.
func (s Severity) rank() int {
	switch s {
	case Info:
		return 1
	case Caution:
		return 2
	case Outside:
		return 3
	case Stop:
		return 4
	}
	return 0
}
