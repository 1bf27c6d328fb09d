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
)

// breaks finds how far each setting and condition of a station may move before the requirement that decides is no
// longer met, in proportion to what the whole assessment found; what breaks first comes first. The water is followed on
// coarse cells: a hundredth of it changes by where the cells lie, where the quick method scatters by a tenth, and what
// moves by nothing at all would be told to break it.
func (s *search) breaks(ctx context.Context, f *Found) ([]Break, error) {
	j := job.Clone(f.Job)
	job.Fill(j)
	base, err := s.reservesOf(ctx, j, nil)
	if err != nil || !(leastOf(base) > 0) || math.IsInf(leastOf(base), 0) {
		return nil, err
	}
	confirmed := accept.Reserves{}
	if f.Result != nil {
		confirmed = formatReserves(f.Result)
	}
	try := func(ctx context.Context, moved *job.Job, formats []string) (accept.Reserves, error) {
		found, err := s.reservesOf(ctx, moved, formats)
		for name, r := range found {
			if c, told := confirmed[name]; told {
				found[name] = r / base[name] * c
			}
		}
		return found, err
	}
	settings := append(accept.Conditions(j), accept.Settings(j)...)
	found, err := accept.TolerancesOn(ctx, s.options.Workers, j, settings, try)
	if err != nil {
		return nil, err
	}
	var out []Break
	for _, t := range found {
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

// reservesOf are the least reserves of formats of a job in the nominal case, of all where none is named: none where no
// air can be had for it.
func (s *search) reservesOf(ctx context.Context, j *job.Job, formats []string) (accept.Reserves, error) {
	o := leste.Options{Cell: breakCell, Nominal: true, NoRanking: true, LikelyWater: true, Only: formats, Parts: &s.parts}
	if s.options.quickOnly {
		o.Method = "quick"
	}
	r, err := leste.Assess(ctx, j, o)
	var air *airsupply.Refusal
	switch {
	case errors.As(err, &air):
		none := accept.Reserves{}
		for i := range j.Formats {
			if len(formats) == 0 || slices.Contains(formats, j.Formats[i].Name) {
				none[j.Formats[i].Name] = 0
			}
		}
		return none, nil
	case err != nil:
		return nil, err
	}
	return formatReserves(r), nil
}

// formatReserves are the least reserves of a result by format; formats of which nothing is required are left out.
func formatReserves(r *leste.Result) accept.Reserves {
	out := accept.Reserves{}
	for i := range r.Formats {
		f := &r.Formats[i]
		for z := range f.Zones {
			for _, q := range f.Zones[z].Requirements {
				if known, some := out[f.Name]; !some || q.Reserve < known {
					out[f.Name] = q.Reserve
				}
			}
		}
	}
	return out
}

// leastOf is the least of the reserves of formats.
func leastOf(r accept.Reserves) float64 {
	least := math.Inf(1)
	for _, x := range r {
		least = min(least, x)
	}
	return least
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
