package design

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	leste "leste"
	"leste/accept"
	"leste/airsupply"
	"leste/job"
	"leste/parallel"
)

// breaks finds how far each setting and condition of a station may move before the requirement that decides is no
// longer met, by the quick method in proportion to what the whole assessment found; what breaks first comes first.
func (s *search) breaks(ctx context.Context, f *Found) ([]Break, error) {
	j := job.Clone(f.Job)
	job.Fill(j)
	base, err := s.reserveOf(ctx, j)
	if err != nil || !(base > 0) || math.IsInf(base, 0) {
		return nil, err
	}
	confirmed := f.Reserve
	if f.Result != nil {
		confirmed = leastReserve(f.Result)
	}
	try := func(ctx context.Context, moved *job.Job, _ []string) (accept.Reserves, error) {
		r, err := s.reserveOf(ctx, moved)
		return accept.Reserves{"": r / base * confirmed}, err
	}
	settings := append(accept.Conditions(j), accept.Settings(j)...)
	found := make([][]accept.Tolerance, len(settings))
	err = parallel.Each(s.options.Workers, len(settings), func(i int) (err error) {
		found[i], err = accept.Tolerances(ctx, j, settings[i:i+1], try)
		return err
	})
	if err != nil {
		return nil, err
	}
	var out []Break
	for _, list := range found {
		for _, t := range list {
			name := t.What
			if t.At != "" {
				name = fmt.Sprintf("%s of %s", t.What, t.At)
			}
			add := func(more, free bool, move float64) {
				if !math.IsNaN(move) {
					out = append(out, Break{Input: name, More: more, Kind: t.Kind, Value: t.Value, Move: move, Free: free, Share: move / t.Reach})
				}
			}
			add(false, t.LessFree, t.Less)
			add(true, t.MoreFree, t.More)
		}
	}
	slices.SortStableFunc(out, func(a, b Break) int {
		switch {
		case a.Free != b.Free:
			if b.Free {
				return -1
			}
			return 1
		case a.Share < b.Share:
			return -1
		case a.Share > b.Share:
			return 1
		}
		return 0
	})
	return out, nil
}

// breakCell is the size of the cells for it [m]: one station is held against itself a little moved.
const breakCell = 10e-3

// reserveOf is the least reserve of a job in the nominal case by the quick method: none where no air can be had for it.
func (s *search) reserveOf(ctx context.Context, j *job.Job) (float64, error) {
	r, err := leste.Assess(ctx, j, leste.Options{Method: "quick", Cell: breakCell, Nominal: true, NoRanking: true, Parts: &s.parts})
	var air *airsupply.Refusal
	switch {
	case errors.As(err, &air):
		return 0, nil
	case err != nil:
		return 0, err
	}
	return leastReserve(r), nil
}

// leastReserve is the least reserve of all requirements of a result.
func leastReserve(r *leste.Result) float64 {
	least := math.Inf(1)
	for i := range r.Formats {
		for z := range r.Formats[i].Zones {
			for _, q := range r.Formats[i].Zones[z].Requirements {
				least = min(least, q.Reserve)
			}
		}
	}
	return least
}
