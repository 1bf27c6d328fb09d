package job

import (
	"fmt"
	"math"
	"strings"

	q "leste/quantity"
)

func (c *checker) stations(path string, stations []Station) {
	c.names(path, len(stations), "station", func(i int) string { return stations[i].Name })
	seen := map[string]bool{}
	for i := range stations {
		s, at := &stations[i], fmt.Sprintf("%s/%d", path, i)
		if s.State == Planned && s.Plenum.Known {
			c.say(at+"/plenum_pressure", CodeConflict, "a plenum pressure is measured on a station that is only planned", "write \"state: as found\", or give the pressure wanted with each outlet")
		}
		if len(s.Outlets) == 0 && !c.given(at, "outlets") {
			c.say(at, CodeMissing, "this station has no outlets", "add \"outlets\"")
		}
		c.names(at+"/frames", len(s.Frames), "frame", func(k int) string { return s.Frames[k].Name })
		var frames []string
		for k := range s.Frames {
			frames = append(frames, s.Frames[k].Name)
			c.frame(&s.Frames[k], fmt.Sprintf("%s/frames/%d", at, k))
		}
		for k := range s.Outlets {
			o, here := &s.Outlets[k], fmt.Sprintf("%s/outlets/%d", at, k)
			if o.Name != "" && seen[o.Name] {
				c.say(here+"/name", CodeTwice, fmt.Sprintf("a second outlet is called %q", o.Name), "give every outlet a name of its own, ducts are led to it by name")
			}
			seen[o.Name] = true
			c.refer(here+"/frame", "frame of this station", o.Frame, frames)
			c.outlet(o, here)
		}
	}
}

// outlet checks that the opening fits the kind and that nothing is said twice.
func (c *checker) outlet(o *Outlet, path string) {
	needless := func(why string, keys ...string) {
		for _, key := range keys {
			if c.given(path, key) {
				c.say(path+"/"+key, CodeConflict, why, fmt.Sprintf("leave %s out", key))
			}
		}
	}
	if at := path + "/side"; o.Side == "" && len(c.job.Formats) > 0 && !c.file.unread[at] {
		// An air side alone asks for openings, not for places.
		text := "\"side\" is missing"
		if c.file.Has(at) {
			text = "side says nothing, and no place can be assumed"
		}
		c.say(at, CodeMissing, text, "write \"side: …\", one of left, right, above, below")
		c.file.unread[at] = true
	}
	switch o.Kind {
	case AirKnife:
		if !c.given(path, "slot_gap") {
			c.say(path+"/slot_gap", CodeMissing, "this air knife has no slot_gap", "add \"slot_gap: 1.2 mm\" with your value, or \"slot_gap: not known\"")
		}
		needless("an air knife has a slot, no nozzles", "bore", "opening_width", "opening_height", "spacing", "count")
	case NozzleManifold:
		needless("a nozzle manifold has nozzles, no slot", "slot_gap")
		c.opening(o, path)
		if o.Count > 1 && o.Length.Known && o.Spacing.Known && o.Spacing.V > 0 {
			if fits := float64(o.Length.V)/float64(o.Spacing.V) + 1; math.Abs(fits-float64(o.Count)) > 1.5 {
				c.say(path+"/count", CodeConflict, fmt.Sprintf("%d nozzles at %s do not make a row of %s", o.Count, q.Format(o.Spacing.V, q.SI), q.Format(o.Length.V, q.SI)), "leave count out, or correct length or spacing")
			}
		}
		if o.Spacing.Known && o.Bore.Known && o.Spacing.V < o.Bore.V {
			c.say(path+"/spacing", CodeConflict, "the nozzles overlap: their spacing is below their bore", "give a larger spacing or a smaller bore")
		}
	case Nozzle:
		needless("a nozzle has no slot", "slot_gap")
		needless("this is a single nozzle", "spacing", "length")
		if o.Count > 1 {
			c.say(path+"/count", CodeConflict, "this is a single nozzle", "write \"kind: nozzle manifold\", or leave count out")
		}
		c.opening(o, path)
	}
	if o.Side == "left" || o.Side == "right" {
		switch {
		case o.StandOff.Known && o.Offset.Known:
			c.say(path+"/offset", CodeConflict, "stand_off and offset both say how far the outlet is away", "keep one of them")
		case o.Offset.Known && o.Offset.V <= 0:
			c.say(path+"/offset", CodeRange, "offset is the distance from the line's centre here and not below zero", "give the distance; the side says which way")
		}
	}
}

// opening checks the opening of a nozzle: round with a bore, or oblong with two sides.
func (c *checker) opening(o *Outlet, path string) {
	bore, wide, high := c.given(path, "bore"), c.given(path, "opening_width"), c.given(path, "opening_height")
	switch {
	case bore && (wide || high):
		c.say(path+"/bore", CodeConflict, "the opening is round and oblong", "keep bore, or opening_width and opening_height")
	case wide != high:
		key := map[bool]string{true: "opening_height", false: "opening_width"}[wide]
		c.say(path+"/"+key, CodeMissing, "one side of the oblong opening is missing", fmt.Sprintf("add %q", key))
	case !bore && !wide:
		c.say(path+"/bore", CodeMissing, fmt.Sprintf("this %s has no opening", o.Kind), "add \"bore: 19 mm\" with your value, or \"bore: not known\"")
	case o.Wide.Known && o.High.Known && o.High.V > o.Wide.V:
		c.say(path+"/opening_height", CodeConflict, "opening_height is larger than opening_width, which is the long side along the outlet", "exchange the two")
	}
}

// axisKeys are the keys of a setting by the axis they move.
var axisKeys = []struct {
	axis, key string
	kind      q.Kind
}{
	{"height", "height", q.KindLength},
	{"stand-off", "stand_off", q.KindLength},
	{"tilt", "tilt", q.KindAngle},
	{"aim", "aim", q.KindAngle},
}

// Reach is the range of an axis in SI; an end that is not given is infinite.
type reach struct{ low, high float64 }

func (c *checker) frame(f *Frame, path string) {
	axes := map[string]reach{}
	for i := range f.Axes {
		a, at := &f.Axes[i], fmt.Sprintf("%s/axes/%d", path, i)
		if _, twice := axes[a.Axis]; twice && a.Axis != "" {
			c.say(at+"/axis", CodeTwice, fmt.Sprintf("the frame has two axes %s", a.Axis), "keep one of them")
			continue
		}
		axes[a.Axis] = c.axis(a, at)
	}
	formats := c.formatNames()
	covered := map[string]bool{}
	for i := range f.Settings {
		s, at := &f.Settings[i], fmt.Sprintf("%s/settings/%d", path, i)
		c.refer(at+"/format", "format", s.Format, formats)
		if covered[s.Format] && s.Format != "" {
			c.say(at+"/format", CodeTwice, fmt.Sprintf("a second setting is for %q", s.Format), "keep one of them")
		}
		covered[s.Format] = true
		c.setting(s, at, axes)
	}
	if len(f.Settings) == 0 {
		return
	}
	var missing []string
	for _, name := range formats {
		if name != "" && !covered[name] {
			missing = append(missing, name)
		}
	}
	if len(missing) > 0 {
		c.say(path+"/settings", CodeMissing, fmt.Sprintf("no setting of this frame covers %s", strings.Join(quoted(missing), ", ")), "add a setting for each format")
	}
}

// axis reads the range of an axis.
func (c *checker) axis(a *Axis, path string) reach {
	r := reach{math.Inf(-1), math.Inf(1)}
	kind := q.None
	for _, k := range axisKeys {
		if k.axis == a.Axis {
			kind = k.kind
		}
	}
	if kind == q.None {
		return r // an unknown axis is reported already
	}
	read := func(key, text string, into *float64) bool {
		if isNotKnown(text) {
			return false
		}
		x, err := kind.Parse(text)
		if err != nil {
			f := fromQuantity(err)
			c.say(path+"/"+key, f.code, key+": "+f.text, f.want)
			return false
		}
		*into = x
		return true
	}
	low, high := read("low", a.Low, &r.low), read("high", a.High, &r.high)
	if low && high && r.low >= r.high {
		c.say(path+"/low", CodeConflict, "the lower end of the range is not below the upper one", "exchange low and high")
		return reach{math.Inf(-1), math.Inf(1)}
	}
	var step float64
	if read("step", a.Step, &step) && step <= 0 {
		c.say(path+"/step", CodeRange, "the division of the scale must be above zero", "give the distance of two marks, e.g. \"1 mm\"")
	}
	return r
}

// setting holds a setting against the axes of its frame.
func (c *checker) setting(s *Setting, path string, axes map[string]reach) {
	values := map[string]struct {
		x     float64
		known bool
	}{
		"height": {float64(s.Height.V), s.Height.Known}, "stand_off": {float64(s.StandOff.V), s.StandOff.Known},
		"tilt": {float64(s.Tilt.V), s.Tilt.Known}, "aim": {float64(s.Aim.V), s.Aim.Known},
	}
	for _, k := range axisKeys {
		v := values[k.key]
		if !v.known {
			continue
		}
		r, ok := axes[k.axis]
		const slack = 1e-9 // of unit conversion
		switch {
		case !ok && v.x != 0 && !c.file.gaps:
			c.say(path+"/"+k.key, CodeReference, fmt.Sprintf("the frame has no axis %s to set", k.axis), fmt.Sprintf("add \"- axis: %s\" to its axes, or leave %s out", k.axis, k.key))
		case ok && (v.x < r.low-slack || v.x > r.high+slack):
			end, name := r.low, "low"
			if v.x > r.high {
				end, name = r.high, "high"
			}
			c.say(path+"/"+k.key, CodeRange, fmt.Sprintf("%s: %s is beyond the %s end of the axis, %s", k.key, k.kind.Exact(v.x), name, k.kind.Exact(end)), "stay within the range of the axis")
		}
	}
}
