package station

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"leste/job"
	q "leste/quantity"
)

// Two rods are as far apart as the nearest of many points along both are, but for the steps between those.
func TestLawRodsStandApartAsTheirPointsDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vec := func(name string) Vec {
			v := rapid.SliceOfN(rapid.Float64Range(-1, 1), 3, 3).Draw(t, name)
			return Vec{v[0], v[1], v[2]}
		}
		a, b := Rod{vec("a"), vec("to"), 0.1}, Rod{vec("b"), vec("end"), 0.2}
		got := stretches(&a, &b)
		const n = 60
		least, longest := math.Inf(1), a.To.sub(a.From).norm()+b.To.sub(b.From).norm()
		for i := 0; i <= n; i++ {
			for k := 0; k <= n; k++ {
				p := a.From.along(float64(i)/n, a.To.sub(a.From))
				least = math.Min(least, p.sub(b.From.along(float64(k)/n, b.To.sub(b.From))).norm())
			}
		}
		if got > least+1e-9 || got < least-longest/n {
			t.Errorf("%g, the nearest points are %g apart", got, least)
		}
		if other := stretches(&b, &a); math.Abs(other-got) > 1e-9 {
			t.Errorf("%g one way and %g the other", got, other)
		}
	})
	cross := [3]Rod{{Vec{-1, 0, 0}, Vec{1, 0, 0}, 0.1}, {Vec{-1, 0, 0}, Vec{1, 0, 0}, 0.1}, {Vec{-1, 0, 0}, Vec{1, 0, 0}, 0.1}}
	up := [3]Rod{{Vec{0, -1, 0}, Vec{0, 1, 0}, 0.2}, {Vec{0, -1, 0}, Vec{0, 1, 0}, 0.2}, {Vec{0, -1, 0}, Vec{0, 1, 0}, 0.2}}
	for dx, want := range map[float64]float64{0: -0.3, 1.5: 0.2} {
		if got := Between(&cross, &up, dx); math.Abs(got-want) > 1e-12 {
			t.Errorf("moved by %g they stand %g apart, want %g", dx, got, want)
		}
	}
}

// bodyNotes are what the layout tells of bodies.
func bodyNotes(t *testing.T, j *job.Job) map[string]float64 {
	t.Helper()
	job.Fill(j)
	plan, problems := Resolve(j, ResolveOptions{Cell: 4e-3})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	out := map[string]float64{}
	for _, n := range plan.Formats[0].Notes {
		if strings.Contains(n.Text, "behind the lip") {
			out[n.Text] = n.Value
		}
	}
	return out
}

// Bodies behind lips that stand clear of each other were drawn into each other, and nothing said so.
func TestLawBodiesThatMeetAreTold(t *testing.T) {
	line := func() *job.Job {
		j := canLine()
		j.Line.Belt.Lift, j.Line.Belt.Width = false, known(400)
		o := &j.Stations[0].Outlets[0]
		o.Height, o.Tilt, o.AimDown, o.Length = known(90), turned(0), turned(50), known(150)
		return j
	}
	if got := bodyNotes(t, line()); len(got) > 0 {
		t.Errorf("one knife by itself: %v", got)
	}
	above := line()
	above.Stations[0].Outlets[0].Height = known(110)
	top := above.Stations[0].Outlets[0]
	top.Name, top.Side, top.Tilt, top.AimDown, top.Length = "top", "above", turned(90), turned(0), known(160)
	top.Height, top.StandOff, top.Offset = known(135), known(40), known(0)
	above.Stations[0].Outlets = append(above.Stations[0].Outlets, top)
	meets := `the bodies behind the lips of "knife" and "top" stand in each other`
	above.Stations[0].Outlets[0].PlenumBore, above.Stations[0].Outlets[1].PlenumBore = known(45), known(60)
	small := bodyNotes(t, above)[meets]
	above.Stations[0].Outlets[0].PlenumBore = known(60)
	large := bodyNotes(t, above)[meets]
	if !(small > 0) || !(large > small) {
		t.Errorf("the bodies stand %g mm in each other, with a plenum of 60 mm %g mm", small, large)
	}
	for name, c := range map[string]struct {
		change func(*job.Job)
		want   string
	}{
		"belt": {func(j *job.Job) { o := &j.Stations[0].Outlets[0]; o.AimDown, o.Height = turned(0), known(10) }, "reaches below the belt"},
		"belt, tilted": {func(j *job.Job) { // at its downstream end alone
			o := &j.Stations[0].Outlets[0]
			o.AimDown, o.Height, o.Tilt, o.Length = turned(0), known(45), turned(35), known(150)
		}, "reaches below the belt"},
		"rail": {func(j *job.Job) {
			j.Line.Rails = []job.Rail{{Height: 0.1, Play: known(75), Diameter: known(12)}}
			o := &j.Stations[0].Outlets[0]
			o.AimDown, o.Height = turned(0), known(90)
		}, "stands in a guide rail"},
		"obstacle": {func(j *job.Job) {
			j.Line.Obstacles = []job.Box{{Name: "post", XFrom: -0.01, XTo: 0.01, YFrom: 0.08, YTo: 0.09, ZFrom: 0.13, ZTo: 0.5}}
		}, "stands in post"},
		"space": {func(j *job.Job) {
			j.Site.Space = &job.Box{XFrom: -1, XTo: 1, YFrom: -0.095, YTo: 0.095, ZFrom: 0, ZTo: 1}
		}, "reaches out of the space"},
	} {
		j := line()
		c.change(j)
		found := false
		got := bodyNotes(t, j)
		for text := range got {
			found = found || strings.Contains(text, c.want)
		}
		if !found {
			t.Errorf("%s: want %q, got %v", name, c.want, got)
		}
	}
}

// The belt counted as endless across the line: pipes of knives that hang beside a narrow belt were told to reach into it.
func TestLawBodiesBesideTheBeltMayHangLower(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ half, y, z, radius, want float64 }{
		{inf, 0.3, 0.02, 25e-3, 5e-3},
		{inf, 0.3, -0.02, 25e-3, 45e-3},
		{41e-3, 0, 0.02, 25e-3, 5e-3},                           // over the belt
		{41e-3, 41e-3 + beltFrame, 0.02, 25e-3, 5e-3},           // over the edge of its frame
		{41e-3, 41e-3 + beltFrame + 26e-3, -0.05, 25e-3, 0},     // beside it
		{41e-3, -41e-3 - beltFrame - 20e-3, -0.05, 25e-3, 5e-3}, // beside it, too near
		{41e-3, 41e-3 + beltFrame + 15e-3, 20e-3, 25e-3, 0},     // 15 and 20 from the edge: 25
		{41e-3, 41e-3 + beltFrame + 15e-3, 20e-3, 27e-3, 2e-3},  // so that 27 reach 2 into it
		{41e-3, 41e-3 + beltFrame - 10e-3, -0.05, 25e-3, 35e-3}, // in it: the way out is sideways
		{0, 0, -0.05, 25e-3, 0},                                 // none, as side grips carry the containers
	} {
		s := Scene{BeltHalf: c.half}
		r := Rod{Vec{-0.1, c.y, c.z}, Vec{0.1, c.y, c.z}, c.radius}
		if got := s.InBelt(&r); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("beside a belt of %g at %g, %g with a radius of %g it is %g deep, want %g", c.half, c.y, c.z, c.radius, got, c.want)
		}
	}
	hangs := func(width float64) bool {
		j := canLine()
		j.Line.Belt.Lift = false
		if width > 0 {
			j.Line.Belt.Width = known(width)
		}
		o := &j.Stations[0].Outlets[0]
		o.AimDown, o.Height, o.Tilt, o.Length = turned(0), known(45), turned(35), known(150)
		for text := range bodyNotes(t, j) {
			if strings.Contains(text, "reaches below the belt") {
				return true
			}
		}
		return false
	}
	if hangs(0) || !hangs(400) || hangs(83) {
		t.Errorf("a pipe beside the line is told to reach below the usual belt: %t, one of 400 mm: %t, of 83 mm: %t", hangs(0), hangs(400), hangs(83))
	}
}

// A rod beside a can of 66 mm by 115 mm stands in its way by what it comes nearer than its radius.
func TestLawRodsStandInTheWayOfWhatPasses(t *testing.T) {
	j := canLine()
	plan, problems := Resolve(j, ResolveOptions{Cell: 4e-3})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	b := plan.Formats[0].Body
	half := b.Depth / 2
	for _, c := range []struct{ y, z, radius, want float64 }{
		{half + 10e-3, 0.06, 12e-3, 2e-3},
		{half + 10e-3, 0.06, 9e-3, 0},
		{-half - 10e-3, 0.06, 12e-3, 2e-3},
		{half - 5e-3, 0.06, 12e-3, 17e-3},
		{0, b.Height + 20e-3, 15e-3, 0},
		{half + 0.1, 0.06, 50e-3, 0},
	} {
		r := Rod{Vec{-0.1, c.y, c.z}, Vec{0.1, c.y, c.z}, c.radius}
		if got := b.InWay(&r); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("at %g, %g with a radius of %g it is %g deep, want %g", c.y, c.z, c.radius, got, c.want)
		}
	}
}

// A single nozzle is fed by a hose: it has no pipe that stands in anything beyond its own length.
func TestLawASingleNozzleHasNoPipe(t *testing.T) {
	p := Placed{Kind: job.Nozzle, Line: Vec{1, 0, 0}, Axis: Vec{0, 0, -1}, Bore: 0.02}
	for _, r := range p.Rods() {
		if r.Radius > 0.011+1e-12 || r.From.Z > p.Nose()+1e-12 {
			t.Errorf("%+v", r)
		}
	}
}

// Containers stood on belts that carry half of their base, and nothing said so.
func TestLawABaseWiderThanTheBeltIsTold(t *testing.T) {
	// Along travel the oval is 92 mm wide and its heel of 6 mm leaves 80 mm to stand on, of 62 mm across as much less.
	oval, acrossOval := job.Container{Family: "oval bottle", Size: "750"}, 80e-3*62/92
	step := func(radius, height float64, zone string) job.ProfileStep {
		return job.ProfileStep{Radius: q.Millimetres(radius), Height: q.Millimetres(height), Zone: zone}
	}
	jar := job.Container{Material: "glass", Profile: []job.ProfileStep{
		step(0, 0, job.ZoneBase), step(55, 0, job.ZoneBase), step(55, 120, job.ZoneSidewall), step(0, 120, job.ZoneClosure),
	}}
	told := func(c job.Container, attitude string, width q.Maybe[q.Length], across float64) string {
		t.Helper()
		j := canLine()
		j.Formats[0].Container, j.Line.Attitude, j.Line.Belt.Width, j.Stations = c, attitude, width, nil
		if attitude == "side-gripped" {
			j.Line.Grips, j.Line.Rails = &job.Grip{ZFrom: 0.05, ZTo: 0.08}, nil
		}
		job.Fill(j)
		plan, problems := Resolve(j, ResolveOptions{Cell: 4e-3})
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		p := &plan.Formats[0]
		if got := p.Body.baseAcross(); math.Abs(got-across) > 1e-3 {
			t.Errorf("%s stands on %.4g mm across travel, want %.4g mm", c.Family, got*1e3, across*1e3)
		}
		for _, n := range p.Notes {
			if strings.Contains(n.Text, "wider than the belt") {
				return n.Text
			}
		}
		return ""
	}
	for _, c := range []struct {
		container job.Container
		attitude  string
		width     q.Maybe[q.Length]
		across    float64 // m, of the drawing of its family
		want      string
	}{
		{oval, "upright", known(40), acrossOval, "wider than the belt of 40 mm: it tips sideways sooner"},
		{oval, "upright", known(53), acrossOval, ""}, // within what sizes of containers are known to
		{oval, "upright", known(83), acrossOval, ""},
		{oval, "side-gripped", known(40), acrossOval, ""},
		{jar, "upright", known(83), 110e-3, "wider than the belt of 83 mm"},
		{jar, "upright", q.Maybe[q.Length]{}, 110e-3, "taken to be 83 mm as nobody gave it"},
		{jar, "upright", known(110), 110e-3, ""},
	} {
		if got := told(c.container, c.attitude, c.width, c.across); c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s %s on a belt of %g mm: %q, want %q", c.container.Family, c.attitude, c.width.V.MM(), got, c.want)
		}
	}
}
