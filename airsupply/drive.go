package airsupply

import (
	"fmt"
	"math"
	"strings"

	q "leste/quantity"
)

// A Drive turns shaft power into power drawn from the mains.
type Drive struct {
	Belt     bool
	Motor    Motor
	Inverter bool
	// InverterFed adds 15 % to the motor's losses for the inverter's waveform (from memory of IEC 60034-30-2).
	InverterFed bool
}

// A Motor is one electric motor.
type Motor struct {
	Rated      q.Power
	Class      string  // IE2, IE3, IE4, US premium
	Poles      int     // 2 or 4
	Efficiency q.Ratio // rated, from the nameplate; 0 takes the class
}

// DriveState is the chain from the blower's shaft to the mains.
type DriveState struct {
	Shaft      q.Power // of the blower
	MotorShaft q.Power // after the belt
	MotorInput q.Power
	Grid       q.Power
	Belt       q.Ratio
	Load       q.Ratio // motor shaft over rated power
	Motor      q.Ratio // efficiency at this load
	Inverter   q.Ratio
}

// Run returns the chain at a shaft power. It fails on an unknown class or a motor without rated power.
func (d Drive) Run(shaft q.Power) (DriveState, error) {
	rated, err := d.Motor.FullLoad()
	if err != nil {
		return DriveState{}, err
	}
	s := DriveState{Shaft: shaft, Belt: 1, Inverter: 1}
	if d.Belt {
		s.Belt = BeltEfficiency(shaft)
	}
	s.MotorShaft = shaft / q.Power(s.Belt)
	s.Load = q.Ratio(s.MotorShaft / d.Motor.Rated)
	s.Motor = PartLoad(rated, s.Load)
	if d.InverterFed && d.Inverter {
		s.Motor = 1 / (1 + 1.15*(1/s.Motor-1))
	}
	s.MotorInput = s.MotorShaft / q.Power(s.Motor)
	if d.Inverter {
		full := d.Motor.Rated / q.Power(rated)
		s.Inverter = InverterEfficiency(d.Motor.Rated, q.Ratio(s.MotorInput/full))
	}
	s.Grid = s.MotorInput / q.Power(s.Inverter)
	return s, nil
}

// BeltEfficiency of a V-belt that carries the blower's shaft power.
// Source: published: AMCA 207 as the EnergyPlus engineering reference states it; +-1 point from 0.5 kW.
func BeltEfficiency(shaft q.Power) q.Ratio {
	h := float64(shaft) / 1e3
	if !(h > 0) {
		return q.Ratio(math.NaN())
	}
	return q.Ratio(0.96 * math.Pow(h/(h+1.64), 0.05))
}

// PartLoad returns the efficiency of a motor at a load from its rated efficiency, by a constant and a squared
// loss that are equal at three quarters of full load.
//
// Range: load 0.25 to 1.25, +-1 point; below 0.25 low confidence. Source: re-derived, compared with the
// US DOE motor part-load tables.
func PartLoad(rated, load q.Ratio) q.Ratio {
	x, eta := float64(load), float64(rated)
	if !(x > 0) || !(eta > 0 && eta < 1) {
		return q.Ratio(math.NaN())
	}
	const balance = 0.75
	squared := (1/eta - 1) / (1 + balance*balance)
	return q.Ratio(x / (x + balance*balance*squared + squared*x*x))
}

// inverters are efficiency coefficients by motor size in hp.
// Source: published: US DOE 2008 as the EnergyPlus engineering reference (fans, table 72) states it.
var inverters = []struct{ hp, a, b, c float64 }{
	{3, 0.978856, 0.034247, -0.007862},
	{5, 0.977485, 0.028413, -0.002733},
	{10, 0.978715, 0.022227, 0.001941},
	{20, 0.984973, 0.017545, -0.000475},
	{30, 0.987405, 0.015536, -0.005937},
	{50, 0.987910, 0.018376, -0.001692},
	{60, 0.971904, 0.014537, 0.011849},
	{75, 0.991874, 0.017897, -0.001301},
	{100, 0.982384, 0.012598, 0.001405},
	{200, 0.984476, 0.009828, -0.004560},
}

// InverterEfficiency returns the efficiency of a variable-frequency drive on a motor of a rated power, at a
// share of the motor's full-load input. The nearest listed size counts, by the logarithm.
// Range: 2 to 200 kW, share above 0.1; +-1 point.
func InverterEfficiency(rated q.Power, share q.Ratio) q.Ratio {
	x := float64(share)
	if !(x > 0) || !(rated > 0) {
		return q.Ratio(math.NaN())
	}
	hp := float64(rated) / horsepower
	best := inverters[0]
	for _, i := range inverters {
		if math.Abs(math.Log(i.hp/hp)) < math.Abs(math.Log(best.hp/hp)) {
			best = i
		}
	}
	return q.Ratio(best.a*x/(best.b+x) + best.c*x)
}

const horsepower = 745.69987 // W

// Motor classes.
const (
	IE2       = "IE2"
	IE3       = "IE3"
	IE4       = "IE4"
	USPremium = "US premium"
)

// FullLoad returns the efficiency at rated load: from the nameplate; else from the table of the class where
// the power is an entry; else from the class's interpolation.
//
// Range: IE classes 0.75 to 200 kW at 50 Hz, US premium 1 to 100 hp at 60 Hz, 2 and 4 poles.
// Source: published: IEC 60034-30-1; NEMA MG1 table 12-12 as 10 CFR 431.25.
func (m Motor) FullLoad() (q.Ratio, error) {
	if !(m.Rated > 0) || math.IsInf(float64(m.Rated), 0) {
		return 0, fmt.Errorf("the motor has no rated power")
	}
	if m.Efficiency != 0 {
		if !(m.Efficiency > 0 && m.Efficiency < 1) {
			return 0, fmt.Errorf("a motor efficiency lies between 0 and 1, not %g", float64(m.Efficiency))
		}
		return m.Efficiency, nil
	}
	poles := m.Poles
	if poles == 0 {
		poles = 4
	}
	if poles != 2 && poles != 4 {
		return 0, fmt.Errorf("the class tables hold 2- and 4-pole motors; give the efficiency of a %d-pole motor", poles)
	}
	class := m.Class
	if class == "" {
		class = IE3
	}
	if class == USPremium {
		return usPremium(m.Rated, poles)
	}
	c, ok := motorClasses[classPoles{class, poles}]
	if !ok {
		return 0, fmt.Errorf("unknown motor class %q: it is one of %s", class, strings.Join([]string{IE2, IE3, IE4, USPremium}, ", "))
	}
	kw := float64(m.Rated) / 1e3
	for i, listed := range preferredKW {
		if math.Abs(kw-listed) < 1e-6*listed && i < len(c.table) {
			return q.Ratio(c.table[i] / 100), nil
		}
	}
	if kw < 0.75 || kw > 200 {
		return 0, fmt.Errorf("the class tables hold motors from 0.75 to 200 kW; give the efficiency of a %.3g kW motor", kw)
	}
	l := math.Log10(kw)
	return q.Ratio((((c.a*l+c.b)*l+c.c)*l + c.d) / 100), nil
}

// preferredKW are the sizes motors are made in (IEC 60072-1).
var preferredKW = []float64{0.75, 1.1, 1.5, 2.2, 3, 4, 5.5, 7.5, 11, 15, 18.5, 22, 30, 37, 45, 55, 75, 90}

type classPoles struct {
	class string
	poles int
}

// motorClass is the interpolation polynomial in log10 kW and the tabulated efficiencies in per cent for
// preferredKW up to 75 kW.
type motorClass struct {
	a, b, c, d float64
	table      []float64
}

var motorClasses = map[classPoles]motorClass{
	{IE2, 2}: {0.2972, -3.3454, 13.0651, 79.077, []float64{77.4, 79.6, 81.3, 83.2, 84.6, 85.8, 87.0, 88.1, 89.4, 90.3, 90.9, 91.3, 92.0, 92.5, 92.9, 93.2, 93.8}},
	{IE3, 2}: {0.3569, -3.3076, 11.6108, 82.2503, []float64{80.7, 82.7, 84.2, 85.9, 87.1, 88.1, 89.2, 90.1, 91.2, 91.9, 92.4, 92.7, 93.3, 93.7, 94.0, 94.3, 94.7}},
	{IE4, 2}: {0.34, -3.0479, 10.293, 84.8208, []float64{83.5, 85.2, 86.5, 88.0, 89.1, 90.0, 90.9, 91.7, 92.6, 93.3, 93.7, 94.0, 94.5, 94.8, 95.0, 95.3, 95.6}},
	{IE2, 4}: {0.0278, -1.9247, 10.4395, 80.9761, []float64{79.6, 81.4, 82.8, 84.3, 85.5, 86.6, 87.7, 88.7, 89.8, 90.6, 91.2, 91.6, 92.3, 92.7, 93.1, 93.5, 94.0}},
	{IE3, 4}: {0.0773, -1.8951, 9.2984, 83.7025, []float64{82.5, 84.1, 85.3, 86.7, 87.7, 88.6, 89.6, 90.4, 91.4, 92.1, 92.6, 93.0, 93.6, 93.9, 94.2, 94.6, 95.0}},
	{IE4, 4}: {0.2412, -2.3608, 8.446, 86.8321, []float64{85.7, 87.2, 88.2, 89.5, 90.4, 91.1, 91.9, 92.6, 93.3, 93.9, 94.2, 94.5, 94.9, 95.2, 95.4, 95.7, 96.0}},
}

// preferredHP and the US premium efficiencies for 2 and 4 poles, enclosed, 60 Hz.
var (
	preferredHP = []float64{1, 1.5, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100}
	premium     = map[int][]float64{
		2: {77.0, 84.0, 85.5, 86.5, 88.5, 89.5, 90.2, 91.0, 91.0, 91.7, 91.7, 92.4, 93.0, 93.6, 93.6, 94.1},
		4: {85.5, 86.5, 86.5, 89.5, 89.5, 91.7, 91.7, 92.4, 93.0, 93.6, 93.6, 94.1, 94.5, 95.0, 95.4, 95.4},
	}
)

func usPremium(rated q.Power, poles int) (q.Ratio, error) {
	hp := float64(rated) / horsepower
	if hp < 0.99 || hp > 101 {
		return 0, fmt.Errorf("the US premium table holds motors from 1 to 100 hp; give the efficiency of a %.3g hp motor", hp)
	}
	table := premium[poles]
	rows := make([]row, len(table))
	for i, eta := range table {
		rows[i] = row{math.Log(preferredHP[i]), eta}
	}
	return q.Ratio(interpolate(rows, math.Log(hp)) / 100), nil
}

// PreferredMotor returns the smallest motor of the trade's sizes that gives at least power: kW sizes of the
// IE classes, hp sizes of the US premium class. It reports false above the greatest.
func PreferredMotor(class string, power q.Power) (q.Power, bool) {
	sizes, unit := preferredKW, 1e3
	if class == USPremium {
		sizes, unit = preferredHP, horsepower
	}
	for _, s := range sizes {
		if s*unit >= float64(power) {
			return q.Power(s * unit), true
		}
	}
	return 0, false
}
