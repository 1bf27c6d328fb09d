package quote

import (
	"testing"

	"leste/render/drawing"
)

func TestLawAStraightenedRingEnclosesTheSame(t *testing.T) {
	// A stair with points along its steps, and a spike that goes back on itself.
	ring := []drawing.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 2, Y: 0}, {X: 2, Y: 1}, {X: 2, Y: 2}, {X: 1, Y: 2}, {X: 1, Y: 3}, {X: 1, Y: 2.5}, {X: 0, Y: 2.5}, {X: 0, Y: 1}}
	got := straightened(ring)
	if len(got) != 8 {
		t.Errorf("%d corners, want 8: %v", len(got), got)
	}
	if a, b := area(ring), area(got); a != b {
		t.Errorf("it encloses %g, the ring %g", b, a)
	}
	if got := straightened(nil); len(got) != 0 {
		t.Errorf("nothing becomes %v", got)
	}
}

func area(ring []drawing.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}
