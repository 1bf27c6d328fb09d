package water

import "leste/physics/relation"

func filmCards() []relation.Card {
	z := relation.Sym("z", "m", "distance below the upper edge of the wall")
	t := relation.Sym("t", "s", "time")
	s := relation.Sym("s", "m", "distance from the impingement line")
	p := relation.Sym("P", "Pa/m", "pressure gradient against the motion of the wall, weight included")
	re := relation.Sym("re_f", "1", "Reynolds number of the film, flow per width over kinematic viscosity")
	return []relation.Card{
		{
			ID: "drained-film", Title: "the film left on a wall by drainage",
			Equation: "h = sqrt(mu z/(rho g t));  mean over a height = 2/3 h at its lower end",
			Symbols:  []relation.Symbol{symMu(), symRho(), z, t, symFilm()},
			Limits: []relation.Limit{
				relation.AtLeast("t", 1, relation.Outside, "the wall is still running"),
			},
			Sources:     []relation.Source{relation.Cite("jeffreys-1930", "", relation.FromMemory), relation.Derived("thin film under gravity")},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2 as water on a container; on a wall that does not wet the film breaks sooner", Factor: 2},
			Example: relation.Example{
				Given:  with20(relation.Val("z", 0.115, "m"), relation.Val("t", 3, "s")),
				Result: relation.Val("h", 62.63e-6, "m"), Digits: 2e-4,
			},
		},
		{
			ID: "withdrawn-film", Title: "the film carried by a wall drawn out of water",
			Equation: "h = lc min(0.9458 Ca^(2/3), Ca^(1/2)), Ca = mu u/sigma, lc = sqrt(sigma/(rho g))",
			Symbols:  []relation.Symbol{symMu(), symRho(), symTension(), symU(), relation.Sym("Ca", "1", "capillary number"), symFilm()},
			Limits:   []relation.Limit{relation.AtMost("Ca", 0.1, relation.Caution, "the gravity limit governs")},
			Sources:  []relation.Source{relation.Cite("landau-levich-1942", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{
				Text: "20 %", Share: 0.2,
			},
			Example: relation.Example{
				Given:  with20(relation.Val("u", 0.1, "m/s")),
				Result: relation.Val("h", 31.9e-6, "m"), Digits: 3e-3,
			},
		},
		{
			ID: "sheared-film", Title: "the film under a jet that stands still",
			Equation: "h = mu s/(tau t)",
			Symbols:  []relation.Symbol{symMu(), s, symTau(), t, symFilm()},
			Limits:   []relation.Limit{relation.AtLeast("tau", 1, relation.Outside, "there is hardly any shear")},
			Sources:  []relation.Source{relation.Derived("kinematic wave of a film under steady shear")},
			Uncertainty: relation.Uncertainty{
				Text: "as the wall shear: a factor of 1.5", Factor: 1.5,
			},
			Example: relation.Example{
				Given:  with20(relation.Val("s", 0.03, "m"), relation.Val("tau", 20, "Pa"), relation.Val("t", 0.05, "s")),
				Result: relation.Val("h", 30.05e-6, "m"), Digits: 1e-3,
			},
		},
		{
			ID: "wiped-film", Title: "the film that passes under a jet",
			Equation: "q(h) = u h - tau h^2/(2 mu) - P h^3/(3 mu);  film = least over the wall of max q/u\n" +
				"hm = 2 mu u/(tau + sqrt(tau^2 + 4 mu u P)), film = hm (2/3 - tau hm/(6 mu u))",
			Symbols: []relation.Symbol{symMu(), symU(), symTau(), p, re, symFilm()},
			Limits: []relation.Limit{
				relation.AtMost("u", 3, relation.Outside, "a film this fast has inertia, and the water left is an extrapolation"),
				relation.AtLeast("u", 0.05, relation.Outside, "the film drains while it passes"),
				relation.AtMost("re_f", 100, relation.Outside, "a film this thick has inertia"),
			},
			Sources: []relation.Source{
				relation.Cite("ellen-tu-1984", "shear and pressure act together", relation.SecondHand),
				relation.Cite("gosset-buchlin-2007", "wiping by an air jet, water facility among the tests", relation.SecondHand),
				relation.Derived("thin film with both, checked against its limits"),
			},
			Uncertainty: relation.Uncertainty{Text: "30 % at a given shear and pressure", Share: 0.3},
			Example: relation.Example{
				Given:  with20(relation.Val("u", 1, "m/s"), relation.Val("tau", 50, "Pa"), relation.Val("P", 1e6, "Pa/m")),
				Result: relation.Val("h", 8.265e-6, "m"), Digits: 2e-4,
			},
		},
	}
}

func frontCards() []relation.Card {
	lambda := relation.Sym("L", "m", "distance between the holes at which a film breaks")
	dew := relation.Sym("ud", "m/s", "speed at which a film's edge draws back")
	share := relation.Sym("share", "1", "share of the surface that stays wet behind the front")
	g := relation.Sym("g", "m/s2", "acceleration along the wall")
	t := relation.Sym("t", "s", "time in which the film breaks")
	receding := relation.Within("tr", 0.14, 1.66, relation.Outside, "the law was compared for 8 to 95 degrees")
	return []relation.Card{
		{
			ID: "dewetting-speed", Title: "the speed at which the edge of a film draws back",
			Equation: "ud = min(sigma tr^3/(150 mu), sqrt(2 sigma (1 - cos tr)/(rho h)))",
			Symbols:  []relation.Symbol{symMu(), symRho(), symTension(), symReceding(), symFilm(), dew},
			Limits:   []relation.Limit{receding},
			Sources: []relation.Source{
				relation.Cite("cox-voinov", "", relation.FromMemory),
				relation.Cite("evangelista-2011", "a smooth surface loses its film at about 1 m/s", relation.SecondHand),
				relation.Derived("inertial limit of a retreating rim"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2", Factor: 2},
			Departs:     "one constant, 150, for advancing and receding lines",
			Example: relation.Example{
				Given:  with20(relation.Val("tr", 0.872665, "rad"), relation.Val("h", 10e-6, "m")),
				Result: relation.Val("ud", 0.32175, "m/s"), Digits: 2e-4,
			},
		},
		{
			ID: "wet-share", Title: "the share of a wall that stays wet behind a front",
			Equation: "share = Phi((tc - tr)/8 deg), tc = (150 mu u/sigma)^(1/3)",
			Symbols:  []relation.Symbol{symMu(), symTension(), symU(), symReceding(), share},
			Limits:   []relation.Limit{receding},
			Sources:  []relation.Source{relation.Derived("dewetting speed with a receding angle that scatters over the surface; the scatter is judgement")},
			Uncertainty: relation.Uncertainty{
				Text: "as the dewetting speed: a factor of 2 in the speed at which half the wall stays wet", Factor: 2,
			},
			Example: relation.Example{
				Given:  with20(relation.Val("tr", 0.872665, "rad"), relation.Val("u", 0.3, "m/s")),
				Result: relation.Val("share", 0.44, "1"), Digits: 0.02,
			},
		},
		{
			ID: "small-drops", Title: "the water that moved drops leave behind as small drops",
			Equation: "share = low + (high - low) Phi(ln(u/(2 ud))/0.3)",
			Symbols:  []relation.Symbol{symU(), dew, relation.Sym("low", "1", "share when slow"), relation.Sym("high", "1", "share when fast"), share},
			Sources: []relation.Source{
				relation.Cite("podgorski-2001", "running drops grow a corner and leave small ones", relation.SecondHand),
				relation.CommonPractice("the share itself, 3 to 30 %, is judgement"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 3", Factor: 3},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("u", 0.64, "m/s"), relation.Val("ud", 0.32, "m/s"), relation.Val("low", 0.005, "1"), relation.Val("high", 0.1, "1")},
				Result: relation.Val("share", 0.0525, "1"), Digits: 1e-3,
			},
		},
		{
			ID: "critical-film-shear", Title: "the film that air spreads over a dry patch",
			Equation: "h = (6 sigma (1 - cos th) mu^2/(rho tau^2))^(1/3), not above a puddle's height 2 lc sin(th/2)",
			Symbols:  []relation.Symbol{symMu(), symRho(), symTension(), symContact(), symTau(), symFilm()},
			Sources: []relation.Source{
				relation.Cite("hartley-murgatroyd-1964", "force criterion", relation.FromMemory), relation.Derived("dynamic pressure of the film against the pull of the rim"),
			},
			Uncertainty: relation.Uncertainty{Text: "30 %", Share: 0.3},
			Departs:     "faded out between 12 and 6 degrees of receding angle, below which a wall stays wet",
			Example: relation.Example{
				Given:  with20(relation.Val("th", 1.047198, "rad"), relation.Val("tau", 50, "Pa")),
				Result: relation.Val("h", 44.4e-6, "m"), Digits: 3e-3,
			},
		},
		{
			ID: "critical-film-gravity", Title: "the film that weight spreads over a dry patch",
			Equation: "h = (15 sigma (1 - cos th) mu^2/(rho^3 g^2))^(1/5)",
			Symbols:  []relation.Symbol{symMu(), symRho(), symTension(), symContact(), g, symFilm()},
			Sources: []relation.Source{
				relation.Cite("hartley-murgatroyd-1964", "force criterion", relation.FromMemory), relation.Derived("as for shear"),
			},
			Uncertainty: relation.Uncertainty{Text: "30 %", Share: 0.3},
			Example: relation.Example{
				Given:  with20(relation.Val("th", 1.047198, "rad"), relation.Val("g", 9.80665, "m/s2")),
				Result: relation.Val("h", 356e-6, "m"), Digits: 5e-3,
			},
		},
		{
			ID: "film-break-up", Title: "the time in which a thin film breaks",
			Equation: "t = L/(2 ud)",
			Symbols:  []relation.Symbol{lambda, dew, t},
			Limits:   []relation.Limit{relation.Within("L", 1.5e-3, 10e-3, relation.Outside, "holes were never seen so spaced")},
			Sources:  []relation.Source{relation.CommonPractice("holes draw back until they meet; their spacing is judgement")},
			Uncertainty: relation.Uncertainty{
				Text: "a factor of 2.5", Factor: 2.5,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("L", 4e-3, "m"), relation.Val("ud", 0.32175, "m/s")},
				Result: relation.Val("t", 6.216e-3, "s"), Digits: 1e-3,
			},
		},
		{
			ID: "drop-size", Title: "the drops that a broken film leaves",
			Equation: "mean volume = 2.54 (h L)^1.5;  volume-median diameter = (2.54/c)^(1/3) sqrt(h L) exp(1.5 s^2), c the cap's volume factor",
			Symbols: []relation.Symbol{
				symFilm(), lambda, symContact(), relation.Sym("s", "1", "standard deviation of the logarithm of the diameter"), symD(),
			},
			Limits: []relation.Limit{
				relation.AtMost("h", 50e-6, relation.Outside, "a film this thick does not break by itself"),
				relation.AtLeast("h", 1e-6, relation.Outside, ""),
			},
			Sources: []relation.Source{
				relation.Derived("half-round rim between two holes, broken at nine of its radii"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.6", Factor: 1.6},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("h", 5e-6, "m"), relation.Val("L", 4e-3, "m"), relation.Val("th", 1.134464, "rad"), relation.Val("s", 0, "1")},
				Result: relation.Val("d", 0.37e-3, "m"), Digits: 0.02,
			},
		},
	}
}
