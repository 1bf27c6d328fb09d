package main

import (
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const bareKnives = `leste: 1
job: bare
stations:
  - name: exit
    outlets:
      - { name: k1, kind: air knife, side: left, height: 120 mm, offset: 120 mm, length: 300 mm, slot_gap: 1.2 mm, plenum_pressure: 15 kPa }
      - { name: k2, kind: air knife, side: right, height: 120 mm, offset: 120 mm, length: 300 mm, slot_gap: 1.2 mm, plenum_pressure: 15 kPa }
`

const ownBlowers = `blowers:
  - part: mine
    kind: high-speed centrifugal
    price: 4000
    max_speed: 1.05
    points:
      - {flow: 200 m3/h, pressure: 26 kPa, power: 2.6 kW}
      - {flow: 400 m3/h, pressure: 24 kPa, power: 4.2 kW}
      - {flow: 800 m3/h, pressure: 17 kPa, power: 6.2 kW}
  - part: rising
    kind: fan
    points:
      - {flow: 200 m3/h, pressure: 20 kPa, power: 2.6 kW}
      - {flow: 400 m3/h, pressure: 24 kPa, power: 4.2 kW}
      - {flow: 800 m3/h, pressure: 17 kPa, power: 6.2 kW}
`

// A blower is chosen from the user's own list, each other one has its reason, and what is wrong in a list is located.
func TestLawOwnParts(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	jobFile, own := write("job.yaml", bareKnives), write("mine.yaml", ownBlowers)
	got := run(t, "assess", "--json", "--parts", own, jobFile)
	considered := got.document(t)["air_supply"].(map[string]any)["blowers_considered"].([]any)
	if len(considered) != 2 {
		t.Fatalf("%d blowers considered", len(considered))
	}
	first, second := considered[0].(map[string]any), considered[1].(map[string]any)
	if first["part"] != "mine" || first["rejected"] != nil || first["price"] != 4000.0 || !strings.Contains(second["rejected"].(string), "rising part") {
		t.Errorf("got %v and %v", first, second)
	}
	offer := filepath.Join(folder, "offer")
	if got := run(t, "quote", "--parts", own, "-o", offer, "--method", "quick", jobFile); got.code != exitDone {
		t.Fatalf("quote: code %d, %q", got.code, got.errors)
	}
	kept := filepath.Join(offer, keptName)
	for _, name := range []string{kept, filepath.Join(offer, "list-parts.csv")} {
		if data, err := os.ReadFile(name); err != nil || !strings.Contains(string(data), "mine") {
			t.Errorf("%s does not name the user's own blower: %v", name, err)
		}
	}
	if got := run(t, "quote", "--parts", own, "-o", offer, kept); got.code != exitInput || !strings.Contains(got.errors, "parts of its own offer") {
		t.Errorf("a kept quotation with other parts: code %d, %q", got.code, got.errors)
	}
	for _, c := range []struct{ path, says string }{
		{write("blowers.csv", "part,kind,flow,pressure\nx,fan,1 m3/h,abc\n"), "blowers.csv:2: pressure"},
		{filepath.Join(folder, "none.csv"), "cannot be read"},
		{write("odd.txt", "x"), "odd.txt"},
	} {
		got := run(t, "assess", "--parts", c.path, jobFile)
		if got.code != exitInput || !strings.Contains(got.errors, c.says) || got.out != "" {
			t.Errorf("%s: code %d, %q", c.path, got.code, got.errors)
		}
	}
}

// A list with many mistakes tells the first of them and how many more there are.
func TestLawManyMistakesOfAListAreNotAllTold(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hoses.csv")
	if err := os.WriteFile(path, []byte("part,bore\n"+strings.Repeat("hose,wide\n", 20)), 0o600); err != nil {
		t.Fatal(err)
	}
	got := run(t, "assess", "--parts", path, "../../examples/can-330-sidewall.yaml")
	if lines := strings.Count(strings.TrimSpace(got.errors), "\n"); got.code != exitInput || lines > 7 || !strings.Contains(got.errors, "more mistakes") {
		t.Errorf("code %d, %d lines: %q", got.code, lines+1, got.errors)
	}
}

// Papers written at the desk named a blower of the generic set where those of the command named the user's own.
func TestTheDeskChoosesFromOwnParts(t *testing.T) {
	folder, lists := t.TempDir(), t.TempDir()
	own := filepath.Join(lists, "mine.yaml")
	for path, text := range map[string]string{filepath.Join(folder, "bare.yaml"): bareKnives, own: ownBlowers} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	ctx, interrupt := context.WithCancel(t.Context())
	out := &tellsURL{url: make(chan string, 1)}
	var said strings.Builder
	p := &program{in: strings.NewReader(""), out: out, errors: &said, width: usualWidth}
	code := make(chan int, 1)
	go func() { code <- p.run(ctx, []string{"serve", folder, "--no-browser", "--json", "--parts", own}) }()
	defer func() {
		interrupt()
		if c := <-code; c != exitDone {
			t.Errorf("code %d, said %q", c, said.String())
		}
	}()
	var url string
	select {
	case url = <-out.url:
	case <-time.After(20 * time.Second):
		t.Fatal("no address was printed")
	}
	for _, ask := range []struct{ method, path string }{
		{http.MethodGet, "air"}, {http.MethodPost, "papers"}, {http.MethodGet, "papers/list-parts.csv"},
	} {
		var body io.Reader
		if ask.method == http.MethodPost {
			body = strings.NewReader("{}")
		}
		request, err := http.NewRequestWithContext(ctx, ask.method, url+"api/jobs/bare.yaml/"+ask.path, body)
		if err != nil {
			t.Fatal(err)
		}
		if body != nil {
			request.Header.Set("Content-Type", "application/json")
		}
		response, err := http.DefaultClient.Do(request)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(response.Body)
		if err != nil || response.StatusCode != http.StatusOK {
			t.Errorf("%s: status %d, %v: %.200s", ask.path, response.StatusCode, err, text)
		}
		if body == nil && !strings.Contains(string(text), "mine") {
			t.Errorf("%s does not name the user's own blower", ask.path)
		}
		if err := response.Body.Close(); err != nil {
			t.Error(err)
		}
	}
}
