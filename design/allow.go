package design

import (
	"fmt"
	"math"
	"slices"

	"leste/job"
	q "leste/quantity"
)

// allow raises limits that are only assumed, of the water on whole containers, where more than half of one lies where no
// air reaches: by what lies there. A search held to them would end with nothing, because of a number that nobody gave. It
// says whether it raised any; the job given stays as it is.
func (s *search) allow(g *ground) bool {
	filled := job.Clone(s.given)
	assumed := job.Fill(filled)
	raised := job.Clone(s.given)
	for i := range filled.Next {
		n := &filled.Next[i]
		for k := range n.Requires {
			r := &n.Requires[k]
			path := fmt.Sprintf("/next/%d/requires/%d/mass", i, k)
			if r.Zone != job.ZoneAll || r.Mass.Known || !slices.ContainsFunc(assumed, func(a job.Assumed) bool { return a.Path == path }) {
				continue
			}
			out, name := g.shelteredFor(n)
			const half = 0.5
			if !(out > half*float64(r.Mass.V)) {
				continue
			}
			limit := r.Mass.V
			const step = 10e-6 // kg
			r.Mass = q.Known(q.Mass(math.Round((float64(limit)+out)/step) * step))
			r.Search = true
			raised.Next[i].Requires = slices.Clone(n.Requires)
			s.allowed = allowedWords(n, limit, r.Mass.V, out, name)
		}
	}
	if s.allowed == "" {
		return false
	}
	s.given = raised
	return true
}

// shelteredFor is the most that lies where no air reaches of what a machine gets, and of which format [kg].
func (g *ground) shelteredFor(n *job.NextMachine) (most float64, name string) {
	for i := range g.formats {
		f := &g.formats[i]
		if len(n.Formats) > 0 && !slices.Contains(n.Formats, f.name) {
			continue
		}
		if kg := f.sheltered(); kg > most {
			most, name = kg, f.name
		}
	}
	return most, name
}

// allowedWords tell a limit that was raised, and what the real one is needed for.
func allowedWords(n *job.NextMachine, assumed, limit q.Mass, out float64, name string) string {
	machine := n.Name
	if machine == "" {
		machine = n.Machine
	}
	weigh := func(kg float64) string { return q.KindMass.FormatDigits(kg, q.SI, 2) }
	return fmt.Sprintf("How much water the %s tolerates is not given: %s are usual, and %s lie under %s, where no air reaches on a closed belt, so the search allows %s. "+
		"Ask for its real tolerance before anything is built, as the air and the cost follow from it, and less than %s needs an open belt or containers held at their sides.",
		machine, weigh(float64(assumed)), weigh(out), name, weigh(float64(limit)), weigh(out))
}
