package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestLawUnitsOfTexts(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		text   string
		unit   string
		system System
	}{
		{KindLength, "1 1/2 in", "in", US},
		{KindLength, "1,5 mm", "mm", SI},
		{KindTemperature, "86 °F", "°F", US},
		{KindTemperature, "30 degC", "degC", SI},
		{KindGauge, "2 psi gauge", "psi", US},
		{KindGauge, "40 inH2O", "inH2O", US},
		{KindGauge, "12 mbar", "mbar", SI},
		{KindRatio, "60 %", "%", ""},
		{KindRatio, "0.6", "", ""},
		{KindSpeed, "118 ft/min", "ft/min", US},
		{KindRate, "36 000 b/h", "b/h", ""},
		{KindAreaMass, "5 g/m2", "g/m2", SI},
		{KindMass, "900 mg", "mg", ""},
		{KindLength, "0", "", ""},
		{KindLength, "much", "", ""},
		{KindVolumeFlow, "300 cfm", "cfm", US},
	} {
		if got := c.kind.UnitOf(c.text); got != c.unit {
			t.Errorf("%q is in %q, want %q", c.text, got, c.unit)
		}
		if got := SystemOf(c.unit); got != c.system {
			t.Errorf("%q is of %q, want %q", c.unit, got, c.system)
		}
	}
	for k := KindLength; k < kindEnd; k++ { // units that one system alone writes are known as its own, or as nobody's
		for _, system := range []System{SI, US} {
			for _, unit := range k.Usual(system) {
				if got := SystemOf(unit); got != "" && got != system && len(k.Usual(SI)) > 0 && k.Usual(SI)[0] != k.Usual(US)[0] {
					t.Errorf("kind %s: %s is written in %s and taken for %s", k.Name(), unit, system, got)
				}
			}
		}
	}
}

// A value comes back from what is written in any of its units, to the last digits of a change of unit.
func TestLawExactInAnyUnitComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kind(rapid.IntRange(int(KindLength), int(kindEnd)-1).Draw(t, "kind"))
		unit := rapid.SampledFrom(k.Units()).Draw(t, "unit")
		v := rapid.Float64Range(3e4, 1e6).Draw(t, "value")
		text, digits := k.ExactIn(v, unit)
		back, err := k.Parse(text)
		if err != nil || math.Abs(back-v) > 1e-12*v || digits < 1 || digits > 17 {
			t.Fatalf("%g is written %q with %d digits and read as %g, %v", v, text, digits, back, err)
		}
	})
	if text, digits := KindLength.ExactIn(0.05*0.0254, "in"); text != "0.05 in" || digits != 1 {
		t.Errorf("%q, %d digits", text, digits)
	}
}
