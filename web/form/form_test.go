package form_test

import (
	"encoding/json"
	"strings"
	"testing"

	"leste/job"
	"leste/web/form"
)

// The JSON Schema is made from the same tags by other code: both must know the same groups and keys.
func TestLawFormsKnowEveryKeyOfTheJobFile(t *testing.T) {
	var schema struct {
		Defs map[string]struct {
			Properties map[string]json.RawMessage `json:"properties"`
		} `json:"$defs"`
		Properties map[string]json.RawMessage `json:"properties"`
	}
	if err := json.Unmarshal(job.Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	s := form.OfJob()
	same := func(name string, properties map[string]json.RawMessage) {
		g := s.Groups[name]
		if len(g.Fields) != len(properties) {
			t.Errorf("%s has %d fields, the schema %d", name, len(g.Fields), len(properties))
		}
		for _, f := range g.Fields {
			if _, ok := properties[f.Key]; !ok {
				t.Errorf("%s: the schema has no %s", name, f.Key)
			}
			if f.Doc == "" || f.Form == "" {
				t.Errorf("%s: %s says too little: %+v", name, f.Key, f)
			}
			if f.Form == form.Quantity && (len(f.Units) == 0 || f.Kind == "") {
				t.Errorf("%s: %s has no unit", name, f.Key)
			}
			if f.Low != "" && f.Source == "" {
				t.Errorf("%s: %s has a range without a source", name, f.Key)
			}
		}
	}
	same(s.Root, schema.Properties)
	groups := 0
	for name, def := range schema.Defs {
		if def.Properties != nil {
			same(name, def.Properties)
			groups++
		}
	}
	if groups != len(s.Groups)-1 {
		t.Errorf("%d groups, the schema has %d", len(s.Groups)-1, groups)
	}
}

func TestLawEntryFindsTheGroupOfAList(t *testing.T) {
	s := form.OfJob()
	for path, want := range map[string]string{
		"/formats": "Format", "/stations": "Station", "/stations/0/outlets": "Outlet", "/stations/12/frames/0/axes": "Axis",
		"/options/0/stations/1/outlets": "Outlet", "/line/rails": "Rail", "/air_supply/branches/2/elements": "Element",
		"/stations/x/outlets": "", "/line": "", "/nothing": "", "": "", "/job": "", "/stations/0": "",
	} {
		g, ok := s.Entry(path)
		if ok != (want != "") || ok && g.Name != want {
			t.Errorf("%s: %q, %v; want %q", path, g.Name, ok, want)
		}
	}
	if p := s.Groups["Outlet"].Position("kind"); p != 1 {
		t.Errorf("kind is at %d", p)
	}
	if p := s.Groups["Outlet"].Position("colour"); p != len(s.Groups["Outlet"].Fields) {
		t.Errorf("an unknown key is at %d", p)
	}
}

func TestLawFieldsCarryTheirRangeAndSource(t *testing.T) {
	for _, f := range form.OfJob().Groups["Outlet"].Fields {
		if f.Key != "stand_off" {
			continue
		}
		if f.Default != "40 mm" || f.Low != "25 mm" || f.High != "80 mm" || f.Min != "1 mm" || f.Max != "2 m" || !strings.Contains(f.Source, "practice") {
			t.Errorf("%+v", f)
		}
		return
	}
	t.Error("no stand_off")
}
