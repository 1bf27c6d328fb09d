package catalogue

import (
	"errors"
	"strings"
	"testing"
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

func FuzzReadParts(f *testing.F) {
	f.Add("part,kind,flow,pressure,power\na,fan,1 m3/s,1 kPa,1 kW\n")
	f.Add("part,bore\nx,50 mm\n")
	f.Fuzz(func(_ *testing.T, text string) {
		for _, name := range []string{"blowers.csv", "filters.csv", "hoses.csv"} {
			var p Parts
			ReadParts(name, []byte(text), &p)
		}
	})
}
