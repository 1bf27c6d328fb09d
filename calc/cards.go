package calc

import (
	"sync"

	"leste/physics"
	"leste/physics/relation"
)

// Relations returns every relation an answer may name: those of the rooms of physics and those of the air
// path.
func Relations() relation.Registry { return relations() }

var relations = sync.OnceValue(func() relation.Registry {
	r, err := relation.New(physics.Cards().All(), pathCards())
	if err != nil {
		panic("calc: " + err.Error())
	}
	return r
})

// pathCards describe the relations of the air path that the topics use.
func pathCards() []relation.Card {
	re := relation.Sym("re", "1", "Reynolds number on the bore")
	return []relation.Card{
		{
			ID: "duct-friction", Title: "the friction factor of a round duct",
			Equation: "1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f))) from Re 4000; 64/Re below 2000; dp = f L/D rho u^2/2",
			Symbols: []relation.Symbol{
				re, relation.Sym("e_d", "1", "roughness over bore"), relation.Sym("f", "1", "friction factor (Darcy)"),
				relation.Sym("dp_p", "1", "pressure loss over absolute pressure"),
			},
			Limits: []relation.Limit{
				relation.AtMost("re", 1e8, relation.Outside, ""),
				relation.AtMost("e_d", 0.05, relation.Outside, ""),
				relation.AtMost("dp_p", 0.03, relation.Caution, "the density changes along the duct; a job with an air supply counts that"),
			},
			Sources: []relation.Source{{
				Citation: "Colebrook, Turbulent flow in pipes, Journal of the Institution of Civil Engineers 11 (1939)", Basis: relation.Published,
			}},
			Uncertainty: relation.Uncertainty{Text: "5 %, hoses 50 %", Share: 0.05},
			Departs:     "a cubic in the logarithm of the Reynolds number joins the two laws between 2000 and 4000",
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("re", 1e5, "1"), relation.Val("e_d", 1e-3, "1")},
				Result: relation.Val("f", 0.02217, "1"), Digits: 1e-3,
			},
		},
		{
			ID: "plenum", Title: "the flow along an outlet that is fed from one end",
			Equation: "A dV = -Cd t v dx, dp = -r rho V dV - (f/(2 D)) rho V^2 dx",
			Symbols: []relation.Symbol{
				relation.Sym("m", "1", "effective opening over the plenum's cross-section"),
				relation.Sym("r", "1", "share of the velocity head regained"),
				relation.Sym("n", "1", "greatest less least outlet velocity, over the greatest"),
			},
			Limits: []relation.Limit{
				relation.AtMost("m", 0.8, relation.Outside, "no claim about evenness is made; ask for a test"),
				relation.Within("r", 0.6, 1.2, relation.Caution, ""),
			},
			Sources: []relation.Source{
				relation.Derived("mass and momentum along the plenum, marched from the dead end"),
				{Citation: "Bajura and Jones, Flow distribution manifolds, Journal of Fluids Engineering 98 (1976)", Where: "regain", Basis: relation.Published},
			},
			Uncertainty: relation.Uncertainty{Text: "regain from 0.8 to 1.2 changes the difference by about a third"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("m", 0.2, "1"), relation.Val("r", 1, "1")},
				Result: relation.Val("n", 0.0199334, "1"), Digits: 1e-5,
			},
		},
		{
			ID: "isentropic-compression", Title: "the work of compressing air",
			Equation: "P = m cp T1 ((p2/p1)^((k-1)/k) - 1)/eta, T2 = T1 + T1 ((p2/p1)^((k-1)/k) - 1)/eta",
			Symbols: []relation.Symbol{
				relation.Sym("p2_p1", "1", "outlet over inlet pressure"), relation.Sym("T1", "K", "inlet temperature"),
				relation.Sym("eta", "1", "isentropic efficiency"), relation.Sym("w", "J/kg", "work for each kg at an efficiency of 1"),
			},
			Limits:      []relation.Limit{relation.Within("p2_p1", 1, 4, relation.Caution, "a blower does not reach it in one stage")},
			Sources:     []relation.Source{relation.Derived("first law and ideal gas")},
			Uncertainty: relation.Uncertainty{Text: "that of the efficiency"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("p2_p1", 1.19738, "1"), relation.Val("T1", 293.15, "K")},
				Result: relation.Val("w", 15555, "J/kg"), Digits: 1e-3,
			},
		},
		{
			ID: "motor-efficiency", Title: "the efficiency of a motor at a load",
			Equation: "eta = x/(x + a + b x^2), a and b equal at three quarters of full load, full load from the class",
			Symbols: []relation.Symbol{
				relation.Sym("x", "1", "load over rated power"), relation.Sym("eta_n", "1", "efficiency at full load"),
				relation.Sym("eta", "1", "efficiency"),
			},
			Limits: []relation.Limit{
				relation.Within("x", 0.25, 1.25, relation.Caution, "the loss split is not known there"),
			},
			Sources: []relation.Source{
				{Citation: "IEC 60034-30-1, Efficiency classes of line operated AC motors", Basis: relation.Published},
				relation.Derived("constant and squared losses, compared with US DOE part-load tables"),
			},
			Uncertainty: relation.Uncertainty{Text: "1 point"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("x", 1, "1"), relation.Val("eta_n", 0.914, "1")},
				Result: relation.Val("eta", 0.914, "1"), Digits: 1e-9,
			},
		},
	}
}
