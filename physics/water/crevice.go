package water

import (
	"math"
	"slices"

	"leste/quantity"
)

// CreviceHold is the pressure that holds water in a crevice of width w between two walls, Pa: both ends
// within the crevice, one end pinned on a sharp exit, and pinned there until it wets the outer face, in
// order of size; card crevice-hold.
func CreviceHold(l Liquid, w quantity.Length, one, other Wetting) quantity.Band {
	scale := float64(l.Tension) / float64(w)
	moving := float64(one.Hysteresis() + other.Hysteresis())
	pinned := math.Cos(float64(one.Receding)) + math.Cos(float64(other.Receding))
	bulging := pinned + bulge(one) + bulge(other)
	p := []float64{moving * scale, pinned * scale, bulging * scale}
	slices.Sort(p)
	return quantity.Band{Low: p[0], Likely: p[1], High: p[2]}
}

// bulge is how far a meniscus on a sharp square edge swells before it runs over, as a share of tension.
func bulge(w Wetting) float64 {
	if w.Advancing > math.Pi/2 {
		return 1
	}
	return math.Sin(float64(w.Advancing))
}

// Crevice is water trapped in a gap between two walls.
type Crevice struct {
	Width  quantity.Length
	Length quantity.Length // of the water along the way out
}

// ViscousTime is the time in which a net pressure pushes the water out against its viscosity alone.
func (c Crevice) ViscousTime(l Liquid, net quantity.PressureDrop) quantity.Duration {
	r := float64(c.Length / c.Width)
	return quantity.Duration(6 * float64(l.Viscosity) * r * r / float64(net))
}

// InertialTime is the time in which a net pressure pushes the water out against its inertia alone.
func (c Crevice) InertialTime(l Liquid, net quantity.PressureDrop) quantity.Duration {
	return quantity.Duration(float64(c.Length) * math.Sqrt(math.Pi*float64(l.Density)/(2*float64(net))))
}

// ClearingTime is the time in which a steady net pressure (mouth less exit less hold less weight) pushes
// all the water out; card crevice-clearing. It is +Inf where the net pressure is not positive, and where
// air cannot follow from behind the caller does not ask.
func (c Crevice) ClearingTime(l Liquid, net quantity.PressureDrop) quantity.Duration {
	if !(net > 0) {
		return quantity.Duration(math.Inf(1))
	}
	half := float64(c.ViscousTime(l, net)) / 2
	inertial := float64(c.InertialTime(l, net))
	return quantity.Duration(half + math.Sqrt(half*half+inertial*inertial))
}

// ClearedShare is the share of the water that is out after a steady net pressure has acted for t; card
// crevice-cleared. The water speeds up as it shrinks, so half the time clears less than half: the shares of
// the viscous and of the inertial limit are mixed in the ratio of their times squared.
func (c Crevice) ClearedShare(l Liquid, net quantity.PressureDrop, t quantity.Duration) quantity.Ratio {
	if !(net > 0) || !(t > 0) {
		return 0
	}
	x := float64(t / c.ClearingTime(l, net))
	viscous, inertial := float64(c.ViscousTime(l, net)), float64(c.InertialTime(l, net))
	weight := viscous * viscous / (viscous*viscous + inertial*inertial)
	return quantity.Ratio(weight*ViscousCleared(x) + (1-weight)*InertialCleared(x))
}

// ViscousCleared is the share cleared at x = time over clearing time when viscosity governs.
func ViscousCleared(x float64) float64 {
	x = max(0, min(1, x))
	return 1 - math.Sqrt(1-x)
}

// InertialCleared is the share cleared at x = time over clearing time when inertia governs.
func InertialCleared(x float64) float64 {
	x = max(0, min(1, x))
	if x == 1 {
		return 1
	}
	e := math.Erfinv(x)
	return -math.Expm1(-e * e)
}

// PushedWater is the moving state of water in a crevice: the length left and its speed towards the exit.
type PushedWater struct {
	Length quantity.Length
	Speed  quantity.Speed
}

// After returns the state after the net pressure has acted for dt; card crevice-clearing:
//
//	rho L v' = net - 12 mu L v/w2,  L' = -v
//
// The net pressure may have either sign; water does not come back in. The step is split so that the
// length changes by at most a twentieth in each part.
func (p PushedWater) After(l Liquid, w quantity.Length, net quantity.PressureDrop, dt quantity.Duration) PushedWater {
	length, v := float64(p.Length), float64(p.Speed)
	rho, dp := float64(l.Density), float64(net)
	drag := 12 * float64(l.Viscosity) / (rho * float64(w) * float64(w)) // 1/s
	left := float64(dt)
	gone := length * 1e-6
	for left > 0 && length > gone {
		part := min(left, accelerating(length, v, dp/rho))
		a := dp / (rho * length)
		next := (v + a*part) / (1 + drag*part)
		if next < 0 {
			next = 0
		}
		length -= (v + next) / 2 * part
		v = next
		left -= part
		if v == 0 && dp <= 0 {
			break
		}
	}
	if length <= gone {
		return PushedWater{}
	}
	return PushedWater{Length: quantity.Length(length), Speed: quantity.Speed(v)}
}

// accelerating is a time in which a length at speed v and with pressure over density q changes little.
func accelerating(length, v, q float64) float64 {
	const share = 0.02
	t := math.Inf(1)
	if v > 0 {
		t = share * length / v
	}
	if q != 0 {
		t = min(t, share*length/math.Sqrt(math.Abs(q)))
	}
	return t
}

// MeniscusFilm is the share of a crevice's volume that stays on its walls when a meniscus leaves at speed v;
// card meniscus-film.
func MeniscusFilm(l Liquid, v quantity.Speed) quantity.Ratio {
	ca := math.Pow(float64(l.Viscosity)*float64(v)/float64(l.Tension), 2.0/3)
	return quantity.Ratio(1.337 * ca / (1 + 3.34*ca))
}
