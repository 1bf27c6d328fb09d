package leste

import (
	"fmt"
	"slices"
	"strings"

	"leste/job"
	"leste/station"
)

// zoneProblems says which zones of requirements and air limits no container of the job has.
func zoneProblems(j *job.Job, plan *station.Plan) job.Problems {
	var known []string
	for i := range plan.Formats {
		known = append(known, plan.Formats[i].Body.Surface.Zones...)
	}
	slices.Sort(known)
	known = slices.Compact(known)
	var problems job.Problems
	look := func(path, zone string) {
		if zone == "" || zone == job.ZoneAll || slices.Contains(known, zone) {
			return
		}
		problems = append(problems, job.Problem{
			Path: path, Code: job.CodeReference, Text: fmt.Sprintf("no container of this job has a zone %q", zone),
			Want: "the zones are " + job.ZoneAll + ", " + strings.Join(known, ", "),
		})
	}
	for i := range j.Next {
		for k := range j.Next[i].Requires {
			look(fmt.Sprintf("/next/%d/requires/%d/zone", i, k), j.Next[i].Requires[k].Zone)
		}
	}
	for i := range j.Limits {
		look(fmt.Sprintf("/limits/%d/zone", i), j.Limits[i].Zone)
	}
	return problems
}
