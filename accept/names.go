package accept

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Unknown tells of every row that names a format, zone, machine, outlet or blower which the promise does not have: it
// would count for nothing. File is the name of the file of measurements. The errors are *RowError.
func (e Expected) Unknown(file string, rows []Row) error {
	kinds := map[string]string{}
	for _, k := range Kinds() {
		kinds[k.Name] = k.At
	}
	names := e.names()
	var wrong []error
	bad := func(r Row, what, name string) {
		if known := names[what]; len(known) > 0 && name != "" && !slices.ContainsFunc(known, func(k string) bool { return strings.EqualFold(k, name) }) {
			wrong = append(wrong, &RowError{file, r.Line, 1, fmt.Sprintf("the %s %q is none of this job, so the row counts for nothing; known are %s", what, name, strings.Join(known, ", "))})
		}
	}
	for _, r := range rows {
		bad(r, "format", r.Format)
		if at := kinds[r.What]; at != "" {
			bad(r, at, r.At)
		}
	}
	return errors.Join(wrong...)
}

// names are those that rows may use, by what they are of.
func (e Expected) names() map[string][]string {
	out := map[string][]string{"zone": e.Zones}
	add := func(what, name string) {
		if name != "" && !slices.Contains(out[what], name) {
			out[what] = append(out[what], name)
		}
	}
	for _, p := range e.Promises {
		add("format", p.Format)
		add("machine", p.Machine)
	}
	for _, r := range e.Readings {
		add("format", r.Format)
		switch r.What {
		case Plenum, SlotGap, StandOff, Height, Tilt, Clearance:
			add("outlet", r.At)
		case Temperature, Current:
			add("blower", r.At)
		}
	}
	return out
}
