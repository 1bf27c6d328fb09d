package api

import (
	"context"
	"errors"
	"fmt"
	"math"

	leste "leste"
	"leste/airsupply"
	"leste/job"
	"leste/web/view"
)

// optionsOf assesses the job and each of its options.
func optionsOf(ctx context.Context, j *job.Job) (*OptionsTable, error) {
	out := &OptionsTable{Rows: []Option{}}
	filled := job.Clone(j)
	job.Fill(filled)
	out.Currency = filled.Cost.Currency
	base, err := optionOf(ctx, j)
	if err != nil {
		return nil, err
	}
	base.Name = "As the job stands"
	out.Rows = append(out.Rows, *base)
	for i := range j.Options {
		one := job.Clone(j)
		o := &one.Options[i]
		if len(o.Stations) > 0 {
			one.Stations = o.Stations
		}
		if o.AirSupply != nil {
			one.AirSupply = *o.AirSupply
		}
		row, err := optionOf(ctx, one)
		if err != nil {
			return nil, err
		}
		row.Path, row.Name = orNull(fmt.Sprintf("/options/%d", i)), o.Name
		out.Rows = append(out.Rows, *row)
	}
	return out, nil
}

// optionOf is the row of one job. What stands in the way of an answer is part of the row.
func optionOf(ctx context.Context, j *job.Job) (*Option, error) {
	j = job.Clone(j)
	j.Options = nil
	r, err := leste.Assess(ctx, j, leste.Options{Method: "quick", NoRanking: true})
	var problems job.Problems
	var refusal *airsupply.Refusal
	nan := view.Number(math.NaN())
	row := &Option{
		Left: nan, LeftLow: nan, LeftHigh: nan, Reserve: nan, Stands: nan, Flow: nan, Grid: nan, CostYear: nan, Sound: nan, WallWater: nan,
	}
	for i := range j.Stations {
		row.Outlets += len(j.Stations[i].Outlets)
	}
	switch {
	case errors.As(err, &problems):
		row.Problem = orNull(problems[0].Text)
		return row, nil
	case errors.As(err, &refusal):
		row.Problem = orNull(refusal.Error())
		return row, nil
	case err != nil:
		return nil, err
	}
	row.fill(r)
	return row, nil
}

// fill takes the figures of the format that decides.
func (row *Option) fill(r *leste.Result) {
	const mg, perKilogram = 1e6, 1e3
	row.Verdict = orNull(string(r.Verdict))
	row.Flow, row.CostYear = view.Number(r.Air.Flow), view.Number(r.Cost.Cost)
	if len(r.Air.Blowers) > 0 {
		grid := 0.0
		for _, b := range r.Air.Blowers {
			grid += float64(b.Grid)
		}
		row.Grid = view.Number(grid)
	}
	if r.Sound.Assessed {
		row.Sound = view.Number(r.Sound.At1m)
	}
	reserve, stands := math.Inf(1), math.Inf(1)
	for i := range r.Formats {
		f := &r.Formats[i]
		least := math.Inf(1)
		machine := f.Machine
		area := 0.0
		for _, z := range f.Zones {
			area += float64(z.Area)
			for _, x := range z.Requirements {
				if x.Reserve < least {
					least, machine = x.Reserve, x.Machine
				}
			}
		}
		for _, p := range f.Standing {
			stands = min(stands, p.Factor)
		}
		if row.Format == nil || least < reserve {
			reserve = least
			row.Format, row.Machine = orNull(f.Name), orNull(machine)
			row.Left, row.LeftLow, row.LeftHigh = view.Number(mg*f.Container.Likely), view.Number(mg*f.Container.Low), view.Number(mg*f.Container.High)
			if area > 0 {
				row.WallWater = view.Number(perKilogram * f.Container.Likely / area)
			}
		}
	}
	row.Reserve, row.Stands = view.Number(reserve), view.Number(stands)
}
