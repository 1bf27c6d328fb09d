package catalogue

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// Nothing told a user how a list of own parts is written, but its errors. The page names every column, those that must be
// there in bold, and its examples are read.
func TestLawThePageOfPartsTellsEveryColumn(t *testing.T) {
	text, err := os.ReadFile("../docs/parts.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lists() {
		columns := slices.Clone(l.columns)
		for i, c := range columns {
			if slices.Contains(l.needed, c) {
				columns[i] = "**" + c + "**"
			}
		}
		if row := "| " + l.name + " | " + strings.Join(columns, ", ") + " |"; !strings.Contains(string(text), row) {
			t.Errorf("the page has no line %q", row)
		}
	}
	read := 0
	for i, block := range strings.Split(string(text), "```") {
		if i%2 == 0 {
			continue
		}
		name, body := "blowers.csv", strings.TrimPrefix(block, "\n")
		if after, yaml := strings.CutPrefix(block, "yaml\n"); yaml {
			name, body = "parts.yaml", after
		}
		var into Parts
		for _, err := range ReadParts(name, []byte(body), &into) {
			t.Error(err)
		}
		read += len(into.Blowers)
	}
	if read != 2 {
		t.Errorf("%d blowers in the examples, want 2", read)
	}
}
