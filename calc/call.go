package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/physics/relation"
	q "leste/quantity"
)

// A call is one question being answered: the inputs read so far and what was found.
type call struct {
	topic     Topic
	values    map[string]float64 // SI
	words     map[string]string
	assumed   []string
	results   []Result
	notes     []relation.Note
	relations []string
}

// read parses every input, fills in defaults and refuses what makes no sense.
func (c *call) read(given map[string]string) error {
	for name := range given {
		if _, ok := c.topic.param(name); !ok {
			return c.wrong("", "there is no input %q; known are: %s", name, strings.Join(c.topic.paramNames(), ", "))
		}
	}
	for _, p := range c.topic.Params {
		text, ok := given[p.Name]
		if !ok || strings.TrimSpace(text) == "" {
			if p.Need {
				return c.wrong(p.Name, "it must be given, e.g. %q", p.Example())
			}
			if text = p.Default; text == "" {
				continue
			}
			c.assumed = append(c.assumed, p.Name)
		}
		if err := c.take(p, text); err != nil {
			return err
		}
	}
	return nil
}

func (c *call) take(p Param, text string) error {
	if p.Kind == q.None {
		if !slices.Contains(p.Choices, text) {
			return c.wrong(p.Name, "no choice %q; known are: %s", text, strings.Join(p.Choices, ", "))
		}
		c.words[p.Name] = text
		return nil
	}
	x, err := p.Kind.Parse(text)
	if err != nil {
		return c.wrong(p.Name, "%v", err)
	}
	if want := p.Bounds.broken(x); want != "" {
		return c.wrong(p.Name, "it is %s, but must be %s", text, want)
	}
	c.values[p.Name] = x
	return nil
}

// broken says what a value would have to be, or "" when it is fine.
func (b Bounds) broken(x float64) string {
	switch {
	case b == Positive && !(x > 0):
		return "above zero"
	case b == FromZero && !(x >= 0):
		return "zero or above"
	case b == Share && !(x >= 0 && x <= 1):
		return "between 0 and 1"
	}
	return ""
}

// Example is a value that could be given: the choices, the default, or what is usual for the input.
func (p Param) Example() string {
	switch {
	case p.Kind == q.None:
		return strings.Join(p.Choices, "|")
	case p.Eg != "":
		return p.Eg
	case p.Default != "":
		return p.Default
	}
	return p.Kind.Example()
}

func (t Topic) paramNames() []string {
	names := make([]string, len(t.Params))
	for i, p := range t.Params {
		names[i] = p.Name
	}
	return names
}

// at returns an input. Asking for one that the topic does not name is a programming error and panics; one that
// is open is NaN.
func at[T ~float64](c *call, name string) T {
	if _, ok := c.topic.param(name); !ok {
		panic(fmt.Sprintf("calc: topic %s has no input %q", c.topic.Name, name))
	}
	x, ok := c.values[name]
	if !ok {
		return T(math.NaN())
	}
	return T(x)
}

// has reports whether an input has a value.
func (c *call) has(name string) bool {
	_, number := c.values[name]
	_, word := c.words[name]
	return number || word
}

// put gives an answer in SI. An answer that is not finite is not known. Keys that the topic does not name
// are a programming error and panic.
func put[T ~float64](c *call, key string, x T) { c.say(key, float64(x)) }

// say gives an answer that is a number, a yes or no, or a word.
func (c *call) say(key string, value any) {
	i := slices.IndexFunc(c.topic.Answers, func(o Output) bool { return o.Key == key })
	if i < 0 {
		panic(fmt.Sprintf("calc: topic %s has no answer %q", c.topic.Name, key))
	}
	c.results = append(c.results, Result{c.topic.Answers[i], value})
}

// use lists relations in the order of their first use.
func (c *call) use(ids ...string) {
	for _, id := range ids {
		if !slices.Contains(c.relations, id) {
			c.relations = append(c.relations, id)
		}
	}
}

// check uses a relation and notes where a symbol leaves its range.
func check[T ~float64](c *call, id, symbol string, x T) {
	c.use(id)
	c.notes = append(c.notes, Relations().Check(id, symbol, float64(x))...)
}

// note adds notes that a room gave.
func (c *call) note(notes ...relation.Note) { c.notes = append(c.notes, notes...) }

// wrong is an error about one input, or about the question as a whole when param is "".
func (c *call) wrong(param, format string, args ...any) error {
	return &InputError{c.topic.Name, param, fmt.Sprintf(format, args...)}
}

// answer collects what was found, answers in the order of the topic.
func (c *call) answer() Answer {
	a := Answer{Topic: c.topic, Notes: c.notes, Relations: c.relations}
	for _, p := range c.topic.Params {
		if !c.has(p.Name) {
			continue
		}
		in := Input{Param: p, Value: math.NaN(), Text: c.words[p.Name], Assumed: slices.Contains(c.assumed, p.Name)}
		if x, ok := c.values[p.Name]; ok {
			in.Value = x
		}
		a.Inputs = append(a.Inputs, in)
	}
	refused := a.Refused()
	for _, o := range c.topic.Answers {
		for _, r := range c.results {
			if r.Output.Key == o.Key {
				if _, number := r.Value.(float64); number && refused {
					r.Value = math.NaN()
				}
				a.Results = append(a.Results, r)
			}
		}
	}
	return a
}
