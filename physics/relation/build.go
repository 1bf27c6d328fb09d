package relation

import "math"

// Sym, Val and the limits below keep the lists of cards readable.

// Sym returns a symbol.
func Sym(name, unit, meaning string) Symbol { return Symbol{Name: name, Unit: unit, Meaning: meaning} }

// Val returns a value of a worked example.
func Val(name string, value float64, unit string) Value {
	return Value{Name: name, Value: value, Unit: unit}
}

// Within returns a limit with both ends.
func Within(symbol string, low, high float64, s Severity, text string) Limit {
	return Limit{Symbol: symbol, Low: low, High: high, Severity: s, Text: text}
}

// AtLeast returns a limit with a lower end only.
func AtLeast(symbol string, low float64, s Severity, text string) Limit {
	return Within(symbol, low, math.Inf(1), s, text)
}

// AtMost returns a limit with an upper end only.
func AtMost(symbol string, high float64, s Severity, text string) Limit {
	return Within(symbol, math.Inf(-1), high, s, text)
}
