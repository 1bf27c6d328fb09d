package job

import (
	"fmt"
	"reflect"
	"strings"

	q "leste/quantity"
)

// Fill gives every value that nobody gave its default and lists what it assumed, in the order of the file.
// Filled values stay not Known, so that the list can be told from the file.
//
// Listed are values that have a range, and choices; a default without a range ("at the datum") is a
// convention and not listed. Values that follow from others and from the catalogue (barometer from altitude,
// pitch from a family's diameter, surface tension from temperature and quality) are left to those who know.
// Filling a filled job changes nothing; after SetValue on a filled job, Fill settles what depends on it.
func Fill(j *Job) []Assumed {
	a := &assumer{job: j}
	a.states()
	jobGroup.each(reflect.ValueOf(j).Elem(), "", a.byTag)
	a.rooms()
	a.belt()
	a.waters()
	a.outlets()
	a.motion()
	a.requirements()
	return a.list
}

// assumer collects what Fill assumes.
type assumer struct {
	job  *Job
	list []Assumed
}

// Sources of the defaults below; those of single values stand in their tags.
const (
	practice  = "common practice, no source"
	judgement = "judgement, to be fitted"
	convent   = "default of the job file"
)

// assume sets m to a default unless it is known, and lists it.
func assume[T q.Quantity](a *assumer, m *q.Maybe[T], path, value, low, high, source string) {
	if m.Known {
		return
	}
	v, err := q.Parse[T](value)
	if err != nil {
		panic(fmt.Sprintf("job: default of %s: %v", path, err))
	}
	m.V = v
	a.list = append(a.list, Assumed{Path: path, Value: value, Low: low, High: high, Source: source})
}

// usual sets m to the usual value of something in a state of other answers, see usualValues.
func usual[T q.Quantity](a *assumer, m *q.Maybe[T], path, of, when string) {
	for _, u := range usualValues {
		if u.of == of && u.when == when {
			assume(a, m, path, u.value, u.low, u.high, u.source)
			return
		}
	}
	panic(fmt.Sprintf("job: no usual %s when %s", of, when))
}

// states settles what a default depends on before the tags are applied.
func (a *assumer) states() {
	a.job.eachStation(func(path string, s *Station) {
		if s.State == "" && s.Plenum.Known {
			s.State = AsFound
			a.list = append(a.list, Assumed{Path: path + "/state", Value: AsFound, Source: "a measured plenum pressure is given"})
		}
	})
}

// States of a station.
const (
	Planned = "planned"
	AsFound = "as found"
)

// eachStation visits the stations of the job and of its options.
func (j *Job) eachStation(visit func(path string, s *Station)) {
	for i := range j.Stations {
		visit(fmt.Sprintf("/stations/%d", i), &j.Stations[i])
	}
	for o := range j.Options {
		for i := range j.Options[o].Stations {
			visit(fmt.Sprintf("/options/%d/stations/%d", o, i), &j.Options[o].Stations[i])
		}
	}
}

// byTag applies the default of one field.
func (a *assumer) byTag(path string, f *field, v, parent reflect.Value) {
	if f.def == "" || strings.Contains(path, "/formats/") && strings.Contains(path, "/arrives/") || moot(f, parent) {
		return
	}
	switch {
	case f.maybe && v.Field(1).Bool(), !f.maybe && !v.IsZero():
		return
	case f.maybe:
		v = v.Field(0)
	}
	if fault := f.assignTo(v, f.def); fault != nil {
		panic(fmt.Sprintf("job: default of %s: %s", path, fault.text))
	}
	listed := f.low != "" || f.form == choiceForm || f.form == flagForm
	if !listed || f.def == NotKnown || !a.matters(path) {
		return
	}
	source := f.source
	if source == "" {
		source = convent
	}
	a.list = append(a.list, Assumed{Path: path, Value: f.def, Low: f.low, High: f.high, Source: source})
}

// matters is false for values that only speak about containers in a job that has none.
func (a *assumer) matters(path string) bool {
	if len(a.job.Formats) > 0 {
		return true
	}
	for _, p := range []string{"/line/", "/arrives/", "/model/", "/next/"} {
		if strings.HasPrefix(path, p) {
			return false
		}
	}
	return true
}

// moot reports that another value of the same group makes the default of f pointless.
func moot(f *field, parent reflect.Value) bool {
	switch p := parent.Addr().Interface().(type) {
	case *Site:
		return f.key == "altitude" && p.Barometer.Known
	case *Outlet:
		across := p.Side == "left" || p.Side == "right"
		return f.key == "stand_off" && across && p.Offset.Known
	}
	return false
}

// rooms fills the air of the room and of the blower's inlet.
func (a *assumer) rooms() {
	s := &a.job.Site
	state := func(r *RoomAir, of, when string) {
		path := "/" + strings.ReplaceAll(of, ": ", "/")
		usual(a, &r.Temperature, path+"/temperature", of+": temperature", when)
		usual(a, &r.Humidity, path+"/humidity", of+": humidity", when)
	}
	state(&s.Summer, "site: summer", "")
	state(&s.Winter, "site: winter", "")
	switch s.InletFrom {
	case "outdoors", "ceiling":
		state(&s.InletSummer, "site: inlet_summer", s.InletFrom)
		state(&s.InletWinter, "site: inlet_winter", s.InletFrom)
	default: // the room's own air, no assumption of its own
		inherit(&s.InletSummer.Temperature, s.Summer.Temperature.V)
		inherit(&s.InletSummer.Humidity, s.Summer.Humidity.V)
		inherit(&s.InletWinter.Temperature, s.Winter.Temperature.V)
		inherit(&s.InletWinter.Humidity, s.Winter.Humidity.V)
	}
}

func inherit[T any](m *q.Maybe[T], v T) { m.Assume(v) }

// belt fills the friction from the belt's state, and its width where there is one.
func (a *assumer) belt() {
	if len(a.job.Formats) == 0 {
		return
	}
	b := &a.job.Line.Belt
	state := b.State
	if state != "dry" && state != "lubricated" {
		state = "wet"
	}
	usual(a, &b.Friction, "/line/belt/friction", "line: belt: friction", state)
	if a.job.Line.Attitude != "side-gripped" {
		usual(a, &b.Width, "/line/belt/width", "line: belt: width", "")
	}
}

// outlets fills openings, lengths and the pressure wanted.
func (a *assumer) outlets() {
	a.job.eachStation(func(path string, s *Station) {
		for i := range s.Outlets {
			o, at := &s.Outlets[i], fmt.Sprintf("%s/outlets/%d", path, i)
			a.opening(o, at)
			if !s.Plenum.Known && !o.Compressed && len(a.job.AirSupply.Blowers) == 0 {
				usual(a, &o.Pressure, at+"/plenum_pressure", "outlets: plenum_pressure", "no blower is named")
			}
		}
	})
}

func (a *assumer) opening(o *Outlet, at string) {
	switch o.Kind {
	case AirKnife:
		usual(a, &o.SlotGap, at+"/slot_gap", "outlets: slot_gap", o.Kind)
		usual(a, &o.Length, at+"/length", "outlets: length", "")
	case NozzleManifold:
		a.bore(o, at)
		if o.Length.Known && o.Count > 1 && !o.Spacing.Known {
			o.Spacing.V = o.Length.V / q.Length(o.Count-1)
			return
		}
		usual(a, &o.Spacing, at+"/spacing", "outlets: spacing", o.Kind)
		if o.Count > 1 && !o.Length.Known {
			o.Length.V = o.Spacing.V * q.Length(o.Count-1)
			return
		}
		usual(a, &o.Length, at+"/length", "outlets: length", "")
	case Nozzle:
		a.bore(o, at)
	}
}

// bore fills the bore of a round nozzle.
func (a *assumer) bore(o *Outlet, at string) {
	if o.Wide.Known || o.High.Known {
		return
	}
	usual(a, &o.Bore, at+"/bore", "outlets: bore", "")
}

// motion settles speed, rate and spacing of every format.
func (a *assumer) motion() {
	j := a.job
	speed, spacing := false, false
	for i := range j.Formats {
		f := &j.Formats[i]
		m := j.MotionOf(f, f.Container.Extent())
		speed, spacing = speed || m.AssumedSpeed, spacing || m.AssumedSpacing
		inherit(&f.Speed, m.Speed)
		inherit(&f.Rate, m.Rate)
		inherit(&f.Pitch, m.Pitch)
		inherit(&f.Gap, m.Gap)
	}
	if speed {
		usual(a, &j.Line.Speed, "/line/speed", "line: speed", "")
	}
	if spacing {
		usual(a, &j.Line.Gap, "/line/container_gap", "line: container_gap", "")
		inherit(&j.Line.Touching, j.Line.Gap.V == 0)
	}
}
