package main

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// tellsURL is standard output of a server; it hands on the address as soon as it is printed whole.
type tellsURL struct {
	text string
	url  chan string
}

func (w *tellsURL) Write(b []byte) (int, error) {
	w.text += string(b)
	var doc struct {
		URL string `json:"url"`
	}
	if json.Unmarshal([]byte(w.text), &doc) == nil {
		w.url <- doc.URL
	}
	return len(b), nil
}

func TestLawServeAnswersUntilItIsInterrupted(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	defer interrupt()
	out := &tellsURL{url: make(chan string, 1)}
	var said strings.Builder
	p := &program{in: strings.NewReader(""), out: out, errors: &said, width: usualWidth}
	code := make(chan int)
	go func() { code <- p.run(ctx, []string{"serve", t.TempDir(), "--no-browser", "--json"}) }()
	select {
	case url := <-out.url:
		resp, err := http.Get(url + "api/about")
		if err != nil {
			t.Fatal(err)
		}
		var about struct {
			Demo string `json:"demo"`
		}
		if err := json.NewDecoder(resp.Body).Decode(&about); err != nil || about.Demo == "" {
			t.Errorf("%+v, %v", about, err)
		}
		if err := resp.Body.Close(); err != nil {
			t.Error(err)
		}
	case c := <-code:
		t.Fatalf("ended with %d: %s", c, said.String())
	case <-time.After(20 * time.Second):
		t.Fatal("no address was printed")
	}
	interrupt()
	select {
	case c := <-code:
		if c != exitDone || said.Len() > 0 {
			t.Errorf("code %d, said %q", c, said.String())
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it does not end")
	}
}

func TestLawServeSaysWhatIsWrongWithItsFlags(t *testing.T) {
	folder := t.TempDir()
	unreadable := filepath.Join(folder, "none.yaml")
	var c net.ListenConfig
	l, err := c.Listen(t.Context(), "tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close() //nolint:errcheck // the test is over
	_, taken, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{unreadable}, "none.yaml"},
		{[]string{folder, "--listen", "0.0.0.0"}, "--network"},
		{[]string{folder, "--port", "70000"}, "no port 70000"},
		{[]string{folder, "--port", taken}, taken},
	} {
		o := run(t, append([]string{"serve", "--no-browser"}, c.args...)...)
		if o.code != exitInput || !strings.Contains(o.errors, c.want) || o.out != "" {
			t.Errorf("%v: %+v", c.args, o)
		}
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) > 0 {
		t.Errorf("%v was written, %v", entries, err)
	}
}

// The desk opened in SI whatever --units said.
func TestLawTheDeskOpensInTheUnitsAskedFor(t *testing.T) {
	for units, want := range map[string]string{"si": "http://127.0.0.1:1/", "us": "http://127.0.0.1:1/?units=us"} {
		if got := deskAt("http://127.0.0.1:1/", units); got != want {
			t.Errorf("in %s it is at %s", units, got)
		}
		var out strings.Builder
		p := &program{out: &out, options: &options{Units: units}}
		if err := (serveCommand{}).tell(p, "http://127.0.0.1:1/", deskAt("http://127.0.0.1:1/", units)); err != nil || !strings.Contains(out.String(), " "+want+" ") {
			t.Errorf("%q, %v", out.String(), err)
		}
	}
}
