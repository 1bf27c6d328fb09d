package web_test

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"leste/web/api"
)

const (
	can     = "can-330-sidewall.yaml"
	airOnly = "air-side-only.yaml"
	height  = "/stations/0/outlets/0/height"
)

func TestFrozenTheDescriptionIsTheProgramsOwn(t *testing.T) {
	kept, err := os.ReadFile("openapi.json")
	if err != nil {
		t.Fatal(err)
	}
	now, err := api.Document()
	if err != nil {
		t.Fatal(err)
	}
	if string(kept) != string(now) {
		t.Error("openapi.json is not what the program describes: run go generate ./web/...")
	}
}

// Every operation answers with every status that it describes, in the form that it describes; only 500 needs a
// fault of the program.
func TestLawEveryOperationAnswersAsDescribed(t *testing.T) {
	d := openDesk(t, can, airOnly)
	d.add(small, smallJob)
	of := func(job string, more ...string) map[string]string {
		out := map[string]string{"job": job, "tab": "tab-1"}
		for i := 0; i < len(more); i += 2 {
			out[more[i]] = more[i+1]
		}
		return out
	}
	d.broken(of(can, "If-Match", "x"))
	big := `{"text":"` + strings.Repeat("x", 5<<20) + `"}`
	long := strings.Repeat("x", 300)

	d.want(200, call{op: "about"})
	list := d.want(200, call{op: "listJobs"})
	if jobs, _ := list.doc["jobs"].([]any); len(jobs) != 4 { // three files and the demonstration
		t.Errorf("%d jobs: %s", len(jobs), list.body)
	}
	for _, book := range []string{"form", "families", "questions", "relations"} {
		d.want(200, call{op: book})
	}

	// Questions.
	d.want(200, call{op: "ask", params: map[string]string{"topic": "air"}, body: map[string]any{"inputs": map[string]string{"temperature": "20 degC"}}})
	d.fault(404, "not found", call{op: "ask", params: map[string]string{"topic": "weather"}, body: map[string]any{"inputs": map[string]string{}}})
	bad := d.fault(422, "problems", call{op: "ask", params: map[string]string{"topic": "air"}, body: map[string]any{"inputs": map[string]string{"temperature": "20 m"}}})
	if text, _ := bad.doc["text"].(string); !strings.Contains(text, "temperature is needed") {
		t.Errorf("%s", bad.body)
	}
	d.want(413, call{op: "ask", params: map[string]string{"topic": "air"}, body: big})

	// Unknown and impossible jobs.
	for _, name := range []string{"readJob", "readText", "answer", "scene", "wall", "pass", "air", "options", "readSearch", "stopSearch", "stopAnswer", "listPapers", "events"} {
		d.fault(404, "not found", call{op: name, params: of("none.yaml")})
		d.want(422, call{op: name, params: of(can, "tab", "no word!")})
	}
	d.want(422, call{op: "readJob", params: of(long)})
	for name, body := range map[string]any{
		"editJob": step("a", set(height, "70 mm")), "writeText": map[string]any{"text": "leste: 1"}, "undo": nil, "redo": nil,
		"settle": map[string]any{"keep": "desk"}, "adopt": map[string]any{"concept": "x"}, "takeOption": map[string]any{"option": 0},
	} {
		d.fault(404, "not found", call{op: name, params: of("../etc/passwd", "If-Match", `"1"`), body: body})
		d.want(422, call{op: name, params: of(can), body: body}) // without a revision
	}
	for name, body := range map[string]any{
		"tryEdits": map[string]any{"edits": []any{set(height, "70 mm")}}, "startSearch": map[string]any{}, "writePapers": map[string]any{},
	} {
		d.fault(404, "not found", call{op: name, params: of("none.yaml"), body: body})
		d.fault(422, "request", call{op: name, params: of(can), body: `{"edits": 1, "budget": -1, "units": "feet"}`})
		d.want(413, call{op: name, params: of(can), body: big})
	}

	// Beginning jobs.
	d.want(201, call{op: "createJob", body: map[string]any{"id": "new.yaml"}})
	asked := d.want(201, call{op: "createJob", body: map[string]any{"id": "asked.yaml", "enquiry": map[string]any{
		"family": "PET bottle", "size": "500", "rate": "300 /min", "looks": "streaming", "machine": "camera", "says": "0.1 % rejects at the closure",
	}}})
	if p, _ := asked.doc["problems"].([]any); len(p) != 0 || !strings.Contains(d.file("asked.yaml"), "not known") || !strings.Contains(d.file("asked.yaml"), "name: PET bottle 500") {
		t.Errorf("%v\n%s", p, d.file("asked.yaml"))
	}
	d.fault(409, "name", call{op: "createJob", body: map[string]any{"id": "new.yaml"}})
	d.fault(422, "name", call{op: "createJob", body: map[string]any{"id": "../new.yaml"}})
	d.fault(422, "problems", call{op: "createJob", body: map[string]any{"id": "b.yaml", "enquiry": map[string]any{"family": "teapot"}}})
	d.fault(422, "problems", call{op: "createJob", body: map[string]any{"id": "b.yaml", "enquiry": map[string]any{"family": "can", "rate": "fast"}}})
	d.fault(422, "request", call{op: "createJob", body: map[string]any{"id": "b.yaml", "text": "leste: 1", "enquiry": map[string]any{"family": "can"}}})
	d.want(413, call{op: "createJob", body: big})

	// Reading and changing.
	first := d.want(200, call{op: "readJob", params: of(can)})
	if tag := first.header.Get("ETag"); tag != `"`+d.revision(can)+`"` {
		t.Errorf("tag %s", tag)
	}
	d.want(200, call{op: "readText", params: of(can)})
	old := d.revision(can)
	d.want(200, call{op: "editJob", params: of(can, "If-Match", `"`+old+`"`), body: step("Raise left knife", set(height, "70 mm"))})
	d.fault(409, "revision", call{op: "editJob", params: of(can, "If-Match", old), body: step("Raise it", set(height, "75 mm"))})
	for _, wrong := range []map[string]any{set(height, "high"), set("/nowhere", "1"), {"op": "add", "path": "/job", "entry": map[string]any{"a": "b"}}, {"op": "remove", "path": "/x"}} {
		d.want(422, call{op: "editJob", params: of(can, "If-Match", d.revision(can)), body: step("Wrong", wrong)})
	}
	d.fault(422, "request", call{op: "editJob", params: of(can, "If-Match", d.revision(can)), body: `{"step":"x","edits":[{"op":"burn","path":"/"}],"more":1}`})
	d.want(413, call{op: "editJob", params: of(can, "If-Match", d.revision(can)), body: big})
	if !strings.Contains(d.file(can), "height: 70 mm") {
		t.Error("the edit is not in the file")
	}
	d.want(200, call{op: "undo", params: of(can, "If-Match", d.revision(can))})
	d.fault(409, "nothing", call{op: "undo", params: of(can, "If-Match", d.revision(can))})
	d.want(200, call{op: "redo", params: of(can, "If-Match", d.revision(can))})
	d.fault(409, "nothing", call{op: "redo", params: of(can, "If-Match", d.revision(can))})
	text := d.file(can)
	d.want(200, call{op: "writeText", params: of(can, "If-Match", d.revision(can)), body: map[string]any{"text": text + "# end\n"}})
	d.fault(409, "revision", call{op: "writeText", params: of(can, "If-Match", old), body: map[string]any{"text": text}})
	d.want(413, call{op: "writeText", params: of(can, "If-Match", d.revision(can)), body: big})
	d.want(413, call{op: "settle", params: of(can, "If-Match", d.revision(can)), body: big})
	d.want(200, call{op: "settle", params: of(can, "If-Match", d.revision(can)), body: map[string]any{"keep": "desk"}})
	d.fault(409, "revision", call{op: "settle", params: of(can, "If-Match", old), body: map[string]any{"keep": "file"}})

	// Answers and views.
	for _, c := range []call{
		{op: "answer", params: of(small)},
		{op: "answer", params: of(small, "depth", "transport")},
		{op: "scene", params: of(small)},
		{op: "wall", params: of(small)},
		{op: "wall", params: of(small, "depth", "transport", "format", "small can")},
		{op: "pass", params: of(small)},
		{op: "air", params: of(can)},
		{op: "air", params: of(airOnly)},
		{op: "answer", params: of(airOnly)},
		{op: "scene", params: of(airOnly)},
		{op: "options", params: of(small)},
		{op: "tryEdits", params: of(small), body: map[string]any{"wall": true, "edits": []any{set(height, "90 mm")}}},
		{op: "tryEdits", params: of(small), body: map[string]any{"edits": []any{set("/stations/0/outlets/0/stand_off", "-200 mm")}}},
	} {
		d.want(200, c)
	}
	d.fault(404, "not found", call{op: "wall", params: of(small, "format", "no such")})
	d.add("two.yaml", smallJob+"options:\n  - name: closer\n    stations:\n      - {name: only, state: as found, outlets: [{name: knife, kind: air knife, side: left, height: 18 mm, stand_off: 20 mm, length: 60 mm, slot_gap: 1 mm, plenum_pressure: 5 kPa}]}\n")
	table := d.want(200, call{op: "options", params: of("two.yaml")})
	if rows, _ := table.doc["rows"].([]any); len(rows) != 2 || rows[1].(map[string]any)["path"] != "/options/0" || rows[1].(map[string]any)["verdict"] == nil {
		t.Errorf("%s", table.body)
	}
	d.fault(409, "nothing", call{op: "takeOption", params: of("two.yaml", "If-Match", d.revision("two.yaml")), body: map[string]any{"option": 1}})
	taken := d.want(200, call{op: "takeOption", params: of("two.yaml", "If-Match", d.revision("two.yaml")), body: map[string]any{"option": 0}})
	if text := d.file("two.yaml"); taken.doc["undo"] != "Take closer as the job" || strings.Count(text, "20 mm") != 2 || !strings.Contains(text, "# invented") {
		t.Errorf("%v\n%s", taken.doc["undo"], text)
	}
	d.add("air.yaml", smallJob+"options:\n  - name: other air\n    air_supply: {filter: {class: ISO ePM1 50 %}}\n")
	kept := d.want(200, call{op: "takeOption", params: of("air.yaml", "If-Match", d.revision("air.yaml")), body: map[string]any{"option": 0}})
	if text := d.file("air.yaml"); kept.doc["undo"] != "Take other air as the job" || !strings.Contains(text, "\nstations:") || strings.Count(text, "ePM1") != 2 {
		t.Errorf("%v\n%s", kept.doc["undo"], text)
	}
	d.want(413, call{op: "takeOption", params: of(small, "If-Match", "x"), body: big})
	d.fault(422, "problems", call{op: "tryEdits", params: of(small), body: map[string]any{"edits": []any{set(height, "high")}}})
	d.fault(422, "request", call{op: "answer", params: of(small, "depth", "deep")})
	d.fault(422, "request", call{op: "answer", params: of(small, "deepness", "quick")})
	d.fault(409, "nothing", call{op: "stopAnswer", params: of(small, "depth", "whole")})

	// A job with problems.
	d.want(201, call{op: "createJob", body: map[string]any{"id": "odd.yaml", "text": "leste: 1\njob: odd\nline: {rate: fast}\n"}})
	for _, name := range []string{"answer", "scene", "wall", "pass", "air", "options"} {
		d.fault(422, "problems", call{op: name, params: of("odd.yaml")})
	}
	d.fault(422, "problems", call{op: "startSearch", params: of("odd.yaml"), body: map[string]any{}})
	d.fault(422, "problems", call{op: "writePapers", params: of("odd.yaml"), body: map[string]any{}})

	// An edit ends what is calculated for the job as it was.
	stale := []string{"answer", "wall", "pass", "writePapers"}
	for _, name := range stale {
		c := call{op: name, params: of(can)}
		switch name {
		case "answer", "wall":
			c.params["depth"] = "whole"
		case "writePapers":
			c.body = map[string]any{}
		}
		done := make(chan reply)
		go func() { done <- d.do(d.Context(), c) }()
		time.Sleep(150 * time.Millisecond)
		now := d.revision(can)
		next := map[bool]string{true: "71 mm", false: "72 mm"}[strings.Contains(d.file(can), "height: 72 mm")]
		d.want(200, call{op: "editJob", params: of(can, "If-Match", now), body: step("Move", set(height, next))})
		if r := <-done; r.status != 409 || r.doc["code"] != "stale" {
			t.Errorf("%s of a job that changed meanwhile: %d %s", name, r.status, clip(r.body))
		}
	}
	done := make(chan reply)
	go func() { done <- d.do(d.Context(), call{op: "answer", params: of(can, "depth", "whole")}) }()
	time.Sleep(150 * time.Millisecond)
	d.want(204, call{op: "stopAnswer", params: of(can, "depth", "whole")})
	<-done
	// A newer trial of the same tab ends the older one.
	older := make(chan reply)
	go func() {
		older <- d.do(d.Context(), call{op: "tryEdits", params: of(can), body: map[string]any{"depth": "transport", "edits": []any{set(height, "93 mm")}}})
	}()
	time.Sleep(100 * time.Millisecond)
	d.want(200, call{op: "tryEdits", params: of(can), body: map[string]any{"edits": []any{set(height, "94 mm")}}})
	if r := <-older; r.doc["code"] != "stale" {
		t.Errorf("an older trial answered %d %s", r.status, clip(r.body))
	}

	// Searching.
	d.fault(404, "nothing", call{op: "readSearch", params: of(small)})
	d.fault(409, "nothing", call{op: "stopSearch", params: of(small)})
	d.want(202, call{op: "startSearch", params: of(small), body: map[string]any{"budget": 5000}})
	d.fault(409, "running", call{op: "startSearch", params: of(small), body: map[string]any{}})
	d.fault(409, "nothing", call{op: "adopt", params: of(small, "If-Match", d.revision(small)), body: map[string]any{"concept": "none"}})
	for deadline := time.Now().Add(60 * time.Second); time.Now().Before(deadline); time.Sleep(50 * time.Millisecond) {
		if r := d.want(200, call{op: "readSearch", params: of(small)}); r.doc["judged"].(float64) > 0 {
			break
		}
	}
	stopped := d.want(200, call{op: "stopSearch", params: of(small)})
	if stopped.doc["state"] != "stopped" {
		t.Errorf("%s", clip(stopped.body))
	}
	if concepts, _ := stopped.doc["adopt"].([]any); len(concepts) > 0 {
		r := d.want(200, call{op: "adopt", params: of(small, "If-Match", d.revision(small)), body: map[string]any{"concept": concepts[0]}})
		if p, _ := r.doc["problems"].([]any); len(p) > 0 || !strings.Contains(d.file(small), "# invented") {
			t.Errorf("%v\n%s", p, d.file(small))
		}
	} else {
		t.Error("a search that was stopped has nothing to adopt")
	}
	d.want(413, call{op: "adopt", params: of(small, "If-Match", "x"), body: big})

	// Papers, of a job without containers: nothing has to be followed for it.
	d.fault(404, "nothing", call{op: "listPapers", params: of(airOnly)})
	d.fault(404, "nothing", call{op: "readPaper", params: of(airOnly, "paper", "quotation.pdf")})
	papers := d.want(200, call{op: "writePapers", params: of(airOnly), body: map[string]any{"units": "us", "language": "de"}})
	d.want(200, call{op: "listPapers", params: of(airOnly)})
	pdf := d.want(200, call{op: "readPaper", params: of(airOnly, "paper", "quotation.pdf", "download", "true")})
	if !strings.HasPrefix(string(pdf.body), "%PDF-") || !strings.Contains(pdf.header.Get("Content-Disposition"), "quotation.pdf") {
		t.Errorf("%s %s", clip(pdf.body), pdf.header)
	}
	page := d.want(200, call{op: "readPaper", params: of(airOnly, "paper", "quotation.html")})
	if got := page.header.Values("Content-Security-Policy"); len(got) != 1 || !strings.Contains(got[0], "sandbox") {
		t.Errorf("the policy of a paper is %q", got)
	}
	if n, _ := papers.doc["papers"].([]any); len(n) < 5 {
		t.Errorf("%s", clip(papers.body))
	}
	d.fault(404, "not found", call{op: "readPaper", params: of(airOnly, "paper", "nothing.pdf")})
	d.want(422, call{op: "readPaper", params: of(airOnly, "paper", long)})
	d.fault(422, "problems", call{op: "writePapers", params: of(airOnly), body: map[string]any{"terms": "items: 7"}})

	// Events begin with the job as it is.
	ctx, cancel := context.WithTimeout(d.Context(), 5*time.Second)
	defer cancel()
	stream := d.listen(ctx, can)
	if e := <-stream; e.name != "changed" || e.data["revision"] != d.revision(can) {
		t.Errorf("%+v", e)
	}
	d.seen["events 200"] = true

	var never []string
	for name, o := range d.ops {
		for status := range o.responses {
			if status != "500" && !d.seen[name+" "+status] {
				never = append(never, name+" "+status)
			}
		}
	}
	slices.Sort(never)
	if len(never) > 0 {
		t.Errorf("described, and never seen: %s", strings.Join(never, ", "))
	}
}

// broken sends every operation that takes a body one that is no JSON, and one of another type.
func (d *desk) broken(params map[string]string) {
	d.Helper()
	params["topic"] = "air"
	for name, o := range d.ops {
		if _, takes := o.responses["415"]; !takes {
			continue
		}
		mine := map[string]string{}
		for k, v := range params {
			if strings.Contains(o.path, "{"+k+"}") || k == "If-Match" {
				mine[k] = v
			}
		}
		d.fault(http.StatusBadRequest, "request", call{op: name, params: mine, body: `{"step": `})
		d.fault(http.StatusUnsupportedMediaType, "request", call{op: name, params: mine, body: "<a/>", kind: "text/xml"})
	}
}

type event struct {
	name string
	data map[string]any
}

// listen returns the events of a job until the context ends.
func (d *desk) listen(ctx context.Context, job string) <-chan event {
	d.Helper()
	out := make(chan event, 100)
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, d.url+"/api/jobs/"+job+"/events?tab=listener", nil)
	if err != nil {
		d.Fatal(err)
	}
	r.Header.Set("Accept-Encoding", "gzip")
	resp, err := (&http.Transport{}).RoundTrip(r)
	if err != nil || resp.StatusCode != http.StatusOK {
		d.Fatal(resp, err)
	}
	go func() {
		defer close(out)
		defer resp.Body.Close() //nolint:errcheck // it was only read
		readEvents(resp, func(name, data string) {
			e := event{name: name}
			if json.Unmarshal([]byte(data), &e.data) == nil {
				out <- e
			}
		})
	}()
	return out
}
