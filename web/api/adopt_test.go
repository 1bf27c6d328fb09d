package api

import (
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/web/document"
)

// A station taken over from a search turned every length of the air side into millimetres.
func TestLawAnAdoptedStationKeepsTheUnitsOfTheFile(t *testing.T) {
	given := `leste: 1
job: in US units
# who asked
site: {altitude: 400 ft}
stations:
  - name: exit
    outlets:
      - {name: left knife, kind: air knife, side: left, height: 2.4 in, offset: 4 in, length: 10 in, slot_gap: 0.05 in, plenum_pressure: 1.7 psi}
air_supply:
  blowers: [{name: blower, part: generic belt 4}]
  branches: [{name: main, from: blower, to: left knife, elements: [{kind: hose, bore: 3 in, length: 6 ft}]}]
`
	file, problems := job.Load("us", []byte(given))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	found := job.Clone(file.Job)
	found.Stations[0].Outlets[0].Height = q.Known(q.Length(2.6 * 0.0254))
	text, err := adopted(document.State{ID: "us", Text: []byte(given), Job: file.Job}, found)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"# who asked", "altitude: 400 ft", "height: 2.6 in", "offset: 4 in", "slot_gap: 0.05 in", "plenum_pressure: 1.7 psi", "bore: 3 in", "length: 6 ft"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}
