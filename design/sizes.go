package design

import (
	"fmt"
	"math"
	"reflect"
	"slices"

	"leste/job"
	q "leste/quantity"
)

// Sizes are what outlets can be had in and how finely they can be set. A small fixed kit is a short list of each.
type Sizes struct {
	Units q.System `json:",omitempty"` // of what is usual; "" is SI

	Gaps      []q.Length // slot gaps of air knives
	Bores     []q.Length // bores of nozzles
	Spacings  []q.Length // distances between the nozzles of a manifold
	Lengths   [2]q.Length
	Clearance [2]q.Length // lip to the nearest wall that passes, across travel or above
	Pressure  [2]q.Gauge  // plenum pressures that a blower of the usual kinds can hold

	LengthStep, HeightStep, ClearanceStep q.Length
	AngleStep                             q.Angle
	PressureStep                          q.Gauge
}

const inch = 0.0254 // m

// UsualSizes are those that most makers offer and a technician can set, in round numbers of a system of units; common
// practice, no source.
func UsualSizes(units q.System) Sizes {
	const mm, psi, kPa = 1e-3, 6894.757293168361, 1e3
	all := func(unit float64, values ...float64) []q.Length {
		out := make([]q.Length, len(values))
		for i, v := range values {
			out[i] = q.Length(v * unit)
		}
		return out
	}
	if units == q.US {
		return Sizes{
			Units:      q.US,
			Gaps:       all(inch, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.12),
			Bores:      all(inch, 0.25, 0.3125, 0.375, 0.5, 0.625, 0.75, 0.875, 1, 1.25, 1.5),
			Spacings:   all(inch, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4),
			Lengths:    [2]q.Length{2.5 * inch, 24 * inch},
			Clearance:  [2]q.Length{0.8 * inch, 6 * inch},
			Pressure:   [2]q.Gauge{0.15 * psi, 4.4 * psi},
			LengthStep: 0.5 * inch, HeightStep: 0.1 * inch, ClearanceStep: 0.05 * inch,
			AngleStep: q.Degrees(1), PressureStep: 0.005 * psi,
		}
	}
	return Sizes{
		Gaps:       all(mm, 0.8, 1, 1.2, 1.5, 2, 2.5, 3),
		Bores:      all(mm, 6, 8, 10, 12, 16, 19, 22, 25, 32, 38),
		Spacings:   all(mm, 20, 25, 30, 40, 50, 60, 80, 100),
		Lengths:    [2]q.Length{60 * mm, 600 * mm},
		Clearance:  [2]q.Length{20 * mm, 150 * mm},
		Pressure:   [2]q.Gauge{1 * kPa, 30 * kPa},
		LengthStep: 10 * mm, HeightStep: 2 * mm, ClearanceStep: 1 * mm,
		AngleStep: q.Degrees(1), PressureStep: 20, // a tenth of a hertz at the blower
	}
}

// standOffStep is how finely a stand-off is measured on site.
func (s *Sizes) standOffStep() float64 {
	const metric, customary = 1e-3, 0.02 * inch
	if s.Units == q.US {
		return customary
	}
	return metric
}

// filled takes from the usual sizes what is not given.
func (s Sizes) filled() Sizes {
	u := UsualSizes(s.Units)
	for _, l := range []struct{ own, usual *[]q.Length }{{&s.Gaps, &u.Gaps}, {&s.Bores, &u.Bores}, {&s.Spacings, &u.Spacings}} {
		if len(*l.own) == 0 {
			*l.own = *l.usual
		}
		*l.own = slices.Clone(*l.own)
		slices.Sort(*l.own)
	}
	for _, r := range []struct{ own, usual *[2]q.Length }{{&s.Lengths, &u.Lengths}, {&s.Clearance, &u.Clearance}} {
		if *r.own == [2]q.Length{} {
			*r.own = *r.usual
		}
	}
	if s.Pressure == [2]q.Gauge{} {
		s.Pressure = u.Pressure
	}
	for _, v := range []struct{ own, usual *q.Length }{
		{&s.LengthStep, &u.LengthStep}, {&s.HeightStep, &u.HeightStep}, {&s.ClearanceStep, &u.ClearanceStep},
	} {
		if *v.own == 0 {
			*v.own = *v.usual
		}
	}
	if s.AngleStep == 0 {
		s.AngleStep = u.AngleStep
	}
	if s.PressureStep == 0 {
		s.PressureStep = u.PressureStep
	}
	return s
}

// check says which sizes cannot be.
func (s Sizes) check() error {
	positive := func(x float64) bool { return x > 0 && !math.IsInf(x, 1) }
	for _, l := range []struct {
		name, field string
		list        []q.Length
	}{{"slot gaps", "SlotGap", s.Gaps}, {"bores", "Bore", s.Bores}, {"spacings", "Spacing", s.Spacings}} {
		for _, v := range l.list {
			if !positive(float64(v)) {
				return fmt.Errorf("sizes: %s must be above zero, not %g mm", l.name, v.MM())
			}
			if low, high := writable(l.field); v < low || v > high {
				return fmt.Errorf("sizes: %s can be from %g mm to %g mm, not %g mm", l.name, low.MM(), high.MM(), v.MM())
			}
		}
	}
	widest := slices.Max(s.Spacings) / wallOfNozzles
	for _, bore := range s.Bores {
		if bore > widest {
			return fmt.Errorf("sizes: nozzles of %s do not fit beside each other where they stand %s apart at most; bores up to %s do",
				q.Format(bore, q.SI), q.Format(slices.Max(s.Spacings), q.SI), q.KindLength.FormatDigits(math.Floor(widest.MM())/1e3, q.SI, 3))
		}
	}
	if low, high := writable("Length"); s.Lengths[0] > 0 && (s.Lengths[0] < low || s.Lengths[1] > high) {
		return fmt.Errorf("sizes: lengths of outlets can be from %s to %s, not from %s to %s",
			q.Format(low, q.SI), q.Format(high, q.SI), q.Format(s.Lengths[0], q.SI), q.Format(s.Lengths[1], q.SI))
	}
	for _, r := range []struct {
		name      string
		low, high float64
	}{
		{"lengths", float64(s.Lengths[0]), float64(s.Lengths[1])},
		{"clearances", float64(s.Clearance[0]), float64(s.Clearance[1])},
		{"plenum pressures", float64(s.Pressure[0]), float64(s.Pressure[1])},
	} {
		if !positive(r.low) || !positive(r.high) || r.low > r.high {
			return fmt.Errorf("sizes: %s must run from above zero upwards, not from %g to %g", r.name, r.low, r.high)
		}
	}
	for _, v := range []float64{float64(s.LengthStep), float64(s.HeightStep), float64(s.ClearanceStep), float64(s.AngleStep), float64(s.PressureStep)} {
		if !positive(v) {
			return fmt.Errorf("sizes: the steps that can be set must be above zero")
		}
	}
	return nil
}

// writable is what a length of an outlet can be in a job file, by the name of its field.
func writable(field string) (low, high q.Length) {
	f, _ := reflect.TypeFor[job.Outlet]().FieldByName(field)
	low, lowErr := q.Parse[q.Length](f.Tag.Get("min"))
	high, highErr := q.Parse[q.Length](f.Tag.Get("max"))
	if lowErr != nil || highErr != nil {
		panic("design: a job file has no limits for the " + field + " of an outlet")
	}
	return low, high
}

func floats[T ~float64](list []T) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = float64(v)
	}
	return out
}
