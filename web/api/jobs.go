package api

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"leste/job"
	q "leste/quantity"
	"leste/web/document"
)

// A Job is one job file as the desk has it.
type Job struct {
	ID       string         `json:"id" doc:"Name of its file."`
	Name     string         `json:"name" doc:"What the job calls itself."`
	Revision string         `json:"revision" doc:"Of this text; to be given back with a change."`
	Values   map[string]any `json:"values" doc:"What the file says: objects, lists, and every value as it is written; empty for a file that cannot be read."`
	Units    string         `json:"units" enum:"si,us" doc:"The system that most of its quantities are written in."`
	Assumed  []Assumed      `json:"assumed" doc:"Values that nobody gave, as they are taken; ranked ones come with the answer."`
	Problems []Problem      `json:"problems"`
	Undo     *string        `json:"undo" doc:"Name of the step that undo takes back."`
	Redo     *string        `json:"redo" doc:"Name of the step that redo repeats."`
	Disk     string         `json:"disk" enum:"same,changed,gone,unsaved" doc:"The file beside the job: changed and gone wait for settle."`
	Texts    *BothTexts     `json:"texts" doc:"With disk changed: the two texts between which settle chooses; otherwise null."`
}

// BothTexts are the two sides of a job that was changed outside the desk.
type BothTexts struct {
	Desk string `json:"desk"`
	File string `json:"file"`
}

// An Assumed is a value that nobody gave.
type Assumed struct {
	Path   string `json:"path"`
	Value  string `json:"value"`
	Low    string `json:"low"`
	High   string `json:"high"`
	Source string `json:"source"`
}

// jobOut answers with a job.
type jobOut struct {
	ETag string `header:"ETag"`
	Body Job
}

func jobOf(s *document.State) Job {
	values, ok := s.Values().(map[string]any)
	if !ok {
		values = map[string]any{}
	}
	units := "si"
	if file, _ := job.Read(s.ID, s.Text); file.Spelling().System() == q.US {
		units = "us"
	}
	filled := job.Clone(s.Job)
	assumed := []Assumed{}
	for _, x := range job.Fill(filled) {
		assumed = append(assumed, Assumed{x.Path, x.Value, x.Low, x.High, x.Source})
	}
	var texts *BothTexts
	if s.Disk == document.Changed {
		texts = &BothTexts{Desk: string(s.Text), File: string(s.Theirs)}
	}
	return Job{
		Texts: texts, ID: s.ID, Name: s.Job.Name, Revision: string(s.Revision), Values: values, Units: units, Assumed: assumed, Problems: problemsOf(s.Problems),
		Undo: orNull(s.Undo), Redo: orNull(s.Redo), Disk: s.Disk,
	}
}

func answerJob(s document.State, err error) (*jobOut, error) {
	if err != nil {
		return nil, faultOf(err, &s)
	}
	return &jobOut{ETag: `"` + string(s.Revision) + `"`, Body: jobOf(&s)}, nil
}

// changed answers with a job that was changed, and gives up what is calculated for it as it was.
func (a *api) changed(s document.State, err error) (*jobOut, error) {
	if err == nil {
		a.Answers.Changed(s.ID, s.Revision)
	}
	return answerJob(s, err)
}

// orNull is nil for an empty text.
func orNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// A JobEntry is one job of the list.
type JobEntry struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Problems int     `json:"problems"`
	Modified *string `json:"modified" format:"date-time" doc:"null for a job without a file."`
	Saved    bool    `json:"saved" doc:"It has a file."`
}

// A Text is the whole text of a job file.
type Text struct {
	Text     string `json:"text" maxLength:"1048576"`
	Revision string `json:"revision,omitempty" doc:"Of this text; not needed when writing."`
}

// A NewJob is what a job begins with: an enquiry, a text, or neither for the commented starter.
type NewJob struct {
	ID      string   `json:"id" minLength:"1" maxLength:"120" doc:"Name of its file, such as \"line 2.yaml\"."`
	Text    string   `json:"text,omitempty" maxLength:"1048576" doc:"Text of a job file, e.g. of one that is copied."`
	Enquiry *Enquiry `json:"enquiry,omitempty" doc:"What a caller could say; the rest is not known."`
}

// An Enquiry is what is known after two minutes on the telephone. What is left out is not known.
type Enquiry struct {
	Name     string `json:"name,omitempty" maxLength:"200"`
	Family   string `json:"family" maxLength:"80" doc:"Family of the container, see families."`
	Size     string `json:"size,omitempty" maxLength:"80"`
	Rate     string `json:"rate,omitempty" maxLength:"40" doc:"With its unit: \"600 /min\", \"36000 b/h\"."`
	From     string `json:"from,omitempty" maxLength:"40" doc:"What wets the containers."`
	Looks    string `json:"looks,omitempty" maxLength:"40" doc:"What a person sees on the wall."`
	Machine  string `json:"machine,omitempty" maxLength:"40" doc:"Kind of the machine that comes next."`
	Distance string `json:"distance,omitempty" maxLength:"40"`
	Says     string `json:"says,omitempty" maxLength:"400" doc:"What the plant says about it."`
	Currency string `json:"currency,omitempty" maxLength:"3"`
}

// An EditIn is a named step of edits.
type EditIn struct {
	Step  string          `json:"step" minLength:"1" maxLength:"120" doc:"What undo calls it: \"Move left knife\"."`
	Merge string          `json:"merge,omitempty" maxLength:"200" doc:"Steps with the same word that follow within two seconds count as one."`
	Edits []document.Edit `json:"edits" minItems:"1" maxItems:"200"`
}

func (a *api) jobOperations(h huma.API) {
	huma.Register(h, operation("listJobs", http.MethodGet, "/jobs", "List the jobs of the folder", tagJob, 500), a.listJobs)
	create := operation("createJob", http.MethodPost, "/jobs", "Begin a job", tagJob, 400, 409, 413, 415, 422, 500)
	create.DefaultStatus = http.StatusCreated
	huma.Register(h, create, a.createJob)
	huma.Register(h, operation("readJob", http.MethodGet, "/jobs/{job}", "Read a job", tagJob, 404, 422, 500), a.readJob)
	huma.Register(h, operation("editJob", http.MethodPatch, "/jobs/{job}", "Change a job by one step", tagJob, 400, 404, 409, 413, 415, 422, 500), a.editJob)
	huma.Register(h, operation("readText", http.MethodGet, "/jobs/{job}/text", "Read the whole text", tagJob, 404, 422, 500), a.readText)
	huma.Register(h, operation("writeText", http.MethodPut, "/jobs/{job}/text", "Write the whole text as one step", tagJob, 400, 404, 409, 413, 415, 422, 500), a.writeText)
	huma.Register(h, operation("undo", http.MethodPost, "/jobs/{job}/undo", "Take the last step back", tagJob, 404, 409, 422, 500), a.undo)
	huma.Register(h, operation("redo", http.MethodPost, "/jobs/{job}/redo", "Repeat the step that was taken back last", tagJob, 404, 409, 422, 500), a.redo)
	huma.Register(h, operation("settle", http.MethodPost, "/jobs/{job}/settle", "Say which text stays after the file was changed outside; the other becomes a step of the history", tagJob, 400, 404, 409, 413, 415, 422, 500), a.settle)
}

type listJobsOut struct {
	Body struct {
		Jobs []JobEntry `json:"jobs"`
	}
}

func (a *api) listJobs(ctx context.Context, _ *struct{}) (*listJobsOut, error) {
	list, err := a.Folder.List(ctx)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	out := &listJobsOut{}
	out.Body.Jobs = []JobEntry{}
	for _, e := range list {
		entry := JobEntry{ID: e.ID, Name: e.Name, Problems: e.Problems, Saved: e.Disk != document.Unsaved}
		if entry.Saved {
			entry.Modified = orNull(e.Modified.UTC().Format("2006-01-02T15:04:05Z"))
		}
		out.Body.Jobs = append(out.Body.Jobs, entry)
	}
	return out, nil
}

func (a *api) createJob(_ context.Context, in *struct{ Body NewJob }) (*jobOut, error) {
	text := []byte(in.Body.Text)
	switch {
	case in.Body.Enquiry != nil && in.Body.Text != "":
		return nil, refused(http.StatusUnprocessableEntity, codeRequest, "Give a text or an enquiry, not both")
	case in.Body.Enquiry != nil:
		var err error
		if text, err = in.Body.Enquiry.job(); err != nil {
			return nil, faultOf(err, nil)
		}
	case in.Body.Text == "":
		text = job.Starter()
	}
	d, err := a.Folder.Create(in.Body.ID, text)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	return answerJob(d.State(), nil)
}

func (a *api) readJob(_ context.Context, in *JobIn) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	d.Poll()
	return answerJob(d.State(), nil)
}

func (a *api) editJob(_ context.Context, in *struct {
	ChangeIn
	Body EditIn
},
) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	return a.changed(d.Edit(in.base(), document.Step{Name: in.Body.Step, Merge: in.Body.Merge, By: in.Tab}, in.Body.Edits))
}

func (a *api) readText(_ context.Context, in *JobIn) (*struct{ Body Text }, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	s := d.State()
	return &struct{ Body Text }{Text{string(s.Text), string(s.Revision)}}, nil
}

func (a *api) writeText(_ context.Context, in *struct {
	ChangeIn
	Body Text
},
) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	return a.changed(d.Replace(in.base(), document.Step{Name: "Edit the text", By: in.Tab}, []byte(in.Body.Text)))
}

func (a *api) undo(_ context.Context, in *ChangeIn) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	return a.changed(d.Undo(in.base(), in.Tab))
}

func (a *api) redo(_ context.Context, in *ChangeIn) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	return a.changed(d.Redo(in.base(), in.Tab))
}

// A Settle says which of two texts stays.
type Settle struct {
	Keep string `json:"keep" enum:"file,desk"`
}

func (a *api) settle(_ context.Context, in *struct {
	ChangeIn
	Body Settle
},
) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	return a.changed(d.Settle(in.base(), in.Body.Keep == "file", in.Tab))
}
