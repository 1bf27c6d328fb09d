package asjson

import (
	"math"

	"leste/calc"
	"leste/physics/relation"
)

// answered is the part of the document about a question that is not its answers: these stand at the top
// level, each under its own key.
type input struct {
	Value   number  `json:"value_si"`
	Text    *string `json:"text"`
	Assumed bool    `json:"assumed"`
	Source  *string `json:"source"`
}

// Answer writes the answer to a single question: every answer under its own key at the top level, beside the
// inputs, notes and relations.
func Answer(a calc.Answer) ([]byte, error) {
	out := map[string]any{"schema": "leste-calc-1", "topic": a.Topic.Name}
	for _, r := range a.Results {
		switch v := r.Value.(type) {
		case float64:
			out[r.Output.Key] = number(r.InUnit())
		default:
			out[r.Output.Key] = v
		}
	}
	inputs := map[string]input{}
	for _, in := range a.Inputs {
		i := input{Value: number(in.Value), Assumed: in.Assumed}
		if math.IsNaN(in.Value) {
			i.Text = text(in.Text)
		} else {
			i.Text = text(in.Param.Kind.Exact(in.Value))
		}
		if in.Assumed {
			i.Source = text(in.Param.Source)
		}
		inputs[in.Param.Name] = i
	}
	out["inputs"] = inputs
	out["notes"] = list(a.Notes, noteOf)
	out["relations"] = same(a.Relations)
	return document(out)
}

type card struct {
	ID          string   `json:"id"`
	Title       string   `json:"title"`
	Equation    string   `json:"equation"`
	Symbols     []symbol `json:"symbols"`
	Limits      []limit  `json:"limits"`
	Sources     []string `json:"sources"`
	Uncertainty string   `json:"uncertainty"`
	Departs     *string  `json:"departs"`
	Example     string   `json:"example"`
}

type symbol struct {
	Name    string `json:"name"`
	Unit    string `json:"unit"`
	Meaning string `json:"meaning"`
}

type limit struct {
	Symbol   string  `json:"symbol"`
	Low      number  `json:"low"`
	High     number  `json:"high"`
	Severity string  `json:"severity"`
	Text     *string `json:"text"`
}

// Card writes one relation.
func Card(c relation.Card) ([]byte, error) { return document(cardOf(c)) }

// Cards writes a list of relations.
func Cards(cs []relation.Card) ([]byte, error) {
	return document(map[string]any{"schema": "leste-relations-1", "relations": list(cs, cardOf)})
}

func cardOf(c relation.Card) card {
	return card{
		ID: c.ID, Title: c.Title, Equation: c.Equation,
		Symbols: list(c.Symbols, func(s relation.Symbol) symbol { return symbol{s.Name, s.Unit, s.Meaning} }),
		Limits: list(c.Limits, func(l relation.Limit) limit {
			return limit{l.Symbol, number(l.Low), number(l.High), string(l.Severity), text(l.Text)}
		}),
		Sources:     list(c.Sources, relation.Source.Text),
		Uncertainty: c.Uncertainty.Text, Departs: text(c.Departs), Example: c.Example.Text(),
	}
}
