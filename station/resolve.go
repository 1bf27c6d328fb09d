package station

import (
	"fmt"
	"math"
	"sync"

	"leste/catalogue"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// ResolveOptions are the choices of Resolve.
type ResolveOptions struct {
	Cell   float64 // cell size [m]; 0 means 2 mm
	Bodies *Bodies // built before for jobs with the same formats and attitude on the same cells; nil to build them
}

// Bodies keeps the bodies of jobs that differ only in what stands around them. It may be used from several goroutines
// at once.
type Bodies struct {
	lock  sync.Mutex
	built map[int]Body // by format
}

// NewBodies keeps none yet.
func NewBodies() *Bodies { return &Bodies{built: map[int]Body{}} }

// of is the body of format i, built if it has not been before.
func (k *Bodies) of(i int, build func() (*Body, error)) (*Body, error) {
	if k == nil {
		return build()
	}
	k.lock.Lock()
	b, known := k.built[i]
	k.lock.Unlock()
	if known {
		return &b, nil
	}
	fresh, err := build()
	if err == nil {
		k.lock.Lock()
		k.built[i] = *fresh
		k.lock.Unlock()
	}
	return fresh, err
}

const usualCell = 2e-3

// Resolve lays a filled job out in space: every format's body, every station's outlets, rails and neighbours.
// Problems of the layout come with the path of what they are about; the plan holds what could be
// laid out nevertheless.
//
// Where an outlet's place hangs on its stand-off, the first format decides; the frames' settings move it for the
// others.
func Resolve(j *job.Job, o ResolveOptions) (*Plan, job.Problems) {
	r := resolver{job: j, cell: o.Cell, bodies: o.Bodies}
	if r.cell == 0 {
		r.cell = usualCell
	}
	plan := &Plan{}
	for i := range j.Formats {
		if f, ok := r.format(i); ok {
			plan.Formats = append(plan.Formats, f)
		}
	}
	if len(plan.Formats) == 0 {
		return plan, r.problems
	}
	first := plan.Formats[0].Body
	for i := range plan.Formats {
		f := &plan.Formats[i]
		for k := range j.Stations {
			f.Stations = append(f.Stations, r.scene(k, f, first))
		}
	}
	r.between(plan)
	return plan, r.problems
}

type resolver struct {
	job      *job.Job
	cell     float64
	bodies   *Bodies
	problems job.Problems
	said     map[string]bool
}

// codeLayout is the code of every problem of the layout.
const codeLayout = "layout"

// say keeps a problem; the same about another format is said once.
func (r *resolver) say(path, text, want string) {
	if r.said == nil {
		r.said = map[string]bool{}
	}
	if r.said[path+text] {
		return
	}
	r.said[path+text] = true
	r.problems = append(r.problems, job.Problem{Path: path, Code: codeLayout, Text: text, Want: want})
}

func (r *resolver) format(i int) (FormatPlan, bool) {
	f := r.job.Formats[i]
	path := fmt.Sprintf("/formats/%d", i)
	full, source, notes, err := catalogue.Expand(f.Container)
	if err != nil {
		r.say(path+"/container", err.Error(), "name a family and a size of the catalogue, or draw a profile")
		return FormatPlan{}, false
	}
	if f.Content != "empty" && f.FillMass.V == 0 {
		f.FillMass.V = catalogue.DefaultFill(f.Container)
		if f.FillMass.V > 0 {
			notes = append(notes, info(fmt.Sprintf("%s: the mass of the product is not known; %.4g g is assumed", f.Name, float64(f.FillMass.V)*1e3)))
		} else {
			notes = append(notes, relation.Note{
				Severity: relation.Caution, Text: f.Name + ": the mass of the product is not known; the container is taken as light as when empty",
				Value: math.NaN(), Limit: math.NaN(),
			})
		}
	}
	f.Container = full
	if f.Arrives == nil {
		a := r.job.Arrives
		f.Arrives = &a
	}
	body, err := r.bodies.of(i, func() (*Body, error) { return NewBody(f, r.cell, r.job.Line.Attitude) })
	if err != nil {
		r.say(path+"/container", err.Error(), "change the container's profile or size")
		return FormatPlan{}, false
	}
	notes = append(notes, info(fmt.Sprintf("%s: sizes of the container: %s", f.Name, source)))
	if body.EmptyMass == 0 {
		// A wall of 0.4 mm PET: light enough not to flatter the standing.
		area := 0.0
		for _, a := range body.Surface.Area {
			area += a
		}
		m := q.Mass(area * 0.4e-3 * 1350)
		body.EmptyMass, body.Mass = m, body.Mass+m
		notes = append(notes, info(fmt.Sprintf("%s: the empty mass is not known; %.3g g is assumed from the wall's area", f.Name, float64(m)*1e3)))
	}
	notes = append(notes, r.overhangs(body)...)
	r.moves(path, f.Speed, f.Rate, f.Gap, body.Width)
	if l := &r.job.Line; !f.Speed.Known && !f.Rate.Known && !f.Pitch.Known && !f.Gap.Known {
		gap := l.Gap
		if l.Touching.Known && l.Touching.V {
			gap = q.Known(q.Length(0))
		}
		r.moves("/line", l.Speed, l.Rate, gap, body.Width)
	}
	m := r.job.MotionOf(&f, q.Length(body.Width))
	p := FormatPlan{Format: f, Body: body, Speed: m.Speed, Pitch: m.Pitch, Touching: m.Touching, Notes: notes}
	if pitch := float64(m.Pitch); pitch > 0 && pitch < body.Width-1e-6 {
		at := "/line/pitch"
		switch {
		case f.Pitch.Known:
			at = path + "/pitch"
		case f.Rate.Known && !r.job.Line.Pitch.Known:
			at = path + "/rate"
		case !r.job.Line.Pitch.Known:
			at = "/line/rate"
		}
		r.say(at, fmt.Sprintf("the pitch of %q, %.4g mm, is below the container's extent along travel, %.4g mm", f.Name, pitch*1e3, body.Width*1e3),
			fmt.Sprintf("give a pitch of at least %.4g mm, a lower rate or a higher speed", body.Width*1e3))
		p.Pitch, p.Touching = q.Length(body.Width), true
	}
	return p, true
}

// overhangs tells a belt that does not carry all of a container's base. How it stands is judged by the whole base, which
// tips over a narrower one sooner; a few percent are within what its size is known to.
func (r *resolver) overhangs(b *Body) []relation.Note {
	const told = 0.95 // of the base
	belt, base := r.job.Line.Belt.Width, b.baseAcross()
	if r.job.Line.Attitude == "side-gripped" || !(belt.V > 0 && float64(belt.V) < told*base) {
		return nil
	}
	text := fmt.Sprintf("the base of %q, %.3g mm across, is wider than the belt of %.3g mm: it tips sideways sooner than is told, as all of it counts as carried", b.Format, base*1e3, belt.V.MM())
	if !belt.Known {
		text = fmt.Sprintf("the base of %q, %.3g mm across, is wider than the belt, taken to be %.3g mm as nobody gave it: give its width, as all of the base counts as carried", b.Format, base*1e3, belt.V.MM())
	}
	return []relation.Note{{Severity: relation.Caution, Text: text, Value: math.NaN(), Limit: math.NaN()}}
}

// moves says when speed, rate and gap of one place contradict each other for a container of this width [m]: one of
// them would go unheard. Those with a pitch need no container and are judged with the file.
func (r *resolver) moves(path string, speed q.Maybe[q.Speed], rate q.Maybe[q.Rate], gap q.Maybe[q.Length], width float64) {
	if !speed.Known || !rate.Known || !gap.Known {
		return
	}
	const slack = 0.02 // what rounding to two or three figures explains
	made := float64(rate.V) * (float64(gap.V) + width)
	if math.Abs(made-float64(speed.V)) <= slack*float64(speed.V) {
		return
	}
	r.say(path+"/speed", fmt.Sprintf("speed, rate and gap do not fit: %s of containers %.4g mm wide with %s between them run at %s, not %s",
		q.Format(rate.V, q.SI), width*1e3, q.Format(gap.V, q.SI), q.Format(q.Speed(made), q.SI), q.Format(speed.V, q.SI)),
		"leave one of the three out")
}

func info(text string) relation.Note {
	return relation.Note{Severity: relation.Info, Text: text, Value: math.NaN(), Limit: math.NaN()}
}

// scene places station k for one format.
func (r *resolver) scene(k int, f *FormatPlan, first *Body) Scene {
	st := &r.job.Stations[k]
	path := fmt.Sprintf("/stations/%d", k)
	s := Scene{Name: st.Name, At: float64(st.At.V)}
	line := &r.job.Line
	s.Belt = line.Attitude != "side-gripped" && !line.Belt.Lift
	switch {
	case line.Attitude == "side-gripped":
	case line.Belt.Width.V > 0:
		s.BeltHalf = float64(line.Belt.Width.V) / 2
	default:
		s.BeltHalf = math.Inf(1)
	}
	if p := float64(f.Pitch); p > 0 {
		s.Neighbours = []float64{-p, p}
	}
	for i := range line.Rails {
		s.rail(&line.Rails[i], f.Body, false)
	}
	if line.NeckGuide != nil {
		s.rail(line.NeckGuide, f.Body, true)
	}
	if g := line.Grips; g != nil {
		half := q.Length(f.Body.Depth / 2)
		const thick, far = 0.02, 1e3
		s.Grips = []job.Box{
			{Name: "left grip", XFrom: -far, XTo: far, YFrom: half, YTo: half + thick, ZFrom: g.ZFrom, ZTo: g.ZTo},
			{Name: "right grip", XFrom: -far, XTo: far, YFrom: -half - thick, YTo: -half, ZFrom: g.ZFrom, ZTo: g.ZTo},
		}
	}
	for _, b := range line.Obstacles {
		b.XFrom -= st.At.V
		b.XTo -= st.At.V
		s.Obstacles = append(s.Obstacles, b)
	}
	for i := range st.Outlets {
		at := fmt.Sprintf("%s/outlets/%d", path, i)
		p, ok := r.place(st, &st.Outlets[i], at, f, first)
		if !ok {
			p.StandOff = math.NaN()
		}
		s.Outlets = append(s.Outlets, p)
		if ok {
			r.clash(&st.Outlets[i], at, &p, &s, f)
		}
	}
	s.Reach = sceneReach(f.Body, s.Outlets)
	return s
}

func sceneReach(b *Body, outlets []Placed) [2]float64 {
	e := &Exposer{body: b}
	for i := range outlets {
		if p := &outlets[i]; p.Middle.finite() {
			e.sources = append(e.sources, source{mid: p.Middle, l: p.Line, a: p.Axis, across: p.Axis.cross(p.Line), length: p.Length, round: p.Gap == 0})
		}
	}
	from, to := e.reach()
	if from > to {
		return [2]float64{}
	}
	return [2]float64{from, to}
}

// rail adds a guide rail on the sides it has.
func (s *Scene) rail(j *job.Rail, b *Body, neck bool) {
	d, z := float64(j.Diameter.V), float64(j.Height)
	half := b.shape.widest(z-d/2, z+d/2) * b.shape.section.ky
	y := half + float64(j.Play.V) + d/2
	for _, side := range [2]struct {
		name string
		sign float64
	}{{"left", 1}, {"right", -1}} {
		if j.Side == "" || j.Side == "both" || j.Side == side.name {
			s.Rails = append(s.Rails, Bar{Y: side.sign * y, Z: z, Radius: d / 2, Neck: neck})
		}
	}
}
