package accept

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// promised is a station with a camera that tolerates 0.1 % rejects and a labeller that tolerates 1 g/m2.
func promised() Expected {
	return Expected{
		Promises: []Promise{
			{Format: "PET", Machine: "camera", Zone: "closure", Quantity: "rejects", Limit: 0.001},
			{Format: "PET", Machine: "labeller", Zone: "label panel", Quantity: "water", Limit: 1e-3, Area: 0.02},
		},
		Readings: []Value{
			{What: Plenum, At: "left knife", Want: 20e3, Off: 1600},
			{What: Plenum, At: "right knife", Want: 20e3, Off: 1600},
			{What: Current, At: "blower", Want: 20, Off: 1.6},
			{What: Temperature, At: "blower", Want: 325, Off: 6},
			{What: SlotGap, At: "left knife", Want: 1.5e-3, Off: 1e-4},
			{What: StandOff, At: "left knife", Want: 0.04, Off: 2e-3},
			{What: Speed, Format: "PET", Want: 1, Off: 0.03},
		},
		Filters: map[string][2]float64{"blower": {250, 1000}},
	}
}

const heading = "what,format,at,state,value,containers,failed,note\n"

func rowsOf(t *testing.T, text string) []Row {
	t.Helper()
	rows, err := Read("results.csv", strings.NewReader(heading+text))
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

const dryLabels = "water,PET,label panel,,8 mg,1,,\nwater,PET,label panel,,9 mg,1,,\nwater,PET,label panel,,10 mg,1,,\nwater,PET,label panel,,9 mg,1,,\n"

func TestLawVerdicts(t *testing.T) {
	for name, c := range map[string]struct {
		rows string
		want Verdict
		more int // of the camera
	}{
		"proven":              {"rejects,PET,camera,air on,,3000,0,\n" + dryLabels, Accepted, 0},
		"at half the speed":   {"rejects,PET,camera,air on,,3000,0,\nspeed,PET,,,0.5 m/s,,,\n" + dryLabels, NotEnough, 0},
		"equal weighings":     {"rejects,PET,camera,air on,,3000,0,\nwater,PET,label panel,,17 mg,1,,\nwater,PET,label panel,,17 mg,1,,\nwater,PET,label panel,,17 mg,1,,\n", NotEnough, 0},
		"equal, ten a sheet":  {"rejects,PET,camera,air on,,3000,0,\nwater,PET,label panel,,17 mg,10,,\nwater,PET,label panel,,17 mg,10,,\nwater,PET,label panel,,17 mg,10,,\n", Accepted, 0},
		"one failure, enough": {"rejects,PET,camera,air on,,3000,0,\nrejects,PET,camera,air on,,2000,1,\n" + dryLabels, Accepted, 0},
		"too few":             {"rejects,PET,camera,air on,,1000,0,\n" + dryLabels, NotEnough, 1995},
		"too many":            {"rejects,PET,camera,air on,,1000,20,\n" + dryLabels, NotAccepted, 0},
		"nothing measured":    {"speed,PET,,,1 m/s,,,\n", NotEnough, 2995},
		"wet labels":          {"rejects,PET,camera,air on,,3000,0,\n" + strings.ReplaceAll(dryLabels, " mg", "0 mg"), NotAccepted, 0},
		"two weighings":       {"rejects,PET,camera,air on,,3000,0,\nwater,PET,label panel,,8 mg,1,,\nwater,PET,label panel,,9 mg,1,,\n", NotEnough, 0},
	} {
		j := Judge(rowsOf(t, c.rows), promised(), Terms{})
		if j.Verdict != c.want {
			t.Errorf("%s: %s, want %s: %+v", name, j.Verdict, c.want, j.Promises)
		}
		if j.Promises[0].More != c.more {
			t.Errorf("%s: %d more containers, want %d", name, j.Promises[0].More, c.more)
		}
	}
}

func TestLawRejectsThatHandDriedContainersShareAreNotWater(t *testing.T) {
	rows := rowsOf(t, "rejects,PET,camera,air on,,40000,400,\nrejects,PET,camera,hand-dried,,40000,520,\n"+dryLabels)
	j := Judge(rows, promised(), Terms{})
	if j.Verdict != Accepted {
		t.Errorf("verdict %s: %s", j.Verdict, strings.Join(j.Promises[0].Says, "; "))
	}
	if len(j.Findings) == 0 || j.Findings[0].Code != "not water" {
		t.Errorf("findings %+v", j.Findings)
	}
	wet := Judge(rowsOf(t, "rejects,PET,camera,air on,,4000,400,\nrejects,PET,camera,hand-dried,,4000,4,\n"+dryLabels), promised(), Terms{})
	if wet.Verdict != NotAccepted {
		t.Errorf("a hundred times the rejects of dry containers: %s", wet.Verdict)
	}
	for _, f := range wet.Findings {
		if f.Code == "not water" {
			t.Error("water is taken for something else")
		}
	}
}

func TestLawEachFaultLeadsToItsFinding(t *testing.T) {
	const wet = "water,PET,label panel,,90 mg,1,,\nwater,PET,label panel,,95 mg,1,,\nwater,PET,label panel,,92 mg,1,,\n"
	plenum := func(left, right string) string {
		return "plenum,,left knife,," + left + ",,,\nplenum,,right knife,," + right + ",,,\n"
	}
	for name, c := range map[string]struct{ rows, want string }{
		"loaded filter":    {plenum("17 kPa", "17 kPa") + "current,,blower,,18 A,,,\nfilter,,blower,,900 Pa,,,\n", "filter"},
		"wide gap":         {plenum("17 kPa", "17 kPa") + "current,,blower,,22.5 A,,,\nslot gap,,left knife,,1.9 mm,,,\n", "slot gap"},
		"narrow gap":       {plenum("23 kPa", "22 kPa") + "current,,blower,,17 A,,,\nslot gap,,left knife,,1.2 mm,,,\n", "narrow gap"},
		"leak":             {plenum("16 kPa", "16 kPa") + "current,,blower,,23 A,,,\nslot gap,,left knife,,1.5 mm,,,\n", "leak"},
		"wrong rotation":   {plenum("7 kPa", "7 kPa") + "temperature,,blower,,30 degC,,,\nfilter,,blower,,90 Pa,,,\n", "rotation"},
		"slow blower":      {plenum("15 kPa", "15 kPa") + "current,,blower,,15 A,,,\nfilter,,blower,,190 Pa,,,\n", "slow"},
		"kinked hose":      {plenum("14 kPa", "21 kPa"), "branch"},
		"aim off":          {plenum("20 kPa", "20 kPa") + "stand-off,,left knife,,58 mm,,,\n" + wet, "aim"},
		"faster line":      {plenum("20 kPa", "20 kPa") + "speed,PET,,,1.25 m/s,,,\n" + wet, "line"},
		"drawn-back air":   {plenum("20 kPa", "20 kPa") + "temperature,,blower,,65 degC,,,\n", "hot air"},
		"more water comes": {plenum("20 kPa", "20 kPa") + "slot gap,,left knife,,1.5 mm,,,\n" + wet, "arrives"},
	} {
		j := Judge(rowsOf(t, c.rows), promised(), Terms{})
		if len(j.Findings) == 0 || j.Findings[0].Code != c.want {
			t.Errorf("%s: found %+v, want %s first", name, j.Findings, c.want)
			continue
		}
		if f := j.Findings[0]; len(f.Signs) == 0 || f.Do == "" {
			t.Errorf("%s: no signs or no advice: %+v", name, f)
		}
	}
	if j := Judge(rowsOf(t, plenum("20 kPa", "19.8 kPa")+"current,,blower,,20.3 A,,,\n"), promised(), Terms{}); len(j.Findings) != 0 {
		t.Errorf("all is right, yet found %+v", j.Findings)
	}
}

func TestLawWrongRowsAreLocatedAndTheRestRead(t *testing.T) {
	text := heading +
		"plenum,,left knife,,20 kPa,,,\n" + // 2
		"pressure,,left knife,,20 kPa,,,\n" + // 3
		"plenum,,,,20 kPa,,,\n" + // 4
		"plenum,,left knife,,20,,,\n" + // 5
		"rejects,PET,camera,on,,100,1,\n" + // 6
		"rejects,PET,camera,air on,,100,101,\n" + // 7
		"rejects,PET,camera,air on,,none,1,\n" + // 8
		"water,PET,closure,,-3 mg,1,,\n" + // 9
		"sound,,,,83 dB,,,\n" // 10
	rows, err := Read("results.csv", strings.NewReader(text))
	var lines []int
	for _, r := range rows {
		lines = append(lines, r.Line)
	}
	if diff := cmp.Diff([]int{2, 10}, lines); diff != "" {
		t.Error(diff)
	}
	for _, want := range []string{
		"results.csv:3:1: ", `known are "water", "drop"`, "results.csv:4:", "name of its outlet", "results.csv:5:21: ", "results.csv:6:", `say "air on", "air off", "hand-dried"`,
		"results.csv:7:", "among 100", "results.csv:8:", "whole number", "results.csv:9:", "below nothing",
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the errors lack %q:\n%v", want, err)
		}
	}
	var row *RowError
	if !errors.As(err, &row) {
		t.Error("the errors carry no place")
	}
	for name, text := range map[string]string{"empty": "", "wrong column": "what,where\n", "no what": "format\n", "open quote": heading + "\"water"} {
		if _, err := Read("r.csv", strings.NewReader(text)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestLawRowsAboutNothingOfTheJobAreTold(t *testing.T) {
	e := promised()
	e.Zones = []string{"all", "label panel", "closure"}
	rows := rowsOf(t, "rejects,PET,camera,air on,,600,0,\nrejects,pet,CAMERA,air off,,600,0,\nrejects,PET,camra,air on,,600,0,\nrejects,PED,camera,air on,,600,0,\n"+
		"water,PET,label pannel,,5 mg,1,,\nplenum,,left nife,,20 kPa,,,\ncurrent,,blowr,,9 A,,,\nsound,,,,83 dB,,,\n")
	kept, err := e.Kept("r.csv", rows)
	var lines []int
	for line := range strings.SplitSeq(err.Error(), "\n") {
		var n int
		if _, err := fmt.Sscanf(line, "r.csv:%d:1:", &n); err != nil {
			t.Errorf("no place in %q", line)
		}
		lines = append(lines, n)
	}
	if diff := cmp.Diff([]int{4, 5, 6, 7, 8}, lines); diff != "" {
		t.Error(diff, err)
	}
	for _, want := range []string{`the machine "camra"`, `known are "camera"`, `the zone "label pannel"`, "label panel", `the outlet "left nife"`, `the blower "blowr"`, `the format "PED"`} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is missing in %v", want, err)
		}
	}
	if len(kept) != 3 {
		t.Errorf("kept are %+v", kept)
	}
	if _, err := (Expected{}).Kept("r.csv", rows); err != nil {
		t.Errorf("nothing is known of any name, yet %v", err)
	}
}

func TestLawColumnsMayStandInAnyOrder(t *testing.T) {
	rows, err := Read("r.csv", strings.NewReader("\ufeffvalue,at,what\n\"1,5 mm\",knife,slot gap\n"))
	if err != nil || len(rows) != 1 || math.Abs(rows[0].Value-1.5e-3) > 1e-12 || rows[0].Containers != 1 {
		t.Errorf("%+v, %v", rows, err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(heading + dryLabels)
	f.Add("what\nrejects\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, _ := Read("r.csv", strings.NewReader(text))
		Judge(rows, promised(), Terms{})
	})
}

func TestLawEachSignIsSaid(t *testing.T) {
	const wet = "water,PET,label panel,,90 mg,1,,\nwater,PET,label panel,,95 mg,1,,\nwater,PET,label panel,,92 mg,1,,\n"
	at := func(left, right, amps string) string {
		return "plenum,,left knife,," + left + ",,,\nplenum,,right knife,," + right + ",,,\ncurrent,,blower,," + amps + ",,,\n"
	}
	for _, c := range []struct{ rows, code, sign string }{
		{at("17 kPa", "17 kPa", "18 A") + "filter,,blower,,900 Pa,,,\n", "filter", "the filter of blower drops 900 Pa; clean it is"},
		{at("17 kPa", "17 kPa", "18 A"), "filter", "less air is moved"},
		{at("17 kPa", "17 kPa", "22.5 A") + "slot gap,,left knife,,1.9 mm,,,\n", "slot gap", "1.90 mm instead of 1.50 mm"},
		{at("17 kPa", "17 kPa", "22.5 A") + "slot gap,,left knife,,1.9 mm,,,\n", "slot gap", "more air is moved"},
		{at("23 kPa", "22 kPa", "17 A") + "slot gap,,left knife,,1.2 mm,,,\n", "narrow gap", "the plenum pressure is 112 %"},
		{at("23 kPa", "22 kPa", "17 A") + "slot gap,,left knife,,1.2 mm,,,\n", "narrow gap", "less air is moved"},
		{at("16 kPa", "16 kPa", "23 A") + "slot gap,,left knife,,1.5 mm,,,\n", "leak", "the slot gaps are as set"},
		{at("16 kPa", "16 kPa", "20 A") + "temperature,,blower,,40 degC,,,\n", "leak", "cooler than expected"},
		{at("7 kPa", "7 kPa", "20 A"), "rotation", "no outlet reads more than 35 %"},
		{at("7 kPa", "7 kPa", "20 A") + "filter,,blower,,90 Pa,,,\n", "rotation", "less than half of its clean drop"},
		{at("15 kPa", "15 kPa", "15 A") + "filter,,blower,,190 Pa,,,\n", "slow", "drops less than expected"},
		{at("15 kPa", "15 kPa", "15 A") + "temperature,,blower,,40 degC,,,\n", "slow", "cooler than expected"},
		{at("14 kPa", "21 kPa", "20 A"), "branch", "left knife reads 70 %"},
		{at("14 kPa", "21 kPa", "20 A"), "branch", "the other outlets read more than expected"},
		{at("20 kPa", "20 kPa", "20 A") + "stand-off,,left knife,,58 mm,,,\n" + wet, "aim", "58.0 mm instead of 40.0 mm"},
		{at("20 kPa", "20 kPa", "20 A") + "stand-off,,left knife,,58 mm,,,\n" + wet, "aim", "does not arrive where it should"},
		{at("20 kPa", "20 kPa", "20 A") + "stand-off,,left knife,,58 mm,,,\n" + wet, "aim", "water is left: PET, label panel"},
		{at("20 kPa", "20 kPa", "20 A") + "speed,PET,,,1.25 m/s,,,\n", "line", "the belt speed is 125 %"},
		{at("20 kPa", "20 kPa", "17 A") + "temperature,,blower,,65 degC,,,\n", "hot air", "warmer than expected"},
		{at("20 kPa", "20 kPa", "17 A") + "temperature,,blower,,65 degC,,,\n", "hot air", "less air is moved"},
		{at("20 kPa", "20 kPa", "20 A") + "slot gap,,left knife,,1.5 mm,,,\n" + wet, "arrives", "water is left: PET, label panel"},
		{"rejects,PET,camera,air on,,4000,400,\nrejects,PET,camera,hand-dried,,4000,410,\nrejects,PET,camera,air off,,4000,400,\n", "not water", "of hand-dried containers: so much difference comes by chance"},
		{"rejects,PET,camera,air on,,4000,400,\nrejects,PET,camera,hand-dried,,4000,410,\nrejects,PET,camera,air off,,4000,400,\n", "not water", "turning the air off does not raise the rejects"},
	} {
		j := Judge(rowsOf(t, c.rows), promised(), Terms{})
		found := false
		for _, f := range j.Findings {
			found = found || f.Code == c.code && strings.Contains(strings.Join(f.Signs, "\n"), c.sign)
		}
		if !found {
			t.Errorf("%s: the sign %q is not said: %+v", c.code, c.sign, j.Findings)
		}
	}
}

// "not enough at 0 % confidence" was told where nothing could be told yet.
func TestLawWhatIsNotToldHasNoConfidence(t *testing.T) {
	p := Promise{Zone: "all", Quantity: "mass", Limit: 300e-6}
	for name, rows := range map[string][]Row{
		"nothing measured": nil,
		"one weighing":     {{What: Water, At: "all", Value: 200e-6, Containers: 1}},
	} {
		j := judge(p, rows, Expected{}, Terms{}.filled())
		if j.Verdict != NotEnough || !math.IsNaN(float64(j.Confidence)) || !math.IsNaN(float64(j.Doubt)) {
			t.Errorf("%s: %s, confidence %v, doubt %v", name, j.Verdict, j.Confidence, j.Doubt)
		}
	}
}
