package api

import (
	"context"
	"math"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	leste "leste"
	"leste/job"
	"leste/station"
	"leste/web/answer"
	"leste/web/view"
)

// FormatIn names a format.
type FormatIn struct {
	Format string `query:"format" maxLength:"200" doc:"Name of the format; the first when left out."`
}

func (a *api) viewOperations(h huma.API) {
	huma.Register(h, operation("scene", http.MethodGet, "/jobs/{job}/scene", "The line and its stations in space, to scale", tagView, 404, 422, 500), a.scene)
	huma.Register(h, operation("wall", http.MethodGet, "/jobs/{job}/wall", "The wall of a container with the water left on it", tagView, 404, 409, 422, 500), a.wall)
	huma.Register(h, operation("pass", http.MethodGet, "/jobs/{job}/pass", "One container's way through the stations: the water in moments and what the air pushes", tagView, 404, 409, 422, 500), a.pass)
	huma.Register(h, operation("options", http.MethodGet, "/jobs/{job}/options", "The job and its options side by side, by the quick method", tagAnswer, 404, 422, 500), a.options)
	huma.Register(h, operation("takeOption", http.MethodPost, "/jobs/{job}/options/take", "Make the stations of an option those of the job as one step", tagJob, 400, 404, 409, 413, 415, 422, 500), a.takeOption)
}

// drawnCell is the size of cells of a layout that is only drawn [m].
const drawnCell = 5e-3

func (a *api) scene(_ context.Context, in *struct {
	JobIn
	FormatIn
},
) (*struct{ Body view.Scene }, error) {
	s, err := a.sound(in.Job)
	if err != nil {
		return nil, err
	}
	filled := job.Clone(s.Job)
	job.Fill(filled)
	var plan *station.Plan
	if len(filled.Formats) > 0 {
		var problems job.Problems
		if plan, problems = station.Resolve(filled, station.ResolveOptions{Cell: drawnCell}); len(problems) > 0 {
			return nil, faultOf(problems, &s)
		}
	}
	return &struct{ Body view.Scene }{view.SceneOf(filled, plan, in.Format)}, nil
}

// unknown is a number that nobody knows.
var unknown = view.Number(math.NaN())

// formatOf returns the name of the format meant.
func formatOf(r *leste.Result, name string) string {
	if name == "" && len(r.Formats) > 0 {
		return r.Formats[0].Name
	}
	return name
}

func (a *api) wall(ctx context.Context, in *struct {
	JobIn
	DepthIn
	FormatIn
},
) (*struct{ Body view.Wall }, error) {
	_, x, err := a.answered(ctx, in.Job, in.Depth)
	if err != nil {
		return nil, err
	}
	w := view.WallOf(x.Plan, x.Result, formatOf(x.Result, in.Format))
	if w == nil {
		return nil, refused(http.StatusNotFound, codeNotFound, "There is no wall of such a format")
	}
	return &struct{ Body view.Wall }{*w}, nil
}

func (a *api) pass(ctx context.Context, in *struct {
	JobIn
	FormatIn
},
) (*struct{ Body view.Pass }, error) {
	d, x, err := a.answered(ctx, in.Job, string(answer.Transport))
	if err != nil {
		return nil, err
	}
	p, err := view.PassOf(ctx, x.Job, x.Plan, x.Result, formatOf(x.Result, in.Format))
	if err != nil {
		s := d.State()
		return nil, faultOf(err, &s)
	}
	return &struct{ Body view.Pass }{*p}, nil
}

// An Option is the job or one of its options in a row of figures.
type Option struct {
	Path       *string     `json:"path" doc:"Of the option in the file; null for the job as it stands."`
	Name       string      `json:"name"`
	Problem    *string     `json:"problem" doc:"Why there is no answer."`
	Verdict    *string     `json:"verdict"`
	Format     *string     `json:"format" doc:"That decides."`
	Machine    *string     `json:"machine"`
	Left       view.Number `json:"container_mg"`
	LeftLow    view.Number `json:"container_low_mg"`
	LeftHigh   view.Number `json:"container_high_mg"`
	Reserve    view.Number `json:"reserve" doc:"Least of limit over likely value."`
	Stands     view.Number `json:"stands_factor" doc:"Least of resistance over push."`
	Gives      *string     `json:"gives_way" doc:"What the container does when it gives way."`
	Flow       view.Number `json:"flow_kg_s"`
	Grid       view.Number `json:"grid_w"`
	CostYear   view.Number `json:"cost_year"`
	Sound      view.Number `json:"at_1_m_db"`
	Outlets    int         `json:"outlets"`
	Length     view.Number `json:"length_mm" doc:"Of the conveyor that the outlets take up."`
	EqualRatio view.Number `json:"equal_pressure_ratio" doc:"Factor on every plenum pressure with which it leaves as much water as the first row."`
	EqualGrid  view.Number `json:"equal_grid_w"`
	EqualCost  view.Number `json:"equal_cost_year"`
}

// OptionsTable is the job and its options, a row of figures each.
type OptionsTable struct {
	Currency string   `json:"currency"`
	Rows     []Option `json:"rows"`
}

func (a *api) options(ctx context.Context, in *JobIn) (*struct{ Body OptionsTable }, error) {
	s, err := a.sound(in.Job)
	if err != nil {
		return nil, err
	}
	out, err := optionsOf(ctx, s.Job, a.Parts)
	if err != nil {
		return nil, faultOf(err, &s)
	}
	return &struct{ Body OptionsTable }{*out}, nil
}
