package water

import (
	"math"

	"leste/physics/internal/solve"
	"leste/quantity"
)

// Wetting is how a surface takes water: advancing and receding contact angle.
type Wetting struct{ Advancing, Receding quantity.Angle }

// Mean is the angle a resting drop is drawn with.
func (w Wetting) Mean() quantity.Angle { return (w.Advancing + w.Receding) / 2 }

// Hysteresis is cos(receding) - cos(advancing).
func (w Wetting) Hysteresis() quantity.Ratio {
	return quantity.Ratio(math.Cos(float64(w.Receding)) - math.Cos(float64(w.Advancing)))
}

// At returns the angles of a contact line that moves over the surface at a capillary number (viscosity times
// speed over tension); card moving-contact-angle. The advancing angle ends at 180 degrees, the receding
// one at 0.
func (w Wetting) At(capillary quantity.Ratio) Wetting {
	return Wetting{
		Advancing: min(math.Pi, quantity.Angle(math.Cbrt(cube(float64(w.Advancing))+hysteresisSlope*float64(capillary)))),
		Receding:  quantity.Angle(math.Cbrt(max(0, cube(float64(w.Receding))-hysteresisSlope*float64(capillary)))),
	}
}

func cube(x float64) float64 { return x * x * x }

// RetentionFactor is 24/pi3: retention force over tension, base diameter and hysteresis; card retention.
const RetentionFactor = 24 / (math.Pi * math.Pi * math.Pi)

// CapVolumeFactor is the volume of a spherical cap over its base diameter cubed; card cap.
func CapVolumeFactor(contact quantity.Angle) float64 {
	t := float64(contact) / 2
	s, c := math.Sincos(t)
	tan := s / c
	return math.Pi / 48 * tan * (3 + tan*tan)
}

// CapFrontFactor is the area of a spherical cap seen along the wall over its base diameter squared; card cap.
func CapFrontFactor(contact quantity.Angle) float64 {
	t := float64(contact)
	s, c := math.Sincos(t)
	if t < 1e-3 {
		return t / 6
	}
	return (t - s*c) / (4 * s * s)
}

// CapHeightFactor is the height of a spherical cap over its base diameter; card cap.
func CapHeightFactor(contact quantity.Angle) float64 { return math.Tan(float64(contact)/2) / 2 }

// CapVolume is the volume of a drop.
func CapVolume(d quantity.Length, contact quantity.Angle) quantity.Volume {
	return quantity.Volume(CapVolumeFactor(contact) * cube(float64(d)))
}

// CapDiameter is the base diameter of a drop of volume v, the inverse of CapVolume.
func CapDiameter(v quantity.Volume, contact quantity.Angle) quantity.Length {
	return quantity.Length(math.Cbrt(float64(v) / CapVolumeFactor(contact)))
}

// RetentionForce holds a drop of base diameter d against being pushed along the wall; card retention.
func RetentionForce(l Liquid, w Wetting, d quantity.Length) quantity.Force {
	return quantity.Force(RetentionFactor * float64(l.Tension) * float64(d) * float64(w.Hysteresis()))
}

// SlideDiameter is the base diameter of the largest drop that stays on a wall inclined from the horizontal;
// card slide. It is +Inf on a level wall.
func SlideDiameter(l Liquid, w Wetting, incline quantity.Angle) quantity.Length {
	weight := float64(l.Density) * Gravity * CapVolumeFactor(w.Mean()) * math.Sin(float64(incline))
	if weight <= 0 {
		return quantity.Length(math.Inf(1))
	}
	return quantity.Length(math.Sqrt(RetentionFactor * float64(l.Tension) * float64(w.Hysteresis()) / weight))
}

// SlideVolume is the volume of the drop of SlideDiameter.
func SlideVolume(l Liquid, w Wetting, incline quantity.Angle) quantity.Volume {
	return CapVolume(SlideDiameter(l, w, incline), w.Mean())
}

// LawOfTheWall is the mean velocity over the friction velocity at y+ wall units, from the wall through the
// buffer layer; card law-of-the-wall.
func LawOfTheWall(yPlus float64) float64 {
	y := yPlus / 11
	return 2.5*math.Log1p(0.4*yPlus) + 7.8*(-math.Expm1(-y)-y*math.Exp(-0.33*yPlus))
}

// Stream is the air over a drop.
type Stream struct {
	Density  quantity.Density
	Nu       quantity.KinematicViscosity
	Shear    quantity.Stress
	Edge     quantity.Speed            // outside the wall layer; the air over a drop is never faster
	Gradient quantity.PressureGradient // of pressure, falling along the shear: pushes the same way when positive
	Pull     float64                   // weight along the wall the same way, m/s2 times water density: Pa/m
}

// SpeedAt is the speed of the air at height y over the wall; card law-of-the-wall.
func (s Stream) SpeedAt(y quantity.Length) quantity.Speed {
	return quantity.Speed(AirSpeedSI(float64(s.Shear), float64(s.Density), float64(s.Nu), float64(y), float64(s.Edge)))
}

// AirSpeedSI is Stream.SpeedAt in Pa, kg/m3, m2/s, m and m/s.
func AirSpeedSI(shear, rho, nu, y, edge float64) float64 {
	friction := math.Sqrt(shear / rho)
	return min(edge, friction*LawOfTheWall(y*friction/nu))
}

// Push is the force along the wall on a drop of base diameter d: drag on its front, the pressure that falls
// along it and its weight; card drop-balance. Drag is the drag coefficient.
func (s Stream) Push(d quantity.Length, contact quantity.Angle, drag quantity.Ratio) quantity.Force {
	x := float64(d)
	u := float64(s.SpeedAt(quantity.Length(CapHeightFactor(contact) * x)))
	return quantity.Force(x * x * (0.5*float64(drag)*float64(s.Density)*u*u*CapFrontFactor(contact) +
		CapVolumeFactor(contact)*x*(float64(s.Gradient)+s.Pull)))
}

// Sizes between which a critical drop is looked for, m.
const (
	smallestDrop = 1e-7
	largestDrop  = 0.05
)

// CriticalDiameter is the base diameter of the smallest drop that the air moves along the wall at speed v (0:
// sets in motion at all); smaller ones stay. Card drop-balance. It is +Inf when no drop up to 50 mm moves,
// and 0.1 micrometre when all do. Where weight works against the air the smallest that moves is given.
func CriticalDiameter(l Liquid, w Wetting, s Stream, drag quantity.Ratio, v quantity.Speed) quantity.Length {
	contact := w.Mean()
	capillary := quantity.Ratio(float64(l.Viscosity) * float64(v) / float64(l.Tension))
	hold := RetentionFactor * float64(l.Tension) * float64(w.At(capillary).Hysteresis())
	excess := func(logD float64) float64 {
		d := math.Exp(logD)
		return float64(s.Push(quantity.Length(d), contact, drag))/d - hold
	}
	lo, hi := math.Log(smallestDrop), math.Log(largestDrop)
	if excess(lo) >= 0 {
		return smallestDrop
	}
	// The push per diameter rises with size unless weight works against it: step out to the first crossing.
	const steps = 64
	for i := 1; i <= steps; i++ {
		next := lo + (hi-lo)/steps*float64(i)
		if excess(next) >= 0 {
			return quantity.Length(math.Exp(solve.Root(excess, next-(hi-lo)/steps, next, 1e-10)))
		}
	}
	if math.IsNaN(excess(hi)) {
		return quantity.Length(math.NaN())
	}
	return quantity.Length(math.Inf(1))
}
