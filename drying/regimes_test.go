package drying

import (
	"context"
	"math"
	"testing"

	"leste/job"
	"leste/physics/relation"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// smoothWave is the error of a smooth wave of film under even shear on n cells, summed over the wall, over its mean
// film. It steepens as h = h0(x - tau h t/mu): characteristics of h_t + (tau h/mu) h_s = 0, solved by iteration. finer
// divides the usual step.
func smoothWave(n int, finer float64) float64 {
	const long, tau, until, mean, swing = 0.2, 20.0, 0.02, 50e-6, 0.3
	start := func(x float64) float64 { return mean * (1 + swing*math.Sin(2*math.Pi*x/long)) }
	exact := func(x float64) float64 {
		h := start(x)
		for range 200 {
			h = start(x - tau*h*until/mu20)
		}
		return h
	}
	cell := long / float64(n)
	g := newWallGrid(plate(1, n, cell, cell, alongMY, alongX))
	f := newFilm(g, mu20, rho20, puddle20)
	tauA, none := make([]float64, g.size), make([]float64, g.size)
	for c := range n {
		f.h[g.at(0, c)] = start((float64(c) + 0.5) * cell)
		tauA[g.at(0, c)] = tau
	}
	g.wrapRow(tauA, 0)
	f.refresh(0, 1)
	f.drive(0, 1, none, tauA, none)
	w := newFilmScratch(g)
	for left := until; left > 1e-12; {
		dt := min(left, courant/finer/f.fastest(0, 1))
		f.step(0, 1, dt, w)
		f.swap()
		left -= dt
	}
	sum := 0.0
	for c := range n {
		sum += math.Abs(f.h[g.at(0, c)]-exact((float64(c)+0.5)*cell)) * cell
	}
	return sum / (long * mean)
}

// With steps so short that only the grid tells, the film converges at nearly second order; with the usual steps at
// first order, from an error that is small already: 0.15 % on cells of 2 mm. Both orders are logged.
func TestReferenceFilmConvergesAtItsOrder(t *testing.T) {
	cells := []int{50, 100, 200}
	for i := 1; i < len(cells); i++ {
		finer := float64(cells[i]) // the step falls with the square of the cell
		space := math.Log2(smoothWave(cells[i-1], finer/2) / smoothWave(cells[i], finer))
		a, b := smoothWave(cells[i-1], 1), smoothWave(cells[i], 1)
		t.Logf("%d to %d cells: order %.2f of the grid alone; with the usual steps %.2f, error %.2g", cells[i-1], cells[i], space, math.Log2(a/b), b)
		if space < 1.7 {
			t.Errorf("%d to %d cells: order %.2f of the grid alone", cells[i-1], cells[i], space)
		}
		if order := math.Log2(a / b); order < 0.95 || b > 1.5e-3*100/float64(cells[i]) {
			t.Errorf("%d to %d cells with the usual steps: order %.2f, error %.2g", cells[i-1], cells[i], order, b)
		}
	}
}

// opposed blows two streams together on an upright wall: on an upright line in its middle column, or on a level
// one in its middle row.
func opposed(f *flow, u float64, level bool) *station.Field {
	s := f.p.Body.Surface
	a := NewField(s)
	a.First, a.Last = 0, s.Rows
	const shear = 20.0
	for r := range s.Rows {
		for c := range s.Cols {
			k := r*s.Cols + c
			a.Ue[k] = u
			switch {
			case level && r != s.Rows/2:
				a.TauS[k] = math.Copysign(shear, float64(s.Rows/2-r))
			case !level && c != s.Cols/2:
				a.TauA[k] = math.Copysign(shear, float64(s.Cols/2-c))
			}
		}
	}
	return a
}

// Where two streams of air meet, a ridge stays that the air does not tear: what surface tension holds against it,
// or a ridge lower than mist comes from, whichever is more. Both fall with the fourth power of the air's speed.
func TestLawRidgeBetweenOpposedJets(t *testing.T) {
	l := water.Liquid{Density: rho20, Viscosity: mu20, Tension: 0.0727}
	for _, u := range []float64{15, 30, 60, 120} {
		p := plateProblem(plate(3, 8, 2e-3, 2e-3, alongZ, alongX), 80, 50)
		f := newFlow(p)
		crew := newTeam(1)
		f.blow(crew, opposed(f, u, false))
		i := f.g.at(1, 4)
		f.film.h[i] = 3e-3
		f.film.refresh(0, 3)
		before := f.held()
		for range 3000 {
			f.tear(1, 1e-3)
		}
		once := f.film.h[i]
		f.film.h[i] = 3e-3
		for range 300 { // steps ten times as long leave as much
			f.tear(1, 1e-2)
		}
		if math.Abs(f.film.h[i]/once-1) > 0.01 {
			t.Errorf("%g m/s: %g m stay by long steps, %g m by short ones", u, f.film.h[i], once)
		}
		f.lost[1].Mist -= (3e-3 - f.film.h[i]) * f.g.area[i]
		rho := f.drops.air.rho
		holds := float64(water.RidgeCapacity(l, f.walls[0].Wetting, q.Density(rho), q.Speed(u), q.Degrees(90)))
		// A cap as high as the thinnest ridge that mist comes from.
		onset := water.MistOnset * 0.0727 / (rho * u * u)
		wide := onset / water.CapHeightFactor(q.Degrees(65))
		want := max(holds, min(water.CapFrontFactor(q.Degrees(65))*wide*wide, onset*2e-3))
		if got := f.film.h[i] * 2e-3; math.Abs(got/want-1) > 0.01 {
			t.Errorf("%g m/s: a ridge of %.4f mm2 stays, want %.4f", u, got*1e6, want*1e6)
		}
		if after := f.held() + f.gone().Mist; math.Abs(after/before-1) > 1e-12 {
			t.Errorf("%g m/s: %g of %g m3", u, after, before)
		}
	}
	fast := func(u q.Speed) float64 {
		return float64(water.RidgeCapacity(l, water.Wetting{Advancing: q.Degrees(80), Receding: q.Degrees(50)}, 1.16, u, 0))
	}
	if ratio := fast(40) / fast(80); math.Abs(ratio/16-1) > 0.02 {
		t.Errorf("twice the speed holds 1/%.1f of a ridge, want 1/16", ratio)
	}
}

// Turned by a quarter, the line stands upright and its ridge runs down; on the level line it stays.
func TestLawUprightRidgeRunsDown(t *testing.T) {
	for _, level := range []bool{true, false} {
		p := plateProblem(plate(31, 31, 2e-3, 2e-3, alongZ, alongX), 80, 50)
		f := newFlow(p)
		crew := newTeam(1)
		f.blow(crew, opposed(f, 8, level))
		for k := range 31 {
			i := f.g.at(k, 15)
			if level {
				i = f.g.at(15, k)
			}
			f.film.h[i] = 1e-3
		}
		f.film.refresh(0, 31)
		total := f.held()
		for range 200 {
			f.advance(crew, 1e-3)
		}
		upper := 0.0
		for r := 15; r < 31; r++ {
			for c := range 31 {
				upper += f.cellWater(f.g.at(r, c)) * 4e-6
			}
		}
		// A level line lies in the upper half, an upright one half in it.
		share := upper / total
		if level && share < 0.99 {
			t.Errorf("of a level ridge %.0f %% is still where it was", 100*share)
		}
		if !level && share > 0.3 {
			t.Errorf("of an upright ridge %.0f %% is still in the upper half, 50 %% was", 100*share)
		}
	}
}

// Containers far apart do not know of each other.
func TestLawContainersFarApartAreAlone(t *testing.T) {
	left := func(gap q.Length) float64 {
		p := canCase{cell: 5e-3, change: func(j *job.Job) { j.Line.Gap = q.Known(gap) }}.problem(t)
		return transported(t, p, TransportOptions{}).After.Total.Likely
	}
	apart, farther, near := left(0.6), left(1.2), left(0.004)
	if math.Abs(apart/farther-1) > 1e-9 {
		t.Errorf("%g kg left 0.6 m apart, %g kg 1.2 m apart", apart, farther)
	}
	if near == apart {
		t.Errorf("4 mm apart as much is left as 0.6 m apart: %g kg", near)
	}
}

// What the method is not made for is said with the limit and the value.
func TestLawOutcomeSaysWhatItIsNotMadeFor(t *testing.T) {
	narrow := func(width float64) []relation.Note {
		s := plate(1, 60, 4e-3, 4e-3, alongMY, alongX)
		p := plateProblem(s, 80, 50)
		p.Arrives = Arrives{Film: 0.05, Drops: 0.05, DropMedian: 3.2e-3}
		p.Passes = []Pass{{Station: "jet", Air: plateAir{jetLine{peak: 5250, shear: 36.8, width: width}, s}, From: -0.3, To: 0.08, Speed: 1}}
		return transported(t, p, TransportOptions{}).Notes
	}
	if text := noteWith(narrow(0.04), "narrower than a cell"); text != "" {
		t.Errorf("a line of 11 mm on cells of 4 mm: %q", text)
	}
	found := false
	for _, n := range narrow(0.01) {
		if n.Severity == relation.Outside && n.Unit == "mm" && n.Value > 1 && n.Value < 4 && math.Abs(n.Limit-4) < 1e-9 {
			found = true
		}
	}
	if !found {
		t.Errorf("a line of 2.7 mm on cells of 4 mm: %v", narrow(0.01))
	}
	deep := func(film float64) string {
		s := plate(4, 60, 3e-3, 3e-3, alongX, alongY)
		p := plateProblem(s, 30, 3)
		p.Arrives = Arrives{Film: film}
		p.Passes = []Pass{{Station: "jet", Air: plateAir{slotJet, s}, From: -0.3, To: 0.08, Speed: 0.5}}
		out, err := Transport(context.Background(), p, TransportOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return noteWith(out.Notes, "deeper than a film")
	}
	if text := deep(0.02); text != "" {
		t.Errorf("20 g/m2: %q", text)
	}
	if deep(8) == "" {
		t.Error("8 kg/m2 of water, 8 mm deep, is taken for a film without a word")
	}
}

// Drops run no faster than friction under a film as fast lets them: tau = c_f rho v^2, 3.5 m/s at 37 Pa, and on an
// upright wall what the weight of the tallest drop adds. A missing density had let weight add 95 m/s.
func TestReferenceDropsRunNoFasterThanFrictionLets(t *testing.T) {
	for name, c := range map[string]struct {
		along station.Vec
		want  float64 // m/s
	}{
		"level":   {alongX, math.Sqrt(37 / (frictionOfThickFilm * rho20))},
		"upright": {alongZ, math.Sqrt(37/(frictionOfThickFilm*rho20) + water.CapHeightFactor(q.Degrees(65))*9.3e-3*9.81/frictionOfThickFilm)},
	} {
		around := alongY
		if name == "upright" {
			around = alongX
		}
		f := newFlow(plateProblem(plate(3, 4, 2e-3, 2e-3, c.along, around), 80, 50))
		d, i := f.drops, f.g.at(1, 1)
		d.step++
		d.tauA[i], d.edge[i] = 37, 90
		const bin = 11 // 2.4 mm
		d.velocities(i, bin)
		got := math.Hypot(float64(d.v[i][bin].s), float64(d.v[i][bin].a))
		if math.Abs(got/c.want-1) > 0.01 {
			t.Errorf("%s: a drop of %.1f mm runs at %.2f m/s, want %.2f", name, binSize(bin)*1e3, got, c.want)
		}
	}
}
