package quantity

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestLawNoZeroHasASign(t *testing.T) {
	minus := math.Copysign(0, -1)
	for k := KindLength; k < kindEnd; k++ {
		for _, system := range []System{SI, US} {
			for _, v := range []float64{minus, -1e-300} {
				if got := k.Format(v, system); strings.HasPrefix(got, "-0 ") || got == "-0" {
					t.Errorf("kind %s: %g is written %q", k.Name(), v, got)
				}
			}
		}
		if got := k.Exact(minus); strings.HasPrefix(got, "-0") {
			t.Errorf("kind %s: exactly %q", k.Name(), got)
		}
	}
	if got := Significant(minus, 3); got != "0" {
		t.Errorf("written %q", got)
	}
	if math.Signbit(Unsigned(minus)) || Unsigned(-2) != -2 {
		t.Error("a zero keeps its sign, or a number loses it")
	}
}

// What is beyond a limit reads so, and what keeps to it does not read as if it were beyond.
func TestLawRoundingHidesNoMiss(t *testing.T) {
	if n := Telling(300, 2, 301); n != 3 {
		t.Errorf("301 against 300 takes %d digits, want 3", n)
	}
	if n := Telling(300, 2, 299.9, 260); n != 2 {
		t.Errorf("299.9 against 300 takes %d digits, want 2", n)
	}
	if n := Telling(298, 2, 296); n != 3 {
		t.Errorf("296 against 298 takes %d digits, want 3: 300 would be a miss", n)
	}
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(0.001, 1000).Draw(t, "limit")
		v := limit * (1 + rapid.Float64Range(-0.2, 0.2).Draw(t, "off"))
		n := Telling(limit, 2, v)
		if n < 9 && (v > limit) != (Round(v, n) > Round(limit, n+1)) {
			t.Fatalf("%v against %v reads %v against %v", v, limit, Round(v, n), Round(limit, n+1))
		}
	})
}

func TestLawUsualUnitsAreThoseThatAreWritten(t *testing.T) {
	if got := strings.Join(KindLength.Usual(US), " "); got != "in ft" {
		t.Errorf("lengths in US units: %s", got)
	}
	if got := strings.Join(KindSpeed.Usual(SI), " "); got != "m/s" {
		t.Errorf("speeds in SI units: %s", got)
	}
	if got := KindRatio.Usual(SI); len(got) != 0 {
		t.Errorf("a plain number has the units %v", got)
	}
}
