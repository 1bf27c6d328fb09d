package airsupply

import (
	"slices"
	"sync"

	"leste/physics/relation"
)

// Cards returns the relations of the air side.
func Cards() []relation.Card {
	return slices.Concat(pathCards(), outletCards(), machineCards(), driveCards())
}

// cards is the registry that results check their ranges against.
var cards = sync.OnceValue(func() relation.Registry {
	r, err := relation.New(Cards())
	if err != nil {
		panic("airsupply: " + err.Error())
	}
	return r
})

func source(citation, where string, basis relation.Basis) relation.Source {
	return relation.Source{Citation: citation, Where: where, Basis: basis}
}

var (
	sym    = relation.Sym
	val    = relation.Val
	crane  = source("Crane Co., Flow of fluids through valves, fittings and pipe, Technical Paper 410", "as a public library states it", relation.Published)
	idelch = source("Idelchik, Handbook of hydraulic resistance, 3rd edition", "chapter 7", relation.FromMemory)
)

func pathCards() []relation.Card {
	return []relation.Card{
		{
			ID: "duct-friction", Title: "the friction factor of a round duct",
			Equation: "1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f))) from Re 4000; 64/Re below 2000",
			Symbols: []relation.Symbol{
				sym("re", "1", "the Reynolds number on the bore"), sym("e_d", "1", "the roughness over the bore"),
				sym("f", "1", "the friction factor (Darcy)"), sym("dp_p", "1", "the pressure loss over the absolute pressure"),
			},
			Limits: []relation.Limit{
				relation.AtMost("re", 1e8, relation.Outside, ""),
				relation.AtMost("e_d", roughest, relation.Outside, "give a measured friction factor"),
				relation.AtMost("dp_p", 0.03, relation.Caution, "the density changes along the duct; a job with an air supply counts that"),
			},
			Sources: []relation.Source{
				source("Colebrook, Turbulent flow in pipes, Journal of the Institution of Civil Engineers 11 (1939)", "", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "5 %; hoses 50 %; between Re 2000 and 4000 uncertain", Share: 0.05},
			Departs:     "a cubic in the logarithm of the Reynolds number joins the two laws between 2000 and 4000",
			Example: relation.Example{
				Given:  []relation.Value{val("re", 1e5, "1"), val("e_d", 1e-3, "1")},
				Result: val("f", 0.0221745, "1"), Digits: 1e-5,
			},
		},
		{
			ID: "duct-loss", Title: "the loss of ducts and fittings in compressible flow",
			Equation: "dp0 = -(k/2) M^2 p0 K with K = f L/D + K_fittings, T0 constant",
			Symbols: []relation.Symbol{
				sym("mach", "1", "the Mach number"), sym("loss_share", "1", "the loss over the blower's pressure"),
				sym("v", "m/s", "the air speed"), sym("K", "1", "the loss coefficient"), sym("dp0", "Pa", "the loss of stagnation pressure"),
				sym("p0", "Pa", "the stagnation pressure"),
			},
			Limits: []relation.Limit{
				relation.AtMost("mach", 0.3, relation.Caution, "fitting losses are unsure there"),
				relation.AtMost("loss_share", 0.3, relation.Caution, "a branch takes a large share of the pressure"),
				relation.AtMost("v", 25, relation.Info, "faster than is usual for ducts"),
			},
			Sources: []relation.Source{
				source("Shapiro, The dynamics and thermodynamics of compressible fluid flow (1953)", "flow with friction in a duct of constant area", relation.FromMemory),
				relation.Derived("one step at the middle of each twentieth of the pressure reproduces the exact law within 0.005 %"),
			},
			Uncertainty: relation.Uncertainty{Text: "that of the coefficients: fittings 15 %, tees 30 %", Share: 0.15},
			Example: relation.Example{
				Given:  []relation.Value{val("K", 5, "1"), val("v", 50, "m/s"), val("p0", 122920, "Pa")},
				Result: val("dp0", 8412.5, "Pa"), Digits: 1e-4,
			},
		},
		{
			ID: "fitting-loss", Title: "the loss coefficients of bends, mitres, reducers, enlargements, entries and dampers",
			Equation: "tables and formulas on the velocity head of the bore named; enlargement (1 - A1/A2)^2 times a factor of the angle",
			Symbols: []relation.Symbol{
				sym("re", "1", "the Reynolds number on the bore"), sym("r_d", "1", "the bend radius over the bore"), sym("K", "1", "the loss coefficient"),
			},
			Limits: []relation.Limit{
				relation.AtLeast("re", 1e4, relation.Caution, "coefficients grow there"),
				relation.Within("r_d", 0.75, 5, relation.Caution, ""),
			},
			Sources: []relation.Source{
				source("Rennels and Hudson, Pipe flow (2012)", "", relation.Published), crane,
				source("Miller, Internal flow systems, 2nd edition (1990)", "", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "15 %; tight bends of small angle 30 %; dampers 50 %; two bends within four bores 30 %", Share: 0.15},
			Example:     relation.Example{Given: []relation.Value{val("r_d", 1.5, "1")}, Result: val("K", 0.23, "1"), Digits: 1e-9},
		},
		{
			ID: "tee-loss", Title: "the loss coefficients of tees",
			Equation: "side: A (1 + r^2 - 2 r cos a) or 1 + 0.3 r^2; run: 2 (2q-1) q^2; joining: C (1 + r^2 - 2 (1-q)^2 - F q^2 A_c/A_b)",
			Symbols: []relation.Symbol{
				sym("q", "1", "the side leg's share of the flow"), sym("bore", "1", "the side bore over the run's"), sym("K", "1", "the loss coefficient"),
			},
			Sources:     []relation.Source{crane, idelch},
			Uncertainty: relation.Uncertainty{Text: "30 %; compressibility above Mach 0.1 is not in the data", Share: 0.3},
			Departs:     "blended linearly between bore ratios 0.60 and 0.75, 0.95 and 1, and between 60 and 90 degrees, where published formulas do not meet",
			Example: relation.Example{
				Given:  []relation.Value{val("q", 0.5, "1"), val("bore", 1, "1")},
				Result: val("K", 1.155625, "1"), Digits: 1e-9,
			},
		},
		{
			ID: "wye-loss", Title: "the loss coefficient of a symmetrical wye",
			Equation: "1 + r^2 - 2 r cos(0.75 a); Idelchik: 1 + r^2 - 2 r cos a - K' r^2",
			Symbols: []relation.Symbol{
				sym("a", "rad", "half the angle between the legs"), sym("r", "1", "the leg's velocity over the common one"), sym("K", "1", "the loss coefficient"),
			},
			Sources: []relation.Source{
				source("Hager, An approximate treatment of flow in branches and bends, Proc. IMechE 198C (1984)", "", relation.FromMemory), idelch,
				relation.Derived("joining legs and the condition for one even split, from the balance of momentum"),
			},
			Uncertainty: relation.Uncertainty{Text: "30 %", Share: 0.3},
			Example: relation.Example{
				Given:  []relation.Value{val("a", 0.5235988, "rad"), val("r", 0.8888889, "1")},
				Result: val("K", 0.1476710, "1"), Digits: 1e-6,
			},
		},
		{
			ID: "filter-drop", Title: "the drop of an inlet filter",
			Equation: "dp = a (mu/mu_s) Q + b (rho/rho_s) Q^2, times the loading",
			Symbols:  []relation.Symbol{sym("Q", "m3/s", "the flow at the ambient state"), sym("dp", "Pa", "the pressure drop")},
			Sources: []relation.Source{
				relation.Derived("a viscous and an inertial part through the maker's points"), relation.CommonPractice("the shares of the two parts where one point is known"),
			},
			Uncertainty: relation.Uncertainty{Text: "10 % within the points", Share: 0.1},
			Example:     relation.Example{Given: []relation.Value{val("Q", 0.1, "m3/s")}, Result: val("dp", 370, "Pa"), Digits: 1e-9},
		},
	}
}

func outletCards() []relation.Card {
	return []relation.Card{{
		ID: "plenum", Title: "the flow along an outlet that is fed from one end",
		Equation: "A dV = -Cd t v dx, dp = -r rho V dV - (f/(2 D)) rho V^2 dx",
		Symbols: []relation.Symbol{
			sym("m", "1", "the effective opening over the plenum's cross-section"), sym("r", "1", "the share of the velocity head regained"),
			sym("n", "1", "the greatest less the least outlet velocity, over the greatest"),
		},
		Limits: []relation.Limit{
			relation.AtMost("m", mostOpening, relation.Outside, "no claim about evenness is made; ask for a test"),
			relation.Within("r", 0.6, 1.2, relation.Caution, ""),
		},
		Sources: []relation.Source{
			relation.Derived("mass and momentum along the plenum, marched from the dead end"),
			source("Bajura and Jones, Flow distribution manifolds, Journal of Fluids Engineering 98 (1976)", "regain", relation.Published),
			source("Wang, Journal of Engineering for Gas Turbines and Power 123 (2001) 472", "where the pressure has a minimum", relation.Published),
		},
		Uncertainty: relation.Uncertainty{Text: "30 % of the difference; regain from 0.8 to 1.2 is shown as its band"},
		Example: relation.Example{
			Given:  []relation.Value{val("m", 0.2, "1"), val("r", 1, "1")},
			Result: val("n", 0.0199334, "1"), Digits: 1e-5,
		},
	}}
}

// leastReserve is the least flow over the least allowed one, less one, without a warning.
const leastReserve = 0.10

func machineCards() []relation.Card {
	return []relation.Card{
		{
			ID: "blower-similarity", Title: "the curve of a blower at another speed and inlet state",
			Equation: "w = N^2 w_s(Q/N), p2 = p1 (1 + w/(cp T1))^(cp/R), P = N^3 P(Q/N) rho1/rho_s",
			Symbols: []relation.Symbol{
				sym("N", "1", "the speed over the rated speed"), sym("N_side", "1", "the speed of a side-channel machine over its rated speed"), sym("w", "J/kg", "the isentropic work"),
				sym("reserve", "1", "the flow over the least flow, less one"), sym("dp", "Pa", "the pressure rise"),
			},
			Limits: []relation.Limit{
				relation.Within("N", slowest, 1.2, relation.Outside, ""),
				relation.Within("N_side", 0.8, 1.2, relation.Outside, "ask its maker for the curve at that speed"),
				relation.AtMost("w", 25000, relation.Caution, "more than a fan by ISO 13348 does; the codes of turbo-compressors apply"),
				relation.AtLeast("reserve", leastReserve, relation.Caution, "the blower runs close to its least flow"),
			},
			Sources: []relation.Source{
				source("ISO 5801, Fans, performance testing", "similarity", relation.FromMemory),
				source("Fritsch and Carlson, Monotone piecewise cubic interpolation, SIAM Journal on Numerical Analysis 17 (1980)", "between the points", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "the tolerance of the curve: 5 % of the pressure", Share: 0.05},
			Departs:     "side-channel machines are scaled alike: their pressure too comes from the square of the wheel's speed, but it builds up along the channel in many turns, so that similarity is trusted in a narrower band",
			Example: relation.Example{
				Given:  []relation.Value{val("N", 0.8, "1")},
				Result: val("dp", 12502.6, "Pa"), Digits: 3e-4,
			},
		},
		{
			ID: "isentropic-compression", Title: "the work of compressing air",
			Equation: "P = m cp T1 ((p2/p1)^((k-1)/k) - 1)/eta, T2 = T1 + P/(m cp)",
			Symbols: []relation.Symbol{
				sym("p2_p1", "1", "the outlet over the inlet pressure"), sym("T1", "K", "the inlet temperature"),
				sym("eta", "1", "the isentropic efficiency"), sym("w", "J/kg", "the work for each kg at an efficiency of 1"),
			},
			Limits:      []relation.Limit{relation.Within("p2_p1", 1, 4, relation.Caution, "a blower does not reach it in one stage")},
			Sources:     []relation.Source{relation.Derived("first law and ideal gas")},
			Uncertainty: relation.Uncertainty{Text: "that of the efficiency; the air leaves up to 5 K cooler than adiabatic"},
			Example: relation.Example{
				Given:  []relation.Value{val("p2_p1", 1.19738, "1"), val("T1", 293.15, "K")},
				Result: val("w", 15555.4, "J/kg"), Digits: 1e-3,
			},
		},
		{
			ID: "surface-temperature", Title: "the burn threshold of a bare metal surface",
			Equation: "the duct's skin is as warm as its air",
			Symbols:  []relation.Symbol{sym("t_c", "degC", "the air in the duct")},
			Limits: []relation.Limit{
				relation.AtMost("t_c", 43, relation.Info, "too hot to hold for long"),
				relation.AtMost("t_c", 51, relation.Caution, "it burns on touch; guard or insulate it within reach"),
			},
			Sources:     []relation.Source{source("ISO 13732-1, Ergonomics of the thermal environment, Hot surfaces", "to be confirmed against the standard", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "thresholds, no limits; a few kelvin"},
			Example:     relation.Example{Given: []relation.Value{val("t_c", 50, "degC")}, Result: val("t_c", 50, "degC"), Digits: 1e-9},
		},
	}
}

func driveCards() []relation.Card {
	return []relation.Card{
		{
			ID: "motor-efficiency", Title: "the efficiency of a motor at a load",
			Equation: "eta = x/(x + a + b x^2), a and b equal at three quarters of full load, full load from the class",
			Symbols: []relation.Symbol{
				sym("x", "1", "the load over the rated power"), sym("eta_n", "1", "the efficiency at full load"), sym("eta", "1", "the efficiency"),
			},
			Limits: []relation.Limit{
				relation.AtLeast("x", 0.25, relation.Caution, "the loss split is not known there"),
				relation.AtMost("x", 1, relation.Caution, "the motor is overloaded"),
			},
			Sources: []relation.Source{
				source("IEC 60034-30-1, Efficiency classes of line operated AC motors", "full load", relation.Published),
				source("10 CFR 431.25", "US premium, full load", relation.Published),
				relation.Derived("constant and squared losses, compared with US DOE part-load tables"),
			},
			Uncertainty: relation.Uncertainty{Text: "1 point; the tolerance of IEC 60034-1 is 15 % of the losses"},
			Example: relation.Example{
				Given:  []relation.Value{val("x", 0.5, "1"), val("eta_n", 0.91534, "1")},
				Result: val("eta", 0.9122, "1"), Digits: 1e-4,
			},
		},
		{
			ID: "belt-efficiency", Title: "the efficiency of a V-belt drive",
			Equation:    "eta = 0.96 (H/(H + 1.64 kW))^0.05",
			Symbols:     []relation.Symbol{sym("H", "W", "the power of the blower's shaft"), sym("eta", "1", "the efficiency")},
			Limits:      []relation.Limit{relation.AtLeast("H", 500, relation.Caution, "")},
			Sources:     []relation.Source{source("AMCA 207, Fan system efficiency", "as the EnergyPlus engineering reference states it", relation.SecondHand)},
			Uncertainty: relation.Uncertainty{Text: "2 points"},
			Example:     relation.Example{Given: []relation.Value{val("H", 5500, "W")}, Result: val("eta", 0.9476, "1"), Digits: 1e-4},
		},
		{
			ID: "inverter-efficiency", Title: "the efficiency of a variable-frequency drive",
			Equation:    "eta = a x/(b + x) + c x, coefficients by motor size",
			Symbols:     []relation.Symbol{sym("x", "1", "the motor's input over its input at full load"), sym("eta", "1", "the efficiency")},
			Limits:      []relation.Limit{relation.AtLeast("x", 0.1, relation.Caution, "")},
			Sources:     []relation.Source{source("US DOE, Adjustable speed drive part-load efficiency (2008)", "as the EnergyPlus engineering reference states it", relation.SecondHand)},
			Uncertainty: relation.Uncertainty{Text: "1 point"},
			Example:     relation.Example{Given: []relation.Value{val("x", 0.5, "1")}, Result: val("eta", 0.9236, "1"), Digits: 1e-4},
		},
	}
}
