package typeface

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The widths that the PDF specification's standard sans-serif has; the family is made to match them.
func TestReferenceWidths(t *testing.T) {
	// Source: Adobe Core 14 AFM, Helvetica: A 667, i 222, space 278, 0 556 thousandths of an em.
	// Tolerance: the family rounds to 1/2048 em.
	for r, want := range map[string]float64{"A": 0.667, "i": 0.222, " ": 0.278, "0": 0.556} {
		if got := Regular.Width(r, 1); math.Abs(got-want) > 0.5/1000+1.0/2048 {
			t.Errorf("width of %q = %.4f em, want %.3f", r, got, want)
		}
	}
}

func TestLawEveryWordOfTheDocumentsCanBeSet(t *testing.T) {
	const needed = "äöüÄÖÜßéèç ØøµΩ°±≤≥≈×·÷→←–—…’“”„²³½□●■▲€£"
	for f := range faces {
		if missing := f.Missing(needed); len(missing) > 0 {
			t.Errorf("face %d lacks %q", f, string(missing))
		}
	}
}

func TestLawMissingLettersAreNamedOnceAndReplaced(t *testing.T) {
	if diff := cmp.Diff([]rune("山水"), Regular.Missing("山 a 水 山")); diff != "" {
		t.Error(diff)
	}
	if got := Regular.Replace("山 a"); got != "□ a" {
		t.Errorf("got %q", got)
	}
}

func TestLawWrapKeepsEveryLetterAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zA-Z0-9 /_-]{0,120}`).Draw(t, "text")
		width := rapid.Float64Range(4, 60).Draw(t, "width")
		lines := Regular.Wrap(text, 3, width)
		for _, line := range lines {
			if Regular.Width(line, 3) > width+1e-9 && len([]rune(line)) > 1 {
				t.Fatalf("line %q is %.2f wide, column %.2f", line, Regular.Width(line, 3), width)
			}
		}
		strip := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if strip(strings.Join(lines, "")) != strip(text) {
			t.Fatalf("letters lost: %q from %q", lines, text)
		}
	})
}

func TestLawFitNeverOverflows(t *testing.T) {
	for _, width := range []float64{3, 10, 25, 60} {
		const name = "Sidewall and seam of a 330 mL can before a packer"
		for _, got := range []string{Bold.Fit(name, 3, width), Bold.FitEnds(name, 3, width)} {
			if Bold.Width(got, 3) > width {
				t.Errorf("%q is wider than %g", got, width)
			}
		}
	}
	if got := Bold.FitEnds("Sidewall and seam, variant 12", 3, 30); !strings.HasPrefix(got, "Sidewall") || !strings.HasSuffix(got, "12") || !strings.Contains(got, "…") {
		t.Errorf("the ends are lost: %q", got)
	}
}

func TestLawAUnitIsNotBroken(t *testing.T) {
	for _, text := range []string{"20\u00a0g/m²", "6.6\u00a0kW/(m³/min)", "12\u00a0m/s", "4430\u00a0ft/min", "0.9\u00a0Btu/(h"} {
		if whole := pieces(text); len(whole) != 1 {
			t.Errorf("%q may be broken as %q", text, whole)
		}
	}
	if two := pieces("Frischwasser/Kaltnebel"); len(two) != 2 || two[0] != "Frischwasser/" {
		t.Errorf("words may be broken as %q", two)
	}
}
