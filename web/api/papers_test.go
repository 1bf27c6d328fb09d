package api

import "testing"

func TestLawEveryPaperHasATitle(t *testing.T) {
	for name, want := range map[string]string{
		"quotation.pdf": "Quotation", "list-others-supply.csv": "List: others supply", "lists.xlsx": "All lists",
		"drawing-small-can-only.svg": "Drawing: small can only", "station-a-b.glb": "Model in space: a b", "new-kind.txt": "new-kind",
	} {
		if got := titleOf(name); got != want {
			t.Errorf("%s is called %q, not %q", name, got, want)
		}
	}
}
