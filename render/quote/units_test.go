package quote

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/render/drawing"
	"leste/render/words"
)

// The survey sheet offered metric units whatever the paper's were.
func TestLawTheSurveySheetAsksInTheUnitsOfThePaper(t *testing.T) {
	hint := func(units words.Units, v any) string { return unitsOf(reflect.TypeOf(v), units) }
	for _, c := range []struct {
		units words.Units
		v     any
		want  string
	}{
		{words.SI, q.Maybe[q.Speed]{}, "m/s"},
		{words.US, q.Maybe[q.Speed]{}, "ft/min"},
		{words.Both, q.Maybe[q.Speed]{}, "m/s, ft/min"},
		{words.SI, q.Maybe[q.Temperature]{}, "°C"},
		{words.US, q.Maybe[q.Temperature]{}, "°F"},
		{words.US, q.Maybe[q.Ratio]{}, "%"},
	} {
		if got := hint(c.units, c.v); got != c.want {
			t.Errorf("%s: %T is asked for in %q, want %q", c.units, c.v, got, c.want)
		}
	}
}

func TestLawToleranceOfNothingHasNoSign(t *testing.T) {
	in := input(t, result(1, short), "en")
	s := in.Tolerances[0]
	s.Less, s.More = 0, 0.02
	if got := strings.ReplaceAll(in.move(s, true), "\u00a0", " "); got != "0 / +20 mm" {
		t.Errorf("a tolerance reads %q", got)
	}
}

// A paper in both units had tolerances and charts in one. Source: an inch is 25.4 mm (ISO 80000).
func TestReferenceAPaperInBothUnitsHasMovesAndChartsInBoth(t *testing.T) {
	in := input(t, result(1, short), "en")
	s := in.Tolerances[0]
	s.Less, s.More, s.MoreFree = 0.0091, 0.02, true
	for units, want := range map[words.Units][3]string{
		words.SI:   {"−9.1 / > +20 mm", "+10 mm", "0 mm"},
		words.US:   {"−0.36 / > +0.79 in", "+0.39 in", "0 in"},
		words.Both: {"−9.1 / > +20 mm (−0.36 / > +0.79 in)", "+10 mm (+0.39 in)", "0 mm"},
	} {
		in.Words.Units = units
		for i, got := range []string{in.move(s, true), in.signed(0.01, q.KindLength), in.signed(0, q.KindLength)} {
			if got = strings.ReplaceAll(got, "\u00a0", " "); got != want[i] {
				t.Errorf("%s: %q, want %q", units, got, want[i])
			}
		}
		var drawn letters
		in.curve(in.Blowers[0]).Play(&drawn)
		texts := strings.Join(drawn.texts, "\n")
		if si, us := strings.Contains(texts, "inlet flow m³/h"), strings.Contains(texts, "inlet flow cfm"); si != (units != words.US) || us != (units != words.SI) {
			t.Errorf("%s: the chart has m³/h: %v, cfm: %v", units, si, us)
		}
		if si, us := strings.Contains(texts, "rise kPa"), strings.Contains(texts, "rise psi"); si != (units != words.US) || us != (units != words.SI) {
			t.Errorf("%s: the chart has kPa: %v, psi: %v", units, si, us)
		}
	}
	in.Words.Units = words.Both
	if got := strings.ReplaceAll(in.signed(0.0254, q.KindLength), "\u00a0", " "); got != "+25.4 mm (+1 in)" {
		t.Errorf("an inch reads %q", got)
	}
	if got := minus(in.Words.Say("-20 mm")); strings.Contains(got, "-") || strings.Count(got, "−") != 2 {
		t.Errorf("the end of a scale reads %q", got)
	}
}

// Settings on scales that read far more than nothing, as those of a job's own frames may, were told to two digits: of 192 mm,
// with 1.2 mm to spare, the sheet had the technician set 190.
func TestLawSettingsOfScalesAreToldAsTheyAreSet(t *testing.T) {
	in := input(t, result(1, short), "en")
	for v, want := range map[float64]string{0.192: "+192 mm", -0.1034: "−103.4 mm", 1.25: "+1250 mm", 0.0003: "+0.3 mm"} {
		if got := strings.NewReplacer("\u00a0", " ", "\u202f", "").Replace(in.signed(v, q.KindLength)); got != want {
			t.Errorf("%g m reads %q, not %q", v, got, want)
		}
	}
	if got := in.signed(float64(q.Degrees(-12.5)), q.KindAngle); got != "−12.5°" {
		t.Errorf("12.5 degrees down read %q", got)
	}
}

// letters is a Pen that keeps texts.
type letters struct{ texts []string }

func (*letters) Path(drawing.Layer, drawing.Style, []drawing.Point, bool)                   {}
func (*letters) Arc(drawing.Layer, drawing.Style, drawing.Point, float64, float64, float64) {}
func (l *letters) Text(_ drawing.Layer, _ drawing.Style, t drawing.Text) {
	l.texts = append(l.texts, t.String)
}

// The list for the electrician told motors in kilowatts under a head in US papers, and currents to the milliampere.
func TestReferenceTheElectricalListHasThePapersUnits(t *testing.T) {
	in := input(t, result(1, short), "en")
	in.Loads[0].FullLoad = 20.481
	for units, want := range map[words.Units]string{words.SI: "motor kW 7.5 20.5 9.83", words.US: "motor hp 10.1 20.5 9.83"} { // 7.5 kW are 10.06 hp
		in.Words.Units = units
		l := in.loads()
		if got := fmt.Sprint(l.Heads[1], " ", l.Rows[0][1], " ", l.Rows[0][5], " ", l.Rows[0][6]); !strings.EqualFold(got, want) {
			t.Errorf("%s: %q, want %q", units, got, want)
		}
	}
}

// 22 % of the power stood beside yearly energies that make 28 %. Source: 28 386 kWh over 103 112 kWh is 27.5 %.
func TestReferenceTheShareOfThePowerIsToldWithThatOfTheYear(t *testing.T) {
	in := input(t, result(1, short), "en")
	for language, want := range map[string]string{
		"en": "While both blow, the station draws 22 % (14 % to 29 %) of the power of compressed air at the same thrust; over the year it takes 28 % of its energy.",
		"de": "Solange beide blasen, nimmt die Station 22 % (14 % bis 29 %) der Leistung von Druckluft bei gleichem Schub auf; im Jahr braucht sie 28 % von deren Energie.",
	} {
		w, err := words.New(language, words.SI)
		if err != nil {
			t.Fatal(err)
		}
		in.Words = w
		if text := strings.ReplaceAll(strings.Join(allTexts(in), "\n"), "\u00a0", " "); !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
}

// Wyes were missing from the list of parts, and bends had no bore.
func TestLawFittingsAreListedWithTheirBores(t *testing.T) {
	in := input(t, result(1, short), "en")
	element := func(kind string, bore float64) job.Element {
		e := job.Element{Kind: kind}
		if bore > 0 {
			e.Bore = q.Known(q.Length(bore))
		}
		return e
	}
	in.Job.Stations = []job.Station{{Outlets: []job.Outlet{{Name: "a"}, {Name: "b"}}}}
	in.Job.AirSupply.Branches = []job.Branch{
		{Name: "duct", From: "blower", To: "wye 1", Elements: []job.Element{element("duct", 0.1), element("bend", 0)}},
		{Name: "hose to a", From: "wye 1", To: "a", Elements: []job.Element{element("hose", 0.063)}},
		{Name: "to b", From: "wye 1", To: "b", Elements: []job.Element{element("duct", 0.08), element("hose", 0.063)}},
	}
	var got []string
	for _, f := range in.fittings() {
		got = append(got, strings.ReplaceAll(strings.Join([]string{f.kind, f.where, in.bored(f.bore), f.note}, "; "), "\u00a0", " "))
	}
	for i, want := range []string{
		"duct; duct; 100 mm; ", "bend; duct; 100 mm; ", "hose; hose to a; 63 mm; ", "duct; to b; 80 mm; ", "reducer; to b; 80 mm; to 63 mm", "hose; to b; 63 mm; ",
		"wye; wye 1; 100 mm; legs 63 mm / 80 mm",
	} {
		if i >= len(got) || got[i] != want {
			t.Errorf("row %d of %q, want %q", i, got, want)
		}
	}
	in.Job.AirSupply.Junctions = []job.Junction{{At: "wye 1", Kind: "tee"}}
	if list := in.fittings(); list[len(list)-1].kind != "tee" {
		t.Errorf("a tee is listed as %q", list[len(list)-1].kind)
	}
}

// Names in the figure of the way of the air were cut.
func TestLawNamesInTheWayOfTheAirAreWhole(t *testing.T) {
	for _, name := range []string{"left closure nozzles", "right closure nozzles", "Ansaugfilter Gebläse", "left panel knife, upper row of three", "knife"} {
		for _, width := range []float64{20, 26, 40} {
			size, lines := boxed(name, width)
			if joined := strings.Join(lines, " "); joined != name {
				t.Errorf("at %g mm %q is set as %q", width, name, joined)
			}
			if tall := size * lead * float64(len(lines)); tall > 9 || size < 1.6 {
				t.Errorf("at %g mm %q takes %g mm in letters of %g mm", width, name, tall, size)
			}
		}
	}
	const upper = "left upper manifold of closure nozzles, 8 mm bore" // takes a third line of small letters
	if size, lines := boxed(upper, 24); strings.Join(lines, " ") != upper || size < 2 {
		t.Errorf("%q is set as %q in letters of %g mm", upper, lines, size)
	}
	if _, lines := boxed(strings.Repeat("unheard of ", 20), 20); len(lines) > 3 {
		t.Errorf("a name without end takes %d lines", len(lines))
	}
}
