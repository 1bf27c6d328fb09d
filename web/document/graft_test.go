package document

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"leste/job"
)

const donor = `leste: 1
job: other
stations:
  - name: found
    outlets:
      - name: one
        kind: nozzle
        side: above
air_supply:
  blowers:
    - name: blower
      part: big
`

func TestLawAGraftLeavesTheRestAsItIsWritten(t *testing.T) {
	for _, text := range []string{sample, strings.ReplaceAll(sample, "\n", "\r\n"), strings.TrimSuffix(sample, "\n")} {
		out, err := Graft([]byte(text), []byte(donor), "stations", "air_supply", "limits")
		if err != nil {
			t.Fatal(err)
		}
		f, problems := job.Read("a", out)
		if len(problems) > 0 || len(f.Job.Stations) != 1 || f.Job.Stations[0].Name != "found" || f.Job.AirSupply.Blowers[0].Part != "big" {
			t.Fatalf("%v\n%s", problems, out)
		}
		before, _, _ := strings.Cut(text, "stations:")
		_, after, _ := strings.Cut(text, "next:")
		if !strings.HasPrefix(string(out), before) || !strings.Contains(string(out), "next:"+strings.TrimRight(after, "\r\n")) {
			t.Errorf("the rest has changed:\n%s", out)
		}
		again, err := Graft(out, []byte(donor), "stations", "air_supply")
		if diff := cmp.Diff(string(out), string(again)); err != nil || diff != "" {
			t.Errorf("%v %s", err, diff)
		}
	}
}

func TestLawAGraftIntoBraces(t *testing.T) {
	out, err := Graft([]byte(`{"leste": 1, "job": "x", "stations": [{"name": "old"}]}`), []byte(donor), "stations", "air_supply")
	if err != nil {
		t.Fatal(err)
	}
	f, problems := job.Read("a", out)
	if len(problems) > 0 || f.Job.Stations[0].Name != "found" || len(f.Job.AirSupply.Blowers) != 1 {
		t.Errorf("%v\n%s", problems, out)
	}
	if out, err = Graft([]byte(sample), []byte("leste: 1\n"), "stations"); err != nil || strings.Contains(string(out), "stations") {
		t.Errorf("%v\n%s", err, out)
	}
	for _, bad := range [][2]string{{"- 1\n", donor}, {sample, "[1"}} {
		if _, err := Graft([]byte(bad[0]), []byte(bad[1]), "stations"); err == nil {
			t.Errorf("%q was grafted", bad)
		}
	}
}
