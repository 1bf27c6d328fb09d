package web_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"leste/web"
)

// A desk is a server over a folder of its own, with a client that holds every answer against the description.
type desk struct {
	*testing.T
	url    string
	folder string
	ops    map[string]op
	schema *schemas

	mu   sync.Mutex
	seen map[string]bool // "operation status"
}

type op struct {
	method, path string
	responses    map[string]any
}

// schemas compiles parts of the description, each once.
type schemas struct {
	mu       sync.Mutex
	compiler *jsonschema.Compiler
	compiled map[string]*jsonschema.Schema
}

func (s *schemas) at(t *testing.T, pointer string) *jsonschema.Schema {
	s.mu.Lock()
	defer s.mu.Unlock()
	if c := s.compiled[pointer]; c != nil {
		return c
	}
	c, err := s.compiler.Compile("openapi.json#" + pointer)
	if err != nil {
		t.Fatal(err)
	}
	s.compiled[pointer] = c
	return c
}

// openDesk serves a folder that holds copies of some examples.
func openDesk(t *testing.T, examples ...string) *desk {
	t.Helper()
	folder := t.TempDir()
	for _, name := range examples {
		text, err := os.ReadFile(filepath.Join("..", "examples", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return serve(t, folder, folder)
}

func serve(t *testing.T, target, folder string) *desk {
	t.Helper()
	s, err := web.Open(t.Context(), web.Options{Target: target, Port: -1, Version: "test", Cold: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	d := &desk{T: t, url: strings.TrimSuffix(s.URL, "/"), folder: folder, ops: map[string]op{}, seen: map[string]bool{}}
	text, err := os.ReadFile("openapi.json")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Paths map[string]map[string]struct {
			OperationID string         `json:"operationId"`
			Responses   map[string]any `json:"responses"`
		} `json:"paths"`
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	for path, methods := range doc.Paths {
		for method, o := range methods {
			d.ops[o.OperationID] = op{strings.ToUpper(method), path, o.Responses}
		}
	}
	whole, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("openapi.json", whole); err != nil {
		t.Fatal(err)
	}
	d.schema = &schemas{compiler: c, compiled: map[string]*jsonschema.Schema{}}
	return d
}

// A call is one request to an operation. Parameters of the path, "If-Match" and the rest of the query go by name.
type call struct {
	op     string
	params map[string]string
	body   any    // marshalled; a string goes as it is
	kind   string // media type of the body; "" is JSON
}

type reply struct {
	status int
	header http.Header
	body   []byte
	doc    map[string]any // of a JSON object
}

// do makes a request and holds its answer against the description.
func (d *desk) do(ctx context.Context, c call) reply {
	d.Helper()
	o, ok := d.ops[c.op]
	if !ok {
		d.Fatalf("no operation %s", c.op)
	}
	path, query, match := o.path, url.Values{}, ""
	for _, k := range slices.Sorted(maps.Keys(c.params)) {
		switch {
		case strings.Contains(path, "{"+k+"}"):
			path = strings.ReplaceAll(path, "{"+k+"}", url.PathEscape(c.params[k]))
		case k == "If-Match":
			match = c.params[k]
		default:
			query.Set(k, c.params[k])
		}
	}
	var body io.Reader
	switch b := c.body.(type) {
	case nil:
	case string:
		body = strings.NewReader(b)
	default:
		text, err := json.Marshal(b)
		if err != nil {
			d.Fatal(err)
		}
		body = bytes.NewReader(text)
	}
	r, err := http.NewRequestWithContext(ctx, o.method, d.url+path+"?"+query.Encode(), body)
	if err != nil {
		d.Fatal(err)
	}
	if body != nil {
		r.Header.Set("Content-Type", cmp.Or(c.kind, "application/json"))
	}
	if match != "" {
		r.Header.Set("If-Match", match)
	}
	return d.send(r, c.op, o)
}

func (d *desk) send(r *http.Request, name string, o op) reply {
	d.Helper()
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		if r.Context().Err() != nil {
			return reply{}
		}
		d.Fatal(err)
	}
	text, err := io.ReadAll(resp.Body)
	if err = joined(err, resp.Body.Close()); err != nil {
		d.Fatal(err)
	}
	out := reply{status: resp.StatusCode, header: resp.Header, body: text}
	code := fmt.Sprint(resp.StatusCode)
	described, ok := o.responses[code]
	if !ok {
		d.Errorf("%s answered %s, which it does not describe: %s", name, code, clip(text))
		return out
	}
	d.mu.Lock()
	d.seen[name+" "+code] = true
	d.mu.Unlock()
	content, _ := described.(map[string]any)["content"].(map[string]any)
	kind, _, _ := strings.Cut(resp.Header.Get("Content-Type"), ";")
	if _, ok := content[kind]; !ok {
		if len(content) == 0 && len(text) == 0 || content["application/octet-stream"] != nil {
			return out
		}
		d.Errorf("%s %s answered %q, described are %v", name, code, kind, content)
		return out
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		d.Errorf("%s %s: %v in %s", name, code, err, clip(text))
		return out
	}
	escape := strings.NewReplacer("~", "~0", "/", "~1", "{", "%7B", "}", "%7D", "+", "%2B").Replace
	pointer := "/paths/" + escape(o.path) + "/" + strings.ToLower(o.method) + "/responses/" + code + "/content/" + escape(kind) + "/schema"
	if err := d.schema.at(d.T, pointer).Validate(value); err != nil {
		d.Errorf("%s %s is not as it is described: %v", name, code, err)
	}
	if err := json.Unmarshal(text, &out.doc); err != nil {
		d.Errorf("%s %s is no object: %v", name, code, err)
	}
	return out
}

func joined(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

func clip(b []byte) string { return string(b[:min(len(b), 300)]) }

// want makes a request that must answer with a status.
func (d *desk) want(status int, c call) reply {
	d.Helper()
	r := d.do(d.Context(), c)
	if r.status != status {
		d.Errorf("%s %v answered %d, not %d: %s", c.op, c.params, r.status, status, clip(r.body))
	}
	return r
}

// fault is want for a status that must come with a code and a sentence.
func (d *desk) fault(status int, code string, c call) reply {
	d.Helper()
	r := d.want(status, c)
	if r.doc["code"] != code || r.doc["text"] == "" {
		d.Errorf("%s %v: %v", c.op, c.params, string(r.body))
	}
	return r
}

func (d *desk) revision(job string) string {
	d.Helper()
	r, _ := d.want(http.StatusOK, call{op: "readJob", params: map[string]string{"job": job}}).doc["revision"].(string)
	return r
}

func (d *desk) file(name string) string {
	d.Helper()
	text, err := os.ReadFile(filepath.Join(d.folder, name))
	if err != nil {
		d.Fatal(err)
	}
	return string(text)
}

func set(path, value string) map[string]any {
	return map[string]any{"op": "set", "path": path, "value": value}
}

func step(name string, edits ...map[string]any) map[string]any {
	return map[string]any{"step": name, "edits": edits}
}
