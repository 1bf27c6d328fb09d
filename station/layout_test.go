package station

import (
	"context"
	"math"
	"strings"
	"testing"

	"leste/job"
	q "leste/quantity"
)

func known(mm float64) q.Maybe[q.Length] { return q.Known(q.Millimetres(mm)) }

func turned(d float64) q.Maybe[q.Angle] { return q.Known(q.Degrees(d)) }

// canLine is a can line with one knife on the left.
func canLine() *job.Job {
	j := &job.Job{
		Schema: 1, Name: "line",
		Line: job.Line{
			Speed: q.Known(q.Speed(0.6)), Gap: known(10), Attitude: "upright", Belt: job.Belt{State: "wet"},
			Rails: []job.Rail{{Height: q.Millimetres(20), Play: known(3), Diameter: known(12)}},
		},
		Formats: []job.Format{{Name: "can", Content: "filled", Container: job.Container{Family: "can", Size: "330 standard"}}},
		Stations: []job.Station{{Name: "one", Outlets: []job.Outlet{{
			Name: "knife", Kind: job.AirKnife, Side: left, X: known(0), Height: known(60), StandOff: known(40),
			Tilt: turned(20), AimDown: turned(10), Length: known(250), SlotGap: known(1.2),
		}}}},
	}
	job.Fill(j)
	return j
}

func TestLawPlacedAsSaid(t *testing.T) {
	j := canLine()
	second := j.Stations[0].Outlets[0]
	second.Name, second.Side, second.X = "other", right, known(150)
	j.Stations[0].Outlets = append(j.Stations[0].Outlets, second)
	plan, problems := Resolve(j, ResolveOptions{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s := plan.Formats[0].Stations[0]
	for i, o := range s.Outlets {
		if math.Abs(o.StandOff-40e-3) > 0.1e-3 {
			t.Errorf("%s: stand-off %.3f mm, want 40", o.Name, o.StandOff*1e3)
		}
		if o.Line.X <= 0 || o.Line.Z >= 0 {
			t.Errorf("%s: with positive tilt the downstream end is lower: %+v", o.Name, o.Line)
		}
		if math.Abs(o.Axis.dot(o.Line)) > 1e-12 || o.Axis.Z >= 0 {
			t.Errorf("%s: axis %+v, line %+v", o.Name, o.Axis, o.Line)
		}
		sign := []float64{1, -1}[i]
		if o.Middle.Y*sign < 60e-3 || o.Axis.Y*sign > 0 {
			t.Errorf("%s stands at %+v and blows along %+v", o.Name, o.Middle, o.Axis)
		}
		if math.Abs(float64(o.Opening)-0.25*1.2e-3) > 1e-12 {
			t.Errorf("%s: opening %g m2", o.Name, o.Opening)
		}
	}
	f := plan.Formats[0]
	if math.Abs(float64(f.Pitch)-76.2e-3) > 1e-9 || f.Touching || len(s.Neighbours) != 2 || len(s.Rails) != 2 || !s.Belt {
		t.Errorf("pitch %v, touching %v, %d neighbours, %d rails, belt %v", f.Pitch, f.Touching, len(s.Neighbours), len(s.Rails), s.Belt)
	}
	if s.Rails[0].Y <= 33.1e-3 || s.Rails[0].Y != -s.Rails[1].Y {
		t.Errorf("rails at %g and %g", s.Rails[0].Y, s.Rails[1].Y)
	}
}

func TestLawFrameMovesItsOutlets(t *testing.T) {
	j := canLine()
	j.Formats = append(j.Formats, job.Format{Name: "slim", Content: "filled", Container: job.Container{Family: "can", Size: "250 slim"}})
	j.Stations[0].Outlets[0].Frame = "f"
	j.Stations[0].Frames = []job.Frame{{Name: "f", Settings: []job.Setting{
		{Format: "can"}, {Format: "slim", Height: known(15), StandOff: known(-6), Tilt: turned(5), Aim: turned(-10)},
	}}}
	job.Fill(j)
	plan, problems := Resolve(j, ResolveOptions{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	a, b := plan.Formats[0].Stations[0].Outlets[0], plan.Formats[1].Stations[0].Outlets[0]
	if d := b.Middle.sub(a.Middle); math.Abs(d.Z-15e-3) > 1e-12 || math.Abs(d.Y+6e-3) > 1e-12 {
		t.Errorf("moved by %+v", d)
	}
	if math.Abs(b.Axis.Z) > 1e-12 {
		t.Errorf("aim set level, axis %+v", b.Axis)
	}
	if got := math.Atan2(-b.Line.Z, b.Line.X); math.Abs(got-deg(25)) > 1e-9 {
		t.Errorf("tilt %.3f degrees, want 25", got*180/math.Pi)
	}
}

func TestResolveFindsProblems(t *testing.T) {
	outlet := func(j *job.Job) *job.Outlet { return &j.Stations[0].Outlets[0] }
	for name, c := range map[string]struct {
		change     func(*job.Job)
		path, want string
	}{
		"inside":  {func(j *job.Job) { outlet(j).Offset = known(10) }, "/stations/0/outlets/0", "inside the container"},
		"swept":   {func(j *job.Job) { o := outlet(j); o.Offset, o.Tilt = known(30), turned(0) }, "/stations/0/outlets/0", "container"},
		"misses":  {func(j *job.Job) { o := outlet(j); o.Offset, o.Height = known(80), known(300) }, "/stations/0/outlets/0", "misses"},
		"no wall": {func(j *job.Job) { outlet(j).Height = known(300) }, "/stations/0/outlets/0/stand_off", "misses"},
		"speed against rate and gap": {func(j *job.Job) {
			l := &j.Line
			l.Pitch, l.Gap, l.Speed, l.Rate = q.Maybe[q.Length]{}, known(14), q.Known(q.Speed(3)), q.Known(q.Rate(10))
		}, "/line/speed", "do not fit"},
		"touching, speed against rate": {func(j *job.Job) {
			l := &j.Line
			l.Pitch, l.Gap, l.Touching = q.Maybe[q.Length]{}, q.Maybe[q.Length]{}, q.Known(true)
			l.Speed, l.Rate = q.Known(q.Speed(3)), q.Known(q.Rate(10))
		}, "/line/speed", "do not fit"},
		"a format's speed against its rate and gap": {func(j *job.Job) {
			f := &j.Formats[0]
			f.Gap, f.Speed, f.Rate = known(14), q.Known(q.Speed(3)), q.Known(q.Rate(10))
		}, "/formats/0/speed", "do not fit"},
		"grazing": {func(j *job.Job) {
			o := outlet(j)
			o.Tilt, o.AimDown, o.Height, o.Offset = turned(0), turned(65), known(140), known(60)
		}, "/stations/0/outlets/0", "grazes"},
		"belt": {func(j *job.Job) { o := outlet(j); o.Tilt, o.Length = turned(60), known(400) }, "/stations/0/outlets/0", "below the belt"},
		"rail": {func(j *job.Job) {
			o := outlet(j)
			o.Offset, o.Height, o.Tilt, o.AimDown = known(42), known(20), turned(0), turned(0)
		}, "/stations/0/outlets/0", "guide rail"},
		"covered": {func(j *job.Job) {
			j.Line.Obstacles = []job.Box{{Name: "plate", XFrom: -1, XTo: 1, YFrom: 0.05, YTo: 0.055, ZFrom: 0, ZTo: 0.5}}
			outlet(j).StandOff = known(60)
		}, "/stations/0/outlets/0", "stands in its way"},
		"space": {func(j *job.Job) {
			j.Site.Space = &job.Box{XFrom: -0.05, XTo: 0.05, YFrom: -1, YTo: 1, ZFrom: 0, ZTo: 1}
		}, "/stations/0/outlets/0", "space"},
		"pitch": {func(j *job.Job) { j.Line.Gap = q.Maybe[q.Length]{}; j.Line.Pitch = known(50) }, "/line/pitch", "below the container's extent"},
		"obstacle": {func(j *job.Job) {
			j.Line.Obstacles = []job.Box{{Name: "post", XTo: 0.1, YFrom: 0.02, YTo: 0.1, ZTo: 0.1}}
		}, "/line/obstacles/0", "runs into"},
		"high rail": {func(j *job.Job) { j.Line.Rails[0].Height = q.Millimetres(200) }, "/line/rails/0/height", "above"},
		"twins": {func(j *job.Job) {
			o := *outlet(j)
			o.Name, o.Tilt = "again", turned(-20)
			j.Stations[0].Outlets = append(j.Stations[0].Outlets, o)
		}, "/stations/0/outlets/1", "stand in each other"},
		"family": {func(j *job.Job) { j.Formats[0].Container.Family = "cn" }, "/formats/0/container", `did you mean "can"`},
		"size":   {func(j *job.Job) { j.Formats[0].Container.Size = "331" }, "/formats/0/container", "size"},
		"slot":   {func(j *job.Job) { outlet(j).SlotGap = q.Maybe[q.Length]{} }, "/stations/0/outlets/0", "no slot"},
		"below": {func(j *job.Job) {
			o := outlet(j)
			o.Side, o.Height, o.Tilt, o.AimDown = below, q.Maybe[q.Length]{}, turned(0), turned(0)
		}, "/stations/0/outlets/0", "below the belt"},
	} {
		j := canLine()
		c.change(j)
		_, problems := Resolve(j, ResolveOptions{Cell: 4e-3})
		found := false
		for _, p := range problems {
			found = found || p.Path == c.path && strings.Contains(p.Text, c.want)
			if p.Code == "" || p.Text == "" || p.Want == "" {
				t.Errorf("%s: half a problem: %+v", name, p)
			}
		}
		if !found {
			t.Errorf("%s: want %q at %s, got %v", name, c.want, c.path, problems)
		}
	}
	if _, problems := Resolve(canLine(), ResolveOptions{Cell: 4e-3}); len(problems) > 0 {
		t.Errorf("the line as it is: %v", problems)
	}
}

func TestResolveBearsNonsense(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e300} {
		for i, set := range []func(*job.Outlet, q.Maybe[q.Length], q.Maybe[q.Angle]){
			func(o *job.Outlet, l q.Maybe[q.Length], _ q.Maybe[q.Angle]) { o.StandOff = l },
			func(o *job.Outlet, l q.Maybe[q.Length], _ q.Maybe[q.Angle]) { o.Height = l },
			func(o *job.Outlet, l q.Maybe[q.Length], _ q.Maybe[q.Angle]) { o.Length = l },
			func(o *job.Outlet, l q.Maybe[q.Length], _ q.Maybe[q.Angle]) { o.Offset = l },
			func(o *job.Outlet, _ q.Maybe[q.Length], a q.Maybe[q.Angle]) { o.Tilt = a },
			func(o *job.Outlet, _ q.Maybe[q.Length], a q.Maybe[q.Angle]) { o.AimAlong = a },
		} {
			j := canLine()
			set(&j.Stations[0].Outlets[0], q.Known(q.Length(v)), q.Known(q.Angle(v)))
			plan, problems := Resolve(j, ResolveOptions{Cell: 5e-3})
			if len(problems) > 0 {
				continue
			}
			// What is not refused must be usable.
			s := plan.Formats[0].Stations[0]
			e, err := NewExposer(plan.Formats[0].Body, s, []OutletAir{roomAir(20e3)}, ExposerOptions{})
			if err != nil {
				continue
			}
			var f Field
			e.At(0, &f)
			for _, p := range f.P {
				if math.IsNaN(p) || math.IsInf(p, 0) {
					t.Fatalf("setting %d to %v: pressure %v", i, v, p)
				}
			}
		}
	}
}

func roomAir(pg float64) OutletAir {
	return OutletAir{Plenum: q.Gauge(pg), Stagnation: 320, Ambient: 101325, AmbientT: 295}
}

func TestNewExposerRefuses(t *testing.T) {
	plan, _ := Resolve(canLine(), ResolveOptions{Cell: 5e-3})
	f := plan.Formats[0]
	for name, c := range map[string]struct {
		change func(*OutletAir, *ExposerOptions)
		want   string
	}{
		"nan pressure": {func(a *OutletAir, _ *ExposerOptions) { a.Plenum = q.Gauge(math.NaN()) }, "plenum pressure"},
		"negative":     {func(a *OutletAir, _ *ExposerOptions) { a.Plenum = -1 }, "plenum pressure"},
		"gauge":        {func(a *OutletAir, _ *ExposerOptions) { a.Ambient = 1e3 }, "absolute"},
		"celsius":      {func(a *OutletAir, _ *ExposerOptions) { a.AmbientT = 20 }, "temperatures"},
		"coefficient":  {func(a *OutletAir, _ *ExposerOptions) { a.Cd = 1.4 }, "coefficients"},
		"factor":       {func(_ *OutletAir, o *ExposerOptions) { o.Shear = -1 }, "factors"},
	} {
		a, o := roomAir(20e3), ExposerOptions{}
		c.change(&a, &o)
		_, err := NewExposer(f.Body, f.Stations[0], []OutletAir{a}, o)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	if _, err := NewExposer(f.Body, f.Stations[0], nil, ExposerOptions{}); err == nil {
		t.Error("air of no outlet was taken for one outlet's")
	}
	e, err := NewExposer(f.Body, f.Stations[0], []OutletAir{roomAir(0)}, ExposerOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if from, to := e.Range(); from <= to {
		t.Errorf("an outlet that is off reaches %g to %g", from, to)
	}
}

func TestLimits(t *testing.T) {
	plan, _ := Resolve(canLine(), ResolveOptions{Cell: 3e-3})
	f := plan.Formats[0]
	e, err := NewExposer(f.Body, f.Stations[0], []OutletAir{roomAir(20e3)}, ExposerOptions{})
	if err != nil {
		t.Fatal(err)
	}
	res, err := Limits(context.Background(), e, []job.AirLimit{
		{Zone: job.ZoneSidewall, Reason: "label edge", Pressure: q.Known(q.Gauge(500)), Speed: q.Known(q.Speed(300))},
		{Zone: job.ZoneAll, Temperature: q.Known(q.Temperature(310))},
		{Zone: "closure", Speed: q.Known(q.Speed(1))},
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(res) != 3 || !res[0].Exceeded || res[1].Exceeded || res[2].Exceeded || res[2].Value <= 295 || res[2].Value >= 320 {
		t.Errorf("%+v", res)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Limits(ctx, e, []job.AirLimit{{Zone: job.ZoneAll}}); err == nil {
		t.Error("a cancelled look went on")
	}
	if _, err := Stand(ctx, e, StandOptions{}); err == nil {
		t.Error("a cancelled look went on")
	}
}

func TestReferenceTipping(t *testing.T) {
	// Reference: statics: a body of 100 g on a circle of 30 mm radius tips when a push at height z passes
	// W R/z, slides when it passes mu W, whatever comes first. Pushed 1 N at 60 mm: tip factor 0.4903, slide
	// 0.3432 on a dry belt.
	b := profile(t, 5e-3, nil, step(0, 0), step(30e-3, 0), step(30e-3, 100e-3), step(0, 100e-3))
	b.EmptyMass, b.Mass = 0.1, 0.1
	e := &Exposer{body: b}
	rec := &Record{Loads: []Load{{Force: Vec{0, -1, 0}, Moment: Vec{0.06, 0, 0}}}}
	get := func() map[string]Push {
		out := map[string]Push{}
		list, err := Stand(context.Background(), e, StandOptions{Belts: []string{"dry"}, Record: rec})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range list {
			out[p.Way] = p
		}
		return out
	}
	p := get()
	if math.Abs(p[Tip].Factor-0.1*gravity*0.03/0.06) > 1e-9 || math.Abs(p[Slide].Factor-0.35*0.1*gravity) > 1e-9 {
		t.Errorf("tip %.4f, slide %.4f", p[Tip].Factor, p[Slide].Factor)
	}
	if !strings.Contains(p[Tip].Needs, "right side at 60 mm") || !strings.Contains(p[Slide].Needs, "right side") {
		t.Errorf("needs: %q, %q", p[Tip].Needs, p[Slide].Needs)
	}
	// A rail at 70 mm on that side holds it.
	e.scene.Rails = []Bar{{Y: -39e-3, Z: 70e-3, Radius: 6e-3}}
	p = get()
	if !math.IsInf(p[Tip].Factor, 1) || !math.IsInf(p[Slide].Factor, 1) {
		t.Errorf("held by a rail: tip %.4f, slide %.4f", p[Tip].Factor, p[Slide].Factor)
	}
	// A rail at 50 mm does not stop a push at 80 mm: it rolls over that contact, 30 mm from the axis, when the push
	// times 30 mm passes the weight times 30 mm.
	e.scene.Rails[0].Z = 50e-3
	rec.Loads[0].Moment.X = 0.08
	if p = get(); math.Abs(p[Tip].Factor-0.1*gravity) > 1e-9 {
		t.Errorf("over the rail: tip %.4f, want %.4f", p[Tip].Factor, 0.1*gravity)
	}
	// Lifted by a third of its weight it loses as much friction.
	e.scene.Rails = nil
	rec.Loads[0] = Load{Force: Vec{0, -0.1, 0.1 * gravity / 3}}
	p = get()
	if math.Abs(p[Lift].Factor-3) > 1e-9 || math.Abs(p[Slide].Factor-0.35*0.1*gravity*2/3/0.1) > 1e-9 {
		t.Errorf("lift %.4f, slide %.4f", p[Lift].Factor, p[Slide].Factor)
	}
	if _, err := Stand(context.Background(), e, StandOptions{Belts: []string{"icy"}, Record: rec}); err == nil {
		t.Error("an unknown belt state was taken")
	}
}

func TestReferenceSlipWhilePassing(t *testing.T) {
	// Reference: kinematics: a push F for a time T on a mass m with friction R < F gives the speed (F-R)T/m and
	// the way (F-R)T2/2m, then brakes over v2/(2R/m): 100 g, 1 N for 20 ms against 0.35 m g = 0.3432 N: 5.0 mm
	// in all within 2 %, since the push rises and falls over one part in fifty.
	b := profile(t, 5e-3, nil, step(0, 0), step(60e-3, 0), step(60e-3, 50e-3), step(0, 50e-3))
	s := stance{body: b, scene: &Scene{}, weight: 0.1 * gravity, friction: 0.35, speed: 1}
	var loads []Load
	for i := -1000; i <= 1000; i++ {
		l := Load{X: float64(i) * 0.2e-3}
		if i >= -50 && i < 50 {
			l.Force.X = -1
		}
		loads = append(loads, l)
	}
	const m, push, rub, time = 0.1, 1.0, 0.35 * 0.1 * gravity, 0.02
	v := (push - rub) * time / m
	want := v*time/2 + v*v/(2*rub/m)
	if got := s.slip(loads, 1, true); math.Abs(got-want) > 0.02*want {
		t.Errorf("slips %.3f mm, want %.3f", got*1e3, want*1e3)
	}
	// The longer the push lasts the nearer the factor comes to that of standing still.
	e := &Exposer{body: b}
	b.Mass, b.EmptyMass = 0.1, 0.1
	last := math.Inf(1)
	for _, speed := range []float64{2, 0.5, 0.1, 0.01, 0} {
		list, err := Stand(context.Background(), e, StandOptions{Belts: []string{"dry"}, Record: &Record{Loads: loads}, Speed: q.Speed(speed)})
		if err != nil {
			t.Fatal(err)
		}
		if list[3].Way != HeldBack || list[3].Factor > last {
			t.Errorf("at %g m/s: %+v, before %.3f", speed, list[3], last)
		}
		last = list[3].Factor
	}
	if math.Abs(last-rub/push) > 1e-9 {
		t.Errorf("standing: %.4f, want %.4f", last, rub/push)
	}
}

func TestReferenceRockWhilePassing(t *testing.T) {
	// Reference: rigid body: a moment M for a time T against W R turns the body by (M-WR)T2/2J, then it goes on by
	// w2/(2WR/J); for small angles the arm stays R. J about the edge of a cylinder: m(R2 + h2 + (3r2+H2)/12).
	b := profile(t, 5e-3, nil, step(0, 0), step(30e-3, 0), step(30e-3, 100e-3), step(0, 100e-3))
	s := stance{body: b, scene: &Scene{}, weight: 0.1 * gravity, friction: 0.35, speed: 1}
	const moment, time = 0.06, 0.01
	var loads []Load
	for i := -2000; i <= 2000; i++ {
		l := Load{X: float64(i) * 0.1e-3}
		if i >= -50 && i < 50 {
			l.Moment.Y = moment
		}
		loads = append(loads, l)
	}
	h := b.CentreOfMass
	j := 0.1 * (0.03*0.03 + h*h + (3*0.03*0.03+0.1*0.1)/12)
	right := 0.1 * gravity * 0.03
	w := (moment - right) / j * time
	want := (w*time/2 + w*w/(2*right/j)) / math.Atan2(0.03, h)
	if got := s.rock(loads, 1); math.Abs(got-want) > 0.05*want {
		t.Errorf("rocks to %.4f of the angle at which it falls, want %.4f", got, want)
	}
	if got := s.rock(loads, 20); !math.IsInf(got, 1) {
		t.Errorf("twenty times as strong it falls, not %.3f", got)
	}
}
