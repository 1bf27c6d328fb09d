package airsupply

import (
	"context"
	"errors"
	"fmt"
	"math"

	"leste/airsupply/flownet"
	q "leste/quantity"
)

// A CaseResult is one case solved, or why it has no operating point.
type CaseResult struct {
	Name      string
	Role      Role
	Operation Operation
	Refused   string // the sentence of the refusal; then Operation is empty
	TooLittle bool   // refused because a blower would run below its least flow or on the rising part of its curve
	Ends      bool   // and nothing is known of it there, so that it may well run
}

// Worst names, for each thing that can fail, the case where it is closest to failing.
type Worst struct {
	Motor       string // greatest load of a motor
	MotorLoad   q.Ratio
	Drying      string // least thrust of an outlet over the nominal case
	ThrustShare q.Ratio
	MinimumFlow string // least reserve over the least flow of a blower
	FlowReserve q.Ratio
	Hottest     string // greatest discharge temperature
	Discharge   q.Temperature
}

// CaseStudy is a network in every case it must live with.
type CaseStudy struct {
	Cases  []CaseResult // nominal first
	Worst  Worst
	Motors []MotorCheck
}

// MotorCheck is the rule a motor is sized by: the greatest power over the whole allowed curve of its machine on
// the coldest day with a high barometer, through the belt.
type MotorCheck struct {
	Blower string
	Class  string // of the motor
	Rated  q.Power
	Need   q.Power
	OK     bool
}

// CheckMotors applies the rule to every blower of a network.
func CheckMotors(n *Network, s Site) []MotorCheck {
	var out []MotorCheck
	for i := range n.Blowers {
		b := &n.Blowers[i]
		if b.Machine == nil {
			continue
		}
		need := MotorDemand(b.Machine, b.Speed, s.coldest(b.Name), b.Drive.Belt)
		out = append(out, MotorCheck{Blower: b.Name, Class: b.Drive.Motor.Class, Rated: b.Drive.Motor.Rated, Need: need, OK: need <= b.Drive.Motor.Rated})
	}
	return out
}

// Reach of the cases on the system and the curve: the whole loss is known to 10 to 15 %, a curve to its
// tolerance grade.
const (
	easySystem = 0.85
	hardSystem = 1.15
	weakCurve  = 0.95
)

// casesOf lists the cases of a site: seasons with clean and loaded filters, the extreme days, the reach of
// system and curve, each outlet blocked, and the idle speed when there is one (idle > 0).
func casesOf(n *Network, s Site, idle q.Ratio) []Case {
	summer := s.Nominal()
	winter := Case{Name: "winter", Inlet: s.Winter.Inlet, Own: s.own(OwnInlet.winter), Room: s.Winter.Room.T, Load: s.Loaded}
	with := func(c Case, name string, f func(*Case)) Case {
		c.Name = name
		f(&c)
		return c
	}
	reach := func(f func(*Case)) func(*Case) {
		return func(c *Case) {
			f(c)
			c.Role = InReach
		}
	}
	loaded := func(c *Case) { c.Load = 1 }
	out := []Case{
		summer,
		with(summer, "loaded filter", loaded),
		winter,
		with(winter, "winter, loaded filter", loaded),
		with(summer, "hottest day, loaded filter", func(c *Case) { c.Inlet, c.Load = s.Hottest, 1 }),
		with(winter, ColdestDay, func(c *Case) { c.Inlet = s.Coldest }),
		with(summer, "system loss x 0.85", reach(func(c *Case) { c.System = easySystem })),
		with(summer, "system loss x 1.15", reach(func(c *Case) { c.System = hardSystem })),
		with(summer, "blower curve - 5 %", reach(func(c *Case) { c.Curve = weakCurve })),
	}
	if s.Loaded > 0 {
		out = append(out, with(summer, "clean filter", func(c *Case) { c.Load = 0 }))
	}
	if len(n.Outlets) > 1 {
		for _, o := range n.Outlets {
			out = append(out,
				with(summer, o.Name+" blocked", func(c *Case) { c.Closed, c.Role = []string{o.Name}, InFault }),
				with(summer, o.Name+" blocked, loaded filter", func(c *Case) { c.Closed, c.Load, c.Role = []string{o.Name}, 1, InFault }))
		}
	}
	if speeds := turnedDown(n, idle); speeds != nil {
		out = append(out, with(summer, TurnedDown, func(c *Case) { c.Speed, c.Role = speeds, InGap }))
	}
	return out
}

// turnedDown are the speeds of idle gaps: blowers on an inverter go down to idle, the others stay. It is nil where
// none does.
func turnedDown(n *Network, idle q.Ratio) map[string]q.Ratio {
	var speeds map[string]q.Ratio
	for _, b := range n.Blowers {
		if idle > 0 && b.Machine != nil && b.Drive.Inverter && idle < b.Speed {
			if speeds == nil {
				speeds = map[string]q.Ratio{}
			}
			speeds[b.Name] = max(idle, slowest)
		}
	}
	return speeds
}

// Idle solves a network turned down for idle gaps. It reports false where nothing can be turned down or there is no
// operating point then.
func Idle(ctx context.Context, n *Network, s Site, idle q.Ratio) (Operation, bool, error) {
	c := s.Nominal()
	c.Name = TurnedDown
	if c.Speed = turnedDown(n, idle); c.Speed == nil {
		return Operation{}, false, nil
	}
	op, err := Solve(ctx, n, c)
	var refusal *Refusal
	if errors.As(err, &refusal) {
		return Operation{}, false, nil
	}
	return op, err == nil, err
}

// Study solves a network in every case of a site. idle is the speed ratio of idle gaps, 0 without. A case
// without an operating point is part of the result; only the nominal one is an error.
func Study(ctx context.Context, n *Network, s Site, idle q.Ratio) (CaseStudy, error) {
	var study CaseStudy
	open, err := compile(n, nil)
	if err != nil {
		return study, err
	}
	var warm *flownet.Result
	for i, c := range casesOf(n, s, idle) {
		system := open
		var start *flownet.Result
		if len(c.Closed) > 0 {
			if system, err = compile(n, c.Closed); err != nil {
				study.Cases = append(study.Cases, CaseResult{Name: c.Name, Role: c.Role, Refused: err.Error()})
				continue
			}
		} else {
			start = warm
		}
		op, result, err := system.operate(ctx, c, start)
		var refusal *Refusal
		switch {
		case err == nil:
		case i > 0 && errors.As(err, &refusal):
			study.Cases = append(study.Cases, CaseResult{Name: c.Name, Role: c.Role, Refused: err.Error(), TooLittle: refusal.TooLittle, Ends: refusal.Ends})
			continue
		default:
			return study, err
		}
		if i == 0 {
			warm = result
		}
		study.Cases = append(study.Cases, CaseResult{Name: c.Name, Role: c.Role, Operation: op})
	}
	study.Motors = CheckMotors(n, s)
	study.Worst = worstOf(study.Cases)
	return study, nil
}

// worstOf names the worst case for each criterion; a case refused for its flow is the worst for the least flow, with
// a reserve that is not a number.
func worstOf(cases []CaseResult) Worst {
	w := Worst{ThrustShare: q.Ratio(math.Inf(1)), FlowReserve: q.Ratio(math.Inf(1))}
	nominal := map[string]q.Force{}
	for _, o := range cases[0].Operation.Outlets {
		nominal[o.Name] = o.Thrust
	}
	for _, c := range cases {
		if c.Refused != "" {
			if c.TooLittle && !math.IsNaN(float64(w.FlowReserve)) {
				w.FlowReserve, w.MinimumFlow = q.Ratio(math.NaN()), c.Name
			}
			continue
		}
		for _, b := range c.Operation.Blowers {
			if b.Drive.Load > w.MotorLoad {
				w.MotorLoad, w.Motor = b.Drive.Load, c.Name
			}
			if b.Reserve < w.FlowReserve {
				w.FlowReserve, w.MinimumFlow = b.Reserve, c.Name
			}
			if b.Discharge > w.Discharge {
				w.Discharge, w.Hottest = b.Discharge, c.Name
			}
		}
		if c.Name == TurnedDown {
			continue // nothing is dried then
		}
		for _, o := range c.Operation.Outlets {
			if share := q.Ratio(o.Thrust / nominal[o.Name]); !o.Blocked && share < w.ThrustShare {
				w.ThrustShare, w.Drying = share, c.Name
			}
		}
	}
	return w
}

// Names of cases: of idle gaps, and of the day that the motor is sized on.
const (
	TurnedDown = "turned down while idle"
	ColdestDay = "coldest day"
)

// Limit says what the air supply is limited by, in one sentence with its figures.
func (s CaseStudy) Limit() string {
	for _, m := range s.Motors {
		if !m.OK {
			return fmt.Sprintf("the motor of %s: it may need %.3g kW of %.3g kW", m.Blower, float64(m.Need)/1e3, float64(m.Rated)/1e3)
		}
	}
	for _, c := range s.Cases {
		if c.Refused != "" {
			return c.Name + ": " + c.Refused
		}
	}
	if s.Worst.FlowReserve < leastReserve {
		return fmt.Sprintf("the least flow of the blower: %.0f %% in reserve (%s)", 100*float64(s.Worst.FlowReserve), s.Worst.MinimumFlow)
	}
	op := s.Cases[0].Operation
	most, name := 0.05, ""
	for _, b := range op.Branches {
		if share := float64(b.Share); share > most {
			most, name = share, b.Name
		}
	}
	if name != "" {
		return fmt.Sprintf("the loss in %s: %.0f %% of the blower's pressure", name, 100*most)
	}
	return "nothing in particular: most of the pressure drives the outlets"
}
