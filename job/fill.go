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
	state := func(r *RoomAir, path string, t, tLow, tHigh, h, hLow, hHigh string) {
		assume(a, &r.Temperature, path+"/temperature", t, tLow, tHigh, practice)
		assume(a, &r.Humidity, path+"/humidity", h, hLow, hHigh, practice)
	}
	state(&s.Summer, "/site/summer", "28 degC", "24 degC", "35 degC", "65 %", "50 %", "75 %")
	state(&s.Winter, "/site/winter", "20 degC", "15 degC", "24 degC", "40 %", "25 %", "55 %")
	switch s.InletFrom {
	case "outdoors":
		state(&s.InletSummer, "/site/inlet_summer", "30 degC", "24 degC", "38 degC", "50 %", "35 %", "70 %")
		state(&s.InletWinter, "/site/inlet_winter", "0 degC", "-15 degC", "8 degC", "80 %", "60 %", "95 %")
	case "ceiling": // warmer by the heat that rises, with the room's moisture
		state(&s.InletSummer, "/site/inlet_summer", "36 degC", "30 degC", "45 degC", "41 %", "28 %", "55 %")
		state(&s.InletWinter, "/site/inlet_winter", "28 degC", "22 degC", "35 degC", "25 %", "15 %", "40 %")
	default: // the room's own air, no assumption of its own
		inherit(&s.InletSummer.Temperature, s.Summer.Temperature.V)
		inherit(&s.InletSummer.Humidity, s.Summer.Humidity.V)
		inherit(&s.InletWinter.Temperature, s.Winter.Temperature.V)
		inherit(&s.InletWinter.Humidity, s.Winter.Humidity.V)
	}
}

func inherit[T any](m *q.Maybe[T], v T) { m.Assume(v) }

// belt fills the friction from the belt's state.
func (a *assumer) belt() {
	if len(a.job.Formats) == 0 {
		return
	}
	b := &a.job.Line.Belt
	const path = "/line/belt/friction"
	switch b.State {
	case "dry":
		assume(a, &b.Friction, path, "0.35", "0.25", "0.5", practice)
	case "lubricated":
		assume(a, &b.Friction, path, "0.12", "0.08", "0.18", practice)
	default:
		assume(a, &b.Friction, path, "0.25", "0.15", "0.35", practice)
	}
}

// outlets fills openings, lengths and the pressure wanted.
func (a *assumer) outlets() {
	a.job.eachStation(func(path string, s *Station) {
		for i := range s.Outlets {
			o, at := &s.Outlets[i], fmt.Sprintf("%s/outlets/%d", path, i)
			a.opening(o, at)
			if !s.Plenum.Known && !o.Compressed && len(a.job.AirSupply.Blowers) == 0 {
				assume(a, &o.Pressure, at+"/plenum_pressure", "20 kPa", "8 kPa", "30 kPa", practice)
			}
		}
	})
}

func (a *assumer) opening(o *Outlet, at string) {
	switch o.Kind {
	case AirKnife:
		assume(a, &o.SlotGap, at+"/slot_gap", "1.2 mm", "0.8 mm", "1.5 mm", practice)
		assume(a, &o.Length, at+"/length", "300 mm", "200 mm", "600 mm", practice)
	case NozzleManifold:
		a.bore(o, at)
		if o.Length.Known && o.Count > 1 && !o.Spacing.Known {
			o.Spacing.V = o.Length.V / q.Length(o.Count-1)
			return
		}
		assume(a, &o.Spacing, at+"/spacing", "50 mm", "30 mm", "100 mm", practice)
		if o.Count > 1 && !o.Length.Known {
			o.Length.V = o.Spacing.V * q.Length(o.Count-1)
			return
		}
		assume(a, &o.Length, at+"/length", "300 mm", "200 mm", "600 mm", practice)
	case Nozzle:
		a.bore(o, at)
	}
}

// bore fills the bore of a round nozzle.
func (a *assumer) bore(o *Outlet, at string) {
	if o.Wide.Known || o.High.Known {
		return
	}
	assume(a, &o.Bore, at+"/bore", "19 mm", "10 mm", "38 mm", practice)
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
		assume(a, &j.Line.Speed, "/line/speed", assumedSpeed, "0.3 m/s", "1 m/s", practice)
	}
	if spacing {
		assume(a, &j.Line.Gap, "/line/container_gap", assumedGap, "0 mm", "30 mm", practice)
		inherit(&j.Line.Touching, j.Line.Gap.V == 0)
	}
}
