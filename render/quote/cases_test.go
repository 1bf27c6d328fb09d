package quote

import (
	"strings"
	"testing"

	leste "leste"
	"leste/render/document"
)

// The notes under the table of cases ran together in one paragraph, told what several cases share again and again, and
// did not say of which case they are.
func TestLawNotesOfCasesStandOnLinesOfTheirOwn(t *testing.T) {
	const stood, coarse = "the line stood for 60 s between the station and the next machine", "followed on cells twice as large, then moved as the case loaded filter was"
	for language, want := range map[string]string{
		"en": "(1) The line stood for 60 s between the station and the next machine.\n(2) Followed on cells twice as large, then moved as the case loaded filter was.",
		"de": "(1) Die Linie stand 60 s zwischen der Station und der nächsten Maschine.\n(2) Auf doppelt so großen Zellen verfolgt, dann verschoben wie der Fall beladener Filter.",
	} {
		in := input(t, result(1, short), language)
		in.Result.Cases = []leste.CaseResult{
			{Name: "loaded filter", Format: "can", Reserve: 1.1}, {Name: "restart", Format: "can", Reserve: 1.2, Notes: []string{stood}},
			{Name: "restart", Format: "other", Reserve: 1.3, Notes: []string{stood, coarse}}, {Name: "surge", Format: "can", Reserve: 1.4, Notes: []string{coarse}},
		}
		d := &document.Document{}
		in.cases(d)
		table, ok := d.Blocks[0].(document.Table)
		if !ok {
			t.Fatalf("%T is no table", d.Blocks[0])
		}
		if got := strings.ReplaceAll(table.Note, "\u00a0", " "); got != want {
			t.Errorf("%s: below the table\n%s\nwant\n%s", language, got, want)
		}
		for i, marks := range []string{"", " (1)", " (1) (2)", " (2)"} {
			name := table.Rows[i][0].Text
			if at := strings.Index(name, " ("); at < 0 && marks != "" || at >= 0 && name[at:] != marks {
				t.Errorf("%s: case %d is %q, want marks %q", language, i, name, marks)
			}
		}
	}
}
