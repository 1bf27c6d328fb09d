package leste

import (
	"leste/airsupply"
	q "leste/quantity"
)

// AirResult is the air side at the nominal case.
type AirResult struct {
	Flow    q.MassFlow
	Outlets []OutletResult
	Blowers []BlowerResult
	Parts   []LossResult
	Ways    []WayResult // where the rise of each blower goes
	Limits  string      // what limits the flow
	Cases   []AirCase
	Worst   []AirWorst
	Choices []BlowerChoice // the machines a blower was chosen from, the chosen one first; none where the job names it
	Loads   []ElectricLoad
}

// OutletResult is the air at one outlet.
type OutletResult struct {
	Name          string
	Station       string
	Plenum        q.Gauge
	Jet           q.Speed
	Flow          q.MassFlow
	Thrust        q.Force
	NonUniformity q.Ratio       // fastest less slowest jet along the outlet, over the fastest
	Uneven        q.Band        // the same as a band: the plenum regains 0.8 to 1.2 of its velocity head
	Inclination   q.Angle       // of the jet at the feed from the normal of the opening, without vanes
	Temperature   q.Temperature // stagnation
	Humidity      q.Ratio       // humidity ratio
}

// BlowerResult is one blower at its operating point.
type BlowerResult struct {
	Name       string
	SpeedRatio float64
	Inlet      q.VolumeFlow
	Rise       q.PressureDrop
	Shaft      q.Power
	Grid       q.Power
	Discharge  q.Temperature
	Motor      q.Power // rated
	Reserve    q.Ratio // motor rating over the greatest power that may be asked of it, less one: at any flow of the curve on the coldest day
	MotorLoad  q.Ratio // shaft of the motor over its rating
	FlowOver   q.Ratio // flow over the least flow its curve allows, less one
	Efficiency q.Ratio // isentropic
	Filter     q.PressureDrop
}

// AirCase is the air side in one of the conditions it must live with.
type AirCase struct {
	Name      string
	Refused   string        // why there is no operating point; the figures are NaN then
	Flow      q.MassFlow    // through all outlets
	Plenum    q.Gauge       // least plenum pressure of an open outlet
	Thrust    q.Ratio       // least thrust of an open outlet over its nominal one
	Grid      q.Power       // of all blowers
	MotorLoad q.Ratio       // greatest
	FlowOver  q.Ratio       // least flow of a blower over what its curve allows, less one
	Discharge q.Temperature // hottest
}

// AirWorst is the case that is worst by one criterion.
type AirWorst struct {
	Criterion string  // "motor", "drying", "least flow", "heat"
	Case      string  // of AirCase
	Value     float64 // SI: load of the motor; thrust over nominal; flow over the least one, less one; K. NaN where the case is refused
}

// BlowerChoice is one machine of the catalogue set to the duty.
type BlowerChoice struct {
	Part      string
	Rejected  string // why it does not do; "" when it does
	Speed     q.Ratio
	Grid      q.Power
	Discharge q.Temperature
	Motor     q.Power
	MotorLoad q.Ratio
	Reserve   q.Ratio      // pressure at the greatest speed over the duty's, less one
	Turndown  q.Ratio      // least flow over the duty's at this speed
	Sound     q.SoundLevel // NaN when nobody declared it
	Price     float64      // NaN when it is not known
	Yearly    float64      // energy and share of the price
}

// ElectricLoad is one line of the load list; wiring and protection are for licensed persons.
type ElectricLoad struct {
	Blower      string
	Rated       q.Power
	Class       string
	Voltage     q.Voltage // line to line, three phases
	Frequency   q.Frequency
	Current     q.Current // at full load
	FromPlate   bool      // Current is the nameplate's, not calculated
	PowerFactor q.Ratio
	Starter     string
	Starts      float64 // in an hour, at most
	Protection  string
	Signals     []string
	Devices     []Device
	Notes       []string
}

// A Device is a piece of hardware that an electrical load needs beside its motor.
type Device = airsupply.Device

// LossResult is the air in one branch between blower and outlets, and what is lost there.
type LossResult struct {
	Name        string
	Loss        q.PressureDrop // with that of the tee or wye at its ends
	Share       q.Ratio        // of the blower's rise
	Flow        q.MassFlow
	Start, End  q.Gauge // stagnation pressure
	Temperature q.Temperature
	Speed       q.Speed // greatest
	Junction    q.PressureDrop
	Elements    []ElementLoss
}

// ElementLoss is what one duct, hose or fitting of a branch loses.
type ElementLoss struct {
	Kind  string
	Loss  q.PressureDrop
	Share q.Ratio // of the blower's rise
	Speed q.Speed
}

// WayResult is the way of the air from the room through one blower to the outlet that gets the least pressure of it.
type WayResult = airsupply.Way

// WayPart is what one part of a way takes of the rise.
type WayPart = airsupply.WayPart

// Kinds of parts of a way, in the order of the flow.
const (
	PartFilter = airsupply.PartFilter
	PartEntry  = airsupply.PartEntry
	PartFlap   = airsupply.PartFlap
	PartBranch = airsupply.PartBranch
	PartOutlet = airsupply.PartOutlet
)

// Beside lists the branches that lie on none of the ways.
func (a *AirResult) Beside() []LossResult {
	on := map[string]bool{}
	for _, w := range a.Ways {
		for _, p := range w.Parts {
			on[p.Name] = on[p.Name] || p.Kind == PartBranch
		}
	}
	var out []LossResult
	for _, l := range a.Parts {
		if !on[l.Name] {
			out = append(out, l)
		}
	}
	return out
}

// TableOfLosses is every loss that a table of where the rise goes holds, so that one unit suits all: those of the ways,
// with their sums, and those of the branches beside them [Pa].
func (a *AirResult) TableOfLosses() []float64 {
	var all []float64
	for _, w := range a.Ways {
		all = append(all, float64(w.Rise))
		for _, p := range w.Parts {
			all = append(all, float64(p.Loss))
		}
	}
	for _, l := range a.Beside() {
		all = append(all, float64(l.Loss))
	}
	return all
}

// CostResult is energy and money over a year.
type CostResult struct {
	Currency         string
	Energy           q.Energy // per year; NaN when it is not known
	Cost             float64  // per year; NaN when it is not known
	CompressedEnergy q.Energy // the same thrust from compressed air
	CompressedCost   float64
	BlowerEnergy     q.Energy // of a station on compressed air: the same thrust from a blower; 0 for one on blowers
	BlowerCost       float64
	PowerRatio       float64 // blower over compressed air; NaN when there is no comparison
	Band             q.Band  // of the ratio
	Year             *RunningCost
	Life             *LifeCycle
	Unloading        q.Ratio // share of CompressedEnergy that the compressor's control really saves; 0 without a comparison
}

// RunningCost is what the blowers cost in a year, in the job's currency.
type RunningCost struct {
	Mean        q.Power // drawn, over the hours counted
	Electricity float64
	Demand      float64
	Filters     float64
	Belts       float64
	Spares      float64
	Maintenance float64
	FalseReject float64
	Total       float64
	Emissions   q.Mass // of carbon dioxide; NaN without the user's factor
}

// LifeCycle compares the station with compressed air of the same thrust over the years, in present value.
type LifeCycle struct {
	Years      float64
	Discount   q.Ratio
	Escalation q.Ratio // of the price of electricity
	Cost       float64 // of the station
	Compressed float64 // of the compressed air
	NPV        float64 // of choosing the station
	Payback    float64 // simple, years; +Inf when it never pays
	Savings    float64 // over the extra investment; NaN without one
	Return     float64 // internal rate of return; NaN when there is none
	Unloaded   float64 // NPV when the compressor saves only what its control lets it
}

// SoundResult is the sound of the outlets and blowers.
type SoundResult struct {
	Power     q.SoundLevel // dB re 1 pW, all sources
	At1m      q.SoundLevel // dB re 20 uPa
	Low, High q.SoundLevel // band of At1m
	Limit     q.SoundLevel
	Verdict   Verdict
	Assessed  bool
	Place     ListenerResult
}

// ListenerResult is what a person by the station hears and how much of a day's allowance it is.
type ListenerResult struct {
	Distance            q.Length
	Time                q.Duration   // in a shift
	Level               q.SoundLevel // of the station and the background, A-weighted
	Hood                q.SoundLevel // what the hood takes off
	Dose                q.Ratio      // by 29 CFR 1910.95, 1 is full
	Daily               q.SoundLevel // LEX,8h by directive 2003/10/EC
	DailyLow, DailyHigh q.SoundLevel
	Action              string
}

// ExhaustResult is where air, heat and moisture of the station go.
type ExhaustResult struct {
	Assessed bool         // the openings of an enclosure are known
	Flow     q.VolumeFlow // to be exhausted
	Moisture q.Ratio      // rise of the exhaust's humidity ratio; NaN when the water is not known
	MakeUp   q.Power      // to heat the air that comes in its stead; NaN when its temperature is not known
	Heat     q.Power      // left in the hall; NaN without blowers
}
