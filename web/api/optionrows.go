package api

import (
	"context"
	"fmt"

	leste "leste"
	"leste/catalogue"
	"leste/design"
	"leste/job"
	"leste/web/view"
)

// optionsOf compares the job with its options.
func optionsOf(ctx context.Context, j *job.Job, parts *catalogue.Parts) (*OptionsTable, error) {
	filled := job.Clone(j)
	job.Fill(filled)
	rows, err := design.Compare(ctx, j, leste.Options{Method: "quick", Parts: parts}, nil)
	if err != nil {
		return nil, err
	}
	out := &OptionsTable{Rows: []Option{}, Currency: filled.Cost.Currency}
	own := len(rows) - len(j.Options) // the job as it stands comes first where it has stations
	for i := range rows {
		row := optionOf(&rows[i])
		stations := j.Stations
		if k := i - own; k >= 0 {
			row.Path = orNull(fmt.Sprintf("/options/%d", k))
			if of := j.Options[k].Stations; len(of) > 0 {
				stations = of
			}
		}
		for k := range stations {
			row.Outlets += len(stations[k].Outlets)
		}
		out.Rows = append(out.Rows, row)
	}
	return out, nil
}

// optionOf is a row of figures as it is shown.
func optionOf(r *design.Row) Option {
	const mg = 1e6
	out := Option{
		Name: r.Name, Problem: orNull(r.Problem), Format: orNull(r.Format), Machine: orNull(r.Machine),
		Left: view.Number(mg * r.Water.Likely), LeftLow: view.Number(mg * r.Water.Low), LeftHigh: view.Number(mg * r.Water.High),
		Reserve: view.Number(r.Reserve), Stands: view.Number(r.Stands), Gives: orNull(r.Gives), Flow: unknown,
		Grid: view.Number(r.Grid), CostYear: view.Number(r.Cost), Sound: view.Number(r.Sound), Length: view.Number(r.Length.MM()),
		EqualRatio: unknown, EqualGrid: unknown, EqualCost: unknown,
	}
	if r.Result != nil {
		out.Verdict, out.Flow = orNull(string(r.Result.Verdict)), view.Number(r.Result.Air.Flow)
	} else {
		out.Left, out.LeftLow, out.LeftHigh, out.Reserve, out.Stands = unknown, unknown, unknown, unknown, unknown
		out.Grid, out.CostYear, out.Sound, out.Length = unknown, unknown, unknown, unknown
	}
	if e := r.Equal; e != nil && e.Why == "" {
		out.EqualRatio, out.EqualGrid, out.EqualCost = view.Number(e.Pressure), view.Number(e.Grid), view.Number(e.Cost)
	}
	return out
}
