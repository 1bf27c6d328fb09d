package study

import (
	"regexp"
	"strings"
	"testing"

	"leste/design"
	"leste/job"
	q "leste/quantity"
	"leste/render/text"
)

// studied is a study with a quantity in each of its sentences.
func studied() *design.Study {
	found := design.Found{
		Concept: "tilted knives", Job: &job.Job{Formats: []job.Format{{Name: "can of 66 mm"}}}, Works: true, Sure: true, Verdict: "met",
		Pressure: 20e3, Cost: 900, Power: 4.1e3, Reserve: 1.2, Length: 0.6,
		Remarks:    []design.Remark{{Text: "the air in the duct burns on touch (52.2 against 51 degC)", Brief: "surface-temperature 52.2 against 51 degC"}},
		Settings:   []design.Setting{{Format: "can of 66 mm", Group: "knives", Height: 0.058, Clearance: 0.068}},
		Departures: []design.Departure{{Variable: "slot gap", Value: "1.2 mm", Rule: "1.5 mm", RuleOf: "knives work within 60 mm", Departs: true}},
	}
	other := found
	other.Concept, other.Pressure, other.Length = "level knives", 200, 0.3
	return &design.Study{
		Job: "line with 40 mm rails", Found: []design.Found{found, other}, Reasons: []string{"It costs 900 EUR a year and draws 4.1 kW.", "Level knives fail: with more air than 25 kPa, can of 66 mm slips on the belt."},
		Front:  []design.Point{{Concept: "tilted knives", Cost: 900, Power: 4e3, Reserve: 1.2, Plenum: 20e3}, {Concept: "tilted knives", Cost: 400, Power: 1e3, Reserve: 1.1, Plenum: 300}},
		Breaks: []design.Break{{Input: "stand-off of left", Kind: q.KindLength, Value: 0.04, Move: 0.01, Share: 0.2}, {Input: "product", Kind: q.KindTemperature, Value: 290, Move: 5, Share: 0.3}},
		Miss: &design.Miss{
			Concept: "tilted knives", Binds: "with more air than 25 kPa, can of 66 mm slips", Case: "winter", Limit: "100 um", Value: "5.2 mm", Over: 52, Out: "170 mg lie within 3 mm of the belt",
			Changes: []design.Remedy{{What: "blow a second time, 0.6 m farther on", Left: 0.9, Against: []string{"with it can of 66 mm tips over"}}, {What: "have the product no colder than 25 degC", Left: 0.5}},
		},
	}
}

// Reasons, remarks, what was chosen and what stands in the way stayed in metric units. Source: an inch is 25.4 mm, a
// pound-force per square inch 6894.76 Pa (ISO 80000).
func TestReferenceSentencesOfAStudyFollowItsUnits(t *testing.T) {
	written := strings.Join(strings.Fields(Text(studied(), text.Style{Units: q.US, Width: 400})), " ")
	for _, want := range []string{
		"line with 40 mm rails", "with more air than 3.63 psi, can of 66 mm slips on the belt", "(126 against 123.8 °F)", "surface-temperature 126 against 123.8 °F",
		"0.0472 in", "0.0591 in", "knives work within 2.36 in", "0.00394 in is asked, 0.205 in stays", "170 mg lie within 0.118 in of the belt", "23.6 in farther on", "no colder than 77 °F",
		"but with it can of 66 mm tips over",
		"draws 4.1 kW.", "2.28 in", "2.68 in", "4.1 kW", "23.6 in", "9 °F", "may move by",
	} {
		if !strings.Contains(written, want) {
			t.Errorf("%q is missing", want)
		}
	}
	left := strings.NewReplacer("40 mm rails", "", "can of 66 mm", "").Replace(written)
	if metric := regexp.MustCompile(`\d (um|µm|mm|m|kPa|Pa|degC|°C|m/s|m3/s)\b`).FindAllString(left, -1); len(metric) > 0 || t.Failed() {
		t.Errorf("%q are left in\n%s", metric, Text(studied(), text.Style{Units: q.US}))
	}
	if si := Text(studied(), text.Style{Units: q.SI}); !strings.Contains(si, "(52.2 against 51 °C)") || !strings.Contains(si, "100 µm is asked, 5.2 mm stays") {
		t.Errorf("in SI the numbers of sentences are as they were:\n%s", si)
	}
}

// The length of a tilted outlet stood further down, and another one beside its concept without a word.
func TestLawAStudySaysWhatItsLengthsAre(t *testing.T) {
	if written := strings.Join(strings.Fields(Text(studied(), text.Style{})), " "); !strings.Contains(written, "Length: what the outlets take up along the line") {
		t.Error(written)
	}
}

// Sentences of the JSON had units as they are typed, "51 degC", which those of the text have not. Values that stand by
// themselves are as a job file writes them.
func TestLawSentencesOfTheJSONAreTypeset(t *testing.T) {
	s := studied()
	s.Aside = "70 mg of 0.3 g/m2 condense on the can of 66 mm2"
	s.Found[0].Job.Formats[0].Name = "can of 66 mm2"
	s.Found[0].Binds, s.Found[0].Fails = "50 g/m2 left", "it is turned by 44 deg"
	s.Found[0].Departures[0].RuleOf, s.Found[0].Departures[0].Value = "knives lean by 20 deg", "22 deg"
	s.Breaks[1].Kind, s.Breaks[1].Value, s.Breaks[1].Move = q.KindAngle, 0.4, 0.1
	data, err := JSON(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`"no_station_can": "70 mg of 0.3 g/m² condense on the can of 66 mm2"`, `"binds": "50 g/m² left"`, `"fails_on": "it is turned by 44°"`, `(52.2 against 51 °C)`,
		`"value": "22 deg"`, `"rule_rests_on": "knives lean by 20°"`, `"what": "have the product no colder than 25 °C"`, `"limit": "100 um"`, `"as_designed": "22.9 deg"`,
		`"with it can of 66 mm tips over"`,
	} {
		if !strings.Contains(string(data), want) {
			t.Errorf("%s is not in\n%s", want, data)
		}
	}
}

// The figures at the end of a remark were left as they were where a sentence of few words took them for a name; concepts
// with commas in their names were listed with commas between them.
func TestLawRemarksAndNamesOfAStudyRead(t *testing.T) {
	s := studied()
	s.Found[0].Remarks[0] = design.Remark{Text: "ducts behind blower: the air in the duct is hot (52.2 against 51 degC)", Brief: "x"}
	s.Found[1].Remarks = []design.Remark{{Text: "x", Brief: "ducts behind blower: the air in the duct (60.6 against 51 degC)"}}
	s.Found[0].Concept, s.Found[0].Also = "as found, other air", []string{"as found, moved", "as found, moved and opened"}
	written := strings.Join(strings.Fields(Text(s, text.Style{Units: q.US, Width: 400})), " ")
	for _, want := range []string{
		"(126 against 123.8 °F)", "(141.1 against 123.8 °F)", `The same outlets as of "as found, other air": "as found, moved", "as found, moved and opened".`,
	} {
		if !strings.Contains(written, want) {
			t.Errorf("%q is missing in\n%s", want, written)
		}
	}
}

// One column held inches of water beside pounds-force per square inch.
func TestLawAColumnOfAStudyHasOneUnit(t *testing.T) {
	for units, want := range map[q.System][]string{q.SI: {"20 kPa", "0.2 kPa", "0.3 kPa"}, q.US: {"2.9 psi", "0.029 psi", "0.0435 psi"}} {
		written := Text(studied(), text.Style{Units: units})
		for _, w := range want {
			if !strings.Contains(written, w) {
				t.Errorf("%s: %q is missing in\n%s", units, w, written)
			}
		}
	}
}

// The same plenum was told as 0.247 psi in a table, as 6.8 inH2O in sentences and by its moves, and watts stood below
// kilowatts.
func TestLawAStudyHasOneUnitForPlenumsAndPower(t *testing.T) {
	s := studied()
	for i, p := range []q.Gauge{1720, 2700} {
		s.Found[i].Pressure, s.Front[i].Plenum = p, p
	}
	s.Found[0].Power, s.Front[0].Power = 590, 590
	s.Reasons = []string{"with more air than 2.7 kPa, it slips; less than 1 kPa is not tried."}
	s.Miss.Binds = "with more air than 1.7 kPa, it slips"
	s.Breaks = []design.Break{{Input: "plenum pressure", Kind: q.KindGauge, Value: 1720, Move: 12}}
	written := Text(s, text.Style{Units: q.US})
	if strings.Contains(written, "inH2O") || strings.Count(written, " psi") != 4+3+1 {
		t.Errorf("pressures have several units in\n%s", written)
	}
	if strings.Contains(written, "590 W") || !strings.Contains(written, "0.59 kW") {
		t.Errorf("power has several units in\n%s", written)
	}
}

func TestLawAReserveOfPlentyIsNotToldToTheHundredth(t *testing.T) {
	s := studied()
	s.Front = append(s.Front, design.Point{Concept: "tilted knives", Cost: 2000, Power: 2e3, Reserve: 15.98, Plenum: 1e3})
	if written := Text(s, text.Style{Units: q.SI}); strings.Contains(written, "15.98") || !strings.Contains(written, "over 3") {
		t.Errorf("%s", written)
	}
}

// A study told "44 deg" beside a table with 1°, and of the worst 0.00 where a 630th is left of the reserve.
func TestLawAStudyWritesUnitsAndSmallReservesOneWay(t *testing.T) {
	s := studied()
	s.Found[0].Departures = append(s.Found[0].Departures, design.Departure{Variable: "tilt", Value: "44 deg", Rule: "30 deg", RuleOf: "as a knife of 5 deg"})
	s.Found[0].Job.Next = []job.NextMachine{{Name: "knife of 5 deg"}}
	s.Breaks = append(s.Breaks, design.Break{Input: "tilt of left", Kind: q.KindAngle, Value: 0.7, Move: 0.0175, Share: 0.4})
	s.Reasons = append(s.Reasons, "It departs in the tilt (44 deg, rule 30 deg).")
	s.Found[1].Reserve, s.Miss.Changes[1].Left = 1./630, 0.0021
	for _, units := range []q.System{q.SI, q.US} {
		written := strings.Join(strings.Fields(Text(s, text.Style{Units: units, Width: 300})), " ")
		for _, want := range []string{"(44°, rule 30°)", "44° 30° as a knife of 5 deg", "tilt of left less 1°", " 0.0016 ", " 0.0021 "} {
			if !strings.Contains(written, want) {
				t.Errorf("%q is missing in\n%s", want, written)
			}
		}
	}
	if got := factor(1. / 630); got != "0.0016" {
		t.Errorf("of an option %s", got)
	}
}

// Three digits of a lip that stands 143.6 mm off are 144 mm, where a scale tells tenths.
func TestLawPlacesAreToldAsFinelyAsTheyAreSet(t *testing.T) {
	s := studied()
	s.Found[0].Settings = []design.Setting{{Format: "can of 66 mm", Group: "knives", Height: 0.0584, Clearance: 0.1436}, {Format: "can of 66 mm", Group: "knives", Height: 0.30607, Clearance: 0.0635}}
	for units, want := range map[q.System][]string{q.SI: {"58.4 mm", "143.6 mm", "306.1 mm", "63.5 mm"}, q.US: {"2.3 in", "5.65 in", "12.05 in", "2.5 in"}} {
		written := Text(s, text.Style{Units: units})
		for _, w := range want {
			if !strings.Contains(written, w) {
				t.Errorf("%s: %q is missing in\n%s", units, w, written)
			}
		}
	}
}

// A study of an interrupted search began with what it costs, and said only afterwards that nothing of it is confirmed.
func TestLawAnInterruptedStudySaysSoFirst(t *testing.T) {
	s := studied()
	s.Interrupted = true
	written := Text(s, text.Style{})
	note, reason := strings.Index(written, "The search was interrupted"), strings.Index(written, "It costs 900")
	if note < 0 || reason < note {
		t.Errorf("the note is at %d, the cost at %d", note, reason)
	}
}

// Knives that were told to fail with about 0.68 of what is asked had 1.16 by an assessment of their own job file, and the
// table said of every verdict that it is the assessment's.
func TestLawAVerdictOfTheSearchAloneIsNotToldAsTheAssessments(t *testing.T) {
	s := &design.Study{Job: "line", Found: []design.Found{{Concept: "level knives", Fails: "stays too wet", Reserve: 0.68}}}
	got := strings.Join(strings.Fields(Text(s, text.Style{Width: 100})), " ")
	if !strings.Contains(got, "about 0.68") || !strings.Contains(got, "and so is a verdict beside it") {
		t.Error(got)
	}
}
