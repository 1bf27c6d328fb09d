package quantity

import (
	"strconv"
	"strings"
)

// UnitOf is the unit of a text that Parse reads as kind k, as it is written there and without a word for gauge or absolute:
// "in" of "1 1/2 in". It is "" of a number without a unit, and of what is no number.
func (k Kind) UnitOf(text string) string {
	_, rest, err := cutNumber(strings.TrimSpace(text))
	if err != nil {
		return ""
	}
	rest, _ = cutBasis(rest)
	if u, err := parseUnit(rest); rest == "" || err != nil || u.dim != kinds[k].dim {
		return ""
	}
	return rest
}

// Fit is the unit that a system writes a value of kind k in; "" for a plain number.
func (k Kind) Fit(v float64, system System) string {
	if kinds[k].dim == (dim{}) {
		return ""
	}
	return k.symbol(v, system)
}

// ExactIn writes an SI value of kind k in a unit with every digit it has, as Exact does, with the number of its significant
// digits. The unit must be one of the kind.
func (k Kind) ExactIn(v float64, symbol string) (text string, digits int) {
	x, err := k.In(v, symbol)
	if err != nil {
		panic("quantity: " + err.Error()) // programmer misuse
	}
	x = Unsigned(tidy(x))
	mantissa, _, _ := strings.Cut(strconv.FormatFloat(x, 'e', -1, 64), "e")
	digits = len(strings.Trim(mantissa, "-")) - strings.Count(mantissa, ".")
	return with(strconv.FormatFloat(x, 'g', -1, 64), symbol), digits
}

// with puts a unit after a number.
func with(number, symbol string) string {
	if symbol == "" {
		return number
	}
	return number + " " + symbol
}

// customary and metric are symbols that units of one system alone are made of.
var (
	customary = words("in inch inches ft feet foot yd mil thou gal floz fpm fps mph psi psig psia inH2O inWC inwc ftH2O inHg lb lbs oz lbf ozf Btu BTU hp degF °F F ℉ cfm acfm cfh gpm")
	metric    = words("m mm cm um µm μm km micron l L ml mL ul dl cl Pa kPa hPa MPa bar mbar barg bara mbarg atm mmH2O mH2O mmHg kg N mN kN J kJ MJ degC °C C ℃ K")
)

func words(list string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(list) {
		out[w] = true
	}
	return out
}

// SystemOf is the system that a unit belongs to; "" where both write it, or neither tells.
func SystemOf(symbol string) System {
	atoms := strings.FieldsFunc(symbol, func(r rune) bool { return strings.ContainsRune(" /*·()^²³0123456789", r) })
	if strings.Contains(symbol, "H2O") { // the figure is part of the name
		atoms = []string{symbol}
	}
	for _, a := range atoms {
		if customary[a] {
			return US
		}
	}
	for _, a := range atoms {
		if metric[strings.TrimRight(a, "23")] || metric[a] {
			return SI
		}
	}
	return ""
}
