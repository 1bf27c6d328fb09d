package drying

import (
	"context"
	"testing"
)

func BenchmarkScanCan(b *testing.B) {
	p := canCase{}.problem(b)
	for b.Loop() {
		if _, err := Scan(context.Background(), p.Body, &p.Passes[0]); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkQuickCan is one can between two knives with its band, the air seen before.
func BenchmarkQuickCan(b *testing.B) {
	p := canCase{}.problem(b)
	seen, err := Scan(context.Background(), p.Body, &p.Passes[0])
	if err != nil {
		b.Fatal(err)
	}
	p.Passes[0].Seen = seen
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Quick(context.Background(), p); err != nil {
			b.Fatal(err)
		}
	}
}
