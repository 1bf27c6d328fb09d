package asjson

import (
	"math"

	leste "leste"
	q "leste/quantity"
)

type airSupply struct {
	Flow    number   `json:"flow_kg_s"`
	Outlets []outlet `json:"outlets"`
	Blowers []blower `json:"blowers"`
	Losses  []loss   `json:"losses"`
	Limits  *string  `json:"limited_by"`
}

type outlet struct {
	Name          string  `json:"name"`
	Station       *string `json:"station"`
	Plenum        number  `json:"plenum_pa"`
	Jet           number  `json:"jet_m_s"`
	Flow          number  `json:"flow_kg_s"`
	Thrust        number  `json:"thrust_n"`
	NonUniformity number  `json:"non_uniformity_pct"`
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
}

type loss struct {
	Name  string `json:"name"`
	Loss  number `json:"loss_pa"`
	Share number `json:"share_pct"`
}

type costs struct {
	Currency         *string `json:"currency"`
	Energy           number  `json:"energy_kwh_year"`
	Cost             number  `json:"cost_year"`
	CompressedEnergy number  `json:"compressed_air_kwh_year"`
	CompressedCost   number  `json:"compressed_air_cost_year"`
	BlowerEnergy     number  `json:"blower_instead_kwh_year"`
	BlowerCost       number  `json:"blower_instead_cost_year"`
	PowerRatio       number  `json:"power_ratio"`
	PowerRatioBand   band    `json:"power_ratio_band"`
}

type sound struct {
	Power   number `json:"power_level_db"`
	At1m    band   `json:"at_1_m_db"`
	Limit   number `json:"limit_db"`
	Verdict string `json:"verdict"`
}

func airOf(a leste.AirResult) airSupply {
	return airSupply{
		Flow: number(a.Flow),
		Outlets: list(a.Outlets, func(o leste.OutletResult) outlet {
			return outlet{
				o.Name, text(o.Station), number(o.Plenum), number(o.Jet), number(o.Flow), number(o.Thrust),
				times(o.NonUniformity, percent), number(o.Temperature.C()), times(o.Humidity, 1e3),
			}
		}),
		Blowers: list(a.Blowers, func(b leste.BlowerResult) blower {
			return blower{
				b.Name, number(b.SpeedRatio), number(b.Inlet), number(b.Rise), number(b.Shaft), number(b.Grid),
				number(b.Discharge.C()), number(b.Motor), times(b.Reserve, percent),
			}
		}),
		Losses: list(a.Parts, func(l leste.LossResult) loss { return loss{l.Name, number(l.Loss), times(l.Share, percent)} }),
		Limits: text(a.Limits),
	}
}

func costOf(c leste.CostResult) costs {
	if c.BlowerEnergy == 0 { // of a station on blowers there is none
		c.BlowerEnergy, c.BlowerCost = q.Energy(math.NaN()), math.NaN()
	}
	return costs{
		text(c.Currency), times(c.Energy, kWh), number(c.Cost), times(c.CompressedEnergy, kWh), number(c.CompressedCost),
		times(c.BlowerEnergy, kWh), number(c.BlowerCost),
		number(c.PowerRatio), bandOf(c.Band, 1),
	}
}

func soundOf(s leste.SoundResult) sound {
	if !s.Assessed {
		nan := number(math.NaN())
		return sound{nan, band{nan, nan, nan}, number(s.Limit), "not assessed"}
	}
	return sound{
		number(s.Power), band{number(s.At1m), number(s.Low), number(s.High)}, number(s.Limit), string(s.Verdict),
	}
}
