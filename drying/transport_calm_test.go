package drying

import (
	"context"
	"math"
	"testing"
)

// Where columns are merged the film of a group is one film: when it breaks it does so everywhere in the group. It
// once broke column by column, each time drowned by what the others still held, without an end.
func TestFilmOfMergedColumnsBreaksForGood(t *testing.T) {
	r := newTransportRun(canCase{}.problem(t), TransportOptions{})
	defer r.team.stop()
	f := r.f
	row := -1
	for i := range f.g.rows {
		if f.g.merge[i] > 1 && f.fade[f.wall[f.g.at(i, 0)]] > 0 {
			row = i // the last one: the middle of the top
		}
	}
	if row < 0 {
		t.Fatal("no row with merged columns that the water does not wet")
	}
	for c := range f.g.cols {
		i := f.g.at(row, c)
		f.film.h[i], f.age[i] = 20e-6, float64(c)/float64(f.g.cols)
	}
	f.even(row)
	f.film.refresh(0, f.g.rows)
	f.blow(r.team, nil)
	for range 100 {
		f.advance(r.team, 5e-3)
	}
	for c := range f.g.cols {
		if h := f.film.h[f.g.at(row, c)]; h > 0 {
			t.Errorf("column %d still has a film of %g m after half a second, several times the time in which it breaks", c, h)
		}
	}
}

// Water that drains settles, so that its steps may grow: the answer is that of many small ones.
func TestLawDrainageDoesNotDependOnItsSteps(t *testing.T) {
	const seconds = 4.0
	run := func(drain func(r *transportRun)) float64 {
		r := newTransportRun(canCase{}.problem(t), TransportOptions{})
		defer r.team.stop()
		for row := range r.f.g.rows {
			for c := range r.f.g.cols {
				r.f.film.h[r.f.g.at(row, c)] = 1e-3
			}
		}
		r.f.film.refresh(0, r.f.g.rows)
		drain(r)
		return r.f.held()
	}
	got := run(func(r *transportRun) {
		if err := r.drain(context.Background(), seconds); err != nil {
			t.Fatal(err)
		}
	})
	want := run(func(r *transportRun) {
		r.f.travel = 0
		r.f.blow(r.team, nil)
		r.f.drops.step++
		const small = 1e-3
		for range int(seconds / small) {
			r.f.advance(r.team, small)
		}
	})
	undrained := run(func(*transportRun) {})
	if !(undrained > 1.01*want) {
		t.Fatalf("hardly anything drains, from %g to %g m3: nothing is tested", undrained, want)
	}
	if math.Abs(got-want) > 0.005*want {
		t.Errorf("%g m3 left with growing steps, %g with small ones", got, want)
	}
}

// Under air that stands still the steps grow as well; what the container carries on is that of many small ones.
func TestLawStandingDoesNotDependOnItsSteps(t *testing.T) {
	const seconds, allowed = 4.0, 0.012
	b := canBody(t, 4e-3)
	for _, at := range []float64{0.4, 0.5, 0.6} { // share of the way
		run := func(stand func(r *transportRun, s *Pass, air *airAhead) error) float64 {
			p := canProblem(t, b, knives{tilt: tiltDown, pressure: 20e3}, 1)
			s := &p.Passes[0]
			s.Stand, s.StandAt = seconds, s.From+at*(s.To-s.From)
			r := newTransportRun(p, TransportOptions{})
			defer r.team.stop()
			air := newAirAhead(p, s, r.team, true)
			r.f.travel = s.Speed
			if err := r.move(context.Background(), s, air, s.From, s.StandAt, 0); err != nil {
				t.Fatal(err)
			}
			if err := stand(r, s, air); err != nil {
				t.Fatal(err)
			}
			return r.f.held()
		}
		got := run(func(r *transportRun, s *Pass, air *airAhead) error {
			return r.stand(context.Background(), s, air, 0)
		})
		want := run(func(r *transportRun, s *Pass, air *airAhead) error {
			r.f.blow(r.team, air.at(0, 1, s.StandAt, 0))
			const small = 1e-3
			for range int(seconds / small) {
				r.f.advance(r.team, small)
			}
			return air.err
		})
		before := run(func(*transportRun, *Pass, *airAhead) error { return nil })
		if !(before > 1.1*want) {
			t.Fatalf("standing hardly dries, from %g to %g m3: nothing is tested", before, want)
		}
		if math.Abs(got-want) > allowed*want {
			t.Errorf("standing at %g of the way: %g m3 left with growing steps, %g with small ones", at, got, want)
		}
	}
}
