package station

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Frozen: own last output, no proof of anything. When a change is meant, print the new lines with
//
//	go test ./station -run TestFrozenCanUnderTwoKnives -v
//
// and put them here.
var frozenCan = []string{
	"x -100 mm: force -0.216 -1.085 N, moment -0.0208 N m, peak 4190 Pa",
	"x -50 mm: force 0.012 -0.125 N, moment 0.0121 N m, peak 3868 Pa",
	"x 0 mm: force 0.010 -0.059 N, moment 0.0123 N m, peak 3566 Pa",
	"x 50 mm: force 0.010 -0.003 N, moment 0.0121 N m, peak 3307 Pa",
	"x 100 mm: force 0.133 0.122 N, moment 0.0113 N m, peak 3084 Pa",
}

func TestFrozenCanUnderTwoKnives(t *testing.T) {
	b := familyBody(t, "can", "330 standard", 2e-3)
	var s []source
	for _, side := range []string{left, right} {
		y := 73e-3
		if side == right {
			y = -y
		}
		l, a := frame(side, deg(20), deg(10), 0)
		s = append(s, planeSource(Vec{0, y, 70e-3}, l, a, 0.3, 42, 20e3))
	}
	e := exposed(b, s...)
	e.scene.Belt = true
	e.scene.Neighbours = []float64{-76e-3, 76e-3}
	var f Field
	var got []string
	for _, x := range []float64{-0.1, -0.05, 0, 0.05, 0.1} {
		e.At(x, &f)
		l := e.Load(x, &f)
		peak := 0.0
		for _, p := range f.P {
			peak = max(peak, p)
		}
		got = append(got, fmt.Sprintf("x %.0f mm: force %.3f %.3f N, moment %.4f N m, peak %.0f Pa", x*1e3, l.Force.X, l.Force.Z, l.Moment.Y, peak))
	}
	for _, g := range got {
		t.Logf("%q,", g)
	}
	if d := cmp.Diff(frozenCan, got); d != "" {
		t.Error(d)
	}
}
