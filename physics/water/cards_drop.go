package water

import "leste/physics/relation"

func dropCards() []relation.Card {
	force := relation.Sym("F", "N", "force along the wall")
	drag := relation.Sym("CD", "1", "drag coefficient of the drop on its front")
	capillary := relation.Sym("Ca", "1", "capillary number, viscosity times speed over tension")
	incline := relation.Sym("al", "rad", "slope of the wall, upright is a right angle")
	yp := relation.Sym("y+", "1", "height over the wall in wall units")
	reH := relation.Sym("re_h", "1", "Reynolds number of the drop's height in the air at its top")
	contact := relation.Within("th", 0.17, 2.44, relation.Outside, "a drop this flat or this round is no cap")
	return []relation.Card{
		{
			ID: "moving-contact-angle", Title: "the contact angles of a moving drop",
			Equation: "ta' = (ta^3 + 150 Ca)^(1/3), tr' = (tr^3 - 150 Ca)^(1/3), within 0 and 180 degrees",
			Symbols:  []relation.Symbol{symAdvancing(), symReceding(), capillary},
			Limits:   []relation.Limit{relation.AtMost("ta", 2.36, relation.Caution, "the law is for smaller angles")},
			Sources: []relation.Source{
				relation.Cite("cox-voinov", "", relation.FromMemory),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2 in speed", Factor: 2},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("ta", 1.396263, "rad"), relation.Val("Ca", 0.005, "1")},
				Result: relation.Val("ta", 1.5134, "rad"), Digits: 1e-3,
			},
		},
		{
			ID: "cap", Title: "the shape of a drop",
			Equation: "volume = pi/48 t (3 + t^2) d^3, t = tan(th/2);  front = (th - sin th cos th)/(4 sin^2 th) d^2;  height = t d/2",
			Symbols:  []relation.Symbol{symContact(), symD(), relation.Sym("V", "m3", "volume")},
			Limits:   []relation.Limit{contact, relation.AtMost("d", 11e-3, relation.Caution, "weight flattens a drop this large")},
			Sources:  []relation.Source{relation.Derived("geometry of a spherical cap")},
			Uncertainty: relation.Uncertainty{
				Text: "exact as geometry; drops on a container are 20 % off it", Share: 0.2,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("th", 1.570796, "rad"), relation.Val("d", 2e-3, "m")},
				Result: relation.Val("V", 2.0944e-9, "m3"), Digits: 1e-4,
			},
		},
		{
			ID: "retention", Title: "the force that holds a drop on a wall",
			Equation: "F = 24/pi^3 sigma d (cos tr - cos ta)",
			Symbols:  []relation.Symbol{symTension(), symD(), symAdvancing(), symReceding(), force},
			Sources: []relation.Source{
				relation.Cite("elsherbini-jacobi-2006", "factor 24/pi^3", relation.FromMemory),
				relation.Cite("coninck-2016", "pi/2 per radius at small slopes", relation.SecondHand),
			},
			Uncertainty: relation.Uncertainty{Text: "20 %; the contact angles matter more", Share: 0.2},
			Example: relation.Example{
				Given:  with20(relation.Val("d", 2e-3, "m"), relation.Val("ta", 1.396263, "rad"), relation.Val("tr", 0.872665, "rad")),
				Result: relation.Val("F", 5.283e-5, "N"), Digits: 1e-3,
			},
		},
		{
			ID: "slide", Title: "the largest drop that stays on a sloping wall",
			Equation: "d = sqrt(24/pi^3 sigma (cos tr - cos ta)/(rho g c sin al)), c the cap's volume factor",
			Symbols:  []relation.Symbol{symRho(), symTension(), symAdvancing(), symReceding(), incline, symD()},
			Sources:  []relation.Source{relation.Derived("retention against weight")},
			Uncertainty: relation.Uncertainty{
				Text: "15 % of diameter at known angles", Share: 0.15,
			},
			Example: relation.Example{
				Given:  with20(relation.Val("ta", 1.396263, "rad"), relation.Val("tr", 0.872665, "rad"), relation.Val("al", 1.570796, "rad")),
				Result: relation.Val("d", 4.3589e-3, "m"), Digits: 1e-4,
			},
		},
		{
			ID: "law-of-the-wall", Title: "the air speed near a wall",
			Equation: "u+ = 2.5 ln(1 + 0.4 y+) + 7.8 (1 - exp(-y+/11) - y+/11 exp(-0.33 y+))",
			Symbols:  []relation.Symbol{yp, relation.Sym("u+", "1", "speed over friction velocity")},
			Limits:   []relation.Limit{relation.Within("y+", 0, 1000, relation.Outside, "the outer layer begins")},
			Sources:  []relation.Source{relation.Cite("reichardt-1951", "", relation.FromMemory)},
			Uncertainty: relation.Uncertainty{
				Text: "5 % in a channel, 20 % under a jet", Share: 0.2,
			},
			Example: relation.Example{
				Given:  []relation.Value{relation.Val("y+", 100, "1")},
				Result: relation.Val("u+", 17.083, "1"), Digits: 1e-4,
			},
		},
		{
			ID: "drop-balance", Title: "the smallest drop that the air moves",
			Equation: "1/2 CD rho_a u(top)^2 a d^2 + c d^3 (dp/ds + rho g) = 24/pi^3 sigma d (cos tr' - cos ta')",
			Symbols: []relation.Symbol{
				symAirDensity(), symTau(), relation.Sym("ue", "m/s", "air speed outside the wall layer"), drag, symTension(),
				symAdvancing(), symReceding(), symContact(), reH, relation.Sym("v", "m/s", "speed the drop must reach"), symD(),
			},
			Limits: []relation.Limit{
				contact,
				relation.AtLeast("re_h", 50, relation.Caution, "drag is underrated for drops this small"),
			},
			Sources: []relation.Source{
				relation.Cite("white-schmucker-2021", "drops set off at a Weber number of 7.9", relation.SecondHand),
				relation.Derived("balance of drag, pressure, weight and retention; the drag coefficient is anchored on that number"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 1.7 in diameter", Factor: 1.7},
			Example: relation.Example{
				Given: with20(
					relation.Val("rho_a", 1.1644, "kg/m3"), relation.Val("nu", 1.6e-5, "m2/s"), relation.Val("tau", 75, "Pa"), relation.Val("ue", 93, "m/s"),
					relation.Val("CD", 0.2, "1"), relation.Val("ta", 1.396263, "rad"), relation.Val("tr", 0.872665, "rad"), relation.Val("v", 1, "m/s"),
				),
				Result: relation.Val("d", 2.7239e-4, "m"), Digits: 2e-3,
			},
		},
		{
			ID: "ridge", Title: "the water that stays where jets meet",
			Equation: "height = 2 sigma (cos tr - cos ta)/(rho_a ua^2);  cross-section = a d^2, d the smaller of that ridge's width and the width that slides",
			Symbols: []relation.Symbol{
				symTension(), symAdvancing(), symReceding(), symAirDensity(), symAirSpeed(), incline, relation.Sym("A", "m2", "cross-section"),
			},
			Limits: []relation.Limit{relation.AtLeast("ua", 10, relation.Caution, "water collects here")},
			Sources: []relation.Source{
				relation.CommonPractice("drag coefficient 1 on a ridge is judgement"), relation.Derived("retention against drag, and against weight"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2", Factor: 2},
			Example: relation.Example{
				Given: with20(relation.Val("rho_a", 1.2, "kg/m3"), relation.Val("ua", 20, "m/s"), relation.Val("ta", 1.396263, "rad"),
					relation.Val("tr", 0.872665, "rad"), relation.Val("al", 1.570796, "rad")),
				Result: relation.Val("A", 4.6e-8, "m2"), Digits: 0.02,
			},
		},
		{
			ID: "mist", Title: "when a ridge is torn into mist, and how fine",
			Equation: "torn above rho_a ua^2 h/sigma = 10;  drop diameter = 12 sigma/(rho_a ua^2)",
			Symbols:  []relation.Symbol{symTension(), symAirDensity(), symAirSpeed(), symFilm(), symD()},
			Sources: []relation.Source{
				relation.Cite("pilch-erdman-1987", "critical Weber number 12", relation.FromMemory), relation.CommonPractice("the onset at 10 is judgement"),
			},
			Uncertainty: relation.Uncertainty{Text: "a factor of 2 in size", Factor: 2},
			Example: relation.Example{
				Given:  with20(relation.Val("rho_a", 1.15, "kg/m3"), relation.Val("ua", 50, "m/s")),
				Result: relation.Val("d", 0.3036e-3, "m"), Digits: 1e-3,
			},
		},
	}
}
