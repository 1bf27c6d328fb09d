package quote

import (
	"math"

	q "leste/quantity"
	"leste/render/chart"
	"leste/render/drawing"
	"leste/render/words"
)

// inch is an inch [m].
const inch = 0.0254

// inches reports whether the paper has US units alone. Papers in both have lengths of tables in millimetres.
func (in *Input) inches() bool { return in.Words.Units == words.US }

// oneSystem are the units of tables that have one.
func (in *Input) oneSystem() words.Units {
	if in.inches() {
		return words.US
	}
	return words.SI
}

// lengthUnit is what lengths of tables are written in.
func (in *Input) lengthUnit() string {
	if in.inches() {
		return "in"
	}
	return "mm"
}

// tabled is a length [m] of a table as a number: to the tenth of a millimetre, or the hundredth of an inch, which is
// as much as a scale can be set to. NaN stays so.
func (in *Input) tabled(v float64) float64 {
	if in.inches() {
		return q.Unsigned(math.Round(v/inch*100) / 100)
	}
	return q.Unsigned(math.Round(v*1e4) / 10)
}

// place writes a length of a table without its unit.
func (in *Input) place(v float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case in.inches():
		return in.Words.Fixed(v/inch, 2)
	}
	return in.Words.Fixed(v*1e3, 1)
}

// shortly writes a move to two digits, with its unit: what is given writes the numbers, which it is told how to. A paper in
// both units has it in both.
func (in *Input) shortly(kind q.Kind, what func(number func(v float64) string) string) string {
	return in.inUnits(kind, func(per, _ float64) string {
		return what(func(v float64) string { return in.Words.Two(v / per) })
	})
}

// set writes what a scale is set to, with its unit and to the least that one is set by, and what stands before it.
func (in *Input) set(sign string, v float64, kind q.Kind) string {
	const all = 12 // digits
	return in.inUnits(kind, func(per, steps float64) string {
		return sign + in.Words.Number(math.Round(v/per*steps)/steps, all)
	})
}

// inUnits writes a length or an angle in the units of the paper: what is given writes it in one, which is so much, and of
// which a scale shows so many steps.
func (in *Input) inUnits(kind q.Kind, in1 func(per, steps float64) string) string {
	const mm, tenths, hundredths = 1e-3, 10, 100
	switch {
	case kind == q.KindAngle:
		return in1(math.Pi/180, tenths) + "°"
	case in.inches():
		return in1(inch, hundredths) + unit + "in"
	case in.Words.Units == words.Both:
		return in1(mm, tenths) + unit + "mm" + " (" + in1(inch, hundredths) + unit + "in)"
	}
	return in1(mm, tenths) + unit + "mm"
}

// cut is a length to cut, or a bore, as a number: to the thousandth.
func (in *Input) cut(v float64) float64 {
	if in.inches() {
		return round(v / inch)
	}
	return round(v * 1e3)
}

// flowUnit is what volume flows of charts and lists are written in.
func (in *Input) flowUnit() string {
	if in.inches() {
		return "cfm"
	}
	return "m³/h"
}

// riseUnit is what pressure rises of charts are written in.
func (in *Input) riseUnit() string {
	if in.inches() {
		return "psi"
	}
	return "kPa"
}

// second is the scale of a chart in US units beside one in SI, where a paper has both.
func (in *Input) second(title string, kind q.Kind, unit, us string) *chart.Scale {
	if in.Words.Units != words.Both {
		return nil
	}
	return &chart.Scale{Title: in.Words.T(title, us), Per: as(kind, 1, us) / as(kind, 1, unit)}
}

// flow is a volume flow [m3/s] in that unit.
func (in *Input) flow(v float64) float64 { return as(q.KindVolumeFlow, v, in.flowUnit()) }

// onChart is the place of a volume flow [m3/s] and a pressure rise [Pa] on a chart.
func (in *Input) onChart(flow, rise float64) drawing.Point {
	return drawing.Point{X: in.flow(flow), Y: as(q.KindPressureDrop, rise, in.riseUnit())}
}

// drainUnit is what water to the drain is written in.
func (in *Input) drainUnit() string {
	if in.inches() {
		return "gal/h"
	}
	return "l/h"
}

// drained is a flow of water [kg/s], a litre of which weighs a kilogram, in that unit.
func (in *Input) drained(v float64) float64 {
	litres := v * 3600
	if in.inches() {
		return as(q.KindVolume, litres/1e3, "gal")
	}
	return litres
}

func as(kind q.Kind, v float64, symbol string) float64 {
	x, err := kind.In(v, symbol)
	if err != nil {
		panic(err) // the units are constants that fit their kinds
	}
	return x
}

// motorUnit is what ratings of motors are listed in.
func (in *Input) motorUnit() string {
	if in.inches() {
		return "hp"
	}
	return "kW"
}

// mains writes electric power [W]: in kilowatts in any units, as it is metered.
func (in *Input) mains(v float64, digits int) string {
	metered := in.Words
	metered.Units = words.SI
	return metered.Value(v, q.KindPower, digits)
}
