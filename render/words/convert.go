package words

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	q "leste/quantity"
)

// metric are the units of sentences that the other system writes differently, and what each measures there. Water is
// weighed in milligrams in both systems.
var metric = []struct {
	symbols string
	kind    q.Kind
}{
	{"degC|°C", q.KindTemperature},
	{"K", q.KindTemperatureDifference},
	{"µm|um|mm|cm|m", q.KindLength},
	{"m/s", q.KindSpeed},
	{"kg/s|g/s", q.KindMassFlow},
	{"m3/s|m³/s|m3/min|m³/min|m3/h|m³/h", q.KindVolumeFlow},
	{"kPa|bar", q.KindGauge}, // plenums and blowers are told so
	{"Pa|mbar", q.KindPressureDrop},
	{"kg|g", q.KindMass},
	{"kg/m3|kg/m³", q.KindDensity},
	{"N", q.KindForce},
	{"W|kW", q.KindPower},
	{"W/(m2 K)|W/(m² K)", q.KindHeatTransfer},
	{"kW/(m3/min)|kW/(m³/min)", q.KindSpecificPower},
}

// kindOf is what a metric unit measures.
var kindOf = func() map[string]q.Kind {
	kinds := map[string]q.Kind{}
	for _, m := range metric {
		for symbol := range strings.SplitSeq(m.symbols, "|") {
			kinds[symbol] = m.kind
		}
	}
	return kinds
}()

const (
	aNumber = `[-−+]?\d+(?:[.,]\d+)?(?:e[-+]?\d+)?`
	aJoint  = ` (?:to|or|against|bis|oder|gegen|…) `
)

// measured is a quantity within a sentence, or several numbers with one unit: "2 to 5 mm".
var measured = func() *regexp.Regexp {
	var symbols []string
	for _, m := range metric {
		for symbol := range strings.SplitSeq(m.symbols, "|") {
			symbols = append(symbols, regexp.QuoteMeta(symbol))
		}
	}
	re := regexp.MustCompile(`((?:` + aNumber + aJoint + `)*` + aNumber + `)[ \x{a0}](` + strings.Join(symbols, "|") + `)`)
	re.Longest()
	return re
}()

// joint parts the numbers of a span.
var joint = regexp.MustCompile(aJoint)

// reference is a distance that levels of sound are stated for, whatever the units.
const reference = "1 m"

// InUnits writes the quantities of a text of ours in the units of the words.
func (w Words) InUnits(text string) string {
	if w.Units == SI || text == "" {
		return text
	}
	var out strings.Builder
	done := 0
	names := w.named(text)
	for _, at := range measured.FindAllStringSubmatchIndex(text, -1) {
		from, to := at[0], at[1]
		if inWord(text, from, to) || text[from:to] == reference && len(text) > len(reference) {
			continue
		}
		if slices.ContainsFunc(names, func(n [2]int) bool { return from < n[1] && n[0] < to }) {
			continue
		}
		out.WriteString(text[done:from])
		out.WriteString(w.inUnits(text[from:to], text[at[2]:at[3]], text[at[4]:at[5]]))
		done = to
	}
	return out.String() + text[done:]
}

// figures is InUnits for a part of a sentence that nobody knows, where it is nothing but figures: "about 12.5 cm (at 20
// degC)". What holds a word more may be a name, "600 mm knife", and stays.
func (w Words) figures(text string) string {
	for word := range strings.FieldsFuncSeq(measured.ReplaceAllString(text, " "), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if !slices.Contains(ofFigures, word) {
			return text
		}
	}
	return w.InUnits(text)
}

// ofFigures are the words that stand with figures.
var ofFigures = strings.Fields("about at least most up to over under above below between and or more less than from each by only")

// Alike writes quantities that stand side by side, as a value and the ends of its range, in one unit: 1 m of 0.5 to 4 m is
// 3.28 ft of 1.64 to 13.1 ft. It reports whether all of them are such quantities and would have had several.
func (w Words) Alike(texts ...string) ([]string, bool) {
	if w.Units == SI {
		return texts, false
	}
	values, kind, units := make([]float64, len(texts)), q.None, map[string]bool{}
	for i, text := range texts {
		at := measured.FindStringSubmatch(text)
		if at == nil || at[0] != text || joint.MatchString(at[1]) || i > 0 && kindOf[at[2]] != kind {
			return texts, false
		}
		kind = kindOf[at[2]]
		v, err := kind.Parse(text)
		if err != nil {
			return texts, false
		}
		values[i], units[unitOf(v, kind, q.US)] = v, true
	}
	if len(units) < 2 {
		return texts, false
	}
	us := w
	us.Units = US
	column, out := us.Column(kind, values...), make([]string, len(texts))
	for i, v := range values {
		if out[i] = column.Value(v, 3); w.Units == Both {
			out[i] = w.local(q.Typeset(texts[i])) + " (" + out[i] + ")"
		}
	}
	return out, true
}

// inWord reports whether what lies between from and to is only a part of a word or of another unit.
func inWord(text string, from, to int) bool {
	before, _ := utf8.DecodeLastRuneInString(text[:from])
	after, _ := utf8.DecodeRuneInString(text[to:])
	letter := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	return letter(before) || before == '.' || before == ',' || letter(after) || strings.ContainsRune("/²³·^", after)
}

// inUnits writes numbers that share a metric unit.
func (w Words) inUnits(text, numbers, symbol string) string {
	if w.point() == "." && strings.Contains(numbers, ",") {
		return text // thousands are set apart there, or it is no number of ours
	}
	kind := kindOf[symbol]
	var values []float64
	for _, n := range joint.Split(numbers, -1) {
		v, err := kind.Parse(strings.ReplaceAll(n, ",", ".") + " " + symbol)
		if err != nil {
			return text
		}
		values = append(values, v)
	}
	last := len(values) - 1
	written := kind.FormatDigits(values[last], q.US, 3)
	if kind == q.KindMass && strings.HasSuffix(written, " mg") {
		return text // water, not goods
	}
	_, unit, _ := strings.Cut(written, " ")
	joints := joint.FindAllString(numbers, -1)
	span := ""
	for i, v := range values[:last] {
		x, err := kind.In(v, unit)
		if err != nil {
			return text
		}
		figures := q.Significant(x, 3)
		if kind == q.KindTemperature { // to the tenth, as the last one
			figures = q.Significant(math.Round(x*10)/10, 6)
		}
		span += figures + joints[i]
	}
	us := w.local(q.Typeset(span + written))
	if w.Units == Both {
		return w.local(q.Typeset(text)) + " (" + us + ")"
	}
	return us
}
