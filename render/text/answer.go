package text

import (
	"fmt"
	"math"
	"strings"

	"leste/calc"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/render/amount"
)

// Answer writes the answer to a single question: inputs, results, ranges left, sources.
func Answer(a calc.Answer, s Style) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", s.paint(heading, a.Topic.Name), a.Topic.Asks)
	b.WriteString(s.section("Inputs", inputs(a, s)))
	b.WriteString(s.section("Results", results(a, s)))
	b.WriteString(s.section("Out of range", notes(a.Notes, s)))
	b.WriteString(s.section("Relations and sources", sources(a, s)))
	return b.String()
}

func inputs(a calc.Answer, s Style) string {
	rows := make([][]string, len(a.Inputs))
	for i, in := range a.Inputs {
		value := in.Text
		if !math.IsNaN(in.Value) {
			value = q.Typeset(in.Param.Kind.Format(in.Value, s.system()))
		}
		from := "given"
		if in.Assumed {
			from = "assumed: " + in.Param.Source
		}
		rows[i] = []string{strings.ReplaceAll(in.Param.Name, "-", " "), value, from}
	}
	return Table(s, []string{"input", "value", ""}, rows)
}

func results(a calc.Answer, s Style) string {
	rows := make([][]string, len(a.Results))
	for i, r := range a.Results {
		rows[i] = []string{r.Output.Name, resultWords(r, s)}
	}
	return Table(s, []string{"result", "value"}, rows)
}

func resultWords(r calc.Result, s Style) string {
	switch v := r.Value.(type) {
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case string:
		return v
	case float64:
		x := r.InUnit()
		switch unit := r.Output.Unit(); {
		case math.IsNaN(x) || math.IsInf(x, 0):
			return amount.Figures(x, 3)
		case s.system() == q.US && r.Output.Kind != q.None && unit != "":
			return q.Typeset(r.Output.Kind.FormatDigits(v, q.US, 4))
		default:
			return strings.TrimRight(amount.Figures(x, 4)+" "+unit, " ")
		}
	}
	return amount.Unknown
}

func sources(a calc.Answer, s Style) string {
	rows := make([][]string, 0, len(a.Relations))
	for _, id := range a.Relations {
		card, err := calc.Relations().Get(id)
		if err != nil {
			continue // a test makes sure that every relation named is a card
		}
		texts := make([]string, len(card.Sources))
		for i, src := range card.Sources {
			texts[i] = src.Text()
		}
		rows = append(rows, []string{id, ranges(card), card.Uncertainty.Text, strings.Join(texts, "; ")})
	}
	return Table(s, []string{"relation", "range", "uncertainty", "source"}, rows)
}

// ranges lists the limits of a relation, the first of each symbol.
func ranges(card relation.Card) string {
	var parts []string
	seen := map[string]bool{}
	for _, l := range card.Limits {
		if seen[l.Symbol] {
			continue
		}
		seen[l.Symbol] = true
		switch {
		case math.IsInf(l.Low, -1):
			parts = append(parts, fmt.Sprintf("%s up to %s", l.Symbol, q.Significant(l.High, 4)))
		case math.IsInf(l.High, 1):
			parts = append(parts, fmt.Sprintf("%s from %s", l.Symbol, q.Significant(l.Low, 4)))
		default:
			parts = append(parts, fmt.Sprintf("%s %s to %s", l.Symbol, q.Significant(l.Low, 4), q.Significant(l.High, 4)))
		}
	}
	return strings.Join(parts, ", ")
}
