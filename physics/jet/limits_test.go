package jet

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"leste/physics/air"
	"leste/quantity"
)

// A free jet carries its thrust at every distance: profile, spreading and decay add up to it, the slot's within 2 %,
// the nozzle's within 7 %, which is what its measured decay and spreading leave open (card nozzle-row joins them).
func TestLawFreeJetsCarryTheirThrust(t *testing.T) {
	const n, rho = 4000, 1.2
	for _, x := range []float64{0.05, 0.2, 1} {
		plane, round := 0.0, 0.0
		u := float64(PlaneVelocity(35.5, rho, quantity.Length(x), quantity.Speed(math.Inf(1))))
		v := float64(RoundVelocity(4, rho, quantity.Length(x), quantity.Speed(math.Inf(1))))
		for i := range n {
			y := (float64(i) + 0.5) / n * x
			a := u * float64(Profile(quantity.Length(y), PlaneHalfWidth(quantity.Length(x))))
			b := v * float64(Profile(quantity.Length(y), RoundHalfWidth(quantity.Length(x))))
			plane += 2 * rho * a * a * x / n
			round += 2 * math.Pi * y * rho * b * b * x / n
		}
		if math.Abs(plane/35.5-1) > 0.02 || math.Abs(round/4-1) > 0.07 {
			t.Errorf("at %g m: slot %g of 35.5 N/m, nozzle %g of 4 N", x, plane, round)
		}
	}
	if half := Profile(PlaneHalfWidth(0.1), PlaneHalfWidth(0.1)); math.Abs(float64(half)-0.5) > 1e-12 {
		t.Errorf("at the half-width %g of the velocity is left", half)
	}
}

// How far a velocity reaches is where the jet has it.
func TestLawReachInverts(t *testing.T) {
	for u := quantity.Speed(5); u < 150; u *= 1.5 {
		free := quantity.Speed(math.Inf(1))
		if back := PlaneVelocity(35.5, 1.2, PlaneReach(35.5, 1.2, u), free); math.Abs(float64(back/u)-1) > 1e-12 {
			t.Errorf("slot: %g m/s became %g", u, back)
		}
		if back := RoundVelocity(4, 1.2, RoundReach(4, 1.2, u), free); math.Abs(float64(back/u)-1) > 1e-12 {
			t.Errorf("nozzle: %g m/s became %g", u, back)
		}
	}
}

// The ends take nothing from the middle of a long slot at its lip, half at the ends, all beside it, and far away
// spread the same thrust over the whole width.
func TestLawSlotEnds(t *testing.T) {
	for z, want := range map[float64]float64{-0.1: 0, 0: 0.5, 0.15: 1, 0.3: 0.5, 0.4: 0} {
		if got := EndFactorSI(0, z, 0.3); got != want {
			t.Errorf("in the lip at %g m: %g, want %g", z, got, want)
		}
	}
	for _, x := range []float64{0.05, 0.3, 2} {
		sum := 0.0
		for z := -8.0; z < 8; z += 1e-3 {
			sum += float64(EndFactor(quantity.Length(x), quantity.Length(z), 0.3)) * 1e-3
		}
		if math.Abs(sum/0.3-1) > 1e-6 {
			t.Errorf("at %g m the slot's thrust adds up to %g of 0.3", x, sum)
		}
	}
}

// Within the core the impact is the plenum's pressure, beyond it falls, with no step between.
func TestLawImpactJoinsTheCore(t *testing.T) {
	const m, pg = 35.5, 20e3
	core := PlaneImpact * m / pg
	press := func(h float64) float64 {
		return float64(PlaneImpactPressure(m, PlaneDistance(quantity.Length(h), m, pg)))
	}
	for _, h := range []float64{0, core / 2, core, core * (1 + 1e-9)} {
		if p := press(h); math.Abs(p/pg-1) > 1e-6 {
			t.Errorf("slot at %g m: %g Pa", h, p)
		}
	}
	if p := press(2 * core); math.Abs(p/pg-0.5) > 1e-9 {
		t.Errorf("slot at twice its core: %g Pa", p)
	}
	const thrust = 4.015
	reach := math.Sqrt(RoundImpact * thrust / pg)
	for h, share := range map[float64]float64{0: 1, reach: 1, 2 * reach: 0.25} {
		p := float64(RoundImpactPressure(thrust, RoundDistance(quantity.Length(h), thrust, pg)))
		if math.Abs(p/pg-share) > 1e-9 {
			t.Errorf("nozzle at %g m: %g Pa", h, p)
		}
	}
	if u := ImpactVelocity(2485, 1.2); math.Abs(0.5*1.2*float64(u*u)-2485) > 1e-9 {
		t.Errorf("%g m/s does not stagnate at 2485 Pa", u)
	}
}

// The steepest place of the pressure is where its slope is greatest.
func TestLawSteepestPressure(t *testing.T) {
	for _, s := range []Shape{Plane, Round} {
		slope, at := s.MaxPressureGradient(1000, 0.1)
		most, where := 0.0, 0.0
		const d = 1e-6
		for x := 0.0; x < 0.1; x += 1e-5 {
			g := 1000 * float64(s.PressureShape(quantity.Length(x), 0.1)-s.PressureShape(quantity.Length(x+d), 0.1)) / d
			if g > most {
				most, where = g, x
			}
		}
		if math.Abs(float64(slope)/most-1) > 1e-4 || math.Abs(float64(at)-where) > 1e-4 {
			t.Errorf("shape %d: %g Pa/m at %g m, found %g at %g", s, slope, at, most, where)
		}
	}
}

// The radial wall jet takes over without a step, and its shear falls outwards; the upper estimates are not below the
// likely ones, and far from the wall they part.
func TestLawRoundWall(t *testing.T) {
	const m, us, he, rho, nu = 4.015, 97.3, 0.15, 1.2, 1.5e-5
	greatest := MaxWallShearSI(RoundShear, us, he, rho, nu)
	last, _ := RoundWallSI(m, rho, nu, us, greatest, RoundShearX*he, he)
	if math.Abs(last/greatest-1) > 1e-9 {
		t.Errorf("greatest shear %g of %g Pa", last, greatest)
	}
	for r := RoundShearX*he + 1e-6; r < 1; r += 2e-5 {
		tau, edge := RoundWallSI(m, rho, nu, us, greatest, r, he)
		if tau > last*(1+1e-9) || last-tau > 0.02*greatest || edge > us || edge < 0 {
			t.Fatalf("at %g m: %g Pa after %g, edge %g m/s", r, tau, last, edge)
		}
		last = tau
	}
	_, nozzle := RoundWallJetSI(m, rho, nu, us, 0.9, he)
	if tau, _ := RoundWallSI(m, rho, nu, us, greatest, 0.9, he); tau != nozzle {
		t.Errorf("far out the nozzle's shear is %g, the wall jet's %g Pa", tau, nozzle)
	}
	_, slot := PlaneWallJetSI(m, rho, nu, us, 0.9, he)
	if tau, _ := PlaneWallSI(m, rho, nu, us, greatest, 0.9, he); tau != slot {
		t.Errorf("far out the slot's shear is %g, the wall jet's %g Pa", tau, slot)
	}
	_, slot = PlaneWallJetSI(35.5/2, rho, nu, float64(ImpactVelocity(PlaneImpactPressure(35.5, 0.5), rho)), 0.3*0.5, 0.5)
	if high := HighPlaneShear(35.5, 0.5, rho, nu); math.Abs(float64(high)/slot-1) > 1e-12 {
		t.Errorf("upper estimate %g Pa far from a slot, its wall jet has %g", high, slot)
	}
	for _, h := range []quantity.Length{0.02, 0.1, 0.5} {
		low, _ := Plane.MaxWallShear(ImpactVelocity(PlaneImpactPressure(35.5, h), rho), h, rho, nu)
		if high := HighPlaneShear(35.5, h, rho, nu); !(high >= low && high < 2.4*low) {
			t.Errorf("slot at %g m: %g to %g Pa", h, low, high)
		}
		low, _ = Round.MaxWallShear(ImpactVelocity(RoundImpactPressure(4, h), rho), h, rho, nu)
		if high := HighRoundShear(4, h, rho, nu); !(high >= low && high < 2.4*low) {
			t.Errorf("nozzle at %g m: %g to %g Pa", h, low, high)
		}
	}
	for x := 0.0; x < 0.5; x += 0.01 { // both doors to the shape open on the same room
		a, b := float64(Plane.ShearShape(quantity.Length(-x*0.1), 0.1)), PlaneShearShapeSI(x/PlaneShearX)
		c, d := float64(Round.ShearShape(quantity.Length(x*0.1), 0.1)), RoundShearShapeSI(x/RoundShearX)
		if math.Abs(a-b) > 1e-12 || math.Abs(c-d) > 1e-12 {
			t.Errorf("offset %g: slot %g and %g, nozzle %g and %g", x, a, b, c, d)
		}
	}
	for x, want := range map[float64]float64{0: 1, 1: 1, 1.5: 0.5, 2: 0, 9: 0} {
		if got := Fade(x); got != want {
			t.Errorf("fade at %g is %g", x, got)
		}
	}
}

// At right angles nothing is lost or shifted; the more aslant, the less it presses and the more goes forward.
func TestLawOblique(t *testing.T) {
	square := quantity.Degrees(90)
	if p := ObliquePressure(1000, square); math.Abs(float64(p)-1000) > 1e-9 {
		t.Errorf("square on: %g of 1000 Pa", p)
	}
	if s := StagnationOffset(0.1, square); math.Abs(float64(s)) > 1e-12 {
		t.Errorf("square on: the line shifts by %g m", s)
	}
	for theta := 0.0; theta < 360; theta += 30 {
		if g := RoundShare(square, quantity.Degrees(theta)); math.Abs(float64(g)-1) > 1e-9 {
			t.Errorf("square on: share %g at %g degrees", g, theta)
		}
	}
	rises(t, "pressure towards square", over(30, 90, func(d float64) float64 { return float64(ObliquePressure(1, quantity.Degrees(d))) })...)
	rises(t, "forward share towards grazing", over(-90, -30, func(d float64) float64 { f, _ := PlaneSplit(quantity.Degrees(-d)); return float64(f) })...)
	rises(t, "offset towards grazing", over(-89, -30, func(d float64) float64 { return float64(StagnationOffset(0.1, quantity.Degrees(-d))) })...)
	for d, want := range map[float64]float64{0: 1, 100: 1, 110: 0.5, 120: 0, 170: 0} {
		if got := AttachedShare(quantity.Degrees(d)); math.Abs(float64(got)-want) > 1e-12 {
			t.Errorf("turned by %g degrees, %g of the wall jet is attached", d, got)
		}
	}
}

// A row merges smoothly between 5 and 8 spacings, and where it has, it is the slot of the same area.
func TestLawRowBecomesASlot(t *testing.T) {
	r := Row{Spacing: 0.025, Thrust: 4}
	last := quantity.Ratio(0)
	for x := 0.0; x <= 12; x += 0.05 {
		m := r.Merged(quantity.Length(x * 0.025))
		if m < last || m-last > 0.03 || x <= 5 && m != 0 || x >= 8 && m < 1-1e-12 {
			t.Errorf("merged %g at %g spacings after %g", m, x, last)
		}
		last = m
	}
	row := r.Velocity(0.4, 0.01, 1.2, 1e3)
	slot := PlaneVelocity(4/0.025, 1.2, 0.4, 1e3)
	if math.Abs(float64(row/slot)-1) > 0.03 {
		t.Errorf("merged row %g m/s, slot of its thrust %g m/s", row, slot)
	}
	for count := 2; count <= 5; count++ {
		few := Row{Count: count, Spacing: 0.025, Thrust: 4}
		for z := quantity.Length(0.003); z < 0.08; z += 0.007 {
			if a, b := few.Velocity(0.05, z, 1.2, 1e3), few.Velocity(0.05, -z, 1.2, 1e3); math.Abs(float64(a-b)) > 1e-9*float64(a) {
				t.Errorf("%d nozzles: %g m/s on one side, %g on the other", count, a, b)
			}
		}
	}
	if gap := EquivalentGap(0.01, 0.025); math.Abs(float64(gap)-math.Pi/4*1e-4/0.025) > 1e-15 {
		t.Errorf("gap %g", gap)
	}
	if d := EquivalentBore(math.Pi / 4 * 0.01 * 0.01); math.Abs(float64(d)-0.01) > 1e-15 {
		t.Errorf("bore %g", d)
	}
}

// Flow and thrust per length times length are those of the whole; the coefficient counts once.
func TestLawOutletsAddUp(t *testing.T) {
	gas := GasOf(air.Humid(101325, 298.15, 0.6))
	if k := float64(gas.K); !(k > 1.39 && k < 1.4) {
		t.Errorf("exponent of humid air %g", k)
	}
	d := gas.Isentropic(121325, 320, 101325)
	if a, b := d.MassFlowPerLength(0.95, 1.5e-3), d.MassFlow(0.95, 1.5e-3*1); math.Abs(float64(a)-float64(b)) > 1e-15 {
		t.Errorf("flow %g and %g", a, b)
	}
	if a, b := d.ThrustPerLength(0.95, 0.97, 1.5e-3), d.Thrust(0.95, 0.97, 1.5e-3*1); math.Abs(float64(a)-float64(b)) > 1e-12 {
		t.Errorf("thrust %g and %g", a, b)
	}
	ideal := float64(d.MassFlow(1, 1)) * float64(d.Velocity)
	if got := float64(d.ThrustFlux(1)); math.Abs(got/ideal-1) > 1e-12 {
		t.Errorf("thrust %g, mass flux times velocity %g", got, ideal)
	}
	// Energy: what the gas loses in temperature it has as speed.
	if u := float64(d.Velocity); math.Abs(u*u/2/(float64(gas.SpecificHeat())*float64(320-d.Temperature))-1) > 1e-9 {
		t.Errorf("%g m/s from %g K", u, 320-d.Temperature)
	}
}

// Sound grows with the seventh power of speed at one mass flow, 3 dB with twice the flow.
func TestLawSound(t *testing.T) {
	level := func(m quantity.MassFlow, u quantity.Speed) float64 {
		return float64(SoundPowerLevel(SoundPower(m, u, 343)))
	}
	if d := level(0.02, 200) - level(0.02, 100); math.Abs(d-70*math.Log10(2)) > 1e-9 {
		t.Errorf("twice the speed is %g dB louder", d)
	}
	if d := level(0.04, 100) - level(0.02, 100); math.Abs(d-10*math.Log10(2)) > 1e-9 {
		t.Errorf("twice the flow is %g dB louder", d)
	}
	if a, b := SoundPower(0.02, 150, 343), SoundPowerPerLength(0.02, 150, 343); float64(a) != float64(b) {
		t.Errorf("%g W and %g W/m", a, b)
	}
	for mach := 0.3; mach < 0.95; mach += 0.1 { // cold exit: the room's sound speed is the faster one
		u := quantity.Speed(mach * 330)
		if SoundPower(0.02, u, 343) > HighSoundPower(0.02, u, quantity.Ratio(mach)) {
			t.Errorf("at Mach %g the likely power is above the upper estimate", mach)
		}
	}
}

// Power per thrust rises with pressure, for blowers and for compressed air at one header price.
func TestLawPowerPerThrust(t *testing.T) {
	gas := DryAir()
	rises(t, "blower's power per thrust", over(2e3, 80e3, func(pg float64) float64 {
		return float64(gas.BlowerPowerPerThrust(101325, 293.15, quantity.Gauge(pg), 0.6, 1, 0.97))
	})...)
	blower := gas.BlowerPowerPerThrust(101325, 293.15, 20e3, 0.6, 1, 0.97)
	main := gas.CompressedAirPowerPerThrust(101325, 293.15, 400e3, 6.5*60e3, 1.2, 0.97) // 6.5 kW per m3/min
	if !(main > 2*blower) {
		t.Errorf("compressed air %g W/N, blower %g W/N", main, blower)
	}
}

// Every edge has a coefficient between the sharp one and 1, and its band contains it.
func TestLawEdges(t *testing.T) {
	for _, l := range []Lip{RoundedNozzle, SmoothSlot, QuarterRound, SquareTube, SharpEdge} {
		for _, w := range []quantity.Length{1e-5, 3e-4, 1e-3, 3e-3, 1} {
			b, err := DischargeCoefficient(l, Opening{Width: w, Reynolds: 3e4, Ratio: 0.85, Gas: DryAir()})
			if err != nil || !(b.Low < b.Likely && b.Likely <= b.High && b.High <= 1 && b.Likely > 0.6) {
				t.Errorf("%s of %g m: %+v, %v", l, w, b, err)
			}
		}
	}
	still, err := DischargeCoefficient(SharpEdge, Opening{Ratio: 1, Gas: DryAir()})
	slow, err2 := DischargeCoefficient(SharpEdge, Opening{Ratio: 1 - 1e-6, Gas: DryAir()})
	if err != nil || err2 != nil || math.Abs(still.Likely-slow.Likely) > 1e-5 {
		t.Errorf("a sharp edge in still air %g, almost still %g", still.Likely, slow.Likely)
	}
}

// Whatever is asked, nothing panics, and a flow backwards mirrors the one forwards.
func TestLawEveryRelationIsTotal(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{
		math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), -1, 1e-300, 1e300, -1e300,
	}))
	gas := DryAir()
	rapid.Check(t, func(t *rapid.T) {
		x, y, z := odd.Draw(t, "x"), odd.Draw(t, "y"), odd.Draw(t, "z")
		d := gas.Isentropic(quantity.Absolute(x), quantity.Temperature(y), quantity.Absolute(z))
		if possible := x > 0 && y > 0 && z > 0; !possible && !math.IsNaN(float64(d.MassFlux)) {
			t.Fatalf("plenum at %g Pa, %g K against %g Pa passes %g", x, y, z, d.MassFlux)
		} else if possible && x < 1e8 && y < 1e5 && z > 1 && !(float64(d.Velocity) >= 0) {
			t.Fatalf("plenum at %g Pa, %g K against %g Pa blows %g m/s", x, y, z, d.Velocity)
		}
		gas.StagnationFor(quantity.MassFluxDensity(x), quantity.Temperature(y), quantity.Absolute(z))
		PlaneVelocity(quantity.ThrustPerLength(x), quantity.Density(y), quantity.Length(z), 100)
		RoundVelocity(quantity.Force(x), quantity.Density(y), quantity.Length(z), 100)
		EndFactorSI(x, y, z)
		PlaneWallSI(x, y, z, x, y, z, x)
		RoundWallSI(x, y, z, x, y, z, x)
		RoundShareSI(x, y)
		AttachedShare(quantity.Angle(x))
		for _, l := range []Lip{RoundedNozzle, SmoothSlot, QuarterRound, SquareTube, SharpEdge} {
			if _, err := DischargeCoefficient(l, Opening{Width: quantity.Length(x), Reynolds: quantity.Ratio(y), Ratio: quantity.Ratio(z), Gas: gas}); err != nil {
				t.Fatal(err)
			}
		}
	})
	for _, f := range []quantity.MassFluxDensity{10, 200, 600} {
		forth, back := gas.StagnationFor(f, 293, 101325)-101325, gas.StagnationFor(-f, 293, 101325)-101325
		if math.Abs(float64(forth+back)) > 1e-6 {
			t.Errorf("%g kg/(s m2): %g Pa forth, %g Pa back", f, forth, back)
		}
	}
	for _, p := range []quantity.Absolute{0, -1} {
		if s := gas.StagnationFor(100, 293, p); !math.IsNaN(float64(s)) {
			t.Errorf("against %g Pa absolute: %g", p, s)
		}
	}
}
