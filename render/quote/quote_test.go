package quote

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	leste "leste"
	"leste/accept"
	"leste/cost"
	"leste/job"
	"leste/physics"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/render/document"
	"leste/render/html"
	"leste/render/pdf"
	"leste/render/sheets"
	"leste/render/words"
)

var day = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// terms has costs that appear nowhere else.
func terms() Terms {
	return Terms{
		Kind: "budget", Number: "Q-7", Revision: "A", Date: day, ValidUntil: day.AddDate(0, 2, 0), For: []string{"Ribeira Spring"}, Currency: "EUR", Discount: 5, Invented: true,
		Items: []Item{
			{Name: "Air knife", Part: "AK-300", Quantity: 2, Unit: "pc", Cost: 1133.17, Price: 1985},
			{Name: "Blower", Quantity: 1, Unit: "pc", Cost: 4319.71, Price: 6890},
		},
	}
}

// result is a whole answer with numbers that are easy to find again.
func result(formats int, name func(int) string) *leste.Result {
	r := &leste.Result{
		Job: "Can line", Method: "quick", Verdict: leste.Undecided, Evidence: leste.Calculated,
		Assumed: []job.Assumed{{Path: "/arrives/water", Value: "50 g/m2", Low: "20 g/m2", High: "100 g/m2", Source: "judgement", Matters: 1.9}},
		Ask:     []string{"water (arrives): 50 g/m2 was assumed"},
		Air: leste.AirResult{
			Flow: 0.2137, Limits: "the slots", Outlets: []leste.OutletResult{{Name: "left knife", Plenum: 20130, Jet: 177.3, Flow: 0.1069, Thrust: 18.3, NonUniformity: 0.013, Temperature: 325.4}},
			Blowers: []leste.BlowerResult{{Name: "blower", SpeedRatio: 1, Inlet: 0.1312, Rise: 21400, Shaft: 3771, Grid: 4731, Discharge: 326.25, Motor: 7500, Reserve: 0.34}}, Parts: []leste.LossResult{{Name: "duct", Loss: 234, Share: 0.011}},
		},
		Cost:  leste.CostResult{Currency: "EUR", Energy: 28386 * 3.6e6, Cost: 4542, CompressedEnergy: 103112 * 3.6e6, CompressedCost: 16498, PowerRatio: 0.217, Band: q.Band{Likely: 0.217, Low: 0.14, High: 0.29}},
		Sound: leste.SoundResult{Assessed: true, Power: 99.8, At1m: 91.3, Low: 87, High: 96, Limit: 85, Verdict: leste.NotMet},
		Helps: []leste.Help{{What: "add an air knife above", Ratio: 0.47, Air: true}}, Cautions: []string{"measure the sound"},
		Notes:     []relation.Note{{Severity: relation.Caution, Text: "the slot is narrow", Value: math.NaN(), Limit: math.NaN()}},
		Relations: []string{"thrust"},
	}
	for i := range formats {
		r.Formats = append(r.Formats, leste.FormatResult{
			Name: name(i), Verdict: leste.Undecided, Case: "surge", Speed: 0.71, Pitch: 0.0803, Container: q.Band{Likely: 263e-6, Low: 101e-6, High: 640e-6},
			Zones: []leste.ZoneResult{
				{
					Name: "all", Area: 0.03, Left: q.Band{Likely: 263e-6, Low: 101e-6, High: 640e-6}, PerArea: q.Band{Likely: 8.7e-3, Low: 3e-3, High: 21e-3}, Largest: q.Band{Likely: 4.6e-3, Low: 2.9e-3, High: 7.3e-3}, Cause: "drops",
					Requirements: []leste.RequirementResult{{Machine: "packer", Quantity: "mass", Limit: 300e-6, Value: q.Band{Likely: 263e-6, Low: 101e-6, High: 640e-6}, Verdict: leste.Undecided, Reserve: 1.14, Case: "surge"}},
				},
				{Name: "closure", Cause: "trapped water", Requirements: []leste.RequirementResult{{Machine: "camera", Quantity: "rejects", Limit: 0.001, Value: q.Band{Likely: 0.0004, Low: 0.0001, High: 0.002}, Verdict: leste.Undecided, Reserve: 2.5, Case: "surge"}}},
			},
			Standing: []leste.Push{{Way: "tip", Factor: 0.73, Case: "lubricated belt", Needs: "a guide rail"}, {Way: "turned", Factor: math.Inf(1)}},
			Balance:  leste.Balance{In: 2.3e-3, Left: 263e-6},
		})
		r.Cases = append(r.Cases, leste.CaseResult{Name: "nominal", Format: name(i), Verdict: leste.Met, Reserve: 1.3}, leste.CaseResult{Name: "surge", Format: name(i), Verdict: leste.Undecided, Reserve: 1.14})
	}
	return r
}

func short(i int) string { return fmt.Sprintf("can %d", i) }

func input(t testing.TB, r *leste.Result, language string) *Input {
	t.Helper()
	w, err := words.New(language, words.SI)
	if err != nil {
		t.Fatal(err)
	}
	j := &job.Job{Name: r.Job}
	job.Fill(j)
	length := accept.Setting{What: accept.StandOff, At: "left knife", Others: []string{"right knife"}, Value: 0.04, Kind: q.KindLength, Reach: 0.024, Up: true, Down: true}
	return &Input{
		Job: j, Result: r, Words: w, Offer: terms().Offer(), Cards: physics.Cards().Get,
		Blowers:    []BlowerCurve{{Name: "blower", Curve: [][2]float64{{0.05, 24000}, {0.13, 21400}, {0.2, 12000}}, System: [][2]float64{{0.05, 3000}, {0.13, 21400}}, Operating: [2]float64{0.1312, 21400}}},
		Loads:      []Load{{Blower: "blower", Rated: 7500, FullLoad: 14.2, Running: 9.83, PowerFactor: 0.85, Voltage: 400, Frequency: 50, Signals: []string{"run"}}},
		Tolerances: []accept.Tolerance{{Setting: length, Less: 0.0091, More: 0.0123}},
		Limits:     []accept.Tolerance{{Setting: accept.Setting{What: accept.BeltSpeed, Value: 1, Kind: q.KindRatio, Up: true}, Less: math.NaN(), More: 0.17}},
	}
}

// read returns the text of a PDF, or skips the test where poppler is not installed.
func read(t *testing.T, d *document.Document) string {
	t.Helper()
	return strings.Join(strings.Fields(extracted(t, d, "-layout")), " ")
}

// extracted is what poppler reads in the PDF of a paper, in a form of its own; without poppler the test is skipped.
func extracted(t *testing.T, d *document.Document, form string) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext (Debian package poppler-utils) is not installed")
	}
	var b bytes.Buffer
	if _, err := pdf.WriteDocument(&b, d); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "d.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", form, path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Source: poppler reads the PDF back; the figures are those of the Result, rounded as documents print them.
func TestReferenceThePaperHoldsTheFiguresOfTheResult(t *testing.T) {
	text := read(t, Quotation(input(t, result(2, short), "en")))
	for _, want := range []string{
		"260 (100 to 640) mg", "300 mg", "1.1", "surge", "0.040 (0.010 to 0.20) %", "0.1 %", "20.1 kPa", "177 m/s", "18.3 N", "3.77 kW", "4.73 kW", "53.1 °C", "7.5 kW", "34 %", "91.3 dB", "28 386 kWh", "4 542 EUR",
		"22 % (14 % to 29 %)", "0.73", "A guide rail", "× 1.9", "50 g/m²", "17 %", "−9.1 / +12 mm", "Air knife", "10 860", "10 317", "Invented data", "× 0.47", "The slot is narrow", "4.6 (2.9 to 7.3) mm",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the quotation lacks %q", want)
		}
	}
}

// The offer for a station on compressed air compared it with itself.
func TestStationOnCompressedAirIsComparedWithABlower(t *testing.T) {
	r := result(1, short)
	r.Cost.Energy, r.Cost.Cost = r.Cost.CompressedEnergy, r.Cost.CompressedCost
	r.Cost.BlowerEnergy, r.Cost.BlowerCost = 21400*3.6e6, 3424
	text := read(t, Quotation(input(t, r, "en")))
	for _, want := range []string{"103 112 kWh", "21 400 kWh", "A blower at the same thrust", "of the power of this station", "over the year it takes 21 % of its energy"} {
		if !strings.Contains(text, want) {
			t.Errorf("the quotation lacks %q", want)
		}
	}
	if strings.Contains(text, "Compressed air at the same thrust") {
		t.Error("the station is compared with compressed air")
	}
}

// every returns the text of all papers and lists that a customer may hold.
func every(t *testing.T, in *Input) string {
	t.Helper()
	var all strings.Builder
	for _, d := range []*document.Document{Quotation(in), SetUp(in), Acceptance(in), Risk(in), Survey(in.Words, in.Head, day)} {
		if err := html.Write(&all, d); err != nil {
			t.Fatal(err)
		}
	}
	for _, l := range Lists(in) {
		b, err := sheets.CSV(l)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(b)
	}
	return carried.ReplaceAllString(all.String(), "")
}

// carried are the fonts of a page, whose code may spell anything.
var carried = regexp.MustCompile(`base64,[A-Za-z0-9+/=]+`)

func TestLawNoCostReachesTheCustomer(t *testing.T) {
	in := input(t, result(2, short), "en")
	text := strings.NewReplacer("\u00a0", "", " ", "", ",", ".").Replace(every(t, in))
	internal := strings.NewReplacer("\u00a0", "", " ", "").Replace(read(t, Internal(in, terms())))
	for _, secret := range []string{"1133.17", "4319.71", "2266.34", "6586.05", "Margin"} {
		if strings.Contains(text, secret) {
			t.Errorf("the customer reads %s", secret)
		}
		if !strings.Contains(internal, secret) {
			t.Errorf("the internal sheet lacks %s", secret)
		}
	}
}

func TestLawEveryWordIsTranslated(t *testing.T) {
	for _, language := range words.Languages() {
		text := every(t, input(t, result(3, short), language))
		if i := strings.IndexByte(text, '['); i >= 0 && strings.Contains(text[i:min(i+40, len(text))], ".") {
			t.Errorf("%s: a word is missing near %q", language, text[i:min(i+40, len(text))])
		}
		if strings.Contains(text, "%!") {
			t.Errorf("%s: a text has a place without a value", language)
		}
	}
	de := read(t, Quotation(input(t, result(1, short), "de")))
	for _, want := range []string{"Richtangebot", "260 (100 bis 640) mg", "Unentschieden", "2. März 2026", "53,1 °C", "ganzer Behälter"} {
		if !strings.Contains(de, want) {
			t.Errorf("the German paper lacks %q", want)
		}
	}
}

func TestLawTwelveFormatsWithLongNamesFit(t *testing.T) {
	long := func(i int) string { return fmt.Sprintf("%s %d", strings.Repeat("Sondergebindeausführung", 3), i) }
	in := input(t, result(12, long), "de")
	var b bytes.Buffer
	if _, err := pdf.WriteDocument(&b, Quotation(in)); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 5<<20 {
		t.Errorf("the paper takes %d bytes", b.Len())
	}
	text := read(t, Quotation(in))
	if !strings.Contains(text, "11") {
		t.Error("the twelfth format is missing")
	}
}

func TestLawAnEmptyResultGivesPapers(t *testing.T) {
	in := input(t, &leste.Result{Job: "air side"}, "en")
	in.Tolerances, in.Limits, in.Blowers, in.Loads = nil, nil, nil, nil
	if text := every(t, in); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Error("a number that is not known is printed as such")
	}
}

func TestLawAKeptQuotationReopensWithItsNumbers(t *testing.T) {
	in := input(t, result(2, short), "en")
	water := make([]float64, 500)
	for i := range water {
		water[i] = math.Exp(-float64(i))
	}
	water[7], water[8], water[9] = math.NaN(), math.Inf(1), math.Copysign(0, -1)
	rounded := make([]float64, 500)
	for i := range rounded {
		rounded[i] = float64(i%37) / 1000
	}
	rounded[7], rounded[8], rounded[9] = math.NaN(), math.Inf(-1), math.Copysign(0, -1)
	in.Result.Formats[0].Map = &leste.Map{Rows: 20, Cols: 25, Water: water, Press: rounded}
	kept := Archive{Version: ArchiveVersion, JobName: "job.yaml", JobFile: "leste: 1", Result: *in.Result, Terms: terms(), Blowers: in.Blowers, Loads: in.Loads, Tolerances: in.Tolerances, Limits: in.Limits}
	data, err := kept.Pack()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte(squeezedMark)) || !bytes.Contains(data, []byte(writtenMark)) {
		t.Error("lists are not kept in both ways")
	}
	if again, err := kept.Pack(); err != nil || !bytes.Equal(data, again) {
		t.Error("two keepings of one quotation differ")
	}
	if !IsArchive(data) || IsArchive([]byte("leste: 1")) {
		t.Error("a kept quotation is not told from a job file")
	}
	got, err := Unpack(data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(kept, got, cmpopts.EquateNaNs(), cmpopts.IgnoreUnexported(accept.Setting{})); diff != "" {
		t.Error(diff)
	}
	if _, err := Unpack(bytes.Replace(data, []byte(`"leste_quotation":2`), []byte(`"leste_quotation":99`), 1)); err == nil || !strings.Contains(err.Error(), "newer") {
		t.Errorf("a newer file gives %v", err)
	}
	for _, bad := range []string{"{}x", `{"leste_quotation":1,"quotation":{"Result":{"Cost":{"Cost":"many"}}}}`, `{"leste_quotation":1,"quotation":7}`, `{"leste_quotation":2,"quotation":{"Result":{"Formats":[{"Map":{"Water":"deflated float64: AAAA"}}]}}}`, `{"leste_quotation":2,"quotation":{"Result":{"Formats":[{"Map":{"Water":"deflated numbers: AAAA"}}]}}}`, `{"leste_quotation":2,"quotation":{"Result":{"Formats":[{"Map":{"Water":"wet"}}]}}}`} {
		if _, err := Unpack([]byte(bad)); err == nil {
			t.Errorf("%s opens", bad)
		}
	}
}

func TestLawAQuotationThatWasKeptWithPlainListsReopens(t *testing.T) {
	numbers := strings.Repeat("0.25,", 99) + "0.5"
	a, err := Unpack([]byte(`{"leste_quotation":1,"quotation":{"Result":{"Formats":[{"Map":{"Water":[` + numbers + `]}}]}}}`))
	if err != nil {
		t.Fatal(err)
	}
	if got := a.Result.Formats[0].Map.Water; len(got) != 100 || got[0] != 0.25 || got[99] != 0.5 {
		t.Errorf("%d numbers, %v", len(got), got)
	}
}

func TestLawTermsAreChecked(t *testing.T) {
	good, err := ReadTerms("terms.yaml", []byte("kind: firm\nnumber: A\ndate: 2026-03-02\nitems:\n  - { name: a, quantity: 2, price: 10, cost: 4 }\n"))
	if err != nil || good.Offer().Net() != 20 || good.Date.Year() != 2026 {
		t.Errorf("%+v, %v", good, err)
	}
	for text, want := range map[string]string{
		"kind: gift": "budget or firm", "discount_pct: 100": "below 100", "items: [{ name: a }]": "quantity is missing", "items: [{ quantity: 1, price: -1 }]": "price is -1",
		"kind: firm\ncolour: red": "terms.yaml:2", "number: [": "terms.yaml:2:1: ", "date: 2026-03-02\nvalid_until: 2026-01-01": "before date",
	} {
		if _, err := ReadTerms("terms.yaml", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, want something about %q", text, err, want)
		}
	}
}

func TestLawWhatATemplateCannotUseIsToldAndTheRestUsed(t *testing.T) {
	w, err := words.New("en", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	var logo bytes.Buffer
	if err := png.Encode(&logo, image.NewGray(image.Rect(0, 0, 4, 2))); err != nil {
		t.Fatal(err)
	}
	tpl, err := ReadTemplate(map[string][]byte{
		"letterhead.yaml": []byte("name: Ponta Clara\nlines: [a, b]\n"), "logo.png": logo.Bytes(), "logo.jpg": []byte("no picture"),
		"intro.txt": []byte("For {{.Job.Name}}"), "scope.txt": []byte("line one\n{{.Job.Nothing}}"), "closing.txt": []byte("a\nb\n{{if}}"),
		"words.csv": []byte("drawing.plan,Layout,\nno.such,a,b\n"), "song.mp3": nil,
	}, w)
	for _, want := range []string{"logo.jpg is no picture", "closing.txt:3", "words.csv:2", "song.mp3 has no place"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error lacks %q: %v", want, err)
		}
	}
	if tpl.Head.Name != "Ponta Clara" || len(tpl.Head.Logo) == 0 || tpl.Words.T("drawing.plan") != "Layout" {
		t.Errorf("the rest is not used: %+v", tpl.Head)
	}
	texts, err := tpl.Texts(&job.Job{Name: "line 2"}, &leste.Result{}, Offer{})
	if texts["intro"] != "For line 2" {
		t.Errorf("intro %q", texts["intro"])
	}
	if err == nil || !strings.Contains(err.Error(), "scope.txt:2") {
		t.Errorf("the wrong text is not located: %v", err)
	}
}

func TestLawTheWayOfTheAirEndsAtTheOutlets(t *testing.T) {
	in := input(t, result(1, short), "en")
	in.Job.AirSupply.Branches = []job.Branch{{Name: "duct", From: "blower", To: "wye"}, {Name: "hose", From: "wye", To: "left knife"}, {Name: "back", From: "wye", To: "blower"}}
	spots, joins := in.way()
	levels := map[string]int{}
	for _, s := range spots {
		levels[s.name] = s.level
	}
	if levels["left knife"] < levels["wye"] || len(joins) != 4 {
		t.Errorf("levels %v, joins %v", levels, joins)
	}
	in.Job.AirSupply.Branches = in.Job.AirSupply.Branches[:2]
	spots, _ = in.way()
	if got := len(spots); got != 4 || spots[1].level != 1 {
		t.Errorf("places %+v", spots)
	}
	if d := in.airWay(); d == nil || d.Width > figureWidth || d.Height > 60 {
		t.Errorf("figure %+v", d)
	}
}

func BenchmarkQuotation(b *testing.B) {
	in := input(b, result(3, short), "en")
	for b.Loop() {
		if _, err := pdf.WriteDocument(&bytes.Buffer{}, Quotation(in)); err != nil {
			b.Fatal(err)
		}
	}
}

func TestLawWhatIsSaidOfSeveralFormatsIsSaidOnce(t *testing.T) {
	in := input(t, result(3, short), "en")
	nan := math.NaN()
	in.Result.Notes = []relation.Note{
		{Severity: relation.Info, Text: "can 0: the end follows the trade", Value: nan, Limit: nan},
		{Severity: relation.Caution, Text: "the slot is narrow", Value: 2, Limit: 1},
		{Severity: relation.Info, Text: "can 1: the end follows the trade", Value: nan, Limit: nan},
		{Severity: relation.Info, Text: "can 1: the crown is assumed", Value: nan, Limit: nan},
		{Severity: relation.Info, Text: "can 2: the end follows the trade", Value: nan, Limit: nan},
		{Severity: relation.Info, Text: "can 2: the crown is assumed", Value: nan, Limit: nan},
		{Severity: relation.Info, Text: "can 0: a film is thick", Value: 2, Limit: nan},
		{Severity: relation.Info, Text: "can 1: a film is thick", Value: 3, Limit: nan},
	}
	var got []string
	for _, n := range in.gathered(in.Result.Notes) {
		got = append(got, n.Text)
	}
	want := []string{"Every format: the end follows the trade", "The slot is narrow", "can 1, can 2: the crown is assumed", "Can 0: a film is thick", "Can 1: a film is thick"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Sentences of the result and tables of the set-up sheet kept millimetres in papers for the other system of units.
func TestLawPapersInUSUnitsHaveNoOthers(t *testing.T) {
	metric := regexp.MustCompile(`[0-9][\s\x{a0}](?:mm|cm|m|µm|m/s|kg|kg/s|g/s|m³/h|k?Pa|m?bar|°C|K|k?W|N|W/\(m² K\))(?:[\s\x{a0},.;:<)]|$)`)
	for _, language := range words.Languages() {
		r := result(1, short)
		r.Helps = append(r.Helps, leste.Help{What: "rinse 15 K warmer", Ratio: 0.9}, leste.Help{What: "blow a second time with the same outlets, 0.6 m farther on", Ratio: 0.8})
		r.Cautions = append(r.Cautions, "Pressures above 50 kPa and air above 100 degC are not covered.")
		r.Formats[0].Standing[0].Needs = "a guide rail on the left side at 30 mm above the belt or higher"
		r.Assumed = append(r.Assumed, job.Assumed{Path: "/stations/0/outlets/0/stand_off", Value: "40 mm", Low: "5 mm", High: "60 mm", Source: "judgement"})
		r.Ask = append(r.Ask, "stand off (stations 1, outlets 1): 40 mm was assumed (5 mm to 60 mm)")
		in := input(t, r, language)
		in.Words.Units = words.US
		in.Job.Stations = []job.Station{{Name: "before the packer", Frames: []job.Frame{{Name: "frame", Axes: []job.Axis{{Axis: "height", Low: "0 mm", High: "80 mm", Step: "5 mm"}}, Settings: []job.Setting{{Format: "can 0", Height: q.Known(q.Millimetres(10))}}}}}}
		text := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(strings.ReplaceAll(every(t, in), "<td", " <td"), "")
		for _, at := range metric.FindAllStringIndex(text, -1) {
			if near := text[max(at[0]-30, 0):min(at[1]+20, len(text))]; !strings.Contains(near, "1 m") && !strings.Contains(near, "4.73\u00a0kW") && !strings.Contains(near, "4,73\u00a0kW") {
				t.Errorf("%s: metric in %q", language, near)
			}
		}
		for _, want := range []string{"27\u00a0°F", "0.39\u00a0in", "psi"} {
			if !strings.Contains(text, want) && !strings.Contains(text, strings.ReplaceAll(want, ".", ",")) {
				t.Errorf("%s: the papers lack %q", language, want)
			}
		}
	}
}

// A panel and the list below it said twice that the figures are no certificate and who may do the work.
func TestLawCautionsAreSaidOnce(t *testing.T) {
	for _, language := range words.Languages() {
		in := input(t, result(1, short), language)
		in.Result.Cautions = nil
		for _, c := range cost.Cautions(cost.Conditions{}) {
			in.Result.Cautions = append(in.Result.Cautions, c.Text)
		}
		var d document.Document
		in.cautions(&d)
		panel, list := d.Blocks[1].(document.Panel), d.Blocks[2].(document.List)
		if len(panel.Items) != 2 || panel.Text != "" || len(list.Items) != len(in.Result.Cautions)-2 {
			t.Errorf("%s: the panel says %q and %q, the list %d more", language, panel.Text, panel.Items, len(list.Items))
		}
		in.Result.Cautions = []string{"measure the sound"}
		d = document.Document{}
		in.cautions(&d)
		if panel := d.Blocks[1].(document.Panel); panel.Text == "" || len(panel.Items) != 0 {
			t.Errorf("%s: without them the panel says %q", language, panel.Text)
		}
	}
}
