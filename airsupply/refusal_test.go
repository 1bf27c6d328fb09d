package airsupply

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
)

// Each refusal is one sentence that names the element.
func TestLawRefusalsNameTheElement(t *testing.T) {
	change := func(f func(n *Network, c *Case)) error {
		n, c := worked(1.2e-3), site500()
		f(n, &c)
		_, err := Solve(context.Background(), n, c)
		return err
	}
	for _, c := range []struct {
		name, want string
		err        error
	}{
		{"no blower", "no blower", change(func(n *Network, _ *Case) { n.Blowers = nil })},
		{"no outlet", "no outlet", change(func(n *Network, _ *Case) { n.Outlets = nil })},
		{"no curve", "B1", change(func(n *Network, _ *Case) { n.Blowers[0].Machine = nil })},
		{"disconnected outlet", "K2", change(func(n *Network, _ *Case) { n.Branches = n.Branches[:2] })},
		{"blower that feeds nothing", "no branch joins it to a blower", change(func(n *Network, _ *Case) { n.Branches = n.Branches[1:] })},
		{"branch to itself", "duct", change(func(n *Network, _ *Case) { n.Branches[0].To = "B1" })},
		{"no bore", "duct", change(func(n *Network, _ *Case) { n.Branches[0].Elements[0].Bore = q.Maybe[q.Length]{} })},
		{"rough beyond the law", "duct", change(func(n *Network, _ *Case) { n.Branches[0].Elements[0].Roughness = known(q.Millimetres(8)) })},
		{"unknown element", "known", change(func(n *Network, _ *Case) { n.Branches[0].Elements[0].Kind = "funnel" })},
		{"NaN loss", "duct", change(func(n *Network, _ *Case) {
			n.Branches[0].Elements[1] = job.Element{Kind: "fitting", Loss: known(q.Ratio(math.NaN()))}
		})},
		{"choked duct", "duct: it chokes", change(func(n *Network, _ *Case) {
			// A header of 4 bar through a narrow duct into wide openings.
			n.Blowers = []Blower{{Name: "B1", Source: &Source{Pressure: 4e5, Temperature: 300}}}
			n.Branches[0].Elements[0].Bore = known(q.Millimetres(18))
		})},
		{"narrow duct", "below the least flow", change(func(n *Network, _ *Case) { n.Branches[0].Elements[0].Bore = known(q.Millimetres(22)) })},
		{"all blocked", "blocked", change(func(_ *Network, c *Case) { c.Closed = []string{"K1", "K2"} })},
		{"unknown blocked outlet", "K9", change(func(_ *Network, c *Case) { c.Closed = []string{"K9"} })},
		{"too fast", "exceeds", change(func(_ *Network, c *Case) { c.Speed = map[string]q.Ratio{"B1": 1.2} })},
		{"too slow", "below", change(func(_ *Network, c *Case) { c.Speed = map[string]q.Ratio{"B1": 0.3} })},
		{"NaN speed", "B1", change(func(_ *Network, c *Case) { c.Speed = map[string]q.Ratio{"B1": q.Ratio(math.NaN())} })},
		{"no air", "inlet air", change(func(_ *Network, c *Case) { c.Inlet = air.Moist{} })},
		{"hot inlet", "inlet air", change(func(_ *Network, c *Case) { c.Inlet.T = q.Celsius(90) })},
		{"NaN load", "filter load", change(func(_ *Network, c *Case) { c.Load = q.Ratio(math.NaN()) })},
		{"wild factor", "factor on the system", change(func(_ *Network, c *Case) { c.System = 50 })},
		{"negative area", "K1", change(func(n *Network, _ *Case) { n.Outlets[0].Area = -1 })},
		{"infinite area", "K1", change(func(n *Network, _ *Case) { n.Outlets[0].Area = q.Area(math.Inf(1)) })},
		{"unknown feed", "feed", change(func(n *Network, _ *Case) { n.Outlets[0].Feed = "sideways" })},
		{"leak nowhere", "attic", change(func(n *Network, _ *Case) { n.Leaks = []Leak{{"attic", 1e-5}} })},
		{"junction nowhere", "attic", change(func(n *Network, _ *Case) { n.Junctions = append(n.Junctions, job.Junction{At: "attic"}) })},
		{"tee without a side", "angle", change(func(n *Network, _ *Case) { n.Junctions[0].Kind = "tee" })},
		{"unknown motor class", "motor of blower B1", change(func(n *Network, _ *Case) { n.Blowers[0].Drive.Motor.Class = "IE9" })},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.err == nil {
				t.Fatal("accepted")
			}
			var r *Refusal
			if !errors.As(c.err, &r) {
				t.Fatalf("not a refusal: %v", c.err)
			}
			if !strings.Contains(c.err.Error(), c.want) || strings.Contains(c.err.Error(), "\n") {
				t.Errorf("got %q, want %q in it", c.err, c.want)
			}
		})
	}
}

// A curve whose data cannot be used says why.
func TestLawCurvesRefused(t *testing.T) {
	good := []CurvePoint{{Flow: .05, Pressure: 22000, Power: 2000}, {Flow: .1, Pressure: 20000, Power: 2800}, {Flow: .15, Pressure: 15000, Power: 3200}}
	for _, c := range []struct {
		name, want string
		curve      Curve
	}{
		{"displacement", "displacement", Curve{Kind: Displacement, Points: good, Inlet: dry20()}},
		{"unknown kind", "one of", Curve{Kind: "pump", Points: good, Inlet: dry20()}},
		{"no air", "inlet air", Curve{Kind: Fan, Points: good}},
		{"two points", "three points", Curve{Kind: Fan, Points: good[:2], Inlet: dry20()}},
		{"no flange", "flange", Curve{Kind: Fan, Points: good, Inlet: dry20(), PressureIs: FanStatic}},
		{"unknown pressure", "one of", Curve{Kind: Fan, Points: good, Inlet: dry20(), PressureIs: "felt"}},
		{"unknown efficiency", "one of", Curve{Kind: Fan, Points: good, Inlet: dry20(), EfficiencyIs: "hoped"}},
		{"flows fall", "greater flow", Curve{Kind: Fan, Points: []CurvePoint{good[1], good[0], good[2]}, Inlet: dry20()}},
		{"no power", "power", Curve{Kind: Fan, Points: []CurvePoint{{Flow: 1, Pressure: 1}, good[1], good[2]}, Inlet: dry20()}},
		{"NaN", "point 1", Curve{Kind: Fan, Points: []CurvePoint{{Flow: q.VolumeFlow(math.NaN()), Pressure: 1, Power: 1}, good[1], good[2]}, Inlet: dry20()}},
		{"level", "must fall", Curve{Kind: Fan, Points: []CurvePoint{{.1, 1000, 100, 0}, {.2, 1000, 100, 0}, {.3, 1000, 100, 0}, {.4, 1000, 100, 0}}, Inlet: dry20()}},
		{"motor input", "motor's efficiency", Curve{Kind: Fan, Points: good, Inlet: dry20(), MotorInput: true}},
	} {
		if _, err := NewMachine(c.curve); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q in it", c.name, err, c.want)
		}
	}
}

// The rising part of a curve is refused as an operating point, though the solve finds one there.
func TestLawRisingPartIsRefused(t *testing.T) {
	m, err := NewMachine(Curve{Kind: HighSpeedCentrifugal, Inlet: dry20(), Points: []CurvePoint{
		{Flow: .04, Pressure: 16000, Power: 1800},
		{Flow: .08, Pressure: 20000, Power: 2400},
		{Flow: .12, Pressure: 21000, Power: 3000},
		{Flow: .18, Pressure: 15000, Power: 3500},
	}})
	if err != nil {
		t.Fatal(err)
	}
	if why := m.admits(.07); why != risingPart {
		t.Errorf("got %q", why)
	}
	if why := m.admits(.15); why != "" {
		t.Errorf("got %q on the falling part", why)
	}
	if m.admits(.03) != belowMinimum || m.admits(.19) != beyondCurve {
		t.Error("outside the data is admitted")
	}
}

// Static and total pressure of a curve differ by the velocity head at the flange.
func TestLawStaticCurveGainsItsVelocityHead(t *testing.T) {
	points := []CurvePoint{{Flow: .05, Pressure: 22000, Power: 2000}, {Flow: .1, Pressure: 20000, Power: 2800}, {Flow: .15, Pressure: 15000, Power: 3200}}
	// The heads are those of 0.1212 kg/s at 1.215 kg/m3, by hand.
	for _, c := range []struct{ bore, head float64 }{{.1, 98}, {.08, 238}, {.06, 753}} {
		m, err := NewMachine(Curve{Kind: Fan, Points: points, Inlet: dry20(), PressureIs: FanStatic, Outlet: q.Length(c.bore)})
		if err != nil {
			t.Fatal(err)
		}
		rho := 121325 / (287.042 * (293.15 + 2800/(.12042*1006)))
		want := c.head * 1.215 / rho * (.12042 / .1212) * (.12042 / .1212)
		near(t, "velocity head", m.rise[1]-20000, want, 0.01*want)
	}
}

// A side-channel machine takes most power at least flow: its motor is sized there.
func TestLawSideChannelMotorIsSizedAtShutOff(t *testing.T) {
	m, err := NewMachine(Curve{Kind: SideChannel, Inlet: dry20(), Points: []CurvePoint{
		{Flow: .01, Pressure: 26000, Power: 3300}, {Flow: .04, Pressure: 16000, Power: 2400}, {Flow: .08, Pressure: 2000, Power: 1500},
	}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "greatest power", float64(m.GreatestPower(1, dry20().Density())), 3300, 1e-6)
}
