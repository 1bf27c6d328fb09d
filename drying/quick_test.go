package drying

import (
	"context"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

func quick(t testing.TB, p *Problem) Outcome {
	t.Helper()
	o, err := Quick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// inside is the water left on the middle of a plate [kg/m2], away from the ends where what is pushed along
// comes to rest.
func inside(b *station.Body, o Outcome) float64 {
	sum, n := 0.0, 0
	for k, m := range o.Map {
		if c := k % b.Surface.Cols; c >= b.Surface.Cols/4 && c < b.Surface.Cols*3/4 {
			sum, n = sum+m, n+1
		}
	}
	return sum / float64(n)
}

// plateLeft is the water left on the middle of a plate after a jet [kg/m2].
func plateLeft(t testing.TB, receding, speed float64, change func(*Problem, *planeJet)) float64 {
	t.Helper()
	b := newPlate(4, 60, 3e-3, max(receding+20, 70), receding)
	j := usualJet(b)
	p := jetProblem(j, speed)
	if change != nil {
		change(p, j)
	}
	p.Settings.Rewetting = 0
	return inside(b, quick(t, p))
}

// A slower line leaves less, down to almost nothing, on every kind of wall. Neighbouring speeds may differ by
// less than the forms' own steps: 4 %, stated with the relations.
func TestLawSlowerLeavesLess(t *testing.T) {
	for _, receding := range []float64{4, 40, 50, 82} {
		before := 0.0
		for _, v := range []float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1, 1.5, 2, 3} {
			left := plateLeft(t, receding, v, nil)
			if left < before*0.96-5e-5 { // below 0.05 g/m2 the order is not claimed
				t.Errorf("receding %g deg: %.3g g/m2 left at %g m/s, more at the speed before: %.3g", receding, left*1e3, v, before*1e3)
			}
			before = left
			if v == 0.05 && receding >= 40 && left > 0.01*0.05 {
				t.Errorf("receding %g deg: %.3g g/m2 left at %g m/s; nearly nothing should be", receding, left*1e3, v)
			}
		}
	}
}

// Stronger air (shear and pressure together) leaves less; so does a second pass.
func TestLawStrongerAirAndMorePassesLeaveLess(t *testing.T) {
	for _, receding := range []float64{4, 40, 50, 82} {
		before := math.Inf(1)
		for _, f := range []float64{0.25, 0.5, 1, 2, 4} {
			left := plateLeft(t, receding, 1, func(_ *Problem, j *planeJet) {
				j.press, j.shear, j.speed = j.press*f, j.shear*f, j.speed*math.Sqrt(f)
			})
			if left > before*1.0001 {
				t.Errorf("receding %g deg: %.3g g/m2 left by air x %g, %.3g by weaker air", receding, left*1e3, f, before*1e3)
			}
			before = left
		}
		before = math.Inf(1)
		for n := 1; n <= 4; n++ {
			left := plateLeft(t, receding, 1, func(p *Problem, _ *planeJet) {
				for len(p.Passes) < n {
					p.Passes = append(p.Passes, p.Passes[0])
				}
			})
			if left > before*(1+1e-9) {
				t.Errorf("receding %g deg: %.3g g/m2 left by %d passes, %.3g by one less", receding, left*1e3, n, before*1e3)
			}
			before = left
		}
	}
}

// A film thinner than the jet lets pass goes through unchanged on a wall that stays wet.
func TestLawThinFilmPasses(t *testing.T) {
	const film = 0.004 // kg/m2
	left := plateLeft(t, 4, 1, func(p *Problem, _ *planeJet) { p.Arrives = Arrives{Film: film} })
	if math.Abs(left/film-1) > 1e-9 {
		t.Errorf("%g kg/m2 left of a thin film of %g", left, film)
	}
}

// What one pass at 1 m/s leaves of 50 g/m2 on a wall that beads. The bounds are those of a one-dimensional trial
// of the film and drop equations with the same jet (re-derived, no measurement): PET 0.97 g/m2 when it comes as
// a film, 11.4 as drops; lacquered aluminium 4.7 to 7.9; PP nothing. A factor 1.5 between the closed forms and
// that trial is theirs to differ by; nothing is below 0.5 g/m2.
func TestReferenceOnePassOnBeadingWalls(t *testing.T) {
	for _, c := range []struct {
		name      string
		advancing float64
		receding  float64
		low, high float64
	}{
		{"PET", 80, 50, 0.97 / 1.5, 11.4 * 1.5},
		{"lacquered aluminium", 80, 40, 4.7 / 1.5, 7.9 * 1.5},
		{"PP", 100, 82, 0, 0.5},
	} {
		b := newPlate(4, 60, 3e-3, c.advancing, c.receding)
		left := inside(b, quick(t, jetProblem(usualJet(b), 1))) * 1e3
		t.Logf("%s: %.2f g/m2", c.name, left)
		if left < c.low || left > c.high {
			t.Errorf("%s: %.2f g/m2 left, want %.2f to %.2f", c.name, left, c.low, c.high)
		}
	}
}

// The side of a 330 mL can that carries 50 g/m2 past two upright air knives of 1.5 mm slot gap at 20 kPa, 40 mm
// away, at 1 m/s keeps 350 mg, 150 to 700: an estimate from the same relations by hand, zone by zone (re-derived,
// no measurement).
func TestReferenceSideOfACan(t *testing.T) {
	p := canCase{change: func(j *job.Job) {
		for i := range j.Stations[0].Outlets {
			o := &j.Stations[0].Outlets[i]
			o.Tilt, o.Length, o.Height = q.Known(q.Degrees(90)), q.Known(q.Length(0.115)), q.Known(q.Length(0.062))
		}
	}}.problem(t)
	p.Passes[0].Seen = nil
	o := quick(t, p)
	side := zone(t, o.After, "sidewall").Left.Likely + zone(t, o.After, "shoulder").Left.Likely + zone(t, o.After, "heel").Left.Likely
	t.Logf("%.0f mg", side*1e6)
	if side < 150e-6 || side > 700e-6 {
		t.Errorf("%.0f mg on the side, want 150 to 700", side*1e6)
	}
}

// The balance closes whatever is asked.
func TestLawBalanceCloses(t *testing.T) {
	for _, v := range []float64{0.05, 1, 5} {
		for _, change := range []func(*Problem){
			func(*Problem) {},
			func(p *Problem) { p.Settings.MistBack, p.Settings.Rewetting = 1, 1 },
			func(p *Problem) { p.Body.Product = q.Celsius(2) },
			func(p *Problem) { p.Arrives.TrappedFull, p.Arrives.PoolsFull = 0, 0 },
			func(p *Problem) { p.Passes[0].Stand, p.Passes[0].StandAt = 10, 0 },
			func(p *Problem) { p.Passes = append(p.Passes, p.Passes[0]) },
			func(p *Problem) { p.Liquid.Tension *= 0.6 },
		} {
			p := canCase{speed: v, cell: 6e-3}.problem(t)
			change(p)
			p.Machines = []Machine{{Kind: "camera", Travel: 20, After: len(p.Passes) - 1}}
			o := quick(t, p)
			if !(o.Balance.Closure < 1e-9) {
				t.Errorf("%g m/s: balance off by %g", v, o.Balance.Closure)
			}
			for _, x := range []float64{o.Balance.Left, o.Balance.BlownOff, o.Balance.Mist, o.Balance.Evaporated, o.Balance.Condensed, o.Balance.Dripped} {
				if !(x >= 0) {
					t.Errorf("%g m/s: an amount of %g kg in the balance %+v", v, x, o.Balance)
				}
			}
		}
	}
}

// Two knives that mirror each other leave mirrored water.
func TestLawMirror(t *testing.T) {
	p := canCase{cell: 6e-3}.problem(t)
	o := quick(t, p)
	s := p.Body.Surface
	for r := range s.Rows {
		for c := range s.Cols / 2 {
			a, b := o.Map[r*s.Cols+c], o.Map[r*s.Cols+s.Cols-1-c]
			if math.Abs(a-b) > 1e-6*max(a, b, 1e-3) {
				t.Fatalf("row %d: %g kg/m2 on one side, %g on the other", r, a, b)
			}
		}
	}
}

// The same problem gives the same bits.
func TestLawRepeatable(t *testing.T) {
	a, b := quick(t, canCase{cell: 6e-3}.problem(t)), quick(t, canCase{cell: 6e-3}.problem(t))
	if diff := cmp.Diff(a.Map, b.Map); diff != "" {
		t.Error(diff)
	}
	if a.After.Total != b.After.Total {
		t.Errorf("%v and %v", a.After.Total, b.After.Total)
	}
}

// Nothing that can be asked gives a number that is none.
func TestLawExtremesStayFinite(t *testing.T) {
	for name, change := range map[string]func(*Problem){
		"no water":        func(p *Problem) { p.Arrives = Arrives{DropMedian: 1e-3} },
		"a flood":         func(p *Problem) { p.Arrives.Drops, p.Arrives.Film = 1e3, 1e3 },
		"dust of drops":   func(p *Problem) { p.Arrives.DropMedian = 1e-9 },
		"lakes of drops":  func(p *Problem) { p.Arrives.DropMedian = 10 },
		"a crawl":         func(p *Problem) { p.Passes[0].Speed = 1e-6 },
		"a bullet":        func(p *Problem) { p.Passes[0].Speed = 1e6 },
		"a hair of drag":  func(p *Problem) { p.Settings.Drag = 1e-12 },
		"no spread":       func(p *Problem) { p.Settings.DropSpread = 1e-6 },
		"wide spread":     func(p *Problem) { p.Settings.DropSpread = 3 },
		"perfectly wet":   func(p *Problem) { p.Body.Materials[0].Receding, p.Body.Materials[0].Advancing = 0, 0 },
		"perfectly dry":   func(p *Problem) { p.Body.Materials[0].Receding, p.Body.Materials[0].Advancing = math.Pi, math.Pi },
		"air of nothing":  func(p *Problem) { p.Settings.Shear, p.Settings.Pressure = 1e-9, 1e-9 },
		"air of a bomb":   func(p *Problem) { p.Settings.Shear, p.Settings.Pressure = 1e9, 1e9 },
		"a long wait":     func(p *Problem) { p.Machines[0].Travel = 1e9 },
		"no slide needed": func(p *Problem) { p.Settings.SlideShare = 0 },
	} {
		t.Run(name, func(t *testing.T) {
			p := canCase{cell: 8e-3}.problem(t)
			p.Machines = []Machine{{Kind: "camera", Travel: 5}}
			change(p)
			o := quick(t, p)
			for _, z := range append(o.After.Zones, o.At[0].Zones...) {
				for _, x := range []float64{z.Left.Low, z.Left.Likely, z.Left.High, z.Largest.Low, z.Largest.Likely, z.Largest.High} {
					if !(x >= 0) || math.IsInf(x, 0) {
						t.Fatalf("%s: %+v", z.Zone, z)
					}
				}
				if !(z.Left.Low <= z.Left.Likely && z.Left.Likely <= z.Left.High) {
					t.Errorf("%s: band %+v", z.Zone, z.Left)
				}
			}
		})
	}
}

// What cannot be calculated is refused in a sentence.
func TestLawRefusals(t *testing.T) {
	for name, change := range map[string]func(*Problem){
		"no body":          func(p *Problem) { p.Body = nil },
		"NaN water":        func(p *Problem) { p.Arrives.Drops = math.NaN() },
		"infinite water":   func(p *Problem) { p.Arrives.Film = math.Inf(1) },
		"negative tension": func(p *Problem) { p.Liquid.Tension = -1 },
		"standing still":   func(p *Problem) { p.Passes[0].Speed = 0 },
		"NaN speed":        func(p *Problem) { p.Passes[0].Speed = math.NaN() },
		"no air":           func(p *Problem) { p.Passes[0].Air = nil },
		"overfull":         func(p *Problem) { p.Arrives.TrappedFull = 1.1 },
		"angles swapped":   func(p *Problem) { p.Body.Materials[0].Receding = 3 },
		"machine nowhere":  func(p *Problem) { p.Machines = []Machine{{Kind: "camera", After: 7}} },
		"negative drag":    func(p *Problem) { p.Settings.Drag = -1 },
	} {
		t.Run(name, func(t *testing.T) {
			b := newPlate(3, 8, 4e-3, 80, 40)
			p := jetProblem(usualJet(b), 1)
			change(p)
			if _, err := Quick(context.Background(), p); err == nil || len(err.Error()) < 20 {
				t.Errorf("error %v", err)
			}
		})
	}
}

// A finer grid changes the answer by less than the band of the closed forms.
func TestLawGridsAgree(t *testing.T) {
	left := map[float64]float64{}
	for _, cell := range []float64{2e-3, 4e-3, 5e-3} {
		left[cell] = zone(t, quick(t, canCase{cell: cell}.problem(t)).After, "sidewall").Left.Likely
	}
	t.Log(left)
	for cell, m := range left {
		if r := m / left[2e-3]; r < 0.8 || r > 1.25 {
			t.Errorf("%.0f mm cells leave %.3g times what 2 mm cells leave on the sidewall", cell*1e3, r)
		}
	}
}

// Water blown off a can comes back a little when neighbours ride along, and all mist when told so.
func TestLawThrownWaterComesBack(t *testing.T) {
	base := canCase{cell: 6e-3}.problem(t)
	base.Settings.Rewetting = 0
	alone := quick(t, base).After.Total.Likely
	base.Settings.Rewetting = 0.02
	with := quick(t, base).After.Total.Likely
	base.Settings.MistBack = 0.3
	mist := quick(t, base).After.Total.Likely
	if !(alone < with && with < mist) {
		t.Errorf("%g kg alone, %g with neighbours, %g with mist", alone, with, mist)
	}
}

// The band covers what each setting alone can do.
func TestLawBandCoversEachSetting(t *testing.T) {
	p := canCase{cell: 6e-3}.problem(t)
	o := quick(t, p)
	band := zone(t, o.After, "sidewall").Left
	for name, change := range map[string]func(*Settings){
		"drag":         func(s *Settings) { s.Drag = 0.15 },
		"hole spacing": func(s *Settings) { s.HoleSpacing = 1.5e-3 },
		"slide share":  func(s *Settings) { s.SlideShare = 1 },
		"small drops":  func(s *Settings) { s.SmallDrops = 0.3 },
		"shear":        func(s *Settings) { s.Shear = 0.67 },
	} {
		v := *p
		change(&v.Settings)
		if got := zone(t, quick(t, &v).After, "sidewall").Left.Likely; got < band.Low || got > band.High {
			t.Errorf("%s moves the sidewall to %.3g mg, outside the band %.3g to %.3g", name, got*1e6, band.Low*1e6, band.High*1e6)
		}
	}
}

// none leaves what arrives.
func TestLawMethods(t *testing.T) {
	p := canCase{cell: 8e-3}.problem(t)
	none, err := MethodNamed("none")
	if err != nil {
		t.Fatal(err)
	}
	o, err := none(context.Background(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if o.Method != "none" || math.Abs(o.After.Total.Likely/o.Balance.In-1) > 1e-9 {
		t.Errorf("none leaves %g of %g kg", o.After.Total.Likely, o.Balance.In)
	}
	_, err = MethodNamed("guess")
	want := `there is no drying method "guess"; there are none, quick, transport`
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// Deviations add up in quadrature of their logarithms, whichever end is worse, and never to less than the floor.
func TestLawQuadrature(t *testing.T) {
	var s quadrature
	s.take(math.Log(3), -math.Log(2))
	s.take(-math.Log(1.5), math.Log(4))
	b := s.band(1.1)
	up := math.Exp(math.Hypot(math.Log(3), math.Log(4)))
	down := math.Exp(-math.Hypot(math.Log(2), math.Log(1.5)))
	if math.Abs(b.High/up-1) > 1e-12 || math.Abs(b.Low/down-1) > 1e-12 || b.Likely != 1 {
		t.Errorf("%+v, want %g to %g", b, down, up)
	}
	if b := new(quadrature).band(2.5); math.Abs(b.High-2.5) > 1e-12 || math.Abs(b.Low-0.4) > 1e-12 {
		t.Errorf("%+v without deviations, want the floor", b)
	}
	s = quadrature{}
	s.take(math.Log(2), math.Log(3)) // both ends on one side
	if b := s.band(1); math.Abs(b.High-3) > 1e-12 || b.Low != 1 {
		t.Errorf("%+v, want 1 to 3", b)
	}
}
