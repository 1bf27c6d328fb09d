package air

import "leste/physics/relation"

func transferCards() []relation.Card {
	return append([]relation.Card{
		{
			ID:       "latent-heat",
			Title:    "the heat of evaporation of water",
			Equation: "hfg = 2.501e6 - 2326 t, t in degC",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "water temperature"),
				relation.Sym("hfg", "J/kg", "heat of evaporation"),
			},
			Limits:      []relation.Limit{relation.Within("T", 273.15, 333.15, relation.Caution, "")},
			Sources:     []relation.Source{relation.Derived("straight line through the steam tables")},
			Uncertainty: relation.Uncertainty{Text: "0.2 % up to 60 degC", Share: 0.002},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 298.15, "K")},
				Result: relation.Val("hfg", 2442850, "J/kg"), Digits: 1e-5,
			},
		},
		{
			ID:       "mass-transfer",
			Title:    "mass transfer from heat transfer",
			Equation: "km = h/(rho cp Le^(2/3)), Le = thermal over vapour diffusivity",
			Symbols: []relation.Symbol{
				relation.Sym("h", "W/(m2 K)", "heat transfer coefficient"),
				relation.Sym("T", "K", "film temperature"),
				relation.Sym("p", "Pa", "absolute pressure"),
				relation.Sym("km", "m/s", "mass transfer coefficient"),
			},
			Limits:      []relation.Limit{relation.Within("T", 263.15, 333.15, relation.Outside, "frost, or vapour that is no longer dilute")},
			Sources:     []relation.Source{relation.Cite("chilton-colburn-1934", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "5 % on top of the heat transfer coefficient", Share: 0.05},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("h", 20, "W/(m2 K)"), relation.Val("T", 298.15, "K"), relation.Val("p", 101325, "Pa")},
				Result: relation.Val("km", 0.0183, "m/s"), Digits: 1e-2,
			},
		},
		{
			ID:       "evaporation-flux",
			Title:    "evaporation and condensation",
			Equation: "j = km p/(Rv Tf) ln[(p - pv)/(p - ps(Ts))], Tf the mean of air and surface temperature",
			Symbols: []relation.Symbol{
				relation.Sym("km", "m/s", "mass transfer coefficient"),
				relation.Sym("T", "K", "air temperature"),
				relation.Sym("Ts", "K", "surface temperature"),
				relation.Sym("pv", "Pa", "vapour pressure in the air"),
				relation.Sym("p", "Pa", "absolute pressure"),
				relation.Sym("j", "kg/(m2 s)", "mass flux, positive leaving the surface"),
			},
			Limits: []relation.Limit{
				relation.Within("Ts", 273.15, 333.15, relation.Outside, "frost or near boiling"),
				relation.AtLeast("Ts", 273.15, relation.Stop, "frost is not calculated"),
			},
			Sources:     []relation.Source{relation.Derived("Stefan flow through a stagnant film")},
			Uncertainty: relation.Uncertainty{Text: "40 %, nearly all of it from the heat transfer coefficient", Share: 0.4},
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("km", 0.0183, "m/s"), relation.Val("T", 298.15, "K"), relation.Val("Ts", 298.15, "K"),
					relation.Val("pv", 1584.6, "Pa"), relation.Val("p", 101325, "Pa"),
				},
				Result: relation.Val("j", 2.158e-4, "kg/(m2 s)"), Digits: 1e-3,
			},
		},
		{
			ID:       "surface-balance",
			Title:    "the temperature of a wet wall",
			Equation: "h (Ta - Ts) + U (Tp - Ts) = j(km, Ts) hfg(Ts)",
			Symbols: []relation.Symbol{
				relation.Sym("h", "W/(m2 K)", "heat transfer coefficient of the air"),
				relation.Sym("km", "m/s", "mass transfer coefficient: of relation mass-transfer unless given"),
				relation.Sym("U", "W/(m2 K)", "heat transfer coefficient from film to product"),
				relation.Sym("Ta", "K", "air temperature"),
				relation.Sym("Tp", "K", "product temperature"),
				relation.Sym("RH", "1", "relative humidity of the air"),
				relation.Sym("Ts", "K", "surface temperature"),
			},
			Limits:      []relation.Limit{relation.AtLeast("Ts", 273.15, relation.Stop, "frost is not calculated")},
			Sources:     []relation.Source{relation.Derived("steady energy balance of the surface")},
			Uncertainty: relation.Uncertainty{Text: "1 K"},
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("h", 12, "W/(m2 K)"), relation.Val("km", 0.01105, "m/s"), relation.Val("U", 300, "W/(m2 K)"),
					relation.Val("Ta", 301.15, "K"), relation.Val("Tp", 277.15, "K"), relation.Val("RH", 0.65, "1"),
				},
				Result: relation.Val("Ts", 279.09, "K"), Digits: 1e-4,
			},
		},
	}, heatCards()...)
}

func heatCards() []relation.Card {
	martin := func(where string, basis relation.Basis) []relation.Source {
		return []relation.Source{relation.Cite("martin-1977", where, basis)}
	}
	re := relation.Sym("re", "1", "Reynolds number")
	pr := relation.Sym("pr", "1", "Prandtl number")
	nu := relation.Sym("nu", "1", "Nusselt number")
	hd := relation.Sym("h_d", "1", "distance over bore")
	hw := relation.Sym("h_w", "1", "distance over gap")
	return []relation.Card{
		{
			ID:       "heat-single-nozzle",
			Title:    "heat transfer under one round jet",
			Equation: "Nu/Pr^0.42 = G 2 sqrt(Re (1 + 0.005 Re^0.55)), G = 2 a (1 - 2.2 a)/(1 + 0.2 (H/D - 6) a), a = D/(2 r)",
			Symbols:  []relation.Symbol{re, pr, hd, relation.Sym("r_d", "1", "radius over bore"), nu},
			Limits: []relation.Limit{
				relation.Within("re", 2000, 4e5, relation.Outside, ""),
				relation.Within("h_d", 2, 12, relation.Outside, "extrapolated"),
				relation.Within("r_d", 2.5, 7.5, relation.Outside, ""),
			},
			Sources:     martin("single round nozzle, as in three public codes", relation.SecondHand),
			Uncertainty: relation.Uncertainty{Text: "25 %; a factor of 1.5 outside the range", Share: 0.25},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 37760, "1"), relation.Val("pr", 0.707, "1"), relation.Val("h_d", 6, "1"), relation.Val("r_d", 5, "1")},
				Result: relation.Val("nu", 85.25, "1"), Digits: 2e-4,
			},
		},
		{
			ID:       "heat-single-slot",
			Title:    "heat transfer under one slot jet",
			Equation: "Nu/Pr^0.42 = 3.06/(x/W + H/W + 2.78) Re^m, m = 0.695 - 1/(x/(2W) + (H/(2W))^1.33 + 3.06); Nu, Re on 2W",
			Symbols:  []relation.Symbol{re, pr, hw, relation.Sym("x_w", "1", "half-length averaged over the gap"), nu},
			Limits: []relation.Limit{
				relation.Within("re", 3000, 9e4, relation.Outside, ""),
				relation.Within("h_w", 2, 20, relation.Outside, "extrapolated"),
				relation.Within("x_w", 4, 50, relation.Outside, ""),
			},
			Sources:     martin("single slot, as in two public codes", relation.SecondHand),
			Uncertainty: relation.Uncertainty{Text: "25 %; a factor of 1.5 outside the range", Share: 0.25},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 18880, "1"), relation.Val("pr", 0.707, "1"), relation.Val("h_w", 5, "1"), relation.Val("x_w", 10, "1")},
				Result: relation.Val("nu", 58.98, "1"), Digits: 2e-4,
			},
		},
		{
			ID:       "heat-nozzle-field",
			Title:    "heat transfer under a field of round jets",
			Equation: "Nu/Pr^0.42 = K G Re^(2/3)/2, K = [1 + (H/D a/0.6)^6]^-0.05, G as for one jet, a = sqrt(pi)/2 D/s",
			Symbols:  []relation.Symbol{re, pr, hd, relation.Sym("s_d", "1", "spacing over bore"), nu},
			Limits: []relation.Limit{
				relation.Within("re", 2000, 1e5, relation.Outside, ""),
				relation.Within("h_d", 2, 12, relation.Outside, "extrapolated"),
				relation.Within("s_d", 4.43, 14.01, relation.Outside, ""),
			},
			Sources:     martin("array of round nozzles", relation.FromMemory),
			Uncertainty: relation.Uncertainty{Text: "15 %; a factor of 1.5 outside the range", Share: 0.15},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 25173, "1"), relation.Val("pr", 0.707, "1"), relation.Val("h_d", 4, "1"), relation.Val("s_d", 6, "1")},
				Result: relation.Val("nu", 76.18, "1"), Digits: 2e-4,
			},
		},
		{
			ID:       "heat-slot-field",
			Title:    "heat transfer under a field of slots",
			Equation: "Nu/Pr^0.42 = (2/3) A0^0.75 [2 Re/(A/A0 + A0/A)]^(2/3), A0 = [60 + 4 (H/(2W) - 2)^2]^-0.5, A = W/s; Nu, Re on 2W",
			Symbols:  []relation.Symbol{re, pr, hw, relation.Sym("s_w", "1", "spacing over gap"), nu},
			Limits: []relation.Limit{
				relation.Within("re", 1500, 4e4, relation.Outside, ""),
				relation.Within("h_w", 2, 80, relation.Outside, "extrapolated"),
				relation.AtMost("s_w", 125, relation.Outside, ""),
			},
			Sources:     martin("array of slots", relation.FromMemory),
			Uncertainty: relation.Uncertainty{Text: "15 %; a factor of 1.5 outside the range", Share: 0.15},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 15104, "1"), relation.Val("pr", 0.707, "1"), relation.Val("h_w", 10, "1"), relation.Val("s_w", 50, "1")},
				Result: relation.Val("nu", 33.21, "1"), Digits: 2e-4,
			},
		},
		{
			ID:       "heat-slot-line",
			Title:    "heat transfer on the impingement line of a slot jet",
			Equation: "Nu = 1.2 Re^0.58 (H/W)^-0.62; Nu, Re on W",
			Symbols:  []relation.Symbol{re, hw, nu},
			Limits: []relation.Limit{
				relation.Within("re", 2000, 5e4, relation.Outside, ""),
				relation.Within("h_w", 14, 60, relation.Outside, "extrapolated"),
			},
			Sources:     []relation.Source{relation.Cite("gardon-akfirat-1966", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "25 %; a factor of 1.5 outside the range", Share: 0.25},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 10699, "1"), relation.Val("h_w", 50, "1")},
				Result: relation.Val("nu", 23.06, "1"), Digits: 3e-4,
			},
		},
		{
			ID:       "heat-cylinder",
			Title:    "heat transfer of a cylinder across a stream",
			Equation: "Nu = 0.3 + 0.62 Re^0.5 Pr^(1/3)/[1 + (0.4/Pr)^(2/3)]^0.25 [1 + (Re/282000)^(5/8)]^0.8",
			Symbols:  []relation.Symbol{re, pr, relation.Sym("re_pr", "1", "Reynolds times Prandtl number"), nu},
			Limits: []relation.Limit{
				relation.AtLeast("re_pr", 0.2, relation.Outside, ""),
			},
			Sources:     []relation.Source{relation.Cite("churchill-bernstein-1977", "as in a public code and a textbook example", relation.SecondHand)},
			Uncertainty: relation.Uncertainty{Text: "a lower estimate in turbulent air: up to half as much again"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 6071, "1"), relation.Val("pr", 0.7, "1")},
				Result: relation.Val("nu", 40.63708594, "1"), Digits: 1e-8,
			},
		},
	}
}
