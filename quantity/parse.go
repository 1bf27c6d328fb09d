package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Codes of a ParseError.
const (
	CodeNumber   = "number"   // no number, or one that cannot be read in only one way
	CodeNoUnit   = "no-unit"  // a number without its unit
	CodeUnit     = "unit"     // a unit nobody knows, or that can be read in two ways
	CodeKind     = "kind"     // a unit of another quantity
	CodeBasis    = "basis"    // gauge where absolute is meant, or the other way round
	CodeStandard = "standard" // a standard flow
)

// A ParseError says what is wrong with a text that should be a quantity, and what would be right.
type ParseError struct {
	Code string
	Text string // what is wrong
	Want string // what would be right
}

// Error returns both sentences in one line.
func (e *ParseError) Error() string {
	if e.Want == "" {
		return e.Text
	}
	return e.Text + "; " + e.Want
}

// Parse reads a number with its unit, e.g. "1.5 mm", "1 1/2 in", "20 kPa", "36000 b/h", "104 degF",
// and returns the value in SI. Errors are of type *ParseError.
//
// A decimal comma is read as a decimal point. Where a comma could also group thousands ("1,500 mm") and
// where both signs occur the text is refused; groups of three digits may be set off by spaces. A bare
// 0 needs no unit unless the kind is a temperature or a sound level. NaN, infinities and numbers too large
// for a float64 are refused. Ranges are not checked here, but for one: an absolute pressure below 20 kPa is
// taken for a gauge pressure and refused unless it is marked "abs".
func Parse[T Quantity](text string) (T, error) {
	var zero T
	v, err := KindOf(zero).Parse(text)
	return T(v), err
}

// Parse reads a text as a quantity of kind k; see the generic Parse. It panics when k is None.
func (k Kind) Parse(text string) (float64, error) {
	if k == None || k >= kindEnd {
		panic("quantity: Parse of no kind")
	}
	number, rest, perr := cutNumber(strings.TrimSpace(text))
	if perr != nil {
		perr.Want = fmt.Sprintf("write %s, e.g. %q", k.Name(), k.Example())
		if perr.Code == CodeNumber && strings.HasPrefix(perr.Text, ambiguous) {
			perr.Want = "write a decimal point and no thousands sign"
		}
		return 0, perr
	}
	rest, basis := cutBasis(rest)
	if rest == "" {
		return k.bare(text, number)
	}
	if s := standardIn(rest); s != "" {
		return 0, &ParseError{
			CodeStandard, fmt.Sprintf("%q counts air at a standard state that it does not tell", s),
			"give the actual flow at the state meant, e.g. \"600 m3/h\" or \"350 cfm\"",
		}
	}
	u, perr := parseUnit(rest)
	if perr != nil {
		if code, tail, ok := strings.Cut(rest, "/"); ok && (k == KindPricePerEnergy || k == KindPricePerPower) && len(code) >= 1 {
			return 0, &ParseError{
				CodeUnit, fmt.Sprintf("%q names a currency; the prices of a job share one, which it names once", rest),
				fmt.Sprintf("write \"/%s\"", tail),
			}
		}
		if perr.Want == "" {
			perr.Want = k.wantUnit(rest)
		}
		return 0, perr
	}
	if u.dim != kinds[k].dim {
		return 0, k.wrongUnit(rest, u.dim)
	}
	basis |= u.traits & (overRoom | overVacuum)
	v := number * u.factor
	if k == KindTemperature {
		v += u.offset
	}
	return k.settle(text, v*kinds[k].scale, basis)
}

// bare judges a number without a unit.
func (k Kind) bare(text string, number float64) (float64, error) {
	switch {
	case kinds[k].dim == dim{}:
		return k.settle(text, number, 0)
	case number == 0 && zeroNeedsNoUnit(k):
		return 0, nil
	}
	first, _, _ := strings.Cut(kinds[k].units, "|")
	return 0, &ParseError{
		CodeNoUnit, fmt.Sprintf("%q has no unit; %s is needed", strings.TrimSpace(text), k.Name()),
		fmt.Sprintf("write the unit, e.g. \"%s %s\"", strings.TrimSpace(text), first),
	}
}

// zeroNeedsNoUnit reports whether nothing is nothing in every unit of the kind.
func zeroNeedsNoUnit(k Kind) bool {
	return k != KindTemperature && k != KindAbsolute && k != KindSoundLevel
}

// leastAbsolute is the pressure [Pa] below which an absolute pressure is taken for a gauge pressure: the
// air at 11.8 km in ISO 2533, far above any plant.
const leastAbsolute = 20e3

// settle applies the rules that need the value.
func (k Kind) settle(text string, v float64, basis traits) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, &ParseError{CodeNumber, fmt.Sprintf("%q is too large a number", text), fmt.Sprintf("write %s, e.g. %q", k.Name(), k.Example())}
	}
	switch k {
	case KindGauge:
		if basis&overVacuum != 0 {
			return 0, &ParseError{
				CodeBasis, fmt.Sprintf("%q is absolute, a gauge pressure is meant here", text),
				"write the pressure above the room's, e.g. \"20 kPa\"",
			}
		}
	case KindAbsolute:
		if basis&overRoom != 0 {
			return 0, &ParseError{
				CodeBasis, fmt.Sprintf("%q is a gauge pressure, an absolute one is meant here", text),
				"write the pressure above vacuum, e.g. \"101.3 kPa\"",
			}
		}
		if v < leastAbsolute && basis&overVacuum == 0 {
			return 0, &ParseError{
				CodeBasis, fmt.Sprintf("%q is far below any air pressure on site; it looks like a gauge pressure", text),
				"write the absolute pressure, e.g. \"101.3 kPa\"",
			}
		}
	case KindTemperature:
		if v < 0 {
			return 0, &ParseError{CodeNumber, fmt.Sprintf("%q is below absolute zero", text), fmt.Sprintf("write %s, e.g. %q", k.Name(), k.Example())}
		}
	default:
		if basis != 0 {
			return 0, &ParseError{CodeBasis, fmt.Sprintf("%q says gauge or absolute where %s is meant", text, k.Name()), "leave the word out"}
		}
	}
	return v, nil
}

// wrongUnit explains a unit that belongs to another quantity.
func (k Kind) wrongUnit(symbol string, d dim) *ParseError {
	text := fmt.Sprintf("%q is no unit of %s", symbol, k.Name())
	for other := None + 1; other < kindEnd; other++ {
		if kinds[other].dim == d && d != (dim{}) {
			text = fmt.Sprintf("%q is a unit of %s, %s is needed", symbol, kinds[other].name, k.Name())
			break
		}
	}
	return &ParseError{CodeKind, text, k.wantUnit(symbol)}
}

// wantUnit lists the usual units of the kind, the one meant first if it can be guessed.
func (k Kind) wantUnit(symbol string) string {
	if kinds[k].dim == (dim{}) {
		return "write a plain number or a percentage, e.g. \"" + k.Example() + "\""
	}
	list := k.Units()
	for _, u := range list {
		if strings.EqualFold(u, symbol) {
			return fmt.Sprintf("write %q", u)
		}
	}
	return "write it in " + strings.Join(list, ", ")
}

// Units lists the units of the kind that forms offer; the first is the usual one, "" is a plain number.
func (k Kind) Units() []string { return strings.Split(kinds[k].units, "|") }

// In returns the SI value v of kind k as a number of the given unit. It is the inverse of Parse.
func (k Kind) In(v float64, symbol string) (float64, error) {
	if symbol == "" && kinds[k].dim == (dim{}) {
		return v, nil
	}
	u, perr := parseUnit(symbol)
	if perr != nil {
		perr.Want = k.wantUnit(symbol)
		return 0, perr
	}
	if u.dim != kinds[k].dim {
		return 0, k.wrongUnit(symbol, u.dim)
	}
	if k == KindTemperature {
		v -= u.offset
	}
	return v / u.factor / kinds[k].scale, nil
}

// cutBasis takes the words for gauge and absolute off the end of a unit.
func cutBasis(s string) (string, traits) {
	for _, w := range []struct {
		word  string
		basis traits
	}{
		{"(g)", overRoom},
		{"(gauge)", overRoom},
		{" gauge", overRoom},
		{" g", 0},
		{"(a)", overVacuum},
		{"(abs)", overVacuum},
		{" absolute", overVacuum},
		{" abs.", overVacuum},
		{" abs", overVacuum},
	} {
		if rest, ok := strings.CutSuffix(s, w.word); ok && w.basis != 0 {
			if u, perr := parseUnit(rest); perr == nil && u.dim == dPressure {
				return strings.TrimSpace(rest), w.basis
			}
		}
	}
	if rest, ok := strings.CutSuffix(s, "(A)"); ok && strings.TrimSpace(rest) == "dB" {
		return "dB", 0
	}
	return s, 0
}

// standardIn returns the symbol of a standard flow that s starts with, or "".
func standardIn(s string) string {
	word := s
	if i := strings.IndexAny(s, "/ ("); i >= 0 {
		word = s[:i]
	}
	for _, name := range standard {
		if word == name {
			return name
		}
	}
	return ""
}

const ambiguous = "the number can be read in two ways"

// cutNumber reads the number at the start of s and returns what follows it, without the space between.
func cutNumber(s string) (float64, string, *ParseError) {
	s = strings.Replace(s, "−", "-", 1) // typographic minus
	end, digits := 0, 0
	for end < len(s) {
		c := s[end]
		switch {
		case c >= '0' && c <= '9':
			digits++
		case (c == '+' || c == '-') && (end == 0 || (s[end-1]|0x20) == 'e'):
		case c == '.' || c == ',':
		case (c == 'e' || c == 'E') && digits > 0 && exponentAt(s, end):
		case c == ' ' && digits > 0 && groupAt(s, end):
		default:
			goto done
		}
		end++
	}
done:
	text, rest := s[:end], s[end:]
	if digits == 0 {
		return 0, "", &ParseError{Code: CodeNumber, Text: fmt.Sprintf("%q does not start with a number", clip(s))}
	}
	plain, ok := decimal(text)
	if !ok {
		return 0, "", &ParseError{Code: CodeNumber, Text: fmt.Sprintf("%s: %q", ambiguous, text)}
	}
	v, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		if math.IsInf(v, 0) {
			return 0, "", &ParseError{Code: CodeNumber, Text: fmt.Sprintf("%q is too large a number", clip(text))}
		}
		return 0, "", &ParseError{Code: CodeNumber, Text: fmt.Sprintf("%q is not a number", clip(text))}
	}
	if f, tail, ok := cutFraction(plain, v, rest); ok {
		v, rest = f, tail
	}
	return v, strings.TrimSpace(rest), nil
}

// exponentAt reports whether an exponent starts at s[i]: an e, a sign or none, and a digit.
func exponentAt(s string, i int) bool {
	i++
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	return i < len(s) && isDigit(s[i])
}

// groupAt reports whether the space at s[i] sets off a group of exactly three digits after one to three,
// as in "36 000 /h".
func groupAt(s string, i int) bool {
	before := 0
	for j := i - 1; j >= 0 && isDigit(s[j]); j-- {
		before++
	}
	after := 0
	for j := i + 1; j < len(s) && isDigit(s[j]); j++ {
		after++
	}
	next := byte(0)
	if i+1+after < len(s) {
		next = s[i+1+after]
	}
	return before >= 1 && before <= 3 && after == 3 && next != '/' && !strings.ContainsAny(s[:i], ".,eE")
}

// decimal writes the number with a decimal point and no groups; false when it can be read in two ways.
func decimal(s string) (string, bool) {
	s = strings.ReplaceAll(s, " ", "")
	commas, points := strings.Count(s, ","), strings.Count(s, ".")
	if commas == 0 {
		return s, true // ParseFloat judges the points
	}
	if commas > 1 || points > 0 {
		return "", false
	}
	whole, part, _ := strings.Cut(s, ",")
	whole = strings.TrimLeft(whole, "+-")
	if len(part) == 3 && len(whole) >= 1 && len(whole) <= 3 && strings.Trim(whole, "0") != "" {
		return "", false
	}
	return strings.Replace(s, ",", ".", 1), true
}

// cutFraction reads "1/2 in" after a whole number ("1 1/2 in") or instead of one ("1/2 in").
func cutFraction(text string, v float64, rest string) (float64, string, bool) {
	whole, numerator := v, 0.0
	if strings.ContainsAny(text, ".eE") {
		return 0, "", false
	}
	if tail, ok := strings.CutPrefix(rest, "/"); ok { // v is the numerator
		whole, numerator, rest = 0, math.Abs(v), tail
	} else {
		rest = strings.TrimLeft(rest, " ")
		n := digitsAt(rest)
		if n == 0 || n >= len(rest) || rest[n] != '/' {
			return 0, "", false
		}
		numerator, _ = strconv.ParseFloat(rest[:n], 64)
		rest = rest[n+1:]
	}
	n := digitsAt(rest)
	if n == 0 {
		return 0, "", false
	}
	denominator, err := strconv.ParseFloat(rest[:n], 64)
	if err != nil || denominator == 0 || math.IsInf(numerator, 0) {
		return 0, "", false
	}
	f := math.Abs(whole) + numerator/denominator
	if strings.HasPrefix(text, "-") {
		f = -f
	}
	return f, rest[n:], true
}

func digitsAt(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// clip shortens a text for a message.
func clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
