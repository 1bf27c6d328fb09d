package airsupply

import (
	"errors"
	"math"
	"strings"
	"testing"

	"leste/catalogue"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// fiveKilowatt is a blower for one or two knives.
func fiveKilowatt(name string) job.Blower {
	var points []job.CurvePoint
	for _, p := range [][3]float64{{.04, 26e3, 2200}, {.08, 24.5e3, 3000}, {.12, 21e3, 3700}, {.16, 15e3, 4200}} {
		points = append(points, job.CurvePoint{Flow: q.VolumeFlow(p[0]), Pressure: q.PressureDrop(p[1]), Power: known(q.Power(p[2]))})
	}
	return job.Blower{Name: name, Kind: HighSpeedCentrifugal, Curve: &job.Curve{Points: points}, Motor: &job.Motor{Power: known(q.Power(7500))}}
}

func duct(from, to string) job.Branch {
	return job.Branch{Name: from + " to " + to, From: from, To: to, Elements: []job.Element{
		{Kind: "duct", Bore: known(q.Millimetres(100)), Length: known(q.Length(3)), Material: "steel"},
	}}
}

// stationsApart is two stations with a blower each, that want different pressures.
func stationsApart() *job.Job {
	a, b := knife("A"), knife("B")
	a.Pressure, b.Pressure = known(q.Gauge(20e3)), known(q.Gauge(11e3))
	j := &job.Job{Stations: []job.Station{{Name: "first", Outlets: []job.Outlet{a}}, {Name: "second", Outlets: []job.Outlet{b}}}}
	j.AirSupply.Blowers = []job.Blower{fiveKilowatt("one"), fiveKilowatt("two")}
	j.AirSupply.Branches = []job.Branch{duct("one", "A"), duct("two", "B")}
	return j
}

func planOf(t *testing.T, j *job.Job) *Plan {
	t.Helper()
	outlets, _, err := Outlets(j)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Build(t.Context(), j, outlets, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// Blowers of stations of their own are set each for their own station, and each branch's share is of its own blower.
func TestLawBlowersApartHaveSpeedsOfTheirOwn(t *testing.T) {
	plan := planOf(t, stationsApart())
	op, err := Solve(t.Context(), plan.Network, plan.Site.Nominal())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{20e3, 11e3} {
		near(t, op.Outlets[i].Name, float64(op.Outlets[i].DeadEnd), want, 1e-5*want)
		near(t, op.Branches[i].Name+" share", float64(op.Branches[i].Share), float64(op.Branches[i].Loss)/float64(op.Blowers[i].Rise), 1e-12)
	}
	if !(op.Blowers[0].Speed > op.Blowers[1].Speed*1.2) {
		t.Errorf("speeds %g and %g", float64(op.Blowers[0].Speed), float64(op.Blowers[1].Speed))
	}
	// Where one is given, the other is set all the same.
	j := stationsApart()
	j.AirSupply.Blowers[0].Speed = known(q.Ratio(0.9))
	plan = planOf(t, j)
	if plan.Network.Blowers[0].Speed != 0.9 || plan.Network.Blowers[1].Speed != op.Blowers[1].Speed {
		t.Errorf("speeds %g and %g", float64(plan.Network.Blowers[0].Speed), float64(plan.Network.Blowers[1].Speed))
	}
	// One network with two blowers is one part.
	if parts := joinedBlowers(t).islands(); len(parts) != 1 || len(parts[0].Blowers) != 2 {
		t.Errorf("%d parts", len(parts))
	}
}

// joinedBlowers is a network whose two blowers blow into one header.
func joinedBlowers(t *testing.T) *Network {
	t.Helper()
	j := stationsApart()
	j.AirSupply.Branches = append(j.AirSupply.Branches, duct("A", "B"))
	outlets, _, err := Outlets(j)
	if err != nil {
		t.Fatal(err)
	}
	return &Network{Branches: j.AirSupply.Branches, Outlets: outlets, Blowers: []Blower{{Name: "one"}, {Name: "two"}}}
}

func hasNote(notes []relation.Note, text string) bool {
	for _, n := range notes {
		if strings.Contains(n.Text, text) {
			return true
		}
	}
	return false
}

// A filter half loaded in the nominal case takes its drop there, and a clean one is then a case of its own.
func TestLawNominalFilterLoad(t *testing.T) {
	clean := stationsApart()
	clean.AirSupply.Filter = &job.Filter{Clean: known(q.PressureDrop(200)), ChangeOut: known(q.PressureDrop(800)), Flow: known(q.VolumeFlow(.1)), LinearShare: known(q.Ratio(0))}
	for i := range clean.AirSupply.Blowers {
		clean.AirSupply.Blowers[i].Speed = known(q.Ratio(0.9))
	}
	loaded := job.Clone(clean)
	loaded.AirSupply.Filter.Loaded = known(q.Ratio(0.5))
	drop := func(j *job.Job) (float64, CaseStudy) {
		s, err := Assess(t.Context(), j, catalogue.GenericParts())
		if err != nil {
			t.Fatal(err)
		}
		b := s.Nominal.Blowers[0]
		flow := float64(b.Flow) / float64(s.Plan.Site.Summer.Inlet.Density())
		return float64(b.Filter) / (200 * flow * flow / .01), s.Study
	}
	one, _ := drop(clean)
	half, study := drop(loaded)
	near(t, "clean, over its law", one, 1, 1e-9)
	near(t, "half loaded, over the clean law", half, 2.5, 1e-9)
	if study.Cases[9].Name != "clean filter" || !(study.Cases[9].Operation.Flow > study.Cases[0].Operation.Flow) {
		t.Errorf("case %q", study.Cases[9].Name)
	}
}

// A machine on the mains without an inverter has one speed: it is not set otherwise and not turned down.
func TestLawMainsDriveHasOneSpeed(t *testing.T) {
	j := stationsApart()
	for i := range j.AirSupply.Blowers {
		b := &j.AirSupply.Blowers[i]
		b.Drive, b.Inverter = "direct", "no"
	}
	j.Cost.Idle = "turn down"
	s, err := Assess(t.Context(), j, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	if s.Nominal.Blowers[0].Speed != 1 || s.Idle != 0 {
		t.Errorf("speed %g, %g W while idle", float64(s.Nominal.Blowers[0].Speed), float64(s.Idle))
	}
	j.AirSupply.Blowers[0].Speed = known(q.Ratio(0.8))
	outlets, _, err := Outlets(j)
	if err != nil {
		t.Fatal(err)
	}
	var refusal *Refusal
	if _, err = Build(t.Context(), j, outlets, catalogue.GenericParts()); !errors.As(err, &refusal) || !strings.Contains(err.Error(), "one speed") {
		t.Errorf("got %v", err)
	}
	// With inverters it is turned down, and to no more than it runs at.
	j = stationsApart()
	j.Cost.Idle, j.Cost.IdleSpeed = "turn down", known(q.Ratio(0.7))
	if s, err = Assess(t.Context(), j, catalogue.GenericParts()); err != nil {
		t.Fatal(err)
	}
	if !(s.Idle > 0 && s.Idle < s.Nominal.Grid) {
		t.Errorf("%g W while idle, %g W while blowing", float64(s.Idle), float64(s.Nominal.Grid))
	}
}

// The worst case for the least flow is the one in which there is no operating point for it.
func TestLawRefusedCaseIsTheWorstForTheLeastFlow(t *testing.T) {
	n := worked(1.2e-3)
	n.Blowers[0].Machine.minFlow = .09
	site := Site{Pressure: site500().Inlet.P, Summer: Inlets{site500().Inlet, site500().Inlet}, Winter: Inlets{site500().Inlet, site500().Inlet}}
	site.Coldest, site.Hottest = site500().Inlet, site500().Inlet
	study, err := Study(t.Context(), n, site, 0)
	if err != nil {
		t.Fatal(err)
	}
	if study.Worst.MinimumFlow != "K1 blocked" || !math.IsNaN(float64(study.Worst.FlowReserve)) {
		t.Errorf("%q, %g", study.Worst.MinimumFlow, float64(study.Worst.FlowReserve))
	}
	if !strings.HasPrefix(study.Limit(), "K1 blocked: ") {
		t.Errorf("limited by %q", study.Limit())
	}
}

// Names of places that the program keeps for itself are refused, not joined.
func TestLawInnerPlacesAreKept(t *testing.T) {
	for _, place := range []string{"room", "B1 inlet"} {
		n := worked(1.2e-3)
		n.Branches = append(n.Branches, duct("wye", place))
		if _, err := Solve(t.Context(), n, site500()); err == nil || !strings.Contains(err.Error(), "call the place otherwise") {
			t.Errorf("%s: got %v", place, err)
		}
	}
}

// What leaves the range of a curve is said: a side-channel machine far from its speed, a bend at the inlet or outlet,
// a pressure that a given speed does not reach.
func TestLawDoubtsAboutABlowerAreSaid(t *testing.T) {
	j := stationsApart()
	for i := range j.AirSupply.Blowers {
		j.AirSupply.Blowers[i].Speed = known(q.Ratio(0.75))
	}
	b := &j.AirSupply.Blowers[0]
	b.Kind = SideChannel
	b.Suction = []job.Element{{Kind: "bend", Bore: known(q.Millimetres(100))}, {Kind: "duct", Bore: known(q.Millimetres(100)), Length: known(q.Length(.2))}}
	j.AirSupply.Branches[1].Elements = append([]job.Element{{Kind: "damper", Bore: known(q.Millimetres(100))}}, j.AirSupply.Branches[1].Elements...)
	s, err := Assess(t.Context(), j, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"curve at that speed", "A bend stands right before the inlet of blower one", "A damper stands right after the outlet of blower two", "less than the wanted plenum pressure"} {
		if !hasNote(s.Notes, want) {
			t.Errorf("nothing says %q", want)
		}
	}
	b.Suction[1].Length = known(q.Length(.31))
	if s, err = Assess(t.Context(), j, catalogue.GenericParts()); err != nil || hasNote(s.Notes, "before the inlet") {
		t.Errorf("a bend more than three bores away is noted (%v)", err)
	}
}

// A duct through a colder room cools its air towards that room.
func TestLawAirAroundADuct(t *testing.T) {
	at := func(around q.Maybe[q.Temperature]) float64 {
		n := worked(1.2e-3)
		n.HeatTransfer = 7
		n.Branches[0].Elements[0].Around = around
		op, err := Solve(t.Context(), n, site500())
		if err != nil {
			t.Fatal(err)
		}
		return float64(op.Outlets[0].Stagnation)
	}
	usual, same, cold := at(q.Maybe[q.Temperature]{}), at(known(site500().Inlet.T)), at(known(q.Celsius(-15)))
	near(t, "a room of its own at the room's temperature", same, usual, 1e-9)
	// 6 m of 100 mm in 0.1212 kg/s, 40 K colder around it; the hose then loses less to the warm room.
	want := 40 * (1 - math.Exp(-7*math.Pi*.1*6/(0.1212*1016.7))) * math.Exp(-7*math.Pi*.075/(0.0606*1016.7))
	near(t, "cooled by", usual-cold, want, 0.02) // the flow grows a little as the air cools
}

// A blower that draws from elsewhere runs as it would alone on that air, in every season, and its motor is sized on it.
func TestLawInletAirOfItsOwn(t *testing.T) {
	state := func(c float64) job.RoomAir {
		return job.RoomAir{Temperature: known(q.Celsius(c)), Humidity: known(q.Ratio(0))}
	}
	both := stationsApart()
	both.Site.Summer, both.Site.Winter = state(30), state(18)
	for i := range both.AirSupply.Blowers {
		both.AirSupply.Blowers[i].Speed = known(q.Ratio(0.9))
	}
	both.AirSupply.Filter = &job.Filter{Clean: known(q.PressureDrop(250)), Flow: known(q.VolumeFlow(.1))}
	both.AirSupply.Blowers[1].Summer, both.AirSupply.Blowers[1].Winter = state(35), state(-12)
	alone := job.Clone(both)
	alone.Stations, alone.AirSupply.Blowers, alone.AirSupply.Branches = alone.Stations[1:], alone.AirSupply.Blowers[1:], alone.AirSupply.Branches[1:]
	alone.AirSupply.Blowers[0].Summer, alone.AirSupply.Blowers[0].Winter = job.RoomAir{}, job.RoomAir{}
	alone.Site.InletFrom, alone.Site.InletSummer, alone.Site.InletWinter = "outdoors", state(35), state(-12)
	// The entry's bore follows from the mean flow of the blowers where nobody gives it.
	both.AirSupply.Inlet.Bore, alone.AirSupply.Inlet.Bore = known(q.Millimetres(125)), known(q.Millimetres(125))
	together, err := Assess(t.Context(), both, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	one, err := Assess(t.Context(), alone, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"nominal", "winter"} {
		a, b := caseNamed(t, together, name), caseNamed(t, one, name)
		near(t, name+": flow", float64(a.Outlets[1].Flow), float64(b.Outlets[0].Flow), 1e-8)
		near(t, name+": shaft", float64(a.Blowers[1].Drive.Shaft), float64(b.Blowers[0].Drive.Shaft), 1e-3)
		near(t, name+": discharge", float64(a.Blowers[1].Discharge), float64(b.Blowers[0].Discharge), 1e-5)
		near(t, name+": filter", float64(a.Blowers[1].Filter), float64(b.Blowers[0].Filter), 1e-3)
		if hasNote(a.Notes, "different humidity") {
			t.Error("dry air is said to differ in humidity")
		}
	}
	near(t, "need of the motor", float64(together.Study.Motors[1].Need), float64(one.Study.Motors[0].Need), 1e-6)
	if !(caseNamed(t, together, "winter").Blowers[0].Discharge > caseNamed(t, together, "winter").Blowers[1].Discharge+20) {
		t.Error("the first blower draws the second one's air")
	}
	// Moist and dry air together: their mean, and it is said.
	both.AirSupply.Blowers[0].Summer = job.RoomAir{Temperature: known(q.Celsius(30)), Humidity: known(q.Ratio(.9))}
	if together, err = Assess(t.Context(), both, catalogue.GenericParts()); err != nil {
		t.Fatal(err)
	}
	wet := float64(together.Plan.Site.Own["one"].Summer.W)
	if w := float64(together.Nominal.Humidity); !(w > 0.3*wet && w < 0.7*wet) || !hasNote(together.Notes, "different humidity") {
		t.Errorf("humidity ratio %g of %g", w, wet)
	}
	// The gas of the outlets is that of the mean: density, temperature and pressure in the exit plane fit its constant.
	w, o := float64(together.Nominal.Humidity), together.Nominal.Outlets[0]
	constant := (287.042 + w*461.523) / (1 + w)
	near(t, "pressure in the exit plane", float64(o.Density)*constant*float64(o.Static), float64(together.Plan.Site.Pressure), 2)
	both.AirSupply.Blowers[0].Summer.Temperature = known(q.Celsius(70))
	outlets, _, err := Outlets(both)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = Build(t.Context(), both, outlets, catalogue.GenericParts()); err == nil || !strings.Contains(err.Error(), "blower one") {
		t.Errorf("got %v", err)
	}
}

func caseNamed(t *testing.T, s Supply, name string) *Operation {
	t.Helper()
	for i := range s.Study.Cases {
		if s.Study.Cases[i].Name == name && s.Study.Cases[i].Refused == "" {
			return &s.Study.Cases[i].Operation
		}
	}
	t.Fatalf("no case %q", name)
	return nil
}
