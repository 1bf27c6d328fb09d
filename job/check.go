package job

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	q "leste/quantity"
)

// Check judges whether the values of a file can be meant and fit together, as far as that can be told
// without the catalogue and without geometry. It may be given a file that Read found faulty; what Read
// could not understand is left alone.
func Check(f *File) Problems {
	c := &checker{file: f, job: f.Job}
	jobGroup.each(reflect.ValueOf(f.Job).Elem(), "", func(path string, fd *field, v, _ reflect.Value) {
		if fault := fd.outside(v); fault != nil && f.Has(path) && !f.unread[path] {
			c.add(path, fault)
		}
	})
	c.whole()
	c.site()
	c.line()
	c.formats()
	c.stations("/stations", f.Job.Stations)
	c.names("/options", len(f.Job.Options), "option", func(i int) string { return f.Job.Options[i].Name })
	for i, o := range f.Job.Options {
		c.stations(fmt.Sprintf("/options/%d/stations", i), o.Stations)
		if o.AirSupply != nil {
			c.air(fmt.Sprintf("/options/%d/air_supply", i), o.AirSupply, o.Stations)
		}
	}
	c.air("/air_supply", &f.Job.AirSupply, f.Job.Stations)
	c.next()
	return c.problems.Sort()
}

// checker collects what does not fit.
type checker struct {
	file     *File
	job      *Job
	problems Problems
}

func (c *checker) add(path string, f *fault) {
	if len(c.problems) >= mostFaults {
		return
	}
	line, column := c.file.Locate(path)
	c.problems = append(c.problems, Problem{c.file.Name, line, column, path, f.code, f.text, f.want})
}

func (c *checker) say(path, code, text, want string) { c.add(path, &fault{code, text, want}) }

// given reports whether the file says something at a path, known or not, or means to under a misspelt key.
func (c *checker) given(path, key string) bool {
	at := path + "/" + key
	return c.file.Has(at) || c.file.unread[at]
}

// holds reports whether the job holds what the file says at a path.
func (c *checker) holds(path, key string) bool {
	at := path + "/" + key
	return c.file.Has(at) && !c.file.unread[at]
}

// names reports names given twice in a list.
func (c *checker) names(path string, n int, what string, name func(i int) string) {
	first := map[string]int{}
	for i := range n {
		s := name(i)
		if s == "" {
			continue
		}
		if k, ok := first[s]; ok {
			c.say(fmt.Sprintf("%s/%d/name", path, i), CodeTwice, fmt.Sprintf("a second %s is called %q", what, s), fmt.Sprintf("give it another name than entry %d", k+1))
			continue
		}
		first[s] = i
	}
}

// refer reports a name that nothing has.
func (c *checker) refer(path, what, name string, known []string) {
	if name == "" || slices.Contains(known, name) || c.file.gaps {
		return
	}
	want := "there is none yet: add it, or leave this out"
	if len(known) > 0 {
		want = "the names are " + strings.Join(quoted(known), ", ")
		if near := nearest(name, known); near != "" {
			want = fmt.Sprintf("write %q", near)
		}
	}
	c.say(path, CodeReference, fmt.Sprintf("no %s is called %q", what, name), want)
}

func quoted(names []string) []string {
	list := make([]string, len(names))
	for i, n := range names {
		list[i] = fmt.Sprintf("%q", n)
	}
	return list
}

func (c *checker) formatNames() []string {
	var names []string
	for i := range c.job.Formats {
		names = append(names, c.job.Formats[i].Name)
	}
	return names
}

// whole looks for a job in the file.
func (c *checker) whole() {
	j := c.job
	if !c.given("", "formats") && !c.given("", "stations") && !c.given("", "air_supply") && len(j.Options) == 0 {
		c.say("", CodeMissing, "there is nothing to work on", "add formats and stations, or stations and an air supply alone")
	}
}

func (c *checker) site() {
	if s := c.job.Site.Space; s != nil {
		c.box("/site/space", s)
	}
}

// box reports faces in the wrong order.
func (c *checker) box(path string, b *Box) {
	for _, p := range []struct {
		axis     string
		from, to q.Length
	}{{"x", b.XFrom, b.XTo}, {"y", b.YFrom, b.YTo}, {"z", b.ZFrom, b.ZTo}} {
		if c.holds(path, p.axis+"_from") && c.holds(path, p.axis+"_to") && p.from >= p.to {
			c.say(path+"/"+p.axis+"_from", CodeConflict, fmt.Sprintf("%s_from is not below %s_to", p.axis, p.axis), "give the smaller one first")
		}
	}
}

func (c *checker) line() {
	l := &c.job.Line
	c.moves("/line", l.Speed, l.Rate, l.Pitch, l.Gap, 0)
	switch {
	case l.Touching.Known && l.Touching.V && l.Gap.Known && l.Gap.V > 0:
		c.say("/line/touching", CodeConflict, "the containers touch, and yet there is a gap between them", "keep touching or container_gap")
	case l.Touching.Known && !l.Touching.V && l.Gap.Known && l.Gap.V == 0:
		c.say("/line/touching", CodeConflict, "the containers do not touch, and yet the gap between them is nothing", "give the gap, or say \"touching: yes\"")
	}
	for i := range l.Obstacles {
		c.box(fmt.Sprintf("/line/obstacles/%d", i), &l.Obstacles[i])
	}
	if g := l.Grips; g != nil && c.holds("/line/side_grips", "z_from") && c.holds("/line/side_grips", "z_to") && g.ZFrom >= g.ZTo {
		c.say("/line/side_grips/z_from", CodeConflict, "the gripping belts end below where they begin", "give the lower edge as z_from")
	}
	if l.Attitude == "side-gripped" && l.Grips == nil && !c.given("/line", "side_grips") {
		c.say("/line/attitude", CodeMissing, "the containers are side-gripped, and nothing says where", "add \"side_grips\" with z_from and z_to")
	}
}

// moves judges speed, rate and spacing given in one place; extent 0 is not known.
func (c *checker) moves(path string, speed q.Maybe[q.Speed], rate q.Maybe[q.Rate], pitch, gap q.Maybe[q.Length], extent q.Length) {
	if pitch.Known && gap.Known {
		c.say(path+"/container_gap", CodeConflict, "pitch and container_gap are both given", "keep one of them")
		return
	}
	if gap.Known && extent > 0 {
		pitch = q.Known(gap.V + extent)
	}
	const slack = 0.02 // what rounding to two or three figures explains
	if speed.Known && rate.Known && pitch.Known && speed.V > 0 {
		made := float64(rate.V) * float64(pitch.V)
		if math.Abs(made-float64(speed.V)) > slack*float64(speed.V) {
			c.say(path+"/speed", CodeConflict,
				fmt.Sprintf("speed, rate and pitch do not fit: %s at a pitch of %s run at %s, not %s", q.Format(rate.V, q.SI), q.Format(pitch.V, q.SI), q.Format(q.Speed(made), q.SI), q.Format(speed.V, q.SI)),
				"leave one of the three out")
		}
	}
}

func (c *checker) next() {
	var stations []string
	c.job.eachStation(func(_ string, s *Station) { stations = append(stations, s.Name) })
	formats := c.formatNames()
	zones := c.zonesOfProfiles()
	for i := range c.job.Next {
		m, path := &c.job.Next[i], fmt.Sprintf("/next/%d", i)
		c.refer(path+"/after", "station", m.After, stations)
		for k, name := range m.Formats {
			c.refer(fmt.Sprintf("%s/formats/%d", path, k), "format", name, formats)
		}
		for k := range m.Requires {
			at := fmt.Sprintf("%s/requires/%d", path, k)
			c.requirement(&m.Requires[k], at)
			c.zone(at+"/zone", m.Requires[k].Zone, zones)
		}
	}
	c.twice()
	for i := range c.job.Limits {
		l, path := &c.job.Limits[i], fmt.Sprintf("/limits/%d", i)
		if !c.given(path, "pressure") && !c.given(path, "speed") && !c.given(path, "temperature") {
			c.say(path, CodeMissing, "this limit limits nothing", "add pressure, speed or temperature")
		}
		c.zone(path+"/zone", l.Zone, zones)
	}
}

// twice reports what is limited a second time: the same in the same zone of the same containers before the same machine.
// Machines without a name are told apart by their kind alone, here as in the answer.
func (c *checker) twice() {
	type limit struct{ machine, zone, quantity, format string }
	first := map[limit]string{}
	formats := c.formatNames()
	for i := range c.job.Next {
		m := &c.job.Next[i]
		name := m.Name
		if name == "" {
			name = m.Machine
		}
		passing := m.Formats
		if len(passing) == 0 {
			passing = append([]string{""}, formats...) // "" is any, where no formats are read
		}
		for k := range m.Requires {
			r, path := &m.Requires[k], fmt.Sprintf("/next/%d/requires/%d", i, k)
			quantity := c.limited(path)
			if r.Zone == "" || quantity == "" {
				continue
			}
			before := ""
			for _, f := range passing {
				key := limit{name, r.Zone, quantity, f}
				switch at := first[key]; {
				case at == "":
					first[key] = path
				case at != path && before == "": // two formats of one name are told elsewhere
					before = at
				}
			}
			if before == "" {
				continue
			}
			line, _ := c.file.Locate(before)
			want := fmt.Sprintf("keep one of the two; the first is in line %d", line)
			if !strings.HasPrefix(before, fmt.Sprintf("/next/%d/", i)) {
				want += "; if another machine is meant, give it a name of its own"
			}
			c.say(path, CodeTwice, fmt.Sprintf("the %s in zone %q is limited a second time before %q", leftAs[quantity], r.Zone, name), want)
		}
	}
}

// leftAs is what each key of a requirement limits.
var leftAs = map[string]string{"water": "water per area", "mass": "water", "drop": "largest drop", "rejects": "share rejected for water"}

// limited is the quantity that a requirement limits; rejects come with the drop that causes them.
func (c *checker) limited(path string) string {
	for _, key := range []string{"rejects", "water", "mass", "drop"} {
		if c.given(path, key) {
			return key
		}
	}
	return ""
}

// requirement sees to it that exactly one thing is limited.
func (c *checker) requirement(r *Requirement, path string) {
	var limits []string
	for _, key := range []string{"water", "mass", "drop", "rejects"} {
		if c.given(path, key) {
			limits = append(limits, key)
		}
	}
	switch {
	case !r.Search:
	case !slices.Contains(limits, "mass"):
		c.say(path+"/by_search", CodeConflict, "by_search marks a mass that a search allowed, and a search raises no other limit", "leave it out: what stands here is taken for what the machine tolerates")
	case !r.Mass.Known && c.holds(path, "mass"): // one that cannot be read is told by itself
		c.say(path+"/by_search", CodeConflict, "by_search marks a mass that a search allowed, and this mass is not known", "write the mass, or leave by_search out: a usual mass is assumed then")
	}
	switch {
	case len(limits) == 0:
		c.say(path, CodeMissing, "this requirement limits nothing", "add water, mass or drop, or rejects with the drop that causes them")
	case len(limits) == 2 && slices.Contains(limits, "rejects") && slices.Contains(limits, "drop"):
	case len(limits) > 1:
		c.say(path, CodeConflict, "this requirement limits "+strings.Join(limits, " and "), "write one requirement for each")
	}
}

// zonesOfProfiles returns the zones of the formats' profiles, or nil when any format leaves its zones to the
// catalogue.
func (c *checker) zonesOfProfiles() []string {
	var zones []string
	for i := range c.job.Formats {
		b := &c.job.Formats[i].Container
		if len(b.Profile) == 0 {
			return nil
		}
		zones = append(zones, b.zones()...)
	}
	return zones
}

// zones returns the zones that a container's own profile names.
func (b *Container) zones() []string {
	zones := []string{ZoneAll, ZoneSidewall}
	for _, s := range b.Profile {
		zones = append(zones, s.Zone)
	}
	for _, v := range b.Crevices {
		zones = append(zones, v.Zone)
	}
	for _, p := range b.Pools {
		zones = append(zones, p.Zone)
	}
	slices.Sort(zones)
	return slices.DeleteFunc(slices.Compact(zones), func(z string) bool { return z == "" })
}

func (c *checker) zone(path, zone string, known []string) {
	if known != nil {
		c.refer(path, "zone of a container", zone, known)
	}
}
