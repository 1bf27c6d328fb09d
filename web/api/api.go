package api

import (
	"encoding/json"
	"net/http"
	"reflect"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"leste/catalogue"
	"leste/web/answer"
	"leste/web/document"
)

// Options are what the operations work on.
type Options struct {
	Folder  *document.Folder
	Answers *answer.Keeper
	Parts   *catalogue.Parts // that jobs are answered with; nil is the generic set
	Version string           // of the program
	First   string           // the job that opens first, "" for the list
	Demo    string           // the demonstration, "" for none
	Now     func() time.Time // the date of papers; nil is the clock
	Closing <-chan struct{}  // closed when the server goes down, to end what streams; may be nil
}

// api holds what the operations share.
type api struct {
	Options
	papers shelf
}

// Register adds the operations to a mux, below /api, and returns their description.
func Register(mux *http.ServeMux, o Options) *huma.OpenAPI {
	useOwnErrors()
	c := huma.DefaultConfig("Leste desk", o.Version)
	c.Info.Description = "The desk of one person on one machine: jobs as files in a folder, their answers and drawings. " +
		"Lengths are mm, angles degrees, other quantities SI; every key names its unit. null is not known."
	c.CreateHooks = nil // they would write the address of the server into every answer
	c.DocsPath, c.SchemasPath, c.OpenAPIPath = "", "", ""
	c.RejectUnknownQueryParameters = true
	c.Components.Schemas = huma.NewMapRegistry("#/components/schemas/", schemaName)
	c.Formats = map[string]huma.Format{"application/json": huma.DefaultJSONFormat, "json": huma.DefaultJSONFormat}
	h := humago.New(mux, c)
	a := &api{Options: o}
	if a.Now == nil {
		a.Now = time.Now
	}
	a.aboutOperations(h)
	a.jobOperations(h)
	a.eventOperations(h)
	a.answerOperations(h)
	a.viewOperations(h)
	a.airOperations(h)
	a.searchOperations(h)
	a.paperOperations(h)
	a.bookOperations(h)
	nullable(h.OpenAPI().Components.Schemas)
	return h.OpenAPI()
}

// nullable lets what is a pointer to a thing of its own be null in the description, as it is in the answers.
func nullable(r huma.Registry) {
	for name, s := range r.Map() {
		t := r.TypeFromRef("#/components/schemas/" + name)
		if t == nil {
			continue
		}
		for i := range t.NumField() {
			key, _, optional := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			p := s.Properties[key]
			if t.Field(i).Type.Kind() == reflect.Pointer && p != nil && p.Ref != "" && !optional {
				s.Properties[key] = &huma.Schema{OneOf: []*huma.Schema{{Ref: p.Ref}, {Type: "null"}}, Description: p.Description}
			}
		}
	}
}

// Document writes the description of the operations.
func Document() ([]byte, error) {
	d := Register(http.NewServeMux(), Options{Version: "1"})
	b, err := json.MarshalIndent(d, "", "  ")
	return append(b, '\n'), err
}

// schemaName names a type in the description: by its package where that is not this one's own, so that a station of
// a drawing and a station of an answer are two.
func schemaName(t reflect.Type, hint string) string {
	name := huma.DefaultSchemaNamer(t, hint)
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if p := t.PkgPath(); t.Name() != "" && (strings.HasSuffix(p, "web/view") || strings.HasSuffix(p, "web/form")) {
		package_ := p[strings.LastIndexByte(p, '/')+1:]
		return strings.ToUpper(package_[:1]) + package_[1:] + name
	}
	return name
}

// operation describes one operation; errors are the states it may answer with beside success.
func operation(id, method, path, summary, tag string, errors ...int) huma.Operation {
	return huma.Operation{
		OperationID: id, Method: method, Path: "/api" + path, Summary: summary, Tags: []string{tag}, Errors: errors,
		MaxBodyBytes: mostBody,
	}
}

// mostBody is the size of a request's body [bytes]: the text of a job file written as JSON.
const mostBody = 4 << 20

var ownErrors sync.Once

// useOwnErrors gives every error of the library the form of Fault; lists are never null.
func useOwnErrors() {
	ownErrors.Do(func() {
		huma.DefaultArrayNullable = false
		huma.NewError = func(status int, text string, errs ...error) huma.StatusError { return newFault(status, text, errs) }
	})
}

// tags of the operations.
const (
	tagDesk   = "desk"
	tagJob    = "job"
	tagAnswer = "answer"
	tagView   = "view"
	tagSearch = "search"
	tagPapers = "papers"
	tagBooks  = "books"
)

// JobIn names the job of an operation, and the tab that asks.
type JobIn struct {
	Job string `path:"job" maxLength:"200" doc:"Name of the job's file."`
	Tab string `query:"tab" maxLength:"40" pattern:"^[A-Za-z0-9-]*$" doc:"A word of the caller's own that tells tabs apart."`
}

// ChangeIn is JobIn for an operation that changes the job.
type ChangeIn struct {
	JobIn
	IfMatch string `header:"If-Match" required:"true" maxLength:"80" doc:"Revision of the job that the change is meant for."`
}

func (c ChangeIn) base() document.Revision {
	return document.Revision(strings.Trim(strings.TrimPrefix(c.IfMatch, "W/"), `"`))
}

func (a *api) open(name string) (*document.Document, error) {
	d, err := a.Folder.Get(name)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	return d, nil
}

// sound returns the state of a job whose file has no problem.
func (a *api) sound(name string) (document.State, error) {
	d, err := a.open(name)
	if err != nil {
		return document.State{}, err
	}
	s := d.State()
	if len(s.Problems) > 0 {
		return s, faultOf(s.Problems, &s)
	}
	return s, nil
}
