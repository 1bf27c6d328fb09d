package station

import (
	"fmt"
	"testing"

	"leste/job"
	q "leste/quantity"
)

// blown is a can between two outlets of a kind and below a third, as a search looks at them.
func blown(t testing.TB, kind string, top bool, cell float64) *Exposer {
	t.Helper()
	b := familyBody(t, "can", "330 standard", cell)
	s := Scene{Belt: true, Neighbours: []float64{-76e-3, 76e-3}, Rails: []Bar{{Y: 40e-3, Z: 30e-3, Radius: 5e-3}, {Y: -40e-3, Z: 30e-3, Radius: 5e-3}}}
	add := func(side string, middle Vec, tilt, down, along, length float64) {
		p := Placed{Name: side, Kind: kind, Side: side, Middle: middle, Length: length}
		p.Line, p.Axis = frame(side, deg(tilt), deg(down), deg(along))
		if kind == job.AirKnife {
			p.Gap = 1e-3
		} else {
			p.Bore, p.Spacing = 4e-3, 25e-3
			n := int(length / p.Spacing)
			for i := range n + 1 {
				p.Ports = append(p.Ports, p.Spacing*(float64(i)-float64(n)/2))
			}
		}
		s.Outlets = append(s.Outlets, p)
	}
	middle := Vec{0, 73e-3, 70e-3}
	if kind != job.AirKnife {
		middle = Vec{0, 130e-3, 80e-3}
	}
	add(left, middle, 20, 10, 5, 0.35)
	middle.Y = -middle.Y
	add(right, middle, 20, 10, 5, 0.35)
	if top {
		add(above, Vec{-0.1, 0, 180e-3}, 35, 0, 10, 0.15)
	}
	var air []OutletAir
	for range s.Outlets {
		air = append(air, OutletAir{Plenum: 20e3, Stagnation: 320, Ambient: q.Absolute(101325), AmbientT: 295})
	}
	e, err := NewExposer(b, s, air, ExposerOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// BenchmarkPass is a look at the air of a pass from every 6 mm, and the loads on the container from the same positions.
func BenchmarkPass(b *testing.B) {
	const step = 6e-3
	for _, kind := range []string{job.AirKnife, job.NozzleManifold} {
		for _, top := range []bool{false, true} {
			for _, cell := range []float64{10e-3, 5e-3} {
				e := blown(b, kind, top, cell)
				from, to := e.Range()
				name := kind
				if top {
					name += " and one above"
				}
				name = fmt.Sprintf("%s/%.0fmm", name, cell*1e3)
				b.Run(name+"/air", func(b *testing.B) {
					b.ReportAllocs()
					var f Field
					n := 0
					for b.Loop() {
						n = 0
						for x := from; x <= to; x += step {
							e.At(x, &f)
							n++
						}
					}
					b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/position")
				})
				b.Run(name+"/push", func(b *testing.B) {
					b.ReportAllocs()
					n := 0
					for b.Loop() {
						n = 0
						for x := from; x <= to; x += step {
							e.thrust(x)
							n++
						}
					}
					b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/position")
				})
			}
		}
	}
}

// BenchmarkNewExposer is what looking at a station takes before the first position.
func BenchmarkNewExposer(b *testing.B) {
	for _, kind := range []string{job.AirKnife, job.NozzleManifold} {
		e := blown(b, kind, true, 10e-3)
		air := make([]OutletAir, len(e.scene.Outlets))
		for i := range air {
			air[i] = OutletAir{Plenum: 20e3, Stagnation: 320, Ambient: 101325, AmbientT: 295}
		}
		b.Run(kind, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := NewExposer(e.body, e.scene, air, ExposerOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
