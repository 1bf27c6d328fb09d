package station

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	q "leste/quantity"
)

// Push is one way a container can lose its place.
type Push struct {
	Way    string  // "slide", "tip", "lift", "held back", "turned"
	Factor float64 // resistance over push; below 1 it moves; +Inf when nothing pushes
	Case   string
	At     q.Length // position of the container's axis
	Needs  string   // guide or limit needed, "" when none
}

// Ways a container can lose its place.
const (
	Slide    = "slide"
	Tip      = "tip"
	Lift     = "lift"
	HeldBack = "held back"
	Turned   = "turned"
)

// StandOptions say how containers ride.
type StandOptions struct {
	Contents []string // "empty", "open", "filled": which to examine; none means as the format says
	Belts    []string // "dry", "wet", "lubricated"; none means dry and lubricated
	Friction float64  // of the belt when it is known; 0 means by state
	Speed    q.Speed  // of the belt; 0 means that the container may stop anywhere: no push may then exceed what resists it
	Step     float64  // distance between positions [m]; 0 means 48 positions
	Record   *Record  // of this exposer's pass, when there is one; else the pass is looked at anew
}

// Friction of a container on a belt and on a guide, in common practice (no source): plastic chain.
func beltFriction(state string) (float64, error) {
	switch state {
	case "dry":
		return 0.35, nil
	case "wet":
		return 0.25, nil
	case "lubricated":
		return 0.12, nil
	}
	return 0, fmt.Errorf("the belt state %q is not known; dry, wet and lubricated are", state)
}

const (
	railFriction = 0.2
	gravity      = 9.80665
	idlePush     = 1e-6 // N or N m, below which nothing pushes
)

// Stand finds, for every way a container can lose its place, the worst position and case of a pass, entry and
// exit included. Air pushes by pressure and shear; weight, friction on the belt, the circle it stands on,
// guide rails and grips resist. Rails hold across travel only.
//
// While the belt runs, a push that passes quickly may exceed what resists it: the container then slips or rocks a
// little and settles. The factor of sliding, of being held back and of tipping is in that case how much stronger
// the air could be before it slips by more than 5 mm, or rocks by more than a tenth of the angle at which it
// falls. Of a standing container the greatest push counts.
func Stand(ctx context.Context, e *Exposer, o StandOptions) ([]Push, error) {
	rec := o.Record
	if rec == nil {
		var err error
		if rec, err = NewRecord(ctx, e, o.Step); err != nil {
			return nil, err
		}
	}
	belts := o.Belts
	if len(belts) == 0 {
		belts = []string{"dry", "lubricated"}
	}
	contents := o.Contents
	if len(contents) == 0 {
		contents = []string{e.body.content()}
	}
	loads := slices.Clone(rec.Loads)
	slices.SortStableFunc(loads, func(a, b Load) int { return cmp.Compare(a.X, b.X) })
	loads = evened(loads)
	worst := newFindings()
	for _, c := range contents {
		mass, err := e.body.massWhen(c)
		if err != nil {
			return nil, err
		}
		for _, belt := range belts {
			mu := o.Friction
			if mu == 0 {
				if mu, err = beltFriction(belt); err != nil {
					return nil, err
				}
			}
			s := stance{body: e.body, scene: &e.scene, weight: mass * gravity, friction: mu, speed: float64(o.Speed)}
			label := c + " container, " + belt + " belt, " + e.scene.spacing(e.body)
			if len(e.scene.Grips) > 0 {
				label = c + " container, held by the grips, " + e.scene.spacing(e.body)
			}
			own := newFindings()
			for i := range loads {
				s.judge(&loads[i], label, own)
			}
			if o.Speed > 0 && len(e.scene.Grips) == 0 {
				s.passing(loads, own)
			}
			for _, w := range ways() {
				if own[w].Factor < worst[w].Factor {
					worst[w] = own[w]
				}
			}
		}
	}
	out := make([]Push, 0, len(worst))
	for _, w := range ways() {
		f := worst[w]
		if f.Factor < Enough {
			f.Needs = f.needs(f.Factor)
		}
		out = append(out, f.Push)
	}
	return out, nil
}

// A finding is a push with what would be needed against it, once its factor is final.
type finding struct {
	Push
	needs func(factor float64) string
}

func newFindings() map[string]*finding {
	m := map[string]*finding{}
	for _, w := range ways() {
		m[w] = &finding{Push: Push{Way: w, Factor: math.Inf(1)}}
	}
	return m
}

func ways() []string { return []string{Slide, Tip, Lift, HeldBack, Turned} }

func (b *Body) content() string {
	switch {
	case b.Mass == b.EmptyMass:
		return "empty"
	case b.Open:
		return "open"
	}
	return "filled"
}

func (b *Body) massWhen(content string) (float64, error) {
	switch content {
	case "empty":
		return float64(b.EmptyMass), nil
	case "open", "filled":
		return float64(b.Mass), nil
	}
	return 0, fmt.Errorf("the content %q is not known; empty, open and filled are", content)
}

func (s *Scene) spacing(b *Body) string {
	switch {
	case len(s.Neighbours) == 0:
		return "alone"
	case math.Abs(s.Neighbours[0]) < b.Width+1e-6:
		return "containers touching"
	}
	return "containers apart"
}

// A stance is how a container resists.
type stance struct {
	body     *Body
	scene    *Scene
	weight   float64
	friction float64
	speed    float64 // 0: it may stop anywhere
}

// judge holds one load against what resists it and keeps the worst of each way.
func (s *stance) judge(l *Load, label string, worst map[string]*finding) {
	note := func(way string, resist, push float64, needs func(factor float64) string) {
		if push < idlePush {
			return
		}
		f := math.Max(0, resist) / push
		if w := worst[way]; f < w.Factor {
			*w = finding{Push{Way: way, Factor: f, Case: label, At: q.Length(l.X)}, needs}
		}
	}
	fx, fy, fz := l.Force.X, l.Force.Y, l.Force.Z
	if len(s.scene.Grips) > 0 {
		s.gripped(l, note)
		return
	}
	across := math.Hypot(fx, fy)
	normal := math.Max(0, s.weight-fz)
	grip := s.friction * normal
	_, railed := s.rail(fy)

	note(Lift, s.weight, fz, func(f float64) string {
		return fmt.Sprintf("less air from below, or a guide above the containers: the air lifts %.0f %% of the weight", 100/f)
	})

	slip := across
	if railed {
		slip = math.Abs(fx) // the rail takes what pushes across
	}
	note(Slide, grip, slip, func(f float64) string {
		if railed || math.Abs(fx) > math.Abs(fy) {
			return fmt.Sprintf("at most %.0f %% of this push along travel: turn the aim square to travel, oppose the outlets or lower the pressure", 100*f/Enough)
		}
		return fmt.Sprintf("a guide rail on the %s side, near %.0f mm above the belt", sideOf(fy), 1e3*s.pushHeight(l))
	})

	drag := math.Max(0, -fx)
	if railed {
		drag += railFriction * math.Abs(fy)
	}
	note(HeldBack, grip, drag, func(f float64) string {
		return fmt.Sprintf("at most %.0f %% of this push against travel: aim downstream, lower the pressure, or let containers touch", 100*f/Enough)
	})

	aside := -l.Moment.X
	base := math.Max(s.body.BaseRadius, 1e-4)
	stand := (s.weight + math.Max(0, -fz)) * base
	tx, ty := s.tipShares(l, stand)
	share := math.Hypot(tx, ty) + math.Max(0, fz)*base/stand
	note(Tip, 1, share, func(float64) string {
		side := sideOf(aside)
		if tx > ty {
			return "smaller gaps between the containers, or less air along travel: it tips along the belt"
		}
		return fmt.Sprintf("a guide rail on the %s side at %.0f mm above the belt or higher", side, 1e3*math.Min(s.body.Height*0.9, math.Max(s.pushHeight(l), s.body.CentreOfMass)))
	})

	note(Turned, grip*base, math.Abs(l.Moment.Z), func(f float64) string {
		return "outlets that oppose each other, or guides that keep it from turning"
	})
}

// tipShares are the overturning moments along and across travel over what resists them; stand is what weight
// and base resist.
func (s *stance) tipShares(l *Load, stand float64) (along, across float64) {
	fy, aside := l.Force.Y, -l.Moment.X
	along, across = math.Abs(l.Moment.Y)/stand, math.Abs(aside)/stand
	if rail, railed := s.rail(fy); railed && rail.Z > 0 && aside*fy > 0 {
		// It leans on the rail and can only roll over it, lifting its weight round that contact.
		base := math.Max(s.body.BaseRadius, 1e-4)
		arm := math.Max(s.body.shape.widest(rail.Z, rail.Z)*s.body.shape.section.ky, base)
		across = math.Max(0, math.Abs(aside)-math.Abs(fy)*rail.Z) / (stand / base * arm)
	}
	if s.scene.spacing(s.body) == "containers touching" {
		along = 0 // the neighbours hold it
	}
	return along, across
}

// gripped containers hang between two belts; what the belts must hold is said, not judged.
func (s *stance) gripped(l *Load, note func(string, float64, float64, func(float64) string)) {
	const rubber = 0.6 // friction of a gripping belt, common practice, no source
	f := math.Hypot(l.Force.X, l.Force.Z-s.weight)
	// Belts are set to carry at least three times the weight; the air must not use that up.
	hold := 3 * s.weight
	note(Lift, hold, math.Max(0, l.Force.Z-s.weight), func(float64) string {
		return fmt.Sprintf("gripping belts that press with at least %.1f N on each side", f/(2*rubber))
	})
	note(Slide, hold, f, func(float64) string {
		return fmt.Sprintf("gripping belts that press with at least %.1f N on each side", f/(2*rubber))
	})
}

// rail is the highest guide rail that stands where a sideways force pushes to.
func (s *stance) rail(fy float64) (Bar, bool) {
	var best Bar
	found := false
	for _, r := range s.scene.Rails {
		if r.Y*fy > 0 && (!found || r.Z > best.Z) {
			best, found = r, true
		}
	}
	return best, found
}

// pushHeight is the height at which the air pushes, from force and moment.
func (s *stance) pushHeight(l *Load) float64 {
	f := math.Hypot(l.Force.X, l.Force.Y)
	if f == 0 {
		return s.body.CentreOfMass
	}
	h := (l.Moment.Y*l.Force.X - l.Moment.X*l.Force.Y) / (f * f)
	return math.Max(0, math.Min(s.body.Height, h))
}

func sideOf(y float64) string {
	if y >= 0 {
		return left
	}
	return right
}

// Enough is the factor below which Stand names what would hold a container, and which that keeps. Common practice, no
// source.
const Enough = 1.5
