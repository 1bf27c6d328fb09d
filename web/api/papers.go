package api

import (
	"context"
	"mime"
	"net/http"
	"path"
	"runtime"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"leste/papers"
	"leste/render/offer"
	"leste/render/quote"
	"leste/render/words"
	"leste/web/answer"
	"leste/web/document"
)

// A PapersIn is how papers are written.
type PapersIn struct {
	Language string `json:"language,omitempty" enum:"en,de" default:"en"`
	Units    string `json:"units,omitempty" enum:"si,us,both" default:"si"`
	Terms    string `json:"terms,omitempty" maxLength:"200000" doc:"Commercial terms as YAML: number, date, addressee, positions with cost and price, discount."`
}

// Papers are the papers that were written for a job.
type Papers struct {
	Revision string   `json:"revision" doc:"Of the job that they are about."`
	Present  bool     `json:"present" doc:"The job has not changed since."`
	Warnings []string `json:"warnings"`
	Papers   []Paper  `json:"papers"`
}

// A Paper is one file.
type Paper struct {
	Name  string `json:"name"`
	Title string `json:"title" doc:"What it is, in a few words."`
	Type  string `json:"type" doc:"Media type."`
	Bytes int    `json:"bytes"`
	Shows bool   `json:"shows" doc:"A browser can show it: a drawing, a page."`
}

// paperwork is the set of papers of one job.
type paperwork struct {
	revision document.Revision
	warnings []string
	names    []string
	data     map[string][]byte
}

// shelf keeps the papers that were written last, of one job only: they may be large.
type shelf struct {
	mu  sync.Mutex
	job string
	set *paperwork
}

func (p *shelf) keep(job string, set *paperwork) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.job, p.set = job, set
}

func (p *shelf) of(job string) *paperwork {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.job != job {
		return nil
	}
	return p.set
}

func (a *api) paperOperations(h huma.API) {
	huma.Register(h, operation("writePapers", http.MethodPost, "/jobs/{job}/papers", "Assess the job and write the papers of an offer", tagPapers, 400, 404, 409, 413, 415, 422, 500), a.writePapers)
	huma.Register(h, operation("listPapers", http.MethodGet, "/jobs/{job}/papers", "List the papers that were written", tagPapers, 404, 422, 500), a.listPapers)
	read := operation("readPaper", http.MethodGet, "/jobs/{job}/papers/{paper}", "Read one paper; with download it is saved under its name, otherwise shown", tagPapers, 404, 422, 500)
	read.Responses = map[string]*huma.Response{"200": {
		Description: "The file.",
		Content:     map[string]*huma.MediaType{"application/octet-stream": {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}},
	}}
	huma.Register(h, read, a.readPaper)
}

func (a *api) writePapers(ctx context.Context, in *struct {
	JobIn
	Body PapersIn
},
) (*struct{ Body Papers }, error) {
	terms, err := quote.ReadTerms("terms", []byte(in.Body.Terms))
	if err != nil {
		return nil, refused(http.StatusUnprocessableEntity, codeProblems, sentence(err.Error()))
	}
	if terms.Date.IsZero() {
		terms.Date = a.Now().UTC().Truncate(24 * time.Hour)
	}
	w, err := words.New(in.Body.Language, words.Units(in.Body.Units))
	if err != nil {
		return nil, refused(http.StatusUnprocessableEntity, codeRequest, sentence(err.Error()))
	}
	d, x, err := a.answered(ctx, in.Job, string(answer.Whole))
	if err != nil {
		return nil, err
	}
	s := d.State()
	kept := quote.Archive{JobName: s.ID, JobFile: string(s.Text), Terms: terms, Result: *x.Result}
	if x.Revision != s.Revision {
		return nil, faultOf(answer.ErrStale, nil)
	}
	if err := papers.Gather(ctx, &kept, x.Given, a.Parts, max(1, runtime.GOMAXPROCS(0)-1)); err != nil {
		return nil, faultOf(err, &s)
	}
	set, err := paperSet(&kept, w)
	if err != nil {
		return nil, faultOf(err, &s)
	}
	set.revision = x.Revision
	a.papers.keep(in.Job, set)
	return &struct{ Body Papers }{papersOf(set, d.State().Revision)}, nil
}

// paperSet writes all papers of an archive.
func paperSet(kept *quote.Archive, w words.Words) (*paperwork, error) {
	in, unused, err := papers.Input(kept, quote.Template{Words: w})
	if err != nil {
		return nil, err
	}
	files, warnings, err := offer.Files(in, kept.Terms)
	if err != nil {
		return nil, err
	}
	set := &paperwork{warnings: warnings, data: map[string][]byte{}}
	for _, u := range unused {
		set.warnings = append(set.warnings, u.Error())
	}
	for _, f := range files {
		set.names = append(set.names, f.Name)
		set.data[f.Name] = f.Data
	}
	return set, nil
}

func (a *api) listPapers(_ context.Context, in *JobIn) (*struct{ Body Papers }, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	set := a.papers.of(in.Job)
	if set == nil {
		return nil, refused(http.StatusNotFound, codeNothing, "No papers were written yet")
	}
	return &struct{ Body Papers }{papersOf(set, d.State().Revision)}, nil
}

func papersOf(set *paperwork, now document.Revision) Papers {
	out := Papers{Revision: string(set.revision), Present: set.revision == now, Warnings: append([]string{}, set.warnings...), Papers: []Paper{}}
	for _, name := range set.names {
		out.Papers = append(out.Papers, Paper{name, titleOf(name), typeOf(name), len(set.data[name]), shows(name)})
	}
	return out
}

// typeOf is the media type of a paper.
func typeOf(name string) string {
	switch path.Ext(name) {
	case ".dxf":
		return "image/vnd.dxf"
	case ".glb":
		return "model/gltf-binary"
	case ".xlsx":
		return "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	case ".csv":
		return "text/csv; charset=utf-8"
	case ".pdf":
		return "application/pdf"
	case ".svg":
		return "image/svg+xml"
	case ".html":
		return "text/html; charset=utf-8"
	case ".json":
		return "application/json"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	return "application/octet-stream"
}

func shows(name string) bool {
	switch path.Ext(name) {
	case ".svg", ".html", ".pdf", ".txt", ".csv":
		return true
	}
	return false
}

type paperOut struct {
	Type   string `header:"Content-Type"`
	How    string `header:"Content-Disposition"`
	Policy string `header:"Content-Security-Policy"`
	Body   []byte
}

// paperPolicy lets a paper bring its own style and pictures, and nothing else.
const paperPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'; sandbox"

func (a *api) readPaper(_ context.Context, in *struct {
	JobIn
	Paper    string `path:"paper" maxLength:"200"`
	Download bool   `query:"download"`
},
) (*paperOut, error) {
	if _, err := a.open(in.Job); err != nil {
		return nil, err
	}
	set := a.papers.of(in.Job)
	if set == nil {
		return nil, refused(http.StatusNotFound, codeNothing, "No papers were written yet")
	}
	data, ok := set.data[in.Paper]
	if !ok {
		return nil, refused(http.StatusNotFound, codeNotFound, "There is no such paper")
	}
	how := "inline"
	if in.Download {
		how = mime.FormatMediaType("attachment", map[string]string{"filename": in.Paper})
	}
	out := &paperOut{Type: typeOf(in.Paper), How: how, Policy: paperPolicy, Body: data}
	if path.Ext(in.Paper) == ".pdf" {
		out.Policy = "default-src 'none'; frame-ancestors 'self'" // a browser's own reader does not run in a sandbox
	}
	return out, nil
}

// titles say what a paper is by its name, or by the beginning of its name.
var titles = []struct{ begins, title string }{
	{"quotation", "Quotation"},
	{"set-up", "Set-up sheet"},
	{"acceptance", "Acceptance"},
	{"risk-notes", "Notes for the risk assessment"},
	{"survey", "Sheet for a site visit"},
	{"internal-costs", "Internal costs"},
	{"lists", "All lists"},
	{"list-", "List"},
	{"drawings", "All drawings"},
	{"drawing-", "Drawing"},
	{"station-", "Model in space"},
	{"fonts-licence", "Licence of the fonts"},
}

// titleOf says what a paper is: a list of parts, the drawing of a station.
func titleOf(name string) string {
	base := strings.TrimSuffix(name, path.Ext(name))
	for _, t := range titles {
		rest, ok := strings.CutPrefix(base, t.begins)
		switch {
		case !ok:
		case rest == "":
			return t.title
		case strings.HasSuffix(t.begins, "-"):
			return t.title + ": " + strings.ReplaceAll(rest, "-", " ")
		}
	}
	return base
}
