package air

import "leste/physics/relation"

// Cards returns the cards of this package's relations.
func Cards() []relation.Card {
	return append(stateCards(), transferCards()...)
}

func stateCards() []relation.Card {
	return []relation.Card{
		{
			ID:       "standard-atmosphere",
			Title:    "the pressure of the standard atmosphere",
			Equation: "T = 288.15 - 0.0065 h;  p = 101325 (T/288.15)^(g/(0.0065 R)), R = 287.05287",
			Symbols: []relation.Symbol{
				relation.Sym("h", "m", "geopotential altitude"),
				relation.Sym("p", "Pa", "absolute pressure"),
				relation.Sym("T", "K", "temperature of the standard atmosphere"),
			},
			Limits: []relation.Limit{relation.Within("h", -500, 4000, relation.Stop, "no such site is calculated")},
			Sources: []relation.Source{
				relation.Cite("iso-2533", "", relation.FromMemory),
				relation.Cite("ashrae-2017", "chapter 1, table 1 (as published test values)", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "0.1 % as a standard; the weather moves a real barometer by 3 %", Share: 0.03},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("h", 500, "m")},
				Result: relation.Val("p", 95461, "Pa"), Digits: 1e-5,
			},
		},
		{
			ID:       "site-air",
			Title:    "the air of a site",
			Equation: "a station stands in air between -20 and 60 degC, 60 and 110 kPa, with less than 60 g vapour per kg",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "room air temperature"),
				relation.Sym("p", "Pa", "absolute pressure at the site"),
				relation.Sym("W", "1", "humidity ratio of the room air"),
			},
			Limits: []relation.Limit{
				relation.Within("T", 253.15, 333.15, relation.Stop, "no such site is calculated"),
				relation.Within("p", 60e3, 110e3, relation.Stop, "no such site is calculated"),
				relation.Within("W", 0, 0.06, relation.Stop, "no such site is calculated"),
			},
			Sources:     []relation.Source{relation.CommonPractice("the range of plant rooms")},
			Uncertainty: relation.Uncertainty{Text: "a range, not a value"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 298.15, "K"), relation.Val("p", 101325, "Pa"), relation.Val("RH", 0.5, "1")},
				Result: relation.Val("W", 0.0098810, "1"), Digits: 1e-4,
			},
		},
		{
			ID:       "saturation-pressure",
			Title:    "the saturation pressure of water vapour",
			Equation: "ln p = C8/T + C9 + C10 T + C11 T^2 + C12 T^3 + C13 ln T over water; a like form over ice",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "temperature of water or ice"),
				relation.Sym("p", "Pa", "saturation pressure"),
			},
			Limits: []relation.Limit{relation.Within("T", 173.15, 473.15, relation.Stop, "")},
			Sources: []relation.Source{
				relation.Cite("hyland-wexler-1983", "", relation.FromMemory),
				relation.Cite("ashrae-2017", "chapter 1, equations 5 and 6, table 3 (as published test values)", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "0.03 % against the tables, 0.02 % against the 1997 industrial formulation", Share: 0.0003},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 298.15, "K")},
				Result: relation.Val("p", 3169.7, "Pa"), Digits: 3e-4,
			},
		},
		{
			ID:       "wet-bulb",
			Title:    "the thermodynamic wet bulb",
			Equation: "W = [(2501 - 2.326 t*) Ws* - 1.006 (t - t*)]/(2501 + 1.86 t - 4.186 t*); a like form over ice below 0 degC",
			Symbols: []relation.Symbol{
				relation.Sym("t", "K", "dry-bulb temperature"),
				relation.Sym("wet", "K", "wet-bulb temperature"),
				relation.Sym("W", "1", "humidity ratio"),
				relation.Sym("p", "Pa", "absolute pressure"),
				relation.Sym("RH", "1", "relative humidity"),
			},
			Limits: []relation.Limit{
				relation.Within("t", 233.15, 423.15, relation.Outside, ""),
				relation.Within("p", 40e3, 250e3, relation.Outside, ""),
				relation.Within("RH", 0, 1, relation.Stop, "such air does not exist"),
			},
			Sources:     []relation.Source{relation.Cite("ashrae-2017", "chapter 1, equations 33 and 35", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "0.01 K as an equation"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("t", 298.15, "K"), relation.Val("p", 101325, "Pa"), relation.Val("RH", 0.5, "1")},
				Result: relation.Val("wet", 291.039, "K"), Digits: 1e-5,
			},
		},
		{
			ID:       "moist-density",
			Title:    "the density of humid air",
			Equation: "rho = p (1 + W)/(287.042 T (1 + W/0.621945))",
			Symbols: []relation.Symbol{
				relation.Sym("p", "Pa", "absolute pressure"),
				relation.Sym("T", "K", "temperature"),
				relation.Sym("W", "1", "humidity ratio"),
				relation.Sym("rho", "kg/m3", "density of the humid air"),
			},
			Limits: []relation.Limit{
				relation.Within("p", 40e3, 250e3, relation.Outside, "the ideal mixture is no longer exact"),
				relation.Within("T", 233.15, 423.15, relation.Outside, ""),
				relation.Within("W", 0, 0.2, relation.Outside, ""),
			},
			Sources:     []relation.Source{relation.Cite("ashrae-2017", "chapter 1, equation 11", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "0.06 % low against a real-gas equation", Share: 0.0006},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("p", 95461, "Pa"), relation.Val("T", 303.15, "K"), relation.Val("W", 0.02, "1")},
				Result: relation.Val("rho", 1.08412, "kg/m3"), Digits: 1e-4,
			},
		},
		{
			ID:       "moist-enthalpy",
			Title:    "the enthalpy of humid air",
			Equation: "h = 1006 t + W (2501000 + 1860 t), t in degC",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "temperature"),
				relation.Sym("W", "1", "humidity ratio"),
				relation.Sym("h", "J/kg", "enthalpy per mass of dry air"),
			},
			Limits:      []relation.Limit{relation.Within("T", 233.15, 423.15, relation.Outside, "")},
			Sources:     []relation.Source{relation.Cite("ashrae-2017", "chapter 1, equation 30", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "0.3 %", Share: 0.003},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 298.15, "K"), relation.Val("W", 0.009881043690749623, "1")},
				Result: relation.Val("h", 50322, "J/kg"), Digits: 1e-4,
			},
		},
		{
			ID:       "air-viscosity",
			Title:    "the viscosity of air",
			Equation: "mu = 1.458e-6 T^1.5/(T + 110.4)",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "temperature"),
				relation.Sym("mu", "Pa s", "dynamic viscosity"),
			},
			Limits:      []relation.Limit{relation.Within("T", 233.15, 473.15, relation.Outside, "")},
			Sources:     []relation.Source{relation.Cite("iso-2533", "Sutherland's law", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "0.3 to 0.8 % low between 0 and 100 degC; humidity lowers the real value by up to 1 %", Share: 0.01},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 288.15, "K")},
				Result: relation.Val("mu", 1.7894e-5, "Pa s"), Digits: 1e-4,
			},
		},
		{
			ID:       "air-conductivity",
			Title:    "the thermal conductivity of air",
			Equation: "k = 2.64638e-3 T^1.5/(T + 245.4 10^(-12/T))",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "temperature"),
				relation.Sym("k", "W/(m K)", "thermal conductivity"),
			},
			Limits:      []relation.Limit{relation.Within("T", 233.15, 473.15, relation.Outside, "")},
			Sources:     []relation.Source{relation.Cite("standard-atmosphere-1976", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "1 %", Share: 0.01},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 300, "K")},
				Result: relation.Val("k", 0.0263, "W/(m K)"), Digits: 5e-3,
			},
		},
		{
			ID:       "vapour-diffusivity",
			Title:    "the diffusivity of water vapour in air",
			Equation: "D = 2.11e-5 (T/273.15)^1.94 (101325/p)",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "temperature"),
				relation.Sym("p", "Pa", "absolute pressure"),
				relation.Sym("D", "m2/s", "diffusivity"),
			},
			Limits:      []relation.Limit{relation.Within("T", 233.15, 333.15, relation.Outside, "")},
			Sources:     []relation.Source{relation.Cite("hall-pruppacher-1976", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "5 %", Share: 0.05},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 298.15, "K"), relation.Val("p", 101325, "Pa")},
				Result: relation.Val("D", 2.501e-5, "m2/s"), Digits: 5e-4,
			},
		},
	}
}
