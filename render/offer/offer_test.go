package offer

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	leste "leste"
	"leste/job"
	q "leste/quantity"
	"leste/render/quote"
	"leste/render/words"
	"leste/station"
)

// sample is a can line with one station and a map of the water left. No relations and no air side are needed.
func sample(t testing.TB, name string) (*quote.Input, quote.Terms) {
	t.Helper()
	file, problems := job.Load("job.yaml", []byte(`leste: 1
job: `+name+`
formats:
  - { name: 330 mL, container: { family: can, size: 330 standard }, fill_mass: 330 g }
stations:
  - name: drier
    outlets:
      - { name: left knife, kind: air knife, side: left, height: 68 mm, stand_off: 40 mm, tilt: 20 deg, length: 320 mm, slot_gap: 1.2 mm, plenum_pressure: 20 kPa }
      - { name: right knife, kind: air knife, side: right, height: 68 mm, stand_off: 40 mm, tilt: 20 deg, length: 320 mm, slot_gap: 1.2 mm, plenum_pressure: 20 kPa }
`))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	filled := job.Clone(file.Job)
	job.Fill(filled)
	plan, problems := station.Resolve(filled, station.ResolveOptions{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	w, err := words.New("en", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	s := plan.Formats[0].Body.Surface
	m := &leste.Map{Rows: s.Rows, Cols: s.Cols, Title: "330 mL", S: make([]float64, s.Rows+1), Radius: make([]float64, s.Rows), Zone: make([]string, s.Rows), Water: make([]float64, s.Rows*s.Cols)}
	for r := range s.Rows {
		m.S[r+1] = m.S[r] + s.StepS[r]
		m.Radius[r] = math.Hypot(s.Pos[r*s.Cols].X, s.Pos[r*s.Cols].Y)
		m.Zone[r] = s.Zones[s.Zone[r*s.Cols]]
		for c := range s.Cols {
			m.Water[r*s.Cols+c] = 0.02 * math.Abs(math.Sin(float64(r+c)/9))
		}
	}
	band := q.Band{Likely: 263e-6, Low: 101e-6, High: 640e-6}
	r := &leste.Result{Job: filled.Name, Verdict: leste.Undecided, Evidence: leste.Calculated, Formats: []leste.FormatResult{{
		Name: "330 mL", Verdict: leste.Undecided, Case: "nominal", Speed: 0.7, Pitch: 0.08, Container: band, Map: m,
		Zones: []leste.ZoneResult{{Name: "all", Left: band, Cause: "drops", Requirements: []leste.RequirementResult{{Machine: "packer", Quantity: "mass", Limit: 300e-6, Value: band, Verdict: leste.Undecided, Reserve: 1.14, Case: "nominal"}}}},
	}}}
	terms := quote.Terms{Kind: "budget", Number: "Q-7", Date: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Currency: "EUR", Items: []quote.Item{{Name: "Air knife", Quantity: 2, Cost: 1133.17, Price: 1985}}}
	return &quote.Input{Job: filled, Result: r, Plan: plan, Words: w, Offer: terms.Offer()}, terms
}

func TestLawPapersAreTheSameBytesInTheSameOrder(t *testing.T) {
	in, terms := sample(t, "Can line")
	first, _, err := Files(in, terms)
	if err != nil {
		t.Fatal(err)
	}
	again, _, err := Files(in, terms)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	total := 0
	for i, f := range first {
		names = append(names, f.Name)
		total += len(f.Data)
		if f.Name != again[i].Name || !bytes.Equal(f.Data, again[i].Data) {
			t.Errorf("two writings of %s differ", f.Name)
		}
	}
	want := []string{
		"quotation.pdf", "quotation.html", "set-up.pdf", "acceptance.pdf", "acceptance.csv", "risk-notes.pdf", "survey.pdf", "lists.xlsx", "list-parts.csv", "list-others-supply.csv", "list-settings.csv", "list-upkeep.csv",
		"drawing-330-ml-drier.svg", "drawing-330-ml-drier.dxf", "drawings.pdf", "station-330-ml-drier.glb", "internal-costs.pdf", "fonts-licence.txt",
	}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Error(diff)
	}
	if total > 5<<20 {
		t.Errorf("the papers of one format take %d bytes", total)
	}
}

func TestLawWithoutCostsThereIsNoInternalSheet(t *testing.T) {
	in, terms := sample(t, "Can line")
	terms.Items[0].Cost = 0
	files, _, err := Files(in, terms)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if strings.HasPrefix(f.Name, "internal") {
			t.Errorf("%s is written", f.Name)
		}
	}
}

func TestLawALetterThatNoFontHasIsSaidOnce(t *testing.T) {
	in, terms := sample(t, `"Can line \u6c34"`)
	_, warnings, err := Files(in, terms)
	if err != nil {
		t.Fatal(err)
	}
	if len(warnings) != 1 || !strings.Contains(warnings[0], "U+6C34") || !strings.HasPrefix(warnings[0], "quotation.pdf") {
		t.Errorf("warnings %q", warnings)
	}
}

func TestLawNamesOfFilesAreSafeAndDiffer(t *testing.T) {
	given := []string{"../../etc", "A b", "a/b", "", "\u6c34", strings.Repeat("x", 300)}
	got := unique(len(given), func(i int) string { return given[i] })
	want := []string{"etc", "a-b", "a-b-2", "unnamed", "unnamed-2", strings.Repeat("x", 60)}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func BenchmarkFiles(b *testing.B) {
	in, terms := sample(b, "Can line")
	for b.Loop() {
		if _, _, err := Files(in, terms); err != nil {
			b.Fatal(err)
		}
	}
}
