package drying

import (
	"flag"
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the table of docs/methods.md anew")

// nothingToTell is an amount that a table of tens need not be true to, g/m2.
const nothingToTell = 0.02

// The table of docs/methods.md is our own last output, no validation; go test ./drying -run Frozen -update writes it
// anew. Its figures are printed to two digits: 5 %.
func TestFrozenTableOfTheTwoMethods(t *testing.T) {
	const page = "../docs/methods.md"
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(text), "<!-- flat wall -->\n")
	if !found {
		t.Fatal("the page has lost its table")
	}
	table, _, _ := strings.Cut(after, "\n\nWhere")
	speeds := []float64{0.3, 1, 2}
	var rows strings.Builder
	rows.WriteString("\n| receding angle | 0.3 m/s | 1 m/s | 2 m/s |\n|---|---|---|---|")
	var want []float64
	for _, wall := range []struct{ advancing, receding float64 }{{38, 8}, {80, 40}, {80, 50}, {100, 82}} {
		fmt.Fprintf(&rows, "\n| %g° |", wall.receding)
		for _, u := range speeds {
			followed, closed := scatteredLeft(t, wall.advancing, wall.receding, u)
			want = append(want, followed, closed)
			fmt.Fprintf(&rows, " %s / %s |", twoDigits(followed), twoDigits(closed))
		}
	}
	if *update {
		if err := os.WriteFile(page, []byte(strings.Replace(string(text), table, rows.String(), 1)), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	figure := regexp.MustCompile(`([0-9.]+) / ([0-9.]+)`)
	var got []float64
	for _, m := range figure.FindAllStringSubmatch(table, -1) {
		for _, s := range m[1:] {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, x)
		}
	}
	if len(got) != len(want) {
		t.Fatalf("the table has %d figures, want %d", len(got), len(want))
	}
	for i := range want {
		if diff := math.Abs(got[i] - want[i]); diff > max(0.05*want[i], nothingToTell) {
			t.Errorf("figure %d of the table is %g, the methods give %.4g", i+1, got[i], want[i])
		}
	}
}

func twoDigits(x float64) string {
	digits := 1 - int(math.Floor(math.Log10(x)))
	scale := math.Pow10(digits)
	return strconv.FormatFloat(math.Round(x*scale)/scale, 'f', max(0, digits), 64)
}
