package leste

import (
	"slices"
	"strings"
	"testing"

	"leste/drying"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// While no trial tells which of two methods is right, the band of one holds the likely value of the other.
func TestLawBandsSpanBothMethods(t *testing.T) {
	o := drying.Outcome{
		After: drying.MachineWater{Total: q.Band{Likely: 2, Low: 1, High: 3}, Zones: []drying.ZoneWater{
			{Zone: "a", Left: q.Band{Likely: 2, Low: 1, High: 3}}, {Zone: "b", Left: q.Band{Likely: 2, Low: 1, High: 3}},
		}},
		At: []drying.MachineWater{{Total: q.Band{Likely: 2, Low: 1, High: 3}}},
	}
	other := drying.Outcome{
		After: drying.MachineWater{Total: q.Band{Likely: 5}, Zones: []drying.ZoneWater{{Zone: "b", Left: q.Band{Likely: 0.5}}}},
		At:    []drying.MachineWater{{Total: q.Band{Likely: 2.5}}},
	}
	spanMethods(&o, &other)
	for _, c := range []struct {
		name      string
		got, want q.Band
	}{
		{"above", o.After.Total, q.Band{Likely: 2, Low: 1, High: 5}},
		{"a zone only one has", o.After.Zones[0].Left, q.Band{Likely: 2, Low: 1, High: 3}},
		{"below", o.After.Zones[1].Left, q.Band{Likely: 2, Low: 0.5, High: 3}},
		{"within", o.At[0].Total, q.Band{Likely: 2, Low: 1, High: 3}},
	} {
		if c.got != c.want {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
}

// Where the machine that decides stands before the last station, its cases tell the water at it, as the zones do.
func TestLawCasesTellTheWaterWhereTheZonesDo(t *testing.T) {
	r, err := Assess(t.Context(), exampleJob(t, "pet-500-closure"), Options{Method: quickMethod, Cell: 4e-3, NoRanking: true})
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Formats {
		f := &r.Formats[i]
		k := slices.IndexFunc(r.Cases, func(c CaseResult) bool { return c.Format == f.Name && c.Name == f.Case })
		if k < 0 || r.Cases[k].Left != f.Container {
			t.Errorf("%s, %s: the zones add up to %v kg, the cases are %v", f.Name, f.Case, f.Container, r.Cases)
		}
	}
}

// The machine after the last station was not shown where an earlier one decides.
func TestLawTheEndOfTheLineIsToldWhereAnEarlierMachineDecides(t *testing.T) {
	r, err := Assess(t.Context(), exampleJob(t, "pet-500-closure"), Options{Method: quickMethod, Cell: 4e-3, Nominal: true, NoRanking: true})
	if err != nil {
		t.Fatal(err)
	}
	f := &r.Formats[0]
	if f.Machine != "fill-level camera" || f.End == nil {
		t.Fatalf("%q decides, the end is %v", f.Machine, f.End)
	}
	if e := f.End; e.Machine != "wrap-around labeller" || !(e.Container.Likely > 0) || len(e.Zones) == 0 || len(e.Map.Water) != len(f.Map.Water) {
		t.Errorf("at the end stands %q with %v kg in %d zones", e.Machine, e.Container, len(e.Zones))
	}
	if slices.Equal(f.End.Map.Water, f.Map.Water) {
		t.Error("the map at the end is that of the machine that decides")
	}
}

// A limit of the air was told in pascals whatever its size, and 1234 against 1230 of them as more figures than it has.
func TestLawLimitsOfTheAirAreToldInUnitsOfTheirSize(t *testing.T) {
	for _, c := range []struct {
		quantity     string
		value, limit float64
		told, most   string
	}{
		{"pressure", 1532, 1200, "1.53 kPa", "1.2 kPa"},
		{"pressure", 640, 500, "640 Pa", "500 Pa"},
		{"pressure", 1200.4, 1200, "1.2004 kPa", "1.2 kPa"},
		{"speed", 33.4, 30, "33.4 m/s", "30 m/s"},
		{"temperature", 330.15, 323.15, "57 degC", "50 degC"},
	} {
		if told, most := airValues(&station.LimitResult{Quantity: c.quantity, Value: c.value, Limit: c.limit}); told != c.told || most != c.most {
			t.Errorf("%s: %s and %s, want %s and %s", c.quantity, told, most, c.told, c.most)
		}
	}
}

// A file that a search wrote was judged by a limit that the search had raised, as if the customer had given it.
func TestLawALimitThatASearchAllowedIsNobodys(t *testing.T) {
	for search, want := range map[bool]int{true: 1, false: 0} {
		r := job.Requirement{Zone: job.ZoneAll, Mass: q.Known(q.Mass(320e-6)), Search: search}
		a := &assessment{job: &job.Job{Next: []job.NextMachine{{Machine: "packer", Name: "tray packer", Requires: []job.Requirement{r}}}}, result: &Result{}}
		a.allowed()
		if got := a.result.Cautions; len(got) != want || want == 1 && !strings.HasPrefix(got[0], "the limit of 320 mg for the tray packer was allowed by a search") {
			t.Errorf("allowed by a search %v: %q", search, got)
		}
	}
}
