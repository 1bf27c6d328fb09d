package asjson

import (
	"math"

	leste "leste"
	q "leste/quantity"
)

type airCase struct {
	Name      string  `json:"name"`
	Refused   *string `json:"refused"` // null when there is an operating point
	Flow      number  `json:"flow_kg_s"`
	Plenum    number  `json:"least_plenum_pa"`
	Thrust    number  `json:"least_thrust_pct"` // of the nominal one
	Grid      number  `json:"grid_w"`
	MotorLoad number  `json:"motor_load_pct"`
	FlowOver  number  `json:"over_least_flow_pct"`
	Discharge number  `json:"discharge_c"`
}

func airCaseOf(c leste.AirCase) airCase {
	return airCase{
		c.Name, text(c.Refused), number(c.Flow), number(c.Plenum), times(c.Thrust, percent), number(c.Grid), times(c.MotorLoad, percent),
		times(c.FlowOver, percent), number(c.Discharge.C()),
	}
}

// airWorst carries one of the three values, by its criterion.
type airWorst struct {
	Criterion string `json:"criterion"`
	Case      string `json:"case"`
	Percent   number `json:"value_pct"`
	Celsius   number `json:"value_c"`
}

func airWorstOf(w leste.AirWorst) airWorst {
	out := airWorst{w.Criterion, w.Case, number(w.Value * percent), number(math.NaN())}
	if w.Criterion == "heat" {
		out.Percent, out.Celsius = number(math.NaN()), number(q.Temperature(w.Value).C())
	}
	return out
}

type blowerChoice struct {
	Part      string  `json:"part"`
	Rejected  *string `json:"rejected"` // null when it does the duty
	Speed     number  `json:"speed_ratio"`
	Grid      number  `json:"grid_w"`
	Discharge number  `json:"discharge_c"`
	Motor     number  `json:"motor_w"`
	MotorLoad number  `json:"motor_load_pct"`
	Reserve   number  `json:"pressure_reserve_pct"`
	Turndown  number  `json:"turndown_pct"`
	Sound     number  `json:"sound_power_db"`
	Price     number  `json:"price"`
	Yearly    number  `json:"cost_year"`
}

func choiceOf(c leste.BlowerChoice) blowerChoice {
	out := blowerChoice{Part: c.Part, Rejected: text(c.Rejected), Sound: number(c.Sound), Price: number(c.Price)}
	if c.Rejected != "" { // how far it came before it was rejected says nothing
		nan := number(math.NaN())
		out.Speed, out.Grid, out.Discharge, out.Motor, out.MotorLoad, out.Reserve, out.Turndown, out.Yearly = nan, nan, nan, nan, nan, nan, nan, nan
		return out
	}
	out.Speed, out.Grid, out.Discharge, out.Motor = number(c.Speed), number(c.Grid), number(c.Discharge.C()), number(c.Motor)
	out.MotorLoad, out.Reserve, out.Turndown, out.Yearly = times(c.MotorLoad, percent), times(c.Reserve, percent), times(c.Turndown, percent), number(c.Yearly)
	return out
}

type electricLoad struct {
	Blower      string   `json:"blower"`
	Rated       number   `json:"motor_w"`
	Class       *string  `json:"class"`
	Voltage     number   `json:"voltage_v"`
	Frequency   number   `json:"frequency_hz"`
	Current     number   `json:"full_load_a"`
	FromPlate   bool     `json:"current_from_nameplate"`
	PowerFactor number   `json:"power_factor"`
	Starter     string   `json:"starter"`
	Starts      number   `json:"starts_per_hour"`
	Protection  string   `json:"protection"`
	Signals     []string `json:"signals"`
	Notes       []string `json:"notes"`
}

func loadOf(l leste.ElectricLoad) electricLoad {
	return electricLoad{
		l.Blower, number(l.Rated), text(l.Class), number(l.Voltage), number(l.Frequency), number(l.Current), l.FromPlate, number(l.PowerFactor),
		l.Starter, number(l.Starts), l.Protection, same(l.Signals), same(l.Notes),
	}
}

type runningCost struct {
	Mean        number `json:"mean_w"`
	Electricity number `json:"electricity"`
	Demand      number `json:"demand_charge"`
	Filters     number `json:"filters"`
	Belts       number `json:"belts"`
	Spares      number `json:"spares"`
	Maintenance number `json:"maintenance"`
	FalseReject number `json:"false_rejects"`
	Total       number `json:"total"`
	Emissions   number `json:"carbon_dioxide_kg"`
}

func yearOf(y *leste.RunningCost) *runningCost {
	if y == nil {
		return nil
	}
	return &runningCost{
		number(y.Mean), number(y.Electricity), number(y.Demand), number(y.Filters), number(y.Belts), number(y.Spares), number(y.Maintenance),
		number(y.FalseReject), number(y.Total), number(y.Emissions),
	}
}

type lifeCycle struct {
	Years      number `json:"years"`
	Discount   number `json:"discount_pct"`
	Escalation number `json:"escalation_pct"`
	Cost       number `json:"station"`
	Compressed number `json:"compressed_air"`
	NPV        number `json:"net_present_value"`
	Unloaded   number `json:"net_present_value_as_the_compressor_gives_back"`
	Payback    number `json:"payback_years"` // null when it never pays
	Savings    number `json:"savings_to_investment"`
	Return     number `json:"internal_rate_of_return_pct"`
}

func lifeOf(l *leste.LifeCycle) *lifeCycle {
	if l == nil {
		return nil
	}
	return &lifeCycle{
		number(l.Years), times(l.Discount, percent), times(l.Escalation, percent), number(l.Cost), number(l.Compressed), number(l.NPV), number(l.Unloaded),
		number(l.Payback), number(l.Savings), number(l.Return * percent),
	}
}

func unloadingOf(c leste.CostResult) number {
	if c.Unloading == 0 {
		return number(math.NaN())
	}
	return times(c.Unloading, percent)
}

type listener struct {
	Distance number `json:"distance_m"`
	Time     number `json:"time_h"`
	Level    number `json:"level_db"`
	Hood     number `json:"hood_takes_off_db"`
	Dose     number `json:"dose_pct"`          // 29 CFR 1910.95
	Daily    band   `json:"daily_exposure_db"` // directive 2003/10/EC
	Action   string `json:"action"`
}

func listenerOf(p leste.ListenerResult) *listener {
	if !(p.Distance > 0) {
		return nil
	}
	return &listener{
		number(p.Distance), times(p.Time, 1./3600), number(p.Level), number(p.Hood), times(p.Dose, percent),
		band{number(p.Daily), number(p.DailyLow), number(p.DailyHigh)},
		p.Action,
	}
}

type exhaust struct {
	Assessed bool   `json:"assessed"`
	Flow     number `json:"flow_m3_s"`
	Moisture number `json:"moisture_g_kg"`
	MakeUp   number `json:"make_up_heat_w"`
	Heat     number `json:"heat_to_room_w"`
}

func exhaustOf(e leste.ExhaustResult) exhaust {
	nan := number(math.NaN())
	if !e.Assessed {
		return exhaust{false, nan, nan, nan, number(e.Heat)}
	}
	return exhaust{true, number(e.Flow), times(e.Moisture, 1e3), number(e.MakeUp), number(e.Heat)}
}
