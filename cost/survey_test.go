package cost

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	q "leste/quantity"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.9g, want %.9g +- %.2g", what, got, want, tolerance)
	}
}

func survey(t *testing.T, text string) SurveyResult {
	t.Helper()
	r, err := Survey(context.Background(), ReadSurvey(strings.NewReader(text)), SurveyTerms{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestLawSurveyRanksAndGoesOnAfterWrongRows(t *testing.T) {
	r := survey(t, `tag,bore,slot,length,pressure,hours,shifts,count,purpose
P1,4 mm,,,4 bar,2000 h,2,3,blow off cans
P2,,0.1 mm,300 mm,5 bar,6000 h,,1,dry caps
bad pressure,4 mm,,,4,2000 h,1,1,
,4 mm,,,4 bar,2000 h,1,1,
bad count,4 mm,,,4 bar,2000 h,1,x,
too long,4 mm,,,4 bar,5000 h,3,1,
nothing,,,,4 bar,5000 h,1,1,
"broken,4 mm
P3,2 mm,,,5 bar,1000 h,1,1,
`)
	if len(r.Rows) != 2 {
		t.Fatalf("%d rows done, want 2 (the open quotation mark swallows the last)", len(r.Rows))
	}
	if r.Rows[0].Saving.Likely < r.Rows[1].Saving.Likely {
		t.Error("the rows are not ranked by saving")
	}
	want := []struct {
		line   int
		column string
	}{{4, "pressure"}, {5, "tag"}, {6, "count"}, {7, "hours"}, {8, "bore"}, {9, ""}}
	if len(r.Wrong) != len(want) {
		t.Fatalf("%d wrong rows, want %d: %v", len(r.Wrong), len(want), r.Wrong)
	}
	for i, w := range want {
		var e *RowError
		if !errors.As(r.Wrong[i], &e) || e.Line != w.line || e.Column != w.column {
			t.Errorf("wrong row %d: got %v, want line %d %s", i, r.Wrong[i], w.line, w.column)
		}
	}
	if !(r.Cost.Low < r.Cost.Likely && r.Cost.Likely < r.Cost.High) || !(r.Saving.Low < r.Saving.Likely) {
		t.Error("the totals have no bands")
	}
}

func TestLawSurveyRefusesHeadings(t *testing.T) {
	for _, text := range []string{"", "tag,pressure\n", "tag,colour,pressure,hours\n", "tag,tag,pressure,hours\n"} {
		r := survey(t, text)
		if len(r.Wrong) != 1 {
			t.Errorf("%q: got %v, want one error", text, r.Wrong)
		}
	}
}

// Twice the openings cost twice; twice the hours cost twice.
func TestLawSurveyScales(t *testing.T) {
	one := survey(t, "tag,bore,pressure,hours,count\nA,4 mm,4 bar,1000 h,1\n").Rows[0]
	count := survey(t, "tag,bore,pressure,hours,count\nA,4 mm,4 bar,1000 h,2\n").Rows[0]
	hours := survey(t, "tag,bore,pressure,hours,count\nA,4 mm,4 bar,2000 h,1\n").Rows[0]
	near(t, "twice the count", count.Cost.Likely, 2*one.Cost.Likely, 1e-9)
	near(t, "twice the hours", hours.Cost.Likely, 2*one.Cost.Likely, 1e-9)
}

func TestLawSurveyStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Survey(ctx, ReadSurvey(strings.NewReader(list(3000))), SurveyTerms{})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want cancelled", err)
	}
	for _, bad := range []SurveyTerms{{Efficiency: 2}, {Blower: 1e6}, {Electricity: q.PricePerEnergy(math.NaN())}, {SpecificPower: -1}, {Leaks: 0.95}} {
		if _, err := Survey(context.Background(), ReadSurvey(strings.NewReader(list(1))), bad); err == nil {
			t.Errorf("terms %+v were accepted", bad)
		}
	}
}

func list(rows int) string {
	var b strings.Builder
	b.WriteString("tag,bore,pressure,hours,shifts,count,purpose\n")
	for i := range rows {
		fmt.Fprintf(&b, "T%d,%d.5 mm,%d bar,2000 h,%d,%d,blow off\n", i, 1+i%5, 2+i%5, 1+i%3, 1+i%7)
	}
	return b.String()
}

func BenchmarkSurvey100000(b *testing.B) {
	text := list(100_000)
	b.ResetTimer()
	for b.Loop() {
		r, err := Survey(context.Background(), ReadSurvey(strings.NewReader(text)), SurveyTerms{})
		if err != nil || len(r.Rows) != 100_000 {
			b.Fatal(err, len(r.Rows))
		}
	}
}

func FuzzReadSurvey(f *testing.F) {
	f.Add("tag,bore,pressure,hours\nA,4 mm,4 bar,1000 h\n")
	f.Add("tag;slot;length;pressure;hours\nA;0,1 mm;300 mm;4 bar;1000 h\n")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Survey(context.Background(), ReadSurvey(strings.NewReader(text)), SurveyTerms{})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range r.Rows {
			if math.IsNaN(row.Cost.Likely) || math.IsInf(row.Cost.Likely, 0) || row.Cost.Likely < 0 {
				t.Fatalf("%+v costs %g", row.BlowOff, row.Cost.Likely)
			}
		}
	})
}
