package station

import (
	"context"
	"math"
	"testing"

	"leste/job"
	q "leste/quantity"
)

// can is a plain 66 x 115 mm body with small fillets.
func can(t testing.TB, cell float64) *Body {
	t.Helper()
	return bodyOf(t, job.Format{Name: "can", Container: job.Container{
		Material: "lacquered aluminium", EmptyMass: q.Known(q.Mass(0.013)),
		Profile: []job.ProfileStep{
			{Radius: 0, Height: 0},
			{Radius: 33e-3, Height: 0, Fillet: q.Known(q.Millimetres(3)), Zone: job.ZoneBase},
			{Radius: 33e-3, Height: 115e-3, Fillet: q.Known(q.Millimetres(2)), Zone: job.ZoneSidewall},
			{Radius: 0, Height: 115e-3, Zone: job.ZoneEnd},
		},
	}}, cell)
}

func bodyOf(t testing.TB, f job.Format, cell float64) *Body {
	t.Helper()
	b, err := NewBody(f, cell, "upright")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// box has flat sides of the width, depth and height given.
func slab(t testing.TB, width, height, cell float64) *Body {
	t.Helper()
	l := func(v float64) q.Maybe[q.Length] { return q.Known(q.Length(v)) }
	return bodyOf(t, job.Format{Name: "slab", Container: job.Container{
		Material: "PET", Section: &job.Section{Shape: roundedRectangle, Width: l(width), Depth: l(width), Corner: l(2e-3)},
		Profile: []job.ProfileStep{
			{Radius: 0, Height: 0},
			{Radius: q.Length(width / 2), Height: 0, Zone: "a"},
			{Radius: q.Length(width / 2), Height: q.Length(height), Zone: "b"},
			{Radius: 0, Height: q.Length(height), Zone: "c"},
		},
	}}, cell)
}

// plane and jets with the density and viscosity of the reference values.
func planeSource(mid, l, a Vec, length, thrust, pg float64) source {
	return source{
		mid: mid, l: l, a: a, across: a.cross(l), length: length, thrust: thrust, pg: pg,
		rho: 1.2, nu: 1.5e-5, exit: 172, shear: 1, press: 1,
	}
}

func roundSource(mid, a Vec, thrust, pg float64) source {
	l := Vec{1, 0, 0}
	l = l.along(-l.dot(a), a).unit()
	s := planeSource(mid, l, a, 0, thrust, pg)
	s.round, s.ports = true, []float64{0}
	return s
}

// exposed is an exposer of hand-made sources.
func exposed(b *Body, sources ...source) *Exposer {
	e := &Exposer{body: b, sources: sources}
	for range sources {
		e.scene.Outlets = append(e.scene.Outlets, Placed{})
	}
	e.prepare()
	return e
}

// force adds up pressure over the cells whose normal has a positive share of n.
func force(b *Body, f *Field, n Vec) float64 {
	sum := 0.0
	for i, p := range f.P {
		if b.Surface.Normal[i].dot(n) > 0.5 {
			sum += p * b.Surface.Area[i] * b.Surface.Normal[i].dot(n)
		}
	}
	return sum
}

func TestReferenceSlotAgainstFlatWall(t *testing.T) {
	// Reference: an independent trial of the same algorithm on a flat wall; slot of 35.5 N/m at 50 mm,
	// 20 kPa, air of 1.2 kg/m3 and 1.5e-5 m2/s: greatest shear 18.78 Pa at 7.7 mm; on the back side of an
	// inclined jet 14.3, 10.0, 6.1 and 3.0 Pa at 75, 60, 45 and 30 degrees.
	b := slab(t, 0.6, 0.6, 3e-3)
	want := map[float64]float64{90: 18.78, 75: 14.3, 60: 10.0, 45: 6.1, 30: 3.0}
	for deg, back := range want {
		phi := deg * math.Pi / 180
		a := Vec{0, -math.Sin(phi), math.Cos(phi)} // turned upward
		hit := Vec{0, 0.3, 0.3}
		s := planeSource(hit.along(-0.05, a), Vec{1, 0, 0}, a, 2, 35.5, 20e3)
		e := exposed(b, s)
		var f Field
		e.At(0, &f)
		got := force(b, &f, Vec{0, 1, 0}) / (35.5 * 0.596 * math.Sin(phi))
		if math.Abs(got-1) > 0.01 {
			t.Errorf("%v degrees: wall force %.4f of the thrust's normal part, want 1", deg, got)
		}
		best, at := 0.0, 0.0
		for i, tau := range f.TauS {
			p := b.Surface.Pos[i]
			if b.Surface.Normal[i].Y > 0.99 && math.Abs(p.X) < 0.1 && p.Z < 0.3 && (-tau > best*1.005 || -tau > best*0.995 && 0.3-p.Z < at) {
				best, at = math.Max(best, -tau), 0.3-p.Z // of a flat top, the place nearest to the line
			}
		}
		if math.Abs(best-back) > 0.02*back+0.1 {
			t.Errorf("%v degrees: greatest back shear %.2f Pa at %.1f mm, want %.2f", deg, best, at*1e3, back)
		}
		if deg == 90 && math.Abs(at-7.7e-3) > 1.5e-3 {
			t.Errorf("greatest shear at %.2f mm, want 7.7", at*1e3)
		}
	}
}

func TestReferenceRoundAgainstFlatWall(t *testing.T) {
	// Reference: same trial; nozzle of 4.015 N at 150 mm: 27.27 Pa at 13.35 mm; wall force 0.999 of the
	// thrust's normal part at every incidence from 30 to 90 degrees.
	b := slab(t, 0.7, 0.7, 3.5e-3)
	for _, deg := range []float64{90, 75, 60, 45, 30} {
		phi := deg * math.Pi / 180
		a := Vec{0, -math.Sin(phi), math.Cos(phi)}
		hit := Vec{0, 0.35, 0.35}
		e := exposed(b, roundSource(hit.along(-0.15, a), a, 4.015, 20e3))
		var f Field
		e.At(0, &f)
		got := force(b, &f, Vec{0, 1, 0}) / (4.015 * math.Sin(phi))
		if math.Abs(got-0.999) > 0.01 {
			t.Errorf("%v degrees: wall force %.4f, want 0.999", deg, got)
		}
		if deg != 90 {
			continue
		}
		best, at := 0.0, 0.0
		for i := range f.TauS {
			r := b.Surface.Pos[i].sub(hit).norm()
			if tau := math.Hypot(f.TauS[i], f.TauA[i]); tau > best*1.005 || tau > best*0.995 && r < at {
				best, at = math.Max(best, tau), r
			}
		}
		if math.Abs(best-27.27) > 0.3 || math.Abs(at-13.35e-3) > 2.5e-3 {
			t.Errorf("greatest shear %.2f Pa at %.2f mm, want 27.27 at 13.35", best, at*1e3)
		}
	}
}

func BenchmarkAtTwoKnives(b *testing.B) {
	body := can(b, 2e-3)
	tilt := 12 * math.Pi / 180
	l := Vec{math.Cos(tilt), 0, -math.Sin(tilt)}
	e := exposed(body,
		planeSource(Vec{0, 73e-3, 60e-3}, l, Vec{0, -1, 0}, 0.4, 53, 20e3),
		planeSource(Vec{0, -73e-3, 60e-3}, l, Vec{0, 1, 0}, 0.4, 53, 20e3))
	e.scene.Neighbours = []float64{-70e-3, 70e-3}
	var f Field
	b.ReportAllocs()
	x := -0.1
	for b.Loop() {
		e.At(x, &f)
		if x += 2e-3; x > 0.1 {
			x = -0.1
		}
	}
	b.ReportMetric(float64(len(f.P)), "cells")
}

func BenchmarkRecordOfAPass(b *testing.B) {
	body := can(b, 2e-3)
	l, a := frame(left, 20*math.Pi/180, 10*math.Pi/180, 0)
	ml, ma := frame(right, 20*math.Pi/180, 10*math.Pi/180, 0)
	e := exposed(body, planeSource(Vec{0, 73e-3, 60e-3}, l, a, 0.3, 53, 20e3), planeSource(Vec{0, -73e-3, 60e-3}, ml, ma, 0.3, 53, 20e3))
	e.scene.Neighbours = []float64{-76e-3, 76e-3}
	e.scene.Belt = true
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewRecord(context.Background(), e, 4e-3); err != nil {
			b.Fatal(err)
		}
	}
}
