package drying

import (
	"context"
	"math"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// halves are problems of containers that the air treats alike on both sides, with their air kept.
func halves(t *testing.T) []*Problem {
	var all []*Problem
	for _, c := range []canCase{
		{cell: 10e-3},
		{cell: 5e-3, pressure: 6e3},
		{cell: 4e-3, speed: 0.4},
		{cell: 3e-3, pressure: 40e3},
		{cell: 5e-3, pressure: 8e3, change: steep("330 standard")},
		{cell: 10e-3, pressure: 25e3, change: steep("500")},
	} {
		p := c.problem(t)
		p.Machines = []Machine{{Kind: "coder", Travel: 0.5}, {Kind: "packer", Travel: 20, After: 1}}
		again := p.Passes[0]
		again.Before = 1
		p.Passes = append(p.Passes, again)
		p.Spreads = NoSpreads(p)
		for i := range p.Passes {
			pass := &p.Passes[i]
			var err error
			if pass.Air, err = NewReplay(context.Background(), pass.Air.(*station.Exposer), p.Body.Surface, pass.From, pass.To); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, p)
	}
	return all
}

// steep drives water over the middle of a can's end, where a half may end in columns that are merged.
func steep(size string) func(*job.Job) {
	return func(j *job.Job) {
		j.Formats[0].Container.Size = size
		for i := range j.Stations[0].Outlets {
			o := &j.Stations[0].Outlets[i]
			o.Tilt, o.AimDown, o.Height = q.Known(q.Degrees(50)), q.Known(q.Degrees(20)), q.Known(q.Length(80e-3))
		}
	}
}

// Where the air is the same on both sides of the line, so is the water, to the last bit, and the half that is followed
// alone is that of the whole.
func TestLawHalfAContainerIsThatOfTheWhole(t *testing.T) {
	for i, p := range halves(t) {
		p.Settings.MistBack, p.Settings.Rewetting = 0, 0 // what comes back is a sum over the container
		follow := func(o TransportOptions) *flow {
			r := newTransportRun(p, o)
			defer r.team.stop()
			if err := r.pass(context.Background(), 0); err != nil {
				t.Fatal(err)
			}
			return r.f
		}
		whole := follow(TransportOptions{})
		p.Laid = Lay(p)
		half := follow(TransportOptions{Machines: true})
		if !half.g.half() || whole.g.half() {
			t.Fatalf("problem %d: not a half and a whole", i)
		}
		off := 0
		for r := range whole.g.rows {
			for c := range whole.g.cols {
				k, h := whole.g.at(r, c), half.g.at(r, min(c, whole.g.cols-1-c))
				if whole.film.h[k] != half.film.h[h] || whole.drops.stuck[k] != half.drops.stuck[h] || whole.drops.moving[k] != half.drops.moving[h] {
					off++
				}
			}
		}
		if off > 0 {
			t.Errorf("problem %d: %d cells of %d differ", i, off, whole.g.rows*whole.g.cols)
		}
	}
}

// What is told of a half at the machines is what is told of the whole. Only sums over the container differ, in their
// rounding.
func TestLawHalfAContainerTellsOfTheWhole(t *testing.T) {
	const rounding = 1e-13
	for n, p := range halves(t) {
		follow := func(o TransportOptions) Outcome {
			all, err := TransportTogether(context.Background(), []*Problem{p}, o)
			if err != nil {
				t.Fatal(err)
			}
			return all[0]
		}
		whole := follow(TransportOptions{})
		p.Laid = Lay(p)
		for range 2 { // the second time on what the first has left behind
			half := follow(TransportOptions{Machines: true})
			for m := range whole.At {
				for z := range whole.At[m].Zones {
					a, b := &whole.At[m].Zones[z], &half.At[m].Zones[z]
					for k, v := range [][2]float64{
						{a.Film, b.Film}, {a.Drops, b.Drops}, {a.Trapped, b.Trapped}, {a.Pool, b.Pool}, {a.Condensed, b.Condensed},
					} {
						if math.Abs(v[0]-v[1]) > rounding*whole.Balance.In {
							t.Errorf("problem %d, machine %d, %s, part %d: %g kg on the whole, by its half %g", n, m, a.Zone, k, v[0], v[1])
						}
					}
					if math.Abs(a.Largest.Likely-b.Largest.Likely) > rounding || a.Where != b.Where || a.Cause != b.Cause {
						t.Errorf("problem %d, machine %d: %+v, by its half %+v", n, m, a, b)
					}
				}
			}
			for k, v := range [][2]float64{
				{whole.Balance.In, half.Balance.In},
				{whole.Balance.BlownOff, half.Balance.BlownOff},
				{whole.Balance.Mist, half.Balance.Mist},
				{whole.Balance.Dripped, half.Balance.Dripped},
				{whole.Balance.Left, half.Balance.Left},
				{0, half.Balance.Closure},
			} {
				if math.Abs(v[0]-v[1]) > 10*rounding*math.Max(1e-1, whole.Balance.In) {
					t.Errorf("problem %d, balance %d: %g, by the half %g", n, k, v[0], v[1])
				}
			}
		}
	}
}

// A problem whose water arrives otherwise is not taken for the one that was laid.
func TestLawLaidWaterServesNoOtherProblem(t *testing.T) {
	p := canCase{cell: 10e-3}.problem(t)
	l := Lay(p)
	like := *p
	like.Settings.Pressure, like.Passes = 1.1, nil
	if !l.serves(&like) {
		t.Error("it does not serve the same water under other air")
	}
	for name, change := range map[string]func(*Problem){
		"more water": func(p *Problem) { p.Arrives.Film *= 2 }, "warmer": func(p *Problem) { p.Liquid.Viscosity /= 2 },
		"another drag": func(p *Problem) { p.Settings.Drag *= 2 }, "another room": func(p *Problem) { p.Room.Humidity /= 2 },
		"another body": func(p *Problem) { b := *p.Body; p.Body = &b },
	} {
		other := *p
		change(&other)
		if l.serves(&other) {
			t.Errorf("%s: served", name)
		}
	}
	if (*Laid)(nil).serves(p) {
		t.Error("nothing serves")
	}
}
