package water

import (
	"math"

	"leste/physics/relation"
)

func trappedCards() []relation.Card {
	w := relation.Sym("w", "m", "width of the gap")
	length := relation.Sym("L", "m", "length of the water along the way out")
	dp := relation.Sym("dp", "Pa", "net pressure: mouth less exit less hold less weight")
	t := relation.Sym("t", "s", "clearing time")
	gap := relation.Within("w", 0.05e-3, 2e-3, relation.Outside, "the gap is no crevice")
	return []relation.Card{
		{
			ID: "crevice-hold", Title: "the pressure that holds water in a crevice",
			Equation: "low sigma sum(cos tr - cos ta)/w;  likely sigma sum(cos tr)/w;  high sigma sum(cos tr + sin ta)/w, over both walls",
			Symbols:  []relation.Symbol{symTension(), w, symAdvancing(), symReceding(), relation.Sym("p", "Pa", "holding pressure")},
			Limits:   []relation.Limit{gap},
			Sources: []relation.Source{
				relation.Derived("menisci in the gap, pinned on a sharp exit, and bulging over it (Gibbs)"),
			},
			Uncertainty: relation.Uncertainty{Text: "low and high are its ends; the gap's own tolerance matters more", Factor: 2},
			Example: relation.Example{
				Given:  with20(relation.Val("w", 0.3e-3, "m"), relation.Val("ta", 1.396263, "rad"), relation.Val("tr", 0.872665, "rad")),
				Result: relation.Val("p", 311.7, "Pa"), Digits: 1e-3,
			},
		},
		{
			ID: "crevice-clearing", Title: "the time in which pressure clears a crevice",
			Equation: "rho L v' = dp - 12 mu L v/w^2, L' = -v;  t = tv/2 + sqrt(tv^2/4 + ti^2)\n" +
				"tv = 6 mu L^2/(w^2 dp), ti = L sqrt(pi rho/(2 dp))",
			Symbols: []relation.Symbol{symMu(), symRho(), w, length, dp, t},
			Limits:  []relation.Limit{gap, relation.AtLeast("dp", 0, relation.Stop, "the crevice is not cleared")},
			Sources: []relation.Source{
				relation.Cite("washburn-bosanquet", "its two limits", relation.FromMemory), relation.Derived("closed form within 3 % of the integrated motion"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2, by the gap's tolerance", Factor: 2},
			Example: relation.Example{
				Given:  with20(relation.Val("w", 0.1e-3, "m"), relation.Val("L", 5e-3, "m"), relation.Val("dp", 4065, "Pa")),
				Result: relation.Val("t", 5.4615e-3, "s"), Digits: 1e-3,
			},
		},
		{
			ID: "crevice-cleared", Title: "the share of a crevice cleared in part of its clearing time",
			Equation: "x = time over clearing time;  viscous 1 - sqrt(1 - x);  inertial 1 - exp(-erfinv(x)^2);  mixed by the squares of the two times",
			Symbols:  []relation.Symbol{relation.Sym("x", "1", "time over clearing time"), relation.Sym("share", "1", "share that is out")},
			Sources:  []relation.Source{relation.Derived("motion of water that speeds up as it shrinks")},
			Uncertainty: relation.Uncertainty{
				Text: "5 % of the water at a given x", Share: 0.05,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("x", 0.5, "1")},
				Result: relation.Val("share", 0.2929, "1"), Digits: 1e-3,
			},
		},
		{
			ID: "meniscus-film", Title: "the film that a receding meniscus leaves in a crevice",
			Equation: "share = 1.337 Ca^(2/3)/(1 + 3.34 Ca^(2/3)), Ca = mu v/sigma",
			Symbols:  []relation.Symbol{symMu(), symTension(), relation.Sym("v", "m/s", "speed of the meniscus"), relation.Sym("share", "1", "film over half the width")},
			Sources: []relation.Source{
				relation.Cite("aussillous-quere-2000", "", relation.FromMemory), relation.Cite("bretherton-1961", "slow limit", relation.FromMemory),
			},
			Uncertainty: relation.Uncertainty{Text: "20 %; up to 50 % more where inertia matters", Share: 0.5},
			Example: relation.Example{
				Given:  with20(relation.Val("v", 0.726222, "m/s")),
				Result: relation.Val("share", 0.053723, "1"), Digits: 1e-3,
			},
		},
		{
			ID: "pool", Title: "the impact pressure that empties a recess",
			Equation: "p > rho g depth",
			Symbols:  []relation.Symbol{symRho(), relation.Sym("depth", "m", "depth of the recess"), relation.Sym("p", "Pa", "impact pressure")},
			Sources:  []relation.Source{relation.CommonPractice("a jet digs a hole as deep as its pressure in water")},
			Uncertainty: relation.Uncertainty{
				Text: "a factor of 3", Factor: 3,
			},
			Example: relation.Example{
				Given:  with20(relation.Val("depth", 6e-3, "m")),
				Result: relation.Val("p", 58.73, "Pa"), Digits: 1e-3,
			},
		},
		{
			ID: "corner-fillet", Title: "the water left in the corner of a recess",
			Equation: "A = (1 - pi/4) r^2, r = max(0.15 mm, sigma/(0.1 p))",
			Symbols:  []relation.Symbol{symTension(), relation.Sym("p", "Pa", "impact pressure"), relation.Sym("A", "m2", "cross-section")},
			Sources:  []relation.Source{relation.CommonPractice("a tenth of the impact pressure acts on the meniscus; judgement")},
			Uncertainty: relation.Uncertainty{
				Text: "a factor of 3", Factor: 3,
			},
			Example: relation.Example{
				Given:  with20(relation.Val("p", 1500, "Pa")),
				Result: relation.Val("A", 5.046e-8, "m2"), Digits: 2e-3,
			},
		},
		{
			ID: "run-down", Title: "streaks from trapped water that comes out later",
			Equation: "number = whole part of volume over the volume that slides",
			Symbols:  []relation.Symbol{relation.Sym("V", "m3", "volume that comes out"), relation.Sym("Vs", "m3", "volume that slides"), relation.Sym("n", "1", "streaks")},
			Sources:  []relation.Source{relation.CommonPractice("one streak for each drop that slides; judgement")},
			Uncertainty: relation.Uncertainty{
				Text: "a factor of 3", Factor: 3,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("V", 30e-9, "m3"), relation.Val("Vs", 11.8e-9, "m3")},
				Result: relation.Val("n", 2, "1"), Digits: 1e-9,
			},
		},
	}
}

func phaseCards() []relation.Card {
	rate := relation.Sym("m", "kg/s", "mass lost")
	return []relation.Card{
		{
			ID: "sessile-drop", Title: "the evaporation of a resting drop",
			Equation: "m = pi d/2 D dc (0.27 th^2 + 1.30)",
			Symbols: []relation.Symbol{
				symD(), symContact(), relation.Sym("D", "m2/s", "diffusivity of vapour in air, at the mean of the drop's temperature and the air's"), relation.Sym("dc", "kg/m3", "difference of vapour densities"), rate,
			},
			Limits: []relation.Limit{relation.AtMost("th", 100*math.Pi/180, relation.Outside, "rounder drops dry faster than the form says")},
			Sources: []relation.Source{
				relation.Cite("hu-larson-2002", "", relation.SecondHand), relation.Cite("popov-2005", "limit of a flat drop", relation.FromMemory),
			},
			Uncertainty: relation.Uncertainty{Text: "10 % in still air, of which the form is 2 % up to 90 degrees and 4 % at 100; moving air speeds it up 1.5 to 3 times", Factor: 2},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("d", 1e-3, "m"), relation.Val("th", 1.570796, "rad"), relation.Val("D", 2.5e-5, "m2/s"), relation.Val("dc", 0.01, "kg/m3")},
				Result: relation.Val("m", 7.7208e-10, "kg/s"), Digits: 1e-3,
			},
		},
		{
			ID: "condensate-growth", Title: "the condensate that a cold product gathers",
			Equation: "flux from the surface balance at each instant; the product warms by the heat that passes its wall",
			Symbols: []relation.Symbol{
				relation.Sym("T", "K", "product temperature"), relation.Sym("h", "W/(m2 K)", "heat transfer coefficient"), relation.Sym("t", "s", "time"),
				relation.Sym("g", "kg/m2", "condensate"),
			},
			Limits: []relation.Limit{relation.AtLeast("T", 273.15, relation.Stop, "frost forms instead of dew")},
			Sources: []relation.Source{
				relation.Derived("heat and mass balance of the wall"),
				relation.Cite("durran-frierson-2013", "warming of a cold can by condensation", relation.SecondHand),
			},
			Uncertainty: relation.Uncertainty{Text: "40 %, as the heat transfer coefficient", Share: 0.4},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("T", 277.15, "K"), relation.Val("h", 12, "W/(m2 K)"), relation.Val("t", 10, "s")},
				Result: relation.Val("g", 1.28e-3, "kg/m2"), Digits: 0.03,
			},
		},
	}
}

func countCards() []relation.Card {
	p := relation.Sym("p", "1", "reject rate")
	c := relation.Sym("c", "1", "confidence")
	n := relation.Sym("n", "1", "containers")
	k := relation.Sym("k", "1", "rejected containers")
	independent := "exact for containers that are independent; sample in several blocks"
	return []relation.Card{
		{
			ID: "acceptance-sample", Title: "how many containers prove a reject rate",
			Equation: "no failures: n = ln(1 - c)/ln(1 - p);  k failures: least n with binomial P(at most k) <= 1 - c",
			Symbols:  []relation.Symbol{p, c, k, n},
			Sources:  []relation.Source{relation.Derived("binomial distribution")},
			Uncertainty: relation.Uncertainty{
				Text: independent,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("p", 0.001, "1"), relation.Val("c", 0.95, "1"), relation.Val("k", 0, "1")},
				Result: relation.Val("n", 2995, "1"), Digits: 1e-9,
			},
		},
		{
			ID: "reject-bounds", Title: "what a sample says about the reject rate",
			Equation: "upper = inverse Beta(1 - a; k + 1, n - k), lower = inverse Beta(a; k, n - k + 1)",
			Symbols:  []relation.Symbol{k, n, c, p},
			Sources:  []relation.Source{relation.Cite("clopper-pearson-1934", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{
				Text: independent,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("k", 3, "1"), relation.Val("n", 3000, "1"), relation.Val("c", 0.95, "1")},
				Result: relation.Val("p", 0.00258, "1"), Digits: 2e-3,
			},
		},
		{
			ID: "reject-rate", Title: "the reject rate of a mean number of drops",
			Equation: "p = 1 - exp(-lambda)",
			Symbols:  []relation.Symbol{relation.Sym("lambda", "1", "mean number of drops that count"), p},
			Sources:  []relation.Source{relation.Derived("Poisson distribution")},
			Uncertainty: relation.Uncertainty{
				Text: "exact for drops that are independent",
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("lambda", 0.001, "1")},
				Result: relation.Val("p", 0.0009995, "1"), Digits: 1e-6,
			},
		},
	}
}
