package calc

import (
	"os"
	"testing"
)

func TestLawRelationsPageIsCurrent(t *testing.T) {
	got, err := os.ReadFile("../docs/relations.md")
	if err != nil || string(got) != RelationsPage() {
		t.Errorf("docs/relations.md does not say what the cards say (%v); run make generate", err)
	}
}
