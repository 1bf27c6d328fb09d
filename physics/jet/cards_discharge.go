package jet

import "leste/physics/relation"

func dischargeCards() []relation.Card {
	pg := relation.Sym("pg", "Pa", "plenum pressure above the room's")
	pa := relation.Sym("pa", "Pa", "absolute pressure of the room")
	t0 := relation.Sym("T0", "K", "stagnation temperature in the plenum")
	return []relation.Card{
		{
			ID:    "discharge",
			Title: "the discharge from a plenum",
			Equation: "r = pa/p0;  Te = T0 r^((k-1)/k), u = sqrt(2 cp (T0 - Te)), G = u pa/(R Te)\n" +
				"choked where r <= (2/(k+1))^(k/(k-1)):  Te = 2 T0/(k+1), p* = p0 (2/(k+1))^(k/(k-1))\n" +
				"inverse: c = G^2 R T0/(k pa^2), M^2 = (sqrt(1 + 2 (k-1) c) - 1)/(k-1), p0 = pa (1 + (k-1)/2 M^2)^(k/(k-1))",
			Symbols: []relation.Symbol{
				pg, pa, t0,
				relation.Sym("r", "1", "ambient over plenum pressure"),
				relation.Sym("u", "m/s", "exit velocity"),
				relation.Sym("G", "kg/(s m2)", "mass flux"),
			},
			Limits: []relation.Limit{
				relation.AtLeast("r", 0.52828, relation.Caution, "the outlet is choked and the jet beyond it under-expanded"),
				relation.AtLeast("r", 0.09, relation.Stop, "no such outlet is calculated"),
				relation.AtMost("pg", 50e3, relation.Caution, "how jets this fast decay was hardly measured"),
				relation.Within("T0", 233.15, 473.15, relation.Outside, ""),
			},
			Sources:     []relation.Source{relation.Derived("isentropic flow of an ideal gas; equal to the expansibility of ISO 5167-3 and to the orifice table")},
			Uncertainty: relation.Uncertainty{Text: "1 % on top of the discharge coefficient", Share: 0.01},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("pg", 20000, "Pa"), relation.Val("pa", 101325, "Pa"), relation.Val("T0", 293.15, "K")},
				Result: relation.Val("u", 171.90, "m/s"), Digits: 5e-5,
			},
		},
		{
			ID:       "thrust",
			Title:    "the thrust of an outlet",
			Equation: "F = Cd A (Cv G u + p* - pa);  ideal, not choked: F/A = 2k/(k-1) pa [(p0/pa)^((k-1)/k) - 1]",
			Symbols: []relation.Symbol{
				pg, pa,
				relation.Sym("cv", "1", "velocity coefficient"),
				relation.Sym("F/A", "N/m2", "thrust per effective area"),
			},
			Limits:      []relation.Limit{relation.Within("cv", 0.9, 1, relation.Caution, "")},
			Sources:     []relation.Source{relation.Derived("momentum of the discharge")},
			Uncertainty: relation.Uncertainty{Text: "4 %", Share: 0.04},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("pg", 20000, "Pa"), relation.Val("pa", 101325, "Pa"), relation.Val("cv", 1, "1")},
				Result: relation.Val("F/A", 37461, "N/m2"), Digits: 5e-5,
			},
		},
		{
			ID:    "discharge-coefficient",
			Title: "the discharge coefficient of an outlet's edge",
			Equation: "rounded nozzle: 0.9965 - 6.53/sqrt(Re);  smooth slot: 1 - 0.05 mm/b, 0.3 to 3 mm\n" +
				"quarter round: 0.77;  square tube: 0.825\n" +
				"sharp edge: p0 - pa + f (C G)^2/rho0 = C (G u + p* - pa), f = 1/0.611 - 1/(2 0.611^2)",
			Symbols: []relation.Symbol{
				relation.Sym("b", "m", "whole slot gap"),
				relation.Sym("re", "1", "Reynolds number on bore or gap"),
				relation.Sym("r", "1", "ambient over plenum pressure"),
				relation.Sym("cd", "1", "discharge coefficient on the geometric area"),
			},
			Limits: []relation.Limit{
				relation.Within("re", 5e3, 1e6, relation.Outside, "give a measured coefficient"),
				relation.Within("b", 0.3e-3, 3e-3, relation.Outside, "give a measured coefficient"),
				relation.AtLeast("b", 0.5e-3, relation.Caution, "gap tolerance alone is 10 % of the flow"),
			},
			Sources: []relation.Source{
				relation.Cite("iso-5167-3", "long-radius nozzle, rewritten for the throat, small bore ratio", relation.Published),
				relation.Cite("iso-15377", "quarter-round edge", relation.Published),
				relation.Cite("jobson-1955", "method, with contraction 0.611", relation.Rederived),
				relation.Derived("slot: displacement thickness on lips of 2 to 5 mm"),
			},
			Uncertainty: relation.Uncertainty{Text: "3 % rounded or sharp, 4 to 5 % otherwise, 10 % for slots of 0.5 mm or as built"},
			Departs:     "the slot's values are joined to one formula without a step",
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("b", 1e-3, "m")},
				Result: relation.Val("cd", 0.95, "1"), Digits: 1e-9,
			},
		},
		{
			ID:       "orifice-table",
			Title:    "the free air flow of an orifice",
			Equation: "Q = m/rho, rho = 0.07494 lb/ft3 (1.2004 kg/m3: 14.7 psia, 70 degF), Cd = 1",
			Symbols: []relation.Symbol{
				relation.Sym("d", "m", "bore"), pg,
				relation.Sym("Q", "m3/s", "free air flow"),
			},
			Limits:      []relation.Limit{relation.AtMost("pg", 900e3, relation.Outside, "")},
			Sources:     []relation.Source{relation.Cite("orifice-table", "", relation.Published)},
			Uncertainty: relation.Uncertainty{Text: "0.7 % against the table; a real sharp leak passes 0.61 to 0.84 of it", Share: 0.007},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("d", 0.00635, "m"), relation.Val("pg", 689476, "Pa")},
				Result: relation.Val("Q", 0.04908, "m3/s"), Digits: 5e-3,
			},
		},
	}
}

func powerCards() []relation.Card {
	return []relation.Card{
		{
			ID:       "power-per-thrust",
			Title:    "the power for each newton of thrust",
			Equation: "blower: w_s/eta G/F; compressed air: specific power/rho_free G/F; w_s = cp T1 [(p2/p1)^((k-1)/k) - 1]; F = cv G u, with the excess pressure of a choked outlet added",
			Symbols: []relation.Symbol{
				relation.Sym("pg", "Pa", "pressure at the outlet above the room's"),
				relation.Sym("eta", "1", "overall efficiency of blower, drive and motor"),
				relation.Sym("T1", "K", "inlet temperature"),
				relation.Sym("cv", "1", "velocity coefficient"),
				relation.Sym("P/F", "W/N", "power per thrust"),
			},
			Limits: []relation.Limit{
				relation.Within("eta", 0.4, 0.75, relation.Caution, ""),
				relation.Within("pg", 2e3, 50e3, relation.Caution, ""),
				relation.Within("cv", 0.9, 1, relation.Caution, ""),
			},
			Sources:     []relation.Source{relation.Derived("isentropic work, discharge and thrust")},
			Uncertainty: relation.Uncertainty{Text: "that of the efficiency assumed"},
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("pg", 20000, "Pa"), relation.Val("eta", 0.6, "1"), relation.Val("T1", 293.15, "K"), relation.Val("cv", 0.97, "1"),
				},
				Result: relation.Val("P/F", 149, "W/N"), Digits: 5e-3,
			},
		},
		{
			ID:       "jet-sound",
			Title:    "the sound power of a free jet",
			Equation: "W = 1e-4 (u/c)^5 m u^2/2",
			Symbols: []relation.Symbol{
				relation.Sym("u_c", "1", "exit velocity over the room's speed of sound"),
				relation.Sym("u", "m/s", "exit velocity"),
				relation.Sym("c", "m/s", "speed of sound in the room"),
				relation.Sym("m", "kg/s", "mass flow"),
				relation.Sym("Lw", "dB", "sound power level over 1 pW, unweighted"),
			},
			Limits: []relation.Limit{
				relation.AtLeast("u_c", 0.4, relation.Outside, "the level is extrapolated"),
				relation.AtMost("u_c", 0.9, relation.Outside, "shock noise is not modelled"),
			},
			Sources:     []relation.Source{relation.Cite("zorumski-1982", "single circular jet, constants as in a public code, condensed", relation.Published)},
			Uncertainty: relation.Uncertainty{Text: "4 dB for a free, clean jet; 5 to 10 dB more as installed: measure"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("u", 177.67, "m/s"), relation.Val("c", 343.2, "m/s"), relation.Val("m", 0.021085, "kg/s")},
				Result: relation.Val("Lw", 91.0, "dB"), Digits: 2e-3,
			},
		},
		{
			ID:       "jet-sound-high",
			Title:    "an upper estimate of a jet's sound power",
			Equation: "W = 1e-4 M^3 m u^2/2",
			Symbols: []relation.Symbol{
				relation.Sym("mach", "1", "Mach number in the exit"),
				relation.Sym("u", "m/s", "exit velocity"),
				relation.Sym("m", "kg/s", "mass flow"),
				relation.Sym("Lw", "dB", "sound power level over 1 pW, unweighted"),
			},
			Limits:      []relation.Limit{relation.AtMost("mach", 1, relation.Outside, "shock noise is not modelled")},
			Sources:     []relation.Source{relation.Cite("iec-60534-8-3", "regime I, recovery factor 1, efficiency exponent -4", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "an upper estimate: made for throttling valves, 4 to 8 dB above a free jet"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("mach", 0.5139, "1"), relation.Val("u", 177.67, "m/s"), relation.Val("m", 0.021085, "kg/s")},
				Result: relation.Val("Lw", 96.5, "dB"), Digits: 2e-3,
			},
		},
		{
			ID:       "jet-sound-peak",
			Title:    "the frequency at which a jet is loudest",
			Equation: "f = 0.2 u/d",
			Symbols: []relation.Symbol{
				relation.Sym("u", "m/s", "exit velocity"),
				relation.Sym("d", "m", "bore or gap"),
				relation.Sym("f", "Hz", "peak frequency"),
			},
			Sources:     []relation.Source{relation.Cite("iec-60534-8-3", "peak frequency", relation.SecondHand)},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2", Factor: 2},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("u", 177.67, "m/s"), relation.Val("d", 0.019, "m")},
				Result: relation.Val("f", 1870, "Hz"), Digits: 5e-3,
			},
		},
	}
}
