package text

import (
	"strings"

	"leste/physics/relation"
	q "leste/quantity"
	"leste/validation"
)

// Validation writes one row for each reference value, those of one source under its name.
func Validation(rows []validation.Row, s Style) string {
	cells := make([][]string, len(rows))
	for i, r := range rows {
		pass := s.paint(good, "pass")
		if !r.Pass() {
			pass = s.paint(bad, "FAIL")
		}
		unit := r.Unit
		if unit == "1" {
			unit = ""
		}
		expected := strings.TrimRight(q.Significant(r.Expected, 5)+" ±"+q.Significant(r.Tolerance, 2)+" "+strings.ReplaceAll(q.Typeset(unit), " ", "·"), " ")
		cells[i] = []string{r.ID, r.Relation, expected, q.Significant(r.Computed, 5), pass}
	}
	head, lines := layOut(s, []string{"check", "relation", "expected", "computed", ""}, cells)
	var b strings.Builder
	b.WriteString(head)
	for i, r := range rows {
		if source := sourceOf(r); i == 0 || source != sourceOf(rows[i-1]) {
			for text := range strings.Lines(s.paragraph("", source)) {
				b.WriteString(s.paint(faint, strings.TrimRight(text, "\n")) + "\n")
			}
		}
		b.WriteString(lines[i])
	}
	return b.String()
}

// sourceOf is what a reference value rests on.
func sourceOf(r validation.Row) string {
	return relation.Source{Citation: r.Source, Where: practiceWords(r), Basis: r.Basis}.Text()
}

// practiceWords is what the trade says, which stands in another place of a source than a citation.
func practiceWords(r validation.Row) string {
	if r.Basis == relation.Practice {
		return r.Source
	}
	return ""
}
