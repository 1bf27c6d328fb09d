package calc

import (
	"math"
	"testing"
)

// A relation that stops gave numbers of hundreds of digits all the same.
func TestStopGivesNoNumber(t *testing.T) {
	topic, err := Find("jet")
	if err != nil {
		t.Fatal(err)
	}
	a, err := topic.Answer(map[string]string{"slot-gap": "1 mm", "pressure": "1e300 kPa"})
	if err != nil {
		t.Fatal(err)
	}
	if !a.Refused() {
		t.Fatal("a plenum of 1e300 kPa is answered")
	}
	for _, r := range a.Results {
		if x, ok := r.Value.(float64); ok && !math.IsNaN(x) {
			t.Errorf("%s = %g in spite of the refusal", r.Output.Key, x)
		}
	}
	if a, err = topic.Answer(map[string]string{"slot-gap": "1 mm", "pressure": "20 kPa"}); err != nil || a.Refused() {
		t.Errorf("an everyday knife is refused: %v", err)
	}
}

// The help offered a slot gap of 40 mm and a count of "60 %".
func TestExamplesOfInputsCanBeGiven(t *testing.T) {
	for _, topic := range Topics() {
		for _, p := range topic.Params {
			if len(p.Choices) > 0 {
				continue
			}
			x, err := p.Kind.Parse(p.Example())
			if err != nil || p.Bounds.broken(x) != "" && p.Default == "" {
				t.Errorf("%s --%s: example %q: %v %s", topic.Name, p.Name, p.Example(), err, p.Bounds.broken(x))
			}
			if p.Name == "count" && p.Example() == "60 %" || p.Name == "slot-gap" && x > 5e-3 {
				t.Errorf("%s --%s: nobody would give %q", topic.Name, p.Name, p.Example())
			}
		}
	}
}
