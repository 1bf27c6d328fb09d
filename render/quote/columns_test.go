package quote

import (
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	leste "leste"
	q "leste/quantity"
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

// measure is what a cell holds: a number or a band with its unit.
var measure = regexp.MustCompile(`^[-−+]?[\d.,]+(?: \([^)]*\d[^)]*\))? (mg|g|kg|oz|lb|g/s|kg/s|mm|cm|m|in|ft|Pa|kPa|bar|psi|inH2O|W|kW|hp|mN|N|lbf)$`)

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
						m := measure.FindStringSubmatch(strings.ReplaceAll(row[column].Text, unit, " "))
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

// What a result says about its own validity must reach the customer: not every note of the assessment stood in the paper.
func TestLawEveryNoteOfTheResultReachesThePaper(t *testing.T) {
	examples(t, func(t *testing.T, in *Input) {
		full, err := leste.Assess(t.Context(), loaded(t, "../../examples/"+strings.TrimPrefix(t.Name(), "TestLawEveryNoteOfTheResultReachesThePaper/")+".yaml"), leste.Options{Method: "quick", Cell: 8e-3, NoRanking: true})
		if err != nil {
			t.Fatal(err)
		}
		in.Result = full
		in.Result.Stops = append(in.Result.Stops, "first reason, so nothing is promised.", "second reason, so nothing is promised.")
		w, err := words.New("en", words.SI)
		if err != nil {
			t.Fatal(err)
		}
		in.Words = w
		var all []string
		texts(reflect.ValueOf(Quotation(in).Blocks), &all)
		paper := strings.ToLower(strings.ReplaceAll(strings.Join(all, "\n"), unit, " "))
		reaches := func(what, text string) {
			said := in.Words.Say(strings.TrimSuffix(text, "."))
			for _, f := range in.Result.Formats { // what is said of all formats is said once
				said = strings.TrimPrefix(said, f.Name+": ")
			}
			if said = strings.ReplaceAll(said, unit, " "); !strings.Contains(paper, strings.ToLower(said)) {
				t.Errorf("%s %q does not reach the quotation", what, text)
			}
		}
		for _, n := range full.Notes {
			reaches("note", n.Text)
		}
		for _, s := range full.Stops {
			reaches("stop", s)
		}
		for _, s := range full.Cautions {
			reaches("caution", s)
		}
		for _, x := range full.Air.Worst {
			reaches("worst case of the air", x.Case)
		}
		for _, f := range full.Formats {
			for _, e := range f.Exceeded {
				reaches("limit", e)
			}
		}
	})
}

// The list of parts lacked the drive and the switches that the electrical list speaks of.
func TestLawWhatTheElectricalListSpeaksOfIsAPart(t *testing.T) {
	var devices atomic.Int32
	examples(t, func(t *testing.T, in *Input) {
		parts := in.parts().Rows
		for _, x := range in.Loads {
			for _, d := range x.Devices {
				devices.Add(1)
				if !slices.ContainsFunc(parts, func(row []any) bool {
					return row[0] == sentence(in.Words.Say(d.Name)) && row[1] == in.blower(x.Blower)
				}) {
					t.Errorf("%s of %s is no part", d.Name, x.Blower)
				}
			}
			for _, n := range x.Notes {
				if said := sentence(in.Words.Say(n)); !strings.Contains(fmt.Sprint(in.loads().Rows), said) {
					t.Errorf("the electrical list lacks %q", said)
				}
			}
		}
	})
	t.Cleanup(func() {
		if n := devices.Load(); n < 20 {
			t.Errorf("only %d devices were looked at", n)
		}
	})
}

// metric are units that a paper in US units has no figures in; water stays in grams, electricity in kilowatts, and levels
// of sound at a metre.
var metric = regexp.MustCompile(`\d\s?(°C|degC|K|µm|um|mm|cm|m|m/s|kg/s|g/s|m³/s|m3/s|m³/min|m³/h|m3/h|kPa|Pa|mbar|bar|kg|N|kg/m³|l/h|l)([^\pL\d²³/·]|$)`)

// Sentences kept metric figures in papers in US units, the German ones more of them.
func TestLawPapersInUSUnitsHaveNoMetricFigures(t *testing.T) {
	examples(t, func(t *testing.T, in *Input) {
		name := strings.TrimPrefix(t.Name(), "TestLawPapersInUSUnitsHaveNoMetricFigures/")
		full, err := leste.Assess(t.Context(), loaded(t, "../../examples/"+name+".yaml"), leste.Options{Method: "quick", Cell: 8e-3, NoRanking: name != "as-found-speed-up"})
		if err != nil {
			t.Fatal(err)
		}
		in.Result = full
		for _, language := range []string{"en", "de"} {
			w, err := words.New(language, words.US)
			if err != nil {
				t.Fatal(err)
			}
			in.Words = w.Naming(Names(loaded(t, "../../examples/"+name+".yaml"))...)
			for _, text := range allTexts(in) {
				for line := range strings.SplitSeq(text, "\n") {
					rest := strings.ReplaceAll(without(line, own(in.Job)), unit, " ")
					if found := metric.FindString(rest); found != "" && !kept.MatchString(rest) {
						t.Errorf("%s: %q in %q", language, found, line)
					}
				}
			}
		}
	})
}

// kept is where metric figures stay: the sound at a metre, references of levels, and what sources say.
var kept = regexp.MustCompile(`\b1 m\b|re 1 pW|µPa|\(\d{4}\)|published|veröffentlicht|re-derived|neu hergeleitet|ISO|IEC`)

// A limit on drops read 500 µm beside drops in millimetres.
func TestLawDropsAndTheirLimitsAreInOneUnit(t *testing.T) {
	in := input(t, result(1, short), "en")
	x := leste.RequirementResult{Quantity: "drop", Limit: 0.5e-3, Value: q.Band{Likely: 0.4e-3, Low: 0.3e-3, High: 0.6e-3}}
	for units, want := range map[words.Units][3]string{words.SI: {"0.5 mm", "0.40 (0.30 to 0.60) mm", "0.5 mm"}, words.US: {"0.0197 in", "0.016 (0.012 to 0.024) in", "0.0197 in"}} {
		in.Words.Units = units
		value, limit := in.against(x)
		for i, got := range []string{in.limit(x), value, limit} {
			if got = strings.ReplaceAll(got, unit, " "); got != want[i] {
				t.Errorf("%s: %q, want %q", units, got, want[i])
			}
		}
	}
}
