package study

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	leste "leste"
	"leste/design"
	q "leste/quantity"
	"leste/render/text"
)

func TestLawOptionsAreWrittenWithWhatIsUnknown(t *testing.T) {
	water := q.Band{Likely: 4e-4, Low: 2e-4, High: 9e-4}
	r := &leste.Result{Verdict: leste.Undecided, Formats: []leste.FormatResult{{
		Name: "can", Container: water, Zones: []leste.ZoneResult{{Name: "sidewall", Left: water}},
	}}}
	rows := []design.Row{
		{Name: "as the job stands", Result: r, Format: "can", Machine: "packer", Water: water, Reserve: 1.2, Stands: math.Inf(1), Grid: q.Power(math.NaN()), Cost: math.NaN(), Sound: 88},
		{Name: "proposal received", Problem: "the outlet \"left\" stands in the way", Reserve: math.NaN(), Stands: math.NaN(), Grid: q.Power(math.NaN()), Cost: math.NaN(), Sound: q.SoundLevel(math.NaN())},
	}
	table := Options(rows, text.Style{Units: q.SI})
	for _, want := range []string{"sidewall", "400 mg (200 mg to 900 mg)", "1.20", "88 dB", "stands in the way", "nothing pushes"} {
		if !strings.Contains(table, want) {
			t.Errorf("%q is missing in\n%s", want, table)
		}
	}
	for line := range strings.Lines(table) {
		if n := len([]rune(strings.TrimRight(line, "\n"))); n > 100 {
			t.Errorf("%d characters: %s", n, line)
		}
	}
	document, err := OptionsJSON(rows)
	if err != nil {
		t.Fatal(err)
	}
	var back struct {
		Options []struct {
			Name  string   `json:"name"`
			Grid  *float64 `json:"grid_w"`
			Water *struct {
				Likely float64 `json:"likely"`
			} `json:"container_mg"`
			Problem *string `json:"problem"`
		} `json:"options"`
	}
	if err := json.Unmarshal(document, &back); err != nil {
		t.Fatal(err)
	}
	first, second := back.Options[0], back.Options[1]
	if first.Grid != nil || first.Water == nil || math.Abs(first.Water.Likely-400) > 1e-6 || first.Problem != nil || second.Water != nil || second.Problem == nil {
		t.Errorf("%s", document)
	}
}
