package quote

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	leste "leste"
	"leste/render/document"
	"leste/render/words"
)

// fills returns how far down each page of a paper is written on, as a share of the room between head and foot.
func fills(t *testing.T, d *document.Document) []float64 {
	t.Helper()
	const point, top, bottom, foot = 25.4 / 72, 27.0, 273.0, 276.0 // mm
	var shares []float64
	for page := range strings.SplitSeq(extracted(t, d, "-bbox"), "<page ") {
		lowest := top
		for _, m := range lowerEdge.FindAllStringSubmatch(page, -1) {
			y, err := strconv.ParseFloat(m[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			if y*point < foot {
				lowest = max(lowest, y*point)
			}
		}
		shares = append(shares, (lowest-top)/(bottom-top))
	}
	return shares[1:] // what stands before the first page
}

var lowerEdge = regexp.MustCompile(`<word [^>]*yMax="([0-9.]+)"`)

// The second page of an acceptance held two rows of a table, since the forms began on a page of their own.
func TestLawNoPageOfTheFormsIsNearlyEmpty(t *testing.T) {
	const least = 0.4
	for _, language := range words.Languages() {
		for _, units := range []words.Units{words.SI, words.US, words.Both} {
			for _, n := range [][2]int{{1, 2}, {2, 4}, {3, 8}, {5, 1}, {8, 12}, {12, 2}, {12, 24}} {
				r := result(n[0], short)
				knife := r.Air.Outlets[0]
				r.Air.Outlets = nil
				for i := range n[1] {
					knife.Name = fmt.Sprintf("outlet %d", i+1)
					r.Air.Outlets = append(r.Air.Outlets, knife)
				}
				in := input(t, r, language)
				in.Words.Units = units
				for i, share := range fills(t, Acceptance(in)) {
					if share < least {
						t.Errorf("%s, %s, %d formats, %d outlets: page %d is filled to %.0f %%", language, units, n[0], n[1], i+1, 100*share)
					}
				}
				for i, share := range fills(t, SetUp(in)) { // its last page may be no more than half a list and the lines to sign
					if share < least/2 {
						t.Errorf("%s, %s, %d formats, %d outlets: page %d of the set-up sheet is filled to %.0f %%", language, units, n[0], n[1], i+1, 100*share)
					}
				}
			}
		}
	}
}

func TestLawTheFormOfReadingsHasARowForEachInstrument(t *testing.T) {
	r := result(1, short)
	r.Air.Outlets = nil
	for i := range 14 {
		r.Air.Outlets = append(r.Air.Outlets, leste.OutletResult{Name: fmt.Sprintf("outlet %d", i+1), Plenum: 20e3})
	}
	in := input(t, r, "en")
	text := read(t, Acceptance(in))
	for _, want := range []string{"outlet 14", "Motor current", "53.1 °C", "Sound level, air on", "91.3 dB", "Sound level, air off", "limit of 85 dB", "Containers on the sheet", "Gain of the whole sheet"} {
		if !strings.Contains(text, want) {
			t.Errorf("the form lacks %q", want)
		}
	}
}

// The second test of rejects was used and not told.
func TestLawTheAcceptanceTellsBothTestsOfRejects(t *testing.T) {
	for language, want := range map[string][]string{
		"en": {"Clopper and Pearson 1934", "Newcombe 1998, method 10", "hand-dried", "upper bound lies below the limit", "95 % confidence, one-sided"},
		"de": {"Clopper und Pearson 1934", "Newcombe 1998, Verfahren 10", "von Hand getrocknet", "obere Grenze unter dem Grenzwert", "einseitig mit 95 % Sicherheit"},
	} {
		text := strings.ReplaceAll(read(t, Acceptance(input(t, result(1, short), language))), "\u00a0", " ")
		for _, x := range want {
			if !strings.Contains(text, x) {
				t.Errorf("%s: the paper lacks %q", language, x)
			}
		}
	}
}
