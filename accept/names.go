package accept

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Kept leaves out every row that does not count as it stands, and tells why: it names what the promise does not have,
// does not say which format it is of, or looks out by the number of containers on its sheet. File is the name of the
// file of measurements. The errors are *RowError.
func (e Expected) Kept(file string, rows []Row) ([]Row, error) {
	var plain, kept []Row
	var wrong []error
	for _, r := range rows {
		faults := append(e.unknown(file, r), e.unclear(file, r)...)
		if wrong = append(wrong, faults...); len(faults) == 0 {
			plain = append(plain, e.spelled(r))
		}
	}
	doubtful, doubts := e.sheets(file, plain)
	wrong = append(wrong, doubts...)
	for _, r := range plain {
		if !doubtful[r.Line] {
			kept = append(kept, r)
		}
	}
	slices.SortStableFunc(wrong, func(a, b error) int { return lineOf(a) - lineOf(b) })
	return kept, errors.Join(wrong...)
}

// spelled writes the names of a row as the job does.
func (e Expected) spelled(r Row) Row {
	names := e.names()
	as := func(what, name string) string {
		if k := slices.IndexFunc(names[what], func(k string) bool { return strings.EqualFold(k, name) }); k >= 0 {
			return names[what][k]
		}
		return name
	}
	r.Format = as("format", r.Format)
	if k, _ := kindNamed(r.What); k.At != "" {
		r.At = as(k.At, r.At)
	}
	return r
}

func lineOf(err error) int {
	var r *RowError
	if errors.As(err, &r) {
		return r.Line
	}
	return 0
}

// unclear tells of a row that does not say enough to be held against one promise.
func (e Expected) unclear(file string, r Row) []error {
	bad := func(format string, args ...any) []error {
		return []error{&RowError{file, r.Line, 1, fmt.Sprintf(format, args...), nil}}
	}
	if r.What == Sound {
		if d := place(r); math.Abs(d-1) > metre {
			return bad("the level was read at %s from the outlets; the limit and what is expected are for 1 m", r.At)
		}
	}
	if r.Format != "" {
		return nil
	}
	var differ []string // formats that a row of nothing but its kind would be taken for
	var first *Value
	for _, v := range e.Readings {
		if v.What != r.What || v.Format == "" || v.At != "" && !strings.EqualFold(v.At, r.At) {
			continue
		}
		if first == nil {
			first = &v
		}
		if differ = append(differ, v.Format); math.Abs(v.Want-first.Want) <= v.Off {
			differ = differ[:len(differ)-1]
		}
	}
	if len(differ) > 0 {
		differ = append([]string{first.Format}, differ...)
	}
	if r.What == Water || r.What == Drop || r.What == Rejects { // no two formats are dried alike
		for _, p := range e.Promises {
			if p.Format != "" && !slices.Contains(differ, p.Format) {
				differ = append(differ, p.Format)
			}
		}
	}
	if len(differ) > 1 {
		return bad("%s differs among the formats; say which of them it is of: %s", r.What, named(differ))
	}
	return nil
}

// unknown tells of the formats, zones, machines, outlets and blowers in a row that the promise does not have: it would
// count for nothing.
func (e Expected) unknown(file string, r Row) []error {
	names := e.names()
	var wrong []error
	bad := func(what, name string) {
		if known := names[what]; len(known) > 0 && name != "" && !slices.ContainsFunc(known, func(k string) bool { return strings.EqualFold(k, name) }) {
			wrong = append(wrong, &RowError{file, r.Line, 1, fmt.Sprintf("the %s %q is none of this job, so the row counts for nothing; known are %s", what, name, named(known)), nil})
		}
	}
	bad("format", r.Format)
	if k, _ := kindNamed(r.What); k.At != "" {
		bad(k.At, r.At)
	}
	return wrong
}

// Names lists the zones, machines, outlets and blowers that rows may name.
func (e Expected) Names() []string {
	names := e.names()
	return slices.Concat(names["zone"], names["machine"], names["outlet"], names["blower"])
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
	for _, blower := range slices.Sorted(maps.Keys(e.Filters)) {
		add("blower", blower)
	}
	return out
}
