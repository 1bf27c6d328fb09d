package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const closure = "../../examples/pet-500-closure.yaml"

// results writes a file of measurements and returns its name.
func results(t *testing.T, rows string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "results.csv")
	if err := os.WriteFile(name, []byte("what,format,at,state,value,containers,failed,note\n"+rows), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// The tilt of an outlet that no frame carries was expected as the job sets it before aiming, 30 degrees, where the sheet
// says what an inclinometer on the lip reads, 29.1: an honest reading was off.
func TestLawWhatTheSetUpSheetSaysIsWhatTheAcceptanceExpects(t *testing.T) {
	for _, job := range []string{closure, threeSizes} {
		dir, _ := quoted(t, job)
		data, err := os.ReadFile(filepath.Join(dir, "list-settings.csv"))
		if err != nil {
			t.Fatal(err)
		}
		lines, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		rows := ""
		for _, l := range lines[1:] { // format, station, outlet, x, y, z, stand-off, tilt
			rows += fmt.Sprintf("height,%[1]s,%[2]s,,%[3]s mm,,,\nstand-off,%[1]s,%[2]s,,%[4]s mm,,,\ntilt,%[1]s,%[2]s,,%[5]s deg,,,\n", l[0], l[2], l[5], l[6], l[7])
		}
		got := run(t, "accept", filepath.Join(dir, keptName), results(t, rows), "--json")
		readings := got.document(t)["readings"].([]any)
		if want := 3 * (len(lines) - 1); len(readings) != want || want == 0 {
			t.Errorf("%s: %d readings of %d: %s", job, len(readings), want, got.errors)
		}
		for _, x := range readings {
			r := x.(map[string]any)
			within := 0.06e-3 // half a digit of the sheet
			if r["what"] == "tilt" {
				within = 0.06 * math.Pi / 180
			}
			if math.Abs(r["read"].(float64)-r["expected"].(float64)) > within || r["off"] == true {
				t.Errorf("%s: the sheet's value is told to be off: %v", job, r)
			}
		}
	}
}

// anglicism is a word that no German sentence holds; names of the example are English.
var anglicism = regexp.MustCompile(`(?i)\b(the|of|is|are|were|and|for|with|from|by|its|it|this|that|than|to|or|which|where|not|more|less|only|read|rejected|due|needed|limit|sheets?|containers?|mean|expected|would)\b`)

func TestLawAGermanJudgementHoldsNoEnglish(t *testing.T) {
	dir, _ := quoted(t, closure)
	kept := filepath.Join(dir, keptName)
	const camera = "rejects,500 mL PET,fill-level camera,"
	weigh := func(texts ...string) string {
		out := ""
		for _, text := range texts {
			out += "water,500 mL PET,label panel,whole sheet," + text + ",,\n"
		}
		return out
	}
	for name, rows := range map[string]string{
		"nothing": "", "baseline": camera + "air on,,3000,4,\n" + camera + "air off,,3000,90,\n", "one short": camera + "air on,,597,0,\n", "some short": camera + "air on,,300,0,\n",
		"hand-dried": camera + "air on,,300,20,\n" + camera + "hand-dried,,300,18,\n", "not water": camera + "air on,,40000,400,\n" + camera + "hand-dried,,40000,520,\n" + camera + "air off,,40000,410,\n",
		"sheets": weigh("1.2 g,10", "1.1 g,10", "120 mg,1", "500 mg,4"), "one": weigh("120 mg,1"), "two": weigh("120 mg,1", "121 mg,1"), "spread": weigh("20 mg,1", "190 mg,1", "90 mg,1"),
		"wrong air": "plenum,,left panel knife,,14 kPa,,,\nplenum,,right panel knife,,22 kPa,,,\nslot gap,,left panel knife,,1.6 mm,,,\n" +
			"tilt,,right panel knife,,20 deg,,,\nclearance,500 mL PET,right panel knife,,60 mm,,,\nspeed,500 mL PET,,,0.8 m/s,,,\n",
		"sound": "sound,,,,110 dB,,,\nsound,,,air off,80 dB,,,\n",
	} {
		got := run(t, "accept", kept, results(t, rows), "--language", "de")
		_, text, _ := strings.Cut(got.out, "\n") // without the name of the job
		if found := anglicism.FindString(text); found != "" || text == "" {
			t.Errorf("%s: %q in\n%s%s", name, found, got.out, got.errors)
		}
	}
}

// What is wrong with rows was told in English below a German judgement. Words of the file and names stay, in quotation
// marks.
func TestLawWrongRowsAreToldInGerman(t *testing.T) {
	dir, _ := quoted(t, closure)
	kept := filepath.Join(dir, keptName)
	said := regexp.MustCompile(`"[^"]*"`)
	const good = "speed,500 mL PET,,,0.55 m/s,,,\n"
	for name, c := range map[string]struct{ rows, want string }{
		"nothing that is measured": {good + "watr,500 mL PET,label panel,,120 mg,1,,\n", "wird nicht gemessen; bekannt sind"},
		"format":                   {good + "water,500 mL,label panel,,120 mg,1,,\n", `"500 mL" gibt es in diesem Auftrag nicht`},
		"containers":               {good + "water,500 mL PET,label panel,,120 mg,ten,,\n", "keine Anzahl Behälter"},
		"no containers":            {good + "water,500 mL PET,label panel,,120 mg,,,\n", "die das Blatt teilten"},
		"a container's water":      {good + "water,500 mL PET,label panel,,1200 mg,10,,\n", "je Behälter, gerechnet sind"},
		"two kinds of sheets":      {good + strings.Repeat("water,500 mL PET,label panel,,5 g,1,,\nwater,500 mL PET,label panel,,5 g,10,,\n", 2), "Eines davon weicht um die Anzahl der Behälter ab"},
		"no unit":                  {good + "plenum,,left panel knife,,20.5,,,\n", `"20.5" hat keine Einheit; verlangt ist ein Überdruck; die Einheit dazuschreiben, etwa "20.5 kPa"`},
		"unit of another kind":     {good + "tilt,,left panel knife,,20 psi,,,\n", `in "psi" wird ein Überdruck angegeben; verlangt ist ein Winkel; in einer dieser Einheiten schreiben: deg, rad, mrad`},
		"no unit at all":           {good + "current,,blower,,20 Amps,,,\nplenum,,left panel knife,,200 Mbar,,,\n", `"Mbar" wäre eine Million bar`},
		"no place":                 {good + "plenum,,,,20 kPa,,,\n", "fehlt der Name"},
		"state":                    {good + "sound,,,loud,90 dB,,,\nplenum,,left panel knife,air off,1 kPa,,,\nrejects,500 mL PET,fill-level camera,on,,10,1,\n", "ist kein Zustand von Schall"},
		"failures":                 {good + "rejects,500 mL PET,fill-level camera,air on,,10,11,\nrejects,500 mL PET,fill-level camera,air on,,,1,\n", "keine Anzahl von Ausfällen"},
		"drop":                     {good + "drop,500 mL PET,label panel,,1 mm,50,,\ndrop,500 mL PET,label panel,,-1 mm,1,,\n", "liegt unter null"},
		"remark":                   {good + "# plenum,,left panel knife,,20 kPa,,,\n", "was sie zur Bemerkung macht"},
		"separators":               {good + "plenum;;left panel knife;;20,5 kPa;;;\nplenum;;left panel knife;;20,5 kPa;;;\n", "diese Zeile und 1 weitere sind durch Semikolons getrennt"},
		"decimal comma":            {good + "plenum,,left panel knife,,20,5 kPa,,,\n", "ein Komma schneidet"},
		"far":                      {good + "sound,,2.5 m,,90 dB,,,\n", "in 2,5 m von den Auslässen gemessen; Grenzwert und Erwartung gelten für 1 m"},
		"column":                   {"where,what\n", ""},
	} {
		file := results(t, c.rows)
		if name == "column" {
			if err := os.WriteFile(file, []byte("what,where;value\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			c.want = "mehr als ein Zeichen trennt die Namen der Spalten (Kommas, Semikolons)"
		}
		got := run(t, "accept", kept, file, "--language", "de", "--units", []string{"si", "us"}[len(name)%2])
		if told := strings.ReplaceAll(got.errors, "\u00a0", " "); !strings.Contains(told, c.want) || got.code != exitInput {
			t.Errorf("%s: code %d, %q is missing in %s", name, got.code, c.want, told)
		}
		for line := range strings.SplitSeq(got.errors, "\n") {
			_, text, found := strings.Cut(strings.TrimPrefix(line, "leste: "), "results.csv:")
			if word := anglicism.FindString(said.ReplaceAllString(text, "")); found && word != "" {
				t.Errorf("%s: %q in %s", name, word, text)
			}
		}
	}
}

// A German paper calls the zone "Etikettenfeld", and a row that did so was refused.
func TestLawRowsMayNameZonesAsThePaperDoes(t *testing.T) {
	dir, _ := quoted(t, closure)
	got := run(t, "accept", filepath.Join(dir, keptName), results(t, "water,500 mL PET,Etikettenfeld,,50 mg,1,,\nfilter,,GEBLÄSE,,900 Pa,,,\n"))
	if got.errors != "" || !strings.Contains(got.out, "one sheet of one container, 50 mg") || !strings.Contains(got.out, "the filter of blower drops 900 Pa") {
		t.Errorf("%s%s", got.out, got.errors)
	}
}

// A German paper calls "left knife" of a search "Luftmesser links", and a row that does so is of that outlet.
func TestLawRowsMayNameOutletsAsThePaperDoes(t *testing.T) {
	given, err := os.ReadFile(threeSizes)
	if err != nil {
		t.Fatal(err)
	}
	found := filepath.Join(t.TempDir(), "found.yaml")
	if err := os.WriteFile(found, []byte(strings.Replace(string(given), "    outlets:", "    by_search: yes\n    outlets:", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	dir, _ := quoted(t, found)
	got := run(t, "accept", filepath.Join(dir, keptName), results(t, "plenum,,Luftmesser links,,14 kPa,,,\n"), "--language", "de")
	if got.errors != "" || !strings.Contains(got.out, "Luftmesser links") || strings.Contains(got.out, "left knife") {
		t.Errorf("%s%s", got.out, got.errors)
	}
}

// Twelve formats that stand alike filled the answer with twelve lines that said the same.
func TestLawReadingsOfFormatsThatAreAlikeAreOneLine(t *testing.T) {
	dir, _ := quoted(t, threeSizes)
	got := run(t, "accept", filepath.Join(dir, keptName), results(t, "speed,,,,0.7 m/s,,,\ntilt,,left knife,,15 deg,,,\n"))
	if n := strings.Count(got.out, "expected    0.7"); n != 1 || !strings.Contains(got.out, "250 mL slim, 330 mL standard, 500 mL") || strings.Count(got.out, "the tilt of left knife") != 1 {
		t.Errorf("%d lines of one speed in\n%s%s", n, got.out, got.errors)
	}
}
