package catalogue

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestLawGenericPartsAreMarked(t *testing.T) {
	p := GenericParts()
	if len(p.Blowers) < 10 || len(p.Filters) == 0 || len(p.Hoses) == 0 {
		t.Fatalf("the generic set has %d blowers, %d filters, %d hoses", len(p.Blowers), len(p.Filters), len(p.Hoses))
	}
	for _, b := range p.Blowers {
		if !strings.Contains(b.Note, "invented") || !strings.HasPrefix(b.Part, "generic") {
			t.Errorf("%s: an invented machine must say so", b.Part)
		}
	}
}

func TestLawWrongPartsAreLocated(t *testing.T) {
	const head = "part,kind,flow,pressure,power\n"
	for _, c := range []struct {
		name, text, column, want string
		line                     int
	}{
		{"unknown column", "part,kind,flow,pressure,colour\n", "colour", "unknown column", 1},
		{"missing column", "part,kind,flow\n", "pressure", "missing", 1},
		{"unknown kind", head + "a,rotary,1 m3/s,1 kPa,1 kW\n", "kind", "not one of", 2},
		{"no unit", head + "a,fan,1,1 kPa,1 kW\n", "flow", "unit", 2},
		{"standard flow", head + "a,fan,100 Nm3/h,1 kPa,1 kW\n", "flow", "", 2},
		{"falling flow", head + "a,fan,2 m3/s,1 kPa,1 kW\na,,1 m3/s,1 kPa,1 kW\n", "flow", "increase", 3},
		{"too few points", head + "a,fan,1 m3/s,1 kPa,1 kW\n", "flow", "three", 2},
		{"no power", head + "a,fan,1 m3/s,1 kPa,\n", "power", "give the power", 2},
		{"too few cells", head + "a,fan\n", "", "wrong number of fields", 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			var p Parts
			errs := ReadParts("my-blowers.csv", []byte(c.text), &p)
			if len(errs) == 0 {
				t.Fatal("accepted")
			}
			var e *PartError
			if !errors.As(errs[0], &e) || e.Line != c.line || e.Column != c.column || !strings.Contains(e.Text, c.want) {
				t.Errorf("got %v", errs[0])
			}
		})
	}
}

// A YAML file says the same as a CSV file.
func TestLawYAMLAndCSVAgree(t *testing.T) {
	var a, b Parts
	errs := ReadParts("blowers.csv", []byte("part,kind,drive,motor,price,flow,pressure,power\n"+
		"mine,fan,direct,3 kW,1200,0.1 m3/s,5 kPa,1 kW\nmine,,,,,0.2 m3/s,4 kPa,1.4 kW\nmine,,,,,0.3 m3/s,2 kPa,1.6 kW\n"), &a)
	errs = append(errs, ReadParts("parts.yaml", []byte(`blowers:
  - part: mine
    kind: fan
    drive: direct
    motor: 3 kW
    price: 1200
    points:
      - {flow: 0.1 m3/s, pressure: 5 kPa, power: 1 kW}
      - {flow: 0.2 m3/s, pressure: 4 kPa, power: 1.4 kW}
      - {flow: 0.3 m3/s, pressure: 2 kPa, power: 1.6 kW}
hoses:
  - {part: hose, bore: 75 mm, rated_to: 90 degC}
`), &b)...)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	if diff := cmp.Diff(a.Blowers, b.Blowers); diff != "" {
		t.Error(diff)
	}
	if len(b.Hoses) != 1 || b.Hoses[0].Bore != 0.075 {
		t.Errorf("got hoses %+v", b.Hoses)
	}
}

func TestLawWrongYAMLIsLocated(t *testing.T) {
	for _, c := range []struct {
		text, column, want string
		line               int
	}{
		{"", "", "empty", 1},
		{"- a\n", "", "lists named", 1},
		{"a: [1\n", "", "not YAML", 1},
		{"hoses: []\npumps: []\n", "pumps", "unknown list", 2},
		{"hoses: 3\n", "hoses", "list of parts", 1},
		{"hoses:\n  - bore: 75 mm\n", "part", "names its part", 2},
		{"hoses:\n  - {part: a, bore: 75}\n", "bore", "unit", 2},
		{"hoses:\n  - part: a\n    colour: red\n", "colour", "unknown key", 3},
		{"blowers:\n  - {part: a, kind: fan}\n", "points", "as a list", 2},
		{"blowers:\n  - {part: a, kind: fan, points: [{flow: 1 m3/s, pressure: 1 kPa, power: 1 kW}]}\n", "flow", "three", 2},
	} {
		var p Parts
		errs := ReadParts("parts.yaml", []byte(c.text), &p)
		var e *PartError
		if len(errs) == 0 || !errors.As(errs[0], &e) || e.Column != c.column || !strings.Contains(e.Text, c.want) || e.Line < c.line {
			t.Errorf("%q: got %v, want %s in line %d: %s", c.text, errs, c.column, c.line, c.want)
		}
	}
}

// A job file given for a list of parts was answered by a line for every key of it.
func TestLawWhatIsNoListOfPartsIsSaidOnce(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"parts.yaml", "pumps: []\nvalves: []\n", "no list of parts"},
		{"job.yaml", "leste: 1\njob: line\nsite: {}\nline: {}\n", "looks like a job file"},
		{"blowers.csv", "date,item,amount\n1,2,3\n", "no list of blowers"},
	} {
		var p Parts
		if errs := ReadParts(c.name, []byte(c.text), &p); len(errs) != 1 || !strings.Contains(errs[0].Error(), c.want) {
			t.Errorf("%s: %v, want one that says %q", c.name, errs, c.want)
		}
	}
}

func FuzzReadParts(f *testing.F) {
	f.Add("part,kind,flow,pressure,power\na,fan,1 m3/s,1 kPa,1 kW\n")
	f.Add("part,bore\nx,50 mm\n")
	f.Add("blowers:\n  - {part: a, kind: fan, points: [{flow: 1 m3/s, pressure: 1 kPa, power: 1 kW}]}\n")
	f.Fuzz(func(_ *testing.T, text string) {
		for _, name := range []string{"blowers.csv", "filters.csv", "hoses.csv", "parts.yaml"} {
			var p Parts
			ReadParts(name, []byte(text), &p)
		}
	})
}
