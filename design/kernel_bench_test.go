package design

import "testing"

// BenchmarkForecast tells one candidate from a model of a concept with many variables.
func BenchmarkForecast(b *testing.B) {
	o := Options{Seed: 1, Workers: 1, Concepts: []string{"tilted manifolds and a top manifold"}, quickOnly: true}
	s, err := newSearch(example(b, "cans-three-sizes"), o)
	if err != nil {
		b.Fatal(err)
	}
	if err := s.begin(b.Context()); err != nil {
		b.Fatal(err)
	}
	p, j := &s.state.Populations[0], s.judges[0]
	j.eye = s.glimpse()
	if err := s.explore(b.Context(), p, j, 40, 60); err != nil {
		b.Fatal(err)
	}
	m := j.model(p, true, 1)
	x := p.Samples[0].X
	for name, hope := range map[string]float64{"told": 0, "hoped": 1} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				m.forecast(x, startPressure, hope)
			}
			b.ReportMetric(float64(len(p.Samples)), "samples")
		})
	}
}
