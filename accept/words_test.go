package accept

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	q "leste/quantity"
	"leste/render/words"
)

// Whatever a judgement may say of a cause is known in German.
func TestLawCausesAreInEveryLanguage(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rules {
		for _, text := range []string{r.text, r.do} {
			if said, ok := w.Said(text); !ok || said == text {
				t.Errorf("%s: %q is not in the table", r.code, text)
			}
		}
	}
}

// What is wrong with a number was told in English below a German judgement.
func TestLawWhatIsWrongWithANumberIsGerman(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	texts := []string{
		"mm", "NaN mm", "1.2.3 mm", "1e999 mm", "1e308 km", "1,500 mm", "1.500,5 mm", "1.5", "3 psi", "3 furlongs", "3 MM", "3 Mbar", "3 Gg", "3 m/", "3 (m", "3 ((((((m))))))",
		"12 W/m2 K", "1.2 bar abs", "15 psig", "3 kPa", "-300 degC", "350 scfm", "0.15 EUR/kWh", "60 mm", "15 Grad", "3 V", "1 kW",
	}
	seen := map[string]bool{}
	for kind := q.None + 1; kind <= q.KindFrequency; kind++ {
		for _, text := range texts {
			_, err := kind.Parse(text)
			if err == nil {
				continue
			}
			seen[text] = true
			var p *q.ParseError
			if !errors.As(err, &p) {
				t.Fatal(err)
			}
			for _, part := range []string{p.Text, p.Want} {
				said, known := w.Said(part)
				if found := english.FindString(regexp.MustCompile(`"[^"]*"`).ReplaceAllString(said, "")); !known || found != "" {
					t.Errorf("%q: %q is said as %q", text, part, said)
				}
			}
		}
	}
	if len(seen) < len(texts) {
		t.Errorf("only %d of %d texts are refused by any kind", len(seen), len(texts))
	}
}

// english are words that no German sentence holds, names of the tests aside.
var english = regexp.MustCompile(`(?i)\b(the|of|is|are|were|and|for|with|from|by|its|it|this|that|than|to|or|which|where|not|more|less|only|read|rejected|due|other|needed|limit|sheets?|containers?|mean|expected)\b`)

// A sentence with "; " in it was parted before it was looked up, and half of it stayed English: each stands by itself,
// whatever names it holds.
func TestLawEverySentenceOfAJudgementIsGerman(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	e := Expected{
		Promises: []Promise{
			{Format: "PET; 0,5 l", Machine: "Kamera: 2", Zone: "closure", Quantity: "rejects", Limit: 0.001},
			{Format: "PET; 0,5 l", Machine: "labeller", Zone: "label panel", Quantity: "water", Limit: 1e-3, Area: 0.02},
			{Format: "PET; 0,5 l", Machine: "coder", Zone: "base", Quantity: "drop", Limit: 1e-3},
			{Format: "PET; 0,5 l", Machine: "packer", Zone: "all", Quantity: "water", Limit: 1e-3},
		},
		Readings: promised().Readings, Filters: promised().Filters, Noise: Noise{Limit: 85, Calculated: [2]q.SoundLevel{84, 78}},
	}
	const (
		on  = `rejects,"PET; 0,5 l",Kamera: 2,air on,,`
		dry = `rejects,"PET; 0,5 l",Kamera: 2,hand-dried,,`
		off = `rejects,"PET; 0,5 l",Kamera: 2,air off,,`
	)
	weigh := func(zone string, texts ...string) string {
		out := ""
		for _, text := range texts {
			out += "water,," + zone + ",," + text + ",,\n"
		}
		return out
	}
	plenum := func(left, right, amps string) string {
		return "plenum,,left knife,," + left + ",,,\nplenum,,right knife,," + right + ",,,\ncurrent,,blower,," + amps + ",,,\n"
	}
	wet := weigh("label panel", "90 mg,1", "95 mg,1", "92 mg,1")
	for name, text := range map[string]string{
		"nothing":            "",
		"baseline":           on + "3000,4,\n" + off + "3000,9,\n",
		"hand-dried, not":    on + "4000,400,\n" + dry + "4000,4,\n",
		"hand-dried, same":   on + "40000,400,\n" + dry + "40000,520,\n" + off + "40000,410,\n",
		"hand-dried, few":    on + "300,20,\n" + dry + "300,18,\n",
		"proven":             on + "3000,0,\n" + weigh("label panel", "8 mg,1", "9 mg,1", "8 mg,1"),
		"one weighing":       weigh("label panel", "8 mg,1"),
		"two weighings":      weigh("label panel", "8 mg,1", "9 mg,1"),
		"sheets":             weigh("label panel", "1.2 g,10", "1.1 g,10", "120 mg,1", "500 mg,4"),
		"no area":            weigh("all", "8 mg,1", "9 mg,1", "9 mg,1"),
		"drops":              "drop,,base,,0.4 mm,1,,\ndrop,,base,,1.4 mm,1,,\n",
		"loaded filter":      plenum("17 kPa", "17 kPa", "18 A") + "filter,,blower,,900 Pa,,,\n",
		"wide gap":           plenum("17 kPa", "17 kPa", "22.5 A") + "slot gap,,left knife,,1.9 mm,,,\n",
		"narrow gap":         plenum("23 kPa", "22 kPa", "17 A") + "slot gap,,left knife,,1.2 mm,,,\n",
		"leak":               plenum("16 kPa", "16 kPa", "23 A") + "slot gap,,left knife,,1.5 mm,,,\ntemperature,,blower,,40 degC,,,\n",
		"rotation":           plenum("7 kPa", "7 kPa", "20 A") + "filter,,blower,,90 Pa,,,\n",
		"slow":               plenum("15 kPa", "15 kPa", "15 A") + "filter,,blower,,190 Pa,,,\n",
		"branch":             plenum("14 kPa", "21 kPa", "20 A"),
		"aim":                plenum("20 kPa", "20 kPa", "20 A") + "stand-off,,left knife,,58 mm,,,\n" + wet,
		"fast":               "speed,,,,1.3 m/s,,,\n" + wet,
		"slow line":          "speed,,,,0.5 m/s,,,\n",
		"hot":                plenum("20 kPa", "20 kPa", "17 A") + "temperature,,blower,,65 degC,,,\n",
		"arrives":            plenum("20 kPa", "20 kPa", "20 A") + "slot gap,,left knife,,1.5 mm,,,\n" + wet,
		"far too quiet":      "sound,,,,74 dB,,,\n",
		"loud":               "sound,,,,91 dB,,,\n",
		"loud, quiet room":   "sound,,gate,,91 dB,,,\nsound,,gate,air off,80 dB,,,\n",
		"loud, room":         "sound,,gate,,91 dB,,,\nsound,,,air off,90 dB,,,\n",
		"beside":             weigh("base", "8 mg,1") + "drop,,all,,0.4 mm,1,,\\nrejects,,packer,air on,,10,1,\\n",
		"below, room hidden": "sound,,,,87 dB,,,\nsound,,,air off,86.5 dB,,,\n",
	} {
		rows, err := Read("r.csv", strings.NewReader(heading+text))
		if err != nil {
			t.Fatal(name, err)
		}
		j := Judge(rows, e, Terms{})
		var said []string
		for _, p := range j.Promises {
			said = append(said, p.Says...)
		}
		for _, l := range j.Sound {
			said = append(said, l.Says...)
		}
		said = append(said, j.Beside...)
		for _, f := range j.Findings {
			said = append(append(said, f.Text, f.Do), f.Signs...)
		}
		for _, s := range said {
			german, known := w.Said(s)
			if found := english.FindString(german); found != "" || !known {
				t.Errorf("%s: %q is said as %q", name, s, german)
			}
		}
	}
}
