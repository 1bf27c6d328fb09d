package quote

import (
	"strings"

	"leste/job"
)

// Names are the words of a job as it was given that its user chose: of the line, its machines, outlets, ducts. They are never
// converted or translated as parts of a sentence.
func Names(j *job.Job) []string {
	out := []string{j.Name}
	for i := range j.Formats {
		out = append(out, j.Formats[i].Name, j.Formats[i].Container.Size)
	}
	for i := range j.Stations {
		s := &j.Stations[i]
		out = append(out, s.Name)
		for k := range s.Outlets {
			out = append(out, s.Outlets[k].Name)
		}
		for k := range s.Frames {
			out = append(out, s.Frames[k].Name)
		}
	}
	for _, m := range j.Next {
		out = append(out, m.Name, m.Complaint)
	}
	for _, b := range j.AirSupply.Blowers {
		out = append(out, b.Name, b.Part)
	}
	for _, b := range j.AirSupply.Branches {
		out = append(out, b.Name, b.From, b.To)
	}
	kept := out[:0]
	for _, name := range out {
		if name != "" {
			kept = append(kept, name)
		}
	}
	return kept
}

// Found are the names of a job that a search gave: of the outlets and frames of the stations that it named, and of those
// themselves where it did. A user's own "left knife" is none.
func Found(j *job.Job) (names []string) {
	for i := range j.Stations {
		s := &j.Stations[i]
		if !s.Search {
			continue
		}
		if s.Name == job.FoundStation || strings.HasSuffix(s.Name, job.FoundSecond) {
			names = append(names, s.Name)
		}
		for k := range s.Outlets {
			names = append(names, s.Outlets[k].Name)
		}
		for k := range s.Frames {
			names = append(names, s.Frames[k].Name)
		}
	}
	return names
}
