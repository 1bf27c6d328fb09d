package text

import (
	"math"
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	q "leste/quantity"
)

// wholeAirSide is a job of the air side alone with every kind of line.
func wholeAirSide() *leste.Result {
	nan := math.NaN()
	return &leste.Result{
		Job: "air", Verdict: leste.Met,
		Air: leste.AirResult{
			Cases: []leste.AirCase{
				{Name: "nominal", Flow: 0.2, Plenum: 15e3, Thrust: 1, Grid: 6000, MotorLoad: 0.6, FlowOver: 1.5, Discharge: 330},
				{Name: "knife blocked", Refused: "blower: it would run below the least flow of the curve"},
			},
			Worst: []leste.AirWorst{
				{Criterion: "motor", Case: "coldest day", Value: 0.7},
				{Criterion: "drying", Case: "loaded filter", Value: 0.95},
				{Criterion: "least flow", Case: "knife blocked", Value: nan},
				{Criterion: "heat", Case: "hottest day", Value: 340},
			},
			Choices: []leste.BlowerChoice{
				{Part: "five", Speed: 0.9, Grid: 5000, Motor: 5500, MotorLoad: 0.8, Reserve: 0.2, Turndown: 0.5, Discharge: 330, Sound: 88, Price: nan, Yearly: 4500},
				{Part: "two", Rejected: "is too small: the duty lies beyond its curve at every speed"},
			},
			Loads: []leste.ElectricLoad{{
				Blower: "blower", Rated: 5500, Class: "IE3", Voltage: 400, Frequency: 50, Current: 10.2, FromPlate: true, PowerFactor: 0.85,
				Starter: "direct on line", Starts: 6, Protection: "IP55", Signals: []string{"run", "fault"}, Notes: []string{"Fit a relief valve."},
			}},
		},
		Cost: leste.CostResult{
			Currency: "EUR", Energy: 3.6e6 * 3e4, Cost: 5000, PowerRatio: nan, Unloading: 0.7,
			Year: &leste.RunningCost{Electricity: 4500, Demand: 300, Belts: 200, Total: 5000, Emissions: 12000},
			Life: &leste.LifeCycle{Years: 10, Discount: 0.08, Escalation: 0.02, Cost: 5e4, Compressed: 2e5, NPV: 1.5e5, Payback: 1.2, Unloaded: -2e4},
		},
		Sound: leste.SoundResult{
			Assessed: true, At1m: 95, Low: 90, High: 100, Limit: 85, Verdict: leste.NotMet,
			Place: leste.ListenerResult{Distance: 2, Time: 4 * 3600, Level: 90, Dose: 0.5, Daily: 87, DailyLow: 82, DailyHigh: 92, Action: "upper action value reached"},
		},
		Exhaust: leste.ExhaustResult{Assessed: true, Flow: 0.65, Moisture: 2.2e-3, MakeUp: 15e3},
	}
}

// A job of the air side alone tells every case, the machines considered and the load list.
func TestLawAirSideAloneIsToldWhole(t *testing.T) {
	got := strings.Join(strings.Fields(Report(wholeAirSide(), Style{})), " ")
	for _, want := range []string{
		"The air supply in every case", "Knife blocked: blower: it would run below the least flow of the curve.",
		"Worst for the motor: coldest day, 70 % of its rating.", "Worst for drying: loaded filter, 95 % of the nominal thrust.",
		"Worst for the least flow of the blower: knife blocked, where it gives no operating point.", "Hottest air: hottest day, 66.9",
		"Two: is too small", "4500 EUR", "10.2 A", "Signals: run; fault.", "Fit a relief valve.",
		"gives back about 70 %", "electricity 4500, demand charge 300, belts 200", "12 t a year",
		"50000 EUR for the station, 200000 EUR for compressed air", "150000 EUR less; the price is paid back in 1.2 years", "20000 EUR more",
		"A person 2.0 m away for 4 h hears 90 dB: 50 % of a day's dose", "87 dB (82 to 92)", "exhaust of 2340", "takes up 2.2 g/kg", "takes 15 kW",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not told in\n%s", want, got)
		}
	}
	if us := Report(wholeAirSide(), Style{Units: q.US}); !strings.Contains(us, "6 kW") || !strings.Contains(us, "7.38 hp") || !strings.Contains(us, "6.6 ft away") {
		t.Errorf("power from the mains in kW, of motors in hp, distances in ft:\n%s", us)
	}
	if strings.Contains(got, "NaN") {
		t.Error("NaN is told")
	}
}

// A job with containers keeps to the worst cases.
func TestLawWorstCasesAreToldWithContainers(t *testing.T) {
	r := wholeAirSide()
	r.Formats = []leste.FormatResult{{Name: "can", Verdict: leste.Met}}
	got := Report(r, Style{})
	if !strings.Contains(got, "Worst for the motor") || strings.Contains(got, "in every case") || strings.Contains(got, "Electrical loads") {
		t.Error(got)
	}
	// Nothing of it where nothing is known.
	got = Report(&leste.Result{Job: "none"}, Style{})
	for _, no := range []string{"Worst", "Heat", "person", "in today's money"} {
		if strings.Contains(got, no) {
			t.Errorf("%q in\n%s", no, got)
		}
	}
}

// Elements of a branch stood in inches of water beside losses in pounds-force per square inch. Source: 1 psi is 6894.76 Pa.
func TestReferenceElementsOfABranchHaveTheUnitOfItsLoss(t *testing.T) {
	r := &leste.Result{Job: "air", Air: leste.AirResult{
		Parts: []leste.LossResult{{Name: "duct", Loss: 800, Share: 0.05, Junction: 200, Elements: []leste.ElementLoss{{Kind: "hose", Loss: 600}}}},
		Ways:  []leste.WayResult{{Blower: "blower", Outlet: "knife", Rise: 16e3, Parts: []leste.WayPart{{Kind: leste.PartBranch, Name: "duct", Loss: 800, Share: 0.05}}}},
	}}
	for units, want := range map[q.System]string{q.SI: "hose 0.6 kPa, junction 0.2 kPa", q.US: "hose 0.087 psi, junction 0.029 psi"} {
		if got := strings.Join(strings.Fields(Report(r, Style{Units: units})), " "); !strings.Contains(got, want) {
			t.Errorf("%s: %q is missing in %s", units, want, got)
		}
	}
}

// Source: a foot is 0.3048 m (ISO 80000).
func TestReferenceAnAssumptionAndItsRangeHaveOneUnit(t *testing.T) {
	r := &leste.Result{Job: "air", Assumed: []job.Assumed{{Path: "/cost/sound/distance", Value: "1 m", Low: "0.5 m", High: "4 m", Source: "practice"}}}
	for units, want := range map[q.System]string{q.SI: "1 m 0.5 m to 4 m", q.US: "3.28 ft 1.64 ft to 13.1 ft"} {
		if got := strings.Join(strings.Fields(Report(r, Style{Units: units})), " "); !strings.Contains(got, want) {
			t.Errorf("%s: %q is missing in %s", units, want, got)
		}
	}
}

// See TestLawNoCaseDrawsWhatAMotorIsSizedBy: what the reserve is over was told as the greatest of the cases.
func TestLawTheReserveOfAMotorNamesWhatItIsOver(t *testing.T) {
	r := &leste.Result{Air: leste.AirResult{Blowers: []leste.BlowerResult{{Name: "blower", Motor: 7500, Reserve: 0.3}}}}
	if written := strings.Join(strings.Fields(Report(r, Style{})), " "); !strings.Contains(written, "at any flow of its blower on the coldest day") || strings.Contains(written, "of all cases") {
		t.Errorf("the report says\n%s", written)
	}
}
