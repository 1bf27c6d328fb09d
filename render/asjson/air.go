package asjson

import (
	"math"

	leste "leste"
	q "leste/quantity"
)

type airSupply struct {
	Flow    number         `json:"flow_kg_s"`
	Outlets []outlet       `json:"outlets"`
	Blowers []blower       `json:"blowers"`
	Losses  []loss         `json:"losses"`
	Ways    []airWay       `json:"ways" doc:"Of each blower: where its rise goes on the way to the outlet that gets the least pressure from it. The parts sum to the rise."`
	Limits  *string        `json:"limited_by"`
	Cases   []airCase      `json:"cases"`
	Worst   []airWorst     `json:"worst"`
	Choices []blowerChoice `json:"blowers_considered"`
	Loads   []electricLoad `json:"electrical_loads"`
}

type outlet struct {
	Name          string  `json:"name"`
	Station       *string `json:"station"`
	Plenum        number  `json:"plenum_pa"`
	Jet           number  `json:"jet_m_s"`
	Flow          number  `json:"flow_kg_s"`
	Thrust        number  `json:"thrust_n"`
	NonUniformity number  `json:"non_uniformity_pct"`
	Uneven        band    `json:"non_uniformity_band_pct"`
	Inclination   number  `json:"inclination_deg"`
	Air           number  `json:"air_c"`
	Humidity      number  `json:"humidity_ratio_g_kg"`
}

type blower struct {
	Name       string `json:"name"`
	SpeedRatio number `json:"speed_ratio"`
	Inlet      number `json:"inlet_m3_s"`
	Rise       number `json:"rise_pa"`
	Shaft      number `json:"shaft_w"`
	Grid       number `json:"grid_w"`
	Discharge  number `json:"discharge_c"`
	Motor      number `json:"motor_w"`
	Reserve    number `json:"reserve_pct"`
	MotorLoad  number `json:"motor_load_pct"`
	FlowOver   number `json:"over_least_flow_pct"`
	Efficiency number `json:"isentropic_efficiency_pct"`
	Filter     number `json:"filter_pa"`
}

type loss struct {
	Name        string    `json:"name"`
	Loss        number    `json:"loss_pa"`
	Share       number    `json:"share_pct"`
	Flow        number    `json:"flow_kg_s"`
	Start       number    `json:"start_pa"`
	End         number    `json:"end_pa"`
	Temperature number    `json:"air_c"`
	Speed       number    `json:"speed_m_s"`
	Junction    number    `json:"junction_pa"`
	Elements    []element `json:"elements"`
}

type element struct {
	Kind  string `json:"kind"`
	Loss  number `json:"loss_pa"`
	Share number `json:"share_pct"`
	Speed number `json:"speed_m_s"`
}

func lossOf(l leste.LossResult) loss {
	return loss{
		l.Name, number(l.Loss), times(l.Share, percent), number(l.Flow), number(l.Start), number(l.End), number(l.Temperature.C()), number(l.Speed),
		number(l.Junction), list(l.Elements, elementOf),
	}
}

func elementOf(e leste.ElementLoss) element {
	return element{e.Kind, number(e.Loss), times(e.Share, percent), number(e.Speed)}
}

// airWay is where the rise of a blower goes.
type airWay struct {
	Blower string    `json:"blower"`
	Outlet string    `json:"outlet" doc:"The one that gets the least pressure of all that the blower feeds."`
	Rise   number    `json:"rise_pa"`
	Parts  []wayPart `json:"parts" doc:"In the order of the flow."`
}

type wayPart struct {
	Kind     string    `json:"kind" doc:"inlet filter, entry, flap, branch or outlet."`
	Name     *string   `json:"name" doc:"Of the branch or the outlet; null for what stands at the blower."`
	Loss     number    `json:"loss_pa"`
	Share    number    `json:"share_pct" doc:"Of the blower's rise."`
	Junction number    `json:"junction_pa" doc:"Of the loss of a branch that of the tee or wye at its ends; null for other parts."`
	Elements []element `json:"elements" doc:"What the ducts, hoses and fittings of a branch take of its loss, in the order of the flow; empty for other parts."`
}

// waysOf writes the ways with what each element of a branch on them takes.
func waysOf(a leste.AirResult) []airWay {
	branches := map[string]leste.LossResult{}
	for _, l := range a.Parts {
		branches[l.Name] = l
	}
	return list(a.Ways, func(w leste.WayResult) airWay {
		return airWay{w.Blower, w.Outlet, number(w.Rise), list(w.Parts, func(p leste.WayPart) wayPart {
			part := wayPart{p.Kind, text(p.Name), number(p.Loss), times(p.Share, percent), number(math.NaN()), []element{}}
			if b, known := branches[p.Name]; known && p.Kind == leste.PartBranch {
				part.Junction, part.Elements = number(b.Junction), list(b.Elements, elementOf)
			}
			return part
		})}
	})
}

type costs struct {
	Currency         *string      `json:"currency"`
	Energy           number       `json:"energy_kwh_year"`
	Cost             number       `json:"cost_year"`
	CompressedEnergy number       `json:"compressed_air_kwh_year"`
	CompressedCost   number       `json:"compressed_air_cost_year"`
	BlowerEnergy     number       `json:"blower_instead_kwh_year"`
	BlowerCost       number       `json:"blower_instead_cost_year"`
	PowerRatio       number       `json:"power_ratio"`
	PowerRatioBand   band         `json:"power_ratio_band"`
	Unloading        number       `json:"compressor_gives_back_pct"`
	Year             *runningCost `json:"year"`
	Life             *lifeCycle   `json:"over_the_years"`
}

type sound struct {
	Power   number    `json:"power_level_db"`
	At1m    band      `json:"at_1_m_db"`
	Limit   number    `json:"limit_db"`
	Verdict string    `json:"verdict"`
	Person  *listener `json:"person"`
}

func airOf(a leste.AirResult) airSupply {
	return airSupply{
		Flow: number(a.Flow),
		Outlets: list(a.Outlets, func(o leste.OutletResult) outlet {
			return outlet{
				o.Name, text(o.Station), number(o.Plenum), number(o.Jet), number(o.Flow), number(o.Thrust),
				times(o.NonUniformity, percent), bandOf(o.Uneven, percent), number(o.Inclination.Deg()), number(o.Temperature.C()), times(o.Humidity, 1e3),
			}
		}),
		Blowers: list(a.Blowers, func(b leste.BlowerResult) blower {
			return blower{
				b.Name, number(b.SpeedRatio), number(b.Inlet), number(b.Rise), number(b.Shaft), number(b.Grid),
				number(b.Discharge.C()), number(b.Motor), times(b.Reserve, percent),
				times(b.MotorLoad, percent), times(b.FlowOver, percent), times(b.Efficiency, percent), number(b.Filter),
			}
		}),
		Losses: list(a.Parts, lossOf),
		Ways:   waysOf(a),
		Limits: text(a.Limits),
		Cases:  list(a.Cases, airCaseOf), Worst: list(a.Worst, airWorstOf), Choices: list(a.Choices, choiceOf), Loads: list(a.Loads, loadOf),
	}
}

func costOf(c leste.CostResult) costs {
	if c.BlowerEnergy == 0 { // of a station on blowers there is none
		c.BlowerEnergy, c.BlowerCost = q.Energy(math.NaN()), math.NaN()
	}
	return costs{
		text(c.Currency), times(c.Energy, kWh), number(c.Cost), times(c.CompressedEnergy, kWh), number(c.CompressedCost),
		times(c.BlowerEnergy, kWh), number(c.BlowerCost),
		number(c.PowerRatio), bandOf(c.Band, 1), unloadingOf(c), yearOf(c.Year), lifeOf(c.Life),
	}
}

func soundOf(s leste.SoundResult) sound {
	if !s.Assessed {
		nan := number(math.NaN())
		return sound{nan, band{nan, nan, nan}, number(s.Limit), "not assessed", nil}
	}
	return sound{
		number(s.Power), band{number(s.At1m), number(s.Low), number(s.High)}, number(s.Limit), string(s.Verdict), listenerOf(s.Place),
	}
}
