package design

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"slices"

	"leste/job"
)

// A State is a search between two steps. It is resumed with the same job and options.
type State struct {
	Version     int          `json:"version"`
	Key         string       `json:"key"` // of the job and the options it belongs to
	Phase       int          `json:"phase"`
	Order       []int        `json:"order"` // concepts, the best first as the phase began
	Lent        []Individual `json:"lent"`  // the best of each concept then
	Done        []int        `json:"done"`  // concepts whose step of the phase is done
	Goal        string       `json:"goal"`
	Populations []Population `json:"populations"`
	Confirmed   []int        `json:"confirmed"` // concepts that a whole assessment has confirmed
	Failed      []int        `json:"failed"`    // concepts that it has refuted
	Whole       Whole        `json:"whole"`     // brings whole bands within their limits, for far more than the goal takes
	InAll       float64      `json:"in_all"`    // what an assessment finds over its deciding case alone; 0 before it is known
	Assessed    []string     `json:"assessed"`  // hashes of written jobs that were assessed: their plenum pressure is settled
}

const stateVersion = 17

// key identifies job and options, so that no state is resumed for another search.
func (s *search) key() (string, error) {
	filled := job.Clone(s.given)
	job.Fill(filled)
	o := s.options
	h := fnv.New64a()
	err := json.NewEncoder(h).Encode(struct {
		Job      *job.Job
		Seed     uint64
		Budget   int
		Concepts []string
		Goal     string
		Sizes    Sizes
		Quick    bool
		Blowers  int
	}{filled, o.Seed, o.Budget, o.Concepts, o.Goal, o.Sizes, o.quickOnly, len(s.parts.Blowers)})
	if err != nil {
		return "", fmt.Errorf("the job cannot be told from others: %w", err)
	}
	return fmt.Sprintf("%016x", h.Sum64()), nil
}

func (s State) clone() State {
	s.Order, s.Done, s.Lent = slices.Clone(s.Order), slices.Clone(s.Done), slices.Clone(s.Lent)
	s.Confirmed, s.Failed, s.Assessed = slices.Clone(s.Confirmed), slices.Clone(s.Failed), slices.Clone(s.Assessed)
	all := make([]Population, len(s.Populations))
	for i := range all {
		all[i] = s.Populations[i].clone()
	}
	s.Populations = all
	return s
}

func (p Population) clone() Population {
	p.Members, p.Samples = slices.Clone(p.Members), slices.Clone(p.Samples)
	sights := make([][]sight, len(p.Sights))
	for i := range sights {
		sights[i] = slices.Clone(p.Sights[i])
	}
	p.Sights = sights
	return p
}
