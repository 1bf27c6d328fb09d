package jet

import (
	"slices"

	"leste/physics/relation"
)

// Cards returns the cards of this package's relations.
func Cards() []relation.Card {
	return slices.Concat(dischargeCards(), freeCards(), impactCards(), obliqueCards(), powerCards())
}

// Symbols that several cards share.
func symMomentum() relation.Symbol {
	return relation.Sym("m", "N/m", "thrust per metre of slot")
}

func symThrust() relation.Symbol  { return relation.Sym("m", "N", "thrust of the nozzle") }
func symDensity() relation.Symbol { return relation.Sym("rho", "kg/m3", "density of the room air") }
func symNu() relation.Symbol {
	return relation.Sym("nu", "m2/s", "kinematic viscosity of the room air")
}

func symDistance() relation.Symbol { return relation.Sym("h", "m", "distance along the jet's axis") }

func symIncidence() relation.Symbol {
	return relation.Sym("phi", "rad", "incidence of the jet on the wall")
}

func symReB() relation.Symbol { return relation.Sym("re_b", "1", "Reynolds number on the slot gap") }
func symReD() relation.Symbol { return relation.Sym("re_d", "1", "Reynolds number on the bore") }

// planeTurbulent and roundTurbulent are the Reynolds numbers from which the jets are reliably turbulent.
func planeTurbulent() []relation.Limit {
	return []relation.Limit{
		relation.AtLeast("re_b", 5000, relation.Caution, "the velocity is uncertain by 20 %"),
		relation.AtLeast("re_b", 2000, relation.Stop, "the jet is not reliably turbulent"),
	}
}

func roundTurbulent() []relation.Limit {
	return []relation.Limit{
		relation.AtLeast("re_d", 1e4, relation.Caution, "the velocity is less sure"),
		relation.AtLeast("re_d", 5000, relation.Stop, "the jet is not reliably turbulent"),
	}
}
