package drying

import (
	"context"
	"slices"
)

// TransportTogether is Transport of problems that differ only in their machines: the container passes the stations
// once, and what happens on the way to each machine is followed from there. The outcomes are those of Transport, bit
// for bit, without what Explain and Prove add. What the first problem says counts for all; frames and progress are
// those of the one pass.
func TransportTogether(ctx context.Context, problems []*Problem, o TransportOptions) ([]Outcome, error) {
	for _, p := range problems {
		if err := p.Check(); err != nil {
			return nil, err
		}
	}
	all, err := followTogether(ctx, problems, o)
	if err != nil {
		return nil, err
	}
	for i, p := range problems {
		spreads, err := SpreadsOf(ctx, p)
		if err != nil {
			return nil, err
		}
		spreads.Widen(p, &all[i])
	}
	return all, nil
}

// followTogether is TransportTogether without bands.
func followTogether(ctx context.Context, problems []*Problem, o TransportOptions) ([]Outcome, error) {
	joint := *problems[0]
	joint.Machines = nil
	for _, p := range problems {
		joint.Machines = append(joint.Machines, p.Machines...)
	}
	r := newTransportRun(&joint, o)
	defer r.team.stop()
	if err := r.all(ctx); err != nil {
		return nil, err
	}
	whole, err := r.outcome()
	if err != nil {
		return nil, err
	}
	r.f.lift()
	all := make([]Outcome, len(problems))
	from := 0
	for i, p := range problems {
		to := from + len(p.Machines)
		all[i] = whole
		all[i].At = nil
		all[i].Notes = slices.Clone(whole.Notes)
		if to > from {
			all[i].At = whole.At[from:to:to]
		}
		if last := lastMachine(p); last >= 0 {
			after := all[i].Balance.Closure
			all[i].Balance = r.books[from+last]
			all[i].Balance.Closure = max(all[i].Balance.Closure, after)
		}
		from = to
	}
	return all, nil
}
