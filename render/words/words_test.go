package words

import (
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	q "leste/quantity"
)

func english(t *testing.T, u Units) Words { return language(t, "en", u) }

func language(t *testing.T, tag string, u Units) Words {
	t.Helper()
	w, err := New(tag, u)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestLawEveryRowIsCompleteAndItsPlacesAgree(t *testing.T) {
	rows, err := read(strings.NewReader(table), "words.csv")
	if err != nil {
		t.Fatal(err)
	}
	said, err := read(strings.NewReader(sentences), "sentences.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows = append(rows, said...)
	seen := map[string]int{}
	for _, r := range rows {
		if seen[r.key] > 0 {
			t.Errorf("line %d repeats %q of line %d", r.line, r.key, seen[r.key])
		}
		seen[r.key] = r.line
		for i, text := range r.texts {
			if strings.TrimSpace(text) == "" {
				t.Errorf("line %d: %q has no word in %s", r.line, r.key, languages[i])
			}
			if verbs(text) != verbs(r.texts[0]) {
				t.Errorf("line %d: %q takes %s in %s and %s in %s", r.line, r.key, places(r.texts[0]), languages[0], places(text), languages[i])
			}
		}
	}
}

var used = regexp.MustCompile(`\bT\("([a-z][a-z0-9_.\-]*)"`)

func TestLawEveryKeyThatADocumentUsesIsInTheTable(t *testing.T) {
	w := english(t, SI)
	found := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range used.FindAllStringSubmatch(string(source), -1) {
			if strings.HasSuffix(m[1], ".") {
				continue // the rest of the key is a value
			}
			found++
			if !w.Has(m[1]) {
				t.Errorf("%s uses %q, which is not in the table", path, m[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if found < 20 {
		t.Errorf("only %d uses found: the search is broken", found)
	}
}

func TestLawNumbersAreWrittenAsTheLanguageDoes(t *testing.T) {
	en, de := english(t, SI), language(t, "de", SI)
	day := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct{ got, want string }{
		{Of(en, q.Millimetres(1.5)), "1.5\u00a0mm"},
		{Of(de, q.Millimetres(1.5)), "1,5\u00a0mm"},
		{Of(en, q.Celsius(28.04)), "28\u00a0°C"},
		{en.Band(q.Band{Likely: 86e-6, Low: 35e-6, High: 210e-6}, q.KindMass), "86\u00a0(35\u00a0to\u00a0210)\u00a0mg"},
		{en.Band(q.Band{Likely: 0.9e-3, Low: 0.4e-3, High: 2.3e-3}, q.KindMass), "900\u00a0(400\u00a0to\u00a02300)\u00a0mg"},
		{de.Band(q.Band{Likely: 1.2e-3, Low: 1.2e-3, High: 1.2e-3}, q.KindAreaMass), "1,2\u00a0g/m²"},
		{de.Fixed(1234567.5, 1), "1\u00a0234\u00a0567,5"},
		{en.Fixed(-0.04, 1), "0.0"},
		{en.Fixed(-12, 0), "−12"},
		{en.Money(12345.6, "EUR"), "12\u00a0346\u00a0EUR"},
		{en.Percent(0.0123), "1.2\u00a0%"},
		{en.Number(math.NaN(), 2), "not known"},
		{en.Number(math.Inf(1), 2), "no limit"},
		{de.Number(math.NaN(), 2), "nicht bekannt"},
		{en.Date(day), "2 March 2026"},
		{de.Date(day), "2. März 2026"},
		{en.Date(time.Time{}), "not known"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Source: 1 in is 25.4 mm, 1 psi 6894.757 Pa (ISO 80000). Tolerance: three figures are printed.
func TestReferenceUSUnits(t *testing.T) {
	us, both := english(t, US), english(t, Both)
	for _, c := range []struct{ got, want string }{
		{Of(us, q.Millimetres(40)), "1.57\u00a0in"},
		{Of(both, q.Millimetres(40)), "40\u00a0mm (1.57\u00a0in)"},
		{Of(us, q.Gauge(20000)), "2.9\u00a0psi"},
		{Of(both, q.SoundLevel(85)), "85\u00a0dB"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestLawOwnWordsReplaceAndWrongOnesAreLocated(t *testing.T) {
	w := english(t, SI)
	own, err := w.With(strings.NewReader("key,en,de\ndrawing.plan,Layout,\n"), "words.csv")
	if err != nil || own.T("drawing.plan") != "Layout" || w.T("drawing.plan") != "Plan" {
		t.Errorf("replacement gives %q, %v", own.T("drawing.plan"), err)
	}
	own, err = w.With(strings.NewReader("drawing.plan,Layout,\n\ndrawing.plam,x,y\ndrawing.tilt,no place,\n"), "own/words.csv")
	for _, want := range []string{"own/words.csv:3", `"drawing.plam"`, `nearest is "drawing.plan"`, "own/words.csv:4", "takes the places %s"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error lacks %q: %v", want, err)
		}
	}
	if own.T("drawing.plan") != "Layout" {
		t.Error("the good lines must still count")
	}
	if _, err := w.With(strings.NewReader("a,b\n"), "words.csv"); err == nil || !strings.Contains(err.Error(), "words.csv:1") {
		t.Errorf("a line with two columns: %v", err)
	}
	if _, err := w.With(strings.NewReader("\"open\n"), "words.csv"); err == nil {
		t.Error("an open quote is not an error")
	}
}

func TestLawUnknownChoicesListTheKnown(t *testing.T) {
	if _, err := New("fr", SI); err == nil || !strings.Contains(err.Error(), "en, de") {
		t.Errorf("%v", err)
	}
	if _, err := New("en", "metric"); err == nil || !strings.Contains(err.Error(), "si, us or both") {
		t.Errorf("%v", err)
	}
}

func TestLawSentencesAreSaid(t *testing.T) {
	plain := func(s string) string { return strings.ReplaceAll(s, nbsp, " ") }
	de := language(t, "de", SI).Searched("left knife")
	for text, want := range map[string]string{
		"Belts are not counted: their price is not known.":                                        "Riemen zählen nicht: Ihr Preis ist nicht bekannt.",
		"belts are not counted: their price is not known":                                         "Riemen zählen nicht: Ihr Preis ist nicht bekannt",
		"outlet infeed knife: the blower gives less than the wanted plenum pressure at its speed": "Auslass infeed knife: Das Gebläse gibt bei seiner Drehzahl weniger als den gewünschten Verteilerdruck",
		"Raise the plenum pressure by a quarter":                                                  "Den Verteilerdruck um ein Viertel erhöhen",
		"20.5 degC":                                                                               "20,5 °C",
		"the slide":                                                                               "the slide",
		"the container stands under the air for 10 s; what evaporates there is not counted; the line stood for 60 s between the station and the next machine": "der Behälter steht 10 s unter der Luft; was dort verdunstet, zählt nicht; die Linie stand 60 s zwischen der Station und der nächsten Maschine",
		"hose to infeed knife": "Schlauch zu infeed knife", "hose to left knife": "Schlauch zu Luftmesser links",
		"filled container, wet belt, containers apart, line stopped": "Behälter gefüllt, Band nass, Behälter auseinander, Linie steht",
		"": "",
	} {
		if got := plain(de.Say(text)); got != want {
			t.Errorf("%q is said as %q, want %q", text, got, want)
		}
	}
	if _, ok := de.Said("the moon is made of cheese"); ok {
		t.Error("a sentence without German counts as known")
	}
	us, both := english(t, US), english(t, Both)
	for text, want := range map[string]string{
		"a guide rail near 25.4 mm above the belt, 330 mL": "a guide rail near 1 in above the belt, 330 mL", "Choose hoses rated for at least 80 degC and 30 kPa.": "Choose hoses rated for at least 176 °F and 4.35 psi.",
	} {
		if got := plain(us.Say(text)); got != want {
			t.Errorf("%q is said as %q, want %q", text, got, want)
		}
	}
	if got := plain(both.Say("20 degC")); got != "20 °C (68 °F)" {
		t.Errorf("in both units %q", got)
	}
	if got := plain(english(t, SI).Say("20 degC and 3 mm")); got != "20 °C and 3 mm" {
		t.Errorf("in SI %q", got)
	}
}

// Source: 1 in is 25.4 mm, 1 ft 304.8 mm, 1 K 1.8 degF, 1 psi 6894.757 Pa, 1 cfm 1.699 m3/h (ISO 80000). Tolerance: three
// figures are printed.
func TestReferenceSentencesAreSaidInTheUnitsOfThePaper(t *testing.T) {
	us, both, de := english(t, US), english(t, Both), language(t, "de", US)
	plain := func(s string) string { return strings.ReplaceAll(s, nbsp, " ") }
	for _, c := range []struct {
		words      Words
		text, want string
	}{
		{us, "Rinse 15 K warmer", "Rinse 27 °F warmer"},
		{de, "Rinse 15 K warmer", "27 °F wärmer spülen"},
		{both, "rinse 15 K warmer", "rinse 15 K (27 °F) warmer"},
		{us, "blow a second time with the same outlets, 0.6 m farther on", "blow a second time with the same outlets, 23.6 in farther on"},
		{de, "blow a second time with the same outlets, 0.6 m farther on", "ein zweites Mal mit denselben Auslässen blasen, 23,6 in weiter"},
		{de, "Pressures above 50 kPa and air above 100 degC are not covered.", "Drücke über 7,25 psi und Luft über 212 °F sind nicht abgedeckt."},
		{de, "the discharge is 3.5 K cooler than expected", "die Druckseite ist 6,3 °F kühler als erwartet"},
		{us, "slot: displacement thickness on lips of 2 to 5 mm", "slot: displacement thickness on lips of 0.0787 to 0.197 in"},
		{de, "slot: displacement thickness on lips of 2 to 5 mm", "Schlitz: Verdrängungsdicke an Lippen von 0,0787 bis 0,197 in"},
		{us, "about 7 W/(m2 K)", "about 1.23 Btu/(h ft² °F)"},
		{us, "0.5 … 4 m", "1.64 … 13.1 ft"},
		{de, "0.5 … 4 m", "1,64 … 13,1 ft"},
		{us, "1 m", "39.4 in"},
		// What is no quantity of ours, or is the same in both.
		{us, "Highest sound pressure level allowed at 1 m, A-weighted", "Highest sound pressure level allowed at 1 m, A-weighted"},
		{us, "the slot gap of 600 mm knife is 1.5 mm instead of 1.2 mm", "the slot gap of 600 mm knife is 0.0591 in instead of 0.0472 in"},
		{de, "the slot gap of 600 mm knife is 1.5 mm instead of 1.2 mm", "der Schlitz von 600 mm knife misst 0,0591 in statt 0,0472 in"},
		{us, "can: the mass of the product is not known; 330 g is assumed", "can: the mass of the product is not known; 11.6 oz is assumed"},
		{us, "the largest part of the water left is drops at the dome: 59 of 260 mg", "the largest part of the water left is drops at the dome: 59 of 260 mg"},
		{us, "a glass 1.5 m/s² or 3 mm/s, M12 m, 4 mN/m", "a glass 1.5 m/s² or 3 mm/s, M12 m, 4 mN/m"},
		{us, "4,000 mm of conveyor", "4,000 mm of conveyor"},
		{us, "with a receding angle 8 degrees lower", "with a receding angle 8 degrees lower"},
	} {
		if got := plain(c.words.Say(c.text)); got != c.want {
			t.Errorf("%s, %s: %q is said as %q, want %q", c.words.Language, c.words.Units, c.text, got, c.want)
		}
	}
}

// A sentence said in its own language and units only has its units typeset, whatever rows it matches.
func TestLawEnglishInSIIsTypesetAlone(t *testing.T) {
	si, us := english(t, SI), english(t, US)
	for key, text := range shipped()[0] {
		if !strings.HasPrefix(key, sayPrefix) {
			continue
		}
		text = small(strings.ReplaceAll(strings.ReplaceAll(text, "%s", "x"), "%%", "%"))
		if got := si.Say(text); got != q.Typeset(text) {
			t.Errorf("%s: %q is said as %q", key, text, got)
		}
		if us.InUnits(text) != text {
			continue
		}
		if got := us.Say(text); got != q.Typeset(text) {
			t.Errorf("%s: %q is said in US units as %q", key, text, got)
		}
	}
}

func TestLawAuthorsAreJoinedInTheLanguage(t *testing.T) {
	de := language(t, "de", SI)
	for citation, want := range map[string]string{
		"Evangelista and others, Proceedings of SPIE (2011)":                           "Evangelista u. a., Proceedings of SPIE (2011)",
		"Aussillous and Quéré, Quick deposition and more, Physics of Fluids 12 (2000)": "Aussillous und Quéré, Quick deposition and more, Physics of Fluids 12 (2000)",
		"De Coninck, Dunlop and Huillet, arXiv (2016)":                                 "De Coninck, Dunlop und Huillet, arXiv (2016)",
		"Cox, The dynamics (1986), and Voinov, Hydrodynamics of wetting (1976)":        "Cox, The dynamics (1986) und Voinov, Hydrodynamics of wetting (1976)",
		"Landau and Levich (1942) and Derjaguin (1943), Dragging of a liquid":          "Landau und Levich (1942) und Derjaguin (1943), Dragging of a liquid",
		"ISO 5167-3, Nozzles and Venturi nozzles":                                      "ISO 5167-3, Nozzles and Venturi nozzles",
	} {
		if got := de.Cite(citation); got != want {
			t.Errorf("%q is cited as %q, want %q", citation, got, want)
		}
		if got := english(t, SI).Cite(citation); got != citation {
			t.Errorf("in English %q is cited as %q", citation, got)
		}
	}
}

// What the examination of a grid says was once told in English in German papers.
func TestTheExaminationOfTheGridIsSaidInGerman(t *testing.T) {
	w, err := New("de", SI)
	if err != nil {
		t.Fatal(err)
	}
	for _, grid := range []string{"2 % less", "11 % more", "as much"} {
		text := "right after the last station the container keeps 800 mg, on a grid twice as coarse " + grid +
			"; with a receding angle 8 degrees lower or higher 870 or 770 mg; with holes in a film 1.5 or 10 mm apart 860 or 0.5 mg: all of this is part of the bands"
		if said, known := w.Said(text); !known || strings.Contains(said, " grid ") || !strings.Contains(said, "1,5 oder 10 mm") {
			t.Errorf("%q: known %t", said, known)
		}
	}
}

// A name is no quantity: "600 mm knife" lost its name in papers for other units.
func TestLawNamesAreNeverConverted(t *testing.T) {
	for _, language := range Languages() {
		for _, units := range []Units{SI, US, Both} {
			w := languageOf(t, language, units).Naming("line 2: 40 mm bottles", "600 mm knife", "12 mm", "cell m2")
			for _, text := range []string{
				"600 mm knife: nobody has a row for this sentence of 600 mm knife", "line 2: 40 mm bottles", "12 mm", "at 12 mm and 600 mm knife", "cell m2",
			} {
				if got := w.Say(text); got != text {
					t.Errorf("%s, %s: %q becomes %q", language, units, text, got)
				}
			}
		}
	}
	w := languageOf(t, "en", US).Naming("600 mm knife")
	if got, want := w.Say("600 mm knife stands 254 mm off"), "600 mm knife stands 10\u00a0in off"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func languageOf(t *testing.T, language string, units Units) Words {
	t.Helper()
	w, err := New(language, units)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// "300 mg" was not met against 300 mg.
func TestLawAVerdictCanBeReadOffItsFigures(t *testing.T) {
	si, us, both := languageOf(t, "en", SI), languageOf(t, "en", US), languageOf(t, "en", Both)
	for _, c := range []struct {
		w                   Words
		likely, high, limit float64
		kind                q.Kind
		value, most         string
	}{
		{si, 301e-6, 640e-6, 300e-6, q.KindMass, "301 (101 to 640) mg", "300 mg"},
		{si, 299.6e-6, 300.4e-6, 300e-6, q.KindMass, "299.6 (101.0 to 300.4) mg", "300 mg"},
		{si, 263e-6, 640e-6, 300e-6, q.KindMass, "260 (100 to 640) mg", "300 mg"},
		{us, 1.52e-3, 4e-3, 1.5e-3, q.KindLength, "0.060 (0.0040 to 0.16) in", "0.0591 in"},
		{both, 2.4e-3, 4e-3, 2e-3, q.KindMass, "2.4 (0.10 to 4.0) g", "2 g"},
	} {
		value, most := c.w.Against(q.Band{Likely: c.likely, Low: 101e-6, High: c.high}, c.limit, c.kind)
		value, most = strings.ReplaceAll(value, nbsp, " "), strings.ReplaceAll(most, nbsp, " ")
		if value != c.value || most != c.most {
			t.Errorf("%g against %g: %q and %q, want %q and %q", c.likely, c.limit, value, most, c.value, c.most)
		}
	}
	value, most := si.AgainstPercent(q.Band{Likely: 0.00502, Low: 0.001, High: 0.02}, 0.005)
	if value, most = strings.ReplaceAll(value, nbsp, " "), strings.ReplaceAll(most, nbsp, " "); value != "0.502 (0.100 to 2.00) %" || most != "0.5 %" {
		t.Errorf("shares read %q and %q", value, most)
	}
	for x, want := range map[float64]string{0.998: "0.998", 0.9996: "0.9996", 1.004: "1.0", 0.93: "0.93"} {
		if got := si.Reserve(x); got != want {
			t.Errorf("the reserve %g reads %s, want %s", x, got, want)
		}
	}
}

// The distance of a person was 39.4 in, of 1.64 to 13.1 ft. Source: a foot is 0.3048 m (ISO 80000).
func TestReferenceAValueAndItsRangeHaveOneUnit(t *testing.T) {
	for _, c := range []struct {
		units Words
		texts []string
		want  string // "" is as they are
	}{
		{languageOf(t, "en", US), []string{"1 m", "0.5 m", "4 m"}, "3.28 ft, 1.64 ft, 13.1 ft"},
		{languageOf(t, "de", US), []string{"1 m", "0.5 m", "4 m"}, "3,28 ft, 1,64 ft, 13,1 ft"},
		{languageOf(t, "en", Both), []string{"1 m", "0.5 m", "4 m"}, "1 m (3.28 ft), 0.5 m (1.64 ft), 4 m (13.1 ft)"},
		{languageOf(t, "en", SI), []string{"1 m", "0.5 m", "4 m"}, ""},
		{languageOf(t, "en", US), []string{"4 mm", "1.5 mm", "10 mm"}, ""}, // inches anyway
		{languageOf(t, "en", US), []string{"1 m", "0.5 m", "4 kPa"}, ""},
		{languageOf(t, "en", US), []string{"6 m of duct", "3 m", "15 m"}, ""},
	} {
		got, ok := c.units.Alike(c.texts...)
		if said := strings.ReplaceAll(strings.Join(got, ", "), nbsp, " "); ok != (c.want != "") || ok && said != c.want {
			t.Errorf("%s, %q: %q, %v; want %q", c.units.Units, c.texts, said, ok, c.want)
		}
	}
}
