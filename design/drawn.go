package design

import (
	"context"
	"math"
	"slices"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// A rung is how much of the job's own outlets may change.
type rung struct {
	name, words           string
	moves, resets, renews bool // places and angles; slot gaps; every size
}

// asDrawn is the concept of the job's own outlets.
const asDrawn = "as drawn"

// ladder lists what is tried with the job's own outlets. Of a station that exists the least change is asked first.
func ladder(j *job.Job) []rung {
	all := []rung{{asDrawn, "the outlets that the job draws, with sizes and settings found anew", true, true, true}}
	filled := job.Clone(j)
	job.Fill(filled)
	for i := range filled.Stations {
		if filled.Stations[i].State == job.AsFound {
			return append([]rung{
				{"as found, other air", "the outlets that stand there, as they stand, at another plenum pressure", false, false, false},
				{"as found, moved", "the outlets that stand there, in other places and at other angles", true, false, false},
				{"as found, moved and opened", "the outlets that stand there, moved, with other slot gaps", true, true, false},
			}, all...)
		}
	}
	return all
}

// drawn makes a concept of the outlets that the job draws: their kinds and sides stay, sizes and settings are free
// around what is drawn as far as the rung allows. It returns nil where there is nothing to keep, or something that
// cannot be varied.
func drawn(j *job.Job, g *ground, r rung) *concept {
	plan, ok := laidOut(j)
	if !ok || len(j.Stations) != len(g.given.Stations) || len(plan.Formats) != len(g.formats) {
		return nil
	}
	filled := job.Clone(j)
	job.Fill(filled)
	c := &concept{name: r.name, words: r.words, ground: g, tariff: newTariff(), own: true}
	for p := range filled.Stations {
		used := map[int]bool{}
		outlets := filled.Stations[p].Outlets
		for i := range outlets {
			if used[i] {
				continue
			}
			o := &outlets[i]
			if o.Compressed || o.Wide.V > 0 {
				return nil
			}
			members := []job.Outlet{j.Stations[p].Outlets[i]}
			side := o.Side
			if o.Side == left || o.Side == right {
				for k := i + 1; k < len(outlets); k++ {
					if !used[k] && mirrored(o, &outlets[k]) {
						members, side = append(members, j.Stations[p].Outlets[k]), beside
						if o.Side == right {
							members[0], members[1] = members[1], members[0]
						}
						used[k] = true
						break
					}
				}
			}
			if !c.keep(p, side, o, members) || !c.stood(plan, p, i, o) {
				return nil
			}
			c.holdBack(r, &c.groups[len(c.groups)-1], o)
		}
	}
	if len(c.groups) == 0 {
		return nil
	}
	if !r.renews && r.resets && !slices.ContainsFunc(c.groups, func(g group) bool { return g.kind == job.AirKnife }) {
		return nil // nothing there has a slot gap
	}
	for p := range filled.Stations {
		if filled.Stations[p].State == job.AsFound {
			a := c.arrange(c.rule())
			c.stands = c.ground.astray(&a) + c.ground.crowded(&a)
			break
		}
	}
	return c
}

// holdBack takes from the search what a rung leaves as it is.
func (c *concept) holdBack(r rung, g *group, o *job.Outlet) {
	if !r.renews {
		c.hold(g.length, float64(o.Length.V))
		c.hold(g.bore, float64(o.Bore.V))
		c.hold(g.spacing, float64(o.Spacing.V))
	}
	if !r.resets {
		c.hold(g.gap, float64(o.SlotGap.V))
	}
	if !r.moves {
		c.hold(g.tilt, float64(o.Tilt.V))
		c.hold(g.down, float64(o.AimDown.V))
		c.hold(g.along, float64(o.AimAlong.V))
		for _, k := range slices.Concat([]coordinate{g.share, g.clear, g.x}, g.higher, g.farther) {
			if k.variable >= 0 {
				c.hold(k, c.variables[k.variable].Rule)
			}
		}
	}
}

// hold leaves a variable no choice but a value.
func (c *concept) hold(k coordinate, value float64) {
	if k.variable >= 0 {
		v := &c.variables[k.variable]
		v.Low, v.High, v.Rule, v.Sizes, v.Step = value, value, value, nil, 0
	}
}

// drawnAt is the plenum pressure that all outlets of a job's own concept are drawn with [Pa]; 0 where there is no such one.
func (c *concept) drawnAt() float64 {
	at := q.Maybe[q.Gauge]{}
	for i := range c.groups {
		for k := range c.groups[i].given {
			p := c.groups[i].given[k].Pressure
			if !p.Known || at.Known && p.V != at.V {
				return 0
			}
			at = p
		}
	}
	return float64(at.V)
}

// asItStands has what the job draws assessed as it is drawn, at the plenum pressure that it gives, where that would cost
// less than all that works: a search that starts from a station that does what is asked never ends dearer than it.
func (s *search) asItStands(ctx context.Context, st *Study) error {
	least := math.Inf(1)
	for i := range st.Found {
		if f := &st.Found[i]; f.Works || f.Beside {
			least = min(least, f.Cost)
		}
	}
	for i := range st.Found {
		f := &st.Found[i]
		c := s.judges[f.concept].concept
		pressure := c.drawnAt()
		if !(pressure > 0) {
			continue
		}
		now := *f
		now.ind = Individual{X: c.rule(), Pressure: pressure}
		now, ok, err := s.priced(ctx, &now)
		if err != nil || !ok || now.Cost >= least {
			return err // other rungs are drawn alike
		}
		if err := s.tell(ctx, st, &now); err != nil {
			return err
		}
		if now.Works || now.Beside {
			now.trust = f.trust
			*f = now
		}
		return nil
	}
	return nil
}

// mirrored says whether two outlets face each other with the same values.
func mirrored(a, b *job.Outlet) bool {
	return a.Kind == b.Kind && a.Side != b.Side && (b.Side == left || b.Side == right) &&
		a.X.V == b.X.V && a.Height.V == b.Height.V && a.StandOff.V == b.StandOff.V && a.Offset.V == b.Offset.V &&
		a.Tilt.V == b.Tilt.V && a.AimDown.V == b.AimDown.V && a.AimAlong.V == b.AimAlong.V && a.Length.V == b.Length.V &&
		a.SlotGap.V == b.SlotGap.V && a.Bore.V == b.Bore.V && a.Spacing.V == b.Spacing.V
}

// keep adds a group for outlets of the job.
func (c *concept) keep(place int, side string, o *job.Outlet, members []job.Outlet) bool {
	z := &c.ground.sizes
	var g *group
	name := members[0].Name
	switch {
	case side == above || side == below:
		if o.Kind == job.Nozzle || side == below && c.ground.formats[0].plan.Stations[place].Belt {
			return false
		}
		g = c.over(place, o.Kind, side, level)
		g.x = fixed(float64(o.X.V))
		c.byFormat(g, false) // it may stand at one height for all of them
	case o.Kind == job.Nozzle:
		return false
	default:
		g = c.sides(place, o.Kind, anySlope)
		g.side = side
		g.x = fixed(float64(o.X.V))
		c.start(g.down, float64(o.AimDown.V))
	}
	g.given, g.name = members, name
	c.start(g.tilt, float64(o.Tilt.V))
	c.start(g.along, float64(o.AimAlong.V))
	c.widely(g.length, min(max(float64(o.Length.V), float64(z.Lengths[0])), float64(z.Lengths[1])))
	c.start(g.gap, float64(o.SlotGap.V))
	c.start(g.bore, float64(o.Bore.V))
	c.start(g.spacing, float64(o.Spacing.V))
	return true
}

// stood has the search start from where outlet i of a station stands for every format, which the latest group was made
// for. It is false where the outlet aims or slopes otherwise for one format than for another, which no group does.
func (c *concept) stood(plan *station.Plan, place, i int, drawn *job.Outlet) bool {
	g := &c.groups[len(c.groups)-1]
	formats := c.ground.formats
	first := &plan.Formats[0].Stations[place].Outlets[i]
	as := setup{group: g, tilt: float64(drawn.Tilt.V), length: float64(drawn.Length.V), gap: float64(drawn.SlotGap.V), bore: float64(drawn.Bore.V)}
	for f := range plan.Formats {
		const alike = 1e-6
		o := &plan.Formats[f].Stations[place].Outlets[i]
		if between(o.Axis, first.Axis) > alike || between(o.Line, first.Line) > alike {
			return false
		}
		at := lips{height: o.Middle.Z, offset: math.Abs(o.Middle.Y)}
		switch g.side {
		case above:
			at.clear = at.height - formats[f].plan.Body.Height
		case below:
			at.clear = -at.height
		default:
			at.clear = at.offset - formats[f].widest(as.span(at.height))
		}
		g.drawn = append(g.drawn, at)
	}
	share := g.drawn[0].height / formats[0].plan.Body.Height
	if g.share.variable >= 0 {
		c.variables[g.share.variable].Step = 0 // those of heights do
	}
	c.widely(g.share, share)
	c.widely(g.clear, g.drawn[0].clear)
	for f := range g.drawn {
		if g.higher != nil {
			c.widely(g.higher[f], g.drawn[f].height-share*formats[f].plan.Body.Height)
		}
		if g.farther != nil {
			c.widely(g.farther[f], g.drawn[f].clear-g.drawn[0].clear)
		}
	}
	return true
}

// between is how far two points are from each other [m].
func between(a, b station.Vec) float64 {
	return math.Hypot(math.Hypot(a.X-b.X, a.Y-b.Y), a.Z-b.Z)
}

// widely has the search start from a value, though it lies beyond what is searched otherwise.
func (c *concept) widely(k coordinate, value float64) {
	if k.variable >= 0 {
		v := &c.variables[k.variable]
		v.Low, v.High = min(v.Low, value), max(v.High, value)
	}
	c.start(k, value)
}

// start has the search start from a value, and says so.
func (c *concept) start(k coordinate, value float64) {
	if k.variable < 0 {
		return
	}
	v := &c.variables[k.variable]
	v.RuleOf = "as drawn"
	if len(v.Sizes) > 0 { // what is drawn can be had, whatever else can
		if !(value > 0) {
			return
		}
		if !slices.Contains(v.Sizes, value) {
			v.Sizes = slices.Sorted(slices.Values(append(slices.Clone(v.Sizes), value)))
		}
		v.Rule = value
		return
	}
	v.Rule = min(max(value, v.Low), v.High)
	v.From = v.Rule
}

// job is the whole job with the stations of an arrangement at a plenum pressure.
func (a *arrangement) job(pressure float64) *job.Job {
	g := a.concept.ground
	j := job.Clone(g.given)
	if !a.concept.own { // ducts lead to outlets by their names; others are laid out simply
		j.AirSupply.Branches, j.AirSupply.Junctions, j.AirSupply.Leakage = nil, nil, nil
	}
	j.Options = nil
	for i := range a.setups {
		s := &a.setups[i]
		st := &j.Stations[s.place]
		frame, ok := a.frame(s)
		for n := range s.sides() {
			o := s.outlet(n, pressure)
			if ok {
				o.Frame = frame.Name
			}
			st.Outlets = append(st.Outlets, o)
		}
		if ok && !hasFrame(st, frame.Name) {
			st.Frames = append(st.Frames, frame)
		}
	}
	return j
}

func hasFrame(st *job.Station, name string) bool {
	for i := range st.Frames {
		if st.Frames[i].Name == name {
			return true
		}
	}
	return false
}

// frame is what carries a group where formats need different settings.
func (a *arrangement) frame(s *setup) (job.Frame, bool) {
	g := a.concept.ground
	f := job.Frame{Name: s.frame}
	type move struct {
		axis      string
		values    []float64
		step      float64
		low, high float64
		differs   bool
		assign    func(to *job.Setting, v q.Length)
	}
	moves := []*move{
		{axis: "height", step: float64(g.sizes.HeightStep), assign: func(to *job.Setting, v q.Length) { to.Height = q.Known(v) }},
		{axis: "stand-off", step: float64(g.sizes.ClearanceStep), assign: func(to *job.Setting, v q.Length) { to.StandOff = q.Known(v) }},
	}
	any := false
	for _, m := range moves {
		from := s.height
		if m.axis == "stand-off" {
			from = s.offset
		}
		for _, v := range from {
			d := v - from[0]
			m.values = append(m.values, d)
			m.low, m.high = min(m.low, d), max(m.high, d)
			m.differs = m.differs || math.Abs(d) > 1e-9
		}
		any = any || m.differs
	}
	if !any {
		return f, false
	}
	for _, m := range moves {
		if !m.differs {
			continue
		}
		spare, exact := 20e-3, q.KindLength.Exact // of the scale beyond what is used
		if g.sizes.Units == q.US {
			spare = 0.8 * inch
			exact = func(v float64) string {
				const hundredths = 100
				return q.Significant(math.Round(v/inch*hundredths)/hundredths, 6) + " in"
			}
		}
		f.Axes = append(f.Axes, job.Axis{Axis: m.axis, Low: exact(tidy(m.low - spare)), High: exact(tidy(m.high + spare)), Step: exact(m.step)})
	}
	for i := range g.formats {
		setting := job.Setting{Format: g.formats[i].name}
		for _, m := range moves {
			if m.differs {
				m.assign(&setting, q.Length(tidy(m.values[i])))
			}
		}
		f.Settings = append(f.Settings, setting)
	}
	return f, true
}

// tidy drops what sums of lengths leave behind the last digit that counts.
func tidy(v float64) float64 { return math.Round(v*1e9) / 1e9 }
