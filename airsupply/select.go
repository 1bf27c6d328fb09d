package airsupply

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/catalogue"
	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
)

// Terms are what a blower is chosen by.
type Terms struct {
	Hours       q.Duration       // running, in a year
	Electricity q.PricePerEnergy // currency unit per joule
	Capital     q.Ratio          // yearly share of the price: interest and repayment; 0 leaves the price out
	Class       string           // of the motor; "" IE3
	Hose        q.Temperature    // greatest discharge temperature the hoses bear; 0 no limit
	Coldest     air.Moist        // inlet air the motor is sized on; zero value takes the duty's
	Reserve     q.Ratio          // least pressure in reserve at the greatest speed; 0 asks for none
}

// A Candidate is one machine of the catalogue set to a duty.
type Candidate struct {
	Part      string
	Rejected  string // why it does not do, "" when it does
	Speed     q.Ratio
	Inlet     q.VolumeFlow
	Shaft     q.Power
	Grid      q.Power
	Discharge q.Temperature
	Motor     q.Power // rated, the catalogue's or the next size that fits
	MotorLoad q.Ratio
	Reserve   q.Ratio // pressure at the greatest speed over the duty's, less 1
	Turndown  q.Ratio // least flow over the duty's flow at this speed
	Sound     q.Maybe[q.SoundLevel]
	Price     q.Maybe[float64]
	Yearly    float64 // energy and, with Capital, the price
}

// Select sets every machine of the catalogue to a duty and ranks those that do it by yearly cost; the
// rejected ones follow in the catalogue's order, each with its reason.
func Select(d Duty, inlet air.Moist, way Inlet, parts catalogue.Parts, terms Terms) []Candidate {
	out := make([]Candidate, 0, len(parts.Blowers))
	for _, p := range parts.Blowers {
		out = append(out, candidate(d, inlet, way, p, terms))
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		switch {
		case (a.Rejected == "") != (b.Rejected == ""):
			if a.Rejected == "" {
				return -1
			}
			return 1
		case a.Rejected != "":
			return 0
		case a.Yearly < b.Yearly:
			return -1
		case a.Yearly > b.Yearly:
			return 1
		}
		return strings.Compare(a.Part, b.Part)
	})
	return out
}

func candidate(d Duty, inlet air.Moist, way Inlet, part catalogue.BlowerPart, terms Terms) Candidate {
	c := Candidate{Part: part.Part, Sound: part.Blower.Sound, Price: part.Price}
	reject := func(format string, args ...any) Candidate {
		c.Rejected = fmt.Sprintf(format, args...)
		return c
	}
	m, err := machineOf(part.Blower)
	if err != nil {
		return reject("%v", err)
	}
	entry, err := newInletWay(&way)
	if err != nil {
		return reject("%v", err)
	}
	fit, why := m.fit(d, inlet, entry)
	if why != "" {
		return reject("%s", why)
	}
	c.Speed, c.Inlet, c.Shaft, c.Discharge = q.Ratio(fit.speed), q.VolumeFlow(fit.inlet), q.Power(fit.shaft), q.Temperature(fit.t2)
	c.Reserve, c.Turndown = q.Ratio(math.Pow(maxSpeedOf(part.Blower)/fit.speed, 2)-1), q.Ratio(m.minFlow*fit.speed/fit.inlet)
	switch most := maxSpeedOf(part.Blower); {
	case fit.speed > most*(1+1e-9):
		return reject("needs %.2f of its rated speed; %.2f is allowed", fit.speed, most)
	case fit.speed < slowest:
		return reject("is far too strong: it would run at %.2f of its rated speed", fit.speed)
	case c.Reserve < terms.Reserve:
		return reject("has only %.0f %% of pressure in reserve; %.0f %% are wanted", 100*float64(c.Reserve), 100*float64(terms.Reserve))
	case terms.Hose > 0 && c.Discharge > terms.Hose:
		return reject("its air leaves at %.0f degC; the hoses bear %.0f degC", c.Discharge.C(), terms.Hose.C())
	}
	cold := terms.Coldest
	if cold == (air.Moist{}) {
		cold = inlet
	}
	drive := Drive{Belt: part.Blower.Drive != "direct", Inverter: true, Motor: Motor{Class: terms.Class, Poles: motorPoles(part.Blower.Motor)}}
	need := MotorDemand(m, c.Speed, cold, drive.Belt)
	switch given := ratedPower(part.Blower.Motor); {
	case given > 0 && given >= need:
		c.Motor = given
	case given > 0:
		return reject("its motor of %.3g kW is too small: up to %.3g kW on the coldest day", float64(given)/1e3, float64(need)/1e3)
	default:
		var ok bool
		if c.Motor, ok = PreferredMotor(terms.Class, need); !ok {
			return reject("no usual motor gives the %.3g kW it may need", float64(need)/1e3)
		}
	}
	drive.Motor.Rated = c.Motor
	chain, err := drive.Run(c.Shaft)
	if err != nil {
		return reject("%v", err)
	}
	c.Grid, c.MotorLoad = chain.Grid, chain.Load
	c.Yearly = float64(c.Grid) * float64(terms.Hours) * float64(terms.Electricity)
	if c.Price.Known {
		c.Yearly += c.Price.V * float64(terms.Capital)
	}
	return c
}

// fitting is a machine set to a duty.
type fitting struct{ speed, inlet, shaft, t2 float64 }

// fit finds the speed at which a machine does a duty. At a speed ratio N its isentropic work is N^2 w(Q/N):
// the rated flow x = Q/N solves w(x) = (work/Q^2) x^2, whose left side falls and right side rises.
func (m *Machine) fit(d Duty, inlet air.Moist, entry *inletLaw) (fitting, string) {
	g := gasOf(inlet)
	pa, t1 := float64(inlet.P), float64(inlet.T)
	mu := viscosity(t1)
	f := fitting{t2: float64(d.Temperature)}
	for range 6 {
		mass := d.at(f.t2)
		drop, _ := entry.filter.drop(mass, inlet, 0)
		more, _, _ := entry.way.drop(g, 1, mass, pa-drop, pa, t1, mu)
		p1 := pa - drop - more
		if p1 < pa/2 {
			return f, "its inlet passes too little air"
		}
		f.inlet = mass * g.r * t1 / p1
		work := g.work((pa+float64(d.Pressure))/p1, t1) / (f.inlet * f.inlet)
		low, high := m.minFlow, m.maxFlow
		excess := func(x float64) float64 {
			w, _ := m.work.at(x)
			return w - work*x*x
		}
		if excess(low) < 0 {
			return f, "is too large: the duty lies below its least flow at every speed"
		}
		if excess(high) > 0 {
			return f, "is too small: the duty lies beyond its curve at every speed"
		}
		x := crossing(excess, low, high)
		if why := m.admits(x); why != "" {
			return f, "would run " + why
		}
		f.speed = f.inlet / x
		p, _ := m.power.at(x)
		f.shaft = p * f.speed * f.speed * f.speed * p1 / (g.r * t1) / m.rho
		before := f.t2
		f.t2 = t1 + f.shaft/(mass*g.cp)
		if math.Abs(f.t2-before) < 1e-6 {
			break
		}
	}
	return f, ""
}

// crossing is where a falling function that is positive at low passes zero: by false position, of which an end that stays
// counts half each time (the Illinois rule).
func crossing(f func(x float64) float64, low, high float64) float64 {
	const tries, close = 60, 1e-14
	fl, fh, kept := f(low), f(high), 0
	at, least := low, fl
	if fh == 0 {
		return high
	}
	for range tries {
		mid := (low*fh - high*fl) / (fh - fl)
		if !(mid > low && mid < high) || high-low <= close*high {
			break
		}
		v := f(mid)
		if size := math.Abs(v); size < least {
			at, least = mid, size
		}
		switch {
		case v > 0:
			low, fl = mid, v
			if kept > 0 {
				fh /= 2
			}
			kept = 1
		default:
			high, fh = mid, v
			if kept < 0 {
				fl /= 2
			}
			kept = -1
		}
	}
	return at
}

// barometerHigh is how far the barometer may stand above its mean on the day the motor works hardest.
const barometerHigh = 1.03

// MotorDemand is the greatest power a motor may have to give: over the whole allowed curve at a speed, at the
// density of the coldest inlet air without filter and a high barometer, through the belt.
func MotorDemand(m *Machine, speed q.Ratio, coldest air.Moist, belt bool) q.Power {
	p := m.GreatestPower(speed, coldest.Density()*barometerHigh)
	if belt {
		p /= q.Power(BeltEfficiency(p))
	}
	return p
}

func maxSpeedOf(b job.Blower) float64 {
	if b.MaxSpeed.Known || b.MaxSpeed.V > 0 {
		return float64(b.MaxSpeed.V)
	}
	return 1
}

func ratedPower(m *job.Motor) q.Power {
	if m == nil {
		return 0
	}
	return m.Power.V
}

func motorPoles(m *job.Motor) int {
	if m == nil || m.Poles == 0 {
		return 4
	}
	return m.Poles
}

// machineOf fits the curve of a blower of the job or the catalogue.
func machineOf(b job.Blower) (*Machine, error) {
	if b.Curve == nil {
		return nil, fmt.Errorf("give its performance curve, or the part of the catalogue it is")
	}
	j := *b.Curve
	c := Curve{
		Kind: b.Kind, PressureIs: j.PressureIs, EfficiencyIs: j.EfficiencyIs, Outlet: b.Outlet.V, MinFlow: j.MinFlow.V,
		MotorInput: j.PowerIs == "motor input",
	}
	t, p := orDefault(j.Temperature, q.Celsius(20)), orDefault(j.Pressure, 101325)
	c.Inlet = air.Humid(p, t, j.Humidity.V)
	if c.MotorInput {
		mot := Motor{Rated: ratedPower(b.Motor), Poles: motorPoles(b.Motor)}
		if b.Motor != nil {
			mot.Class, mot.Efficiency = b.Motor.Class, b.Motor.Efficiency.V
		}
		eta, err := mot.FullLoad()
		if err != nil {
			return nil, fmt.Errorf("the curve states motor input power: %w", err)
		}
		c.MotorShare = eta
	}
	for _, point := range j.Points {
		c.Points = append(c.Points, CurvePoint{
			Flow: point.Flow, Pressure: point.Pressure, Power: point.Power.V, Efficiency: point.Efficiency.V,
		})
	}
	return NewMachine(c)
}

// orDefault is the value of m, or d when nobody gave or assumed one.
func orDefault[T ~float64](m q.Maybe[T], d T) T {
	if m.Known || m.V != 0 {
		return m.V
	}
	return d
}
