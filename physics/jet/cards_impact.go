package jet

import (
	"math"

	"leste/physics/relation"
)

func impactCards() []relation.Card {
	p := relation.Sym("p", "Pa", "impact pressure")
	he := relation.Sym("he", "m", "distance that counts, never within the core")
	us := relation.Sym("us", "m/s", "velocity that would stagnate at the impact pressure")
	tau := relation.Sym("tau", "Pa", "wall shear")
	return []relation.Card{
		{
			ID:    "impact-pressure",
			Title: "the impact pressure of a jet",
			Equation: "slot: he = max(h, 3.5 m/pg), p = 3.5 m/he, shape exp(-38.5 (s/he)^2)\n" +
				"nozzle: he = max(h, sqrt(31.8 m/pg)), p = 31.8 m/he^2, shape exp(-100 (r/he)^2)",
			Symbols: []relation.Symbol{
				symMomentum(), symDistance(), relation.Sym("pg", "Pa", "plenum pressure above the room's"), he, p,
				relation.Sym("h_b", "1", "distance over gap or bore"),
			},
			Limits: []relation.Limit{relation.AtLeast("h_b", 1, relation.Outside, "the outlet all but touches the wall")},
			Sources: []relation.Source{
				relation.Cite("beltaos-rajaratnam-1973", "pressure shape, plane", relation.FromMemory),
				relation.Cite("beltaos-rajaratnam-1974", "pressure, round", relation.FromMemory),
				relation.Derived("pressure on the wall adds up to the thrust"),
			},
			Uncertainty: relation.Uncertainty{Text: "15 % far from the outlet, 5 % in the core", Share: 0.15},
			Departs:     "7.0 gaps instead of 7.7 to 8.0 and 100 instead of 114, so that force equals thrust; one distance joins core and far jet",
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("m", 35.5, "N/m"), relation.Val("h", 0.05, "m"), relation.Val("pg", 20000, "Pa")},
				Result: relation.Val("p", 2485, "Pa"), Digits: 2e-4,
			},
		},
		{
			ID:       "impact-gradient",
			Title:    "the steepest pressure gradient on the wall",
			Equation: "slot: 5.32 p/he at 0.114 he;  nozzle: 8.58 p/he at 0.0707 he",
			Symbols:  []relation.Symbol{p, he, relation.Sym("g", "Pa/m", "steepest pressure gradient")},
			Sources:  []relation.Source{relation.Derived("slope of the pressure shape")},
			Uncertainty: relation.Uncertainty{
				Text: "25 %", Share: 0.25,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("p", 2485, "Pa"), relation.Val("he", 0.05, "m")},
				Result: relation.Val("g", 264500, "Pa/m"), Digits: 1e-3,
			},
		},
		{
			ID:    "wall-shear",
			Title: "the greatest wall shear under a jet",
			Equation: "tau = T rho us^2 sqrt(nu/(us he));  slot: T = 1.75 at 0.155 he;  nozzle: T = 2.37 at 0.09 he\n" +
				"upper estimate: not less than the wall jet at 0.3 he; nozzle: not less than 0.204 m/he^2",
			Symbols: []relation.Symbol{
				us, he, symDensity(), symNu(), symReB(), symReD(),
				relation.Sym("rx", "1", "radius of the wall over the offset of the greatest shear"), tau,
			},
			Limits: []relation.Limit{
				relation.Within("re_b", 5e3, 4e4, relation.Outside, ""),
				relation.Within("re_d", 1e4, 4.5e5, relation.Outside, ""),
				relation.AtMost("re_d", 1e5, relation.Caution, "the likely value is low by up to a third"),
				relation.AtLeast("rx", 2, relation.Caution, "the wall is so curved that the value is indicative"),
			},
			Sources: []relation.Source{
				relation.Cite("phares-2000", "round constant, in two secondary documents", relation.SecondHand),
				relation.Derived("laminar boundary layer under the pressure shape"),
				relation.Cite("ritcey-2017", "plane predictions of the former within 5 to 28 %", relation.Published),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.5, an outer bound of 2.4", Factor: 1.5},
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("us", 64.36, "m/s"), relation.Val("he", 0.05, "m"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("nu", 1.5e-5, "m2/s"),
				},
				Result: relation.Val("tau", 18.78, "Pa"), Digits: 1e-3,
			},
		},
		{
			ID:       "shear-shape",
			Title:    "how the wall shear rises and falls around the impact",
			Equation: "xi <= 1: 1.69 xi - 0.88 xi^3 + 0.19 xi^5;  xi > 1: 1/(1 + k (xi - 1)^2), k = 0.68 slot, 0.58 nozzle",
			Symbols: []relation.Symbol{
				relation.Sym("xi", "1", "offset over the offset of the greatest shear"),
				relation.Sym("f", "1", "shear over the greatest"),
			},
			Limits:      []relation.Limit{relation.Within("xi", 0, 2.5, relation.Info, "the wall jet governs")},
			Sources:     []relation.Source{relation.Derived("fit to a laminar boundary layer under the pressure shape")},
			Uncertainty: relation.Uncertainty{Text: "1 % up to xi = 1, 4 % up to 2, as a fit; the shear itself by a factor of 1.5", Factor: 1.5},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("xi", 0.5, "1")},
				Result: relation.Val("f", 0.7409, "1"), Digits: 1e-4,
			},
		},
		{
			ID:    "plane-wall-jet",
			Title: "the wall jet of a slot jet",
			Equation: "x = s + 0.67 he;  u = min(us, 3.5 sqrt(side/(rho x)))\n" +
				"tau = rho u^2/2 0.0315 Re^-0.182, Re = u 0.0117 x/nu",
			Symbols: []relation.Symbol{
				relation.Sym("side", "N/m", "momentum of one side, half the thrust per length at right angles"),
				symDensity(), symNu(), us, relation.Sym("s", "m", "offset from the impingement line"), he,
				relation.Sym("s_h", "1", "offset over distance"), relation.Sym("u", "m/s", "greatest velocity in the wall jet"), tau,
			},
			Limits: []relation.Limit{relation.Within("s_h", 0.155, 10, relation.Outside, "")},
			Sources: []relation.Source{
				relation.Cite("rajaratnam-1976", "velocity", relation.FromMemory),
				relation.Cite("launder-rodi-1981", "growth 0.073", relation.FromMemory),
				relation.Cite("bradshaw-gee-1960", "friction", relation.FromMemory),
			},
			Uncertainty: relation.Uncertainty{Text: "15 % of velocity, 30 % of shear", Share: 0.3},
			Departs:     "velocity never above the impact's",
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("side", 17.75, "N/m"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("nu", 1.5e-5, "m2/s"),
					relation.Val("us", 64.36, "m/s"), relation.Val("s", 0.05, "m"), relation.Val("he", 0.05, "m"),
				},
				Result: relation.Val("tau", 9.54, "Pa"), Digits: 2e-3,
			},
		},
		{
			ID:       "round-wall-jet",
			Title:    "the wall jet of a round jet",
			Equation: "K = m/rho;  u = min(us, 1.32 sqrt(K)/he (r/he)^-1.10);  tau = 0.34 rho K/he^2 (sqrt(K)/nu)^-0.3 (r/he)^-2.3",
			Symbols: []relation.Symbol{
				symThrust(), symDensity(), symNu(), us, relation.Sym("r", "m", "offset from the impingement point"), he,
				relation.Sym("r_h", "1", "offset over distance"), relation.Sym("u", "m/s", "greatest velocity in the wall jet"), tau,
			},
			Limits: []relation.Limit{relation.Within("r_h", 0.2, 10, relation.Outside, "")},
			Sources: []relation.Source{
				relation.Cite("poreh-1967", "constants", relation.FromMemory),
				relation.Cite("poreh-1967", "exponent -2.3, in a secondary document", relation.SecondHand),
			},
			Uncertainty: relation.Uncertainty{Text: "15 % of velocity, 30 % of shear; rough walls see more", Share: 0.3},
			Departs:     "velocity never above the impact's",
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("m", 4.015, "N"), relation.Val("rho", 1.2, "kg/m3"), relation.Val("nu", 1.5e-5, "m2/s"),
					relation.Val("us", 97.3, "m/s"), relation.Val("r", 0.045, "m"), relation.Val("he", 0.15, "m"),
				},
				Result: relation.Val("tau", 28.8, "Pa"), Digits: 2e-3,
			},
		},
		{
			ID:    "wall-shear-join",
			Title: "the wall shear from the impact to the wall jet",
			Equation: "xi <= 1: tau_max f(xi);  xi > 1: max(tau_max f(xi) fade, min(tau_max, wall jet)), fade = clamp(2 - X/0.3) slot, X/0.2 nozzle\n" +
				"edge velocity: min(us sqrt(1 - exp(-c X^2)), wall jet), X = offset/he",
			Symbols: []relation.Symbol{
				relation.Sym("taumax", "Pa", "greatest wall shear"), relation.Sym("side", "N/m", "momentum of one side"),
				symDensity(), symNu(), us, relation.Sym("s", "m", "offset from the impingement line"), he, tau,
			},
			Sources:     []relation.Source{relation.Derived("the two laws joined without a step; 0 where the jet stagnates")},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.5", Factor: 1.5},
			Example: relation.Example{
				Given: []relation.Value{
					relation.Val("taumax", 18.78, "Pa"), relation.Val("side", 17.75, "N/m"), relation.Val("rho", 1.2, "kg/m3"),
					relation.Val("nu", 1.5e-5, "m2/s"), relation.Val("us", 64.36, "m/s"), relation.Val("s", 0.00775, "m"), relation.Val("he", 0.05, "m"),
				},
				Result: relation.Val("tau", 18.78, "Pa"), Digits: 1e-3,
			},
		},
	}
}

func obliqueCards() []relation.Card {
	grazing := relation.AtLeast("phi", math.Pi/6, relation.Outside, "a grazing jet is not predicted")
	return []relation.Card{
		{
			ID:       "oblique-pressure",
			Title:    "the impact pressure of an oblique jet",
			Equation: "p = p90 sin(phi), offset counted along the wall",
			Symbols:  []relation.Symbol{relation.Sym("p90", "Pa", "impact pressure at right angles"), symIncidence(), relation.Sym("p", "Pa", "impact pressure")},
			Limits:   []relation.Limit{grazing},
			Sources:  []relation.Source{relation.Derived("the pressure on the wall adds up to the thrust's normal part")},
			Uncertainty: relation.Uncertainty{
				Text: "between no fall with the sine and its square",
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("p90", 2485, "Pa"), relation.Val("phi", math.Pi/3, "rad")},
				Result: relation.Val("p", 2152, "Pa"), Digits: 1e-4,
			},
		},
		{
			ID:          "oblique-plane",
			Title:       "how an oblique slot jet divides",
			Equation:    "forward (1 + cos phi)/2, back (1 - cos phi)/2; the weak side's greatest shear times the share^0.91",
			Symbols:     []relation.Symbol{symIncidence(), relation.Sym("forward", "1", "share of the momentum that goes forward")},
			Limits:      []relation.Limit{grazing},
			Sources:     []relation.Source{relation.Derived("momentum of an inviscid plane jet")},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.7 on the shear", Factor: 1.7},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("phi", math.Pi/4, "rad")},
				Result: relation.Val("forward", 0.854, "1"), Digits: 1e-3,
			},
		},
		{
			ID:       "oblique-round",
			Title:    "how an oblique round jet divides",
			Equation: "g = sin^3(phi)/(1 - cos(phi) cos(theta))^2",
			Symbols: []relation.Symbol{
				symIncidence(), relation.Sym("theta", "rad", "direction along the wall, from forward"),
				relation.Sym("g", "1", "momentum per direction over its mean"),
			},
			Limits:      []relation.Limit{grazing},
			Sources:     []relation.Source{relation.Cite("hasson-peck-1964", "", relation.FromMemory), relation.Derived("conserves mass and momentum exactly")},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.7 on the shear", Factor: 1.7},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("phi", math.Pi/3, "rad"), relation.Val("theta", 0, "rad")},
				Result: relation.Val("g", 2.60, "1"), Digits: 2e-3,
			},
		},
		{
			ID:          "stagnation-offset",
			Title:       "where an oblique jet's impingement line lies",
			Equation:    "s0 = 0.08 he cot(phi), towards the acute side",
			Symbols:     []relation.Symbol{relation.Sym("he", "m", "distance that counts"), symIncidence(), relation.Sym("s0", "m", "offset")},
			Limits:      []relation.Limit{grazing},
			Sources:     []relation.Source{relation.Derived("moment balance of an inviscid plane jet"), relation.Cite("beltaos-1976", "that there is an offset", relation.Published)},
			Uncertainty: relation.Uncertainty{Text: "0 to 0.15 in place of 0.08"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("he", 0.05, "m"), relation.Val("phi", math.Pi/4, "rad")},
				Result: relation.Val("s0", 0.004, "m"), Digits: 1e-9,
			},
		},
		{
			ID:       "swept-line",
			Title:    "the shear on the impingement line of a slot jet blown along it",
			Equation: "tau = 0.81 a tau_max along the line, fading to 0 at the greatest shear",
			Symbols: []relation.Symbol{
				relation.Sym("taumax", "Pa", "greatest wall shear across the line"),
				relation.Sym("a", "1", "share of the jet's velocity along the line"), relation.Sym("tau", "Pa", "wall shear on the line"),
			},
			Sources:     []relation.Source{relation.Derived("laminar swept attachment line under the pressure shape")},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.5", Factor: 1.5},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("taumax", 18.78, "Pa"), relation.Val("a", 0.5, "1")},
				Result: relation.Val("tau", 7.606, "Pa"), Digits: 1e-3,
			},
		},
		{
			ID:       "wall-jet-separation",
			Title:    "where a wall jet leaves a round body",
			Equation: "share = 1 up to 100 degrees from the impingement line, 0 from 120 degrees",
			Symbols: []relation.Symbol{
				relation.Sym("turned", "rad", "angle between the wall's normals"),
				relation.Sym("share", "1", "share still attached"),
			},
			Limits:      []relation.Limit{relation.AtMost("turned", 100*math.Pi/180, relation.Info, "the wall jet has left the wall")},
			Sources:     []relation.Source{relation.CommonPractice("a wall jet on a cylinder leaves it at 100 to 120 degrees")},
			Uncertainty: relation.Uncertainty{Text: "20 degrees"},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("turned", 110*math.Pi/180, "rad")},
				Result: relation.Val("share", 0.5, "1"), Digits: 1e-9,
			},
		},
	}
}
