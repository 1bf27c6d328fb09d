package job

import (
	"encoding/binary"
	"math"
	"testing"

	"pgregory.net/rapid"

	q "leste/quantity"
)

func corner(r, z, arc, fillet float64) ProfileStep {
	s := ProfileStep{Radius: q.Millimetres(r), Height: q.Millimetres(z)}
	if arc != 0 {
		s.Bulge = q.Known(q.Millimetres(arc))
	}
	if fillet != 0 {
		s.Fillet = q.Known(q.Millimetres(fillet))
	}
	return s
}

// An outline of straight lines that only rises never crosses itself, nor does its mirror image upside down,
// nor the same at another size.
func TestLawRisingOutlinesAreBodies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "points")
		scale := rapid.Float64Range(0.3, 3).Draw(t, "scale")
		steps := []ProfileStep{corner(0, 10, 0, 0)}
		z := 10.0
		for range n {
			z += rapid.Float64Range(0.1, 20).Draw(t, "rise")
			steps = append(steps, corner(rapid.Float64Range(1, 60).Draw(t, "radius")*scale, z*scale, 0, 0))
		}
		steps = append(steps, corner(0, (z+1)*scale, 0, 0))
		steps[0].Height = q.Millimetres(10 * scale)
		if faults := checkOutline(steps); len(faults) > 0 {
			t.Fatalf("%+v", faults)
		}
		flipped := make([]ProfileStep, len(steps))
		for i, s := range steps {
			s.Height = q.Millimetres((z+20)*scale) - s.Height
			flipped[len(steps)-1-i] = s
		}
		if faults := checkOutline(flipped); len(faults) > 0 {
			t.Fatalf("upside down: %+v", faults)
		}
	})
}

// Whether two steps meet is found as by trying every pair.
func TestLawCrossingIsFoundAsByTryingEveryPair(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "points")
		points := []outlinePoint{{0, 0, 0}}
		for i := range n {
			points = append(points, outlinePoint{rapid.Float64Range(0.01, 0.1).Draw(t, "r"), rapid.Float64Range(0, 0.2).Draw(t, "z"), i + 1})
		}
		want := false
		for a := 1; a < len(points); a++ {
			for b := a + 2; b < len(points); b++ {
				want = want || properly(points[a-1], points[a], points[b-1], points[b])
			}
		}
		_, _, got := crossing(points)
		if want && !got {
			t.Fatalf("a crossing was missed: %+v", points)
		}
		if got && !want { // only touching within a micrometre may explain it
			for a := 1; a < len(points); a++ {
				for b := a + 1; b < len(points); b++ {
					far, near := points[a-1:a+1], points[b-1:b+1]
					if b-a > 1 && offOutline(far, near[0].r, near[0].z) < 10*micrometre ||
						offOutline(far, near[1].r, near[1].z) < 10*micrometre ||
						offOutline(near, far[0].r, far[0].z) < 10*micrometre {
						return // one ends on the other, or runs back over it
					}
				}
			}
			t.Fatalf("a crossing where there is none: %+v", points)
		}
		if want {
			found++
		}
	})
	if found == 0 {
		t.Error("no outline crossed itself: nothing was tested")
	}
}

// properly solves for the common point of two pieces.
func properly(a, b, c, d outlinePoint) bool {
	det := (b.r-a.r)*(d.z-c.z) - (b.z-a.z)*(d.r-c.r)
	if det == 0 {
		return false
	}
	s := ((c.r-a.r)*(d.z-c.z) - (c.z-a.z)*(d.r-c.r)) / det
	t := ((c.r-a.r)*(b.z-a.z) - (c.z-a.z)*(b.r-a.r)) / det
	const off = 1e-6
	return s > off && s < 1-off && t > off && t < 1-off
}

func TestReferenceFlattenedArc(t *testing.T) {
	// A quarter of a circle of 10 mm about (0, 0) from (10, 0) to (0, 10), drawn from base to top: outward.
	points := flatten([]ProfileStep{corner(10, 0, 0, 0), corner(0, 10, 10, 0)})
	if len(points) < 8 {
		t.Fatalf("%d points", len(points))
	}
	for _, p := range points {
		if r := math.Hypot(p.r, p.z); math.Abs(r-0.010) > 1e-12 {
			t.Errorf("a point of the arc is %v from its centre", r)
		}
	}
	// Inward the same arc is about (10, 10).
	for _, p := range flatten([]ProfileStep{corner(10, 0, 0, 0), corner(0, 10, -10, 0)}) {
		if r := math.Hypot(p.r-0.010, p.z-0.010); math.Abs(r-0.010) > 1e-12 {
			t.Errorf("a point of the inward arc is %v from its centre", r)
		}
	}
	if d := offOutline(points, 0, 0); math.Abs(d-0.010*math.Cos(math.Pi/32)) > 1e-5 { // chords of 11.25 degrees
		t.Errorf("the centre is %v from the arc", d)
	}
}

func TestReferenceFilletsFit(t *testing.T) {
	// A square corner needs as much of both legs as the fillet's radius: 10 mm legs hold 10 mm, not 10.1 mm.
	body := func(f float64) []ProfileStep {
		return []ProfileStep{corner(0, 0, 0, 0), corner(10, 0, 0, f), corner(10, 10, 0, 0), corner(0, 10, 0, 0)}
	}
	if faults := checkOutline(body(10)); len(faults) > 0 {
		t.Errorf("%+v", faults)
	}
	if faults := checkOutline(body(10.1)); len(faults) != 1 || faults[0].step != 1 || faults[0].key != "fillet" {
		t.Errorf("%+v", faults)
	}
}

func FuzzProfile(f *testing.F) {
	seed := func(steps ...[4]float32) {
		var b []byte
		for _, s := range steps {
			for _, x := range s {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x))
			}
		}
		f.Add(b)
	}
	seed([4]float32{0, 0}, [4]float32{33, 0, 0, 4}, [4]float32{33, 100}, [4]float32{26, 115, 20}, [4]float32{0, 115})
	seed([4]float32{0, 10}, [4]float32{20, 0, -40}, [4]float32{33, 50}, [4]float32{10, 20}, [4]float32{0, 115})
	seed([4]float32{0, 0}, [4]float32{1e9, 5}, [4]float32{0, 10})
	f.Fuzz(func(t *testing.T, data []byte) {
		var steps []ProfileStep
		for ; len(data) >= 16 && len(steps) < 2*mostSteps; data = data[16:] {
			var x [4]float64
			for i := range x {
				x[i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(data[4*i:])))
			}
			steps = append(steps, corner(x[0], x[1], x[2], x[3]))
		}
		faults := checkOutline(steps)
		for _, f := range faults {
			if f.text == "" || f.want == "" || f.step < -1 || f.step >= len(steps) {
				t.Fatalf("%+v", f)
			}
		}
		for _, s := range steps {
			if len(faults) == 0 && (s.Radius < 0 || s.Height < 0 || s.Fillet.V < 0) {
				return // said elsewhere, as values below their limits
			}
		}
		if len(faults) > 0 {
			return
		}
		area := 0.0
		points := flatten(steps)
		for i, p := range points {
			if math.IsNaN(p.r) || math.IsNaN(p.z) || p.r < -micrometre {
				t.Fatalf("point %d is %+v", i, p)
			}
			if i > 0 {
				area += (p.r + points[i-1].r) / 2 * (p.z - points[i-1].z)
			}
		}
		if area <= 0 {
			t.Fatalf("a body of area %v", area)
		}
		if d := offOutline(points, float64(steps[1].Radius), float64(steps[1].Height)); d > 1e-9 {
			t.Fatalf("a point of the outline is %v off it", d)
		}
	})
}

func BenchmarkCheckOutline(b *testing.B) {
	steps := []ProfileStep{corner(0, 0, 0, 0)}
	for i := range mostSteps - 2 {
		arc := 4.0
		if i == 0 {
			arc = 0
		}
		steps = append(steps, corner(30+float64(i%2), float64(i+1), arc, 0))
	}
	steps = append(steps, corner(0, mostSteps, 0, 0))
	if faults := checkOutline(steps); len(faults) > 0 {
		b.Fatalf("%+v", faults)
	}
	for b.Loop() {
		checkOutline(steps)
	}
}
