package station

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	q "leste/quantity"
)

// OutletAir is the air of one outlet.
type OutletAir struct {
	Plenum     q.Gauge       // stagnation pressure behind the opening; 0 when the outlet is off
	Stagnation q.Temperature // of the air in the plenum
	Humidity   q.Ratio       // humidity ratio, kg vapour per kg dry air
	Cd, Cv     float64       // discharge and velocity coefficient; 0 means 0.95 and 0.97
	Ambient    q.Absolute
	AmbientT   q.Temperature
}

// ExposerOptions are model settings. The zero value is the likely value of both.
type ExposerOptions struct {
	Shear    float64 // factor on wall shear; 0 means 1
	Pressure float64 // factor on impact pressure and its gradient; 0 means 1
}

// An Exposer tells what the air of one scene does to each cell of a body. It keeps scratch memory: use one
// per goroutine, made by Clone.
type Exposer struct {
	body     *Body
	scene    Scene
	cells    []cell
	sources  []source
	strip    strip    // scratch
	nozzles  []nozzle // scratch
	maxPg    float64
	room     float64 // temperature of the room's air [K]
	excess   float64 // of the hottest outlet over it [K]
	from, to float64
	notes    []relation.Note
	touched  rowSpan
	ring     int // rows from the base's centre to the ring the body stands on
	lines    [3]rowSeen
	thinRow  []bool  // rows that may be interpolated between the two beside them
	gap      float64 // widest gap that thinning leaves between evaluated cells [m]
	exact    bool    // evaluate every cell; for tests
}

// A cell holds what the inner loop reads of a patch of wall, side by side.
type cell struct {
	pos, normal, along Vec
	ax, ay             float64 // around; its z is 0
}

// rowSpan is a range of rows [first, last).
type rowSpan struct{ first, last int }

func (r *rowSpan) add(row int) {
	if r.first >= r.last {
		r.first, r.last = row, row+1
		return
	}
	r.first, r.last = min(r.first, row), max(r.last, row+1)
}

// A source is one outlet with its air, in SI and the station's coordinates.
type source struct {
	index             int  // of the outlet in the scene
	round             bool // a jet of round nozzles, each alone
	smeared           bool // a row of nozzles whose jets have merged into a plane one
	mid, l, a, across Vec  // lip, along the outlet, along the air, across both
	paired            bool // it has a mirror image on the other side of the line, which it stands for too
	length            float64
	ports             []float64
	row               jet.Row
	pg, thrust        float64 // plenum pressure; thrust per metre of slot or per nozzle
	rho, nu           float64 // of the room's air
	exit              float64 // exit velocity
	shear, press      float64 // model factors
	lit               []lit   // the patches it may press on
	patch             float64 // from the middle of one to a corner at most, as the air sees it
	aspect            *aspect
}

// NewExposer prepares the exposure of body in scene; air has one entry per outlet of the scene.
func NewExposer(b *Body, s Scene, air []OutletAir, o ExposerOptions) (*Exposer, error) {
	if b == nil || b.Surface == nil || b.shape == nil {
		return nil, fmt.Errorf("there is no container to blow on: build it with NewBody")
	}
	if len(air) != len(s.Outlets) {
		return nil, fmt.Errorf("the station has %d outlets, air is given for %d", len(s.Outlets), len(air))
	}
	e := &Exposer{body: b, scene: s}
	for i := range s.Outlets {
		src, notes, err := newSource(&s.Outlets[i], air[i], o)
		if err != nil {
			return nil, fmt.Errorf("outlet %q: %w", s.Outlets[i].Name, err)
		}
		e.notes = append(e.notes, notes...)
		if src.thrust == 0 {
			continue
		}
		e.room = float64(air[i].AmbientT)
		e.excess = math.Max(e.excess, float64(air[i].Stagnation-air[i].AmbientT))
		src.index = i
		e.sources = append(e.sources, src)
		if src.round && len(src.ports) > 1 && src.row.Spacing > 0 {
			src.round, src.smeared = false, true
			e.sources = append(e.sources, src)
		}
	}
	e.prepare()
	return e, nil
}

func (e *Exposer) prepare() {
	f := e.body.Surface
	e.cells = make([]cell, len(f.Pos))
	e.ring = e.body.ringRows()
	e.thin()
	for i := range e.cells {
		e.cells[i] = cell{pos: f.Pos[i], normal: f.Normal[i], along: f.Along[i], ax: f.Around[i].X, ay: f.Around[i].Y}
	}
	e.pair()
	for i := range e.sources {
		e.light(&e.sources[i])
		e.sources[i].aspect = e.look(&e.sources[i])
		e.maxPg = math.Max(e.maxPg, e.sources[i].pg*e.sources[i].press)
	}
	e.from, e.to = e.reach()
	e.notes = append(e.notes, e.checkCurvature()...)
}

func newSource(p *Placed, oa OutletAir, o ExposerOptions) (source, []relation.Note, error) {
	orOne := func(v float64) float64 {
		if v == 0 {
			return 1
		}
		return v
	}
	s := source{
		mid: p.Middle, l: p.Line, a: p.Axis, across: p.Axis.cross(p.Line),
		length: p.Length, ports: p.Ports, pg: float64(oa.Plenum), shear: orOne(o.Shear), press: orOne(o.Pressure),
	}
	bad := func(v, lo, hi float64) bool { return !(v >= lo && v <= hi) }
	switch {
	case bad(s.pg, 0, 1.5e6):
		return s, nil, fmt.Errorf("a plenum pressure of %.4g kPa gauge is not possible here; 0 to 1500 kPa is", s.pg/1e3)
	case bad(float64(oa.Ambient), 50e3, 120e3):
		return s, nil, fmt.Errorf("an air pressure of %.4g kPa absolute is not possible on a site; 50 to 120 kPa is", float64(oa.Ambient)/1e3)
	case bad(float64(oa.AmbientT), 200, 400) || bad(float64(oa.Stagnation), 200, 600):
		return s, nil, fmt.Errorf("air temperatures of %.4g K in the room and %.4g K in the plenum are outside 200 to 400 and 200 to 600 K", float64(oa.AmbientT), float64(oa.Stagnation))
	case bad(s.shear, 0.01, 100) || bad(s.press, 0.01, 100):
		return s, nil, fmt.Errorf("the factors on shear and pressure are %.4g and %.4g; 0.01 to 100 is possible", s.shear, s.press)
	case !p.Middle.finite() || !p.Axis.finite() || !p.Line.finite() || math.Abs(p.Axis.dot(p.Line)) > 1e-6:
		return s, nil, fmt.Errorf("it is not placed: its middle, line and axis must be finite and the axis square to the line")
	}
	room := air.Dry(oa.Ambient, oa.AmbientT)
	s.rho, s.nu = float64(room.Density()), float64(room.KinematicViscosity())
	if s.pg == 0 {
		return s, nil, nil
	}
	cd, cv := oa.Cd, oa.Cv
	if cd == 0 {
		cd = 0.95
	}
	if cv == 0 {
		cv = 0.97
	}
	if bad(cd, 0.3, 1) || bad(cv, 0.3, 1) {
		return s, nil, fmt.Errorf("discharge and velocity coefficients of %.4g and %.4g are outside 0.3 to 1", cd, cv)
	}
	d := jet.DryAir().Isentropic(oa.Plenum.Above(oa.Ambient), oa.Stagnation, oa.Ambient)
	s.exit = float64(d.Velocity)
	if p.Kind == job.AirKnife {
		if bad(p.Gap, 1e-5, 0.05) || bad(p.Length, 1e-3, 10) {
			return s, nil, fmt.Errorf("a slot of %.4g mm by %.4g mm is not possible; gaps of 0.01 to 50 mm and lengths of 1 mm to 10 m are", p.Gap*1e3, p.Length*1e3)
		}
		s.thrust = float64(d.ThrustPerLength(q.Ratio(cd), q.Ratio(cv), q.Length(p.Gap)))
	} else {
		if bad(p.Bore, 1e-4, 0.5) {
			return s, nil, fmt.Errorf("a nozzle of %.4g mm is not possible; bores of 0.1 to 500 mm are", p.Bore*1e3)
		}
		s.round = true
		if len(s.ports) == 0 {
			s.ports = []float64{0}
		}
		s.thrust = float64(d.Thrust(q.Ratio(cd), q.Ratio(cv), q.Area(math.Pi/4*p.Bore*p.Bore)))
		s.row = jet.Row{Count: len(s.ports), Spacing: q.Length(p.Spacing), Thrust: q.Force(s.thrust)}
	}
	return s, rangeNotes(p, &s, oa, cv), nil
}

// Range returns the positions of the container's axis between which the air reaches it [m]. From > to
// when it never does.
func (e *Exposer) Range() (from, to float64) { return e.from, e.to }

// Notes says what about the exposure is less sure than usual.
func (e *Exposer) Notes() []relation.Note { return e.notes }

// Body returns the body that is exposed.
func (e *Exposer) Body() *Body { return e.body }

// Scene returns the scene that exposes it.
func (e *Exposer) Scene() Scene { return e.scene }

// Clone returns an Exposer of the same scene that can be used by another goroutine.
func (e *Exposer) Clone() *Exposer {
	c := *e
	c.strip, c.nozzles = strip{}, nil
	c.scratchLines()
	return &c
}

// At writes into f what the air does with the container's axis at x [m] from the station's datum.
// It allocates only when f has not the size of the surface; f's earlier content must come from At.
func (e *Exposer) At(x float64, f *Field) {
	e.clear(f)
	e.touched = rowSpan{}
	if x >= e.from && x <= e.to {
		for i := range e.sources {
			s := &e.sources[i]
			if s.aspect == nil {
				s.aspect = e.look(s)
			}
			if s.round {
				e.blowNozzles(s, x, f)
			} else {
				e.blowSlot(s, x, f)
			}
		}
	}
	f.First, f.Last = e.touched.first, e.touched.last
	if len(e.sources) < 2 {
		return
	}
	cols := e.body.Surface.Cols
	for i := f.First * cols; i < f.Last*cols; i++ { // several jets never press more than the strongest plenum
		if f.P[i] > e.maxPg {
			f.P[i] = e.maxPg
		}
	}
}

// thin finds the rows that lie between two others on a smooth stretch of the wall.
func (e *Exposer) thin() {
	f := e.body.Surface
	e.scratchLines()
	e.thinRow = make([]bool, f.Rows+1)
	smooth := func(row int) bool { // from row to the next
		return row+1 < f.Rows && f.Normal[row*f.Cols].dot(f.Normal[(row+1)*f.Cols]) > math.Cos(8*math.Pi/180)
	}
	for row := 1; row+1 < f.Rows; row++ {
		e.thinRow[row] = !e.thinRow[row-1] && smooth(row-1) && smooth(row)
	}
	e.gap = 0
	for row := range f.Rows {
		e.gap = math.Max(e.gap, math.Max(2*f.StepS[row], 3*f.StepA[row*f.Cols]))
	}
}

func (e *Exposer) scratchLines() {
	cols := e.body.Surface.Cols
	for i := range e.lines {
		e.lines[i] = rowSeen{make([]touch, cols), make([]uint8, cols)}
	}
}

// clear empties the rows that the last At touched, or makes the slices.
func (e *Exposer) clear(f *Field) {
	s := e.body.Surface
	n := s.Rows * s.Cols
	if len(f.P) != n {
		*f = Field{
			P: make([]float64, n), TauS: make([]float64, n), TauA: make([]float64, n), GradS: make([]float64, n),
			GradA: make([]float64, n), Ue: make([]float64, n), Heat: make([]float64, n),
		}
		return
	}
	a, b := f.First*s.Cols, f.Last*s.Cols
	for _, v := range [7][]float64{f.P, f.TauS, f.TauA, f.GradS, f.GradA, f.Ue, f.Heat} {
		clear(v[a:b])
	}
	f.First, f.Last = 0, 0
}

// pair lets one source stand for its mirror image as well: stations are often the same on both sides of the
// line, and so are the containers.
func (e *Exposer) pair() {
	if !e.scene.mirrored() {
		return
	}
	var kept []source
	for i := range e.sources {
		s := e.sources[i]
		twin := false
		for k := range kept {
			if !kept[k].paired && kept[k].mirrors(&s) {
				kept[k].paired, twin = true, true
				break
			}
		}
		if !twin {
			kept = append(kept, s)
		}
	}
	e.sources = kept
}

// mirrors reports whether t is s mirrored in the plane of travel, to a millionth.
func (s *source) mirrors(t *source) bool {
	same := func(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(math.Abs(a), math.Abs(b))+1e-9 }
	flip := func(a, b Vec) bool { return same(a.X, b.X) && same(a.Y, -b.Y) && same(a.Z, b.Z) }
	if s.round != t.round || s.smeared != t.smeared || len(s.ports) != len(t.ports) || math.Abs(s.mid.Y) < 1e-6 {
		return false
	}
	for i := range s.ports {
		if !same(s.ports[i], t.ports[i]) {
			return false
		}
	}
	return flip(s.mid, t.mid) && flip(s.l, t.l) && flip(s.a, t.a) && same(s.length, t.length) && same(s.pg, t.pg) &&
		same(s.thrust, t.thrust) && same(s.rho, t.rho) && same(s.nu, t.nu) && same(s.exit, t.exit) &&
		same(s.shear, t.shear) && same(s.press, t.press) && same(float64(s.row.Spacing), float64(t.row.Spacing))
}

// mirrored reports whether everything that can stand in the way is the same on both sides.
func (s *Scene) mirrored() bool {
	for _, r := range s.Rails {
		found := false
		for _, t := range s.Rails {
			found = found || t.Y == -r.Y && t.Z == r.Z && t.Radius == r.Radius
		}
		if !found {
			return false
		}
	}
	for _, boxes := range [2][]job.Box{s.Grips, s.Obstacles} {
		for _, b := range boxes {
			found := false
			for _, t := range boxes {
				found = found || t.YFrom == -b.YTo && t.YTo == -b.YFrom && t.XFrom == b.XFrom && t.XTo == b.XTo &&
					t.ZFrom == b.ZFrom && t.ZTo == b.ZTo
			}
			if !found {
				return false
			}
		}
	}
	return true
}
