package accept

import (
	"testing"

	"leste/render/words"
)

// Whatever a judgement may say of a cause is known in German.
func TestLawCausesAreInEveryLanguage(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rules {
		for _, text := range []string{r.text, r.do} {
			if said, ok := w.Said(text); !ok || said == text {
				t.Errorf("%s: %q is not in the table", r.code, text)
			}
		}
	}
}
