package accept

import (
	"fmt"
	"slices"
	"sort"

	q "leste/quantity"
)

// A Finding is something that is likely wrong on site, with the signs that led there and what to do.
type Finding struct {
	Code  string // stable word for programs
	Text  string // what is wrong, one sentence
	Do    string // what to look at first
	Signs []string
	Score int // signs for, less signs against
}

// signs is what the readings say, in the terms that the rules speak in.
type signs struct {
	plenums   []Reading
	gaps      []Reading
	places    []Reading // settings out of tolerance
	filter    map[string]float64
	e         Expected
	plenum    float64 // mean ratio; NaN when not read
	lowest    *Reading
	highest   *Reading
	current   float64 // mean ratio; NaN when not read
	heat      float64 // K apart; NaN when not read
	speed     float64 // ratio of belt speed
	wet       []Judged
	notWater  []string
	said      []string
	repeated  int // sentences that belong to one sign with another
	disproved int
}

// far is how far a ratio must be from 1 to be a sign, beyond the tolerances of the readings.
const (
	low     = 0.92
	high    = 1.08
	veryLow = 0.55
)

func gather(rows []Row, rs []Reading, promises []Judged, e Expected) *signs {
	s := &signs{plenum: nan, current: nan, heat: nan, speed: nan, filter: map[string]float64{}, e: e}
	mean := func(what string, of func(Reading) float64) float64 {
		sum, n := 0.0, 0
		for _, r := range rs {
			if r.What == what {
				sum += of(r)
				n++
			}
		}
		if n == 0 {
			return nan
		}
		return sum / float64(n)
	}
	ratio := func(r Reading) float64 { return r.Ratio }
	s.plenum, s.current, s.speed = mean(Plenum, ratio), mean(Current, ratio), mean(Speed, ratio)
	s.heat = mean(Temperature, func(r Reading) float64 { return r.Apart })
	for i := range rs {
		r := &rs[i]
		switch r.What {
		case Plenum:
			s.plenums = append(s.plenums, *r)
			if s.lowest == nil || r.Ratio < s.lowest.Ratio {
				s.lowest = r
			}
			if s.highest == nil || r.Ratio > s.highest.Ratio {
				s.highest = r
			}
		case SlotGap:
			s.gaps = append(s.gaps, *r)
		case StandOff, Height, Tilt, Clearance:
			if r.Beyond {
				s.places = append(s.places, *r)
			}
		}
	}
	for _, r := range rows {
		if r.What == Filter {
			s.filter[r.At] = r.Value
		}
	}
	for _, p := range promises {
		if p.Verdict == NotAccepted {
			s.wet = append(s.wet, p)
		}
		if p.Quantity == "rejects" {
			s.compare(rows, p)
		}
	}
	return s
}

// compare looks whether rejects with the air on differ from those of hand-dried containers.
func (s *signs) compare(rows []Row, p Judged) {
	on, dry, off := s.e.counts(rows, p.Promise, AirOn), s.e.counts(rows, p.Promise, HandDried), s.e.counts(rows, p.Promise, AirOff)
	if on.Of == 0 || dry.Of == 0 || on.Failed == 0 {
		return
	}
	chance := MoreThan(on, dry)
	if chance < 0.1 || dry.Failed == 0 {
		return
	}
	s.notWater = append(s.notWater, fmt.Sprintf("%s rejects %.2g %% with the air on and %.2g %% of hand-dried containers: so much difference comes by chance in %.0f of 100 trials",
		p.Machine, 100*on.Share(), 100*dry.Share(), 100*float64(chance)))
	if off.Of > 0 && MoreThan(off, on) > 0.1 {
		s.notWater = append(s.notWater, fmt.Sprintf("turning the air off does not raise the rejects: %.2g %%", 100*off.Share()))
	}
}

// say notes a sign when it holds, and reports whether it does.
func (s *signs) say(holds bool, format string, args ...any) bool {
	if text := fmt.Sprintf(format, args...); holds && !slices.Contains(s.said, text) { // once for all formats
		s.said = append(s.said, text)
	}
	return holds
}

// sayWet notes where water is left, each place in a sentence, as one sign.
func (s *signs) sayWet(holds bool) bool {
	if !holds || len(s.wet) == 0 {
		return false
	}
	before := len(s.said)
	for _, p := range s.wet {
		s.say(true, "water is left: %s, %s, for %s", p.Format, p.Zone, p.Machine)
	}
	s.repeated += max(len(s.said)-before-1, 0)
	return true
}

// against counts a sign that speaks against a cause.
func (s *signs) against(holds bool) {
	if holds {
		s.disproved++
	}
}

func pct(ratio float64) string { return fmt.Sprintf("%.0f %% of what is expected", 100*ratio) }

// A rule proposes one cause. It says its signs and reports whether those that it cannot do without hold.
type rule struct {
	code, text, do string
	holds          func(s *signs) bool
}

// rules are what goes wrong with blow-off stations. From memory of common practice, no source.
var rules = []rule{
	{"filter", "The inlet filter is loaded.", "Change the filter and read its pressure drop again.", func(s *signs) bool {
		loaded := false
		for _, blower := range names(s.filter) {
			drop, limits := s.filter[blower], s.e.Filters[blower]
			if limits[0] > 0 {
				over := drop > 1.5*limits[0]
				loaded = s.say(over, "the filter of %s drops %s; clean it is %s", blower, q.KindPressureDrop.FormatDigits(drop, q.SI, 2), q.KindPressureDrop.FormatDigits(limits[0], q.SI, 2)) || loaded
				s.against(!over)
			}
		}
		weak := s.say(s.plenum < low, "the plenum pressure is %s", pct(s.plenum))
		s.say(s.current < low, "the motor current is %s: less air is moved", pct(s.current))
		s.against(s.current > high)
		return loaded || weak && s.current < low && len(s.filter) == 0
	}},
	{"slot gap", "A slot gap is wider than set.", "Set the gap with a feeler over the whole length, then read the plenum pressure.", func(s *signs) bool {
		wide := false
		for _, g := range s.gaps {
			wide = s.say(g.Beyond && g.Apart > 0, "the slot gap of %s is %.2f mm instead of %.2f mm", g.At, g.Read*1e3, g.Want*1e3) || wide
		}
		s.say(s.plenum < low, "the plenum pressure is %s", pct(s.plenum))
		s.say(s.current > high, "the motor current is %s: more air is moved", pct(s.current))
		return wide
	}},
	{"narrow gap", "A slot gap is narrower than set, or partly blocked.", "Clean the slot and set the gap with a feeler.", func(s *signs) bool {
		narrow := false
		for _, g := range s.gaps {
			narrow = s.say(g.Beyond && g.Apart < 0, "the slot gap of %s is %.2f mm instead of %.2f mm", g.At, g.Read*1e3, g.Want*1e3) || narrow
		}
		s.say(s.plenum > high, "the plenum pressure is %s", pct(s.plenum))
		s.say(s.current < low, "the motor current is %s: less air is moved", pct(s.current))
		return narrow
	}},
	{"leak", "Air is lost before the outlets: a leak, a hose off, or a drain left open.", "Walk the ducts with the blower running; close drains and check hose clamps.", func(s *signs) bool {
		weak := s.say(s.plenum < low, "the plenum pressure is %s", pct(s.plenum))
		much := s.say(s.current > high, "the motor current is %s: more air is moved", pct(s.current))
		s.say(s.heat < -heatOff, "the discharge is %.0f K cooler than expected", -s.heat)
		right := len(s.gaps) > 0
		for _, g := range s.gaps {
			right = right && !(g.Beyond && g.Apart > 0)
		}
		s.say(weak && right, "the slot gaps are as set")
		s.against(!right && len(s.gaps) > 0)
		s.against(s.current < low)
		return weak && (much || s.heat < -heatOff)
	}},
	{"rotation", "The blower turns the wrong way.", "Lock the drive out, compare the direction with the arrow, have two phases exchanged by a licensed person.", func(s *signs) bool {
		weak := s.say(s.plenum < veryLow, "the plenum pressure is only %s on every outlet", pct(s.plenum))
		s.say(weak && len(s.plenums) > 1 && s.highest.Ratio < veryLow, "no outlet reads more than %s", pct(ratioOf(s.highest)))
		s.say(s.heat < -heatOff, "the discharge is %.0f K cooler than expected", -s.heat)
		for _, blower := range names(s.filter) {
			if limits := s.e.Filters[blower]; limits[0] > 0 {
				s.say(s.filter[blower] < 0.5*limits[0], "the filter of %s drops less than half of its clean drop", blower)
			}
		}
		return weak
	}},
	{"slow", "The blower runs too slowly: drive setting, slipping belt, or another supply frequency.", "Read the shaft speed; check the drive's setting and the belt.", func(s *signs) bool {
		weak := s.say(s.plenum < low && s.plenum >= 0.3, "the plenum pressure is %s", pct(s.plenum))
		slack := s.say(s.current < low, "the motor current is %s", pct(s.current))
		s.say(s.heat < -heatOff/2, "the discharge is %.0f K cooler than expected", -s.heat)
		for _, blower := range names(s.filter) {
			if limits := s.e.Filters[blower]; limits[0] > 0 {
				s.say(s.filter[blower] < 0.9*limits[0], "the filter of %s drops less than expected", blower)
				s.against(s.filter[blower] > 1.5*limits[0])
			}
		}
		return weak && slack
	}},
	{"branch", "One outlet is short of air: a kinked hose, a closed damper, or water in its branch.", "Follow the branch of that outlet; open its damper, drain it, straighten the hose.", func(s *signs) bool {
		if len(s.plenums) < 2 {
			return false
		}
		odd := s.say(s.lowest.Ratio < low && s.highest.Ratio-s.lowest.Ratio > 0.1, "%s reads %s, %s reads %s", s.lowest.At, pct(s.lowest.Ratio), s.highest.At, pct(s.highest.Ratio))
		s.say(odd && s.highest.Ratio > 1.02, "the other outlets read more than expected")
		return odd
	}},
	{"aim", "An outlet does not stand as set.", "Set it again by the set-up sheet, with block and feeler.", func(s *signs) bool {
		off := false
		for _, p := range s.places {
			if p.What == Tilt {
				off = s.say(true, "the %s of %s is %.1f° instead of %.1f°", p.What, p.At, q.Angle(p.Read).Deg(), q.Angle(p.Want).Deg())
			} else {
				off = s.say(true, "the %s of %s is %.1f mm instead of %.1f mm", p.What, p.At, p.Read*1e3, p.Want*1e3)
			}
		}
		s.say(off && s.plenum >= low && s.plenum <= high, "the plenum pressure is right: the air is there but does not arrive where it should")
		s.sayWet(off)
		return off
	}},
	{"slow-line", "The line ran slower than promised for: what was measured proves nothing at the promised speed.", "Measure again at the promised speed.", func(s *signs) bool {
		return s.say(s.speed < 1-speedShare, "the belt speed is %s", pct(s.speed))
	}},
	{"line", "The line runs faster than promised for.", "Read the belt speed again, or ask for the promise at that speed.", func(s *signs) bool {
		return s.say(s.speed > 1+speedShare, "the belt speed is %s", pct(s.speed))
	}},
	{"hot air", "The blower draws warm air back, or its discharge is throttled.", "Look for a closed damper; lead the inlet away from the station's warm air.", func(s *signs) bool {
		hot := s.say(s.heat > heatOff, "the discharge is %.0f K warmer than expected", s.heat)
		s.say(hot && s.current < low, "the motor current is %s: less air is moved", pct(s.current))
		return hot
	}},
	{"not water", "It is not water that is rejected.", "Look at what the machine sees: illumination, scuffs, label edges, foam, dirt on its window.", func(s *signs) bool {
		for _, text := range s.notWater {
			s.say(true, "%s", text)
		}
		return len(s.notWater) > 0
	}},
	{"arrives", "Everything on site is as set, and still water is left: more arrives, or it clings more than assumed.", "Weigh what arrives; test the rinse for detergent or lubricant; compare with the assumed values.", func(s *signs) bool {
		right := s.plenum >= low && s.plenum <= high && len(s.places) == 0 && !(s.speed > 1+speedShare) && len(s.notWater) == 0
		for _, g := range s.gaps {
			right = right && !g.Beyond
		}
		wet := s.sayWet(right)
		s.say(wet, "the plenum pressure is %s", pct(s.plenum))
		s.say(wet && len(s.gaps) > 0, "the slot gaps are as set")
		return wet
	}},
}

// diagnose runs the rules and orders what they find, the most signs first.
func diagnose(rows []Row, rs []Reading, promises []Judged, e Expected) []Finding {
	s := gather(rows, rs, promises, e)
	var out []Finding
	for _, r := range rules {
		s.said, s.repeated, s.disproved = nil, 0, 0
		if r.holds(s) {
			out = append(out, Finding{Code: r.code, Text: r.text, Do: r.do, Signs: s.said, Score: len(s.said) - s.repeated - s.disproved})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Score > out[j].Score })
	return out
}

func ratioOf(r *Reading) float64 {
	if r == nil {
		return nan
	}
	return r.Ratio
}

func names(m map[string]float64) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
