package wallmap

import (
	"math"
	"slices"
	"strings"
	"testing"

	leste "leste"
	"leste/render/picture"
)

// Water that ran down onto a zone during a pass was drawn there without a word.
func TestLawAZoneThatGainsWaterSaysFromWhere(t *testing.T) {
	f := passing(2)
	last := &f.Strip[1]
	gains := []string{"sidewall", "shoulder"} // the shoulder passes on what the seam loses
	for row, zone := range last.Zone {
		for col := range last.Cols {
			i := row*last.Cols + col
			last.Water[i] = f.Strip[0].Water[i] / 2
			if slices.Contains(gains, zone) {
				last.Water[i] = 2 * f.Strip[0].Water[i]
			}
		}
	}
	v, err := NewFrames(&leste.Result{}, f)
	if err != nil {
		t.Fatal(err)
	}
	rises := v.Rises()
	if len(rises) != 2 {
		t.Fatalf("zones that gain: %v", rises)
	}
	for _, r := range rises {
		if !slices.Contains(gains, r.Zone) || math.Abs(r.After/r.Before-2) > 1e-9 {
			t.Errorf("got %v", r)
		}
		if len(r.From) == 0 || slices.ContainsFunc(r.From, func(z string) bool { return slices.Contains(gains, z) }) {
			t.Errorf("%s gains from %v", r.Zone, r.From)
		}
	}
	said := ""
	for _, s := range v.Strip().Shapes {
		if text, ok := s.(picture.Text); ok && strings.Contains(text.Text, "more water at the end") {
			said = text.Text
		}
	}
	if !strings.Contains(said, "shoulder ends with") || !strings.Contains(said, ", from the ") {
		t.Errorf("the sheet says %q", said)
	}
	if dry, err := NewFrames(&leste.Result{}, passing(8)); err != nil || len(dry.Rises()) != 0 {
		t.Errorf("a wall that dries gains water: %v", err)
	}
}

// A ring of water tells which zone it is on by the area of its cells.
func TestLawTheWaterOfZonesIsThatOfTheWall(t *testing.T) {
	m := can()
	area := 0.0
	for row := range m.Rows {
		area += 2 * math.Pi * m.Radius[row] * (m.S[row+1] - m.S[row])
	}
	for i := range m.Water {
		m.Water[i] = 0.05
	}
	sum := 0.0
	for _, mass := range zoneMasses(m) {
		sum += mass
	}
	if math.Abs(sum/(0.05*area)-1) > 1e-12 {
		t.Errorf("the zones hold %g kg, the wall %g kg", sum, 0.05*area)
	}
}
