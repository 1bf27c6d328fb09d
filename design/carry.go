package design

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/job"
	q "leste/quantity"
)

// The frames of a job stay with the outlets that they carry as long as one setting for each format can bring all of them to
// where they are wanted: with their names, their scales and what these read where they stand. What the file gives of an
// outlet is where it stands while the scales read nothing.

// A rider is an outlet of a group that a frame of the job carries.
type rider struct {
	*setup
	member int
}

// A stand is where an outlet stands and how it slopes and aims; out is towards its own side of the line.
type stand struct{ up, out, tilt, down float64 }

// at is where a rider stands for a format.
func (r rider) at(format int) stand {
	s := stand{up: r.height[format], tilt: r.tilt, down: r.down}
	if r.side != above && r.side != below {
		s.out = r.offset[format]
	}
	return s
}

// less is a stand without a setting of its frame.
func (s stand) less(by stand, side string) stand {
	s.up -= by.up
	switch side {
	case above:
		s.up -= by.out
	case below:
		s.up += by.out
	default:
		s.out -= by.out
	}
	s.tilt -= by.tilt
	s.down -= by.down
	return s
}

// near says whether two stands are the same, but for what sums leave behind the last digit.
func (s stand) near(o stand) bool {
	const noise = 1e-7
	return math.Abs(s.up-o.up) < noise && math.Abs(s.out-o.out) < noise && math.Abs(s.tilt-o.tilt) < noise && math.Abs(s.down-o.down) < noise
}

// settingFor is what a frame is set to for a format.
func settingFor(f *job.Frame, format string) job.Setting {
	for _, s := range f.Settings {
		if s.Format == format {
			return s
		}
	}
	return job.Setting{Format: format}
}

func standOf(s *job.Setting) stand {
	return stand{float64(s.Height.V), float64(s.StandOff.V), float64(s.Tilt.V), float64(s.Aim.V)}
}

// carried are the frames of the job that carry what was chosen, by place, and where their outlets stand while the scales
// read nothing.
func (a *arrangement) carried() (frames [][]job.Frame, zeros map[rider]stand) {
	c := a.concept
	frames, zeros = make([][]job.Frame, len(c.ground.given.Stations)), map[rider]stand{}
	for p := range c.stations {
		for i := range c.stations[p].Frames {
			f := &c.stations[p].Frames[i]
			riders := a.riders(p, f.Name)
			set, at, ok := a.set(f, riders)
			if !ok {
				continue
			}
			frames[p] = append(frames[p], set)
			for k, r := range riders {
				zeros[r] = at[k]
			}
		}
	}
	return frames, zeros
}

// riders are the outlets that a frame of the job carries.
func (a *arrangement) riders(place int, frame string) (list []rider) {
	for i := range a.setups {
		s := &a.setups[i]
		for n := range s.given {
			if s.place == place && s.given[n].Frame == frame {
				list = append(list, rider{s, n})
			}
		}
	}
	return list
}

// set is a frame of the job set for what it carries, and where each rider stands while its scales read nothing. It is false
// where riders move apart from format to format, or in a way that the frame has no scale for. The scales are set by the first
// rider beside the line, or the first; what stands otherwise to it than drawn has been moved on the frame.
func (a *arrangement) set(f *job.Frame, riders []rider) (set job.Frame, zeros []stand, ok bool) {
	set = *f
	if len(riders) == 0 {
		return set, nil, true
	}
	lead := riders[0]
	for _, r := range riders {
		if r.side != above && r.side != below {
			lead = r
			break
		}
	}
	formats := a.concept.ground.formats
	settings, moved := make([]job.Setting, len(formats)), false
	zeros = make([]stand, len(riders))
	for i := range formats {
		given := settingFor(f, formats[i].name)
		settings[i] = lead.setting(f, given, i)
		now := standOf(&settings[i])
		moved = moved || !now.near(standOf(&given))
		for k, r := range riders {
			zero := r.at(i).less(now, r.side)
			if drawn := r.zeros[r.member]; zero.near(drawn) {
				zero = drawn
			}
			if i > 0 && !zero.near(zeros[k]) {
				return set, nil, false
			}
			zeros[k] = zero
		}
	}
	if moved {
		set.Settings = settings
		set.Axes = slices.Clone(f.Axes)
		for i := range set.Axes {
			reachFor(&set.Axes[i], settings)
		}
	}
	return set, zeros, true
}

// setting has the scales of a frame read what brings a rider to where it is wanted for a format, and leaves the others.
func (r rider) setting(f *job.Frame, given job.Setting, format int) job.Setting {
	has := func(axis string) bool {
		return slices.ContainsFunc(f.Axes, func(a job.Axis) bool { return a.Axis == axis })
	}
	drawn, at := r.zeros[r.member], r.at(format)
	length := func(v float64) q.Maybe[q.Length] { return q.Known(q.Length(tidy(v))) }
	up, out := at.up-drawn.up, at.out-drawn.out
	switch r.side {
	case above, below: // both scales move it up and down: the one of height does, where there is one
		away := map[string]float64{above: 1, below: -1}[r.side]
		if has("height") {
			up -= away * float64(given.StandOff.V)
			out = float64(given.StandOff.V)
		} else {
			out = away * (up - float64(given.Height.V))
		}
	}
	if has("height") {
		given.Height = length(up)
	}
	if has("stand-off") {
		given.StandOff = length(out)
	}
	if has("tilt") {
		given.Tilt = q.Known(q.Angle(tidy(at.tilt - drawn.tilt)))
	}
	if has("aim") {
		given.Aim = q.Known(q.Angle(tidy(at.down - drawn.down)))
	}
	return given
}

// axisOf is what a setting has on an axis, and of which kind it is.
func axisOf(s *job.Setting, axis string) (v float64, kind q.Kind) {
	switch axis {
	case "height":
		return float64(s.Height.V), q.KindLength
	case "stand-off":
		return float64(s.StandOff.V), q.KindLength
	case "tilt":
		return float64(s.Tilt.V), q.KindAngle
	}
	return float64(s.Aim.V), q.KindAngle
}

// reachFor has a scale reach all that is set on it, by whole divisions beyond its ends and in its own unit.
func reachFor(a *job.Axis, settings []job.Setting) {
	for i := range settings {
		v, kind := axisOf(&settings[i], a.Axis)
		widen := func(end *string, beyond float64) { // -1 down, 1 up
			const slack = 1e-9 // of unit conversion
			from, err := kind.Parse(*end)
			if err != nil || (v-from)*beyond <= slack {
				return // it has no such end, or reaches
			}
			unit := kind.UnitOf(*end)
			if unit == "" {
				unit = kind.Fit(v, q.SI)
			}
			one, err := kind.Parse(a.Step)
			if err != nil || !(one > 0) {
				one = usualDivision(kind, unit)
			}
			*end, _ = kind.ExactIn(from+beyond*math.Ceil((v-from)*beyond/one-slack)*one, unit)
		}
		widen(&a.Low, -1)
		widen(&a.High, 1)
	}
}

// usualDivision is that of a scale that tells none: a millimetre, a twentieth of an inch, a degree; common practice, no source.
func usualDivision(kind q.Kind, unit string) float64 {
	const twentieth = 0.05
	switch {
	case kind == q.KindAngle:
		return degree
	case q.SystemOf(unit) == q.US:
		return twentieth * inch
	}
	return 1e-3
}

// scales say what of the frames that a job draws is otherwise in one that was found: a scale that must reach farther, and
// a frame that cannot carry its outlets any more.
func scales(stations []job.Station, found *job.Job) (out []string) {
	for p := range stations {
		var gone []string
		for i := range stations[p].Frames {
			f := &stations[p].Frames[i]
			now := frameOf(&found.Stations[p], f.Name)
			if now == nil {
				gone = append(gone, fmt.Sprintf("%q", f.Name))
				continue
			}
			for k := range f.Axes {
				if text := wider(f.Name, &f.Axes[k], &now.Axes[k]); text != "" {
					out = append(out, text)
				}
			}
		}
		switch len(gone) {
		case 0:
		case 1:
			out = append(out, fmt.Sprintf("The frame %s cannot carry its outlets any more, as they move apart; they are on other frames.", gone[0]))
		default:
			out = append(out, fmt.Sprintf("The frames %s cannot carry their outlets any more, as they move apart; they are on other frames.", joined(gone)))
		}
	}
	return out
}

// wider tells of a scale that must reach farther than it is drawn.
func wider(frame string, drawn, now *job.Axis) string {
	var ends []string
	if drawn.Low != now.Low {
		ends = append(ends, fmt.Sprintf("down to %s, not %s", now.Low, drawn.Low))
	}
	if drawn.High != now.High {
		ends = append(ends, fmt.Sprintf("up to %s, not %s", now.High, drawn.High))
	}
	if ends == nil {
		return ""
	}
	return fmt.Sprintf("The %s scale of the frame %q must reach %s.", drawn.Axis, frame, strings.Join(ends, ", and "))
}

// setAnew are the stations that stand there and are only set anew: every outlet is what it was, in whatever place, at
// whatever angle and with whatever slot gap. Found jobs have them as planned, since of a station as found plenum pressures
// are measured, and these are wanted.
func setAnew(stations []job.Station, found *job.Job) (names []string) {
	for p := range stations {
		was, same := &stations[p], stations[p].State == job.AsFound
		for i := range was.Outlets {
			w := &was.Outlets[i]
			same = same && slices.ContainsFunc(found.Stations[p].Outlets, func(o job.Outlet) bool {
				const alike = 1e-6
				near := func(a, b q.Length) bool { return math.Abs(float64(a-b)) < alike }
				return o.Name == w.Name && near(o.Length.V, w.Length.V) && near(o.Bore.V, w.Bore.V) && near(o.Spacing.V, w.Spacing.V)
			})
		}
		if same {
			names = append(names, was.Name)
		}
	}
	return names
}
