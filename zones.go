package leste

import (
	"fmt"
	"slices"
	"strings"

	"leste/job"
	"leste/station"
)

// zoneProblems says which zones of requirements and air limits no container of the job has; given is the job as its
// writer left it.
func zoneProblems(given, j *job.Job, plan *station.Plan) job.Problems {
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
		if n := &given.Next[i]; len(n.Requires) == 0 && n.Complaint != "" {
			problems = append(problems, complaintProblems(n, j.Next[i].Requires, known, fmt.Sprintf("/next/%d/complaint", i))...)
			continue
		}
		for k := range j.Next[i].Requires {
			look(fmt.Sprintf("/next/%d/requires/%d/zone", i, k), j.Next[i].Requires[k].Zone)
		}
	}
	for i := range j.Limits {
		look(fmt.Sprintf("/limits/%d/zone", i), j.Limits[i].Zone)
	}
	return problems
}

// complaintProblems says which zones that a plant's words are about no container of the job has.
func complaintProblems(n *job.NextMachine, meant []job.Requirement, known []string, path string) job.Problems {
	var missing []string
	for _, r := range meant {
		if r.Zone != "" && r.Zone != job.ZoneAll && !slices.Contains(known, r.Zone) && !slices.Contains(missing, r.Zone) {
			missing = append(missing, r.Zone)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	return job.Problems{{
		Path: path, Code: job.CodeReference,
		Text: fmt.Sprintf("%q is taken to be about the %s, and no container of this job has such a zone", n.Complaint, strings.Join(missing, " and the ")),
		Want: "say under requires what is tolerated, in one of the zones " + job.ZoneAll + ", " + strings.Join(known, ", "),
	}}
}
