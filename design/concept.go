package design

import (
	"fmt"
	"math"
	"slices"

	"leste/job"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// A concept is a kind of station: which groups of outlets, and what about them may be chosen.
type concept struct {
	name      string
	words     string  // what it is, in one sentence
	own       bool    // of the job's own outlets
	stands    float64 // m, by which what stands there is too close to things, which is no fault of a change
	ground    *ground
	tariff    *tariff
	groups    []group
	variables []Variable

	stations []job.Station // that the job draws, of a concept of its own outlets; nil for others
	plan     *station.Plan // and their layout
}

// active lists the variables that leave a choice, the late ones only when asked.
func (c *concept) active(late bool) []int {
	var list []int
	for i := range c.variables {
		if v := &c.variables[i]; (len(v.Sizes) > 1 || v.High > v.Low) && (late || !v.Late) {
			list = append(list, i)
		}
	}
	return list
}

// rule is the point that the rules of thumb give.
func (c *concept) rule() []float64 {
	x := make([]float64, len(c.variables))
	for i := range x {
		x[i] = c.variables[i].at(c.variables[i].Rule)
	}
	return x
}

// A stance is where the air of what stands beside the line comes from.
type stance struct {
	tilt, down, along float64 // rad
	clear             float64 // m from the wall
	meets             float64 // how high up the container its axis meets the wall, over the container's height
	sweeps            float64 // height that the lip spans, over that of the highest container
	wide              bool    // with wide openings
	shot              bool    // and with a short one above, turned, whose openings are wider still
	dense             bool    // with nozzles a little less wide in a close row
}

// steepStances let the air come steeply down onto the upper part, which reaches what a rim holds: from where usual
// openings are left some room, from nearer with wide ones, from close by, with short lips above the shoulder, less
// steeply after a few large nozzles above have blown the lid off, and less steeply from long rows of nozzles close
// together. The power of air that pushes as hard goes with the root of its plenum pressure, so that wide openings at a low
// pressure cost least as far as they do. It is where searches on cans of several sizes end, as rounded as they bear; no
// other source.
var steepStances = []stance{
	{tilt: 38 * degree, down: 55 * degree, clear: 40e-3, meets: 0.6, sweeps: 1.1},
	{tilt: 35 * degree, down: 57 * degree, clear: 30e-3, meets: 0.7, sweeps: 1.05, wide: true},
	{tilt: 38 * degree, down: 59 * degree, clear: 20e-3, meets: 0.8, sweeps: 1, wide: true},
	{tilt: 38 * degree, down: 62 * degree, along: 15 * degree, clear: 20e-3, meets: 1, sweeps: 0.65, wide: true},
	{tilt: 46 * degree, down: 46 * degree, clear: 30e-3, meets: 0.65, sweeps: 1, wide: true, shot: true},
	{tilt: 40 * degree, down: 48 * degree, clear: 32e-3, meets: 0.75, sweeps: 0.87, wide: true, dense: true},
}

const degree = math.Pi / 180

// Wide openings.
const (
	wideGap       = 2.5e-3 // m
	wideBore      = 19e-3
	shotBore      = 25e-3
	shotTurn      = 45 * degree
	shotWider     = 1.05 // length over the deepest container
	closeTogether = 30e-3
	denseBore     = 16e-3
	dense         = 20e-3 // m, spacing
)

// stances are the points that the search starts from: that of the rules of thumb and the steep ones.
func (c *concept) stances() [][]float64 {
	rule := c.rule()
	height, highest, deepest := 0.0, 0.0, 0.0
	for i := range c.ground.formats {
		b := c.ground.formats[i].plan.Body
		height += b.Height / float64(len(c.ground.formats))
		highest, deepest = max(highest, b.Height), max(deepest, b.Depth)
	}
	set := func(x []float64, k coordinate, to float64) {
		if k.variable < 0 {
			return
		}
		v := &c.variables[k.variable]
		before := x[k.variable]
		if len(v.Sizes) > 0 {
			for _, size := range v.Sizes {
				if math.Abs(size-to) < math.Abs(v.value(x[k.variable])-to) {
					x[k.variable] = v.at(size)
				}
			}
			return
		}
		x[k.variable] = v.at(min(max(to, v.Low), v.High))
		c.carry(x, k.variable, before)
	}
	all := [][]float64{rule}
	shoots := slices.ContainsFunc(c.groups, func(g group) bool { return g.side == above && g.kind == job.NozzleManifold })
	for _, from := range steepStances {
		if from.shot && !shoots {
			continue
		}
		x := slices.Clone(rule)
		for i := range c.groups {
			g := &c.groups[i]
			if g.side == beside && g.down.variable >= 0 && g.share.variable >= 0 {
				set(x, g.tilt, from.tilt)
				set(x, g.length, from.sweeps*highest/math.Sin(from.tilt))
				set(x, g.clear, from.clear)
				set(x, g.down, from.down)
				set(x, g.along, from.along)
				set(x, g.share, from.meets+from.clear*math.Tan(from.down)/height)
			}
			if from.wide {
				set(x, g.gap, wideGap)
				set(x, g.bore, wideBore)
				set(x, g.spacing, closeTogether)
			}
			if from.dense {
				set(x, g.bore, denseBore)
				set(x, g.spacing, dense)
			}
			if from.shot && g.side == above {
				set(x, g.bore, shotBore)
				set(x, g.tilt, shotTurn)
				set(x, g.length, shotWider*deepest)
			}
		}
		if !slices.ContainsFunc(all, func(y []float64) bool { return !c.differ(x, y) }) {
			all = append(all, x)
		}
	}
	return all
}

// add makes a variable and returns where it is found.
func (c *concept) add(v Variable) coordinate {
	if len(v.Sizes) == 0 {
		v.Rule = min(max(v.Rule, v.Low), v.High)
	}
	c.variables = append(c.variables, v)
	return coordinate{variable: len(c.variables) - 1}
}

// thumb is what rules of thumb say about a job.
type thumb struct {
	tilt      float64 // rad, steepest slope at which the wall dries behind the front
	tiltOf    string
	length    float64 // m, that sweeps the highest container at that slope
	clearance float64
}

// Rules of thumb start the search; common practice, no source, unless said.
const (
	usualClearance   = 35e-3 // m
	manifoldDistance = 80e-3
	aboveDistance    = 30e-3
	usualAim         = 10 * math.Pi / 180
	usualGap         = 1.2e-3
	usualBore        = 12e-3
	usualPitch       = 40e-3 // m, spacing of nozzles
	farther          = 0.6   // m between two stations
	endMargin        = 0.25  // slot at each end within which the jet is weak, over the distance to the wall: relation slot-ends
	aboveWider       = 1.2   // length of an outlet above over the container's extent
)

func (g *ground) thumb() thumb {
	t := thumb{clearance: usualClearance, tilt: math.Pi / 2}
	slowest, fastest, highest := math.Inf(1), 0.0, 0.0
	for i := range g.formats {
		f := &g.formats[i]
		l := f.problem.Liquid
		liquid := water.Liquid{Density: q.Density(l.Density), Viscosity: q.Viscosity(l.Viscosity), Tension: q.SurfaceTension(l.Tension)}
		s := f.plan.Body.Surface
		area := make([]float64, len(f.plan.Body.Materials))
		for k, a := range s.Area {
			area[f.plan.Body.Material[s.Zone[k]]] += a
		}
		most := 0
		for m := range area {
			if area[m] > area[most] {
				most = m
			}
		}
		slowest = min(slowest, float64(water.DewettingSpeed(liquid, f.plan.Body.Materials[most].Receding, 0)))
		fastest = max(fastest, float64(f.plan.Speed))
		highest = max(highest, f.plan.Body.Height)
	}
	if slowest < fastest {
		t.tilt = math.Asin(slowest / fastest)
	}
	const flattest, steepest = 8 * math.Pi / 180, 60 * math.Pi / 180
	t.tilt = min(max(t.tilt, flattest), steepest)
	t.tiltOf = "the steepest slope at which the wall dries behind the front (relations dewetting-speed, wet-share)"
	t.length = highest/math.Sin(t.tilt) + 2*endMargin*t.clearance
	return t
}

const lengthRule = "sweeps the highest container at the rule's slope, with a margin at each end (calc sweep, relation slot-ends)"

// tiltRange is how a group beside the line may be sloped.
type tiltRange struct{ low, high float64 }

var (
	level     = tiltRange{0, 0}
	anySlope  = tiltRange{-60 * math.Pi / 180, 80 * math.Pi / 180}
	aboveTurn = tiltRange{0, 90 * math.Pi / 180}
)

// sides adds a pair beside the line.
func (c *concept) sides(place int, kind string, slope tiltRange) *group {
	t := c.ground.thumb()
	z := &c.ground.sizes
	what := map[string]string{job.AirKnife: "side knives", job.NozzleManifold: "side manifolds"}[kind]
	g := group{name: what, place: place, kind: kind, side: beside, frame: "side frame", x: fixed(0), along: fixed(0)}
	angle := float64(z.AngleStep)
	long := max(float64(z.Lengths[0]), min(t.length, float64(z.Lengths[1])))
	g.tilt = fixed(slope.low)
	if slope.high > slope.low {
		g.tilt = c.add(Variable{Name: "tilt of the " + what, Kind: q.KindAngle, Low: slope.low, High: slope.high, Step: angle, Rule: t.tilt, RuleOf: t.tiltOf})
	}
	g.down = c.add(Variable{Name: "downward aim of the " + what, Kind: q.KindAngle, Low: -20 * math.Pi / 180, High: 65 * math.Pi / 180, Step: angle, Rule: usualAim, RuleOf: "a little downwards, so that water leaves over the heel"})
	g.along = c.add(Variable{Name: "downstream aim of the " + what, Kind: q.KindAngle, Low: -20 * math.Pi / 180, High: 30 * math.Pi / 180, Step: angle, Rule: 0, RuleOf: "square to travel"})
	g.length = c.add(Variable{Name: "length of the " + what, Kind: q.KindLength, Low: float64(z.Lengths[0]), High: float64(z.Lengths[1]), Step: float64(z.LengthStep), Rule: long, RuleOf: lengthRule})
	c.openings(&g, what)
	clearance := t.clearance
	high := float64(z.Clearance[1])
	if kind != job.AirKnife {
		clearance = manifoldDistance
	}
	g.share = c.add(Variable{
		Name: "height of the " + what + " over the container's", Kind: q.KindRatio, Low: 0.2, High: 1.4, Step: 0.01,
		Rule: 0.5, RuleOf: "middle of the container",
	})
	g.clear = c.add(Variable{
		Name: "clearance of the " + what, Kind: q.KindLength, Low: float64(z.Clearance[0]), High: high, Step: float64(z.ClearanceStep),
		Rule: clearance, RuleOf: "reach: knives work close to a smooth wall, nozzles farther off",
	})
	c.byFormat(&g, true)
	c.groups = append(c.groups, g)
	return &c.groups[len(c.groups)-1]
}

// byFormat adds by how much each of several formats departs from the rest in clearance, and in height where that is free.
func (c *concept) byFormat(g *group, heights bool) {
	const up, off = 0.05, 0.04 // m
	z, formats := &c.ground.sizes, c.ground.formats
	if len(formats) == 1 {
		return
	}
	for i := range formats {
		v := Variable{Format: formats[i].name, Kind: q.KindLength, RuleOf: "as for the others", Late: true}
		if heights {
			v.Name, v.Low, v.High, v.Step = "height of the "+g.name, -up, up, float64(z.HeightStep)
			g.higher = append(g.higher, c.add(v))
		}
		v.Name, v.Low, v.High, v.Step = "clearance of the "+g.name, -off, off, float64(z.ClearanceStep)
		g.farther = append(g.farther, c.add(v))
	}
}

// openings adds slot gap, or bore and spacing.
func (c *concept) openings(g *group, what string) {
	z := &c.ground.sizes
	if g.kind == job.AirKnife {
		g.gap = c.add(Variable{Name: "slot gap of the " + what, Kind: q.KindLength, Sizes: floats(z.Gaps), Rule: nearest(z.Gaps, usualGap), RuleOf: "usual"})
		g.bore, g.spacing = fixed(0), fixed(0)
		return
	}
	g.gap = fixed(0)
	g.bore = c.add(Variable{Name: "bore of the " + what, Kind: q.KindLength, Sizes: floats(z.Bores), Rule: nearest(z.Bores, usualBore), RuleOf: "usual"})
	g.spacing = c.add(Variable{Name: "spacing of the " + what, Kind: q.KindLength, Sizes: floats(z.Spacings), Rule: nearest(z.Spacings, usualPitch), RuleOf: "usual"})
}

func nearest(sizes []q.Length, wanted q.Length) float64 {
	best := sizes[0]
	for _, s := range sizes {
		if math.Abs(float64(s-wanted)) < math.Abs(float64(best-wanted)) {
			best = s
		}
	}
	return float64(best)
}

// over adds an outlet above or below the line. It keeps its clearance to every format.
func (c *concept) over(place int, kind, side string, x tiltRange) *group {
	z := &c.ground.sizes
	angle := float64(z.AngleStep)
	where := map[string]string{above: "top", below: "bottom"}[side]
	what := where + map[string]string{job.AirKnife: " knife", job.NozzleManifold: " manifold"}[kind]
	deepest := 0.0
	for i := range c.ground.formats {
		deepest = max(deepest, c.ground.formats[i].plan.Body.Depth)
	}
	g := group{name: what, place: place, kind: kind, side: side, frame: where + " frame", down: fixed(0), share: fixed(0)}
	rule, slant := math.Pi/2, 45*degree
	if side == below {
		rule, slant = 0, 60*degree // along the travel, so that every nozzle passes the middle of the base
	}
	g.tilt = c.add(Variable{Name: "turn of the " + what, Kind: q.KindAngle, Low: aboveTurn.low, High: aboveTurn.high, Step: angle, Rule: rule, RuleOf: "across the belt above, along it below"})
	g.along = c.add(Variable{Name: "downstream aim of the " + what, Kind: q.KindAngle, Low: -slant, High: slant, Step: angle, Rule: 0, RuleOf: "straight at the container"})
	g.x = fixed(0)
	if x.high > x.low {
		g.x = c.add(Variable{Name: "place of the " + what + " along the line", Kind: q.KindLength, Low: x.low, High: x.high, Step: float64(z.LengthStep), Rule: x.low / 2, RuleOf: "before the sides, so that what it blows off is swept down"})
	}
	g.length = c.add(Variable{Name: "length of the " + what, Kind: q.KindLength, Low: float64(z.Lengths[0]), High: max(float64(z.Lengths[0]), min(float64(z.Lengths[1]), 3*deepest)), Step: float64(z.LengthStep), Rule: aboveWider * deepest, RuleOf: "a fifth wider than the widest container"})
	c.openings(&g, what)
	g.clear = c.add(Variable{Name: "clearance of the " + what, Kind: q.KindLength, Low: float64(z.Clearance[0]), High: float64(z.Clearance[1]), Step: float64(z.ClearanceStep), Rule: aboveDistance, RuleOf: "close, with room for the tallest container"})
	c.groups = append(c.groups, g)
	return &c.groups[len(c.groups)-1]
}

// reaches says from where the zones that are asked about can be reached.
type reaches struct{ sides, top, bottom bool }

func (g *ground) reaches() reaches {
	var r reaches
	for i := range g.formats {
		f := &g.formats[i]
		s := f.plan.Body.Surface
		for _, d := range f.demands {
			for k, n := range s.Normal {
				if d.zone != job.ZoneAll && s.Zones[s.Zone[k]] != d.zone {
					continue
				}
				r.top = r.top || n.Z > 0.5
				r.bottom = r.bottom || n.Z < -0.5 && !f.plan.Stations[0].Belt
				r.sides = r.sides || math.Abs(n.Z) < 0.7
			}
		}
	}
	return r
}

// concepts lists what is tried on a job, and says why what it draws is not, where that cannot be varied. A second station is
// laid out where the concept needs one.
func concepts(j *job.Job, g *ground, second func() (*ground, error)) (all []*concept, why string, err error) {
	r := g.reaches()
	add := func(name, words string, on *ground, build func(c *concept)) *concept {
		c := &concept{name: name, words: words, ground: on, tariff: newTariff()}
		build(c)
		all = append(all, c)
		return c
	}
	beforeOrAfter := tiltRange{-0.4, 0.4}
	one := len(g.given.Stations) == 1
	pairs := func(kind string, slope tiltRange) func(c *concept) {
		return func(c *concept) {
			for p := range g.given.Stations {
				c.sides(p, kind, slope)
			}
		}
	}
	if r.sides || !r.bottom {
		add("level knives", "a pair of air knives, level", g, pairs(job.AirKnife, level))
		add("tilted knives", "a pair of air knives, tilted", g, pairs(job.AirKnife, anySlope))
		add("tilted manifolds", "a pair of nozzle manifolds, tilted", g, pairs(job.NozzleManifold, anySlope))
	}
	if r.top && one {
		add("tilted knives and a top knife", "a pair of tilted air knives and one above that blows down", g, func(c *concept) {
			c.sides(0, job.AirKnife, anySlope)
			c.over(0, job.AirKnife, above, beforeOrAfter)
		})
		add("tilted manifolds and a top manifold", "a pair of tilted nozzle manifolds and one above that blows down", g, func(c *concept) {
			c.sides(0, job.NozzleManifold, anySlope)
			c.over(0, job.NozzleManifold, above, beforeOrAfter)
		})
		if len(g.formats) > 1 {
			add("rigid set", "a pair of tilted air knives and one above on one frame that only moves up and down", g, func(c *concept) { c.rigid(beforeOrAfter) })
		}
	}
	if r.bottom && one {
		add("bottom manifold", "a nozzle manifold under the line that blows up", g, func(c *concept) { c.over(0, job.NozzleManifold, below, level) })
		add("bottom knife", "an air knife under the line that blows up", g, func(c *concept) { c.over(0, job.AirKnife, below, level) })
	}
	if one && (r.sides || r.top) {
		two, err := second()
		if err != nil {
			return nil, "", err
		}
		add("two stations", "the same pair of tilted air knives twice along the line", two, func(c *concept) {
			c.sides(0, job.AirKnife, anySlope)
			again := c.groups[0]
			again.place = 1
			c.groups = append(c.groups, again)
		})
		if r.top {
			add("knives, then a top knife", "a pair of tilted air knives, and farther on one above that blows down", two, func(c *concept) {
				c.sides(0, job.AirKnife, anySlope)
				c.over(1, job.AirKnife, above, level)
			})
		}
	}
	for _, l := range ladder(j) {
		c, reason := drawn(j, g, l)
		if c != nil {
			all = append(all, c)
		} else if reason != "" {
			why = reason
		}
	}
	if len(all) == 0 {
		return nil, "", fmt.Errorf("no kind of station reaches what is asked about")
	}
	return all, why, nil
}

// rigid adds a pair and one above that move up and down together.
func (c *concept) rigid(x tiltRange) {
	c.sides(0, job.AirKnife, anySlope)
	c.over(0, job.AirKnife, above, x)
	// Settings of single formats give way to one height for each.
	z := &c.ground.sizes
	lift := []coordinate{fixed(0)}
	first := c.ground.formats[0].plan.Body.Height
	for i := 1; i < len(c.ground.formats); i++ {
		f := &c.ground.formats[i]
		d := f.plan.Body.Height - first
		lift = append(lift, c.add(Variable{
			Name: "height of the frame", Format: f.name, Kind: q.KindLength, Low: min(0, d) - 0.03, High: max(0, d) + 0.06, Step: float64(z.HeightStep),
			Rule: d, RuleOf: "follows the container's height",
		}))
	}
	for i := range c.groups {
		g := &c.groups[i]
		g.lift, g.frame = lift, "rigid frame"
		for _, k := range slices.Concat(g.higher, g.farther) {
			c.pin(k)
		}
		g.higher, g.farther = nil, nil
	}
}

// pin takes the choice from a variable.
func (c *concept) pin(k coordinate) {
	if k.variable >= 0 {
		v := &c.variables[k.variable]
		v.Low, v.High, v.Sizes = v.Rule, v.Rule, nil
	}
}

// names lists the concepts.
func names(all []*concept) []string {
	out := make([]string, len(all))
	for i, c := range all {
		out[i] = c.name
	}
	slices.Sort(out)
	return out
}
