package design

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	leste "leste"
	"leste/accept"
	"leste/airsupply"
	"leste/job"
	"leste/parallel"
)

// breaks finds how far each setting and condition of a station may move before the requirement that decides is no
// longer met, in proportion to what the whole assessment found; what breaks first comes first. The water is followed, as
// the quick method scatters by a tenth, and what moves by nothing at all would be told to break it.
func (s *search) breaks(ctx context.Context, f *Found) ([]Break, error) {
	j := job.Clone(f.Job)
	job.Fill(j)
	base, _, err := s.reservesOf(ctx, j, nil)
	if err != nil || !(leastOf(base) > 0) || math.IsInf(leastOf(base), 0) {
		return nil, err
	}
	confirmed := accept.Reserves{}
	if f.Result != nil {
		confirmed = formatReserves(f.Result)
	}
	settings := append(accept.Conditions(j), accept.Settings(j)...)
	found := make([]*Break, 2*len(settings))
	err = parallel.Each(s.options.Workers, len(found), func(i int) error {
		one := settings[i/2]
		one.Down, one.Up = one.Down && i%2 == 0, one.Up && i%2 == 1
		if !one.Down && !one.Up {
			return nil
		}
		b, err := s.breakOf(ctx, j, one, base, confirmed)
		found[i] = b
		return err
	})
	if err != nil {
		return nil, err
	}
	var out []Break
	for _, b := range found {
		if b != nil {
			out = append(out, *b)
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

// breakOf finds how far one setting may move one way, and what happens just beyond. base is what is found without a
// move, confirmed what the whole assessment found.
func (s *search) breakOf(ctx context.Context, j *job.Job, one accept.Setting, base, confirmed accept.Reserves) (*Break, error) {
	out := &Break{Input: one.What, More: one.Up, Kind: one.Kind, Value: one.Value}
	if one.At != "" {
		out.Input = fmt.Sprintf("%s of %s", one.What, joined(append([]string{one.At}, one.Others...)))
	}
	first := true
	found, err := accept.Tolerances(ctx, j, []accept.Setting{one}, func(ctx context.Context, moved *job.Job, formats []string) (accept.Reserves, error) {
		reserves := maps.Clone(base)
		if !first { // which asks for what is found without a move
			var err error
			var airless bool
			if reserves, airless, err = s.reservesOf(ctx, moved, formats); err != nil {
				out.Then = ThenMisfit
				return nil, err
			}
			if airless {
				out.Then = ThenAirless
				return reserves, nil
			}
		}
		first = false
		for name, r := range reserves {
			if c, told := confirmed[name]; told {
				reserves[name] = r / base[name] * c
			}
		}
		if leastOf(reserves) < 1 {
			out.Then = ThenWet
		}
		return reserves, nil
	})
	if err != nil {
		return nil, err
	}
	out.Move, out.Free = found[0].Less, found[0].LessFree
	if one.Up {
		out.Move, out.Free = found[0].More, found[0].MoreFree
	}
	out.Share = out.Move / one.Reach
	if out.Free {
		out.Then = ""
	}
	return out, nil
}

// breakCell is the size of the cells for it [m]. On coarser ones a station stands on a peak or in a pit of its cells, and
// the plenum pressure does half of what it does on cells of 2 mm: of rows of nozzles beside cans 10 mm told four times the
// tilt, and twice the pressure, that they bear.
const breakCell = 4e-3

// reservesOf are the least reserves of formats of a job in the nominal case, of all where none is named: none where no
// air can be had for it.
func (s *search) reservesOf(ctx context.Context, j *job.Job, formats []string) (found accept.Reserves, airless bool, err error) {
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
		return none, true, nil
	case err != nil:
		return nil, false, err
	}
	return formatReserves(r), false, nil
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
