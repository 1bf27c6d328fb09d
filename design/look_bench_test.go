package design

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"leste/drying"
)

// BenchmarkLook is what judging a candidate of knives for cans takes for one format: a look at the air, and the water
// followed at a plenum pressure. Beside it stands what share that is of a look that lays the water anew on the whole
// wall, in turns with it, as other work on the machine disturbs both alike.
func BenchmarkLook(b *testing.B) {
	s, err := newSearch(example(b, "cans-three-sizes"), Options{Concepts: []string{"tilted knives"}})
	if err != nil {
		b.Fatal(err)
	}
	c := s.judges[0].concept
	if err := s.common(b.Context(), s.judges[0]); err != nil {
		b.Fatal(err)
	}
	a := c.arrange(c.rule())
	for name, by := range map[string]eye{"10mm": eyeGlimpse, "5mm": eyeFollowed} {
		for f := range c.ground.formats {
			b.Run(fmt.Sprint(name, "/", c.ground.formats[f].name), func(b *testing.B) {
				b.ReportAllocs()
				anew := *c.ground
				anew.formats = slices.Clone(anew.formats)
				for _, p := range []**drying.Problem{&anew.formats[f].problem, &anew.formats[f].rough.problem} {
					alone := **p
					alone.Laid, *p = nil, &alone
				}
				see := func(g *ground) time.Duration {
					start := time.Now()
					g.memory = newMemory()
					l, err := g.look(b.Context(), a, f, startPressure, by)
					if err != nil {
						b.Fatal(err)
					}
					if _, err := l.measures(b.Context(), startPressure); err != nil {
						b.Fatal(err)
					}
					return time.Since(start)
				}
				var own, other time.Duration
				for b.Loop() {
					own += see(c.ground)
					b.StopTimer()
					other += see(&anew)
					b.StartTimer()
				}
				b.ReportMetric(own.Seconds()/other.Seconds(), "of-anew")
			})
		}
	}
}
