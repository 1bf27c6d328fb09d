package design

import (
	"context"
	"fmt"
	"testing"
)

// BenchmarkLook is what judging a candidate of knives for cans takes for one format: a look at the air, and the water
// followed at a plenum pressure.
func BenchmarkLook(b *testing.B) {
	s, err := newSearch(example(b, "cans-three-sizes"), Options{Concepts: []string{"tilted knives"}})
	if err != nil {
		b.Fatal(err)
	}
	c := s.judges[0].concept
	if err := s.common(context.Background(), s.judges[0]); err != nil {
		b.Fatal(err)
	}
	g := c.ground
	a := c.arrange(c.rule())
	for _, by := range []struct {
		name string
		eye  eye
	}{{"10mm", eyeGlimpse}, {"5mm", eyeFollowed}} {
		for f := range g.formats {
			b.Run(fmt.Sprint(by.name, "/", g.formats[f].name), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					l, err := g.look(context.Background(), a, f, startPressure, by.eye)
					if err != nil {
						b.Fatal(err)
					}
					if _, err := l.measures(context.Background(), startPressure); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
