package study

import (
	"fmt"
	"math"
	"strings"

	"leste/accept"
	"leste/design"
	q "leste/quantity"
)

// grain is the least change of an input that can be set or read on site, in a unit; common practice, no source.
type grain struct {
	unit string
	step float64
}

// grains of lengths, of slot gaps, of angles and of differences of temperature, in both systems of units.
var (
	lengths    = map[q.System]grain{q.SI: {"mm", 1}, q.US: {"in", 0.05}}
	gaps       = map[q.System]grain{q.SI: {"mm", 0.1}, q.US: {"in", 0.005}}
	angles     = map[q.System]grain{q.SI: {"deg", 0.5}, q.US: {"deg", 0.5}}
	warmths    = map[q.System]grain{q.SI: {"K", 0.5}, q.US: {"degF", 1}}
	proportion = grain{"%", 1}
)

// littleWater is an amount that is weighed to a tenth of a gram on a square metre [kg/m2].
const littleWater = 10e-3

// grainOf is the grain of an input. Pressures and speeds are read to three digits of their value.
func grainOf(b design.Break, units q.System) grain {
	switch b.Kind {
	case q.KindLength:
		if strings.HasPrefix(b.Input, accept.SlotGap) {
			return gaps[units]
		}
		return lengths[units]
	case q.KindAngle:
		return angles[units]
	case q.KindTemperature:
		return warmths[units]
	case q.KindRatio:
		return proportion
	case q.KindAreaMass:
		if b.Value < littleWater {
			return grain{"g/m2", 0.1}
		}
		return grain{"g/m2", 1}
	}
	const digits = 3
	number, unit, _ := strings.Cut(b.Kind.Format(b.Value, units), " ")
	step := 1.0
	if x, err := b.Kind.In(b.Value, unit); err == nil && x > 0 && number != "" {
		step = math.Pow(10, math.Floor(math.Log10(x))-(digits-1))
	}
	return grain{unit, step}
}

// moved is how far an input may move, written as a difference that can be set or read, of which the station stands
// every part: it is rounded down.
func moved(b design.Break, units q.System) string {
	if units == "" {
		units = q.SI
	}
	g := grainOf(b, units)
	kind := b.Kind
	if kind == q.KindTemperature {
		kind = q.KindTemperatureDifference
	}
	x := 100 * b.Move
	if kind != q.KindRatio {
		var err error
		if x, err = kind.In(b.Move, g.unit); err != nil {
			return kind.Format(b.Move, units)
		}
	}
	const noise = 1e-6
	steps := math.Floor(x/g.step + noise)
	if steps < 1 {
		return fmt.Sprintf("less than %s %s", q.Significant(g.step, 3), g.unit)
	}
	return q.Significant(steps*g.step, 6) + " " + g.unit
}
