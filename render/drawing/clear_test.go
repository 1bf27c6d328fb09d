package drawing

import "testing"

func TestLawCrossingsAreSeen(t *testing.T) {
	dimension := Dimension{A: Point{0, 0}, B: Point{100, 0}, Direction: Horizontal, Offset: 8, String: "100"} // its text at 50, 8.8
	for what, c := range map[string]struct {
		l    Leader
		want Crossing
	}{
		"far below":         {Leader{To: Point{50, -10}, Elbow: Point{7, -9}, String: "name"}, Clear},
		"through its line":  {Leader{To: Point{20, 2}, Elbow: Point{3, 12}, String: "name"}, Lines},
		"through its text":  {Leader{To: Point{49, 2}, Elbow: Point{2, 14}, String: "name"}, OnLines},
		"text on its line":  {Leader{To: Point{10, 3}, Elbow: Point{7, 5}, String: "name"}, OnLines},
		"text on its text":  {Leader{To: Point{38, 2}, Elbow: Point{7, 8}, String: "name"}, OnTexts},
		"beside it":         {Leader{To: Point{120, 2}, Elbow: Point{7, 8}, String: "name"}, Clear},
		"text left of line": {Leader{To: Point{-3, 2}, Elbow: Point{-7, 8}, String: "name"}, Clear},
	} {
		if got := PlacedAt(1, dimension).Crosses(c.l); got != c.want {
			t.Errorf("%s: %d, want %d", what, got, c.want)
		}
	}
}
