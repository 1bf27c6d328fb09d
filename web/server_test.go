package web_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"log"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leste/web"
)

func TestLawOnlyThisMachineAndItsOwnPagesAreAnswered(t *testing.T) {
	d := openDesk(t, airOnly)
	for _, c := range []struct {
		name   string
		method string
		path   string
		host   string
		header map[string]string
		want   int
	}{
		{"a program on this machine", "GET", "/api/about", "", nil, 200},
		{"by name", "GET", "/api/about", "localhost:1", nil, 200},
		{"by another loopback address", "GET", "/api/about", "127.0.0.9", nil, 200},
		{"by the newer address", "GET", "/api/about", "[::1]:80", nil, 200},
		{"a name that points here", "GET", "/api/about", "desk.example", nil, 421},
		{"an address of the network", "GET", "/api/about", "192.0.2.7:80", nil, 421},
		{"no name", "GET", "/", " ", nil, 421},
		{"its own page", "POST", "/api/questions/air", "", map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		{"a page of another site", "POST", "/api/questions/air", "", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"an old browser, another site", "POST", "/api/questions/air", "", map[string]string{"Origin": "https://other.example"}, 403},
		{"another port of this machine", "POST", "/api/questions/air", "", map[string]string{"Origin": "http://127.0.0.1:1"}, 403},
		{"another site reads", "GET", "/api/jobs", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, 403},
		{"another site frames", "GET", "/", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}, 403},
		{"another site leads to an operation", "GET", "/api/jobs", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, 403},
		{"no operation", "GET", "/api/nothing", "", nil, 404},
		{"not that way", "DELETE", "/api/about", "", nil, 405},
		{"a page that is written to", "PUT", "/", "", nil, 405},
		{"no file", "GET", "/assets/nothing.js", "", nil, 404},
		{"out of the folder", "GET", "/../server.go", "", nil, 404},
		{"the description", "GET", "/api/openapi.json", "", nil, 200},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := http.NewRequestWithContext(t.Context(), c.method, d.url+c.path, strings.NewReader(`{"inputs":{}}`))
			if err != nil {
				t.Fatal(err)
			}
			if c.host != "" {
				r.Host = c.host
			}
			r.Header.Set("Content-Type", "application/json")
			for k, v := range c.header {
				r.Header.Set(k, v)
			}
			resp, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			body, err := io.ReadAll(resp.Body)
			if err = errors.Join(err, resp.Body.Close()); err != nil {
				t.Fatal(err)
			}
			if resp.StatusCode != c.want {
				t.Errorf("%d, not %d: %s", resp.StatusCode, c.want, body)
			}
			h := resp.Header
			if !strings.Contains(h.Get("Content-Security-Policy"), "default-src 'none'") || h.Get("X-Content-Type-Options") != "nosniff" ||
				h.Get("Access-Control-Allow-Origin") != "" || strings.Contains(h.Get("Content-Security-Policy"), "unsafe") {
				t.Errorf("headers %v", h)
			}
			if c.want >= http.StatusBadRequest && !strings.Contains(string(body), `"text":"`) {
				t.Errorf("no sentence says why: %s", body)
			}
		})
	}
}

func TestLawAnAddressOfTheNetworkMustBeAllowed(t *testing.T) {
	folder := t.TempDir()
	for _, address := range []string{"0.0.0.0", "::", "192.0.2.7", "desk.example"} {
		if s, err := web.Open(t.Context(), web.Options{Target: folder, Listen: address, Port: -1}); !errors.Is(err, web.ErrReachable) {
			t.Errorf("%s: %v", address, errors.Join(err, s.Close()))
		}
	}
	s, err := web.Open(t.Context(), web.Options{Target: folder, Listen: "0.0.0.0", Port: -1, Network: true, Cold: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close() //nolint:errcheck // the test is over
	if !strings.HasPrefix(s.URL, "http://127.0.0.1:") {
		t.Errorf("a browser cannot open %s", s.URL)
	}
	if _, err := web.Open(t.Context(), web.Options{Target: filepath.Join(folder, "none")}); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
}

func TestLawTheDeskClosesWhileAnswersAreCalculatedAndStreamsAreOpen(t *testing.T) {
	folder := t.TempDir()
	text, err := os.ReadFile("../examples/" + can)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, can), text, 0o600); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	s, err := web.Open(t.Context(), web.Options{Target: filepath.Join(folder, can), Port: -1, Log: log.New(&said, "", 0)})
	if err != nil {
		t.Fatal(err)
	}
	ctx, interrupt := context.WithCancel(t.Context())
	waits := make(chan error)
	go func() { waits <- s.Wait(ctx) }()
	for _, path := range []string{"/answer?depth=whole", "/events"} {
		go func() {
			r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+"api/jobs/"+can+path, nil)
			if err != nil {
				return
			}
			if resp, err := http.DefaultClient.Do(r); err == nil {
				_, _ = io.Copy(io.Discard, resp.Body)
				_ = resp.Body.Close()
			}
		}()
	}
	time.Sleep(200 * time.Millisecond)
	interrupt()
	select {
	case err := <-waits:
		if err != nil || said.Len() > 0 {
			t.Errorf("%v, said %q", err, said.String())
		}
	case <-time.After(20 * time.Second):
		t.Fatal("the desk does not close")
	}
	if after, err := os.ReadFile(filepath.Join(folder, can)); err != nil || !bytes.Equal(after, text) {
		t.Errorf("the file has changed: %v", err)
	}
}
