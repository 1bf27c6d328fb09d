package relation

import "math"

// Severity says what a note asks of the reader.
type Severity string

// The severities, mildest first.
const (
	Info    Severity = "info"    // worth knowing, changes nothing
	Caution Severity = "caution" // the number is less sure than its band says
	Outside Severity = "outside" // a relation was used outside its range
	Stop    Severity = "stop"    // no number is given
)

// shown gives a value and its limit, in SI, in the unit in which a reader meets them: degC, degrees, kPa from 1 kPa,
// mm below 1 m.
func shown(value, limit float64, unit string) (v, l float64, u string) {
	switch {
	case unit == "K":
		return value - zeroCelsius, limit - zeroCelsius, "degC"
	case unit == "rad":
		return value * 180 / math.Pi, limit * 180 / math.Pi, "deg"
	case unit == "Pa" && math.Abs(limit) >= 1e3:
		return value / 1e3, limit / 1e3, "kPa"
	case unit == "m" && math.Abs(limit) < 1:
		return value * 1e3, limit * 1e3, "mm"
	}
	return value, limit, unit
}

const zeroCelsius = 273.15 // K

// A Note is what a result says about its own validity. Value and Limit are in Unit; both are NaN when the
// note is not about a number.
type Note struct {
	Severity Severity
	Relation string // card ID, or "" when no single relation is meant
	Text     string // one sentence, without its full stop
	Value    float64
	Limit    float64
	Unit     string
}
