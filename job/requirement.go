package job

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	q "leste/quantity"
)

// tolerance is what a machine usually tolerates where nobody said it; "" where the quantity does not
// matter to it.
type tolerance struct {
	water, waterLow, waterHigh string
	drop, dropLow, dropHigh    string
	mass, massLow, massHigh    string
	zones                      []string // first choice first
	canZones                   []string // the same for cans
}

// tolerances by kind of machine. No standard states them: the machine's own specification does, and
// should be asked for.
var tolerances = map[string]tolerance{
	"camera": {
		drop: "1.5 mm", dropLow: "1 mm", dropHigh: "2 mm",
		zones: []string{ZoneClosure, ZoneFinish, ZoneNeckRing}, canZones: []string{ZoneSeam, ZoneEnd},
	},
	"labeller": {
		water: "1 g/m2", waterLow: "0.5 g/m2", waterHigh: "2 g/m2", drop: "1 mm", dropLow: "0.7 mm", dropHigh: "1.5 mm",
		zones: []string{ZoneLabelPanel, ZoneSidewall}, canZones: []string{ZoneSidewall},
	},
	"coder": {
		water: "0.5 g/m2", waterLow: "0.3 g/m2", waterHigh: "1 g/m2", drop: "0.2 mm", dropLow: "0.15 mm", dropHigh: "0.4 mm",
		zones: []string{ZoneClosure, ZoneShoulder, ZoneSidewall}, canZones: []string{ZoneDome, ZoneBase},
	},
	"wrapper": {mass: "150 mg", massLow: "100 mg", massHigh: "200 mg", zones: []string{ZoneAll}, canZones: []string{ZoneAll}},
	"packer":  {mass: "150 mg", massLow: "100 mg", massHigh: "200 mg", zones: []string{ZoneAll}, canZones: []string{ZoneAll}},
	"other":   {mass: "150 mg", massLow: "50 mg", massHigh: "500 mg", zones: []string{ZoneAll}, canZones: []string{ZoneAll}},
}

// requirements fills what the machines tolerate, from their kind and from what the plant complains of.
func (a *assumer) requirements() {
	for i := range a.job.Next {
		m := &a.job.Next[i]
		t, ok := tolerances[m.Machine]
		if !ok {
			continue
		}
		path := fmt.Sprintf("/next/%d/requires", i)
		said := readComplaint(m.Complaint)
		if len(m.Requires) == 0 {
			m.Requires = a.toleratedBy(m, t, said)
		}
		for k := range m.Requires {
			a.limit(&m.Requires[k], t, said, fmt.Sprintf("%s/%d", path, k), m.Machine)
		}
	}
}

// toleratedBy lists the requirements of a machine without their limits; V of the quantity meant is set to
// any positive value, for limit to replace.
func (a *assumer) toleratedBy(m *NextMachine, t tolerance, said complaint) []Requirement {
	zones := said.zones
	if len(zones) == 0 {
		zones = []string{a.zoneOf(m, t)}
	}
	var list []Requirement
	for _, z := range zones {
		switch {
		case said.rejects > 0:
			r := Requirement{Zone: z}
			r.Rejects.V = q.Ratio(said.rejects)
			r.Drop.V = 1
			list = append(list, r)
		default:
			if t.water != "" {
				list = append(list, Requirement{Zone: z, Water: q.Maybe[q.AreaMass]{V: 1}})
			}
			if t.drop != "" {
				list = append(list, Requirement{Zone: z, Drop: q.Maybe[q.Length]{V: 1}})
			}
			if t.mass != "" {
				list = append(list, Requirement{Zone: z, Mass: q.Maybe[q.Mass]{V: 1}})
			}
		}
	}
	return list
}

// limit fills the limit of one requirement unless it has one that is known. Which quantity it limits is
// told by a value that stands there already, else by the machine.
func (a *assumer) limit(r *Requirement, t tolerance, said complaint, path, machine string) {
	if r.Search && r.Mass.Known {
		a.list = append(a.list, Assumed{
			Path: path + "/mass", Value: q.Format(r.Mass.V, q.SI), Source: "allowed by the search, not given by anyone; the machine's specification tells",
		})
	}
	if r.Water.Known || r.Mass.Known || r.Drop.Known && !r.Rejects.Known {
		return
	}
	source := fmt.Sprintf("usual for a %s, no source; its specification tells", machine)
	drop := func() {
		if t.drop == "" {
			t.drop, t.dropLow, t.dropHigh = "1.5 mm", "1 mm", "2 mm"
		}
		assume(a, &r.Drop, path+"/drop", t.drop, t.dropLow, t.dropHigh, source)
	}
	switch {
	case r.Rejects.Known:
		drop()
	case r.Rejects.V > 0:
		assume(a, &r.Rejects, path+"/rejects", q.KindRatio.Exact(float64(r.Rejects.V)), "", "", fmt.Sprintf("the complaint %q", said.text))
		drop()
	case r.Drop.V > 0, r.Water.V == 0 && r.Mass.V == 0 && t.water == "" && t.mass == "":
		drop()
	case r.Water.V > 0, r.Mass.V == 0 && t.water != "":
		assume(a, &r.Water, path+"/water", t.water, t.waterLow, t.waterHigh, source)
	default:
		if t.mass == "" {
			t.mass, t.massLow, t.massHigh = tolerances["other"].mass, tolerances["other"].massLow, tolerances["other"].massHigh
		}
		assume(a, &r.Mass, path+"/mass", t.mass, t.massLow, t.massHigh, source)
	}
}

// zoneOf picks the zone that a machine looks at by the first format that passes it.
func (a *assumer) zoneOf(m *NextMachine, t tolerance) string {
	for i := range a.job.Formats {
		f := &a.job.Formats[i]
		if len(m.Formats) > 0 && !slices.Contains(m.Formats, f.Name) {
			continue
		}
		c := &f.Container
		wanted := t.zones
		if strings.HasPrefix(strings.ToLower(c.Family), "can") {
			wanted = t.canZones
		}
		if len(c.Profile) > 0 {
			for _, z := range slices.Concat(t.zones, t.canZones) {
				if slices.ContainsFunc(c.Profile, func(s ProfileStep) bool { return s.Zone == z }) {
					return z
				}
			}
			return ZoneAll
		}
		return wanted[0]
	}
	return t.zones[0]
}

// complaint is what a plant's words say.
type complaint struct {
	text    string
	zones   []string
	rejects float64 // share of containers, 0 when not said
}

var (
	percentage = regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*(%|percent|per cent|‰)`)
	oneIn      = regexp.MustCompile(`(\d+|one|two|three|five)\s+(?:in|of|out of|per)\s+(?:a\s+|one\s+)?(\d[\d ]*|hundred|thousand|ten thousand|million)`)
	words      = map[string]float64{
		"one": 1, "two": 2, "three": 3, "five": 5,
		"hundred": 100, "thousand": 1000, "ten thousand": 10_000, "million": 1_000_000,
	}
)

// zoneWords are the words plants use for zones; longer ones stand before those that they contain.
var zoneWords = []struct{ word, zone string }{
	{"tamper", ZoneTamperBand},
	{"closure", ZoneClosure},
	{"cap", ZoneClosure},
	{"crown", ZoneClosure},
	{"label", ZoneLabelPanel},
	{"panel", ZoneLabelPanel},
	{"countersink", ZoneCountersink},
	{"seam", ZoneSeam},
	{"neck ring", ZoneNeckRing},
	{"neck", ZoneFinish},
	{"finish", ZoneFinish},
	{"thread", ZoneFinish},
	{"mouth", ZoneFinish},
	{"shoulder", ZoneShoulder},
	{"sidewall", ZoneSidewall},
	{"side wall", ZoneSidewall},
	{"body", ZoneSidewall},
	{"wall", ZoneSidewall},
	{"heel", ZoneHeel},
	{"dome", ZoneDome},
	{"bottom", ZoneBase},
	{"base", ZoneBase},
	{"lid", ZoneEnd},
	{"can end", ZoneEnd},
	{"top end", ZoneEnd},
}

// readComplaint reads words such as "0.1 % rejects at the closure" or "one in a thousand, label lifts".
func readComplaint(text string) complaint {
	c := complaint{text: text}
	lower := strings.ToLower(text)
	rest := lower
	for _, w := range zoneWords {
		if i := wordAt(rest, w.word); i >= 0 {
			rest = rest[:i] + rest[i+len(w.word):]
			if !slices.Contains(c.zones, w.zone) {
				c.zones = append(c.zones, w.zone)
			}
		}
	}
	if m := percentage.FindStringSubmatch(lower); m != nil {
		x, _ := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		c.rejects = x / 100
		if m[2] == "‰" {
			c.rejects = x / 1000
		}
	} else if m := oneIn.FindStringSubmatch(lower); m != nil {
		c.rejects = number(m[1]) / number(m[2])
	}
	if !(c.rejects > 0 && c.rejects < 1) {
		c.rejects = 0
	}
	return c
}

// wordAt finds a word, also in the plural, but not inside another ("cap" in "escape").
func wordAt(s, word string) int {
	for from := 0; ; {
		i := strings.Index(s[from:], word)
		if i < 0 {
			return -1
		}
		i += from
		end := i + len(word)
		letter := func(k int) bool { return k >= 0 && k < len(s) && s[k] >= 'a' && s[k] <= 'z' }
		if !letter(i-1) && (!letter(end) || s[end] == 's' && !letter(end+1)) {
			return i
		}
		from = end
	}
}

func number(s string) float64 {
	if x, ok := words[s]; ok {
		return x
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(s, " ", ""), 64)
	if err != nil || x == 0 {
		return 1
	}
	return x
}
