package design

import (
	"context"
	"fmt"
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

// unvaried is put behind what keeps the job's own outlets from being searched from.
const unvaried = ", which a search does not vary"

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
// cannot be laid out or varied, and then says what.
func drawn(j *job.Job, g *ground, r rung) (c *concept, why string) {
	plan, wrong := lay(j)
	if wrong != "" && slices.ContainsFunc(j.Stations, func(s job.Station) bool { return len(s.Outlets) > 0 }) {
		return nil, wrong
	}
	if wrong != "" || len(j.Stations) != len(g.given.Stations) || len(plan.Formats) != len(g.formats) {
		return nil, ""
	}
	filled := job.Clone(j)
	job.Fill(filled)
	c = &concept{name: r.name, words: r.words, ground: g, tariff: newTariff(), own: true, plan: plan, stations: filled.Stations}
	for p := range filled.Stations {
		used := map[int]bool{}
		outlets := asSet(&filled.Stations[p], g.formats[0].name)
		for i := range outlets {
			if used[i] {
				continue
			}
			o := &outlets[i]
			members, side := []int{i}, o.Side
			if o.Side == left || o.Side == right {
				for k := i + 1; k < len(outlets); k++ {
					if !used[k] && mirrored(o, &outlets[k]) && faces(plan, p, i, k) {
						members, side = []int{i, k}, beside
						if o.Side == right {
							members = []int{k, i}
						}
						used[k] = true
						break
					}
				}
			}
			if why := c.unvaried(p, o); why != "" {
				return nil, why + unvaried
			}
			c.keep(p, side, o, j.Stations[p].Outlets, members)
			if !c.stood(plan, p, i, o) {
				return nil, fmt.Sprintf("the frame %q tilts or aims %q otherwise from format to format", o.Frame, o.Name) + unvaried
			}
			c.holdBack(r, &c.groups[len(c.groups)-1], o)
		}
	}
	if len(c.groups) == 0 {
		return nil, ""
	}
	if !r.renews && r.resets && !slices.ContainsFunc(c.groups, func(g group) bool { return g.kind == job.AirKnife }) {
		return nil, "" // nothing there has a slot gap
	}
	for p := range filled.Stations {
		if filled.Stations[p].State == job.AsFound {
			a := c.arrange(c.rule())
			c.stands = c.ground.astray(&a) + c.ground.crowded(&a)
			break
		}
	}
	return c, ""
}

// unvaried says why an outlet is none that a search of the job's own outlets varies; "" where it is one.
func (c *concept) unvaried(place int, o *job.Outlet) string {
	switch {
	case o.Compressed:
		return fmt.Sprintf("%q is fed with compressed air", o.Name)
	case o.Kind == job.Nozzle:
		return fmt.Sprintf("%q is a single nozzle", o.Name)
	case o.Wide.V > 0:
		return fmt.Sprintf("%q has oblong nozzles", o.Name)
	case o.Side == below && c.ground.formats[0].plan.Stations[place].Belt:
		return fmt.Sprintf("%q blows up at a closed belt", o.Name)
	}
	return ""
}

// asSet are the outlets of a station with the slope and the aim that their frames give them for a format.
func asSet(st *job.Station, format string) []job.Outlet {
	out := slices.Clone(st.Outlets)
	for i := range out {
		if f := frameOf(st, out[i].Frame); f != nil {
			s := settingFor(f, format)
			out[i].Tilt.V += s.Tilt.V
			out[i].AimDown.V += s.Aim.V
		}
	}
	return out
}

// faces says whether two outlets of a station stand across the line from each other for every format.
func faces(plan *station.Plan, place, a, b int) bool {
	for f := range plan.Formats {
		const alike = 1e-6
		at := plan.Formats[f].Stations[place].Outlets
		other := at[b].Middle
		other.Y = -other.Y
		if between(at[a].Middle, other) > alike {
			return false
		}
	}
	return true
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

// keep adds a group for outlets of the job, which stands as o does for the first format.
func (c *concept) keep(place int, side string, o *job.Outlet, given []job.Outlet, members []int) {
	z := &c.ground.sizes
	var g *group
	if side == above || side == below {
		g = c.over(place, o.Kind, side, level)
		g.x, g.down, g.aside = fixed(float64(o.X.V)), fixed(float64(o.AimDown.V)), float64(o.Offset.V)
		c.byFormat(g, false) // it may stand at one height for all of them
	} else {
		g = c.sides(place, o.Kind, anySlope)
		g.side = side
		g.x = fixed(float64(o.X.V))
		c.start(g.down, float64(o.AimDown.V))
	}
	for _, i := range members {
		g.given = append(g.given, given[i])
	}
	g.name = g.given[0].Name
	c.start(g.tilt, float64(o.Tilt.V))
	c.start(g.along, float64(o.AimAlong.V))
	c.widely(g.length, min(max(float64(o.Length.V), float64(z.Lengths[0])), float64(z.Lengths[1])))
	c.start(g.gap, float64(o.SlotGap.V))
	c.start(g.bore, float64(o.Bore.V))
	c.start(g.spacing, float64(o.Spacing.V))
	c.zero(g, place, members)
}

// zero notes where the members of a group stand while the scales of their frames read nothing, as the file has them.
func (c *concept) zero(g *group, place int, members []int) {
	first := &c.ground.formats[0]
	for _, i := range members {
		o := &c.stations[place].Outlets[i]
		at := stand{tilt: float64(o.Tilt.V), down: float64(o.AimDown.V)}
		p := &c.plan.Formats[0].Stations[place].Outlets[i]
		at.up = p.Middle.Z
		if g.side != above && g.side != below {
			at.out = math.Abs(p.Middle.Y)
		}
		if f := frameOf(&c.stations[place], o.Frame); f != nil {
			s := settingFor(f, first.name)
			by := standOf(&s)
			by.tilt, by.down = 0, 0
			at = at.less(by, g.side)
		}
		at.up, at.out = tidy(at.up), tidy(at.out)
		g.zeros = append(g.zeros, at)
	}
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
	frames, zeros := a.carried()
	for p := range frames {
		j.Stations[p].Frames = frames[p]
	}
	for p := range a.concept.stations { // names are those that the job has
		j.Stations[p].Search = a.concept.stations[p].Search
	}
	for i := range a.setups {
		s := &a.setups[i]
		st := &j.Stations[s.place]
		frame, ok := a.frame(s)
		for n := range s.sides() {
			o := s.outlet(n, pressure)
			if zero, rides := zeros[rider{s, n}]; rides {
				s.ride(&o, n, zero)
			} else if ok {
				frame.Name = s.frame
				for a.concept.own && hasFrame(a.concept.stations[s.place].Frames, frame.Name) { // by chance
					frame.Name = "new " + frame.Name
				}
				o.Frame = frame.Name
				if !hasFrame(st.Frames, frame.Name) {
					st.Frames = append(st.Frames, frame)
				}
			}
			st.Outlets = append(st.Outlets, o)
		}
	}
	return j
}

// ride puts an outlet on the frame of the job that carries it, where it stands while the scales read nothing.
func (s *setup) ride(o *job.Outlet, member int, zero stand) {
	o.Frame = s.given[member].Frame
	o.Height = q.Known(q.Length(tidy(zero.up)))
	if s.side != above && s.side != below {
		o.Offset = q.Known(q.Length(tidy(zero.out)))
	}
	o.Tilt, o.AimDown = q.Known(q.Angle(zero.tilt)), q.Known(q.Angle(zero.down))
}

func hasFrame(frames []job.Frame, name string) bool {
	return slices.ContainsFunc(frames, func(f job.Frame) bool { return f.Name == name })
}

// frameOf is the frame of a station by its name; nil where there is none.
func frameOf(st *job.Station, name string) *job.Frame {
	for i := range st.Frames {
		if st.Frames[i].Name == name {
			return &st.Frames[i]
		}
	}
	return nil
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
