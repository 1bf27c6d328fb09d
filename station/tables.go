package station

import (
	"math"

	"leste/physics/jet"
	q "leste/quantity"
)

// The exposure evaluates the jet relations some millions of times per assessment. Their powers and
// exponentials depend on one number each, so they are tabulated once from package jet and read by linear
// interpolation; every table is within 2e-4 of the relation (a test compares them). The tables are
// written at start-up only.

// wallTable holds the wall jet of unit momentum, density, viscosity and distance at X = offset/distance.
type wallTable struct {
	u, tau   float64 // velocity and shear
	tauAtOne float64 // plane: shear when the velocity is held at 1
}

const (
	wallPerX  = 96   // entries per unit of X
	wallTo    = 10.0 // X up to which the wall jet is followed: the range of its relation
	roundTo   = 2.5  // the same, round: its shear is below 1 % of the greatest there
	impactTo  = 0.75 // X from which the impact pressure is negligible: exp(-38.5 X2) < 1e-9
	impactPer = 1000 // kinks of the relations fall on entries
	curvePer  = 256
)

var (
	planeWall  = newPlaneWall()
	roundWall  = newRoundWall()
	planeNear  = newNear(jet.Plane, planeFade)
	roundNear  = newNear(jet.Round, roundFade)
	curves     = newCurves()
	planeShare = newPowers(planePower, 2) // momentum share 0..2
	roundShare = newPowers(roundPower, 8)
)

// nearTable holds what happens about the impingement at X: pressure over its peak, edge speed over the impact
// velocity, shear over its peak as far as the boundary layer decides it.
type nearTable [impactPer*impactTo + 2]struct{ press, speed, shear float64 }

// The boundary layer's share of the shear fades to nothing between once and twice this X.
const (
	planeFade = 0.3
	roundFade = 0.2
)

const (
	powPer      = 128.0
	planePower  = 0.91 // shear over momentum share, plane: momentum^(1 - 0.182/2)
	roundPower  = 0.85 // round: momentum^(1 - 0.3/2)
	cosGrazing  = 0.8660254037844386
	sepFrom     = 100 * math.Pi / 180 // the wall jet begins to leave a convex wall this far round
	sepTo       = 120 * math.Pi / 180
	facesFrom   = 50 * math.Pi / 180 // a wall turned away this far still feels the impact
	facesTo     = 85 * math.Pi / 180 // and this far does not: engineering choice; no round wall wider than its jet reaches it
	cosSepTo    = -0.5
	cosSepFrom  = -0.17364817766693033
	alongShear  = 0.81 // shear along a slanted impingement line over the greatest shear
	headsDepend = 0.08 // how far the stagnation line moves off the axis, over distance and cot(incidence)
)

// curvature holds what depends on the angle alpha between the normals of impingement point and patch, at
// c = cos(alpha): the coefficients of the arc length, the fade of the wall jet that leaves the wall, 1/(1+c),
// and the fade of the pressure round a sharp convex rim.
type curvature struct{ fromPatch, fromFoot, stays, turn, faces float64 }

func newPlaneWall() (t [wallTo*wallPerX + 2]wallTable) {
	for i := range t {
		x := float64(i) / wallPerX
		u, tau := jet.PlaneWallJetSI(1, 1, 1, math.MaxFloat64, x, 1)
		_, held := jet.PlaneWallJetSI(math.MaxFloat64, 1, 1, 1, x, 1)
		t[i] = wallTable{u, tau, held}
	}
	return t
}

func newRoundWall() (t [roundTo*wallPerX + 2]wallTable) {
	for i := range t {
		u, tau := jet.RoundWallJetSI(1, 1, 1, math.MaxFloat64, math.Max(float64(i), 1)/wallPerX, 1)
		t[i] = wallTable{u: u, tau: tau}
	}
	return t
}

func newNear(shape jet.Shape, fade float64) (t nearTable) {
	for i := range t {
		x := float64(i) / impactPer
		p := float64(shape.PressureShape(q.Length(x), 1))
		t[i].press = p
		t[i].speed = math.Sqrt(1 - p)
		t[i].shear = float64(shape.ShearShape(q.Length(x), 1)) * jet.Fade(x/fade)
	}
	return t
}

func newCurves() (t [curvePer + 2]curvature) {
	for i := range t {
		t[i] = curvatureAt(math.Min(1, cosSepTo+float64(i)/curvePer*(1-cosSepTo)))
	}
	return t
}

func newPowers(exponent, to float64) []float64 {
	t := make([]float64, int(to*powPer)+1)
	for i := range t {
		t[i] = math.Pow(float64(i)/powPer, exponent)
	}
	return t
}

// curvatureAt evaluates a row of the table. On a convex arc of any radius the arc length along t is then
// chord.t + (n.t)(fromPatch chord.n + fromFoot chord.nF), exactly; across the bend the chord counts.
func curvatureAt(c float64) curvature {
	a := math.Acos(math.Max(-1, math.Min(1, c)))
	stays := 1 - math.Max(0, math.Min(1, (a-sepFrom)/(sepTo-sepFrom)))
	faces := 1 - math.Max(0, math.Min(1, (a-facesFrom)/(facesTo-facesFrom)))
	if a < 1e-2 { // the series; the closed form loses its digits
		a2 := a * a
		return curvature{-1./12 - 7./240*a2, -5./12 - 23./240*a2, stays, 1 / (1 + c), faces}
	}
	q := a / math.Sin(a) * (1 + c) / 2
	s2 := 1 - c*c
	return curvature{(q - 1) / s2, -(q - c) / s2, stays, 1 / (1 + c), faces}
}

func power(table []float64, g float64) float64 {
	u := g * powPer
	i := int(u)
	if i >= len(table)-1 {
		return table[len(table)-1]
	}
	f := u - float64(i)
	return table[i] + f*(table[i+1]-table[i])
}
