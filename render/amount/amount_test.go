package amount

import (
	"math"
	"testing"

	q "leste/quantity"
)

func TestLawFigures(t *testing.T) {
	for _, c := range []struct {
		x    float64
		n    int
		want string
	}{
		{0, 2, "0"},
		{1, 2, "1.0"},
		{0.0123, 2, "0.012"},
		{0.999, 2, "1.0"},
		{99.6, 2, "100"},
		{1349, 2, "1300"},
		{-0.0456, 2, "-0.046"},
		{51.96, 3, "52.0"},
		{2e-5, 1, "0.00002"},
		{2.36e302, 3, "2.36e+302"},
		{1.01e-298, 3, "1.01e-298"},
		{math.NaN(), 2, Unknown},
		{math.Inf(1), 2, "no limit"},
		{math.MaxFloat64, 2, Unknown},
	} {
		if got := Figures(c.x, c.n); got != c.want {
			t.Errorf("Figures(%g, %d) = %q, want %q", c.x, c.n, got, c.want)
		}
	}
}

func TestLawBandsNameTheirEnds(t *testing.T) {
	if got := Band(q.Band{Likely: 52e-6, Low: 21e-6, High: 130e-6}, 1e6); got != "52 (21 to 130)" {
		t.Errorf("band %q", got)
	}
	if got := Band(q.Band{Likely: 2, Low: 2, High: 2}, 1); got != "2.0" {
		t.Errorf("a band without width is %q", got)
	}
	if got := Percent(0.213); got != "21 %" {
		t.Errorf("share %q", got)
	}
	if got := Percent(math.NaN()); got != Unknown {
		t.Errorf("unknown share %q", got)
	}
}
