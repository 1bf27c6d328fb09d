package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/physics/relation"
	q "leste/quantity"
)

// A Topic is one kind of question.
type Topic struct {
	Name    string
	Asks    string // the question it answers, shared by topics that answer it together
	Help    string // one sentence
	Params  []Param
	Answers []Output
	solve   func(*call) error
}

// A Param is one input of a topic.
type Param struct {
	Name    string // lower case, words joined by hyphens
	Help    string // one sentence
	Kind    q.Kind // None for a choice
	Choices []string
	Eg      string // example for the help; "" takes the default or the kind's
	Default string // with its unit; "" when the input may stay open or must be given
	Source  string // what the default rests on
	Need    bool
	Bounds  Bounds
}

// Bounds says which values of an input make sense at all. Ranges of relations are theirs to check.
type Bounds uint8

// The bounds.
const (
	Positive Bounds = iota // above zero
	FromZero               // zero or above
	Share                  // 0 to 1
	Any
)

// An Output is one answer of a topic. Its key ends with its unit.
type Output struct {
	Key  string
	Name string
	Kind q.Kind // None for a plain number, a yes or no, or a word
}

// An Answer is what a topic gave.
type Answer struct {
	Topic     Topic
	Inputs    []Input
	Results   []Result
	Notes     []relation.Note
	Relations []string // ids, in the order of use
}

// Refused reports whether a relation was asked for something that it does not answer; no number is given then.
func (a Answer) Refused() bool {
	return slices.ContainsFunc(a.Notes, func(n relation.Note) bool { return n.Severity == relation.Stop })
}

// An Input is a value that was used.
type Input struct {
	Param   Param
	Value   float64 // SI; NaN for a choice
	Text    string  // of a choice
	Assumed bool
}

// A Result is one answer: Value is a float64 in SI, a bool or a string.
type Result struct {
	Output Output
	Value  any
}

// InUnit returns a number in the unit of its key; NaN when the result is no number.
func (r Result) InUnit() float64 {
	x, ok := r.Value.(float64)
	if !ok {
		return math.NaN()
	}
	return unitOf(r.Output.Key).fromSI(x)
}

// An InputError says which input is wrong, and what would be right.
type InputError struct {
	Topic, Param string
	Text         string
}

// Error names the input and the fault.
func (e *InputError) Error() string {
	if e.Param == "" {
		return fmt.Sprintf("%s: %s", e.Topic, e.Text)
	}
	return fmt.Sprintf("%s, %s: %s", e.Topic, e.Param, e.Text)
}

// Find returns the topic of a name. Its error lists the known ones.
func Find(name string) (Topic, error) {
	all := Topics()
	i := slices.IndexFunc(all, func(t Topic) bool { return t.Name == name })
	if i >= 0 {
		return all[i], nil
	}
	names := make([]string, len(all))
	for i, t := range all {
		names[i] = t.Name
	}
	return Topic{}, fmt.Errorf("no topic %q; known are: %s", name, strings.Join(names, ", "))
}

// Answer solves the topic for the inputs given as text with units. Inputs that are left out take their
// defaults. Errors are of type *InputError. Where a relation stops, every number of the answer is NaN.
func (t Topic) Answer(given map[string]string) (Answer, error) {
	c := call{topic: t, values: map[string]float64{}, words: map[string]string{}}
	if err := c.read(given); err != nil {
		return Answer{}, err
	}
	if err := t.solve(&c); err != nil {
		return Answer{}, err
	}
	return c.answer(), nil
}

func (t Topic) param(name string) (Param, bool) {
	i := slices.IndexFunc(t.Params, func(p Param) bool { return p.Name == name })
	if i < 0 {
		return Param{}, false
	}
	return t.Params[i], true
}
