package design

import (
	"math"

	q "leste/quantity"
)

// A Variable is one thing that the search may choose: a value between two ends in steps that can be set, or one of
// the sizes that exist.
type Variable struct {
	Name      string // "tilt of the side knives"
	Format    string // the format whose setting it is; "" when it is the same for all
	Kind      q.Kind
	Low, High float64   // SI
	Step      float64   // SI; 0 where any value can be set
	From      float64   // SI; a value that steps are counted from: as it is drawn, whatever the scale says
	Sizes     []float64 // SI, ascending; the sizes that exist, nil where any value does
	Rule      float64   // SI, what a rule of thumb gives
	RuleOf    string    // the rule in words
	Late      bool      // chosen once the rest is near its best: how one format's setting departs from the others'
}

// value is what a coordinate between 0 and 1 stands for.
func (v *Variable) value(x float64) float64 {
	if !(x > 0) { // nor NaN
		x = 0
	}
	x = min(x, 1)
	if n := len(v.Sizes); n > 0 {
		return v.Sizes[min(int(x*float64(n)), n-1)]
	}
	value := v.Low + x*(v.High-v.Low)
	if v.Step > 0 {
		value = v.From + math.Round((value-v.From)/v.Step)*v.Step
		// Ends that lie between two marks of the scale are not passed.
		const noise = 1e-9
		if value > v.High+noise*v.Step {
			value -= v.Step
		}
		if value < v.Low-noise*v.Step {
			value += v.Step
		}
	}
	return value
}

// at is the coordinate of a value: the inverse of value up to the step.
func (v *Variable) at(value float64) float64 {
	if n := len(v.Sizes); n > 0 {
		best := 0
		for i, s := range v.Sizes {
			if math.Abs(s-value) < math.Abs(v.Sizes[best]-value) {
				best = i
			}
		}
		return (float64(best) + 0.5) / float64(n)
	}
	if v.High <= v.Low {
		return 0.5
	}
	return min(max((value-v.Low)/(v.High-v.Low), 0), 1)
}

// stride is the least change of the coordinate that changes the value.
func (v *Variable) stride() float64 {
	switch {
	case len(v.Sizes) > 0:
		return 1 / float64(len(v.Sizes))
	case v.High <= v.Low:
		return 1
	case v.Step > 0:
		return v.Step / (v.High - v.Low)
	}
	return 1e-3
}

// text writes a value of the variable.
func (v *Variable) text(value float64) string {
	if len(v.Sizes) > 0 { // as they are, in whatever units they are told afterwards
		const all = 5
		return v.Kind.FormatDigits(value, q.SI, all)
	}
	// In inches three digits of a millimetre are no round ones. What rules of thumb give is no closer than that.
	const long, digits, tenth, noise = 100e-3, 4, 1e-4, 1e-6
	if tenths := value / tenth; v.Kind == q.KindLength && math.Abs(value) >= long && math.Abs(tenths-math.Round(tenths)) < noise {
		return v.Kind.FormatDigits(value, q.SI, digits)
	}
	return v.Kind.Format(value, q.SI)
}
