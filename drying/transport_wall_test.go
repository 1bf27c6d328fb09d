package drying

import (
	"context"
	"math"
	"testing"

	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// plateProblem is a flat wall with one material and no station.
func plateProblem(s *station.Surface, advancing, receding float64) *Problem {
	return &Problem{
		Body: &station.Body{
			Surface: s, Material: []int{0},
			Materials: []station.Material{{Name: "wall", Advancing: q.Degrees(advancing), Receding: q.Degrees(receding), Conductance: 200}},
			Product:   q.Celsius(20),
		},
		Liquid:   Liquid{Temperature: q.Celsius(20), Tension: 0.0727, Viscosity: mu20, Density: rho20},
		Room:     Room{Pressure: 101325, Temperature: q.Celsius(20), Humidity: 0.5, HeatTransfer: 12},
		Settings: usualSettings(),
	}
}

// plateAir is a jetLine that meets a plate at the station's datum.
type plateAir struct {
	jet jetLine
	s   *station.Surface
}

func (a plateAir) At(x float64, f *station.Field) {
	f.First, f.Last = 0, a.s.Rows
	for k, pos := range a.s.Pos {
		at := pos.X + x
		f.P[k] = a.jet.p(at)
		tau, grad := a.jet.tau(at), a.jet.gradient(at)
		f.TauS[k], f.TauA[k] = tau*a.s.Along[k].X, tau*a.s.Around[k].X
		f.GradS[k], f.GradA[k] = grad*a.s.Along[k].X, grad*a.s.Around[k].X
		r := at / a.jet.width
		f.Ue[k] = 93.5 * math.Sqrt(1-math.Exp(-38.5*r*r)) / math.Sqrt(math.Max(1, math.Abs(r)/0.3))
	}
}

// slotJet is the jet of a 1.5 mm slot at 20 kPa, 40 mm away.
var slotJet = jetLine{peak: 5250, shear: 36.8, width: 0.040}

// passUnder carries a plate with a film of thickness h under the usual jet and returns what is left per area in
// its middle [m].
func passUnder(t testing.TB, p *Problem, speed, h float64) float64 {
	t.Helper()
	s := p.Body.Surface
	p.Passes = []Pass{{Station: "jet", Air: plateAir{slotJet, s}, From: -0.30, To: 0.08, Speed: speed}}
	r := newTransportRun(p, TransportOptions{})
	defer r.team.stop()
	f := r.f
	for row := range f.g.rows {
		for c := range f.g.cols {
			f.film.h[f.g.at(row, c)] = h
		}
	}
	f.film.refresh(0, f.g.rows)
	r.in = f.held()
	if err := r.all(context.Background()); err != nil {
		t.Fatal(err)
	}
	sum, n := 0.0, 0.0
	for row := range f.g.rows {
		for c := range f.g.cols {
			if x := s.Pos[row*s.Cols+c].X; x > 0.08 && x < 0.13 {
				sum += f.cellWater(f.g.at(row, c))
				n++
			}
		}
	}
	return sum / n
}

func TestReferenceShearedFilmThinsAsTheKinematicWave(t *testing.T) {
	// h = mu s/(tau t) at distance s from the edge of the wall: closed form of h_t + (tau h/mu) h_s = 0.
	const tau, until = 20.0, 0.05
	s := plate(60, 1, 1e-3, 1e-3, alongX, alongY)
	g := newWallGrid(s)
	f := newFilm(g, mu20, rho20, puddle20)
	tauS, none := make([]float64, g.size), make([]float64, g.size)
	for r := range g.rows {
		f.h[g.at(r, 0)], tauS[g.at(r, 0)] = 200e-6, tau
	}
	f.refresh(0, g.rows)
	f.drive(0, g.rows, tauS, none, none)
	advanceFilm(f, until)
	for _, r := range []int{15, 30, 45} {
		want := mu20 * s.S[r] / (tau * until)
		// The edge itself is resolved to a cell, 1 mm: a shift of the whole wave.
		if got := f.h[g.at(r, 0)]; math.Abs(got/want-1) > g.area[g.at(r, 0)]/1e-3/s.S[r] {
			t.Errorf("%.1f mm from the edge: %.2f um, closed form %.2f um", s.S[r]*1e3, got*1e6, want*1e6)
		}
	}
}

func TestReferenceDrainedFilmIsJeffreys(t *testing.T) {
	// h = sqrt(mu z/(rho g t)), Jeffreys (1930), from memory of the source, re-derived.
	const until = 3.0
	s := plate(58, 1, 2e-3, 2e-3, alongZ, alongX)
	g := newWallGrid(s)
	f := newFilm(g, mu20, rho20, puddle20)
	for r := range g.rows {
		f.h[g.at(r, 0)] = 300e-6
	}
	f.refresh(0, g.rows)
	none := make([]float64, g.size)
	f.drive(0, g.rows, none, none, none)
	advanceFilm(f, until)
	for _, r := range []int{47, 28, 10} {
		z := 0.116 - s.S[r]
		want := float64(water.DrainedFilm(water.Liquid{Density: rho20, Viscosity: mu20, Tension: 0.0727}, q.Length(z), until))
		if got := f.h[g.at(r, 0)]; math.Abs(got/want-1) > 0.03 {
			t.Errorf("%.0f mm below the top: %.2f um, closed form %.2f um", z*1e3, got*1e6, want*1e6)
		}
	}
}

// advanceFilm advances a film by itself.
func advanceFilm(f *film, seconds float64) {
	w := newFilmScratch(f.g)
	for left := seconds; left > 1e-12; {
		dt := min(left, courant/f.fastest(0, f.g.rows))
		f.step(0, f.g.rows, dt, w)
		f.swap()
		left -= dt
	}
}

func TestLawThinFilmPassesUnderTheJet(t *testing.T) {
	// A film thinner than the jet would leave loses nothing but the stretch by the air behind the line.
	if got := wipe(t, slotJet, 1, 1e-3, 5e-6, true); got < 4.7e-6 || got > 5.05e-6 {
		t.Errorf("of a 5 um film %.2f um is left", got*1e6)
	}
}

func TestLawSlowFrontDriesTheWall(t *testing.T) {
	p := plateProblem(plate(1, 120, 2e-3, 2e-3, alongMY, alongX), 80, 50)
	// Without drawing back the wiped film stays; with it, a few hundredths of that as small drops.
	wiped := slotJet.wiped(0.1)
	left := passUnder(t, p, 0.1, 60e-6)
	t.Logf("%.3f um left; wiping alone leaves %.2f um", left*1e6, wiped*1e6)
	if left > 0.1*wiped {
		t.Errorf("%.3f um left behind a front slower than the film draws back; wiping alone leaves %.2f um", left*1e6, wiped*1e6)
	}
}

func TestLawPoolIsBlownOutByPressureAboveItsDepth(t *testing.T) {
	for _, c := range []struct {
		press       float64 // Pa
		most, least float64 // share of the pool left
	}{{0, 1, 1}, {20, 1, 1}, {2000, 0.2, 0}} {
		p := canCase{cell: 4e-3}.problem(t)
		f := newFlow(p)
		r := &f.recess[0]
		if !r.pool.FacesUp {
			t.Fatal("the first pool is not the countersink")
		}
		before := 0.0
		for _, v := range r.water {
			before += v
		}
		for row := r.pool.Rows[0]; row < r.pool.Rows[1]; row++ {
			for col := range f.g.cols {
				f.drops.p[f.g.at(row, col)] = c.press
			}
		}
		total := f.held()
		for range 100 {
			f.scoop(r, 1e-3)
		}
		after := 0.0
		for _, v := range r.water {
			after += v
		}
		if share := after / before; share > c.most || share < c.least {
			t.Errorf("%.0f Pa leaves %.3f of the pool", c.press, share)
		}
		if math.Abs(f.held()/total-1) > 1e-12 {
			t.Errorf("%.0f Pa: %g of %g m3", c.press, f.held(), total)
		}
	}
}

func TestReferenceFastFrontLeavesTheWipedFilm(t *testing.T) {
	// A film that has no time to break is left as on a wetting wall: closed form of jet wiping. The tolerance is
	// the kernel's at 2 mm plus the edges of the wall.
	p := plateProblem(plate(1, 120, 2e-3, 2e-3, alongMY, alongX), 80, 50)
	p.Settings.HoleSpacing = 100
	want := slotJet.wiped(2)
	if got := passUnder(t, p, 2, 150e-6); math.Abs(got/want-1) > 0.08 {
		t.Errorf("%.2f um left, closed form %.2f um", got*1e6, want*1e6)
	}
}

func TestReferenceFilmBreaksIntoDropsOfItsSize(t *testing.T) {
	// A 5 um film on PET at 4 mm hole spacing: drops whose mean volume is 2.54 (h spacing)^1.5 have a volume
	// median 1.27 times the size of that mean at a spread of 0.4; from memory of Rayleigh-Plateau break-up.
	const h = 5e-6
	p := plateProblem(plate(4, 8, 2e-3, 2e-3, alongX, alongY), 80, 50)
	r := newTransportRun(p, TransportOptions{})
	defer r.team.stop()
	f := r.f
	for row := range f.g.rows {
		for c := range f.g.cols {
			f.film.h[f.g.at(row, c)] = h
		}
	}
	f.film.refresh(0, 4)
	before := f.held()
	if err := r.drain(context.Background(), 0.1); err != nil {
		t.Fatal(err)
	}
	if after := f.held(); math.Abs(after/before-1) > 1e-12 {
		t.Errorf("%g m3 of %g left", after, before)
	}
	contact := float64(q.Degrees(65))
	volume := math.Pi / 24 * (2 - 3*math.Cos(contact) + math.Pow(math.Cos(contact), 3)) / math.Pow(math.Sin(contact), 3)
	want := math.Cbrt(2.54/volume) * math.Sqrt(h*4e-3) * math.Exp(1.5*0.16)
	bins := f.drops.stuck[f.g.at(1, 1)]
	sum, median := 0.0, 0.0
	for b, v := range bins {
		if sum+v >= h/2 && median == 0 {
			x := (h/2 - sum) / v
			median = binSize(b) * math.Pow(binRatio, x-0.5)
		}
		sum += v
	}
	if f.film.h[f.g.at(1, 1)] != 0 || math.Abs(median/want-1) > 0.03 {
		t.Errorf("film %g um, volume median %.3f mm, want 0 and %.3f", f.film.h[f.g.at(1, 1)]*1e6, median*1e3, want*1e3)
	}
}

func TestReferenceDropMovesWhenPushedHarderThanHeld(t *testing.T) {
	// The critical size of the shared drop relation, at rest and at the speed that the drop then has.
	p := plateProblem(plate(3, 4, 2e-3, 2e-3, alongX, alongY), 80, 50)
	f := newFlow(p)
	d, i := f.drops, f.g.at(1, 1)
	w := water.Wetting{Advancing: q.Degrees(80), Receding: q.Degrees(50)}
	rho, nu := d.air.rho, d.air.nu
	const bin = 8
	size := binSize(bin)
	critical := func(tau, v float64) float64 {
		return float64(water.CriticalDiameter(f.liquid, w, water.Stream{
			Density: q.Density(rho), Nu: q.KinematicViscosity(nu), Shear: q.Stress(tau), Edge: 200,
		}, 0.2, q.Speed(v)))
	}
	lo, hi := 1.0, 200.0
	for range 60 {
		if mid := (lo + hi) / 2; critical(mid, 0) > size {
			lo = mid
		} else {
			hi = mid
		}
	}
	speed := func(tau float64) float64 {
		d.step++
		d.tauS[i], d.edge[i] = tau, 200
		if d.velocities(i, bin) > bin {
			return 0
		}
		return float64(d.v[i][bin].s)
	}
	if v := speed(lo * 0.99); v != 0 {
		t.Errorf("pushed by 0.99 of what holds it, the drop moves at %g m/s", v)
	}
	before := 0.0
	for _, x := range []float64{1.01, 1.2, 1.5, 2} {
		v := speed(lo * x)
		if v <= before {
			t.Errorf("at %.2f of the critical shear the drop moves at %g m/s, at less at %g", x, v, before)
		}
		if got := critical(lo*x, v); math.Abs(got/size-1) > 0.02 { // tables of speed and of the air's profile
			t.Errorf("the drop of %.3f mm moves at %.3f m/s; the relation has %.3f mm", size*1e3, v, got*1e3)
		}
		before = v
	}
}

func TestReferenceTrappedWaterSpeedsUpAsItShrinks(t *testing.T) {
	// Half the clearing time clears 0.29 of trapped water held back by viscosity and 0.20 of one held back by inertia:
	// closed forms 1 - sqrt(1-x) and 1 - exp(-erfinv(x)^2).
	for _, c := range []struct {
		name      string
		gap, want float64
	}{{"viscous", 0.05e-3, 0.293}, {"inertial", 5e-3, 0.203}} {
		p := plateProblem(plate(3, 4, 2e-3, 2e-3, alongX, alongY), 80, 50)
		p.Arrives.TrappedFull = 1
		p.Body.Crevices = []station.Crevice{{Name: "gap", Row: 1, Gap: c.gap, Depth: 10e-3, Radius: 5e-3, Exit: exitVents, Volume: 1e-8}}
		f := newFlow(p)
		r := &f.reservoir[0]
		const net = 20e3
		way := water.Crevice{Width: q.Length(c.gap), Length: 10e-3}
		half := float64(way.ClearingTime(f.liquid, net)) / 2
		const steps = 50
		for range steps {
			f.push(r, 0, net+r.hold, 0, half/steps)
		}
		if got := 1 - float64(r.pieces[0].Length)/r.whole; math.Abs(got-c.want) > 0.02 {
			t.Errorf("%s: %.3f cleared in half the time, closed form %.3f", c.name, got, c.want)
		}
	}
}

func TestLawRimHoldsABeadUntilAirOrWeightTakesIt(t *testing.T) {
	b := canBody(t, 4e-3)
	f := newFlow(canProblem(t, b, knives{tilt: tiltDown, pressure: 20e3}, 1))
	var top *rim
	for k := range f.rims.list {
		if !f.rims.list[k].ring {
			top = &f.rims.list[k]
		}
	}
	if top == nil {
		t.Fatal("the can has no rim")
	}
	i := f.g.at(top.row, 0)
	bead := 0.5e-6 * f.g.lenS[i] // half a square millimetre
	top.bead[0] = bead
	f.rims.gather(1e-3)
	if top.bead[0] != bead {
		t.Errorf("in still air %g of %g m3 stays", top.bead[0], bead)
	}
	f.drops.edge[i] = 60
	f.rims.gather(1e-3)
	if top.bead[0] > bead/2 || f.rims.lost.BlownOff == 0 {
		t.Errorf("at 60 m/s %g of %g m3 stays", top.bead[0], bead)
	}
	f.drops.edge[i] = 0
	top.bead[0] = 20e-6 * f.g.lenS[i]
	f.rims.gather(1e-3)
	if held := top.bead[0] / f.g.lenS[i]; held < 4e-6 || held > 12e-6 { // the largest bead that surface tension carries: 7.4 mm2 per unit of angle terms
		t.Errorf("a rim holds %.1f mm2 against weight", held*1e6)
	}
	moved := 0.0
	for row := range f.g.rows {
		for _, v := range f.drops.moving[f.g.at(row, 0)] {
			moved += v
		}
	}
	if moved == 0 {
		t.Error("what the rim does not hold does not run down the wall")
	}
}

func TestLawRidgeIsTornOnlyWhereFastAirMeets(t *testing.T) {
	build := func(u float64, meet bool) (left, mist float64) {
		p := plateProblem(plate(3, 8, 2e-3, 2e-3, alongZ, alongX), 80, 50)
		f := newFlow(p)
		for r := range 3 {
			for c := range 8 {
				i := f.g.at(r, c)
				f.drops.edge[i] = u
				f.drops.tauA[i] = 20
				if meet && c > 4 {
					f.drops.tauA[i] = -20
				}
			}
			f.g.wrapRow(f.drops.edge, r)
			f.g.wrapRow(f.drops.tauA, r)
		}
		i := f.g.at(1, 4)
		f.film.h[i] = 1e-3
		f.film.refresh(0, 3)
		for range 1000 {
			f.tear(1, 1e-3)
		}
		return f.film.h[i], f.gone().Mist
	}
	if left, mist := build(60, false); left != 1e-3 || mist != 0 {
		t.Errorf("where the air runs one way %g mm is left, %g m3 of mist", left*1e3, mist)
	}
	slow, _ := build(10, true)
	medium, _ := build(40, true)
	fast, mist := build(80, true)
	if slow != 1e-3 || !(medium < slow) || !(fast < medium) || mist == 0 {
		t.Errorf("left at 10, 40, 80 m/s: %.3f, %.3f, %.3f mm", slow*1e3, medium*1e3, fast*1e3)
	}
}

// The bands of both methods overlap on the side of a can, where they are farthest apart.
func TestLawQuickAndTransportAreNotFarApart(t *testing.T) {
	for _, u := range []float64{0.3, 1, 2} {
		p := canCase{speed: u}.problem(t)
		quick, err := Quick(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		a, b := zone(t, quick.After, "sidewall").Left, zone(t, transported(t, p, TransportOptions{}).After, "sidewall").Left
		t.Logf("%.1f m/s: sidewall quick %.0f (%.0f to %.0f) mg, transport %.0f (%.0f to %.0f) mg", u,
			a.Likely*1e6, a.Low*1e6, a.High*1e6, b.Likely*1e6, b.Low*1e6, b.High*1e6)
		if a.Low > b.High || b.Low > a.High {
			t.Errorf("%.1f m/s: the bands do not overlap", u)
		}
	}
}

// alone moves film and drops by dt without letting them exchange water.
func (f *flow) alone(t *team, dt float64) {
	f.share(t)
	t.run(func(w int) {
		f.deal(t, w, func(r int) { f.rate(r, dt) })
		f.move(t, w, dt)
		t.deal(w, func(j int) { f.drops.joinSeams(j, f.dropSteps-1) })
	})
}

func TestReferenceDropsTravelAtTheirSpeed(t *testing.T) {
	// The centre of a patch of drops moves at the drop's own speed under even air; upwind transport spreads it
	// but does not shift it. Along the profile they cross from tier to tier on their way.
	const bin, dt, steps, cell, from = 11, 1e-3, 100, 2e-3, 20
	for name, c := range map[string]struct{ rows, cols, up, right int }{
		"around": {1, 200, 0, 1}, "back around": {1, 200, 0, -1},
		"up": {200, 3, 1, 0}, "down": {200, 3, -1, 0},
	} {
		p := plateProblem(plate(c.rows, c.cols, cell, cell, alongMY, alongX), 80, 50)
		f := newFlow(p)
		d := f.drops
		for r := range c.rows {
			for col := range c.cols {
				i := f.g.at(r, col)
				d.tauS[i], d.tauA[i], d.edge[i] = 10*float64(c.up), 10*float64(c.right), 200
			}
			f.g.wrapRow(d.tauS, r)
			f.g.wrapRow(d.tauA, r)
		}
		d.step++
		place := func(k int) int { // the k-th cell on the drops' way
			switch {
			case c.up > 0:
				return f.g.at(k, 1)
			case c.up < 0:
				return f.g.at(c.rows-1-k, 1)
			case c.right < 0:
				return f.g.at(0, c.cols-1-k)
			}
			return f.g.at(0, k)
		}
		i := place(from)
		d.moving[i][bin] = 1e-5
		d.recount()
		crew := newTeam(1)
		for range steps {
			f.alone(crew, dt)
		}
		v := float64(max(d.v[i][bin].s, d.v[i][bin].a))
		sum, centre := 0.0, 0.0
		for k := range 200 {
			m := d.moving[place(k)][bin]
			sum, centre = sum+m, centre+m*float64(k-from)*cell
		}
		if got, want := centre/sum, v*dt*steps; v <= 0 || math.Abs(got/want-1) > 0.01 {
			t.Errorf("%s: moved %.1f mm in 0.1 s at %.3f m/s", name, got*1e3, v)
		}
		if math.Abs(sum/1e-5-1) > 1e-12 {
			t.Errorf("%s: of 10 um there are %.13g", name, sum*1e6)
		}
	}
}

// Slow drops that take fewer and longer steps than the fast ones beside them make their way, and none is made or lost.
func TestLawDropsKeepTheirOwnPace(t *testing.T) {
	p := plateProblem(plate(1, 200, 2e-3, 2e-3, alongMY, alongX), 80, 50)
	f := newFlow(p)
	d, bin := f.drops, 11
	for c := range 200 { // one half is blown ten times as hard as the other
		d.tauA[f.g.at(0, c)], d.edge[f.g.at(0, c)] = 30, 200
		if c < 100 {
			d.tauA[f.g.at(0, c)] = 3
		}
	}
	f.g.wrapRow(d.tauA, 0)
	d.step++
	slow, fast := f.g.at(0, 20), f.g.at(0, 110)
	d.moving[slow][bin], d.moving[fast][bin] = 1e-5, 1e-5
	d.recount()
	before := f.held()
	crew := newTeam(1)
	const dt, looks = 2e-3, 20
	for look := range looks {
		f.alone(crew, dt)
		if look == 0 && !(d.seen[slow].pace == 1 && d.seen[fast].pace > 1) {
			t.Errorf("slow drops take %d steps, fast ones %d", d.seen[slow].pace, d.seen[fast].pace)
		}
	}
	if after := f.held(); math.Abs(after/before-1) > 1e-12 {
		t.Errorf("of %g m3 there are %g", before, after)
	}
	sum, centre := 0.0, 0.0
	for c := range 100 {
		m := d.moving[f.g.at(0, c)][bin]
		sum, centre = sum+m, centre+m*float64(c-20)*2e-3
	}
	v := float64(d.v[slow][bin].a)
	if got, want := centre/sum, v*dt*looks; v <= 0 || math.Abs(got/want-1) > 0.02 {
		t.Errorf("slow drops came %.1f mm far, at %.3f m/s %.1f", got*1e3, v, want*1e3)
	}
}

func BenchmarkDrops(b *testing.B) {
	// Every cell holds drops of all sizes in motion; per cell and step.
	p := plateProblem(plate(100, 100, 2e-3, 2e-3, alongX, alongY), 80, 50)
	f := newFlow(p)
	d := f.drops
	for r := range 100 {
		for c := range 100 {
			i := f.g.at(r, c)
			d.tauS[i], d.tauA[i], d.edge[i] = 10, 5, 60
			for bin := 8; bin < dropBins; bin++ {
				d.moving[i][bin] = 1e-6
			}
		}
		f.g.wrapRow(d.tauA, r)
	}
	d.step++
	d.recount()
	crew := newTeam(1)
	f.alone(crew, 1e-5)
	n := 0
	for b.Loop() {
		f.alone(crew, 1e-5)
		n++
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(n)/1e4*1e9, "ns/cell")
}
