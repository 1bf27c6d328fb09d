package api

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"leste/airsupply"
	"leste/calc"
	"leste/job"
	"leste/web/answer"
	"leste/web/document"
)

// Codes of faults.
const (
	codeRequest  = "request"   // the request is not what the operation takes
	codeNotFound = "not found" // there is no such thing
	codeRevision = "revision"  // the job has changed meanwhile
	codeDisk     = "disk"      // the file was changed outside
	codeNothing  = "nothing"   // there is no step to take back or repeat, no answer, no search
	codeRunning  = "running"   // a search runs already
	codeName     = "name"      // the name cannot be that of a job file, or is taken
	codeProblems = "problems"  // the job or a value has problems
	codeRefused  = "refused"   // a model gives no answer
	codeStale    = "stale"     // a newer question took this one's place
	codeInternal = "internal"  // the program could not do its part
)

// A Fault is why an operation did not succeed.
type Fault struct {
	Status   int       `json:"status" doc:"HTTP status."`
	Code     string    `json:"code" enum:"request,not found,revision,disk,nothing,running,name,problems,refused,stale,internal" doc:"For programs."`
	Text     string    `json:"text" doc:"For people, in one sentence."`
	Problems []Problem `json:"problems" doc:"What is wrong with the job or the request, with places."`
	Job      *Job      `json:"job" doc:"With revision and disk: the job as the desk has it."`
	Disk     *string   `json:"disk_text" doc:"With disk: what the file holds; null when it is gone."`

	cause error
}

// A Problem is one thing that is wrong and what would be right.
type Problem struct {
	Path   string `json:"path" doc:"In the job: /stations/0/outlets/1/slot_gap; in a request: body.edits[0].op."`
	Line   int    `json:"line" doc:"In the file; 0 when it has none."`
	Column int    `json:"column"`
	Code   string `json:"code"`
	Text   string `json:"text"`
	Want   string `json:"want"`
}

// Error implements error.
func (f *Fault) Error() string { return f.Text }

// Unwrap returns the cause.
func (f *Fault) Unwrap() error { return f.cause }

// GetStatus implements huma.StatusError.
func (f *Fault) GetStatus() int { return f.Status }

// ContentType implements huma.ContentTypeFilter.
func (f *Fault) ContentType(string) string { return "application/problem+json" }

// newFault gives an error of the library our form.
func newFault(status int, text string, errs []error) *Fault {
	f := &Fault{Status: status, Code: codeRequest, Text: sentence(text), Problems: []Problem{}}
	switch {
	case status == http.StatusNotFound:
		f.Code = codeNotFound
	case status >= http.StatusInternalServerError:
		f.Code = codeInternal
	}
	for _, err := range errs {
		p := Problem{Code: codeRequest}
		if d, ok := err.(huma.ErrorDetailer); ok {
			detail := d.ErrorDetail()
			p.Path, p.Text = detail.Location, detail.Message
		} else if err != nil {
			p.Text = err.Error()
		}
		f.Problems = append(f.Problems, p)
	}
	return f
}

// sentence is a text that begins with a capital.
func sentence(s string) string {
	if s == "" {
		return "The request cannot be answered"
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// status says which state and code an error of the rooms below answers with.
var status = []struct {
	err    error
	status int
	code   string
}{
	{document.ErrNoJob, http.StatusNotFound, codeNotFound},
	{document.ErrName, http.StatusUnprocessableEntity, codeName},
	{document.ErrTaken, http.StatusConflict, codeName},
	{document.ErrRevision, http.StatusConflict, codeRevision},
	{document.ErrDisk, http.StatusConflict, codeDisk},
	{document.ErrSteps, http.StatusConflict, codeNothing},
	{answer.ErrStale, http.StatusConflict, codeStale},
	{answer.ErrRunning, http.StatusConflict, codeRunning},
	{answer.ErrNone, http.StatusConflict, codeNothing},
	{context.Canceled, http.StatusConflict, codeStale},
}

// faultOf gives an error of the rooms below our form. state is the job it is about, nil for none.
func faultOf(err error, state *document.State) *Fault {
	f := &Fault{Status: http.StatusInternalServerError, Code: codeInternal, Text: sentence(err.Error()), Problems: []Problem{}, cause: err}
	var problems job.Problems
	var problem job.Problem
	var refusal *airsupply.Refusal
	var input *calc.InputError
	var fault *Fault
	switch {
	case errors.As(err, &fault):
		return fault
	case errors.As(err, &problems):
		f.Status, f.Code, f.Text = http.StatusUnprocessableEntity, codeProblems, "The job has problems"
		if state != nil {
			problems = state.Locate(problems)
		}
		f.Problems = problemsOf(problems)
	case errors.As(err, &problem):
		f.Status, f.Code, f.Text = http.StatusUnprocessableEntity, codeProblems, sentence(problem.Text)
		f.Problems = problemsOf(job.Problems{problem})
	case errors.As(err, &refusal):
		f.Status, f.Code = http.StatusUnprocessableEntity, codeRefused
		f.Text = "The air supply gives no answer: " + refusal.Error()
	case errors.As(err, &input):
		f.Status, f.Code = http.StatusUnprocessableEntity, codeProblems
		f.Problems = []Problem{{Path: input.Param, Code: codeProblems, Text: input.Text}}
	default:
		for _, s := range status {
			if errors.Is(err, s.err) {
				f.Status, f.Code = s.status, s.code
				break
			}
		}
	}
	if state != nil && (f.Code == codeRevision || f.Code == codeDisk) {
		j := jobOf(state)
		f.Job = &j
		if state.Theirs != nil {
			text := string(state.Theirs)
			f.Disk = &text
		}
	}
	return f
}

// refused is a fault of the request that only this package can see.
func refused(status int, code, text string) *Fault {
	return &Fault{Status: status, Code: code, Text: text, Problems: []Problem{}}
}

func problemsOf(ps job.Problems) []Problem {
	out := make([]Problem, len(ps))
	for i, p := range ps {
		out[i] = Problem{p.Path, p.Line, p.Column, p.Code, p.Text, p.Want}
	}
	return out
}
