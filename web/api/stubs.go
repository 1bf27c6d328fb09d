package api

import (
	"context"
	"errors"

	"leste/job"
	"leste/web/document"
)

func (a *api) writePapers(ctx context.Context, in *struct {
	JobIn
	Body PapersIn
},
) (*struct{ Body Papers }, error) {
	a.papers.keep(in.Job, nil)
	return nil, faultOf(errors.New("papers cannot be written yet"), nil)
}

func optionsOf(ctx context.Context, j *job.Job) (*OptionsTable, error) {
	return nil, errors.New("not yet")
}

func adopted(s document.State, found *job.Job) ([]byte, error) { return nil, errors.New("not yet") }

func (e *Enquiry) job() ([]byte, error) { return nil, errors.New("not yet") }
