package airsupply

import (
	"context"
	"math"

	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Check is one reference value and what this package computes for it. Computed is NaN when the computation
// failed, which is then a failed check.
type Check struct {
	ID        string
	Relation  string // ID of a card
	Source    string
	Basis     relation.Basis
	Expected  float64
	Computed  float64
	Tolerance float64 // absolute, in Unit
	Unit      string
}

// Pass reports whether the computed value lies within the tolerance.
func (c Check) Pass() bool { return math.Abs(c.Computed-c.Expected) <= c.Tolerance }

// Checks runs the reference checks of the air side.
func Checks(ctx context.Context) []Check {
	var l checkList
	l.paths()
	l.outlets()
	l.machines()
	l.drives()
	l.worked(ctx)
	return l
}

type checkList []Check

func (l *checkList) add(id, card, source string, basis relation.Basis, expected, computed, tolerance float64, unit string) {
	*l = append(*l, Check{id, card, source, basis, expected, computed, tolerance, unit})
}

const (
	fluidsLibrary = "public library fluids 1.0.22"
	scipyProgram  = "independent integration with scipy 1.10"
	ownProgram    = "independent program of the same relations"
)

func (l *checkList) paths() {
	for _, c := range []struct {
		id           string
		re, rough, f float64
	}{
		{"friction-smooth", 1e5, 0, 0.01798977308427384},
		{"friction-usual", 1e5, 1e-3, 0.022174535944515086},
		{"friction-rough", 1e5, 0.05, 0.07178092944114035},
		{"friction-transition-end", 4000, 1e-4, 0.0400084312335555},
	} {
		l.add(c.id, "duct-friction", "Colebrook 1939 solved by "+fluidsLibrary, relation.Published, c.f, float64(Friction(q.Ratio(c.re), q.Ratio(c.rough))), 1e-9, "1")
	}
	g := newGas(287.05, 1.4*287.05/0.4)
	for _, c := range []struct {
		id                string
		gauge, v, k, want float64
	}{
		{"fanno-slow", 10e3, 30, 2, 1067.9179052092},
		{"fanno-usual", 20e3, 50, 5, 8412.53169897029},
		{"fanno-fast", 20e3, 100, 2, 14486.087863044353},
		{"fanno-near-choking", 30e3, 80, 5, 25690.178680444853},
	} {
		m2 := c.v * c.v / (g.k * g.r * 330)
		base := 1 + g.half*m2
		p1 := 101325 + c.gauge
		loss, _ := g.pieceLoss(c.k, 1, c.v*p1/(g.r*330), p1*math.Pow(base, g.ratio), 330*base)
		l.add(c.id, "duct-loss", "exact flow with friction in a constant area (Fanno)", relation.Rederived, c.want, loss, 1e-4*c.want, "Pa")
	}
	const half, quarter = 0.5, 0.25
	l.add("tee-side-equal", "tee-loss", "Crane TP-410 as in "+fluidsLibrary, relation.Published, 1.155625, float64(DividingSide(q.Degrees(90), 1, half)), 1e-9, "1")
	l.add("tee-side-slanted", "tee-loss", "Crane TP-410 as in "+fluidsLibrary, relation.Published, 0.6026046179957173, float64(DividingSide(q.Degrees(45), 1, quarter)), 1e-9, "1")
	l.add("tee-run-regains", "tee-loss", "Idelchik diagram 7-20 as in "+fluidsLibrary, relation.Published, -0.0625, float64(DividingRun(1, quarter)), 1e-9, "1")
	l.add("tee-joining-side", "tee-loss", "Crane TP-410 as in "+fluidsLibrary, relation.Published, 0.4125, float64(ConvergingSide(q.Degrees(90), 1, half)), 1e-9, "1")
	l.add("tee-joining-run", "tee-loss", "Crane TP-410 as in "+fluidsLibrary, relation.Published, 0.3975, float64(ConvergingRun(q.Degrees(45), 1, half)), 1e-9, "1")
	l.add("wye-hager", "wye-loss", "Hager 1984, by hand", relation.FromMemory, 0.14767095, float64(WyeSide(Hager, q.Degrees(30), 0.5/0.5625)), 1e-7, "1")
}

func (l *checkList) outlets() {
	for _, c := range []struct {
		id         string
		m, f, want float64
	}{
		{"plenum-without-friction", 0.5, 0, 0.12241743810971142},
		{"plenum-with-friction", 0.5, 1, 0.08063776903435713},
		{"plenum-long", 0.2, 5, 0.014070923888264412},
	} {
		d, _ := Distribute(PlenumGroups{q.Ratio(c.m), q.Ratio(c.f)}, 1)
		l.add(c.id, "plenum", scipyProgram, relation.Rederived, c.want, float64(d.NonUniformity), 2e-6, "1")
	}
	d, _ := Distribute(PlenumGroups{0.02, 2.9}, 1)
	v0, vl := float64(d.AtFeed), float64(d.AtEnd)
	l.add("plenum-regime", "plenum", "Wang 2001: the pressure still rises at a friction group of 2.9", relation.Published,
		1-2.9/3, (vl*vl-v0*v0)/(0.02*0.02*float64(d.Mean*d.Mean)), 2e-3, "1")
}

func (l *checkList) machines() {
	s, err := newSpline([]float64{0, .1, .2, .3, .4}, []float64{22000, 21500, 19500, 15500, 9500})
	value := math.NaN()
	if err == nil {
		value, _ = s.at(.25)
	}
	l.add("curve-between-points", "blower-similarity", "Fritsch and Carlson 1980 as in scipy", relation.Published, 17766.6666667, value, 1e-4, "Pa")
	g := newGas(1004.675/3.5, 1004.675)
	l.add("compression-work", "isentropic-compression", ownProgram, relation.Rederived, 15555.4, g.work(1+20e3/101325.0, 293.15), 0.1, "J/kg")
	m := WorkedCase(1.2e-3).Blowers[0].Machine
	l.add("motor-demand-site", "blower-similarity", ownProgram, relation.Rederived, 3402, float64(m.GreatestPower(1, WorkedSite().Inlet.Density())), 1, "W")
	cold := air.Humid(101325, q.Celsius(-5), 0.8)
	l.add("motor-demand-cold", "blower-similarity", ownProgram, relation.Rederived, 4040, float64(m.GreatestPower(1, cold.Density())), 1, "W")
}

func (l *checkList) drives() {
	eta, err := Motor{Rated: 4000, Class: IE3, Poles: 4}.FullLoad()
	if err != nil {
		eta = q.Ratio(math.NaN())
	}
	l.add("motor-full-load", "motor-efficiency", "IEC 60034-30-1, 4 kW, 4 poles, IE3", relation.Published, 88.6, 100*float64(eta), 1e-9, "%")
	l.add("motor-part-load", "motor-efficiency", "US DOE part-load table, 7.5 hp premium, half load", relation.Published, 91.458, 100*float64(PartLoad(.91534, .5)), 1, "%")
	l.add("belt", "belt-efficiency", "AMCA 207 as in EnergyPlus, 5.5 kW", relation.SecondHand, 94.76, 100*float64(BeltEfficiency(5500)), 0.006, "%")
	l.add("inverter", "inverter-efficiency", "US DOE 2008 as in EnergyPlus, 20 hp at half", relation.SecondHand, 95.13, 100*float64(InverterEfficiency(20*horsepower, .5)), 0.006, "%")
}

// worked checks the whole supply: flow, pressures, power, temperature.
func (l *checkList) worked(ctx context.Context) {
	nan := math.NaN()
	flow, rise, plenum, jet, drawn, warm, uneven := nan, nan, nan, nan, nan, nan, nan
	if op, err := Solve(ctx, WorkedCase(1.2e-3), WorkedSite()); err == nil {
		b, o := op.Blowers[0], op.Outlets[0]
		flow, rise, plenum, jet = float64(b.Flow), float64(b.Rise), float64(o.Feed), float64(o.Velocity)
		drawn, warm, uneven = float64(b.Drive.Grid), b.Discharge.C(), 100*o.NonUniformity.Likely
	}
	const source = "two independent programs: a march with bracketing and an integration"
	for _, c := range []struct {
		id, card, unit            string
		want, computed, tolerance float64
	}{
		{"supply-flow", "blower-similarity", "kg/s", .121242, flow, .121242 * 1e-3},
		{"supply-rise", "blower-similarity", "Pa", 17286.5, rise, 17.3},
		{"supply-plenum", "duct-loss", "Pa", 16516.9, plenum, 16.5},
		{"supply-jet", "duct-loss", "m/s", 169.62, jet, .17},
		{"supply-mains", "motor-efficiency", "W", 3445.1, drawn, 3.4},
		{"supply-discharge", "isentropic-compression", "degC", 46.88, warm, 0.1},
		{"supply-evenness", "plenum", "%", .50, uneven, 0.01},
	} {
		l.add(c.id, c.card, source, relation.Rederived, c.want, c.computed, c.tolerance, c.unit)
	}
	refused := 0.0
	for _, gap := range []q.Length{4e-3, 0.4e-3} {
		if _, err := Solve(ctx, WorkedCase(gap), WorkedSite()); err != nil {
			refused++
		}
	}
	l.add("supply-refusals", "blower-similarity", "slots of 4 and 0.4 mm lie outside the curve", relation.Rederived, 2, refused, 0, "1")
}
