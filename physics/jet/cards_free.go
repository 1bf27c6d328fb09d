package jet

import (
	"slices"

	"leste/physics/relation"
)

func freeCards() []relation.Card {
	u := relation.Sym("u", "m/s", "velocity on the centre of the jet")
	return []relation.Card{
		{
			ID:       "plane-jet",
			Title:    "the velocity of a slot jet",
			Equation: "u = min(u0, 2.5 sqrt(m/(rho x))), half-width 0.105 x, profile exp(-ln2 (y/half-width)^2)",
			Symbols: []relation.Symbol{
				symMomentum(), symDensity(), relation.Sym("x", "m", "distance from the lip"), symReB(),
				relation.Sym("x_b", "1", "distance over gap"), relation.Sym("l_b", "1", "slot length over gap"), u,
			},
			Limits: slices.Concat(planeTurbulent(), []relation.Limit{
				relation.AtMost("x_b", 500, relation.Outside, ""),
				relation.AtLeast("l_b", 20, relation.Caution, "the slot is short: its ends count"),
			}),
			Sources: []relation.Source{
				relation.Cite("rajaratnam-1976", "plane jets, decay 2.47", relation.FromMemory),
				relation.Cite("gutmark-wygnanski-1976", "spreading 0.10 to 0.11", relation.SecondHand),
				relation.Derived("momentum conserved with a Gaussian profile"),
			},
			Uncertainty: relation.Uncertainty{Text: "8 %; published decay constants lie between 2.3 and 2.6", Share: 0.08},
			Departs:     "in thrust rather than gap and exit velocity, no virtual origin",
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("m", 35.5, "N/m"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("x", 0.1, "m")},
				Result: relation.Val("u", 43.0, "m/s"), Digits: 2e-3,
			},
		},
		{
			ID:       "round-jet",
			Title:    "the velocity of a round jet",
			Equation: "u = min(u0, 6.77 sqrt(m/rho)/x), half-width 0.095 x, profile exp(-ln2 (y/half-width)^2)",
			Symbols: []relation.Symbol{
				symThrust(), symDensity(), relation.Sym("x", "m", "distance from the mouth"), symReD(),
				relation.Sym("x_d", "1", "distance over bore"), u,
			},
			Limits: slices.Concat(roundTurbulent(), []relation.Limit{
				relation.AtMost("x_d", 75, relation.Outside, ""),
			}),
			Sources: []relation.Source{
				relation.Cite("hussein-1994", "decay 5.8, spreading 0.094", relation.SecondHand),
				relation.Cite("pope-2000", "table 5.1", relation.FromMemory),
				relation.Derived("momentum conserved with a Gaussian profile"),
			},
			Uncertainty: relation.Uncertainty{Text: "8 % beyond 8 bores; near 6 to 8 bores up to 8 % high", Share: 0.08},
			Departs:     "in thrust rather than bore and exit velocity, no virtual origin",
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("m", 17.43, "N"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("x", 0.46, "m")},
				Result: relation.Val("u", 56.1, "m/s"), Digits: 2e-3,
			},
		},
		{
			ID:       "reach",
			Title:    "how far a jet keeps a velocity",
			Equation: "slot: x = 2.5^2 m/(rho u^2);  nozzle: x = 6.77 sqrt(m/rho)/u",
			Symbols: []relation.Symbol{
				symMomentum(), symDensity(), relation.Sym("u", "m/s", "velocity wanted"),
				relation.Sym("x", "m", "distance"),
			},
			Sources:     []relation.Source{relation.Derived("the slot and round jets solved for distance")},
			Uncertainty: relation.Uncertainty{Text: "16 % for a slot, 8 % for a nozzle", Share: 0.16},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("m", 35.5, "N/m"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("u", 43, "m/s")},
				Result: relation.Val("x", 0.1, "m"), Digits: 1e-3,
			},
		},
		{
			ID:       "slot-ends",
			Title:    "what the ends of a slot take from its jet",
			Equation: "E = [erf(A z) + erf(A (L - z))]/2, A = sqrt(2 ln2)/(0.105 x); the momentum is multiplied by E",
			Symbols: []relation.Symbol{
				relation.Sym("x", "m", "distance"), relation.Sym("z", "m", "place along the slot"),
				relation.Sym("l", "m", "slot length"), relation.Sym("E", "1", "share of the momentum left"),
			},
			Sources: []relation.Source{
				relation.Derived("momentum flux spreads as a Gaussian"),
				relation.Cite("pani-2009", "superposition supported by experiment", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "10 %; far beyond the slot's length 7 % low in velocity", Share: 0.1},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("x", 0.05, "m"), relation.Val("z", 0, "m"), relation.Val("l", 0.6, "m")},
				Result: relation.Val("E", 0.5, "1"), Digits: 1e-9,
			},
		},
		{
			ID:    "nozzle-row",
			Title: "the jets of a row of nozzles",
			Equation: "u^2 = 0.937 (2 ln2/pi) m/(rho (0.095 x)^2) sum exp(-2 ln2 (z_i/(0.095 x))^2)\n" +
				"separate up to x = 5 s, one plane jet from x = 8 s, blended by smoothstep between",
			Symbols: []relation.Symbol{
				symThrust(), symDensity(), relation.Sym("x", "m", "distance"), relation.Sym("s", "m", "spacing of the nozzles"),
				relation.Sym("x_s", "1", "distance over spacing"), u,
			},
			Limits: []relation.Limit{
				relation.AtLeast("x_s", 8, relation.Info, "the jets have not merged"),
				relation.AtLeast("x_s", 5, relation.Caution, "the jets are separate and wipe in stripes"),
			},
			Sources: []relation.Source{
				relation.Derived("superposition of momentum flux, matched to the single jet"),
				relation.Cite("pani-2009", "superposition supported by experiment", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "10 % merged, 15 % while merging", Share: 0.1},
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("m", 4.015, "N"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("x", 0.46, "m"), relation.Val("s", 0.025, "m"),
				},
				Result: relation.Val("u", 43.69, "m/s"), Digits: 5e-3,
			},
		},
		{
			ID:       "plane-jet-temperature",
			Title:    "the temperature of a slot jet",
			Equation: "(T - Ta)/(T0 - Ta) = min(1, 0.9 u/u0), u/u0 not capped, T0 in the plenum",
			Symbols: []relation.Symbol{
				relation.Sym("u_u0", "1", "velocity over exit velocity, not capped"),
				relation.Sym("theta", "1", "share of the excess temperature or moisture"),
			},
			Sources:     []relation.Source{relation.Derived("enthalpy conserved, thermal width 1.2 to 1.4 times the velocity's")},
			Uncertainty: relation.Uncertainty{Text: "15 %", Share: 0.15},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("u_u0", 0.25, "1")},
				Result: relation.Val("theta", 0.225, "1"), Digits: 1e-9,
			},
		},
		{
			ID:       "round-jet-temperature",
			Title:    "the temperature of a round jet",
			Equation: "(T - Ta)/(T0 - Ta) = min(1, 0.85 u/u0), u/u0 not capped, T0 in the plenum",
			Symbols: []relation.Symbol{
				relation.Sym("u_u0", "1", "velocity over exit velocity, not capped"),
				relation.Sym("theta", "1", "share of the excess temperature or moisture"),
			},
			Sources:     []relation.Source{relation.Derived("enthalpy conserved, thermal width 1.2 times the velocity's; 0.755 at 1.4 times")},
			Uncertainty: relation.Uncertainty{Text: "15 %", Share: 0.15},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("u_u0", 0.4, "1")},
				Result: relation.Val("theta", 0.34, "1"), Digits: 1e-9,
			},
		},
	}
}
