package cost

import "leste/physics/relation"

// Cards returns the relations of money, sound and exhaust.
func Cards() []relation.Card {
	sym, val := relation.Sym, relation.Val
	cite := func(citation, where string, basis relation.Basis) []relation.Source {
		return []relation.Source{{Citation: citation, Where: where, Basis: basis}}
	}
	return []relation.Card{
		{
			ID: "yearly-cost", Title: "energy and money in a year",
			Equation: "E = h ((1-i) P_producing + i P_idle); cost = E price + P_peak demand + filters + belts + spares + maintenance",
			Symbols: []relation.Symbol{
				sym("h", "s", "the hours in a year"), sym("i", "1", "the share of them without containers"),
				sym("P", "W", "the power from the mains while producing"), sym("E", "J", "the energy in a year"),
			},
			Sources:     []relation.Source{relation.Derived("sum over the hours")},
			Uncertainty: relation.Uncertainty{Text: "that of powers and hours"},
			Example: relation.Example{
				Given:  []relation.Value{val("h", 3.6e6, "s"), val("i", 0, "1"), val("P", 3000, "W")},
				Result: val("E", 1.08e10, "J"), Digits: 1e-9,
			},
		},
		{
			ID: "present-value", Title: "the present value of yearly payments",
			Equation: "UPV = (1 - (1+d)^-N)/d; UPV* = (1+e)/(d-e) (1 - ((1+e)/(1+d))^N)",
			Symbols: []relation.Symbol{
				sym("d", "1", "the yearly discount rate"), sym("e", "1", "the yearly rise of the price"), sym("N", "1", "the years"),
				sym("UPV", "1", "the factor on the first year's payment"),
			},
			Sources: append(cite("NIST Handbook 135, Life-cycle costing manual", "", relation.Published),
				cite("ISO 15686-5, Life-cycle costing", "", relation.Published)...),
			Uncertainty: relation.Uncertainty{Text: "that of rates and prices"},
			Example: relation.Example{
				Given:  []relation.Value{val("d", 0.08, "1"), val("e", 0.02, "1"), val("N", 10, "1")},
				Result: val("UPV", 7.401285, "1"), Digits: 1e-7,
			},
		},
		{
			ID: "compressed-air-rival", Title: "compressed air for the same thrust",
			Equation: "P = p_s m/(rho_free (1 - leaks)), m from the thrust at the nozzles' pressure",
			Symbols: []relation.Symbol{
				sym("F", "N", "the thrust of the outlets"), sym("p_n", "Pa", "the pressure at the nozzles"),
				sym("p_s", "J/m3", "the compressor's power for each free-air flow"), sym("P", "W", "the compressor's power"),
			},
			Sources: []relation.Source{
				relation.Derived("equal momentum of the jets at the same distance"),
				{Citation: "US DOE, Improving compressed air system performance", Where: "leaks, control at part load", Basis: relation.SecondHand},
			},
			Uncertainty: relation.Uncertainty{Text: "15 % of the specific power; the pressure at the nozzles moves it more", Share: 0.15},
			Example: relation.Example{
				Given:  []relation.Value{val("F", 1, "N"), val("p_n", 4e5, "Pa"), val("p_s", 396e3, "J/m3")},
				Result: val("P", 837.7, "W"), Digits: 1e-4,
			},
		},
		{
			ID: "room-sound", Title: "the sound level at a place in a room",
			Equation: "Lp = Lw + 10 lg(Q/(4 pi r^2) + 4/R), R = S a/(1-a)",
			Symbols: []relation.Symbol{
				sym("Lw", "dB", "the sound power level, re 1 pW"), sym("Q", "1", "the directivity"), sym("r", "m", "the distance"),
				sym("S", "m2", "the surface of the room"), sym("a", "1", "its mean absorption"), sym("Lp", "dB", "the sound pressure level, re 20 uPa"),
			},
			Limits:      []relation.Limit{relation.AtLeast("r", 0.1, relation.Outside, "")},
			Sources:     []relation.Source{relation.Derived("direct and reverberant field; line of outlets by its view angle")},
			Uncertainty: relation.Uncertainty{Text: "3 dB"},
			Example: relation.Example{
				Given:  []relation.Value{val("Lw", 95, "dB"), val("Q", 2, "1"), val("r", 2, "m"), val("S", 900, "m2"), val("a", 0.1, "1")},
				Result: val("Lp", 84.02, "dB"), Digits: 1e-4,
			},
		},
		{
			ID: "noise-dose", Title: "the noise dose and daily exposure of a person",
			Equation: "T = 8 h/2^((L-90)/5), D = sum t/T; LEX = L + 10 lg(t/8 h)",
			Symbols: []relation.Symbol{
				sym("L", "dB", "the A-weighted level"), sym("t", "s", "the time in it"), sym("LEX", "dB", "the daily exposure"),
			},
			Sources: append(cite("29 CFR 1910.95", "table G-16", relation.Published),
				cite("Directive 2003/10/EC", "article 3", relation.Published)...),
			Uncertainty: relation.Uncertainty{Text: "that of the level"},
			Example: relation.Example{
				Given:  []relation.Value{val("L", 88, "dB"), val("t", 14400, "s")},
				Result: val("LEX", 84.99, "dB"), Digits: 1e-4,
			},
		},
		{
			ID: "exhaust-balance", Title: "the exhaust of an enclosure",
			Equation: "Q = Q_blower + v_in A_open",
			Symbols: []relation.Symbol{
				sym("Q_blower", "m3/s", "the blower's air"), sym("v_in", "m/s", "the inward speed"), sym("A_open", "m2", "the openings"), sym("Q", "m3/s", "the exhaust"),
			},
			Sources: []relation.Source{
				relation.Derived("balance of volume; entrained air goes round inside"),
				{Citation: "ACGIH, Industrial ventilation (2009)", Where: "inward speeds", Basis: relation.SecondHand},
			},
			Uncertainty: relation.Uncertainty{Text: "25 %", Share: 0.25},
			Example: relation.Example{
				Given:  []relation.Value{val("Q_blower", 0.25, "m3/s"), val("v_in", 1, "m/s"), val("A_open", 0.295, "m2")},
				Result: val("Q", 0.545, "m3/s"), Digits: 1e-9,
			},
		},
	}
}
