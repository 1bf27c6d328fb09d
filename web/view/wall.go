package view

import (
	"context"
	"math"

	leste "leste"
	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
	"leste/station"
)

// A Wall is the wall of a container as a grid: rows along its profile from the centre of the base to the centre of
// the top, columns around from the leading side towards the left. Lists of cells are row after row.
type Wall struct {
	Format string   `json:"format"`
	Rows   int      `json:"rows"`
	Cols   int      `json:"cols"`
	S      Numbers  `json:"s_mm" doc:"Way along the profile to the edges of the rows: one more than rows."`
	Radius Numbers  `json:"radius_mm" doc:"Of each row."`
	Zones  []string `json:"zones" doc:"Zone of each row."`
	Pos    Packed   `json:"pos_mm" doc:"Centres of the cells, x, y and z one after the other."`
	Water  Packed   `json:"water_g_m2" doc:"Left on each cell."`
}

// WallOf is the wall of one format with the water that a result leaves on it; nil when the result has no map of
// it, or was made on another grid than the plan.
func WallOf(plan *station.Plan, r *leste.Result, format string) *Wall {
	f, m := formatOf(plan, format), mapOf(r, format)
	if f == nil || m == nil || m.Rows != f.Body.Surface.Rows || m.Cols != f.Body.Surface.Cols {
		return nil
	}
	out := &Wall{Format: format, Rows: m.Rows, Cols: m.Cols, Zones: m.Zone}
	for _, s := range m.S {
		out.S = append(out.S, s*mm)
	}
	for _, x := range m.Radius {
		out.Radius = append(out.Radius, x*mm)
	}
	out.Pos = Packed(corners(f.Body.Surface.Pos))
	out.Water = grams(m.Water)
	return out
}

func grams(kg []float64) Packed {
	const perKilogram = 1e3
	out := make(Packed, len(kg))
	for i, w := range kg {
		out[i] = w * perKilogram
	}
	return out
}

func formatOf(plan *station.Plan, name string) *station.FormatPlan {
	if plan != nil {
		for i := range plan.Formats {
			if plan.Formats[i].Format.Name == name {
				return &plan.Formats[i]
			}
		}
	}
	return nil
}

func mapOf(r *leste.Result, format string) *leste.Map {
	if r != nil {
		for i := range r.Formats {
			if r.Formats[i].Name == format {
				return r.Formats[i].Map
			}
		}
	}
	return nil
}

// A Pass is one container's way through the stations: the water on its wall in frames, and what the air pushes.
type Pass struct {
	Frames []Frame `json:"frames"`
	Pushes []Push  `json:"pushes" doc:"One for each station."`
}

// A Frame is one moment of a pass.
type Frame struct {
	Station string `json:"station"`
	X       Number `json:"x_mm" doc:"Of the container's axis from the station's datum."`
	Time    Number `json:"time_s"`
	Water   Packed `json:"water_g_m2"`
}

// A Push is the force of the air on the whole container while it passes one station.
type Push struct {
	Station string  `json:"station"`
	X       Numbers `json:"x_mm"`
	Along   Numbers `json:"along_n"`
	Across  Numbers `json:"across_n" doc:"To the left."`
	Up      Numbers `json:"up_n"`
	Weight  Number  `json:"weight_n"`
}

// PassOf is the pass of one format: frames of a result that kept them, and the pushes of the air that the result
// found at the outlets.
func PassOf(ctx context.Context, j *job.Job, plan *station.Plan, r *leste.Result, format string) (*Pass, error) {
	out := &Pass{Frames: []Frame{}, Pushes: []Push{}}
	for i := range r.Formats {
		if r.Formats[i].Name != format {
			continue
		}
		for k := range r.Formats[i].Strip {
			m := &r.Formats[i].Strip[k]
			out.Frames = append(out.Frames, Frame{m.Station, Number(m.X * mm), Number(m.Time), grams(m.Water)})
		}
	}
	f := formatOf(plan, format)
	if f == nil {
		return out, nil
	}
	for i := range f.Stations {
		p, err := pushOf(ctx, j, f, &f.Stations[i], r)
		if err != nil {
			return nil, err
		}
		if p != nil {
			out.Pushes = append(out.Pushes, *p)
		}
	}
	return out, nil
}

// pushOf records what the air of one station does to the whole container; nil when it has none.
func pushOf(ctx context.Context, j *job.Job, f *station.FormatPlan, s *station.Scene, r *leste.Result) (*Push, error) {
	ambient := j.Site.Barometer.V
	if !j.Site.Barometer.Known {
		ambient, _ = air.StandardAtmosphere(j.Site.Altitude.V)
	}
	outlets := make([]station.OutletAir, len(s.Outlets))
	for i, p := range s.Outlets {
		outlets[i] = station.OutletAir{Ambient: ambient, AmbientT: j.Site.Summer.Temperature.V}
		for _, o := range r.Air.Outlets {
			if o.Name == p.Name && o.Station == s.Name {
				outlets[i].Plenum, outlets[i].Stagnation, outlets[i].Humidity = o.Plenum, o.Temperature, o.Humidity
			}
		}
	}
	e, err := station.NewExposer(f.Body, *s, outlets, station.ExposerOptions{})
	if err != nil {
		return nil, err
	}
	if from, to := e.Range(); from > to {
		return nil, nil
	}
	record, err := station.NewRecord(ctx, e, 0)
	if err != nil {
		return nil, err
	}
	out := &Push{Station: s.Name, Weight: Number(weight(f.Body.Mass))}
	for _, l := range record.Loads {
		out.X = append(out.X, tidy(l.X*mm))
		out.Along, out.Across, out.Up = append(out.Along, l.Force.X), append(out.Across, l.Force.Y), append(out.Up, l.Force.Z)
	}
	return out, nil
}

func weight(m q.Mass) float64 {
	const gravity = 9.80665
	if math.IsNaN(float64(m)) {
		return math.NaN()
	}
	return float64(m) * gravity
}
