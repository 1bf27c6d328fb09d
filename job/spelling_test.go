package job

import (
	"testing"

	q "leste/quantity"
)

// A spelling gives a value as its file writes it: at its place, or wherever the key says the same; and nothing else.
func TestLawSpellingsGiveTheTextsOfTheirFile(t *testing.T) {
	f, problems := Read("us", []byte(`leste: 1
job: units
site: {altitude: 400 ft, summer: {temperature: 86 degF, humidity: 60 %}, winter: {temperature: "?"}}
arrives: &water {temperature: 64 degF}
formats:
  - {name: one, container: {family: can, size: 330 standard}, arrives: *water}
stations:
  - name: a
    outlets:
      - {name: left, kind: air knife, height: 1 1/2 in, plenum_pressure: 48 inH2O}
options:
  - name: other
    stations:
      - name: a
        outlets:
          - {name: left, kind: air knife, slot_gap: 50 mil, plenum_pressure: 2 psi gauge}
`))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s := f.Spelling()
	if s.System() != q.US {
		t.Errorf("the units are taken for %s", s.System())
	}
	j := f.Job
	for _, c := range []struct {
		path  string
		value float64
		want  string
	}{
		{"/site/summer/temperature", float64(j.Site.Summer.Temperature.V), "86 degF"},
		{"/site/summer/humidity", 0.6, "60 %"},
		{"/site/winter/temperature", float64(j.Site.Summer.Temperature.V), ""},
		{"/formats/0/arrives/temperature", float64(j.Arrives.Temperature.V), "64 degF"},
		{"/stations/0/outlets/0/height", 1.5 * 0.0254, "1 1/2 in"},
		{"/stations/3/outlets/7/height", 1.5 * 0.0254, "1 1/2 in"},
		{"/stations/0/outlets/0/height", 1.6 * 0.0254, ""},
		{"/stations/0/outlets/0/slot_gap", 0.05 * 0.0254, "50 mil"},
		{"/stations/0/outlets/0/plenum_pressure", float64(j.Options[0].Stations[0].Outlets[0].Pressure.V), "2 psi gauge"},
	} {
		if got, _ := s.Text(c.path, c.value); got != c.want {
			t.Errorf("%s %g is written %q, want %q", c.path, c.value, got, c.want)
		}
	}
	for path, want := range map[string]string{
		"/stations/0/outlets/0/plenum_pressure": "inH2O", "/stations/0/outlets/0/height": "in", "/site/winter/temperature": "", "/site/winter/humidity": "",
	} {
		if got := s.Unit(path); got != want {
			t.Errorf("%s is in %q, want %q", path, got, want)
		}
	}
	var none *Spelling
	if _, said := none.Text("/site/altitude", 0); said || none.Unit("/site/altitude") != "" || none.System() != q.SI {
		t.Error("a spelling of no file says something")
	}
	if bad, _ := Read("bad", []byte("- no job")); bad.Spelling().System() != q.SI {
		t.Error("a file that cannot be read has units")
	}
}
