package airsupply

import (
	"fmt"
	"math"

	"leste/job"
	q "leste/quantity"
)

// A row of a table of published or measured values.
type row struct{ at, value float64 }

func interpolate(table []row, x float64) float64 {
	if x <= table[0].at {
		return table[0].value
	}
	for i := 1; i < len(table); i++ {
		if x <= table[i].at {
			a, b := table[i-1], table[i]
			return a.value + (x-a.at)/(b.at-a.at)*(b.value-a.value)
		}
	}
	return table[len(table)-1].value
}

// Loss coefficients of smooth round bends of 90 degrees against radius over bore, and of other angles as a
// share of them. The means of Rennels & Hudson, Miller and Crane TP-410; +-15 %.
var (
	bendByRadius = []row{{0.5, 0.80}, {0.75, 0.47}, {1, 0.31}, {1.5, 0.23}, {2, 0.21}, {3, 0.21}, {5, 0.26}}
	bendByAngle  = []row{{0, 0}, {30, 0.48}, {45, 0.61}, {90, 1}, {180, 1.7}}

	// Rounded entries against lip radius over bore; the means of Rennels, Miller, Crane and Idelchik.
	roundedEntry = []row{{0, 0.5}, {0.02, 0.36}, {0.05, 0.22}, {0.1, 0.11}, {0.2, 0.04}}

	// Conical diffusers as a share of the sudden enlargement, against the full angle in degrees; the means of
	// Rennels, Miller, Crane and Idelchik for an area ratio of 1.78.
	diffuserByAngle = []row{{0, 0.15}, {7, 0.205}, {10, 0.264}, {15, 0.375}, {20, 0.472}, {30, 0.722}, {60, 1.088}, {90, 1.2}, {180, 1}}
)

// BendLoss returns the loss coefficient of a smooth bend on its own velocity head.
// Range: radius over bore 0.75 to 5, up to 180 degrees, Re above 1e4; +-15 %, tight bends of less than a right
// angle +-30 %.
func BendLoss(radiusOverBore q.Ratio, angle q.Angle) q.Ratio {
	return q.Ratio(interpolate(bendByRadius, float64(radiusOverBore)) * interpolate(bendByAngle, angle.Deg()))
}

// MitreLoss returns the loss coefficient of a single mitre bend on its own velocity head.
// Source: Rennels & Hudson, Pipe Flow; +-15 %.
func MitreLoss(angle q.Angle) q.Ratio {
	s := math.Sin(float64(angle) / 2)
	return q.Ratio(0.42*s + 2.56*s*s*s)
}

// ContractionLoss returns the loss coefficient of a reducer on the velocity head of its small end; angle is
// the full angle, 180 degrees or more is sudden. Source: Rennels & Hudson (sudden), Crane TP-410 (conical).
func ContractionLoss(boreRatio q.Ratio, angle q.Angle) q.Ratio {
	b := float64(boreRatio)
	l := 1 + 0.622*(1-0.215*b*b-0.785*math.Pow(b, 5))
	sudden := 0.0696*(1-math.Pow(b, 5))*l*l + (l-1)*(l-1)
	a := float64(angle)
	if a >= math.Pi {
		return q.Ratio(sudden)
	}
	conical := 0.5 * (1 - b*b) * math.Sqrt(math.Sin(a/2))
	if a <= math.Pi/4 {
		conical = 0.8 * math.Sin(a/2) * (1 - b*b)
	}
	return q.Ratio(min(conical, sudden))
}

// EnlargementLoss returns the loss coefficient of an enlargement on the velocity head of its small end; angle
// is the full angle, 180 degrees or more is sudden (Borda-Carnot, exact for turbulent flow).
func EnlargementLoss(boreRatio q.Ratio, angle q.Angle) q.Ratio {
	b := float64(boreRatio)
	borda := (1 - b*b) * (1 - b*b)
	return q.Ratio(borda * interpolate(diffuserByAngle, min(angle.Deg(), 180)))
}

// DamperLoss returns the loss coefficient of a damper that leaves a share of its bore open: the vena
// contracta behind the opening enlarging suddenly (re-derived), and 0.2 for the open blade.
// +-50 %; a damper is set by measuring, not by calculating.
func DamperLoss(opening q.Ratio) q.Ratio {
	o := float64(opening)
	contraction := 0.63 + 0.37*o*o*o
	x := 1/(contraction*o) - 1
	return q.Ratio(x*x + 0.2)
}

// EntryLoss returns the loss coefficient of an entry rounded by lip radius over bore; 0 is sharp.
func EntryLoss(radiusOverBore q.Ratio) q.Ratio {
	return q.Ratio(interpolate(roundedEntry, float64(radiusOverBore)))
}

// walls are roughness [m] and friction factor multiplier by wall; a public reprint of the ASHRAE duct
// roughness table, but for smooth plastic (common practice).
var walls = map[string]struct{ rough, factor float64 }{
	"smooth plastic":    {0.0015e-3, 1},
	"pvc":               {0.03e-3, 1},
	"steel":             {0.045e-3, 1},
	"galvanised":        {0.09e-3, 1},
	"spiral seam":       {0.09e-3, 1},
	"spiral corrugated": {0.75e-3, 1},
	"lined hose":        {0.9e-3, 1},
	"ring hose":         {0.9e-3, 3},
}

const usualDuct, usualHose = "steel", "lined hose"

// pieceOf turns an element of the job into a piece, given the bore before it, and returns the bore after it.
func pieceOf(e job.Element, before float64) (piece, float64, error) {
	bore := before
	if e.Bore.Known {
		bore = float64(e.Bore.V)
	}
	p := round(e.Kind, bore)
	if e.Width.Known && e.Height.Known {
		w, h := float64(e.Width.V), float64(e.Height.V)
		p.area, p.diameter = w*h, 2*w*h/(w+h)
	}
	if !(p.area > 0) || !(p.diameter > 0) || math.IsInf(p.area, 0) {
		return piece{}, 0, fmt.Errorf("give the bore of the %s", e.Kind)
	}
	after := p.diameter
	k, err := elementLoss(e, &p, &after)
	if err != nil {
		return piece{}, 0, err
	}
	if e.Loss.Known {
		k = e.Loss.V
	}
	count := float64(max(e.Count, 1))
	if e.Count < 0 {
		return piece{}, 0, fmt.Errorf("the number of a %s cannot be negative", e.Kind)
	}
	p.k = float64(k) * count
	p.length *= count
	p.surface = math.Pi * p.diameter * p.length
	if e.Around.Known {
		p.around = float64(e.Around.V)
	}
	if math.IsNaN(p.k) || math.IsInf(p.k, 0) || p.k < 0 {
		return piece{}, 0, fmt.Errorf("the loss coefficient of a %s must be a number of at least zero", e.Kind)
	}
	return p, after, nil
}

// elementLoss returns the coefficient that follows from an element's shape, and fills length, wall and bores.
func elementLoss(e job.Element, p *piece, after *float64) (q.Ratio, error) {
	switch e.Kind {
	case "duct", "hose":
		return 0, along(e, p)
	case "bend":
		radius := q.Ratio(1.5)
		if e.Radius.Known {
			radius = e.Radius.V
		}
		return BendLoss(radius, angleOr(e, 90)), nil
	case "mitre":
		return MitreLoss(angleOr(e, 90)), nil
	case "reducer", "diffuser":
		return changeOfBore(e, p, after)
	case "damper":
		opening := q.Ratio(1)
		if e.Opening.Known {
			opening = e.Opening.V
		}
		if !(opening > 0 && opening <= 1) {
			return 0, fmt.Errorf("the opening of a damper lies above 0 and up to 1; leave the branch out to close it")
		}
		return DamperLoss(opening), nil
	case "entry":
		radius := q.Ratio(0)
		if e.Radius.Known {
			radius = e.Radius.V
		}
		return EntryLoss(radius), nil
	case "exit":
		return 1, nil
	case "valve", "fitting":
		if !e.Loss.Known {
			return 0, fmt.Errorf("give the loss coefficient of the %s", e.Kind)
		}
		return e.Loss.V, nil
	}
	return 0, fmt.Errorf("unknown element %q: it is one of duct, hose, bend, mitre, reducer, diffuser, damper, valve, entry, exit, fitting", e.Kind)
}

func angleOr(e job.Element, degrees float64) q.Angle {
	if e.Angle.Known {
		return e.Angle.V
	}
	return q.Degrees(degrees)
}

func along(e job.Element, p *piece) error {
	if !(float64(e.Length.V) > 0) || math.IsInf(float64(e.Length.V), 0) {
		return fmt.Errorf("give the length of the %s", e.Kind)
	}
	p.length = float64(e.Length.V)
	wall := e.Material
	if wall == "" {
		wall = usualDuct
		if e.Kind == "hose" {
			wall = usualHose
		}
	}
	w, ok := walls[wall]
	if !ok {
		return fmt.Errorf("unknown wall %q: it is one of smooth plastic, pvc, steel, galvanised, spiral seam, spiral corrugated, lined hose, ring hose", wall)
	}
	p.rough, p.factor = w.rough, w.factor
	if e.Roughness.Known {
		p.rough, p.factor = float64(e.Roughness.V), 1
	}
	if e.Friction.Known {
		p.friction, p.factor = float64(e.Friction.V), 1
	}
	if p.friction == 0 && p.rough > roughest*p.diameter {
		return fmt.Errorf("a wall roughness of %.2g mm in a bore of %.3g mm is beyond the friction law; give the measured friction factor", p.rough*1e3, p.diameter*1e3)
	}
	return nil
}

// changeOfBore books a reducer or diffuser on its small end.
func changeOfBore(e job.Element, p *piece, after *float64) (q.Ratio, error) {
	if !(float64(e.BoreAfter.V) > 0) {
		return 0, fmt.Errorf("give the bore after the %s", e.Kind)
	}
	from, to := p.diameter, float64(e.BoreAfter.V)
	*after = to
	small := min(from, to)
	p.area, p.diameter = math.Pi/4*small*small, small
	if to <= from {
		return ContractionLoss(q.Ratio(to/from), angleOr(e, 180)), nil
	}
	return EnlargementLoss(q.Ratio(from/to), angleOr(e, 180)), nil
}
