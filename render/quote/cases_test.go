package quote

import (
	"strings"
	"testing"

	leste "leste"
	"leste/job"
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
			{Name: "loaded filter", Format: "can", Reserve: 1.1},
			{Name: "restart", Format: "can", Reserve: 1.2, Notes: []string{stood}},
			{Name: "restart", Format: "other", Reserve: 1.3, Notes: []string{stood, coarse}},
			{Name: "surge", Format: "can", Reserve: 1.4, Notes: []string{coarse}},
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

// A German quotation of a found station told which outlet is blocked, that it has no number and the scales of frames in
// English, and scales in inches whatever its units.
func TestLawAGermanQuotationSaysWhatAFoundStationBringsAlong(t *testing.T) {
	in := input(t, result(1, short), "de")
	in.Words = in.Words.Naming("infeed knife")
	for text, want := range map[string]string{
		"infeed knife blocked": "infeed knife blockiert", "infeed knife blocked, loaded filter": "infeed knife blockiert, beladener Filter",
		"infeed knife blocked: blower: it would run at 0.1742 m3/s, below the least flow of the curve (0.2062 m3/s); open more outlets, choose a smaller machine or bleed air": "infeed knife blockiert: Gebläse: es liefe bei",
	} {
		if got, _ := in.Words.Said(text); !strings.HasPrefix(got, want) {
			t.Errorf("%q is said %q, want %q", text, got, want)
		}
	}
	if got := (Offer{Number: draft}).In(in.Words).Label(); got != "Entwurf" {
		t.Errorf("an offer without a number is %q", got)
	}
	if got := (Offer{Number: "A-17"}).In(in.Words).Label(); got != "A-17" {
		t.Errorf("an offer with a number is %q", got)
	}
	scales := axes(in, job.Frame{Axes: []job.Axis{{Axis: "height", Low: "-0.8 in", High: "2 in", Step: "0.1 in"}, {Axis: "tilt", Low: "0 deg", High: "30 deg", Step: "1 deg"}}})
	if got, want := strings.ReplaceAll(scales, "\u00a0", " "), "Höhe von −20,3 mm bis 50,8 mm, Teilung 2,54 mm; Neigung von 0° bis 30°, Teilung 1°"; got != want {
		t.Errorf("scales are %q, want %q", got, want)
	}
}
