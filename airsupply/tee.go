package airsupply

import (
	"math"

	q "leste/quantity"
)

// Tee geometry and flow shares. Coefficients are on the velocity head of the common leg; positive is a loss
// in the direction of flow, and some are negative: a straight run regains, a joining jet drags the other.
//
// Share is the flow of the side leg over that of the common leg; Bore is the side bore over the run's bore.

// DividingSide returns the coefficient of the side leg of a dividing tee.
//
// Range: angle 30 to 90 degrees, Bore up to 1; +-30 %. Source: Crane TP-410 as public code states it, Idelchik
// diagram 7-20. Between bore ratios 0.60 and 0.75, and 0.95 and 1, the formulas on either side are blended;
// between 60 and 90 degrees the angle is.
func DividingSide(angle q.Angle, bore, share q.Ratio) q.Ratio {
	return q.Ratio(dividingSide(float64(angle), float64(bore), float64(share)))
}

// DividingRun returns the coefficient of the straight run of a dividing tee. Source as DividingSide.
func DividingRun(bore, share q.Ratio) q.Ratio {
	return q.Ratio(dividingRun(float64(bore), float64(share)))
}

// ConvergingSide returns the coefficient of the side leg of a converging tee. Range and source as DividingSide.
func ConvergingSide(angle q.Angle, bore, share q.Ratio) q.Ratio {
	return q.Ratio(convergingSide(float64(angle), float64(bore), float64(share)))
}

// ConvergingRun returns the coefficient of the straight run of a converging tee. Range and source as DividingSide.
func ConvergingRun(angle q.Angle, bore, share q.Ratio) q.Ratio {
	return q.Ratio(convergingRun(float64(angle), float64(bore), float64(share)))
}

// Blends between published formulas that do not meet; without them a search would live on the jump.
const (
	narrowBranch, wideBranch = 0.60, 0.75
	nearlyEqual              = 0.95
	sharpAngle, rightAngle   = math.Pi / 3, math.Pi / 2
)

func blend(from, to, x, a, b float64) float64 {
	s := min(max((x-from)/(to-from), 0), 1)
	return a + s*(b-a)
}

func dividingSide(angle, bore, share float64) float64 {
	r := share / (bore * bore)
	square := func() float64 {
		wide := (1 + 0.3*r*r) * blend(nearlyEqual, 1, bore, 1, 1+0.3*share*share)
		return blend(narrowBranch, wideBranch, bore, 1+r*r, wide)
	}
	slanted := func(a float64) float64 {
		g := max(1-0.6*share, 0.6)
		if bore*bore <= 0.35 {
			g = max(1.1-0.7*share, 0.85)
		}
		return g * (1 + r*r - 2*r*math.Cos(a))
	}
	if angle <= sharpAngle {
		return slanted(angle)
	}
	return blend(sharpAngle, rightAngle, angle, slanted(sharpAngle), square())
}

func dividingRun(bore, share float64) float64 {
	switch {
	case bore*bore <= 0.4:
		return 0.4 * share * share
	case share <= 0.5:
		return 2 * (2*share - 1) * share * share
	}
	return 0.3 * (2*share - 1) * share * share
}

// drag is the coefficient of the side leg's momentum along the run, by angle.
func drag(angle float64) float64 {
	at := [...]struct{ angle, f float64 }{{0, 1.74}, {math.Pi / 6, 1.74}, {math.Pi / 4, 1.41}, {sharpAngle, 1}, {rightAngle, 0}}
	for i := 1; i < len(at); i++ {
		if angle <= at[i].angle {
			return blend(at[i-1].angle, at[i].angle, angle, at[i-1].f, at[i].f)
		}
	}
	return 0
}

func convergingSide(angle, bore, share float64) float64 {
	area := bore * bore
	r := share / area
	c := 1.0
	if area > 0.35 {
		c = max(0.9*(1-share), 0.55)
	}
	return c * (1 + r*r - 2*(1-share)*(1-share) - drag(angle)*share*share/area)
}

func convergingRun(angle, bore, share float64) float64 {
	slanted := func(a float64) float64 {
		return 1 - (1-share)*(1-share) - drag(a)*share*share/(bore*bore)
	}
	if angle <= sharpAngle {
		return slanted(angle)
	}
	return blend(sharpAngle, rightAngle, angle, slanted(sharpAngle), 1.55*share-share*share)
}

// Laws of a symmetrical wye.
const (
	Hager    = "hager"
	Idelchik = "idelchik"
)

// WyeSide returns the coefficient of a leg of a symmetrical dividing wye on the velocity head of the common
// leg; speed is the leg's velocity over the common one, half the half-angle between the legs.
//
// Range: half-angle 15 to 90 degrees; +-30 %. Source: from memory of Hager 1984 (1 + r^2 - 2 r cos 0.75 a)
// and of Idelchik's Handbook (1 + r^2 - 2 r cos a - K' r^2).
func WyeSide(law string, half q.Angle, speed q.Ratio) q.Ratio {
	return q.Ratio(wyeSide(law, float64(half), float64(speed)))
}

func wyeSide(law string, half, r float64) float64 {
	if law == Idelchik {
		return 1 + r*r - 2*r*math.Cos(half) - idelchikWye(half)*r*r
	}
	return 1 + r*r - 2*r*math.Cos(0.75*half)
}

func idelchikWye(half float64) float64 {
	at := [...]struct{ degrees, k float64 }{{0, 0}, {15, 0.04}, {30, 0.16}, {45, 0.36}, {60, 0.64}, {90, 1}}
	d := half * 180 / math.Pi
	for i := 1; i < len(at); i++ {
		if d <= at[i].degrees {
			return blend(at[i-1].degrees, at[i].degrees, d, at[i-1].k, at[i].k)
		}
	}
	return 1
}

// wyeJoining is the coefficient of one leg where two legs join at half-angle half, from the balance of
// momentum along the common leg with equal pressures at the joint (re-derived).
func wyeJoining(half float64, r float64, shares, areas [2]float64) float64 {
	along := 0.0
	for i := range shares {
		along += shares[i] * shares[i] / areas[i] // (V_i/V_c)^2 A_i/A_c
	}
	return 1 + r*r - 2*math.Cos(half)*along
}

// WyeSplitSteady reports whether a symmetrical dividing wye can split its flow in only one way: loss is the
// loss coefficient of a leg and all beyond it on the leg's velocity head, area the common area over a leg's.
// Where it cannot, an even split is only one of several and a small difference decides. Re-derived.
func WyeSplitSteady(half q.Angle, area, loss q.Ratio) bool {
	return (1+float64(loss))*float64(area) > 2*math.Cos(0.75*float64(half))
}
