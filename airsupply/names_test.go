package airsupply

import (
	"errors"
	"strings"
	"testing"
)

// A station has most often one blower, called "blower"; reports said "blower blower".
func TestBlowerIsNamedOnce(t *testing.T) {
	for name, want := range map[string]string{
		"blower": "blower", "Blower 2": "Blower 2", "B1": "blower B1", "left": "blower left",
	} {
		if got := called(name); got != want {
			t.Errorf("called(%q) = %q, want %q", name, got, want)
		}
	}
	n, c := worked(1.2e-3), site500()
	n.Blowers[0].Name, n.Blowers[0].Machine = "blower", nil
	_, err := Solve(t.Context(), n, c)
	var r *Refusal
	if !errors.As(err, &r) || strings.Contains(err.Error(), "blower blower") {
		t.Errorf("the refusal reads %v", err)
	}
}
