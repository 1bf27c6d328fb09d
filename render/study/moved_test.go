package study

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"leste/design"
	q "leste/quantity"
	"leste/render/text"
)

// A slot gap was told to bear 3.5 um, a plenum pressure 0 kPa: nobody sets or reads that.
func TestLawMovesAreToldAsTheyCanBeSet(t *testing.T) {
	gap := design.Break{Input: "slot gap of left knife", Kind: q.KindLength, Value: 1.5e-3, Move: 3.5e-6}
	high := design.Break{Input: "height of left knife", Kind: q.KindLength, Value: 0.11, Move: 15.6e-3}
	for _, k := range []struct {
		b      design.Break
		si, us string
	}{
		{gap, "less than 0.1 mm", "less than 0.005 in"},
		{high, "15 mm", "0.6 in"},
		{design.Break{Input: "tilt of left knife", Kind: q.KindAngle, Move: 4.3 * math.Pi / 180}, "4 deg", "4 deg"},
		{design.Break{Input: "plenum pressure", Kind: q.KindGauge, Value: 1720, Move: 4}, "less than 0.01 kPa", "less than 0.001 psi"},
		{design.Break{Input: "plenum pressure", Kind: q.KindGauge, Value: 17200, Move: 1234}, "1.2 kPa", "0.17 psi"},
		{design.Break{Input: "arriving water", Kind: q.KindAreaMass, Value: 62.4e-3, Move: 25.3e-3}, "25 g/m2", "25 g/m2"},
		{design.Break{Input: "belt speed", Kind: q.KindRatio, Value: 1, Move: 0.004}, "less than 1 %", "less than 1 %"},
		{design.Break{Input: "product temperature", Kind: q.KindTemperature, Value: 290, Move: 5.3}, "5 K", "9 degF"},
	} {
		if got := moved(k.b, q.SI); got != k.si {
			t.Errorf("%s may move by %q, want %q", k.b.Input, got, k.si)
		}
		if got := moved(k.b, q.US); got != k.us {
			t.Errorf("%s may move by %q in US units, want %q", k.b.Input, got, k.us)
		}
	}
	rapid.Check(t, func(t *rapid.T) { // what is told is never more than what was found
		b := high
		b.Move = rapid.Float64Range(1e-7, 1).Draw(t, "move")
		told := moved(b, rapid.SampledFrom([]q.System{q.SI, q.US, ""}).Draw(t, "units"))
		v, err := q.Parse[q.Length](strings.TrimPrefix(told, "less than "))
		if err != nil {
			t.Fatal(err)
		}
		if less := strings.HasPrefix(told, "less than"); less != (float64(v) > b.Move*(1+1e-5)) {
			t.Fatalf("%g m is told as %q", b.Move, told)
		}
	})
}

// What reads the document is told no less than who reads the table: that a station stays too wet, or gets no air.
func TestLawADocumentOfBreaksSaysWhatHappensBeyond(t *testing.T) {
	s := studied()
	s.Breaks[0].Then = design.ThenAirless
	b, err := JSON(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Breaks []struct {
			Beyond *string `json:"beyond"`
		} `json:"breaks"`
	}
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Breaks) != 2 || doc.Breaks[0].Beyond == nil || *doc.Breaks[0].Beyond != design.ThenAirless || doc.Breaks[1].Beyond != nil {
		t.Errorf("breaks %+v in %s", doc.Breaks, b)
	}
}

// A reader of the table took a station for one that stays too wet where it is its blower that ends.
func TestLawATableOfBreaksSaysWhatHappensBeyond(t *testing.T) {
	s := studied()
	s.Breaks[0].Then = design.ThenAirless
	if written := Text(s, text.Style{Units: q.SI}); !strings.Contains(written, design.ThenAirless) {
		t.Errorf("it is not said in\n%s", written)
	}
}
