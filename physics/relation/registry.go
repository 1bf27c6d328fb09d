package relation

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
)

// Registry is an immutable set of cards, found by ID. The zero value is empty. It is safe to share.
type Registry struct {
	cards []Card // sorted by ID
}

// New returns a registry of the cards. Its error names every card that is incomplete, contradicts itself or
// repeats an ID.
func New(lists ...[]Card) (Registry, error) {
	cards := slices.Concat(lists...)
	slices.SortFunc(cards, func(a, b Card) int { return strings.Compare(a.ID, b.ID) })
	var errs []error
	for i, c := range cards {
		if i > 0 && cards[i-1].ID == c.ID {
			errs = append(errs, fmt.Errorf("card %s: there are two", c.ID))
		}
		for _, problem := range c.problems() {
			errs = append(errs, fmt.Errorf("card %s: %s", c.ID, problem))
		}
	}
	if len(errs) > 0 {
		return Registry{}, errors.Join(errs...)
	}
	return Registry{cards: cards}, nil
}

// All returns the cards in the order of their IDs.
func (r Registry) All() []Card { return slices.Clone(r.cards) }

// Get returns a card. Its error names the known cards that come nearest.
func (r Registry) Get(id string) (Card, error) {
	i, found := slices.BinarySearchFunc(r.cards, id, func(c Card, id string) int { return strings.Compare(c.ID, id) })
	if found {
		return r.cards[i], nil
	}
	return Card{}, fmt.Errorf("no relation %q; %s", id, r.suggestion(id))
}

// Check is Card.Check of a card that must exist; an unknown ID is a programming error and panics.
func (r Registry) Check(id, symbol string, value float64) []Note {
	c, err := r.Get(id)
	if err != nil {
		panic("relation: " + err.Error())
	}
	return c.Check(symbol, value)
}

// suggestion names the cards that share a word with the ID, or all of them.
func (r Registry) suggestion(id string) string {
	var near, all []string
	words := strings.FieldsFunc(strings.ToLower(id), func(x rune) bool { return x < 'a' || x > 'z' })
	for _, c := range r.cards {
		all = append(all, c.ID)
		if slices.ContainsFunc(words, func(w string) bool { return len(w) > 2 && strings.Contains(c.ID, w) }) {
			near = append(near, c.ID)
		}
	}
	if len(near) > 0 {
		return "near it are: " + strings.Join(near, ", ")
	}
	return "known are: " + strings.Join(all, ", ")
}

var idPattern = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)

// problems lists what is wrong with a card.
func (c Card) problems() []string {
	var bad []string
	say := func(format string, args ...any) { bad = append(bad, fmt.Sprintf(format, args...)) }
	if !idPattern.MatchString(c.ID) {
		say("the ID is not lower-case words joined by hyphens")
	}
	if c.Title == "" || c.Equation == "" || len(c.Symbols) == 0 {
		say("title, equation or symbols are missing")
	}
	if len(c.Sources) == 0 {
		say("it has no source; if there is none, say so with basis %q", Practice)
	}
	for _, s := range c.Sources {
		if s.Citation == "" && s.Basis != Practice && s.Basis != Rederived {
			say("a source of basis %q needs a citation", s.Basis)
		}
	}
	if c.Uncertainty.Text == "" {
		say("the uncertainty is not stated")
	}
	if c.Uncertainty.Factor != 0 && c.Uncertainty.Share != 0 {
		say("the uncertainty is given twice")
	}
	seen := map[string]bool{}
	for _, s := range c.Symbols {
		if seen[s.Name] {
			say("symbol %s is there twice", s.Name)
		}
		seen[s.Name] = true
		if s.Unit == "" || s.Meaning == "" {
			say("symbol %s lacks a unit or a meaning", s.Name)
		}
	}
	for _, l := range c.Limits {
		switch {
		case !seen[l.Symbol]:
			say("a limit is on %s, which is not a symbol", l.Symbol)
		case !(l.Low < l.High) || math.IsInf(l.Low, 1) || math.IsInf(l.High, -1):
			say("the limits of %s enclose nothing", l.Symbol)
		case l.Severity.rank() == 0:
			say("the limit of %s has no severity", l.Symbol)
		}
	}
	if len(c.Example.Given) == 0 || math.IsNaN(c.Example.Result.Value) || c.Example.Result.Unit == "" {
		say("the worked example is missing")
	}
	return bad
}
