package validation

import (
	"fmt"

	"leste/physics/jet"
	"leste/physics/relation"
	waters "leste/physics/water"
	q "leste/quantity"
)

// rows: how uneven the velocity is in front of an endless row of nozzles.
func rows(l *list) {
	g := group{l: l, relation: "nozzle-row", source: "Gaussian jets added by momentum flux, summed by an independent program, whole percents", basis: relation.Rederived, unit: "%", least: 0.55}
	r := jet.Row{Spacing: .05, Thrust: 1}
	for _, c := range [][2]float64{{4, 57}, {5, 35}, {6, 18}, {7, 8}, {8, 3}, {9, 1}} {
		g.row(fmt.Sprintf("row-ripple-at-%g-spacings", c[0]), c[1], 100*float64(r.Ripple(q.Length(c[0]*.05))))
	}
	g.least = 0.006
	g.row("row-ripple-at-12-spacings", 0.02, 100*float64(r.Ripple(12*.05)))
}

// aslant: where the momentum of a jet goes along a wall that it hits aslant.
func aslant(l *list) {
	plane := group{l: l, relation: "oblique-plane", source: "momentum along the wall, by hand", basis: relation.Rederived, unit: "1", least: 5e-4}
	for _, c := range [][3]float64{{90, .5, .5}, {60, .75, .25}, {45, .8536, .1464}, {30, .9330, .0670}} {
		forward, back := jet.PlaneSplit(deg(c[0]))
		plane.row(fmt.Sprintf("split-%g-deg-forward", c[0]), c[1], float64(forward))
		plane.row(fmt.Sprintf("split-%g-deg-back", c[0]), c[2], float64(back))
	}
	round := group{l: l, relation: "oblique-round", source: "Hasson and Peck (1964), thin sheet", basis: relation.FromMemory, unit: "1"}
	for _, c := range []struct{ incidence, forward, back, digit float64 }{{60, 2.60, .29, .01}, {45, 4.12, .12, .01}, {30, 6.96, .036, .001}} {
		round.least = 0.55 * .01
		round.row(fmt.Sprintf("share-%g-deg-forward", c.incidence), c.forward, float64(jet.RoundShare(deg(c.incidence), deg(0))))
		round.least = 0.55 * c.digit
		round.row(fmt.Sprintf("share-%g-deg-back", c.incidence), c.back, float64(jet.RoundShare(deg(c.incidence), deg(180))))
	}
	g := group{l: l, relation: "impact-gradient", source: "slope of the pressure shape, by hand", basis: relation.Rederived, share: 2e-3}
	for _, c := range []struct {
		name      string
		shape     jet.Shape
		slope, at float64
	}{{"slot", jet.Plane, 5.32, .114}, {"nozzle", jet.Round, 8.58, .0707}} {
		slope, at := c.shape.MaxPressureGradient(1, 1)
		g.unit = "Pa/m"
		g.row("steepest-"+c.name, c.slope, float64(slope))
		g.unit = "m"
		g.row("steepest-"+c.name+"-offset", c.at, float64(at))
	}
}

// edges: discharge coefficients. The sharp edge is compared down to the digit that the reference prints.
func edges(l *list) {
	g := group{l: l, relation: "discharge-coefficient", source: "long-radius nozzle of ISO 5167-3, public library fluids 1.0.22", basis: relation.Published, unit: "1", least: 6e-4}
	for _, c := range [][2]float64{{1e4, .931}, {5e4, .967}, {1e5, .976}, {2e5, .982}} {
		cd, err := jet.DischargeCoefficient(jet.RoundedNozzle, jet.Opening{Reynolds: q.Ratio(c[0])})
		if err == nil {
			g.row(fmt.Sprintf("rounded-nozzle-at-%g", c[0]), c[1], cd.Likely)
		}
	}
	g.source, g.basis = "Jobson (1955), method with contraction 0.611, independent program", relation.Rederived
	for _, c := range [][2]float64{{5, .619}, {10, .626}, {20, .642}, {30, .656}, {50, .686}, {100, .753}, {400, .841}, {600, .852}} {
		cd, err := jet.DischargeCoefficient(jet.SharpEdge, jet.Opening{Gas: jet.DryAir(), Ratio: q.Ratio(seaLevel / (seaLevel + 1e3*c[0]))})
		if err == nil {
			g.row(fmt.Sprintf("sharp-edge-at-%g-kpa", c[0]), c[1], cd.Likely)
		}
	}
}

// wiping: films behind a Gaussian impact of half-width 3 mm, its steepest pressure where its shear is greatest.
func wiping(l *list) {
	w := waters.Pure(q.Celsius(20))
	g := group{l: l, relation: "wiped-film", source: "brute-force maximum of the flux, independent program", basis: relation.Rederived, unit: "um"}
	const half, steepest = 3e-3, 0.7141 // m; greatest slope of a Gaussian over peak and half-width
	kpa := []float64{0.5, 1.5, 5}
	for _, c := range []struct {
		u, tau float64
		um     [3]float64
		digit  float64
	}{
		{0.5, 20, [3]float64{11.5, 10.2, 7.9}, .1},
		{0.5, 100, [3]float64{2.49, 2.47, 2.41}, .01},
		{1, 20, [3]float64{21.5, 17.9, 13.0}, .1},
		{1, 50, [3]float64{9.7, 9.2, 8.1}, .1},
		{1, 100, [3]float64{4.97, 4.89, 4.67}, .01},
		{1, 200, [3]float64{2.50, 2.49, 2.46}, .01},
		{2, 20, [3]float64{38.8, 30.2, 20.5}, .1},
		{2, 100, [3]float64{9.9, 9.6, 8.8}, .1},
	} {
		g.least = 0.55 * c.digit
		for i, p := range kpa {
			film := waters.WipedFilm(w, q.Speed(c.u), q.Stress(c.tau), q.PressureGradient(steepest*1e3*p/half))
			g.row(fmt.Sprintf("impact-%g-m-s-%g-pa-%g-kpa", c.u, c.tau, p), c.um[i], 1e6*float64(film))
		}
	}
	g = group{l: l, relation: "wiped-film", source: "closed form of the dimensionless throat, by hand", basis: relation.Rederived, unit: "1", share: 2e-5}
	for _, c := range [][3]float64{{0, 4, 1.0 / 3}, {1, 1, .348362}, {1, 4, .234858}, {5, 100, .046972}, {10, 100, .034836}, {10, 0, .05}} {
		g.row(fmt.Sprintf("throat-shear-%g-slope-%g", c[0], c[1]), c[2], waters.WipedFilmSI(1, 1, c[0], c[1]))
	}
}
