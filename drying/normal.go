package drying

import "math"

// tail is the share of a normal distribution above z; its lower part is tail(-z). Within tailReach deviations it
// is read from a table, to 1e-5 of its value: it is asked for millions of times.
func tail(z float64) float64 {
	if !(z > -tailReach && z < tailReach) {
		return math.Erfc(z/math.Sqrt2) / 2
	}
	x := (z + tailReach) * tailSteps
	i := int(x)
	t := x - float64(i)
	a, b := &tails[i], &tails[i+1]
	// Cubic through the two values with their slopes.
	return a.value + t*(a.slope+t*(3*(b.value-a.value)-2*a.slope-b.slope+t*(2*(a.value-b.value)+a.slope+b.slope)))
}

const (
	tailReach = 8  // standard deviations
	tailSteps = 32 // entries for each
)

// tails holds the distribution's tail and its slope over one step.
var tails = func() (table [2*tailReach*tailSteps + 2]struct{ value, slope float64 }) {
	for i := range table {
		z := float64(i)/tailSteps - tailReach
		table[i].value = math.Erfc(z/math.Sqrt2) / 2
		table[i].slope = -math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / tailSteps
	}
	return table
}()
