package design

import (
	"math"
	"slices"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// finished is a job as it is handed over: places by stand-off where air meets a wall, and the blower by its name in
// the generic catalogue, or with all its data where it is of another.
func (s *search) finished(j *job.Job, blower string) *job.Job {
	out := byStandOff(j, s.given, s.drawn, s.options.Sizes.standOffStep())
	if blower == "" || len(out.AirSupply.Blowers) > 0 {
		return s.spelt(out)
	}
	b := job.Blower{Name: "blower", Part: blower}
	if s.options.Parts != nil {
		if part, err := s.parts.Blower(blower); err == nil {
			b = part.Blower
			b.Name = blower
		}
	}
	out.AirSupply.Blowers = []job.Blower{b}
	return s.spelt(out)
}

// spelt is a job as it is read where it is written as the job file that is searched for, to the last bit: what cannot be set
// is rounded.
func (s *search) spelt(j *job.Job) *job.Job {
	if s.options.Spelling == nil {
		return j
	}
	return asRead(j, s.options.Spelling)
}

// byStandOff gives the outlets beside the line by their distance along the air, in steps, as it is measured on site. Where
// the air misses the container abreast, or where that layout is refused, the distance from the line's centre stays. An outlet
// that stands where it is drawn is not moved to a step, nor is one on a frame that the job given draws, whose scales would
// read otherwise. What a file gives is where an outlet stands while its frame's scales read nothing.
func byStandOff(j, given *job.Job, drawn *station.Plan, step float64) *job.Job {
	out := job.Clone(j)
	plan, ok := laidOut(j)
	if !ok || len(plan.Formats) == 0 {
		return out
	}
	zero := plan
	if again := unset(j); again != nil {
		if zero, ok = laidOut(again); !ok {
			return out
		}
	}
	for k := range out.Stations {
		for i := range out.Stations[k].Outlets {
			o := &out.Stations[k].Outlets[i]
			d := zero.Formats[0].Stations[k].Outlets[i].StandOff
			if o.Side != left && o.Side != right || math.IsNaN(d) {
				continue
			}
			stays := k < len(given.Stations) && o.Frame != "" && hasFrame(given.Stations[k].Frames, o.Frame)
			if !stays && !standsIn(drawn, k, &plan.Formats[0].Stations[k].Outlets[i]) {
				d = math.Round(d/step) * step
			}
			o.StandOff, o.Offset = q.Known(q.Length(tidy(d))), q.Maybe[q.Length]{}
		}
	}
	if again, ok := laidOut(out); ok {
		for k := range out.Stations {
			for i := range out.Stations[k].Outlets {
				const near = 1e-3
				a, b := plan.Formats[0].Stations[k].Outlets[i].Middle, again.Formats[0].Stations[k].Outlets[i].Middle
				if math.Abs(a.Y-b.Y) > near {
					return job.Clone(j)
				}
			}
		}
		return out
	}
	return job.Clone(j)
}

// unset is a job with every scale of its frames at nothing; nil where all are.
func unset(j *job.Job) *job.Job {
	out, set := job.Clone(j), false
	for k := range out.Stations {
		for i := range out.Stations[k].Frames {
			f := &out.Stations[k].Frames[i]
			set = set || len(f.Settings) > 0
			f.Settings = nil
		}
	}
	if !set {
		return nil
	}
	return out
}

// standsIn says whether a station of a layout holds an outlet where and as another stands for the first format.
func standsIn(plan *station.Plan, place int, p *station.Placed) bool {
	if plan == nil || len(plan.Formats) == 0 || place >= len(plan.Formats[0].Stations) {
		return false
	}
	const alike = 1e-6
	return slices.ContainsFunc(plan.Formats[0].Stations[place].Outlets, func(o station.Placed) bool {
		return o.Name == p.Name && between(o.Middle, p.Middle) < alike && between(o.Axis, p.Axis) < alike
	})
}

func laidOut(j *job.Job) (*station.Plan, bool) {
	plan, wrong := lay(j)
	return plan, wrong == ""
}

// lay is the layout of a job, and the first thing that is wrong with it; "" where nothing is.
func lay(j *job.Job) (plan *station.Plan, wrong string) {
	filled := job.Clone(j)
	job.Fill(filled)
	const cell = 20e-3
	plan, problems := station.Resolve(filled, station.ResolveOptions{Cell: cell})
	if len(problems) > 0 {
		return plan, problems[0].Text
	}
	return plan, ""
}

// laid is an arrangement as the job that it was finished as lays it out: stand-offs are rounded to what is measured on site,
// which moves lips by a part of a millimetre. Where the job cannot be laid out it stays as it is.
func (a *arrangement) laid(j *job.Job) arrangement {
	out := arrangement{a.concept, slices.Clone(a.setups)}
	plan, ok := laidOut(j)
	if !ok || len(plan.Formats) != len(a.concept.ground.formats) {
		return out
	}
	next := make([]int, len(j.Stations)) // outlet of each station
	for i := range out.setups {
		s := &out.setups[i]
		s.height, s.offset = slices.Clone(s.height), slices.Clone(s.offset)
		for f := range plan.Formats {
			m := plan.Formats[f].Stations[s.place].Outlets[next[s.place]].Middle
			s.height[f] = m.Z
			if s.side != above && s.side != below {
				s.offset[f] = math.Abs(m.Y)
			}
		}
		next[s.place] += len(s.sides())
	}
	return out
}

// onConveyor is the length of the line that the outlets of an arrangement take up.
func (a *arrangement) onConveyor() q.Length {
	from, to := math.Inf(1), math.Inf(-1)
	for i := range a.setups {
		s := &a.setups[i]
		at := float64(a.concept.ground.given.Stations[s.place].At.V)
		p := s.placed(0, 0)
		low, high := ends(at, &p)
		from, to = min(from, low), max(to, high)
	}
	if to < from {
		return 0
	}
	return q.Length(to - from)
}

// settings are the places of the groups for every format, and how many scales change from one to the next.
func (a *arrangement) settings() (list []Setting, changes int) {
	differs := func(values []float64) bool {
		for _, v := range values {
			if math.Abs(v-values[0]) > 1e-9 {
				return true
			}
		}
		return false
	}
	seen := map[string]bool{}
	_, zeros := a.carried()
	for i := range a.setups {
		s := &a.setups[i]
		height, offset := differs(s.height), differs(s.offset)
		for n := range s.sides() {
			frame := "new " + s.frame
			if _, rides := zeros[rider{s, n}]; rides { // that of the job, with what else it carries
				frame = "own " + s.given[n].Frame
			}
			for _, d := range []struct {
				axis    string
				changes bool
			}{{"height", height}, {"stand-off", offset}} {
				key := frame + d.axis + string(rune('0'+s.place))
				if d.changes && !seen[key] {
					seen[key] = true
					changes++
				}
			}
		}
		name := s.name
		switch {
		case len(s.given) > 1: // those of the job have names of their own
			names := make([]string, len(s.given))
			for n := range s.given {
				names[n] = s.given[n].Name
			}
			name = joined(names)
		case s.place > 0 && s.given == nil:
			name += " of station " + string(rune('1'+s.place))
		}
		for f := range a.concept.ground.formats {
			clearance := s.offset[f]
			if s.side == above || s.side == below {
				clearance = s.height[f]
			}
			list = append(list, Setting{
				Format: a.concept.ground.formats[f].name, Group: name, Height: q.Length(s.height[f]),
				Clearance: q.Length(clearance), Changes: height || offset,
			})
		}
	}
	return list, changes
}

// departures hold what was chosen against the rules of thumb. Heights and clearances are told where the lips of an
// arrangement of x end up, which is in steps that can be set, no nearer than outlets may stand, and for each format where
// its own setting says so.
func (c *concept) departures(x []float64, a *arrangement) []Departure {
	var list []Departure
	told := map[int]bool{}
	for _, k := range c.active(true) {
		if told[k] {
			continue
		}
		if group, of := c.placing(k); of != nil {
			for _, i := range c.groups[group].placed(of.base) {
				told[i] = true
			}
			list = append(list, c.ending(x, a, group, of)...)
			continue
		}
		v := &c.variables[k]
		value := v.value(x[k])
		if v.Late && value == 0 {
			continue
		}
		departs := v.departs(value)
		if len(v.Sizes) > 0 {
			departs = value != v.Rule
		}
		list = append(list, Departure{v.Name, v.Format, v.text(value), v.text(v.Rule), v.RuleOf, departs})
	}
	return list
}

// departs says whether a value is worth a word beside what the rule of thumb gives.
func (v *Variable) departs(value float64) bool {
	const notable = 0.15 // of the range
	return math.Abs(value-v.Rule) > notable*(v.High-v.Low)
}

// A placing is a variable that places the lips of a group together with those of single formats.
type placing struct {
	base  int                       // variable of all formats
	step  func(*setup, int) float64 // that can be set
	where func(*setup, int) float64 // where the lip stands for a format, as the variable has it
}

// placing is the group that a variable places and how; nil for others.
func (c *concept) placing(k int) (group int, of *placing) {
	z := &c.ground.sizes
	body := func(f int) *station.Body { return c.ground.formats[f].plan.Body }
	for i := range c.groups {
		g := &c.groups[i]
		switch {
		case g.share.variable >= 0 && slices.Contains(g.placed(g.share.variable), k):
			return i, &placing{
				g.share.variable,
				func(_ *setup, f int) float64 { return float64(z.HeightStep) / body(f).Height },
				func(s *setup, f int) float64 { return s.height[f] / body(f).Height },
			}
		case g.clear.variable >= 0 && slices.Contains(g.placed(g.clear.variable), k):
			return i, &placing{
				g.clear.variable,
				func(*setup, int) float64 { return float64(z.ClearanceStep) },
				func(s *setup, f int) float64 {
					switch s.side {
					case above:
						return s.height[f] - body(f).Height
					case below:
						return -s.height[f]
					}
					low, high := s.span(s.height[f])
					return s.offset[f] - c.ground.formats[f].reaches(low, high)
				},
			}
		}
	}
	return 0, nil
}

// placed are the variables that settle the same as the one of all formats: it, and those of single formats.
func (g *group) placed(base int) []int {
	single := g.farther
	if base == g.share.variable {
		single = g.higher
	}
	out := []int{base}
	for _, k := range single {
		out = append(out, k.variable)
	}
	return out
}

// ending tells where the lips of a group end up: once where that is the setting or the same for all formats, else for each.
// A set that moves up and down as one is told of as it stands for the first format.
func (c *concept) ending(x []float64, a *arrangement, group int, of *placing) []Departure {
	v := &c.variables[of.base]
	thumb := c.arrange(c.rule())
	s, ruled := &a.setups[group], &thumb.setups[group]
	setting, formats := v.value(x[of.base]), len(c.ground.formats)
	if s.lift != nil {
		formats = 1
	}
	one, first := true, of.where(s, 0)
	asSet := math.Abs(first-setting) < of.step(s, 0)
	for f := range formats {
		at, step := of.where(s, f), of.step(s, f)
		asSet = asSet && math.Abs(at-setting) < step
		one = one && math.Abs(at-first) < step
		if c.own { // what it draws, it may draw for single formats
			one = one && math.Abs(of.where(ruled, f)-of.where(ruled, 0)) < step
		}
	}
	tell := func(format string, f int, value float64) Departure {
		rule := v.Rule
		if c.own {
			if rule = of.where(ruled, f); asSet && !one && math.Abs(rule-v.Rule) < of.step(ruled, f) {
				rule = v.Rule
			}
		}
		return Departure{v.Name, format, v.text(value), v.text(rule), v.RuleOf, v.departs(value)}
	}
	switch {
	case asSet && !one:
		return []Departure{tell("", 0, setting)}
	case one:
		return []Departure{tell("", 0, first)}
	}
	var list []Departure
	for f := range formats {
		list = append(list, tell(c.ground.formats[f].name, f, of.where(s, f)))
	}
	return list
}
