package words

import (
	"math"
	"strconv"
	"strings"
	"time"

	q "leste/quantity"
	"leste/render/amount"
)

// nbsp keeps a number and its unit on one line.
const nbsp = "\u00a0"

// Value writes an SI value of a kind with its unit, to the given number of significant digits.
func (w Words) Value(v float64, kind q.Kind, digits int) string {
	if math.IsNaN(v) {
		return w.T("number.unknown")
	}
	if math.IsInf(v, 0) {
		return w.T("number.nolimit")
	}
	si := w.local(q.Typeset(kind.FormatDigits(v, q.SI, digits)))
	us := w.local(q.Typeset(kind.FormatDigits(v, q.US, digits)))
	switch {
	case w.Units == US:
		return us
	case w.Units == Both && us != si && !sameUnits(v, kind):
		return si + " (" + us + ")"
	}
	return si
}

// Band writes a band as its likely value with its ends in one unit: "86 (35 to 210) mg".
func (w Words) Band(b q.Band, kind q.Kind) string { return w.Bands(kind, b).Band(b) }

// bandIn writes a band to so many digits in one unit; "" for kinds without units.
func (w Words) bandIn(b q.Band, kind q.Kind, unit string, digits int) string {
	same := func(v float64) string {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return w.T("number.unknown")
		}
		if unit == "" {
			return amount.Figures(v, digits)
		}
		x, err := kind.In(v, unit)
		if err != nil {
			return w.T("number.unknown")
		}
		return amount.Figures(x, digits)
	}
	out, low, high := same(b.Likely), same(b.Low), same(b.High)
	if low != out || high != out {
		out += " (" + low + " " + w.T("number.to") + " " + high + ")"
	}
	if unit != "" {
		out += " " + unit
	}
	return w.local(q.Typeset(out))
}

// sameUnits reports whether a value is written in a unit of the metre and the gram in both systems: 2400 mg beside
// 2.4 g tells nothing more.
func sameUnits(v float64, kind q.Kind) bool {
	us := unitOf(v, kind, q.US)
	return us == unitOf(v, kind, q.SI) || us == "mg"
}

// unitOf is the unit that a value is written in; "" for a kind without units.
func unitOf(v float64, kind q.Kind, system q.System) string {
	_, unit, _ := strings.Cut(kind.FormatDigits(v, system, 2), " ")
	return unit
}

// Number writes a plain number to n significant digits.
func (w Words) Number(x float64, n int) string {
	switch {
	case math.IsNaN(x):
		return w.T("number.unknown")
	case math.IsInf(x, 0):
		return w.T("number.nolimit")
	}
	return w.local(q.Significant(x, n))
}

// Two writes a plain number to two significant digits, zeros too: "1.0" stands under "0.96".
func (w Words) Two(x float64) string { return w.figured(x, 2) }

// figured writes a plain number to n significant digits, zeros too.
func (w Words) figured(x float64, n int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return w.Number(x, n)
	}
	return w.local(amount.Figures(x, n))
}

// Fixed writes a plain number with a fixed number of decimals and thousands set apart.
func (w Words) Fixed(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return w.T("number.unknown")
	}
	s := strconv.FormatFloat(math.Abs(x), 'f', decimals, 64)
	whole, rest, _ := strings.Cut(s, ".")
	var b strings.Builder
	if x < 0 && strings.Trim(s, "0.") != "" {
		b.WriteString("−")
	}
	for i, r := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(nbsp)
		}
		b.WriteRune(r)
	}
	if rest != "" {
		b.WriteString(w.point() + rest)
	}
	return b.String()
}

// Percent writes a share in per cent to two significant digits.
func (w Words) Percent(share float64) string {
	if math.IsNaN(share) || math.IsInf(share, 0) {
		return w.T("number.unknown")
	}
	return w.Number(share*100, 2) + nbsp + "%"
}

// Money writes an amount without cents, with its currency.
func (w Words) Money(amount float64, currency string) string {
	if math.IsNaN(amount) {
		return w.T("number.unknown")
	}
	return w.Fixed(amount, 0) + nbsp + currency
}

// Date writes a day in words.
func (w Words) Date(t time.Time) string {
	if t.IsZero() {
		return w.T("number.unknown")
	}
	month := w.T("month." + strconv.Itoa(int(t.Month())))
	return w.T("date", strconv.Itoa(t.Day()), month, strconv.Itoa(t.Year()))
}

// local sets the language's decimal sign and keeps number and unit together.
func (w Words) local(s string) string {
	for _, unit := range []string{"°C", "°F"} { // a degree sign alone stands close, with its letter apart
		for _, space := range []string{" ", nbsp} {
			s = strings.ReplaceAll(s, space+unit, unit)
		}
		s = strings.ReplaceAll(s, unit, nbsp+unit)
	}
	s = strings.ReplaceAll(s, " ", nbsp)
	if w.point() == "." {
		return s
	}
	letters := []rune(s)
	digit := func(i int) bool { return i >= 0 && i < len(letters) && letters[i] >= '0' && letters[i] <= '9' }
	for i, r := range letters {
		if r == '.' && digit(i-1) && digit(i+1) {
			letters[i] = ','
		}
	}
	return string(letters)
}

func (w Words) point() string {
	if w.Language == "de" {
		return ","
	}
	return "."
}
