package design

import (
	"math"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// finished is a job as it is handed over: places by stand-off where air meets a wall, and the blower by its name in
// the generic catalogue, or with all its data where it is of another.
func (s *search) finished(j *job.Job, blower string) *job.Job {
	out := byStandOff(j)
	if blower == "" || len(out.AirSupply.Blowers) > 0 {
		return out
	}
	b := job.Blower{Name: "blower", Part: blower}
	if s.options.Parts != nil {
		if part, err := s.parts.Blower(blower); err == nil {
			b = part.Blower
			b.Name = blower
		}
	}
	out.AirSupply.Blowers = []job.Blower{b}
	return out
}

// byStandOff gives the outlets beside the line by their distance along the air, as it is measured on site. Where the
// air misses the container abreast, or where that layout is refused, the distance from the line's centre stays.
func byStandOff(j *job.Job) *job.Job {
	out := job.Clone(j)
	plan, ok := laidOut(j)
	if !ok || len(plan.Formats) == 0 {
		return out
	}
	for k := range out.Stations {
		for i := range out.Stations[k].Outlets {
			o := &out.Stations[k].Outlets[i]
			d := plan.Formats[0].Stations[k].Outlets[i].StandOff
			if o.Side != left && o.Side != right || math.IsNaN(d) {
				continue
			}
			o.StandOff, o.Offset = q.Known(q.Length(math.Round(d*1e3)/1e3)), q.Maybe[q.Length]{}
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

func laidOut(j *job.Job) (*station.Plan, bool) {
	filled := job.Clone(j)
	job.Fill(filled)
	const cell = 20e-3
	plan, problems := station.Resolve(filled, station.ResolveOptions{Cell: cell})
	return plan, len(problems) == 0
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
	for i := range a.setups {
		s := &a.setups[i]
		height, offset := differs(s.height), differs(s.offset)
		for _, d := range []struct {
			axis    string
			changes bool
		}{{"height", height}, {"stand-off", offset}} {
			key := s.frame + d.axis + string(rune('0'+s.place))
			if d.changes && !seen[key] {
				seen[key] = true
				changes++
			}
		}
		name := s.name
		if s.place > 0 && s.given == nil { // those of the job have names of their own
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

// departures hold what was chosen against the rules of thumb.
func (c *concept) departures(x []float64) []Departure {
	var list []Departure
	for _, k := range c.active(true) {
		v := &c.variables[k]
		value, rule := v.value(x[k]), v.Rule
		if v.Late && value == 0 {
			continue
		}
		const notable = 0.15 // of the range
		off := math.Abs(value - rule)
		departs := off > notable*(v.High-v.Low)
		if len(v.Sizes) > 0 {
			departs = value != rule
		}
		list = append(list, Departure{v.Name, v.Format, v.text(value), v.text(rule), v.RuleOf, departs})
	}
	return list
}
