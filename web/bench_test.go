package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"leste/web"
)

// asked is a server over the demonstration, for benchmarks.
func asked(b *testing.B) string {
	b.Helper()
	s, err := web.Open(b.Context(), web.Options{Target: b.TempDir(), Port: -1, Cold: true})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		if err := s.Close(); err != nil {
			b.Error(err)
		}
	})
	return s.URL + "api/jobs/" + web.Demo
}

func tryOn(b *testing.B, url, depth string, mm int) {
	b.Helper()
	body, err := json.Marshal(map[string]any{
		"depth": depth, "wall": true, "edits": []any{map[string]any{"op": "set", "path": "/stations/0/outlets/0/height", "value": fmt.Sprintf("%d mm", mm)}},
	})
	if err != nil {
		b.Fatal(err)
	}
	r, err := http.Post(url+"/try?tab=bench", "application/json", bytes.NewReader(body))
	if err != nil || r.StatusCode != http.StatusOK {
		b.Fatal(r, err)
	}
	var sink bytes.Buffer
	if _, err := sink.ReadFrom(r.Body); err != nil {
		b.Fatal(err)
	}
	if err := r.Body.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkDrag is a dragged outlet until the verdict, the scene and the wall are with the browser. Goal: 95 of 100
// within 100 ms.
func BenchmarkDrag(b *testing.B) { trials(b, "quick") }

// BenchmarkRefine is the same with the water followed, once the drag has stopped. Goal: 600 ms.
func BenchmarkRefine(b *testing.B) { trials(b, "transport") }

func trials(b *testing.B, depth string) {
	url := asked(b)
	var took []time.Duration
	n := 0
	for b.Loop() {
		begun := time.Now()
		tryOn(b, url, depth, 60+n%30)
		took = append(took, time.Since(begun))
		n++
	}
	slices.Sort(took)
	at := func(share float64) float64 { return float64(took[int(share*float64(len(took)-1))]) / 1e6 }
	b.ReportMetric(at(0), "min-ms")
	b.ReportMetric(at(0.5), "p50-ms")
	b.ReportMetric(at(0.95), "p95-ms")
}
