package cost

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// What the blower does while no containers come.
const (
	RunOn     = "run on"
	TurnDown  = "turn down"
	SwitchOff = "switch off"
)

const hour = 3600.0

// Powers are the powers drawn from the mains by a station.
type Powers struct {
	Producing  q.Power // while containers pass
	TurnedDown q.Power // at the idle speed; needed when the blower is turned down
	Peak       q.Power // greatest over all cases; 0 takes Producing
	// ByFormat replaces Producing by the mean over the formats' shares of the producing hours.
	ByFormat []Share
}

// Share is the power drawn over a share of the producing hours.
type Share struct {
	Power q.Power
	Share q.Ratio
}

// Year is what a station draws and costs in a year, in the job's currency.
type Year struct {
	Currency    string
	Energy      q.Energy
	Mean        q.Power // over the hours counted
	Electricity float64
	Demand      float64
	Filters     float64
	Belts       float64
	Spares      float64
	Maintenance float64
	FalseReject float64
	Total       float64
	Emissions   q.Maybe[q.Mass] // kg CO2; not known without the user's factor
	Starts      q.Rate          // of a blower that is switched off in idle gaps
	Notes       []relation.Note
}

// Costs with the defaults of the job file where nobody gave a value.
type terms struct {
	hours, idle, idleGap, starts         float64
	electricity, demand                  float64
	filterHours, beltHours               float64
	discount, escalation, years          float64
	filterPrice, beltPrice, spares, care float64
}

func termsOf(c job.Costs) terms {
	years := float64(c.Years)
	if years == 0 {
		years = 10
	}
	return terms{
		hours: or(c.Hours, 6000*hour), idle: or(c.IdleShare, 0.2), idleGap: or(c.IdleGap, 300), starts: or(c.StartsPerHour, 6/hour),
		electricity: or(c.Electricity, 0.15/3.6e6), demand: float64(c.Demand.V),
		filterHours: or(c.FilterHours, 2000*hour), beltHours: or(c.BeltHours, 4000*hour),
		discount: or(c.Discount, 0.08), escalation: or(c.Escalation, 0.02), years: years,
		filterPrice: c.FilterPrice.V, beltPrice: c.BeltPrice.V, spares: c.Spares.V, care: c.Maintenance.V,
	}
}

// or is the value of m, or d when nobody gave or assumed one.
func or[T ~float64](m q.Maybe[T], d float64) float64 {
	if m.Known || m.V != 0 {
		return float64(m.V)
	}
	return d
}

// Yearly returns what a station draws and costs in a year. belt says whether belts wear. Prices that nobody
// gave count nothing, and a note names them. Wrong numbers are refused in one sentence.
func Yearly(p Powers, c job.Costs, belt bool, falseRejects q.Rate) (Year, error) {
	t := termsOf(c)
	if err := t.check(); err != nil {
		return Year{}, err
	}
	producing, err := p.producing()
	if err != nil {
		return Year{}, err
	}
	y := Year{Currency: c.Currency}
	idle, err := y.idlePower(p, producing, c, t)
	if err != nil {
		return Year{}, err
	}
	joules := t.hours * (producing*(1-t.idle) + idle*t.idle)
	y.Energy, y.Mean = q.Energy(joules), q.Power(joules/t.hours)
	y.Electricity = joules * t.electricity
	y.Demand = max(float64(p.Peak), producing) * t.demand
	running := t.hours
	if c.Idle == SwitchOff {
		running *= 1 - t.idle
	}
	y.Filters = running / t.filterHours * t.filterPrice
	if belt {
		y.Belts = running / t.beltHours * t.beltPrice
	}
	y.Spares, y.Maintenance = t.spares, t.care
	if c.FalseReject.Known {
		y.FalseReject = float64(falseRejects) * t.hours * (1 - t.idle) * c.FalseReject.V
	}
	y.Total = y.Electricity + y.Demand + y.Filters + y.Belts + y.Spares + y.Maintenance + y.FalseReject
	if c.Emissions.Known {
		y.Emissions = q.Known(q.Mass(joules * float64(c.Emissions.V)))
	}
	y.missing(c, belt)
	return y, nil
}

func (t terms) check() error {
	for _, v := range []struct {
		name        string
		value       float64
		least, most float64
	}{
		{"hours per year", t.hours / hour, 1, 8784},
		{"idle share", t.idle, 0, 0.99},
		{"price of electricity per kWh", t.electricity * 3.6e6, 0, 1e6},
		{"demand charge", t.demand, 0, 1e9},
		{"filter life in hours", t.filterHours / hour, 1, 1e6},
		{"belt life in hours", t.beltHours / hour, 1, 1e6},
		{"idle gap in seconds", t.idleGap, 1, 1e7},
		{"discount rate", t.discount, 0, 1},
		{"escalation rate", t.escalation, -0.5, 1},
		{"years", t.years, 1, 100},
		{"filter price", t.filterPrice, 0, 1e12},
		{"belt price", t.beltPrice, 0, 1e12},
		{"spares", t.spares, 0, 1e12},
		{"maintenance", t.care, 0, 1e12},
	} {
		if !(v.value >= v.least && v.value <= v.most) {
			return fmt.Errorf("cost: %s must lie between %g and %g, not %g", v.name, v.least, v.most, v.value)
		}
	}
	return nil
}

func (p Powers) producing() (float64, error) {
	if len(p.ByFormat) == 0 {
		if !(p.Producing >= 0) || math.IsInf(float64(p.Producing), 0) {
			return 0, fmt.Errorf("cost: the power while producing must be a number of at least zero")
		}
		return float64(p.Producing), nil
	}
	var sum, shares float64
	for _, f := range p.ByFormat {
		if !(f.Power >= 0) || !(f.Share >= 0) || math.IsInf(float64(f.Power)+float64(f.Share), 0) {
			return 0, fmt.Errorf("cost: powers and shares of the formats must be numbers of at least zero")
		}
		sum += float64(f.Power) * float64(f.Share)
		shares += float64(f.Share)
	}
	if shares == 0 {
		return 0, fmt.Errorf("cost: the formats' shares of the hours add up to nothing")
	}
	return sum / shares, nil
}

// idlePower is the power drawn in idle gaps. Switching off more often than motor and drive allow is noted and
// counted as turning down, or running on when no turned-down power is known.
func (y *Year) idlePower(p Powers, producing float64, c job.Costs, t terms) (float64, error) {
	y.Starts = q.Rate(t.idle / t.idleGap)
	down := float64(p.TurnedDown)
	switch c.Idle {
	case "", RunOn:
		y.Starts = 0
		return producing, nil
	case TurnDown:
		y.Starts = 0
		if !(down > 0) {
			return 0, fmt.Errorf("cost: turning down needs the power at the idle speed")
		}
		return down, nil
	case SwitchOff:
		if float64(y.Starts) <= t.starts {
			return 0, nil
		}
		instead := producing
		if down > 0 {
			instead = down
		}
		y.Notes = append(y.Notes, relation.Note{
			Severity: relation.Caution, Relation: "yearly-cost",
			Text:  "Switching off in every gap would start the motor more often than is allowed; the blower is counted as running through the gaps.",
			Value: float64(y.Starts) * hour, Limit: t.starts * hour, Unit: "1/h",
		})
		return instead, nil
	}
	return 0, fmt.Errorf("cost: unknown idle mode %q: it is one of %s, %s, %s", c.Idle, RunOn, TurnDown, SwitchOff)
}

// missing notes the prices nobody gave.
func (y *Year) missing(c job.Costs, belt bool) {
	add := func(text string) {
		y.Notes = append(y.Notes, relation.Note{Severity: relation.Info, Relation: "yearly-cost", Text: text, Value: math.NaN(), Limit: math.NaN()})
	}
	if !c.FilterPrice.Known {
		add("Filters are not counted: their price is not known.")
	}
	if belt && !c.BeltPrice.Known {
		add("Belts are not counted: their price is not known.")
	}
	if !c.Emissions.Known {
		add("Carbon dioxide is not counted: ask the supplier of electricity for its factor.")
	}
}
