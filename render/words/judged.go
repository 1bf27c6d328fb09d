package words

import (
	"math"

	q "leste/quantity"
)

// Against writes a band and the limit that it is judged by, in the unit of the band, with as many digits as tell on which
// side of the limit the likely value and the high end are: rounding must not hide a miss, nor make one.
func (w Words) Against(b q.Band, limit float64, kind q.Kind) (value, most string) {
	if math.IsNaN(b.Likely) {
		return w.T("number.unknown"), w.Value(limit, kind, 3)
	}
	return w.Column(kind, b.Likely, limit).Against(b, limit)
}

// AgainstPercent is Against for shares.
func (w Words) AgainstPercent(b q.Band, limit float64) (value, most string) {
	hundred := q.Band{Likely: 100 * b.Likely, Low: 100 * b.Low, High: 100 * b.High}
	if math.IsNaN(b.Likely) {
		return w.T("number.unknown"), w.Percent(limit)
	}
	digits := q.Telling(100*limit, 2, hundred.Likely, hundred.High)
	value = w.figured(hundred.Likely, digits)
	if low, high := w.figured(hundred.Low, digits), w.figured(hundred.High, digits); low != value || high != value {
		value += nbsp + "(" + low + nbsp + w.T("number.to") + nbsp + high + ")"
	}
	return value + nbsp + "%", w.Number(100*limit, max(3, digits+1)) + nbsp + "%"
}

// tellingIn is how many digits a band takes in a unit.
func tellingIn(b q.Band, limit float64, kind q.Kind, unit string) int {
	in := func(v float64) float64 {
		if x, err := kind.In(v, unit); err == nil && unit != "" {
			return x
		}
		return v
	}
	return q.Telling(in(limit), 2, in(b.Likely), in(b.High))
}

// Reserve writes a limit over a likely value, two digits or as many as tell on which side of 1 it is.
func (w Words) Reserve(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return w.Number(x, 2)
	}
	return w.figured(x, q.Telling(-1, 2, -x))
}
