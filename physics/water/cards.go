package water

import (
	"slices"

	"leste/physics/relation"
)

// Cards returns the cards of this package's relations.
func Cards() []relation.Card {
	return slices.Concat(propertyCards(), filmCards(), frontCards(), dropCards(), trappedCards(), phaseCards(), countCards())
}

// Symbols that several cards share.
func symMu() relation.Symbol  { return relation.Sym("mu", "Pa s", "viscosity of the water") }
func symRho() relation.Symbol { return relation.Sym("rho", "kg/m3", "density of the water") }
func symTension() relation.Symbol {
	return relation.Sym("sigma", "N/m", "surface tension of the water")
}
func symT() relation.Symbol { return relation.Sym("T", "K", "temperature of the water") }
func symU() relation.Symbol {
	return relation.Sym("u", "m/s", "speed of the wall relative to the jet, normal to the front")
}
func symTau() relation.Symbol { return relation.Sym("tau", "Pa", "wall shear") }
func symFilm() relation.Symbol {
	return relation.Sym("h", "m", "film thickness")
}
func symD() relation.Symbol { return relation.Sym("d", "m", "base diameter of the drop") }
func symAdvancing() relation.Symbol {
	return relation.Sym("ta", "rad", "advancing contact angle")
}
func symReceding() relation.Symbol { return relation.Sym("tr", "rad", "receding contact angle") }
func symContact() relation.Symbol {
	return relation.Sym("th", "rad", "contact angle of the resting drop, mean of advancing and receding")
}
func symAirSpeed() relation.Symbol { return relation.Sym("ua", "m/s", "speed of the air") }
func symAirDensity() relation.Symbol {
	return relation.Sym("rho_a", "kg/m3", "density of the air")
}

// Values of clean water at 20 degC that the worked examples share.
func at20() []relation.Value {
	return []relation.Value{
		relation.Val("mu", 1.001567e-3, "Pa s"), relation.Val("rho", 998.204, "kg/m3"), relation.Val("sigma", 0.0727361, "N/m"),
	}
}

func with20(more ...relation.Value) []relation.Value { return append(at20(), more...) }

func propertyCards() []relation.Card {
	range0to90 := relation.Within("T", 273.15, 363.15, relation.Outside, "water on a container is liquid and below 90 degC")
	at := []relation.Value{relation.Val("T", 293.15, "K")}
	return []relation.Card{
		{
			ID: "surface-tension", Title: "the surface tension of clean water",
			Equation: "sigma = 0.2358 x^1.256 (1 - 0.625 x), x = 1 - T/647.096 K",
			Symbols:  []relation.Symbol{symT(), symTension()}, Limits: []relation.Limit{range0to90},
			Sources:     []relation.Source{relation.Cite("iapws-r1-76", "equation 1", relation.Published)},
			Uncertainty: relation.Uncertainty{Text: "0.5 % for clean water; rinse water with surfactant or lubricant is 10 to 40 % lower", Share: 0.005},
			Example:     relation.Example{Given: at, Result: relation.Val("sigma", 0.0727361, "N/m"), Digits: 1e-5},
		},
		{
			ID: "water-viscosity", Title: "the viscosity of water",
			Equation: "mu = 1e-6 (280.68 x^-1.9 + 511.45 x^-7.7 + 61.131 x^-19.6 + 0.45903 x^-40), x = T/300 K",
			Symbols:  []relation.Symbol{symT(), symMu()}, Limits: []relation.Limit{range0to90},
			Sources:     []relation.Source{relation.Cite("iapws-sr6-08", "equation 7", relation.Published)},
			Uncertainty: relation.Uncertainty{Text: "1 %", Share: 0.01},
			Example:     relation.Example{Given: at, Result: relation.Val("mu", 1.001567e-3, "Pa s"), Digits: 1e-5},
		},
		{
			ID: "water-density", Title: "the density of water",
			Equation: "rational polynomial of the Celsius temperature",
			Symbols:  []relation.Symbol{symT(), symRho()}, Limits: []relation.Limit{range0to90},
			Sources:     []relation.Source{relation.Cite("kell-1975", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{Text: "0.01 %", Share: 1e-4},
			Example:     relation.Example{Given: at, Result: relation.Val("rho", 998.204, "kg/m3"), Digits: 1e-5},
		},
	}
}
