package design

import (
	"math"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// What the search holds for fitting is not told by the layout to have its bodies in anything. Stations were found whose
// top manifold stood in those beside it.
func TestLawWhatFitsHasRoomForItsBodies(t *testing.T) {
	for _, name := range []string{"cans-three-sizes", "glass-330-shoulder", "base-330-coder"} {
		s, err := newSearch(example(t, name), Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		looked, close := 0, 0
		for _, j := range s.judges {
			c := j.concept
			for i, x := range scatter(1, c.name, 200, len(c.variables)) {
				a := c.arrange(x)
				if c.ground.astray(&a) > 0 {
					continue
				}
				crowded := c.ground.crowded(&a) > 0
				if crowded {
					close++
				}
				const few = 3
				if c.ground.misfit(&a) > 0 || looked > few*(i+1) {
					continue
				}
				looked++
				filled := a.job(10e3)
				job.Fill(filled)
				plan, problems := station.Resolve(filled, station.ResolveOptions{Cell: layoutCell, Bodies: c.ground.bodies})
				for f := range plan.Formats {
					for _, n := range plan.Formats[f].Notes {
						if strings.Contains(n.Text, "behind the lip") && len(problems) == 0 {
							t.Errorf("%s, %s: %s, by %.1f mm", name, c.name, n.Text, n.Value)
						}
					}
				}
			}
		}
		if looked == 0 || close == 0 {
			t.Errorf("%s: %d that fit, %d whose bodies alone lack room", name, looked, close)
		}
	}
}

// Bodies that lack room lack less as they move apart, so that a search is led out.
func TestLawRoomForBodiesGrowsWithDistance(t *testing.T) {
	s, err := newSearch(example(t, "cans-three-sizes"), Options{Concepts: []string{"tilted manifolds and a top manifold"}})
	if err != nil {
		t.Fatal(err)
	}
	c := s.judges[0].concept
	x := c.stances()[2]
	place := c.groups[1].x.variable
	v := &c.variables[place]
	lacks := func(at float64) float64 {
		x[place] = v.at(at)
		a := c.arrange(x)
		return c.ground.crowded(&a)
	}
	away := lacks(v.Low) // what the sides lack by themselves
	last, most, falls := 0.0, 0.0, false
	const step, pairs = 10e-3, 6 // two beside it in three formats
	for at := v.High; at >= v.Low; at -= step {
		now := lacks(at) - away
		if falls && (now > last || now > 0 && now == last) {
			t.Errorf("with the top manifold at %.0f mm the bodies lack %g m, nearer %g m", at*1e3, now, last)
		}
		if at < v.High && math.Abs(now-last) > pairs*step+1e-9 {
			t.Errorf("with the top manifold at %.0f mm what the bodies lack jumps from %g to %g m", at*1e3, last, now)
		}
		last, most, falls = now, max(most, now), falls || now < last
	}
	if !(most > 0.1) || last > 0 {
		t.Errorf("at the worst they lack %g m, farthest off %g m", most, last)
	}
}

// A station that stands there keeps its bodies where they are: another pressure is not refused for them.
func TestLawWhatStandsThereMayStandClose(t *testing.T) {
	j := example(t, "cans-three-sizes")
	j.Line.Belt.Width = q.Known(q.Millimetres(400)) // the pipes reach below it
	for i := range j.Stations[0].Outlets {
		j.Stations[0].Outlets[i].PlenumBore = q.Known(q.Millimetres(100))
	}
	for state, fits := range map[string]bool{job.AsFound: true, job.Planned: false} {
		j.Stations[0].State = state
		s, err := newSearch(j, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, judge := range s.judges {
			c := judge.concept
			if !c.own || state == job.AsFound && c.name == asDrawn {
				continue
			}
			a := c.arrange(c.rule())
			if crowded := c.ground.crowded(&a); !(crowded > 0) || (c.ground.misfit(&a) == 0) != fits {
				t.Errorf("%s, %s: misfit %g, the bodies lack %g m", state, c.name, c.ground.misfit(&a), crowded)
			}
		}
	}
}

// The length on the conveyor was that of the lips, where the pipe behind a lip that is aimed steeply reaches farther and one
// across the belt is twelve times as wide as its slot. Worked by hand: a knife of 180 mm with a gap of 2 mm, 38 degrees steep
// and aimed down by 56, has a pipe of 37.1 mm behind it whose middle stands abreast of that of the lip; along the line go
// 164.9 mm of its length and 0.400 of its bore. One of 90 mm with 2.5 mm, straight across, takes the 29.3 mm of its pipe.
func TestLawLengthOnTheConveyorHoldsTheBodies(t *testing.T) {
	const degree = math.Pi / 180
	for _, c := range []struct {
		side             string
		tilt, down       float64
		length, gap, put float64
	}{{left, 38, 56, 180, 2, 179.8}, {right, 38, 56, 180, 2, 179.8}, {above, 90, 0, 90, 2.5, 29.3}} {
		p := station.Placed{Kind: job.AirKnife, Side: c.side, Length: c.length / 1e3, Gap: c.gap / 1e3, Opening: q.Area(c.length * c.gap * 1e-6)}
		p.Line, p.Axis = directions(c.side, c.tilt*degree, c.down*degree, 0)
		var o job.Outlet
		p.Plenum = float64(o.Plenum(p.Opening))
		const at = 0.6
		from, to := ends(at, &p)
		if got := (to - from) * 1e3; math.Abs(got-c.put) > 0.1 || math.Abs(to+from-2*at) > 1e-9 {
			t.Errorf("%s, tilt %g, aim %g: %.1f mm, %.1f to %.1f, want %.1f", c.side, c.tilt, c.down, got, from*1e3, to*1e3, c.put)
		}
	}
}
