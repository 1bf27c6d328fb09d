package design

import (
	"fmt"
	"strconv"

	"leste/job"
	q "leste/quantity"
)

// once tells a station that several concepts come out as once, as the first of them has it, and names the others. One
// that is told for its whole bands may be another's outlets with more air.
func once(all []Found) []Found {
	seen := map[string]int{}
	var out []Found
	for i := range all {
		f := &all[i]
		key, ok := outletsOf(f.Job)
		first, again := seen[key]
		if !ok || !again || f.Whole {
			if ok && !f.Whole {
				seen[key] = len(out)
			}
			out = append(out, *f)
			continue
		}
		out[first].Also = append(out[first].Also, f.Concept)
	}
	for i := range out {
		switch f := &out[i]; len(f.Also) {
		case 0:
		case 1:
			f.What += fmt.Sprintf("; %q comes out as the same outlets", f.Also[0])
		default:
			f.What += fmt.Sprintf("; %s come out as the same outlets", joined(quoted(f.Also)))
		}
	}
	return out
}

// quoted puts names in quotation marks.
func quoted(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = strconv.Quote(n)
	}
	return out
}

// outletsOf writes what stands where and through which ducts it gets its air, without names and pressures.
func outletsOf(j *job.Job) (text string, ok bool) {
	if j == nil {
		return "", false
	}
	c := job.Clone(j)
	one := &job.Job{Stations: c.Stations, AirSupply: c.AirSupply}
	one.AirSupply.Blowers = nil
	for i := range one.Stations {
		st := &one.Stations[i]
		st.Name, st.Plenum = "", q.Maybe[q.Gauge]{}
		for k := range st.Outlets {
			o := &st.Outlets[k]
			o.Name, o.Pressure, o.Frame = "", q.Maybe[q.Gauge]{}, ""
		}
		for k := range st.Frames {
			st.Frames[k].Name = ""
		}
	}
	written, err := Write(one, "")
	return string(written), err == nil
}
