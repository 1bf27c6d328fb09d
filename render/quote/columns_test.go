package quote

import (
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	leste "leste"
	"leste/render/document"
	"leste/render/words"
)

// tables are the tables of a paper.
func tables(d *document.Document) []document.Table {
	var out []document.Table
	for _, b := range d.Blocks {
		if t, ok := b.(document.Table); ok {
			out = append(out, t)
		}
	}
	return out
}

// quickly is how examples are assessed where their papers matter and their levels do not.
var quickly = leste.Options{Method: "quick", Cell: 8e-3, Nominal: true, NoRanking: true}

// examples visits the input of every example's papers.
func examples(t *testing.T, visit func(t *testing.T, in *Input)) {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, path := range files {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".yaml"), func(t *testing.T) {
			t.Parallel()
			visit(t, answered(t, path, quickly))
		})
	}
}

// sized is what a cell holds: a number or a band with its unit.
var sized = regexp.MustCompile(`^[-−+]?[\d.,]+(?: \([^)]*\d[^)]*\))? (mg|g|kg|oz|lb|g/s|kg/s|mm|cm|m|in|ft|Pa|kPa|bar|psi|inH2O|W|kW|hp|mN|N|lbf)$`)

// families are the units of one kind.
var families = []string{"mg|g|kg|oz|lb", "g/s|kg/s", "mm|cm|m|in|ft", "Pa|kPa|bar|psi|inH2O", "W|kW|hp", "mN|N|lbf"}

// Containers of one table weighed ounces and pounds.
func TestLawAColumnHasOneUnitForEachKind(t *testing.T) {
	examples(t, func(t *testing.T, in *Input) {
		for _, units := range []words.Units{words.SI, words.US} {
			w, err := words.New("en", units)
			if err != nil {
				t.Fatal(err)
			}
			in.Words = w.Naming(Names(in.Job)...)
			for _, table := range tables(Quotation(in)) {
				if c := table.Caption; c == in.Words.T("assumed.table") || c == in.Words.T("notes.table") {
					continue // of all sorts of things
				}
				for column := range table.Columns {
					seen := map[string]string{}
					for _, row := range table.Rows {
						m := sized.FindStringSubmatch(strings.ReplaceAll(row[column].Text, unit, " "))
						if m == nil {
							continue
						}
						for _, family := range families {
							if !strings.Contains("|"+family+"|", "|"+m[1]+"|") {
								continue
							}
							if before := seen[family]; before != "" && before != m[1] {
								t.Errorf("%s, %q, %q: %s beside %s", units, table.Caption, table.Columns[column].Head, m[1], before)
							}
							seen[family] = m[1]
						}
					}
				}
			}
		}
	})
}

// first reads the first number of a cell.
func first(t *testing.T, cell string) float64 {
	t.Helper()
	number, _, _ := strings.Cut(strings.ReplaceAll(cell, ",", "."), unit)
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatalf("%q is no number: %v", cell, err)
	}
	return x
}

// The inlet was left out of where the pressure goes, and the shares summed to anything.
func TestLawWhereThePressureGoesSumsToTheRise(t *testing.T) {
	examples(t, func(t *testing.T, in *Input) {
		if len(in.Result.Air.Blowers) == 0 {
			t.Skip("no blower")
		}
		for _, units := range []words.Units{words.SI, words.US} {
			in.Words.Units = units
			found := 0
			for _, table := range tables(Quotation(in)) {
				if table.Caption != in.Words.T("air.losses") {
					continue
				}
				loss, share := 0.0, 0.0
				for _, row := range table.Rows {
					if row[0].Tone != document.Strong {
						loss, share = loss+first(t, row[1].Text), share+first(t, row[2].Text)
						continue
					}
					found++
					rise := first(t, row[1].Text)
					if math.Abs(loss/rise-1) > 0.01 { // three digits of each
						t.Errorf("%s: %s: the parts sum to %g, the rise is %g", units, row[0].Text, loss, rise)
					}
					if math.Abs(share-100) > 1.5 { // two digits of each
						t.Errorf("%s: %s: the shares sum to %g %%", units, row[0].Text, share)
					}
					loss, share = 0, 0
				}
			}
			if found != len(in.Result.Air.Blowers) {
				t.Errorf("%s: %d sums for %d blowers", units, found, len(in.Result.Air.Blowers))
			}
		}
	})
}
