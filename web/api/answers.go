package api

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"leste/render/asjson"
	"leste/web/answer"
	"leste/web/document"
	"leste/web/view"
)

// DepthIn names a depth.
type DepthIn struct {
	Depth string `query:"depth" enum:"quick,transport,whole" default:"quick" doc:"quick: closed forms, the nominal case. transport: the water followed over the wall, the nominal case. whole: every case, what matters most and what would help, as assess prints it."`
}

// Result is the document that assess --json prints.
type Result json.RawMessage

// MarshalJSON implements json.Marshaler.
func (r Result) MarshalJSON() ([]byte, error) { return json.RawMessage(r).MarshalJSON() }

// Schema implements huma.SchemaProvider.
func (Result) Schema(r huma.Registry) *huma.Schema { return shape(r, asjson.ResultType(), "Answer") }

// An Answer is what was calculated for one text of a job.
type Answer struct {
	Depth    string `json:"depth" enum:"quick,transport,whole"`
	Revision string `json:"revision" doc:"Of the text that it answers."`
	Took     int64  `json:"took_ms"`
	Result   Result `json:"result" doc:"The document that assess --json prints."`
}

func answerOf(x *answer.Answer) Answer {
	return Answer{string(x.Depth), string(x.Revision), x.Took.Milliseconds(), Result(bytes.TrimSpace(x.Document))}
}

// A Trial is some edits to be tried out: nothing is written.
type Trial struct {
	Edits []document.Edit `json:"edits" minItems:"1" maxItems:"200"`
	Depth string          `json:"depth,omitempty" enum:"quick,transport" default:"quick"`
	// Format is drawn.
	Format string `json:"format,omitempty" maxLength:"200" doc:"Format that is drawn; the first when left out."`
	Wall   bool   `json:"wall,omitempty" doc:"Give the container's wall with its water too."`
}

// Tried is a job as it would be.
type Tried struct {
	Revision string      `json:"revision" doc:"That the edits were tried on."`
	Problems []Problem   `json:"problems" doc:"What would be wrong; there is no answer then."`
	Scene    *view.Scene `json:"scene" doc:"null with problems of the file's form."`
	Answer   *Answer     `json:"answer"`
	Wall     *view.Wall  `json:"wall"`
}

func (a *api) answerOperations(h huma.API) {
	huma.Register(h, operation("answer", http.MethodGet, "/jobs/{job}/answer", "Answer a job as it is now; whoever asks for the same waits for the same calculation, and an edit ends it", tagAnswer, 404, 409, 422, 500), a.answer)
	stop := operation("stopAnswer", http.MethodDelete, "/jobs/{job}/answer", "Give up what is being calculated", tagAnswer, 404, 409, 422, 500)
	stop.DefaultStatus = http.StatusNoContent
	huma.Register(h, stop, a.stopAnswer)
	huma.Register(h, operation("tryEdits", http.MethodPost, "/jobs/{job}/try", "Answer a job as it would be after some edits, while they are dragged; a newer trial of the same tab ends an older one", tagAnswer, 400, 404, 409, 413, 415, 422, 500), a.try)
}

func (a *api) answered(ctx context.Context, job, depth string) (*document.Document, *answer.Answer, error) {
	d, err := a.open(job)
	if err != nil {
		return nil, nil, err
	}
	x, err := a.Answers.Answer(ctx, d, answer.Depth(depth))
	if err != nil {
		s := d.State()
		return nil, nil, faultOf(err, &s)
	}
	return d, x, nil
}

func (a *api) answer(ctx context.Context, in *struct {
	JobIn
	DepthIn
},
) (*struct{ Body Answer }, error) {
	_, x, err := a.answered(ctx, in.Job, in.Depth)
	if err != nil {
		return nil, err
	}
	return &struct{ Body Answer }{answerOf(x)}, nil
}

func (a *api) stopAnswer(_ context.Context, in *struct {
	JobIn
	DepthIn
},
) (*struct{}, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	if !a.Answers.Stop(d.State().ID, answer.Depth(in.Depth)) {
		return nil, faultOf(answer.ErrNone, nil)
	}
	return nil, nil
}

func (a *api) try(ctx context.Context, in *struct {
	JobIn
	Body Trial
},
) (*struct{ Body Tried }, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	base := d.State().Revision
	s, err := d.Preview(in.Body.Edits)
	if err != nil {
		return nil, faultOf(err, &s)
	}
	out := Tried{Revision: string(base), Problems: problemsOf(s.Problems)}
	if len(s.Problems) > 0 {
		return &struct{ Body Tried }{out}, nil
	}
	x, err := a.Answers.Try(ctx, in.Tab, s, answer.Depth(in.Body.Depth))
	if err != nil {
		f := faultOf(err, &s)
		if f.Code != codeProblems && f.Code != codeRefused {
			return nil, f
		}
		out.Problems = f.Problems
		if f.Code == codeRefused {
			out.Problems = []Problem{{Path: "/air_supply", Code: codeRefused, Text: f.Text}}
		}
		return &struct{ Body Tried }{out}, nil
	}
	scene := view.SceneOf(x.Job, x.Plan, in.Body.Format)
	one := answerOf(x)
	one.Revision = ""
	out.Scene, out.Answer = &scene, &one
	if in.Body.Wall {
		out.Wall = view.WallOf(x.Plan, x.Result, scene.Format)
	}
	return &struct{ Body Tried }{out}, nil
}

// shape describes the JSON of a Go type whose numbers may be null, under names that begin with a prefix.
func shape(r huma.Registry, t reflect.Type, prefix string) *huma.Schema {
	switch t.Kind() {
	case reflect.Pointer:
		s := shape(r, t.Elem(), prefix)
		if s.Ref != "" {
			return &huma.Schema{OneOf: []*huma.Schema{s, {Type: "null"}}}
		}
		s.Nullable = true
		return s
	case reflect.Struct:
		name := prefix + huma.DefaultSchemaNamer(t, "")
		if _, done := r.Map()[name]; !done {
			s := &huma.Schema{Type: huma.TypeObject, Properties: map[string]*huma.Schema{}, AdditionalProperties: false}
			r.Map()[name] = s
			for i := range t.NumField() {
				key := t.Field(i).Tag.Get("json")
				s.Properties[key] = shape(r, t.Field(i).Type, prefix)
				if s.Properties[key].Ref == "" { // what is referred to describes itself
					s.Properties[key].Description = t.Field(i).Tag.Get("doc")
				}
				s.Properties[key].Nullable = s.Properties[key].Nullable || key == "range" // the one list that may be null
				s.Required = append(s.Required, key)
			}
		}
		return &huma.Schema{Ref: "#/components/schemas/" + name}
	case reflect.Slice:
		return &huma.Schema{Type: huma.TypeArray, Items: shape(r, t.Elem(), prefix)}
	case reflect.Map:
		return &huma.Schema{Type: huma.TypeObject, AdditionalProperties: shape(r, t.Elem(), prefix)}
	case reflect.Bool:
		return &huma.Schema{Type: huma.TypeBoolean}
	case reflect.Int, reflect.Uint64:
		return &huma.Schema{Type: huma.TypeInteger}
	case reflect.Float64:
		return &huma.Schema{Type: huma.TypeNumber, Nullable: true}
	}
	return &huma.Schema{Type: huma.TypeString}
}
