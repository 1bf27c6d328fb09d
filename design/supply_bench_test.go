package design

import (
	"testing"
	"time"

	"leste/airsupply"
)

// BenchmarkSupply is what a candidate's air side takes: a blower chosen, its speed set, and held against every case that
// the station must live with. Beside it stands what share that is of solving every case.
func BenchmarkSupply(b *testing.B) {
	for _, name := range []string{"cans-three-sizes", "design-options-can", "glass-330-shoulder"} {
		b.Run(name, func(b *testing.B) {
			s, err := newSearch(example(b, name), Options{})
			if err != nil {
				b.Fatal(err)
			}
			c := s.judges[0].concept
			a := c.arrange(c.rule())
			j := a.job(startPressure)
			var own, other time.Duration
			for b.Loop() {
				start := time.Now()
				if _, err := c.ground.supply(b.Context(), j); err != nil {
					b.Fatal(err)
				}
				own += time.Since(start)
				b.StopTimer()
				start = time.Now()
				if _, err := airsupply.Assess(b.Context(), j, s.parts); err != nil {
					b.Fatal(err)
				}
				other += time.Since(start)
				b.StartTimer()
			}
			b.ReportMetric(own.Seconds()/other.Seconds(), "of-every-case")
		})
	}
}
