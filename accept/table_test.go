package accept

import (
	"math"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// utf16Text writes a text as spreadsheets save it that call it Unicode.
func utf16Text(s string) string {
	out := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return string(out)
}

func TestLawTheSameRowsAreReadHoweverASpreadsheetSavesThem(t *testing.T) {
	const comma = heading + "slot gap,,left knife,,1.5 mm,,,\nwater,Größe 1,label panel,,8.5 mg,1,,\ntemperature,,blower,,52 °C,,,hot\n"
	want, err := Read("r.csv", strings.NewReader(comma))
	if err != nil || len(want) != 3 {
		t.Fatal(want, err)
	}
	german := strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(comma, ",", ";"), "1.5", "1,5"), "8.5", "8,5")
	tabs := strings.ReplaceAll(german, ";", "\t")
	latin := strings.NewReplacer("ö", "\xf6", "ß", "\xdf", "°", "\xb0").Replace(german)
	for name, text := range map[string]string{
		"semicolons": german, "with a mark": "\ufeff" + german, "quoted names": "\ufeff" + strings.Replace(german, "what", `"what"`, 1), "8-bit letters": latin, "tabs": tabs, "16-bit letters": utf16Text(tabs),
		"line ends": strings.ReplaceAll(german, "\n", "\r\n"), "old line ends": strings.ReplaceAll(german, "\n", "\r"), "empty rows": german + ";;;;;;;\n;;;;;;;\n",
		"empty columns": strings.ReplaceAll(german, "\n", ";;;\n"), "quoted": strings.ReplaceAll(comma, "1.5 mm", `"1,5 mm"`),
	} {
		got, err := Read("r.csv", strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	told, err := Read("r.csv", strings.NewReader("sep=;\n"+german))
	if err != nil || len(told) != 3 || told[0].Line != 3 {
		t.Errorf("a first line that tells the separator: %+v, %v", told, err)
	}
}

func TestLawMixedSeparatorsAreToldInOneSentence(t *testing.T) {
	semicolons := strings.ReplaceAll(heading, ",", ";")
	for name, c := range map[string]struct {
		text, want string
		rows       int
	}{
		"commas below semicolons": {semicolons + "plenum;;left knife;;20 kPa;;;\nplenum,,left knife,,20 kPa,,,\nplenum,,left knife,,21 kPa,,,\n", "r.csv:3:1: the row and 1 more are parted by commas, the names of the columns by semicolons", 1},
		"semicolons below commas": {heading + "plenum;;left knife;;20,5 kPa;;;\nplenum,,left knife,,20 kPa,,,\n", "r.csv:2:1: the row is parted by semicolons, the names of the columns by commas", 1},
		"names of columns":        {"what;format,at,state,value\nplenum,,left knife,,20 kPa\n", "r.csv:1:1: the names of the columns are parted by more than one sign (commas, semicolons)", 0},
		"rows in marks":           {heading + "\"plenum,,left knife,,20 kPa,,,\"\n\"plenum,,left knife,,21 kPa,,,\"\n", "r.csv:2:1: the whole row stands in quotation marks and is a single cell; take the marks away (rows like this: 2)", 0},
		"an unquoted comma":       {heading + "water,PET,label panel,,8,5 mg,1,,\n", `r.csv:2:24: a comma cuts 8,5 mg in two`, 0},
		"less than one":           {heading + "slot gap,,left knife,,0,9 mm,,,\n", "a comma cuts 0,9 mm in two", 0},
	} {
		rows, err := Read("r.csv", strings.NewReader(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) && !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want one sentence with %q", name, err, c.want)
		}
		if len(rows) != c.rows {
			t.Errorf("%s: %d rows", name, len(rows))
		}
	}
}

// Rows of the form that nobody fills in are no measurements, and rows that still begin with the sign of a remark none
// that may be lost.
func TestLawTheFormIsReadAsItIsFilledIn(t *testing.T) {
	rows, err := Read("r.csv", strings.NewReader(heading+"plenum,,left knife,,20 kPa,,,\nplenum,,right knife,,,,,\nrejects,PET,camera,hand-dried,,,,\nwater,PET,label panel,,,,,not done\n# plenum,,right knife,,,,,\n# as found,,,,1 mm\n"))
	if err != nil || len(rows) != 1 {
		t.Errorf("%+v, %v", rows, err)
	}
	rows, err = Read("r.csv", strings.NewReader(heading+"# plenum,,left knife,,20 kPa,,,\n# rejects,PET,camera,air on,,100,2,\n"))
	if len(rows) != 0 || err == nil || !strings.Contains(err.Error(), `r.csv:2:1: the row is filled in and begins with "#"`) || !strings.Contains(err.Error(), "r.csv:3:1") {
		t.Errorf("%+v, %v", rows, err)
	}
	for name, text := range map[string]string{
		"a column twice": "what,value,value\nspeed,1 m/s,2 m/s\n", "no column of values": "what,at,containers\nwater,label panel,1\n", "no number of containers": heading + "water,PET,label panel,,8 mg,,,\n",
		"a drop of many": heading + "drop,PET,label panel,,0.3 mm,50,,\n", "a drop below nothing": heading + "drop,PET,label panel,,-0.3 mm,,,\n", "a plenum with the air off": heading + "plenum,,left knife,air off,0 kPa,,,\n",
		"a state of sound": heading + "sound,,,loud,90 dB,,,\n", "failed without containers": heading + "rejects,PET,camera,air on,,,3,\n",
	} {
		if rows, err := Read("r.csv", strings.NewReader(text)); err == nil || len(rows) > 0 {
			t.Errorf("%s: %+v, %v", name, rows, err)
		}
	}
}

func TestLawARowSaysWhichFormatItIsOf(t *testing.T) {
	e := Expected{Promises: []Promise{{Format: "small", Zone: "all", Quantity: "mass", Limit: 1e-3}, {Format: "large", Zone: "all", Quantity: "mass", Limit: 1e-3}}, Zones: []string{"all"}}
	for _, format := range []string{"small", "large"} {
		e.Runs(format, 1)
		e.Stands(StandOff, "knife", format, map[string]float64{"small": 0.04, "large": 0.05}[format], nil)
		e.Stands(Tilt, "knife", format, 0.4, nil)
	}
	rows := []Row{
		{Line: 2, What: Water, At: "all", Value: 1e-4, Containers: 1},
		{Line: 3, What: StandOff, At: "knife", Value: 0.04},
		{Line: 4, What: Tilt, At: "knife", Value: 0.4},
		{Line: 5, What: Speed, Value: 1},
		{Line: 6, What: Water, Format: "large", At: "all", Value: 1e-4, Containers: 1},
		{Line: 7, What: StandOff, Format: "large", At: "knife", Value: 0.05},
	}
	kept, err := e.Kept("r.csv", rows)
	var lines []int
	for _, r := range kept {
		lines = append(lines, r.Line)
	}
	if diff := cmp.Diff([]int{4, 5, 6, 7}, lines); diff != "" {
		t.Error(diff)
	}
	for _, want := range []string{`r.csv:2:1: water differs among the formats; say which of them it is of: "small", "large"`, "r.csv:3:1: stand-off differs among the formats"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v lacks %q", err, want)
		}
	}
}

func weighings(n, containers int, value float64, state string) []Row {
	var rows []Row
	for range n {
		rows = append(rows, Row{Line: len(rows) + 2, What: Water, Format: "PET", At: "label panel", Value: value, Containers: containers, State: state})
	}
	return rows
}

// A sheet of ten was taken for one container, or the other way round, with nothing said.
func TestLawASheetThatIsOutByItsContainersIsRefused(t *testing.T) {
	e := promised()
	e.Left = []Left{{Format: "PET", Zone: "label panel"}}
	e.Left[0].Band.Low, e.Left[0].Band.Likely, e.Left[0].Band.High = 5e-6, 10e-6, 25e-6
	for name, c := range map[string]struct {
		rows []Row
		bad  int
		want string
	}{
		"the gain of sheets":           {weighings(4, 10, 90e-6, ""), 0, ""},
		"of one container":             {weighings(4, 10, 9e-6, ""), 4, "9 mg holds 0.9 mg a container, where 5 mg to 25 mg are calculated"},
		"said to be the whole":         {weighings(4, 10, 9e-6, WholeSheet), 0, ""},
		"a dry station":                {weighings(4, 10, 49e-6, ""), 0, ""},
		"each its own sheet":           {weighings(4, 1, 9e-6, ""), 0, ""},
		"weighed singly too":           {append(weighings(4, 10, 9e-6, ""), weighings(3, 1, 1e-6, "")...), 0, ""},
		"a wet station":                {weighings(4, 10, 900e-6, ""), 0, ""},
		"the number left at one":       {append(weighings(4, 1, 300e-6, ""), weighings(2, 10, 310e-6, "")...), 2, "where sheets of 1 hold 300 mg a container"},
		"sheets that agree":            {append(weighings(4, 1, 30e-6, ""), weighings(2, 10, 310e-6, "")...), 0, ""},
		"sheets that differ by chance": {append(weighings(4, 1, 60e-6, ""), weighings(2, 10, 310e-6, "")...), 0, ""},
	} {
		for i := range c.rows {
			c.rows[i].Line = i + 2
		}
		kept, err := e.Kept("r.csv", c.rows)
		if len(c.rows)-len(kept) != c.bad {
			t.Errorf("%s: %d of %d rows are kept: %v", name, len(kept), len(c.rows), err)
		}
		if (err == nil) != (c.bad == 0) || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func TestLawTheAnswerSaysWhatASheetWasReadAs(t *testing.T) {
	rows, err := Read("r.csv", strings.NewReader(heading+"water,PET,label panel,,1.2 g,10,,\nwater,PET,label panel,,1.2 g,10,,\nwater,PET,label panel,,120 mg,1,,\nwater,PET,label panel,,500 mg,4,,\n"))
	if err != nil {
		t.Fatal(err)
	}
	j := Judge(rows, promised(), Terms{}).Promises[1]
	want := []string{"one sheet of one container, 120 mg", "one sheet of 4 containers, 500 mg, 125 mg a container", "2 sheets of 10 containers each, 1.2 g on average, 120 mg a container"}
	if diff := cmp.Diff(want, j.Says); diff != "" {
		t.Error(diff)
	}
	if j.Containers != 25 || math.Abs(j.Mean*float64(j.Area)-121.25e-6) > 1e-9 {
		t.Errorf("%d containers, mean %g", j.Containers, j.Mean*float64(j.Area))
	}
}

func FuzzTable(f *testing.F) {
	f.Add("what;at\nplenum;knife\n", "plenum,knife\n")
	f.Add("\xff\xfew\x00", "")
	f.Fuzz(func(t *testing.T, a, b string) {
		if rows, err := Read("r.csv", strings.NewReader(a+b)); err == nil && rows == nil && strings.TrimSpace(a+b) == "" {
			t.Errorf("%q is no file of measurements", a+b)
		}
	})
}

// What plants write: each of these counted wrongly, or stopped the reading of all that came after it.
func TestLawWhatPlantsWriteIsReadOrTold(t *testing.T) {
	semicolons := strings.ReplaceAll(heading, ",", ";")
	for name, c := range map[string]struct {
		text string
		rows int
		want string // of the error; "" is none
	}{
		"points that group":           {semicolons + "water;PET;label panel;;1.200 mg;10;;\nwater;PET;label panel;;1200 mg;10;;\nslot gap;;left knife;;1.5 mm;;;\n", 2, `r.csv:2:`},
		"points in a table of commas": {heading + "slot gap,,left knife,,1.250 mm,,,\n", 1, ""},
		"groups by blanks":            {heading + "rejects,PET,camera,hand dried,,3\u00a0000,12,\nrejects,PET,camera,Air-on,,12 000,1 000,\n", 2, ""},
		"an inch mark":                {heading + "height,,left knife,,4 7/16\",,,\nplenum,,left knife,,20 kPa,,,\n", 1, `r.csv:2:27: a quotation mark stands within a cell; write "in" for inches`},
		"a workbook":                  {"PK\x03\x04\x14", 0, "the file is a workbook; save its sheet as CSV"},
		"degrees in German":           {heading + "tilt,,left knife,,25 Grad,,,\n", 1, ""},
		"a unit of a million radians": {heading + "tilt,,left knife,,25 Mrad,,,\n", 0, `r.csv:2:19: "Mrad" would be a million rad, which nobody measures in; write "mrad"`},
		"a temperature in K":          {heading + "temperature,,blower,,52 K,,,\n", 0, "52 K is less than temperature can be; check the sign and the unit"},
		"a gap in the wrong unit":     {heading + "slot gap,,left knife,,1.5 m,,,\nslot gap,,left knife,,-1.5 mm,,,\n", 0, "-1.5 mm is below nothing"},
		"more than any trial":         {heading + "rejects,PET,camera,air on,,99999999999,4,\n", 0, "no number of containers"},
		"a sheet a little lighter":    {heading + "water,PET,label panel,,−2 mg,1,,\n", 0, "r.csv:2:24: −2 mg is below nothing; check the sign, or write 0 mg"},
		"a sheet much lighter":        {heading + "water,PET,label panel,,-20 mg,1,,\n", 0, "below nothing"},
		"hard blanks":                 {heading + "plenum,,left\u00a0knife,,20\u202fkPa,,,\n", 1, ""},
	} {
		rows, err := Read("r.csv", strings.NewReader(c.text))
		if len(rows) != c.rows {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
		}
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// A gap too narrow at one end and too wide at the other was as expected on the mean.
func TestLawASettingIsRightOnlyWhereEveryReadingIs(t *testing.T) {
	j := Judge(rowsOf(t, "slot gap,,left knife,,1.2 mm,,,\nslot gap,,left knife,,1.9 mm,,,\nslot gap,,left knife,,1.4 mm,,,\nplenum,,left knife,,17 kPa,,,\nplenum,,left knife,,23 kPa,,,\n"), promised(), Terms{})
	for _, r := range j.Readings {
		if want := r.What == SlotGap; r.Beyond != want {
			t.Errorf("%s reads %g, off: %v", r.What, r.Read, r.Beyond)
		}
	}
}

// The loaded filter of "Blower" was not found, as the job calls it "blower".
func TestLawNamesAreThoseOfTheJobHoweverTheyAreSpelled(t *testing.T) {
	kept, err := promised().Kept("r.csv", rowsOf(t, "filter,,BLOWER,,900 Pa,,,\nrejects,pet,Camera,air on,,600,0,\n"))
	if err != nil || len(kept) != 2 || kept[0].At != "blower" || kept[1].At != "camera" || kept[1].Format != "PET" {
		t.Errorf("%+v, %v", kept, err)
	}
	if j := Judge(kept, promised(), Terms{}); len(j.Findings) == 0 || j.Findings[0].Code != "filter" {
		t.Errorf("findings %+v", j.Findings)
	}
}

func TestLawWhatCountsForNoPromiseIsTold(t *testing.T) {
	j := Judge(rowsOf(t, "water,PET,shoulder,,9 mg,1,,\nwater,PET,shoulder,,8 mg,1,,\ndrop,PET,label panel,,0.4 mm,,,\nrejects,PET,labeller,air on,,10,0,\nrejects,PET,camera,air off,,10,0,\n"+dryLabels), promised(), Terms{})
	want := []string{"water was weighed in the zone shoulder, and none of its water is promised", "drops were measured in the zone label panel, and none of its drops are promised", "rejects were counted at labeller, and none of its rejects are promised"}
	if diff := cmp.Diff(want, j.Beside); diff != "" {
		t.Error(diff)
	}
}

func TestLawManyRejectsAreComparedAtOnce(t *testing.T) {
	near(t, "equal shares", float64(MoreThan(Count{4_500_000, 9_000_000}, Count{4_500_000, 9_000_000})), 0.5, 1e-3)
	near(t, "beyond doubt", float64(MoreThan(Count{5_000_000, 9_000_000}, Count{4_500_000, 9_000_000})), 0, 1e-12)
}
