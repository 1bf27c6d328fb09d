package airsupply

import (
	"regexp"
	"strings"
	"testing"

	"leste/catalogue"
	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
)

// 4 kW, 400 V, 0.886, cos phi 0.85: 7.67 A by hand.
func TestReferenceFullLoadCurrent(t *testing.T) {
	near(t, "current", float64(FullLoadCurrent(4000, 400, .886, .85)), 7.666, 5e-4)
}

// Pressure dew point: 30 degC and 80 % at 20 kPa over sea level, 29.3 degC (independent program).
func TestReferencePressureDewPoint(t *testing.T) {
	near(t, "dew point", DuctDewPoint(air.Humid(101325, q.Celsius(30), .8), 20e3).C(), 29.3, 0.05)
}

func TestLawLoadList(t *testing.T) {
	j := bare(knife("A"), knife("B"))
	j.Site.Altitude = known(q.Length(1500))
	outlets, _, err := Outlets(j)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Build(t.Context(), j, outlets, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	loads, err := Loads(plan, j)
	if err != nil || len(loads) != 1 {
		t.Fatal(err, loads)
	}
	l := loads[0]
	if !strings.Contains(l.Starter, "variable-frequency") || l.Current <= 0 || l.Voltage != 400 {
		t.Errorf("got %+v", l)
	}
	text := ""
	for _, n := range l.Notes {
		text += n.Text
	}
	devices := ""
	for _, d := range l.Devices {
		devices += d.Name + "\n"
	}
	// The list of parts lacked the drive and the switches.
	for _, told := range append([]string{l.Starter, text}, l.Signals...) {
		for _, hardware := range regexp.MustCompile(`drive with|switch|starter|valve|thermistors`).FindAllString(told, -1) {
			if !strings.Contains(devices, hardware) {
				t.Errorf("%q speaks of a %s that is no device: %q", told, hardware, devices)
			}
		}
	}
	for _, want := range []string{"derating", "licensed"} {
		if !strings.Contains(text, want) {
			t.Errorf("notes %q do not speak of %q", text, want)
		}
	}
	for _, belt := range []bool{false, true} {
		drive := &plan.Network.Blowers[0].Drive
		drive.Inverter, drive.Belt = true, belt
		loads, err := Loads(plan, j)
		if err != nil {
			t.Fatal(err)
		}
		// The list of a machine on the motor's shaft spoke of a belt.
		if said := strings.Join(loads[0].Signals, "; "); strings.Contains(said, "belt") != belt {
			t.Errorf("belt drive %v: signals %q", belt, said)
		}
	}
	j.Site.Voltage = known(q.Voltage(11000))
	if _, err := Loads(plan, j); err == nil {
		t.Error("11 kV was accepted")
	}
}

func TestLawHoseRatings(t *testing.T) {
	n := worked(1.2e-3)
	hose := &n.Branches[1].Elements[0]
	hose.RatedTo, hose.RatedFor = known(q.Celsius(40)), known(q.Gauge(10e3))
	hose.LeastRadius, hose.BentTo = known(q.Millimetres(150)), known(q.Millimetres(100))
	op, err := Solve(t.Context(), n, site500())
	if err != nil {
		t.Fatal(err)
	}
	notes := Ratings([]Operation{op}, n.Branches)
	var text string
	for _, note := range notes {
		text += note.Text + "\n"
	}
	for _, want := range []string{"less heat", "less pressure", "more tightly", "Choose hoses"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not speak of %q", text, want)
		}
	}
}

func TestLawCondensationInColdDucts(t *testing.T) {
	op, err := Solve(t.Context(), worked(1.2e-3), site500())
	if err != nil {
		t.Fatal(err)
	}
	humid := air.Humid(95460, q.Celsius(25), 0.9)
	if notes := Condensation(op, humid, q.Celsius(15)); len(notes) != 1 {
		t.Errorf("got %v", notes)
	}
	if notes := Condensation(op, site500().Inlet, q.Celsius(30)); len(notes) != 0 {
		t.Errorf("got %v", notes)
	}
}

func TestLawWrongFrequencyIsRefused(t *testing.T) {
	curve := &job.Curve{Points: []job.CurvePoint{
		{Flow: .05, Pressure: 28000, Power: known(q.Power(3000))}, {Flow: .1, Pressure: 25000, Power: known(q.Power(3800))}, {Flow: .15, Pressure: 18000, Power: known(q.Power(4200))},
	}}
	j := bare(knife("A"))
	j.Site.Frequency = known(q.Frequency(60))
	j.AirSupply.Blowers = []job.Blower{{
		Name: "B", Kind: SideChannel, Curve: curve, Drive: "direct", Inverter: "no",
		Motor: &job.Motor{Power: known(q.Power(5500)), Frequency: known(q.Frequency(50)), Poles: 2},
	}}
	outlets, _, err := Outlets(j)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Build(t.Context(), j, outlets, catalogue.GenericParts())
	if err == nil || !strings.Contains(err.Error(), "50 Hz") || !strings.Contains(err.Error(), "blower B") {
		t.Errorf("got %v", err)
	}
	j.AirSupply.Blowers[0].MaxSpeed = known(q.Ratio(1.2))
	plan, err := Build(t.Context(), j, outlets, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "speed on 60 Hz", float64(plan.Network.Blowers[0].Speed), 1.2, 1e-12)
}

// On a 60 Hz mains a machine for 50 Hz takes 1.2 cubed of its power: 1.73.
func TestReferenceFiftyOnSixtyHertz(t *testing.T) {
	m := worked(1.2e-3).Blowers[0].Machine
	in := dry20()
	a, b := m.At(1, .12, in), m.At(1.2, .144, in)
	near(t, "power", float64(b.Shaft/a.Shaft), 1.728, 1e-9)
}

// thousand returns a catalogue of 1000 machines: the generic ones in other sizes.
func thousand() catalogue.Parts {
	var p catalogue.Parts
	generic := catalogue.GenericParts().Blowers
	for i := range 1000 {
		b := generic[i%len(generic)]
		c := *b.Blower.Curve
		c.Points = append([]job.CurvePoint(nil), c.Points...)
		scale := 0.5 + float64(i)/800
		for k := range c.Points {
			c.Points[k].Flow *= q.VolumeFlow(scale)
			c.Points[k].Power.V *= q.Power(scale)
		}
		b.Blower.Curve, b.Blower.Motor = &c, nil
		b.Part += " " + string(rune('a'+i%26)) + strings.Repeat("x", i/26%7)
		p.Blowers = append(p.Blowers, b)
	}
	return p
}

// Every machine of the catalogue is either ranked or rejected with a reason, and those ranked do the duty when
// the whole network is solved with them.
func TestLawSelectionHolds(t *testing.T) {
	n := worked(1.2e-3)
	c := site500()
	duty, _, err := DutyFor(t.Context(), n, c, Wanted{"K1": 15e3, "K2": 15e3})
	if err != nil {
		t.Fatal(err)
	}
	parts := thousand()
	ranked := Select(duty, c.Inlet, n.Blowers[0].Inlet, parts, Terms{Hours: 6000 * 3600, Electricity: 0.15 / 3.6e6, Capital: 0.15})
	if len(ranked) != 1000 {
		t.Fatalf("%d of 1000 machines came back", len(ranked))
	}
	good := 0
	for i, r := range ranked {
		if r.Rejected != "" {
			continue
		}
		good++
		if i > 0 && r.Yearly < ranked[i-1].Yearly {
			t.Errorf("%s is ranked behind a dearer one", r.Part)
		}
		if i >= 5 {
			continue
		}
		var part catalogue.BlowerPart
		for _, p := range parts.Blowers {
			if p.Part == r.Part {
				part = p
				break
			}
		}
		m, err := machineOf(part.Blower)
		if err != nil {
			t.Fatal(err)
		}
		n.Blowers[0].Machine, n.Blowers[0].Speed, n.Blowers[0].MaxSpeed = m, r.Speed, 1.2
		op, err := Solve(t.Context(), n, c)
		if err != nil {
			t.Fatalf("%s: %v", r.Part, err)
		}
		near(t, r.Part+" pressure", float64(op.Outlets[0].DeadEnd), 15e3, 15)
		near(t, r.Part+" shaft", float64(op.Blowers[0].Drive.Shaft), float64(r.Shaft), 2e-3*float64(r.Shaft))
	}
	if good == 0 || good == 1000 {
		t.Errorf("%d machines do the duty", good)
	}
}

func BenchmarkSelect1000(b *testing.B) {
	n, c, parts := worked(1.2e-3), site500(), thousand()
	duty, _, err := DutyFor(b.Context(), n, c, Wanted{"K1": 15e3, "K2": 15e3})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Select(duty, c.Inlet, n.Blowers[0].Inlet, parts, Terms{Hours: 6000 * 3600, Electricity: 0.15 / 3.6e6})
	}
}
