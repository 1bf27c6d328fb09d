package api

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"leste/design"
	"leste/render/study"
	"leste/web/answer"
	"leste/web/document"
	"leste/web/view"
)

// Study is the document that design --json prints.
type Study json.RawMessage

// MarshalJSON implements json.Marshaler.
func (s Study) MarshalJSON() ([]byte, error) {
	if s == nil {
		return []byte("null"), nil
	}
	return json.RawMessage(s).MarshalJSON()
}

// Schema implements huma.SchemaProvider.
func (Study) Schema(r huma.Registry) *huma.Schema {
	return &huma.Schema{OneOf: []*huma.Schema{shape(r, study.Type(), "Study"), {Type: "null"}}}
}

// A SearchIn is how to search.
type SearchIn struct {
	Budget   int      `json:"budget,omitempty" minimum:"50" maximum:"20000" doc:"Candidates to judge, about; 2400 when left out."`
	Seed     uint64   `json:"seed,omitempty" maximum:"9007199254740991" doc:"The same job, seed and budget give the same study; 1 when left out."`
	Goal     string   `json:"goal,omitempty" enum:"met,likely" doc:"met: the whole band within its limits. likely: only the likely value. Met where that can be had when left out."`
	Concepts []string `json:"concepts,omitempty" maxItems:"40" doc:"To try; all that fit when left out."`
}

// A TradeOff is one candidate that meets everything.
type TradeOff struct {
	Concept  string      `json:"concept"`
	CostYear view.Number `json:"cost_year"`
	Grid     view.Number `json:"grid_w"`
	Reserve  view.Number `json:"reserve"`
	Plenum   view.Number `json:"plenum_pa"`
}

// A Search is a search for a station.
type Search struct {
	State    string     `json:"state" enum:"running,done,stopped,failed"`
	Revision string     `json:"revision" doc:"Of the job that it searches for."`
	Budget   int        `json:"budget"`
	Done     float64    `json:"done_pct"`
	Best     string     `json:"best" doc:"The best so far, in words."`
	Judged   int        `json:"judged"`
	Front    []TradeOff `json:"front" doc:"Candidates that meet everything and that no other beats in cost and reserve, the cheapest first."`
	Plenty   float64    `json:"plenty" doc:"Reserve beyond which a search does not tell how large it is."`
	Error    *string    `json:"error"`
	Study    Study      `json:"study" doc:"The document that design --json prints; null while it runs."`
	Adopt    []string   `json:"adopt" doc:"Concepts whose station can be adopted."`
}

// An Adopt names a concept of the study.
type Adopt struct {
	Concept string `json:"concept" minLength:"1" maxLength:"200"`
}

func (a *api) searchOperations(h huma.API) {
	start := operation("startSearch", http.MethodPost, "/jobs/{job}/search", "Search for a station that meets what is asked at the least yearly cost", tagSearch, 400, 404, 409, 413, 415, 422, 500)
	start.DefaultStatus = http.StatusAccepted
	huma.Register(h, start, a.startSearch)
	huma.Register(h, operation("readSearch", http.MethodGet, "/jobs/{job}/search", "Read the last search, also while it runs", tagSearch, 404, 422, 500), a.readSearch)
	huma.Register(h, operation("stopSearch", http.MethodDelete, "/jobs/{job}/search", "End the search; the best so far stays", tagSearch, 404, 409, 422, 500), a.stopSearch)
	huma.Register(h, operation("adopt", http.MethodPost, "/jobs/{job}/search/adopt", "Write the station of a concept into the job as one step", tagSearch, 400, 404, 409, 413, 415, 422, 500), a.adopt)
}

func (a *api) startSearch(_ context.Context, in *struct {
	JobIn
	Body SearchIn
},
) (*struct{ Body Search }, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	o := design.Options{Seed: max(in.Body.Seed, 1), Budget: in.Body.Budget, Goal: in.Body.Goal, Concepts: in.Body.Concepts}
	f, err := a.Answers.Search(d, o)
	if err != nil {
		s := d.State()
		return nil, faultOf(err, &s)
	}
	return searchOf(f)
}

func (a *api) readSearch(_ context.Context, in *JobIn) (*struct{ Body Search }, error) {
	if _, err := a.open(in.Job); err != nil {
		return nil, err
	}
	f, err := a.Answers.Searched(in.Job)
	if err != nil {
		return nil, refused(http.StatusNotFound, codeNothing, "Nothing was searched for yet")
	}
	return searchOf(f)
}

func (a *api) stopSearch(ctx context.Context, in *JobIn) (*struct{ Body Search }, error) {
	if _, err := a.open(in.Job); err != nil {
		return nil, err
	}
	f, err := a.Answers.StopSearch(ctx, in.Job)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	return searchOf(f)
}

func (a *api) adopt(_ context.Context, in *struct {
	ChangeIn
	Body Adopt
},
) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	found, err := a.Answers.Station(in.Job, in.Body.Concept)
	if err != nil {
		return nil, refused(http.StatusConflict, codeNothing, "The last search has no station of that concept")
	}
	text, err := adopted(d.State(), found)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	s, err := d.Replace(in.base(), document.Step{Name: "Adopt " + in.Body.Concept, By: in.Tab}, text)
	return a.changed(s, err)
}

func searchOf(f answer.Found) (*struct{ Body Search }, error) {
	const percent = 100
	out := Search{
		State: f.State, Revision: string(f.Revision), Budget: f.Budget, Done: percent * f.Done / max(f.Total, 1),
		Best: f.Best, Judged: f.Judged, Front: []TradeOff{}, Plenty: design.Plenty, Adopt: []string{},
	}
	if f.Total == 0 {
		out.Done = 0
	}
	for _, p := range f.Front {
		out.Front = append(out.Front, TradeOff{p.Concept, view.Number(p.Cost), view.Number(p.Power), view.Number(p.Reserve), view.Number(p.Plenum)})
	}
	if f.Err != nil {
		out.Error = orNull(sentence(f.Err.Error()))
	}
	if f.Study != nil {
		b, err := study.JSON(f.Study, nil)
		if err != nil {
			return nil, faultOf(err, nil)
		}
		out.Study = Study(bytes.TrimSpace(b))
		for i := range f.Study.Found {
			if f.Study.Found[i].Job != nil {
				out.Adopt = append(out.Adopt, f.Study.Found[i].Concept)
			}
		}
	}
	return &struct{ Body Search }{out}, nil
}
