package airsupply

import (
	"fmt"
	"math"

	"leste/physics/air"
	q "leste/quantity"
)

// Kinds of machine. The kind decides how speed changes the curve and where the power is greatest.
const (
	HighSpeedCentrifugal = "high-speed centrifugal"
	Multistage           = "multistage"
	SideChannel          = "side-channel"
	Fan                  = "fan"
	Displacement         = "displacement"
)

// Which pressure and which efficiency the points of a curve state.
const (
	TotalRise   = "total rise"
	FanStatic   = "fan static"   // outlet static less inlet total
	OutletGauge = "outlet gauge" // outlet static over ambient

	IsentropicEfficiency = "isentropic"
	PolytropicEfficiency = "polytropic"
	NaiveEfficiency      = "flow times pressure over power"
)

// A Curve is a performance curve as its maker states it.
type Curve struct {
	Kind         string
	PressureIs   string // zero value: TotalRise
	EfficiencyIs string // zero value: IsentropicEfficiency
	Points       []CurvePoint
	Inlet        air.Moist    // state of the inlet air of the statement
	Outlet       q.Length     // bore of the outlet flange; needed unless PressureIs is TotalRise
	MinFlow      q.VolumeFlow // least allowed inlet flow at rated speed; 0 takes the first point
	MotorInput   bool         // Power of the points is what the motor draws; MotorEfficiency turns it into shaft power
	MotorShare   q.Ratio      // motor efficiency for that
}

// A CurvePoint is inlet flow at the curve's inlet state, pressure, and power or efficiency.
type CurvePoint struct {
	Flow       q.VolumeFlow
	Pressure   q.PressureDrop
	Power      q.Power // shaft; 0 when Efficiency is given
	Efficiency q.Ratio
}

// A Machine is a curve turned into isentropic work and shaft power against inlet flow at rated speed.
type Machine struct {
	Kind    string
	work    spline  // J/kg
	power   spline  // W at the reference density
	rho     float64 // kg/m3, of the curve's inlet
	minFlow float64 // m3/s at rated speed
	maxFlow float64
	ends    bool      // nothing is known below the least flow; the machine may well run there
	steep   float64   // greatest slope of the work
	rise    []float64 // total pressure rise of the points, Pa
}

// NewMachine fits a curve. It refuses fewer than three points, flows that do not increase, a pressure whose
// meaning needs a missing outlet bore, an efficiency outside 0 to 1 and a displacement machine, whose pressure
// does not follow from its flow.
func NewMachine(c Curve) (*Machine, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	g := gasOf(c.Inlet)
	p1, t1 := float64(c.Inlet.P), float64(c.Inlet.T)
	m := &Machine{Kind: c.Kind, rho: p1 / (g.r * t1)}
	x, w, p := make([]float64, len(c.Points)), make([]float64, len(c.Points)), make([]float64, len(c.Points))
	for i, point := range c.Points {
		rise, power, err := c.total(g, point)
		if err != nil {
			return nil, fmt.Errorf("point %d of the curve: %w", i+1, err)
		}
		x[i], p[i] = float64(point.Flow), power
		w[i] = g.work(1+rise/p1, t1)
		m.rise = append(m.rise, rise)
	}
	var err error
	if m.work, err = newSpline(x, w); err != nil {
		return nil, err
	}
	if m.power, err = newSpline(x, p); err != nil {
		return nil, err
	}
	m.steep = m.work.steepest()
	if m.steep == 0 {
		return nil, fmt.Errorf("the curve's pressure must fall as its flow grows; it is the same at all points")
	}
	m.minFlow, m.maxFlow = x[0], x[len(x)-1]
	if c.MinFlow > 0 {
		m.minFlow = max(m.minFlow, float64(c.MinFlow))
	}
	// Makers let the curves of machines that surge, or that get too hot, end where they may run no more; that of a fan
	// ends where it was measured no more. Common practice, no source.
	m.ends = c.Kind == Fan && m.minFlow > float64(c.MinFlow)
	return m, nil
}

func (c Curve) check() error {
	switch c.Kind {
	case HighSpeedCentrifugal, Multistage, SideChannel, Fan:
	case Displacement:
		return fmt.Errorf("a displacement blower has no curve of pressure against flow; " +
			"give a high-speed centrifugal, multistage, side-channel or fan machine")
	default:
		return fmt.Errorf("unknown kind of blower %q: it is one of %s, %s, %s, %s", c.Kind,
			HighSpeedCentrifugal, Multistage, SideChannel, Fan)
	}
	if rho := float64(c.Inlet.Density()); !(rho > 0) || math.IsInf(rho, 0) {
		return fmt.Errorf("the inlet air of the curve does not exist: give its pressure, temperature and humidity")
	}
	switch c.PressureIs {
	case "", TotalRise:
	case FanStatic, OutletGauge:
		if !(c.Outlet > 0) {
			return fmt.Errorf("a curve in %s pressure needs the bore of the outlet flange", c.PressureIs)
		}
	default:
		return fmt.Errorf("unknown pressure %q: it is one of %s, %s, %s", c.PressureIs, TotalRise, FanStatic, OutletGauge)
	}
	switch c.EfficiencyIs {
	case "", IsentropicEfficiency, PolytropicEfficiency, NaiveEfficiency:
	default:
		return fmt.Errorf("unknown efficiency %q: it is one of %s, %s, %s", c.EfficiencyIs,
			IsentropicEfficiency, PolytropicEfficiency, NaiveEfficiency)
	}
	return nil
}

// total returns the total pressure rise [Pa] and shaft power [W] of a point.
func (c Curve) total(g gas, point CurvePoint) (rise, power float64, err error) {
	flow, dp := float64(point.Flow), float64(point.Pressure)
	if !(flow >= 0) || !(dp > 0) || math.IsInf(flow+dp, 0) {
		return 0, 0, fmt.Errorf("flow must be at least zero and pressure positive")
	}
	p1, t1 := float64(c.Inlet.P), float64(c.Inlet.T)
	mass := flow * p1 / (g.r * t1)
	rise = dp
	// The power of an efficiency and the velocity head of the flange need each other; two rounds settle it.
	for range 4 {
		if power, err = c.shaft(g, point, mass, rise); err != nil {
			return 0, 0, err
		}
		if c.PressureIs == "" || c.PressureIs == TotalRise || mass == 0 {
			break
		}
		area := math.Pi / 4 * float64(c.Outlet) * float64(c.Outlet)
		t2 := t1 + power/(mass*g.cp)
		static := p1 + dp
		rho := static / (g.r * t2)
		v := mass / (rho * area)
		mach2 := v * v / (g.k * g.r * t2)
		if mach2 >= 1 {
			return 0, 0, fmt.Errorf("the flow does not pass the outlet flange of %.0f mm", c.Outlet.MM())
		}
		rise = static*math.Pow(1+g.half*mach2, g.ratio) - p1
	}
	return rise, power, nil
}

// shaft returns the shaft power [W] of a point.
func (c Curve) shaft(g gas, point CurvePoint, mass, rise float64) (float64, error) {
	p1, t1 := float64(c.Inlet.P), float64(c.Inlet.T)
	if point.Power > 0 {
		if c.MotorInput {
			if !(c.MotorShare > 0 && c.MotorShare <= 1) {
				return 0, fmt.Errorf("a curve in motor input power needs the motor's efficiency")
			}
			return float64(point.Power) * float64(c.MotorShare), nil
		}
		return float64(point.Power), nil
	}
	eta := float64(point.Efficiency)
	if !(eta > 0 && eta < 1) {
		return 0, fmt.Errorf("give the power, or an efficiency between 0 and 1")
	}
	ratio := 1 + rise/p1
	switch c.EfficiencyIs {
	case NaiveEfficiency:
		return float64(point.Flow) * float64(point.Pressure) / eta, nil
	case PolytropicEfficiency:
		return mass * g.cp * t1 * (math.Pow(ratio, 1/(g.ratio*eta)) - 1), nil
	}
	return mass * g.work(ratio, t1) / eta, nil
}

// drop returns the isentropic work at rated speed and its slope for a solve: outside the points the curve
// goes on falling, and nowhere is the slope flat, so that every iteration has a next one.
func (m *Machine) drop(flow float64) (work, slope float64) {
	n := len(m.work.x)
	work, slope = m.work.at(flow)
	switch {
	case flow < m.work.x[0]:
		slope = min(m.work.slope[0], -0.02*m.steep)
		work = m.work.y[0] + slope*(flow-m.work.x[0])
	case flow > m.work.x[n-1]:
		slope = min(m.work.slope[n-1], -0.02*m.steep)
		work = m.work.y[n-1] + slope*(flow-m.work.x[n-1])
	}
	return work, min(slope, -1e-3*m.steep)
}

// Refusals of an operating point.
const (
	belowMinimum = "below the least flow of the curve"
	belowFirst   = "below the first point of the curve"
	beyondCurve  = "beyond the last point of the curve"
	risingPart   = "on the rising part of the curve"
)

// admits returns "" when the curve may be run at a rated flow, or why not.
func (m *Machine) admits(flow float64) string {
	switch {
	case !(flow >= m.minFlow*(1-1e-9)):
		if m.ends {
			return belowFirst
		}
		return belowMinimum
	case flow > m.maxFlow*(1+1e-9):
		return beyondCurve
	}
	_, slope := m.work.at(flow)
	// Rising means more than 1 Pa for each per cent of flow; a knot may be level.
	if slope*m.rho*0.01*flow > 1 {
		return risingPart
	}
	return ""
}

// GreatestPower returns the greatest shaft power over the allowed curve at a speed ratio and inlet density:
// at open outlet for a centrifugal machine, at least flow for a side-channel one.
func (m *Machine) GreatestPower(speed q.Ratio, rho q.Density) q.Power {
	n := float64(speed)
	var greatest float64
	const samples = 200
	for i := range samples + 1 {
		flow := m.minFlow + (m.maxFlow-m.minFlow)*float64(i)/samples
		p, _ := m.power.at(flow)
		greatest = max(greatest, p)
	}
	return q.Power(greatest * n * n * n * float64(rho) / m.rho)
}

// A MachineState is one machine running on one inlet state.
type MachineState struct {
	Rise      q.PressureDrop // stagnation
	Work      q.SpecificEnergy
	Shaft     q.Power
	Discharge q.Temperature
}

// At returns what the machine does at a speed ratio, drawing mass flow from the stagnation state given, with
// no regard to whether the curve admits it; see Admits.
func (m *Machine) At(speed q.Ratio, flow q.MassFlow, inlet air.Moist) MachineState {
	g := gasOf(inlet)
	p1, t1 := float64(inlet.P), float64(inlet.T)
	n := float64(speed)
	rated := float64(flow) * g.r * t1 / p1 / n
	w, _ := m.work.at(rated)
	w *= n * n
	ratio, _ := g.rise(w, t1)
	p, _ := m.power.at(rated)
	p *= n * n * n * p1 / (g.r * t1) / m.rho
	return MachineState{
		Rise: q.PressureDrop(p1 * (ratio - 1)), Work: q.SpecificEnergy(w), Shaft: q.Power(p),
		Discharge: q.Temperature(t1 + p/(float64(flow)*g.cp)),
	}
}

// Admits returns an empty text when the machine may run at an inlet flow and speed ratio, or why not.
func (m *Machine) Admits(speed q.Ratio, flow q.VolumeFlow) string {
	return m.admits(float64(flow) / float64(speed))
}
