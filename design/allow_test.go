package design

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
)

// A limit of 150 mg that nobody gave refused a search, as 170 mg lie where no air reaches: it is raised and said to be.
// One that the job gives refuses.
func TestLawAnAssumedLimitRefusesNoSearch(t *testing.T) {
	j := example(t, "as-found-speed-up")
	o := small(1, 2)
	o.Budget = 60
	study, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(study.Reasons) == 0 || study.Reasons[0] != study.Allowed || !strings.Contains(study.Allowed, "170 mg lie under") || !strings.Contains(study.Allowed, "tolerance") {
		t.Errorf("%q is not told first of %q", study.Allowed, study.Reasons)
	}
	const arrives, assumed = 170e-6, 150e-6
	if r := study.Best().Job.Next[0].Requires; len(r) != 1 || !r[0].Mass.Known || r[0].Mass.V < arrives || r[0].Mass.V > arrives+assumed+10e-6 {
		t.Errorf("the job file asks for %+v", r)
	}
	if len(j.Next[0].Requires) > 0 {
		t.Error("the job given has changed")
	}
	// Who assesses the file is told whose limit it is, and a search of it does not raise it again.
	found := job.Clone(study.Best().Job)
	limit := found.Next[0].Requires[0].Mass.V
	text, err := Write(found, "")
	if err != nil || !strings.Contains(string(text), "by_search: yes") {
		t.Errorf("the file does not say whose limit it is: %v\n%s", err, text)
	}
	if again, err := newSearch(found, o); err != nil || again.allowed != "" || again.given.Next[0].Requires[0].Mass.V != limit {
		t.Errorf("searched again: %v", err)
	}
	if assumed := job.Fill(found); !slices.ContainsFunc(assumed, func(a job.Assumed) bool {
		return a.Path == "/next/0/requires/0/mass" && strings.Contains(a.Source, "allowed by the search")
	}) {
		t.Errorf("the limit is not among %d values that nobody gave", len(assumed))
	}

	j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneAll, Mass: q.Known(q.Mass(assumed))}}
	var wrong job.Problems
	if _, err := Search(t.Context(), j, o); !errors.As(err, &wrong) || len(wrong) != 1 || !strings.Contains(wrong[0].Text, "150 mg") {
		t.Errorf("with a limit that is given: %v", err)
	}
	j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneAll}} // the zone alone is given
	s, err := newSearch(j, o)
	if err != nil || !s.given.Next[0].Requires[0].Mass.Known {
		t.Errorf("with a zone alone: %v", err)
	}
}

// The mark of a limit that the search raised is read of masses alone: no other limit is raised, whatever the machine and
// whatever is said of it, and all that are carry the mark.
func TestLawOnlyMassesAreRaised(t *testing.T) {
	raised := 0
	for _, machine := range []string{"camera", "labeller", "coder", "wrapper", "packer", "other"} {
		for _, next := range []job.NextMachine{
			{},
			{Complaint: "1 % rejects"},
			{Complaint: "0.1 % rejects at the base"},
			{Requires: []job.Requirement{{Zone: job.ZoneAll}}},
			{Requires: []job.Requirement{{Zone: job.ZoneAll, Rejects: q.Known(q.Ratio(0.01))}}},
			{Requires: []job.Requirement{{Zone: "base"}}},
		} {
			j := example(t, "as-found-speed-up")
			next.Machine = machine
			j.Next = []job.NextMachine{next}
			s, err := newSearch(j, small(1, 2))
			if err != nil {
				t.Fatal(err)
			}
			before, after := job.Clone(j), job.Clone(s.given)
			job.Fill(before)
			job.Fill(after)
			for k := range after.Next[0].Requires {
				was, is := before.Next[0].Requires[k], after.Next[0].Requires[k]
				if is.Mass.V > was.Mass.V && is.Search && is.Mass.Known {
					raised++
					is.Mass, is.Search = was.Mass, false
				}
				if is != was {
					t.Errorf("%s, %q: %+v became %+v", machine, next.Complaint, was, is)
				}
			}
		}
	}
	if raised == 0 {
		t.Error("nothing was raised")
	}
}
