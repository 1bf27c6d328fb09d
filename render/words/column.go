package words

import (
	"math"
	"strings"

	q "leste/quantity"
)

// A Column writes values of one kind in one unit, so that they can be compared down a table; in papers of both systems
// of units in one of each.
type Column struct {
	w     Words
	kind  q.Kind
	units []string
}

// leastShown is the smallest number of a column beside its unit: below it the unit is too large.
const leastShown = 0.01

// Column finds the unit for values of a kind: that of the greatest, or that of the smallest where it would be lost
// beside it. Nothing, and what is not known, do not count.
func (w Words) Column(kind q.Kind, values ...float64) Column {
	least, most := math.Inf(1), 0.0
	for _, v := range values {
		if a := math.Abs(v); a > 0 && !math.IsInf(a, 0) {
			least, most = min(least, a), max(most, a)
		}
	}
	c := Column{w: w, kind: kind}
	for _, system := range w.systems() {
		unit := unitOf(most, kind, system)
		if x, err := kind.In(least, unit); most > 0 && err == nil && x < leastShown {
			unit = unitOf(least, kind, system)
		}
		c.units = append(c.units, unit)
	}
	if len(c.units) > 1 && (c.units[0] == c.units[1] || c.units[1] == "mg") {
		c.units = c.units[:1]
	}
	return c
}

// Bands is Column for bands, which are told by their likely values.
func (w Words) Bands(kind q.Kind, bands ...q.Band) Column {
	values := make([]float64, len(bands))
	for i, b := range bands {
		values[i] = b.Likely
	}
	return w.Column(kind, values...)
}

// Water returns the words for water on walls: it is weighed in grams in any units.
func (w Words) Water() Words {
	w.Units = SI
	return w
}

// systems are the systems of units that quantities are printed in.
func (w Words) systems() []q.System {
	switch w.Units {
	case US:
		return []q.System{q.US}
	case Both:
		return []q.System{q.SI, q.US}
	}
	return []q.System{q.SI}
}

// Value writes a value with its unit, to so many significant digits.
func (c Column) Value(v float64, digits int) string {
	switch {
	case math.IsNaN(v):
		return c.w.T("number.unknown")
	case math.IsInf(v, 0):
		return c.w.T("number.nolimit")
	}
	out := c.in(v, c.units[0], digits)
	if len(c.units) > 1 {
		out += " (" + c.in(v, c.units[1], digits) + ")"
	}
	return out
}

// Band writes a band as its likely value with its ends, two digits each.
func (c Column) Band(b q.Band) string {
	if math.IsNaN(b.Likely) {
		return c.w.T("number.unknown")
	}
	parts := make([]string, len(c.units))
	for i, unit := range c.units {
		parts[i] = c.w.bandIn(b, c.kind, unit, 2)
	}
	return strings.Join(parts, ";"+nbsp)
}

// Against is Words.Against in the units of the column.
func (c Column) Against(b q.Band, limit float64) (value, most string) {
	if math.IsNaN(b.Likely) {
		return c.w.T("number.unknown"), c.Value(limit, 3)
	}
	digits := make([]int, len(c.units))
	parts := make([]string, len(c.units))
	for i, unit := range c.units {
		digits[i] = tellingIn(b, limit, c.kind, unit)
		parts[i] = c.w.bandIn(b, c.kind, unit, digits[i])
	}
	return strings.Join(parts, ";"+nbsp), c.Value(limit, max(3, digits[0]+1))
}

func (c Column) in(v float64, unit string, digits int) string {
	x, err := c.kind.In(v, unit)
	if unit == "" || err != nil {
		return c.w.local(q.Significant(v, digits))
	}
	return c.w.local(q.Typeset(q.Significant(x, digits) + " " + unit))
}
