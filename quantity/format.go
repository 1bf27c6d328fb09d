package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// System is a system of units for reading by people.
type System string

// The systems.
const (
	SI System = "si"
	US System = "us"
)

// Format writes an SI value of kind k with a unit fit for its size, to three significant digits, in a
// spelling that Parse reads. NaN and infinities give "not known".
func (k Kind) Format(v float64, system System) string { return k.FormatDigits(v, system, 3) }

// FormatDigits is Format with the number of significant digits. Temperatures keep a tenth of a degree.
func (k Kind) FormatDigits(v float64, system System, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "not known"
	}
	if kinds[k].dim == (dim{}) {
		return Significant(v, digits)
	}
	symbol := k.symbol(v, system)
	x, _ := k.In(v, symbol) // the table's units fit their kinds, tested
	switch k {
	case KindTemperature, KindSoundLevel:
		x = math.Round(x*10) / 10
		return strconv.FormatFloat(Unsigned(x), 'f', -1, 64) + " " + symbol
	}
	return Significant(x, digits) + " " + symbol
}

// Format writes a quantity in SI units; see Kind.Format.
func Format[T Quantity](v T, system System) string { return KindOf(v).Format(float64(v), system) }

// Usual lists the units of kind k that a system writes, the smallest first; none for a kind without units.
func (k Kind) Usual(system System) []string {
	list := kinds[k].si
	if system == US {
		list = kinds[k].us
	}
	var out []string
	for entry := range strings.SplitSeq(list, "|") {
		if symbol, _, _ := strings.Cut(entry, "@"); symbol != "" {
			out = append(out, symbol)
		}
	}
	return out
}

// symbol picks the largest unit that the value fills.
func (k Kind) symbol(v float64, system System) string {
	list := kinds[k].si
	if system == US {
		list = kinds[k].us
	}
	best := ""
	for entry := range strings.SplitSeq(list, "|") {
		symbol, from, given := strings.Cut(entry, "@")
		least := 1.0
		if given {
			least, _ = strconv.ParseFloat(from, 64)
		}
		x, _ := k.In(v, symbol)
		if best == "" || math.Abs(x) >= least*(1-1e-9) {
			best = symbol
		}
	}
	if v == 0 && system == US {
		least, _, _ := strings.Cut(list, "|")
		symbol, _, _ := strings.Cut(least, "@")
		return symbol
	}
	if v == 0 {
		return k.Units()[0]
	}
	return best
}

// Exact writes an SI value of kind k in a unit fit for its size with every digit it has, so that Parse gives
// it back to the last digit but one.
func (k Kind) Exact(v float64) string {
	if kinds[k].dim == (dim{}) {
		return strconv.FormatFloat(Unsigned(v), 'g', -1, 64)
	}
	text, _ := k.ExactIn(v, k.symbol(v, SI))
	return text
}

// tidy drops the last bit of noise that a change of unit leaves: 0.3 mm, not 0.30000000000000004 mm.
func tidy(x float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	if err != nil {
		return x
	}
	return short
}

// Significant writes x to n significant digits without trailing zeros after the point; powers of ten only
// beyond a million and below a ten-thousandth.
func Significant(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(Unsigned(x), 'g', -1, 64)
	}
	rounded := Round(x, n)
	if a := math.Abs(rounded); a >= 1e7 || a < 1e-4 {
		return strconv.FormatFloat(rounded, 'g', -1, 64)
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// Telling returns how many significant digits, at least so many and at most nine, tell the values from a limit as they
// are: a value beyond the limit must not read as one that keeps to it, nor the other way round. The limit has a digit
// more.
func Telling(limit float64, least int, values ...float64) int {
	const most = 9
	for n := max(least, 1); n < most; n++ {
		told := true
		for _, v := range values {
			told = told && (v > limit) == (Round(v, n) > Round(limit, n+1))
		}
		if told {
			return n
		}
	}
	return most
}

// Unsigned is x, but never a zero with a sign, which readers take for a mistake. Zero added to it does that.
func Unsigned(x float64) float64 { return x + 0 }

// Round is x to n significant digits.
func Round(x float64, n int) float64 {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', max(n, 1)-1, 64), 64) // what was written is read back
	return rounded
}

// Typeset writes a formatted quantity for print: "28 °C", "50 g/m²". Parse reads it too. Of a sentence it changes
// the units alone.
func Typeset(s string) string {
	s = angles.ReplaceAllString(degrees.Replace(s), "°")
	s = powers.ReplaceAllStringFunc(s, func(unit string) string { return unit[:len(unit)-1] + raised[unit[len(unit)-1]] })
	return micros.ReplaceAllString(s, "${1}µ$2")
}

var (
	degrees = strings.NewReplacer(" degC", " °C", " degF", " °F", "degF", "°F")
	angles  = regexp.MustCompile(` deg\b`)
	powers  = regexp.MustCompile(`\b(?:m|cm|mm|ft|in)[23]\b`)
	micros  = regexp.MustCompile(`(^|[^\pL\pM])u(m|l|L|Pa)\b`)
	raised  = map[byte]string{'2': "²", '3': "³"}
)
