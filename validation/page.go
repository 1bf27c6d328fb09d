package validation

import (
	"fmt"
	"strconv"
	"strings"
)

// Page is the documentation page of the checks, docs/validation.md.
//
//go:generate go run ./internal/page -out ../docs/validation.md
func Page(rows []Row) string {
	var b strings.Builder
	passed := 0
	for _, r := range rows {
		if r.Pass() {
			passed++
		}
	}
	b.WriteString("# Validation\n\nWritten by `make generate`; do not edit. `leste validate` runs the same checks.\n\n")
	fmt.Fprintf(&b, "%d of %d checks pass. Each compares a relation with a value that does not come from this program.\n", passed, len(rows))
	b.WriteString("How much water a station leaves is not validated by any of them: no published measurement was found.\n\n")
	b.WriteString("| check | relation | expected | computed | tolerance | unit | passes | source |\n|---|---|---|---|---|---|---|---|\n")
	for _, r := range rows {
		verdict := "yes"
		if !r.Pass() {
			verdict = "**no**"
		}
		fmt.Fprintf(&b, "| %s | [%s](relations.md#%s) | %s | %s | %s | %s | %s | %s |\n", r.ID, r.Relation, r.Relation,
			digits(r.Expected), digits(r.Computed), strconv.FormatFloat(r.Tolerance, 'g', 2, 64), r.Unit, verdict, r.SourceText())
	}
	return b.String()
}

// SourceText is the source with its basis.
func (r Row) SourceText() string { return string(r.Basis) + ": " + r.Source }

func digits(x float64) string { return strconv.FormatFloat(x, 'g', 5, 64) }
