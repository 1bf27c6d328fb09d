package job

import (
	"fmt"
	"math"
	"slices"
)

// outlineFault is something wrong with one step of a profile.
type outlineFault struct {
	step int
	key  string // "" for the step itself
	fault
}

const (
	fewestSteps = 3 // the centre of the base, a point on the wall, the centre of the top
	mostSteps   = 200
)

// checkOutline judges whether a profile bounds a body: from the axis at the base to the axis at the top, arcs
// that span their chords, fillets that fit their corners, no crossing. Points closer than a micrometre count
// as one.
func checkOutline(steps []ProfileStep) []outlineFault {
	var faults []outlineFault
	say := func(step int, key, text, want string) {
		faults = append(faults, outlineFault{step, key, fault{CodeOutline, text, want}})
	}
	n := len(steps)
	if n < fewestSteps || n > mostSteps {
		say(-1, "", fmt.Sprintf("the profile has %d steps", n), fmt.Sprintf("give %d to %d, from the centre of the base to the centre of the top", fewestSteps, mostSteps))
		return faults
	}
	for i, s := range steps {
		for _, x := range []float64{float64(s.Radius), float64(s.Height), float64(s.Bulge.V), float64(s.Fillet.V)} {
			if math.IsNaN(x) || math.IsInf(x, 0) || math.Abs(x) > 1e3 {
				return append(faults, outlineFault{i, "", fault{CodeOutline, "this point is nowhere", "give radius and height in mm"}})
			}
		}
		if s.Radius < 0 || s.Height < 0 || s.Fillet.V < 0 {
			return faults // said as a value out of its limits
		}
	}
	first, last := steps[0], steps[n-1]
	if first.Radius > micrometre {
		say(0, "radius", fmt.Sprintf("the outline begins at radius %s", mm(float64(first.Radius))), "begin at the centre of the base, radius 0 mm")
	}
	if last.Radius > micrometre {
		say(n-1, "radius", fmt.Sprintf("the outline ends at radius %s", mm(float64(last.Radius))), "end at the centre of the top, radius 0 mm")
	}
	if first.Bulge.V != 0 {
		say(0, "arc", "the first step only sets the start, nothing leads to it", "give the arc with the step it leads to")
	}
	for _, i := range []int{0, n - 1} {
		if steps[i].Fillet.V != 0 {
			say(i, "fillet", "there is no corner to round where the outline meets the axis", "leave the fillet out")
		}
	}
	for i := 1; i < n-1; i++ {
		if steps[i].Radius <= micrometre {
			say(i, "radius", "the outline touches the axis before its end", "give a radius above 0 mm")
		}
	}
	for i := 1; i < n; i++ {
		chord := distanceOf(steps[i-1], steps[i])
		if chord < micrometre {
			say(i, "", "this step goes nowhere: it is the point before it", "leave one of the two out")
			continue
		}
		if b := math.Abs(float64(steps[i].Bulge.V)); b > 0 && b < chord/2*(1-1e-9) {
			say(i, "arc", fmt.Sprintf("an arc of %s cannot span the %s to this point", mm(b), mm(chord)), fmt.Sprintf("give at least %s", mm(chord/2)))
		}
	}
	if len(faults) > 0 {
		return faults
	}
	checkFillets(steps, say)
	points := flatten(steps)
	for _, p := range points {
		if p.r < -micrometre {
			say(p.step, "arc", "this arc reaches across the axis", "give a larger radius or the other sign")
			return faults
		}
	}
	area := 0.0
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		area += (a.r + b.r) / 2 * (b.z - a.z)
	}
	if area <= 0 {
		say(-1, "", "the outline is drawn from top to base", "begin at the centre of the base and go outward and up")
		return faults
	}
	if a, b, ok := crossing(points); ok {
		say(b, "", fmt.Sprintf("the outline crosses itself: step %d meets step %d", b+1, a+1), "mind the order of the points and the sign of arcs")
	}
	return faults
}

const micrometre = 1e-6 // m

func mm(x float64) string { return fmt.Sprintf("%.4g mm", x*1e3) }

func distanceOf(a, b ProfileStep) float64 {
	return math.Hypot(float64(b.Radius-a.Radius), float64(b.Height-a.Height))
}

// checkFillets sees to it that the tangents of fillets between straight lines have room. Next to an arc only
// the length is compared.
func checkFillets(steps []ProfileStep, say func(int, string, string, string)) {
	used := make([]float64, len(steps)) // of the line to step i, by the fillet at its start
	for i := 1; i < len(steps)-1; i++ {
		r := float64(steps[i].Fillet.V)
		if r == 0 {
			continue
		}
		before, after := distanceOf(steps[i-1], steps[i]), distanceOf(steps[i], steps[i+1])
		straight := steps[i].Bulge.V == 0 && steps[i+1].Bulge.V == 0
		need := 0.0
		if straight {
			a := math.Atan2(float64(steps[i].Height-steps[i-1].Height), float64(steps[i].Radius-steps[i-1].Radius))
			b := math.Atan2(float64(steps[i+1].Height-steps[i].Height), float64(steps[i+1].Radius-steps[i].Radius))
			turn := math.Abs(math.Remainder(b-a, 2*math.Pi))
			need = r * math.Tan(turn/2)
		}
		if room := min(before-used[i], after); need > room*(1+1e-9) || r > 10*(before+after) {
			say(i, "fillet", fmt.Sprintf("a fillet of %s does not fit this corner", mm(r)), "give a smaller one")
			continue
		}
		used[i+1] = need
	}
}

// outlinePoint is a point of the flattened outline and the step that leads to it.
type outlinePoint struct {
	r, z float64
	step int
}

// flatten draws the outline, corners sharp, with chords of at most 12 degrees.
func flatten(steps []ProfileStep) []outlinePoint {
	points := []outlinePoint{{float64(steps[0].Radius), float64(steps[0].Height), 0}}
	for i := 1; i < len(steps); i++ {
		a, end := points[len(points)-1], outlinePoint{float64(steps[i].Radius), float64(steps[i].Height), i}
		bulge := float64(steps[i].Bulge.V)
		chord := math.Hypot(end.r-a.r, end.z-a.z)
		if bulge != 0 && chord > 0 {
			radius := max(math.Abs(bulge), chord/2)
			side := math.Copysign(1, bulge)
			h := math.Sqrt(max(0, radius*radius-chord*chord/4))
			rc := (a.r+end.r)/2 - side*h*(end.z-a.z)/chord
			zc := (a.z+end.z)/2 + side*h*(end.r-a.r)/chord
			start := math.Atan2(a.z-zc, a.r-rc)
			sweep := side * 2 * math.Asin(min(1, chord/(2*radius)))
			parts := int(math.Ceil(math.Abs(sweep) / (12 * math.Pi / 180)))
			for k := 1; k < parts; k++ {
				sin, cos := math.Sincos(start + sweep*float64(k)/float64(parts))
				points = append(points, outlinePoint{rc + radius*cos, zc + radius*sin, i})
			}
		}
		points = append(points, end)
	}
	return points
}

// crossing finds two steps of the outline that meet other than at their common point.
func crossing(points []outlinePoint) (first, second int, found bool) {
	order := make([]int, 0, len(points)-1) // pieces, by their lower end
	for i := 1; i < len(points); i++ {
		order = append(order, i)
	}
	low := func(i int) float64 { return min(points[i-1].z, points[i].z) }
	high := func(i int) float64 { return max(points[i-1].z, points[i].z) }
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case low(a) < low(b):
			return -1
		case low(a) > low(b):
			return 1
		}
		return a - b
	})
	for x, i := range order {
		for _, k := range order[x+1:] {
			if low(k) > high(i)+micrometre {
				break
			}
			a, b := min(i, k), max(i, k)
			if b-a > 1 && meet(points[a-1], points[a], points[b-1], points[b]) ||
				b-a == 1 && foldedBack(points[a-1], points[a], points[b]) {
				return points[a].step, points[b].step, true
			}
		}
	}
	return 0, 0, false
}

// meet reports whether the pieces ab and cd have a point in common.
func meet(a, b, c, d outlinePoint) bool {
	turn := func(p, s, t outlinePoint) float64 { return (s.r-p.r)*(t.z-p.z) - (s.z-p.z)*(t.r-p.r) }
	const least = micrometre * micrometre
	sign := func(x float64) int {
		switch {
		case x > least:
			return 1
		case x < -least:
			return -1
		}
		return 0
	}
	s1, s2, s3, s4 := sign(turn(a, b, c)), sign(turn(a, b, d)), sign(turn(c, d, a)), sign(turn(c, d, b))
	if s1 != s2 && s3 != s4 {
		return s1*s2 <= 0 && s3*s4 <= 0 && overlap(a, b, c, d)
	}
	return s1 == 0 && s2 == 0 && s3 == 0 && s4 == 0 && overlap(a, b, c, d)
}

// overlap reports whether the boxes around two pieces share more than a micrometre of margin.
func overlap(a, b, c, d outlinePoint) bool {
	return max(min(a.r, b.r), min(c.r, d.r)) <= min(max(a.r, b.r), max(c.r, d.r))+micrometre &&
		max(min(a.z, b.z), min(c.z, d.z)) <= min(max(a.z, b.z), max(c.z, d.z))+micrometre
}

// foldedBack reports whether bc runs back over ab.
func foldedBack(a, b, c outlinePoint) bool {
	ux, uz, vx, vz := b.r-a.r, b.z-a.z, c.r-b.r, c.z-b.z
	lu, lv := math.Hypot(ux, uz), math.Hypot(vx, vz)
	return lu > 0 && lv > 0 && math.Abs(ux*vz-uz*vx) < 1e-9*lu*lv && ux*vx+uz*vz < 0
}

// offOutline returns the distance [m] of a point from the outline.
func offOutline(points []outlinePoint, r, z float64) float64 {
	least := math.Inf(1)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		dr, dz := b.r-a.r, b.z-a.z
		t := 0.0
		if l := dr*dr + dz*dz; l > 0 {
			t = min(max(((r-a.r)*dr+(z-a.z)*dz)/l, 0), 1)
		}
		least = min(least, math.Hypot(r-a.r-t*dr, z-a.z-t*dz))
	}
	return least
}
