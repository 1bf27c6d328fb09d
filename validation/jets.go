package validation

import (
	"fmt"
	"math"

	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	q "leste/quantity"
)

const seaLevel = 101325.0 // Pa

// discharge: isentropic flow from a plenum at 20 degC. The values were integrated numerically as dp/rho apart
// from this program, and agree with the expansibility of ISO 5167-3 in a public library.
func discharge(l *list) {
	const by = "isentropic flow, integral of dp/rho by an independent program; public library fluids 1.0.22 agrees"
	for _, c := range []struct{ kpa, mach, u, flux, thrust float64 }{
		{5, 0.2632, 89.73, 109.54, 9829},
		{10, 0.3692, 125.02, 154.64, 19332},
		{20, 0.5139, 171.90, 217.92, 37461},
		{30, 0.6201, 205.11, 265.97, 54552},
		{50, 0.7792, 252.55, 341.02, 86123},
		{100, 1, 313.33, 475.22, 153930},
	} {
		d := jet.DryAir().Isentropic(q.Absolute(seaLevel+c.kpa*1e3), q.Celsius(20), seaLevel)
		g := group{l: l, relation: "discharge", source: by, basis: relation.Rederived, unit: "m/s", share: 2e-4}
		g.row(fmt.Sprintf("discharge-speed-%g-kpa", c.kpa), c.u, float64(d.Velocity))
		g.unit = "kg/(m2 s)"
		g.row(fmt.Sprintf("discharge-flux-%g-kpa", c.kpa), c.flux, float64(d.MassFlow(1, 1)))
		g.relation, g.unit = "thrust", "Pa"
		g.row(fmt.Sprintf("thrust-%g-kpa", c.kpa), c.thrust, float64(d.ThrustFlux(1)))
	}
	g := group{l: l, relation: "discharge", source: "critical pressure ratio of air, gas dynamics textbooks", basis: relation.Published, unit: "1", share: 1e-5}
	g.row("critical-ratio", 0.52828, float64(jet.DryAir().CriticalRatio()))
}

// orifice: free air through a quarter-inch hole of coefficient 1; the table is rounded to three digits.
func orifice(l *list) {
	const psi, inch, cfm = 6894.757293, 0.0254, 4.719474432e-4
	g := group{
		l: l, relation: "orifice-table", source: "discharge of air through an orifice, table of free-air flow (public copies), 1/4 in, coefficient 1",
		basis: relation.Published, unit: "cfm", share: 0.008,
	}
	gas := jet.DryAir()
	t := q.Temperature((70 + 459.67) / 1.8)
	pa := q.Absolute(14.7 * psi)
	for _, c := range [][2]float64{{1, 7.18}, {5, 15.9}, {9, 21.1}, {15, 26.9}, {50, 58.6}, {100, 104}, {125, 126}} {
		m := gas.Isentropic(pa+q.Absolute(c[0]*psi), t, pa).MassFlow(1, q.Area(math.Pi/4*math.Pow(0.25*inch, 2)))
		g.row(fmt.Sprintf("orifice-%g-psig", c[0]), c[1], float64(jet.FreeAirFlow(m, gas.Density(pa, t)))/cfm)
	}
}

// impact: pressure and shear of air jets of 172 m/s in air of 1.2 kg/m3 and 1.5e-5 m2/s.
func impact(l *list) {
	const rho, nu, plenum = 1.2, 1.5e-5, 20e3
	const memory = "Beltaos and Rajaratnam (1973, 1974), constants adjusted to keep the thrust"
	for _, c := range []struct{ m, h, p, us, tau, at float64 }{
		{35.5, 0.05, 2485, 64.4, 18.78, 7.75}, {35.5, 0.1, 1243, 45.5, 7.90, 15.5}, {71, 0.1, 2485, 64.4, 13.3, 15.5}, {17.75, 0.025, 2485, 64.4, 26.6, 3.88},
	} {
		he := jet.PlaneDistance(q.Length(c.h), q.ThrustPerLength(c.m), plenum)
		p := jet.PlaneImpactPressure(q.ThrustPerLength(c.m), he)
		us := jet.ImpactVelocity(p, rho)
		tau, at := jet.Plane.MaxWallShear(us, he, rho, nu)
		id := fmt.Sprintf("slot-%g-n-m-at-%g-mm", c.m, c.h*1e3)
		group{l: l, relation: "impact-pressure", source: memory, basis: relation.FromMemory, unit: "Pa", share: 1e-3}.row(id+"-pressure", c.p, float64(p))
		group{l: l, relation: "impact-pressure", source: "Bernoulli, by hand", basis: relation.Rederived, unit: "m/s", share: 1.5e-3}.row(id+"-velocity", c.us, float64(us))
		g := group{l: l, relation: "wall-shear", source: "laminar boundary layer under the pressure shape, independent program", basis: relation.Rederived, unit: "Pa", share: 4e-3}
		g.row(id+"-shear", c.tau, float64(tau))
		g.unit = "mm"
		g.row(id+"-offset", c.at, at.MM())
	}
	for _, c := range []struct{ m, h, p, us, tau, at float64 }{{4.015, 0.15, 5675, 97.3, 27.27, 13.5}, {17.43, 0.46, 2619, 66.1, 8.73, 41.4}} {
		he := jet.RoundDistance(q.Length(c.h), q.Force(c.m), plenum)
		p := jet.RoundImpactPressure(q.Force(c.m), he)
		us := jet.ImpactVelocity(p, rho)
		tau, at := jet.Round.MaxWallShear(us, he, rho, nu)
		id := fmt.Sprintf("nozzle-%g-n-at-%g-mm", c.m, c.h*1e3)
		group{l: l, relation: "impact-pressure", source: memory, basis: relation.FromMemory, unit: "Pa", share: 1e-3}.row(id+"-pressure", c.p, float64(p))
		g := group{l: l, relation: "wall-shear", source: "Phares, Smedley and Flagan (2000), as quoted in two documents", basis: relation.SecondHand, unit: "Pa", share: 4e-3}
		g.row(id+"-shear", c.tau, float64(tau))
		g.unit = "mm"
		g.row(id+"-offset", c.at, at.MM())
		group{l: l, relation: "impact-pressure", source: "Bernoulli, by hand", basis: relation.Rederived, unit: "m/s", share: 1.5e-3}.row(id+"-velocity", c.us, float64(us))
	}
	wall := group{
		l: l, relation: "plane-wall-jet", source: "Rajaratnam (1976) and Bradshaw and Gee (1960)", basis: relation.FromMemory, unit: "m/s", share: 2e-3,
	}
	for _, c := range [][3]float64{{15, 61.1, 17.25}, {50, 46.6, 9.54}, {100, 36.8, 5.71}} {
		u, tau := jet.PlaneWallJetSI(17.75, rho, nu, 64.36, c[0]*1e-3, 0.05)
		w := wall
		w.row(fmt.Sprintf("wall-jet-%g-mm-speed", c[0]), c[1], u)
		w.unit = "Pa"
		w.row(fmt.Sprintf("wall-jet-%g-mm-shear", c[0]), c[2], tau)
	}
}

// freeJets: velocity decay far from the outlet over the exit velocity.
func freeJets(l *list) {
	slot := group{l: l, relation: "plane-jet", source: "Gutmark and Wygnanski (1976), Heskestad (1965), Rajaratnam (1976): 2.3 to 2.6 in sqrt(gap over distance)", basis: relation.FromMemory, unit: "1", least: 0.15}
	slot.row("slot-decay", 2.45, float64(jet.PlaneVelocity(1.2*100*100*1e-3, 1.2, 0.1, 1e3))/100*math.Sqrt(100))
	round := group{l: l, relation: "round-jet", source: "Hussein, Capp and George (1994), Pope (2000): 5.7 to 6.3 in bore over distance", basis: relation.SecondHand, unit: "1", least: 0.3}
	m := 1.2 * 100 * 100 * math.Pi / 4 * 0.02 * 0.02
	round.row("nozzle-decay", 6.0, float64(jet.RoundVelocity(q.Force(m), 1.2, 0.4, 1e3))/100*20)
}

// heat: impinging jets and a cylinder across a stream, air of 1.589e-5 m2/s and Prandtl number 0.707.
func heat(l *list) {
	const pr = 0.707
	martin := group{l: l, relation: "heat-single-slot", source: "Martin (1977), as in public codes", basis: relation.SecondHand, unit: "1", share: 1e-3}
	martin.row("martin-slot", 58.98, float64(air.SingleSlot{Gap: .005, Distance: .025, Reach: .05}.Nusselt(18880, pr)))
	martin.relation = "heat-single-nozzle"
	martin.row("martin-nozzle", 85.25, float64(air.SingleNozzle{Bore: .012, Distance: .072, Radius: .06}.Nusselt(37760, pr)))
	martin.row("martin-nozzle-far", 233.7, float64(air.SingleNozzle{Bore: .025, Distance: .3, Radius: .125}.Nusselt(188798, pr)))
	martin.row("martin-nozzle-exercise", 17.65, float64(air.SingleNozzle{Bore: .001, Distance: .005, Radius: .0025}.Nusselt(1536, .683)))
	martin.source, martin.basis = "Martin (1977), array forms", relation.FromMemory
	martin.relation = "heat-nozzle-field"
	martin.row("martin-nozzle-field", 76.18, float64(air.NozzleField{Bore: .01, Distance: .04, Spacing: .06}.Nusselt(25173, pr)))
	martin.relation = "heat-slot-field"
	martin.row("martin-slot-field", 33.21, float64(air.SlotField{Gap: .002, Distance: .02, Spacing: .1}.Nusselt(15104, pr)))
	martin.row("martin-slot-field-far", 20.84, float64(air.SlotField{Gap: .001, Distance: .05, Spacing: .1}.Nusselt(21397, pr)))
	line := group{l: l, relation: "heat-slot-line", source: "Gardon and Akfirat (1966)", basis: relation.FromMemory, unit: "1", share: 2e-3}
	line.row("gardon-akfirat", 23.06, float64(air.SlotLine{Gap: .001, Distance: .05}.Nusselt(10699)))
	cylinder := group{l: l, relation: "heat-cylinder", source: "Churchill and Bernstein (1977); textbook example 7.3 as documented by a public library", basis: relation.Published, unit: "1", share: 1e-8}
	cylinder.row("churchill-bernstein", 40.63708594, float64(air.CylinderNusselt(6071, .7)))
}

// trade: facts of the trade that the jets must show untuned.
func trade(l *list) {
	// A jet is taken to be useful down to a quarter of its exit velocity; the trade names no criterion.
	exit := jet.DryAir().Isentropic(seaLevel+20e3, q.Celsius(50), seaLevel)
	quarter := q.Speed(0.25 * float64(exit.Velocity))
	slot := func(mm float64) float64 {
		return jet.PlaneReach(exit.ThrustPerLength(0.95, 0.97, q.Millimetres(mm)), 1.2, quarter).MM()
	}
	nozzle := func(mm float64) float64 {
		return jet.RoundReach(exit.Thrust(0.98, 0.97, q.Area(math.Pi/4*mm*mm*1e-6)), 1.2, quarter).MM()
	}
	reach := group{l: l, relation: "reach", source: "an air knife of 0.8 to 1.5 mm works within about 100 mm of a smooth wall", basis: relation.Practice, unit: "mm", share: 0.15}
	reach.row("knife-reach-of-both-gaps", 100, (slot(0.8)+slot(1.5))/2)
	reach.source, reach.share = "nozzles of 19 to 38 mm hold useful velocity to about 460 mm and beyond", 0.10
	reach.row("manifold-reach-19-mm", 460, nozzle(19))
	grows := func(a, b float64) float64 {
		if b > a {
			return 1
		}
		return 0
	}
	reach.unit, reach.least = "1", 0.5
	for _, bore := range []float64{25, 32, 38} {
		reach.row(fmt.Sprintf("manifold-holds-460-mm-%g-mm", bore), 1, grows(460, nozzle(bore)))
	}
	rises := group{l: l, relation: "thrust", source: "thrust rises with pressure and with the opening", basis: relation.Practice, unit: "1", least: 0.5}
	more := jet.DryAir().Isentropic(seaLevel+25e3, q.Celsius(50), seaLevel)
	rises.row("thrust-rises-with-pressure", 1, grows(float64(exit.ThrustFlux(1)), float64(more.ThrustFlux(1))))
	rises.row("thrust-rises-with-gap", 1, grows(float64(exit.ThrustPerLength(1, 1, 1e-3)), float64(exit.ThrustPerLength(1, 1, 1.5e-3))))
	ratio := group{l: l, relation: "power-per-thrust", source: "a blower does the same duty on about 20 % of the energy of compressed air", basis: relation.Practice, unit: "1", least: 0.06}
	gas := jet.DryAir()
	blower := gas.BlowerPowerPerThrust(seaLevel, q.Celsius(20), 20e3, 0.6, 0.93, 0.97)
	rival := gas.CompressedAirPowerPerThrust(seaLevel, q.Celsius(20), 6e5, 6.6e3*60, 1.188, 0.97)
	ratio.row("blower-over-compressed-air-per-newton", 0.20, float64(blower)/float64(rival))
}
