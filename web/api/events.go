package api

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"

	"leste/web/answer"
)

// JobChanged says that a job or its file is another now.
type JobChanged struct {
	Revision string `json:"revision"`
	Step     string `json:"step" doc:"Name of the step; empty when only the file changed."`
	Tab      string `json:"tab" doc:"Who made it."`
	Disk     string `json:"disk" enum:"same,changed,gone,unsaved"`
}

// AnswerProgress says how far an answer is.
type AnswerProgress struct {
	Depth    string  `json:"depth" enum:"quick,transport,whole"`
	Revision string  `json:"revision"`
	Done     float64 `json:"done_pct"`
	What     string  `json:"what"`
}

// AnswerReady says that an answer can be had at once.
type AnswerReady struct {
	Depth    string `json:"depth" enum:"quick,transport,whole"`
	Revision string `json:"revision"`
	Verdict  string `json:"verdict" enum:"met,not met,undecided"`
}

// SearchProgress says how far a search is; the search itself is read for the rest.
type SearchProgress struct {
	State  string  `json:"state" enum:"running,done,stopped,failed"`
	Done   float64 `json:"done_pct"`
	Best   string  `json:"best"`
	Judged int     `json:"judged"`
}

// Alive is sent when nothing else was for a while.
type Alive struct {
	Revision string `json:"revision"`
}

// aliveEvery keeps an idle stream open and lets a page notice that the server has gone.
const aliveEvery = 15 * time.Second

func (a *api) eventOperations(h huma.API) {
	op := operation("events", http.MethodGet, "/jobs/{job}/events", "Hear what happens to a job: it begins with the job as it is", tagJob, 404, 422, 500)
	op.Middlewares = huma.Middlewares{a.knownJob(h)}
	sse.Register(h, op, map[string]any{
		"changed": JobChanged{}, "progress": AnswerProgress{}, "ready": AnswerReady{}, "search": SearchProgress{}, "alive": Alive{},
	}, a.events)
}

// knownJob refuses an unknown job before the stream has begun.
func (a *api) knownJob(h huma.API) func(huma.Context, func(huma.Context)) {
	return func(c huma.Context, next func(huma.Context)) {
		if _, err := a.Folder.Get(c.Param("job")); err != nil {
			f := faultOf(err, nil)
			if err := huma.WriteErr(h, c, f.Status, f.Text); err != nil {
				return
			}
			return
		}
		next(c)
	}
}

func (a *api) events(ctx context.Context, in *JobIn, send sse.Sender) {
	d, err := a.Folder.Get(in.Job)
	if err != nil {
		return
	}
	changes, endChanges := d.Listen()
	defer endChanges()
	answers, endAnswers := a.Answers.Listen(in.Job)
	defer endAnswers()
	s := d.State()
	if send.Data(JobChanged{Revision: string(s.Revision), Disk: s.Disk}) != nil {
		return
	}
	alive := time.NewTicker(aliveEvery)
	defer alive.Stop()
	for {
		var data any
		select {
		case <-ctx.Done():
			return
		case <-a.Closing:
			return
		case e := <-changes:
			data = JobChanged{string(e.Revision), e.Step, e.By, e.Disk}
		case e := <-answers:
			data = eventOf(e)
		case <-alive.C:
			data = Alive{string(d.State().Revision)}
		}
		if send.Data(data) != nil {
			return
		}
	}
}

func eventOf(e answer.Event) any {
	const percent = 100
	switch {
	case e.Progress != nil:
		p := e.Progress
		return AnswerProgress{string(p.Depth), string(p.Revision), percent * p.Done / max(p.Total, 1), p.What}
	case e.Ready != nil:
		return AnswerReady{string(e.Ready.Depth), string(e.Ready.Revision), string(e.Ready.Result.Verdict)}
	}
	f := e.Search
	return SearchProgress{f.State, percent * f.Done / max(f.Total, 1), f.Best, f.Judged}
}
