package quote

import (
	"reflect"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
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
