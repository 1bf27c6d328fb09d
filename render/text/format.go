package text

import (
	"fmt"
	"math"
	"slices"
	"strings"

	leste "leste"
	"leste/job"
	q "leste/quantity"
	"leste/render/amount"
)

// formatReport is what is left on one format, and whether it stands.
func formatReport(f *leste.FormatResult, s Style) string {
	var b strings.Builder
	title := f.Name
	if f.Speed > 0 {
		title += " at " + show(s, f.Speed)
	}
	if f.Pitch > 0 {
		title += ", pitch " + show(s, f.Pitch)
	}
	title += ": water left"
	if f.Machine != "" {
		title += " at the " + f.Machine
	}
	b.WriteString(s.section(title, zones(f, s)))
	if f.Why != "" {
		b.WriteString(s.paragraph("  ", sentence(f.Why)))
	}
	b.WriteString(balance(f.Balance, s))
	b.WriteString(s.section(f.Name+": will it stand", standing(f, s)))
	return b.String()
}

func zones(f *leste.FormatResult, s Style) string {
	rows := make([][]string, 0, len(f.Zones)+1)
	for _, z := range f.Zones {
		rows = append(rows, []string{
			z.Name, s.mass(z.Left), s.band(q.KindAreaMass, z.PerArea, "g/m2"), s.band(q.KindLength, z.Largest, s.dropUnit()), z.Cause, z.Where,
		})
	}
	if len(rows) > 0 && !slices.ContainsFunc(f.Zones, func(z leste.ZoneResult) bool { return z.Name == job.ZoneAll }) {
		rows = append(rows, []string{job.ZoneAll, s.mass(f.Container), "", "", "", ""})
	}
	return Table(s, []string{"zone", "water left", "g/m²", "largest drop, " + s.dropUnit(), "main cause", "where"}, rows)
}

func balance(b leste.Balance, s Style) string {
	if !(b.In > 0) {
		return ""
	}
	mass := func(kg float64) string { return q.Typeset(q.KindMass.FormatDigits(kg, q.SI, 2)) } // weighed in grams in any units
	return s.paragraph("  ", fmt.Sprintf(
		"Water of one container: %s arrive and %s condense; %s stay, %s are blown off, %s leave as mist, %s evaporate, %s drip.",
		mass(b.In), mass(b.Condensed), mass(b.Left), mass(b.BlownOff), mass(b.Mist), mass(b.Evaporated), mass(b.Dripped)))
}

// movesWords names the ways in which the air moves the container, or nothing.
func movesWords(f *leste.FormatResult) string {
	var ways []string
	for _, p := range f.Standing {
		if p.Factor < 1 {
			ways = append(ways, fmt.Sprintf("%s (resistance over push %s)", p.Way, amount.Factor(p.Factor)))
		}
	}
	var out string
	if len(ways) > 0 {
		out = " The air moves the container: " + strings.Join(ways, ", ") + "."
	}
	for _, p := range f.Falls() {
		if p.Factor >= 1 {
			out += fmt.Sprintf(" It may not stand: %s (resistance over push %s).", p.Way, amount.Factor(p.Factor))
		}
	}
	return out
}

func standing(f *leste.FormatResult, s Style) string {
	rows := make([][]string, 0, len(f.Standing))
	for _, p := range f.Standing {
		factor := amount.Factor(p.Factor)
		outcome := s.paint(good, "stands")
		switch {
		case math.IsNaN(p.Factor):
			outcome = "not known"
		case math.IsInf(p.Factor, 1):
			factor, outcome = "no push", s.paint(good, "stands")
		case p.Factor < 1:
			outcome = s.paint(bad, "moves")
		case p.Factor < 1.5:
			outcome = s.paint(unsure, "barely stands")
		}
		rows = append(rows, []string{p.Way, factor, outcome, p.Case, s.Say(p.Needs)})
	}
	return Table(s, []string{"way", "resistance over push", "", "worst case", "needs"}, rows)
}
