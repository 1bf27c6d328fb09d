package quote

import (
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	q "leste/quantity"
	"leste/render/document"
)

// The cover was silent of containers that tip, and told a requirement that is met as one that is not.
func TestLawTheCoverNamesAllThatIsNotMet(t *testing.T) {
	r := result(2, short)
	r.Verdict = leste.NotMet
	r.Formats[1].Exceeded = []string{"the pressure of the air at the zone seam is 900 Pa, its limit is 500 Pa (foil)"}
	x := &r.Formats[1].Zones[0].Requirements[0]
	x.Verdict, x.Reserve, x.Value = leste.NotMet, 0.997, q.Band{Likely: 301e-6, Low: 101e-6, High: 640e-6}
	c := Quotation(input(t, r, "en")).Cover
	answer := strings.ReplaceAll(c.Answer, "\u00a0", " ")
	for _, want := range []string{"do not stand: can 0 (tip, resistance over push 0.73)", "A limit of the air is passed: can 1", "301 (101 to 640) mg; at most 300 mg", "Louder than allowed: 91.3 dB"} {
		if !strings.Contains(answer, want) {
			t.Errorf("the cover lacks %q: %s", want, answer)
		}
	}
	if first := strings.Index(answer, "do not stand"); first > strings.Index(answer, "301") {
		t.Error("what falls is not told first")
	}
	if c.Points[0].Value != "0.997" {
		t.Errorf("the reserve of what is not met reads %s", c.Points[0].Value)
	}
	for i := range r.Formats {
		for k := range r.Formats[i].Zones {
			r.Formats[i].Zones[k].Requirements[0].Verdict = leste.Met
		}
	}
	if answer := Quotation(input(t, r, "en")).Cover.Answer; strings.Contains(answer, "This requirement is not met") {
		t.Errorf("a requirement that is met is told as not met: %s", answer)
	}
}

func TestLawTheYearIsCalledWhatItHolds(t *testing.T) {
	in := input(t, result(1, short), "en")
	if got := in.yearHolds(); got != "electricity" {
		t.Errorf("without prices of upkeep it holds %s", got)
	}
	in.Result.Cost.Year = &leste.RunningCost{Electricity: 4000, Filters: 300, Demand: 200}
	if got := in.yearHolds(); got != "electricity, its demand charge and upkeep" {
		t.Errorf("it holds %s", got)
	}
}

// Shares of rejects stood under "Water left".
func TestLawRejectsStandUnderTheirOwnHeading(t *testing.T) {
	for _, b := range Quotation(input(t, result(1, short), "en")).Blocks {
		if table, ok := b.(document.Table); ok && len(table.Columns) == 8 && table.Columns[7].Head == "Case" {
			for _, row := range table.Rows {
				if rejects := strings.Contains(row[3].Text, "%"); rejects != (table.Columns[3].Head == "Rejects") {
					t.Errorf("%q stands under %q", row[3].Text, table.Columns[3].Head)
				}
			}
		}
	}
}

// A limit that a search allowed stood under what was asked, as if the customer had given it.
func TestLawALimitThatASearchAllowedIsNotToldAsAsked(t *testing.T) {
	for language, want := range map[string]string{"en": "Nobody gave the limit for: tray packer", "de": "Die Grenze nannte niemand für: tray packer"} {
		for _, search := range []bool{true, false} {
			in := input(t, result(1, short), language)
			in.Job.Next = []job.NextMachine{{Machine: "packer", Name: "tray packer", Requires: []job.Requirement{{Zone: job.ZoneAll, Mass: q.Known(q.Mass(240e-6)), Search: search}}}}
			if got := in.bySearch(); strings.HasPrefix(got, want) != search || !search && got != "" {
				t.Errorf("%s, by a search %v: %q", language, search, got)
			}
		}
	}
}
