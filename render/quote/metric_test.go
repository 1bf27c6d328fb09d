package quote

import (
	"regexp"
	"strings"
	"testing"

	"leste/render/words"
)

// blank is where a row takes what changes, with what stands behind it.
var blank = regexp.MustCompile(`%(\[\d\])?s`)

// Rows whose places are numbers before a unit kept it metric in German.
func TestLawEveryRowWithAMetricUnitFollowsTheUnits(t *testing.T) {
	si, err := words.New("en", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for _, key := range si.Keys() {
		if !strings.HasPrefix(key, "say.") {
			continue
		}
		english := strings.ReplaceAll(blank.ReplaceAllString(si.T(key), "12.5"), "%%", "%")
		if !metric.MatchString(english) || kept.MatchString(english) {
			continue
		}
		looked++
		for _, language := range []string{"en", "de"} {
			w, err := words.New(language, words.US)
			if err != nil {
				t.Fatal(err)
			}
			said, ok := w.Said(english)
			if found := metric.FindString(strings.ReplaceAll(said, unit, " ")); !ok || found != "" {
				t.Errorf("%s, %s: %q is left in %q", language, key, found, said)
			}
		}
	}
	if looked < 20 {
		t.Errorf("only %d rows were looked at", looked)
	}
}

// What stands in the places of a row kept its units where nobody knew it: "about 12.5 cm".
func TestLawWhatFillsARowFollowsTheUnits(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w, err := words.New(language, words.US)
		if err != nil {
			t.Fatal(err)
		}
		w = w.Naming("600 mm knife")
		for _, filling := range []string{"12.5 mm", "12.5 cm", "50 um", "2 to 5 mm", "about 12.5 mm", "3 m3/min", "1.2 kg/m3", "at most 12.5 kPa", "1.5 kPa (at 20 degC)"} {
			for _, sentence := range []string{"%s: the jets are separate and wipe in stripes", "Most of the pressure lost on the way goes in %s (12 %% of the blower's rise)."} {
				english := strings.ReplaceAll(strings.ReplaceAll(sentence, "%s", filling), "%%", "%")
				said := strings.ReplaceAll(w.Say(english), unit, " ")
				if found := metric.FindString(said); found != "" {
					t.Errorf("%s: %q is left in %q", language, found, said)
				}
			}
		}
		if said := w.Say("500 mm manifold: the jets are separate and wipe in stripes"); !strings.HasPrefix(said, "500 mm manifold: ") {
			t.Errorf("%s: what may be a name is converted: %q", language, said)
		}
		if said := w.Say("600 mm knife: the jets are separate and wipe in stripes"); !strings.HasPrefix(said, "600 mm knife: ") {
			t.Errorf("%s: a name is converted: %q", language, said)
		}
	}
}
