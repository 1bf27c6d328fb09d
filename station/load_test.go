package station

import (
	"reflect"
	"slices"
	"testing"
)

// Peaks do not depend on the order in which positions are looked at, where two of them are alike too.
func TestLawPeaksInAnyOrder(t *testing.T) {
	e := exposed(tube(t, 0.2, 4e-3), planeSource(Vec{0, 83e-3, 0.1}, Vec{0, 0, 1}, Vec{0, -1, 0}, 2, 35.5, 20e3))
	positions := []float64{-20e-3, -10e-3, 10e-3, 20e-3}
	peaks := func(order []float64) []ZonePeak {
		r := Recorder{E: e}
		var f Field
		for _, x := range order {
			r.At(x, &f)
		}
		return r.Record.Zones
	}
	forth := peaks(positions)
	slices.Reverse(positions)
	if back := peaks(positions); !reflect.DeepEqual(forth, back) {
		t.Errorf("forth %v, back %v", forth, back)
	}
}
