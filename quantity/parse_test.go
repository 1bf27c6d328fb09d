package quantity

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// named returns the kind of that name in words.
func named(t testing.TB, name string) Kind {
	t.Helper()
	for k := None + 1; k < kindEnd; k++ {
		if k.Name() == name {
			return k
		}
	}
	t.Fatalf("no kind is %q", name)
	return None
}

func oracle(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// Every text of the table against GNU Units 2.22. The definitions are exact on both sides, so that only
// rounding is left: GNU Units prints 15 digits, and a chain of three factors loses a few bits.
func TestReferenceParseAgainstGNUUnits(t *testing.T) {
	const tolerance = 1e-13
	rows := oracle(t, filepath.Join("testdata", "oracle.csv"))
	for _, row := range rows {
		k := named(t, row[1])
		want, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		got, err := k.Parse(row[0])
		if err != nil {
			t.Errorf("%q: %v", row[0], err)
			continue
		}
		if math.Abs(got/want-1) > tolerance {
			t.Errorf("%q as %s is %.15g, GNU Units says %.15g", row[0], row[1], got, want)
		}
	}
	if len(rows) < 110 {
		t.Errorf("the oracle has only %d rows", len(rows))
	}
}

// The committed table is what the script makes where GNU Units is installed.
func TestReferenceOracleIsCurrent(t *testing.T) {
	if _, err := exec.LookPath("units"); err != nil {
		t.Skip("skipped: the Debian package units is not installed")
	}
	dir := t.TempDir()
	script, err := os.ReadFile(filepath.Join("testdata", "oracle.sh"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "oracle.sh"), script, 0o755); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("bash", filepath.Join(dir, "oracle.sh")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	committed, made := oracle(t, filepath.Join("testdata", "oracle.csv")), oracle(t, filepath.Join(dir, "oracle.csv"))
	if fmt.Sprint(committed) != fmt.Sprint(made) {
		t.Error("testdata/oracle.csv is not what oracle.sh writes")
	}
}

// No unit of the table may escape the oracle: each row's first symbol or its prefixed form occurs in it.
func TestLawOracleCoversTheTable(t *testing.T) {
	var texts strings.Builder
	for _, row := range oracle(t, filepath.Join("testdata", "oracle.csv")) {
		texts.WriteString(row[0] + "\n")
	}
	covered := func(symbols string) bool {
		for _, s := range strings.Fields(symbols) {
			if regexp.MustCompile(`(?m)(^|[^A-Za-z])[numµckM]?` + regexp.QuoteMeta(s) + `([^A-Za-z]|$)`).MatchString(texts.String()) {
				return true
			}
		}
		return false
	}
	for _, r := range unitRows {
		if s := strings.Fields(r.symbols)[0]; s == "dB" || s == "cal" { // a level is no ratio for GNU Units; kcal is there
			continue
		}
		if !covered(r.symbols) {
			t.Errorf("no row of the oracle uses %q", r.symbols)
		}
	}
}

func TestReferenceNumbers(t *testing.T) {
	// The number and what decimal reading of it is meant, by the rules in the comment of Parse.
	for _, c := range []struct {
		text string
		want float64
	}{
		{"1 m", 1},
		{"+1 m", 1},
		{"-1 m", -1},
		{"−1 m", -1},
		{"1m", 1},
		{"  1   m  ", 1},
		{".5 m", 0.5},
		{"1. m", 1},
		{"1,5 m", 1.5},
		{"0,300 m", 0.3},
		{"1,5000 m", 1.5},
		{"1234,567 m", 1234.567},
		{"-0,5 m", -0.5},
		{"1e3 m", 1000},
		{"1E-3 m", 0.001},
		{"1e+3 m", 1000},
		{"1.5e0 m", 1.5},
		{"36 000 m", 36000},
		{"1 000 000 m", 1e6},
		{"1 234,5 m", 1234.5},
		{"1/2 m", 0.5},
		{"2 3/4 m", 2.75},
		{"-2 3/4 m", -2.75},
		{"0", 0},
		{"0.0", 0},
		{"-0", 0},
		{"0 m", 0},
	} {
		got, err := Parse[Length](c.text)
		if err != nil || float64(got) != c.want {
			t.Errorf("%q is %v, %v; want %v", c.text, float64(got), err, c.want)
		}
	}
}

func TestReferenceRefusals(t *testing.T) {
	for _, c := range []struct {
		kind             Kind
		text, code, says string
	}{
		{KindLength, "", CodeNumber, "a length"},
		{KindLength, "mm", CodeNumber, "number"},
		{KindLength, "NaN mm", CodeNumber, "number"},
		{KindLength, "Inf mm", CodeNumber, "number"},
		{KindLength, "+ mm", CodeNumber, "number"},
		{KindLength, "1.2.3 mm", CodeNumber, "not a number"},
		{KindLength, "1-2 mm", CodeUnit, ""},
		{KindLength, "1e999 mm", CodeNumber, "too large"},
		{KindLength, "1e308 km", CodeNumber, "too large"},
		{KindLength, "1,500 mm", CodeNumber, "two ways"},
		{KindLength, "1,500,000 mm", CodeNumber, "two ways"},
		{KindLength, "1.500,5 mm", CodeNumber, "two ways"},
		{KindLength, "1/0 mm", CodeUnit, ""},
		{KindLength, "1.5", CodeNoUnit, "1.5 mm"},
		{KindLength, "3 psi", CodeKind, "gauge pressure"},
		{KindLength, "3 furlongs", CodeUnit, "mm, cm, m"},
		{KindLength, "3 MM", CodeUnit, "\"mm\""},
		{KindGauge, "3 KPA", CodeUnit, "\"kPa\""},
		{KindLength, "3 m/", CodeUnit, ""},
		{KindLength, "3 (m", CodeUnit, "not closed"},
		{KindLength, "3 m)", CodeUnit, ""},
		{KindLength, "3 ((((((m))))))", CodeUnit, "parentheses"},
		{KindLength, "3 m s m s m s m s m s", CodeUnit, ""},
		{KindHeatTransfer, "12 W/m2 K", CodeUnit, "parentheses"},
		{KindSpecificPower, "6.6 kW/m3/min", CodeKind, ""},
		{KindGauge, "1.2 bar abs", CodeBasis, "gauge pressure is meant"},
		{KindGauge, "14.7 psia", CodeBasis, "gauge"},
		{KindGauge, "1.2 bar(a)", CodeBasis, "gauge"},
		{KindAbsolute, "1 bar gauge", CodeBasis, "absolute"},
		{KindAbsolute, "15 psig", CodeBasis, "absolute"},
		{KindAbsolute, "3 kPa", CodeBasis, "looks like a gauge"},
		{KindAbsolute, "0", CodeNoUnit, "absolute"},
		{KindPressureDrop, "250 Pa gauge", CodeBasis, "leave the word out"},
		{KindTemperature, "20", CodeNoUnit, "degC"},
		{KindTemperature, "0", CodeNoUnit, "degC"},
		{KindTemperature, "-300 degC", CodeNumber, "absolute zero"},
		{KindTemperature, "-1 K", CodeNumber, "absolute zero"},
		{KindSoundLevel, "85", CodeNoUnit, "dB"},
		{KindVolumeFlow, "350 scfm", CodeStandard, "actual flow"},
		{KindVolumeFlow, "600 Nm3/h", CodeStandard, "actual flow"},
		{KindVolumeFlow, "600 Nm3/h (0 degC)", CodeStandard, "actual flow"},
		{KindMassFlow, "600 Sm3/h", CodeStandard, ""},
		{KindRatio, "15 deg", CodeKind, "plain number"},
		{KindRatio, "60 mm", CodeKind, "plain number"},
		{KindPricePerEnergy, "0.15 EUR/kWh", CodeUnit, "/kWh"},
		{KindPricePerEnergy, "0.15", CodeNoUnit, "/kWh"},
		{KindAngle, "15 degC", CodeKind, "temperature"},
		{KindAngle, "15 GRAD", CodeUnit, "deg"},
		{KindAngle, "15 grad", CodeUnit, "deg"}, // a gon to some
		{KindAngle, "15 Mrad", CodeUnit, "\"mrad\""},
		{KindTemperature, "15 Grad", CodeKind, "degC"},
		{KindGauge, "200 Mbar", CodeUnit, "would be a million bar, which nobody measures in; write \"mbar\""},
		{KindGauge, "200 mBAR", CodeUnit, "\"mbar\""},
		{KindGauge, "200 Mbar(g)", CodeUnit, "million"},
		{KindMass, "20 Mg", CodeUnit, "\"mg\""},
		{KindMass, "20 Gg", CodeUnit, "thousand million"},
		{KindVolume, "330 ML", CodeUnit, "\"ml\""},
		{KindLength, "40 Mm", CodeUnit, "\"mm\""},
		{KindDuration, "40 Ms", CodeUnit, "\"ms\""},
		{KindSurfaceTension, "72 MN/m", CodeUnit, "\"mN/m\""},
		{KindAreaMass, "50 Mg/m2", CodeUnit, "million"},
	} {
		v, err := c.kind.Parse(c.text)
		var p *ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q as %s is %v, should be refused", c.text, c.kind.Name(), v)
			continue
		}
		if p.Code != c.code || !strings.Contains(err.Error(), c.says) || v != 0 || p.Want == "" {
			t.Errorf("%q as %s: %v, %s: %q; want code %s and %q", c.text, c.kind.Name(), v, p.Code, err, c.code, c.says)
		}
	}
}

func TestReferenceBasis(t *testing.T) {
	// 1.2 bar is 120 kPa whatever it is counted from; the word must agree with what is meant.
	for _, text := range []string{"1.2 bar", "1.2 bar gauge", "1.2 bar(g)", "1.2 bar (g)", "1.2 barg"} {
		if v, err := Parse[Gauge](text); err != nil || v != 120e3 {
			t.Errorf("%q is %v, %v", text, v, err)
		}
	}
	for _, text := range []string{"1.2 bar", "1.2 bar abs", "1.2 bar abs.", "1.2 bar absolute", "1.2 bar(a)", "1.2 bar (abs)", "1.2 bara"} {
		if v, err := Parse[Absolute](text); err != nil || v != 120e3 {
			t.Errorf("%q is %v, %v", text, v, err)
		}
	}
	if v, err := Parse[Absolute]("2.3 kPa abs"); err != nil || v != 2300 {
		t.Errorf("a low pressure marked absolute is %v, %v", v, err)
	}
	for _, text := range []string{"85 dB", "85 dB(A)", "85 dBA", "85 dB (A)"} {
		if v, err := Parse[SoundLevel](text); err != nil || v != 85 {
			t.Errorf("%q is %v, %v", text, v, err)
		}
	}
}

// What is written in any unit that a form offers is read back, and read back from what Exact writes.
func TestLawRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kind(rapid.IntRange(1, int(kindEnd)-1).Draw(t, "kind"))
		v := rapid.Float64Range(1e-6, 1e9).Draw(t, "value")
		if k == KindTemperature {
			v++ // as much as rounding may take away
		}
		if k == KindAbsolute {
			v += 21e3 // as much as rounding may take away
		}
		units := k.Units()
		unit := units[rapid.IntRange(0, len(units)-1).Draw(t, "unit")]
		x, err := k.In(v, unit)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.TrimSpace(strconv.FormatFloat(x, 'g', -1, 64) + " " + unit)
		pattern := regexp.MustCompile(k.Pattern())
		for _, c := range []struct {
			text      string
			tolerance float64 // relative, of the SI value
		}{
			{text, 1e-12},
			{k.Exact(v), 1e-12},
			{k.Format(v, SI), 5.1e-3}, // three digits
			{k.Format(v, US), 5.1e-3},
			{Typeset(k.Format(v, SI)), 5.1e-3},
		} {
			back, err := k.Parse(c.text)
			if err != nil {
				t.Fatalf("%s %v: %v", k.Name(), v, err)
			}
			slack := c.tolerance * v
			if k == KindTemperature || k == KindSoundLevel {
				slack += 0.06 // a tenth of a degree
			}
			if math.Abs(back-v) > slack+1e-300 {
				t.Fatalf("%s: %v became %q and %v", k.Name(), v, c.text, back)
			}
			if !pattern.MatchString(c.text) {
				t.Fatalf("%q does not match %s", c.text, pattern)
			}
		}
	})
}

// Every text of the oracle matches the pattern that editors check it with.
func TestLawPatternLetsThroughWhatParseReads(t *testing.T) {
	for _, row := range oracle(t, filepath.Join("testdata", "oracle.csv")) {
		if k := named(t, row[1]); !regexp.MustCompile(k.Pattern()).MatchString(row[0]) {
			t.Errorf("%q does not match the pattern of %s", row[0], row[1])
		}
	}
	for _, c := range []struct {
		kind Kind
		text string
	}{{KindLength, "3"}, {KindLength, "mm"}, {KindLength, "3 psi"}, {KindTemperature, "0"}, {KindRatio, "60 mm"}} {
		if regexp.MustCompile(c.kind.Pattern()).MatchString(c.text) {
			t.Errorf("%q matches the pattern of %s", c.text, c.kind.Name())
		}
	}
}

func TestLawEveryTypeHasItsKind(t *testing.T) {
	if KindOf(3.0) != None || KindOf("x") != None {
		t.Error("a plain number is a quantity")
	}
	seen := map[string]bool{}
	for k := None + 1; k < kindEnd; k++ {
		d := kinds[k]
		if d.name == "" || seen[d.name] {
			t.Errorf("kind %d has no name of its own: %q", k, d.name)
		}
		seen[d.name] = true
		if _, err := k.Parse(d.example); err != nil {
			t.Error(err)
		}
		for _, s := range strings.Split(d.units+"|"+d.si+"|"+d.us, "|") {
			s, _, _ = strings.Cut(s, "@")
			if _, err := k.In(1, s); err != nil && s != "" {
				t.Errorf("%s: %v", d.name, err)
			}
		}
	}
	var l Length
	if err := l.UnmarshalText([]byte("4 in")); err != nil || l != 0.1016 {
		t.Errorf("4 in is %v, %v", l, err)
	}
	if err := l.UnmarshalText([]byte("4")); err == nil || l != 0.1016 {
		t.Errorf("a failed read changed the value to %v, %v", l, err)
	}
}

func TestReferenceFormat(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		v      float64
		si, us string
	}{
		{KindLength, 0.0015, "1.5 mm", "0.0591 in"},
		{KindLength, 0.0000108, "10.8 um", "0.000425 in"},
		{KindLength, 0.4603, "460 mm", "18.1 in"},
		{KindLength, 12, "12 m", "39.4 ft"},
		{KindGauge, 20e3, "20 kPa", "2.9 psi"},
		{KindGauge, 600e3, "6 bar", "87 psi"},
		{KindGauge, 150, "150 Pa", "0.602 inH2O"},
		{KindGauge, 1720, "1.72 kPa", "0.249 psi"}, // as all that blows on containers
		{KindTemperature, 313.15, "40 degC", "104 degF"},
		{KindTemperature, 294.567, "21.4 degC", "70.6 degF"},
		{KindRate, 10, "600 /min", "600 /min"},
		{KindVolumeFlow, 0.165, "594 m3/h", "350 cfm"},
		{KindMass, 0.00015, "150 mg", "150 mg"},
		{KindSoundLevel, 85.04, "85 dB", "85 dB"},
		{KindLength, 0, "0 mm", "0 in"},
		{KindHeatTransfer, 0, "0 W/(m2 K)", "0 Btu/(h ft2 degF)"},
		{KindLength, -0.002, "-2 mm", "-0.0787 in"},
		{KindLength, math.NaN(), "not known", "not known"},
		{KindPower, math.Inf(1), "not known", "not known"},
		{KindRatio, 0.12345, "0.123", "0.123"},
	} {
		if got := c.kind.Format(c.v, SI); got != c.si {
			t.Errorf("%v is %q, want %q", c.v, got, c.si)
		}
		if got := c.kind.Format(c.v, US); got != c.us {
			t.Errorf("%v is %q, want %q", c.v, got, c.us)
		}
	}
	for _, c := range []struct {
		x    float64
		n    int
		want string
	}{{123.4, 2, "120"}, {0.00987, 2, "0.0099"}, {1.0, 2, "1"}, {99.9, 2, "100"}, {0, 2, "0"}, {-4.56, 2, "-4.6"}, {1.23e12, 2, "1.2e+12"}} {
		if got := Significant(c.x, c.n); got != c.want {
			t.Errorf("Significant(%v, %d) is %q, want %q", c.x, c.n, got, c.want)
		}
	}
	if got := Typeset("28 degC, 50 g/m2, 15 deg, 3 m3/h, 9 um"); got != "28 °C, 50 g/m², 15°, 3 m³/h, 9 µm" {
		t.Error(got)
	}
}

// "15 Grad" was read as 15 gigaradians.
func TestLawPrefixesInCapitalsAreOfPressureAndPowerOnly(t *testing.T) {
	if a, err := Parse[Angle]("15 Grad"); err != nil || math.Abs(a.Deg()-15) > 1e-12 {
		t.Errorf("15 Grad is %v degrees, %v", a.Deg(), err)
	}
	for text, want := range map[string]float64{"0.02 MPa": 2e4, "0.02 MPag": 2e4, "20 mbar": 2e3} {
		if p, err := Parse[Gauge](text); err != nil || math.Abs(float64(p)-want) > 1e-9*want {
			t.Errorf("%s is %v, %v", text, float64(p), err)
		}
	}
	for symbol, u := range units {
		if u.traits&prefixed == 0 {
			continue
		}
		for _, prefix := range []string{"M", "G"} {
			_, ok := lookup(prefix + symbol)
			_, whole := units[prefix+symbol]
			if want := whole || slices.Contains([]dim{dPressure, dEnergy, dPower, dRate}, u.dim) && !strings.HasPrefix(symbol, "bar"); ok != want {
				t.Errorf("%s%s is a unit: %v, want %v", prefix, symbol, ok, want)
			}
		}
	}
}

// FuzzQuantity: no text may panic, a refusal says something, and what is read is finite and read back.
func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"1.5 mm", "1 1/2 in", "36 000 b/h", "1,500 mm", "6.6 kW/(m3/min)", "20 kPa (g)", "-40 °F", "1e400 m", "0.15 EUR/kWh", "85 dB(A)", "((((", "/min", "1/0 m", "3 m⁻¹", "\xff mm", "1 kW/(m3/min", "1 m2^-3", "15 Grad", "15 GRAD", "200 Mbar", "330 ML/Grad"} {
		for k := range uint8(3) {
			f.Add(s, k*17)
		}
	}
	f.Fuzz(func(t *testing.T, text string, kind uint8) {
		k := Kind(kind%uint8(kindEnd-1)) + 1
		v, err := k.Parse(text)
		if err != nil {
			var p *ParseError
			if !errors.As(err, &p) || p.Code == "" || p.Text == "" || p.Want == "" {
				t.Fatalf("%q: refusal without a reason: %#v", text, err)
			}
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%q is %v", text, v)
		}
		for symbol := range strings.FieldsFuncSeq(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
			if f, u, ok := split(symbol); ok && f >= million && u.traits&large == 0 && units[symbol].factor == 0 {
				t.Fatalf("%q is %v: %s is a million times a small unit", text, v, symbol)
			}
		}
		back, err := k.Parse(k.Exact(v))
		if k == KindAbsolute && err != nil && v < 20e3 {
			return // was marked absolute
		}
		if err != nil || math.Abs(back-v) > 1e-9*math.Abs(v)+1e-300 {
			t.Fatalf("%q is %v, written %q, read %v, %v", text, v, k.Exact(v), back, err)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse[Gauge]("20 kPa"); err != nil {
			b.Fatal(err)
		}
	}
}

// Sentences that hold a quantity were printed as "assµmed", "fµll" and "resµlt".
func TestTypesetLeavesWordsAlone(t *testing.T) {
	for in, want := range map[string]string{
		"Pools full: 50 g/m2 was assumed (20 g/m2 to 100 g/m2), result": "Pools full: 50 g/m² was assumed (20 g/m² to 100 g/m²), result",
		"10 um at most, 12 ul, 20 uPa":                                  "10 µm at most, 12 µl, 20 µPa",
		"0.34 mm2/s, 6.6 kW/(m3/min), 12 W/(m2 K)":                      "0.34 mm²/s, 6.6 kW/(m³/min), 12 W/(m² K)",
		"28 degC, 90 deg":    "28 °C, 90°",
		"8 degrees lower":    "8 degrees lower",
		"7 Btu/(h ft2 degF)": "7 Btu/(h ft² °F)",
		"kg/(s m2)":          "kg/(s m²)",
		"maximum volume":     "maximum volume",
	} {
		if got := Typeset(in); got != want {
			t.Errorf("Typeset(%q) = %q, want %q", in, got, want)
		}
	}
}
