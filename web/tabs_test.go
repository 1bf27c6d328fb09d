package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	leste "leste"
	"leste/job"
	"leste/render/asjson"
)

func TestLawTwoTabsDoNotOverwriteEachOther(t *testing.T) {
	d := openDesk(t, can)
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	heard := d.listen(ctx, can)
	<-heard // the job as it is
	base := d.revision(can)
	edit := func(tab, value, base string) reply {
		return d.do(ctx, call{op: "editJob", params: map[string]string{"job": can, "tab": tab, "If-Match": base}, body: step("Move by "+tab, set(height, value))})
	}
	one := edit("one", "70 mm", base)
	two := edit("two", "90 mm", base)
	if one.status != http.StatusOK || two.status != http.StatusConflict {
		t.Fatalf("%d and %d", one.status, two.status)
	}
	if !strings.Contains(d.file(can), "height: 70 mm") || strings.Contains(d.file(can), "height: 90 mm") {
		t.Error("the second tab overwrote the first")
	}
	// The refusal brings what the other tab made of the job, so that nothing has to be asked for again.
	now, _ := two.doc["job"].(map[string]any)
	if now["revision"] != one.doc["revision"] || now["undo"] != "Move by one" {
		t.Errorf("%v", now)
	}
	if e := <-heard; e.name != "changed" || e.data["tab"] != "one" || e.data["step"] != "Move by one" {
		t.Errorf("%+v", e)
	}
	if again := edit("two", "90 mm", fmt.Sprint(now["revision"])); again.status != http.StatusOK {
		t.Errorf("%d", again.status)
	}
}

func TestLawAChangeOnDiskIsSeenAndNeitherSideIsLost(t *testing.T) {
	for _, keep := range []string{"file", "desk"} {
		t.Run(keep, func(t *testing.T) {
			d := openDesk(t, can)
			ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
			defer cancel()
			heard := d.listen(ctx, can)
			<-heard
			edit := func() reply {
				return d.do(ctx, call{op: "editJob", params: map[string]string{"job": can, "If-Match": d.revision(can)}, body: step("Move", set(height, "70 mm"))})
			}
			if r := edit(); r.status != http.StatusOK {
				t.Fatal(string(r.body))
			}
			<-heard
			mine := d.file(can)
			theirs := mine + "# written by somebody else\n"
			if err := os.WriteFile(filepath.Join(d.folder, can), []byte(theirs), 0o600); err != nil {
				t.Fatal(err)
			}
			if e := <-heard; e.data["disk"] != "changed" {
				t.Errorf("%+v", e)
			}
			r := d.fault(http.StatusConflict, "disk", call{op: "editJob", params: map[string]string{"job": can, "If-Match": d.revision(can)}, body: step("Move", set(height, "75 mm"))})
			if r.doc["disk_text"] != theirs {
				t.Error("the refusal does not bring the file's text")
			}
			d.want(http.StatusOK, call{op: "settle", params: map[string]string{"job": can, "If-Match": d.revision(can)}, body: map[string]any{"keep": keep}})
			stays, goes := theirs, mine
			if keep == "desk" {
				stays, goes = mine, theirs
			}
			if d.file(can) != stays {
				t.Error("the wrong text stays")
			}
			d.want(http.StatusOK, call{op: "undo", params: map[string]string{"job": can, "If-Match": d.revision(can)}})
			if d.file(can) != goes {
				t.Error("undo does not bring the other text back")
			}
		})
	}
}

// Fifty people drag an outlet of the same job at once: every trial that is answered is answered right, one that a
// newer one of the same tab overtook says so, and the job stays as it was.
func TestLawFiftyClientsDragAtOnce(t *testing.T) {
	d := openDesk(t)
	d.add(small, smallJob)
	const clients, drags = 50, 3
	base := d.revision(small)
	want := map[string]string{}
	for k := range drags {
		at := fmt.Sprintf("%d mm", 10+2*k)
		r := d.want(http.StatusOK, call{op: "tryEdits", params: map[string]string{"job": small, "tab": "alone"}, body: trial(at)})
		want[at] = left(r)
	}
	var wg sync.WaitGroup
	var mu sync.Mutex
	answered, overtaken := 0, 0
	for c := range clients {
		wg.Go(func() {
			var mine sync.WaitGroup
			for k := range drags {
				at := fmt.Sprintf("%d mm", 10+2*((k+c)%drags))
				mine.Go(func() {
					r := d.do(t.Context(), call{op: "tryEdits", params: map[string]string{"job": small, "tab": fmt.Sprint("tab-", c)}, body: trial(at)})
					mu.Lock()
					defer mu.Unlock()
					switch {
					case r.status == http.StatusOK && left(r) == want[at]:
						answered++
					case r.status == http.StatusConflict && r.doc["code"] == "stale":
						overtaken++
					default:
						t.Errorf("client %d at %s: %d %s, alone %s", c, at, r.status, left(r), want[at])
					}
				})
			}
			mine.Wait()
		})
	}
	wg.Wait()
	if answered < clients || answered+overtaken != clients*drags {
		t.Errorf("%d answered, %d overtaken", answered, overtaken)
	}
	if d.revision(small) != base {
		t.Error("trials changed the job")
	}
}

func trial(at string) map[string]any { return map[string]any{"edits": []any{set(height, at)}} }

// left is the water of a trial's answer as it is written.
func left(r reply) string {
	var doc struct {
		Answer struct {
			Result struct {
				Formats []struct {
					Container json.RawMessage `json:"container_mg"`
				} `json:"formats"`
			} `json:"result"`
		} `json:"answer"`
	}
	if json.Unmarshal(r.body, &doc) != nil || len(doc.Answer.Result.Formats) == 0 {
		return ""
	}
	return string(doc.Answer.Result.Formats[0].Container)
}

// The desk shows the numbers that the command prints: the same document, letter by letter.
func TestLawTheDeskAnswersAsTheCommandDoes(t *testing.T) {
	d := openDesk(t, airOnly, can)
	for name, depth := range map[string]string{airOnly: "whole", can: "quick"} {
		f, problems := job.Load(name, []byte(d.file(name)))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		o := leste.Options{}
		if depth == "quick" {
			o = leste.Options{Method: "quick", Nominal: true, NoRanking: true}
		}
		r, err := leste.Assess(t.Context(), f.Job, o)
		if err != nil {
			t.Fatal(err)
		}
		printed, err := asjson.Result(r)
		if err != nil {
			t.Fatal(err)
		}
		var want, got bytes.Buffer
		if err := json.Compact(&want, printed); err != nil {
			t.Fatal(err)
		}
		var answer struct {
			Result json.RawMessage `json:"result"`
		}
		a := d.want(http.StatusOK, call{op: "answer", params: map[string]string{"job": name, "depth": depth}})
		if err := json.Unmarshal(a.body, &answer); err != nil {
			t.Fatal(err)
		}
		if err := json.Compact(&got, answer.Result); err != nil {
			t.Fatal(err)
		}
		if want.String() != got.String() {
			t.Errorf("%s: the desk answers %.200s, the command prints %.200s", name, got.String(), want.String())
		}
	}
}

// The desk wrote millimetres into jobs in inches.
func TestLawTheDeskKnowsTheUnitsOfAFile(t *testing.T) {
	d := openDesk(t, can)
	inches := strings.ReplaceAll(smallJob, " mm", " in")
	for name, text := range map[string]string{"us": inches, "si": smallJob} {
		d.add(name+".yaml", text)
		if got := d.want(http.StatusOK, call{op: "readJob", params: map[string]string{"job": name + ".yaml"}}).doc["units"]; got != name {
			t.Errorf("a job in %s is in %v", name, got)
		}
	}
}
