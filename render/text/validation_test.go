package text

import (
	"strings"
	"testing"

	"leste/validation"
)

func TestLawEveryReferenceValueIsARowUnderItsSource(t *testing.T) {
	rows := validation.Run(t.Context())
	for _, width := range []int{60, 100, 140} {
		report := Validation(rows, Style{Width: width})
		words := strings.Join(strings.Fields(report), " ")
		for _, r := range rows {
			if source := strings.Join(strings.Fields(sourceOf(r)), " "); !strings.Contains(words, source) {
				t.Errorf("width %d: the source %q is not named", width, source)
			}
		}
		if got := strings.Count(report, "pass\n") + strings.Count(report, "FAIL\n"); got != len(rows) {
			t.Errorf("width %d: %d verdicts for %d rows", width, got, len(rows))
		}
		for line := range strings.Lines(report) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > width {
				t.Errorf("width %d: a line has %d characters: %q", width, n, line)
			}
		}
	}
}
