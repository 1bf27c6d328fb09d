package relation

import (
	"maps"
	"slices"
)

// Cite returns a source of the bibliography. An unknown key is a programming error and panics.
func Cite(key, where string, basis Basis) Source {
	citation, ok := bibliography()[key]
	if !ok {
		panic("relation: no source " + key + " in the bibliography")
	}
	return Source{Key: key, Citation: citation, Where: where, Basis: basis}
}

// Derived returns the source of a relation that follows from first principles.
func Derived(how string) Source { return Source{Where: how, Basis: Rederived} }

// CommonPractice returns the source of what the trade does without one.
func CommonPractice(what string) Source { return Source{Where: what, Basis: Practice} }

// Citations returns the bibliography's keys in order.
func Citations() []string { return slices.Sorted(maps.Keys(bibliography())) }

func bibliography() map[string]string {
	return map[string]string{
		"ashrae-2017":              "ASHRAE Handbook Fundamentals, 2017",
		"aussillous-quere-2000":    "Aussillous and Quéré, Quick deposition of a fluid on the wall of a tube, Physics of Fluids 12 (2000)",
		"beltaos-1976":             "Beltaos, Oblique impingement of plane turbulent jets, Journal of the Hydraulics Division ASCE 102 (1976)",
		"beltaos-rajaratnam-1973":  "Beltaos and Rajaratnam, Plane turbulent impinging jets, Journal of Hydraulic Research 11 (1973)",
		"beltaos-rajaratnam-1974":  "Beltaos and Rajaratnam, Impinging circular turbulent jets, Journal of the Hydraulics Division ASCE 100 (1974)",
		"bradshaw-gee-1960":        "Bradshaw and Gee, Turbulent wall jets with and without an external stream, ARC R&M 3252 (1960)",
		"bragg-1960":               "Bragg, Effect of compressibility on the discharge coefficient of orifices and convergent nozzles, Journal of Mechanical Engineering Science 2 (1960)",
		"bretherton-1961":          "Bretherton, The motion of long bubbles in tubes, Journal of Fluid Mechanics 10 (1961)",
		"chilton-colburn-1934":     "Chilton and Colburn, Mass transfer (absorption) coefficients, Industrial and Engineering Chemistry 26 (1934)",
		"churchill-bernstein-1977": "Churchill and Bernstein, A correlating equation for forced convection from gases and liquids to a circular cylinder in crossflow, Journal of Heat Transfer 99 (1977)",
		"clopper-pearson-1934":     "Clopper and Pearson, The use of confidence or fiducial limits illustrated in the case of the binomial, Biometrika 26 (1934)",
		"coninck-2016":             "De Coninck, Dunlop and Huillet, arXiv 1610.06725 (2016)",
		"cox-voinov":               "Cox, The dynamics of the spreading of liquids on a solid surface, Journal of Fluid Mechanics 168 (1986), and Voinov, Hydrodynamics of wetting (1976)",
		"durran-frierson-2013":     "Durran and Frierson, Condensation, atmospheric motion, and cold beer, Physics Today 66 (2013), as reported by a university",
		"ellen-tu-1984":            "Ellen and Tu, An analysis of jet stripping of liquid coatings, Journal of Fluids Engineering 106 (1984)",
		"elsherbini-jacobi-2006":   "ElSherbini and Jacobi, Retention forces and contact angles for critical liquid drops on non-horizontal surfaces, Journal of Colloid and Interface Science 299 (2006)",
		"evangelista-2011":         "Evangelista and others, Proceedings of SPIE (2011), doi 10.1117/12.881605",
		"gardon-akfirat-1966":      "Gardon and Akfirat, Heat transfer characteristics of impinging two-dimensional air jets, Journal of Heat Transfer 88 (1966)",
		"gosset-buchlin-2007":      "Gosset and Buchlin, Jet wiping in hot-dip galvanization, Journal of Fluids Engineering 129 (2007)",
		"gutmark-wygnanski-1976":   "Gutmark and Wygnanski, The planar turbulent jet, Journal of Fluid Mechanics 73 (1976)",
		"hall-pruppacher-1976":     "Hall and Pruppacher, The survival of ice particles falling from cirrus clouds, Journal of the Atmospheric Sciences 33 (1976)",
		"hartley-murgatroyd-1964":  "Hartley and Murgatroyd, Criteria for the break-up of thin liquid layers flowing isothermally over solid surfaces, International Journal of Heat and Mass Transfer 7 (1964)",
		"hasson-peck-1964":         "Hasson and Peck, Thickness distribution in a sheet formed by impinging jets, AIChE Journal 10 (1964)",
		"hu-larson-2002":           "Hu and Larson, Evaporation of a sessile droplet on a substrate, Journal of Physical Chemistry B 106 (2002)",
		"hussein-1994":             "Hussein, Capp and George, Velocity measurements in a high-Reynolds-number, momentum-conserving, axisymmetric turbulent jet, Journal of Fluid Mechanics 258 (1994)",
		"hyland-wexler-1983":       "Hyland and Wexler, Formulations for the thermodynamic properties of the saturated phases of H2O, ASHRAE Transactions 89 (1983)",
		"iapws-r1-76":              "IAPWS R1-76(2014), Revised release on surface tension of ordinary water substance",
		"iapws-sr6-08":             "IAPWS SR6-08(2011), Revised supplementary release on properties of liquid water at 0.1 MPa",
		"iec-60534-8-3":            "IEC 60534-8-3:2011, Control valve aerodynamic noise prediction method",
		"iso-15377":                "ISO/TR 15377, Guidelines for the specification of orifice plates, nozzles and Venturi tubes beyond the scope of ISO 5167",
		"iso-2533":                 "ISO 2533:1975, Standard atmosphere",
		"iso-5167-3":               "ISO 5167-3, Nozzles and Venturi nozzles",
		"jeffreys-1930":            "Jeffreys, The draining of a vertical plate, Proceedings of the Cambridge Philosophical Society 26 (1930)",
		"jobson-1955":              "Jobson, On the flow of a compressible fluid through orifices, Proceedings of the Institution of Mechanical Engineers 169 (1955)",
		"kell-1975":                "Kell, Density, thermal expansivity, and compressibility of liquid water from 0 to 150 C, Journal of Chemical and Engineering Data 20 (1975)",
		"landau-levich-1942":       "Landau and Levich (1942) and Derjaguin (1943), Dragging of a liquid by a moving plate",
		"launder-rodi-1981":        "Launder and Rodi, The turbulent wall jet, Progress in Aerospace Sciences 19 (1981)",
		"martin-1977":              "Martin, Heat and mass transfer between impinging gas jets and solid surfaces, Advances in Heat Transfer 13 (1977)",
		"orifice-table":            "Discharge of air through an orifice, table of free air flow against gauge pressure and bore, public copies",
		"pani-2009":                "Pani, Water Science and Engineering 2 (2009)",
		"phares-2000":              "Phares, Smedley and Flagan, The wall shear stress produced by the normal impingement of a jet on a flat surface, Journal of Fluid Mechanics 418 (2000)",
		"pilch-erdman-1987":        "Pilch and Erdman, Use of breakup time data and velocity history data to predict the maximum size of stable fragments, International Journal of Multiphase Flow 13 (1987)",
		"podgorski-2001":           "Podgorski, Flesselles and Limat, Corners, cusps, and pearls in running drops, Physical Review Letters 87 (2001)",
		"pope-2000":                "Pope, Turbulent flows (2000)",
		"popov-2005":               "Popov, Evaporative deposition patterns, Physical Review E 71 (2005)",
		"poreh-1967":               "Poreh, Tsuei and Cermak, Investigation of a turbulent radial wall jet, Journal of Applied Mechanics 34 (1967)",
		"rajaratnam-1976":          "Rajaratnam, Turbulent jets (1976)",
		"rajaratnam-mazurek-2005":  "Rajaratnam and Mazurek, Impingement of circular turbulent jets on rough boundaries, Journal of Hydraulic Research 43 (2005)",
		"reichardt-1951":           "Reichardt, Vollständige Darstellung der turbulenten Geschwindigkeitsverteilung in glatten Leitungen, ZAMM 31 (1951)",
		"ritcey-2017":              "Ritcey, McDermid and Ziada, The maximum skin friction and flow field of a planar impinging gas jet, Journal of Fluids Engineering 139 (2017)",
		"standard-atmosphere-1976": "U.S. Standard Atmosphere, 1976",
		"washburn-bosanquet":       "Washburn, The dynamics of capillary flow (1921), and Bosanquet, On the flow of liquids into capillary tubes (1923)",
		"white-schmucker-2021":     "White and Schmucker, Physical Review Fluids 6, 023601 (2021)",
		"zorumski-1982":            "Zorumski, Aircraft noise prediction program theoretical manual, NASA TM-83199 (1982), chapter 8.4",
	}
}
