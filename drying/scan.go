package drying

import (
	"context"
	"math"

	"leste/parallel"
	"leste/physics/water"
	"leste/station"
)

// A Sweep is the passage of one impingement line or point over one cell, reduced to what the closed forms
// need. It does not depend on the speed of the container: lengths of travel stand for times.
type Sweep struct {
	At    float64 // m, position of the container's axis at which it passes the cell
	Slope float64 // speed of the front over the wall, along its normal, over the container's speed
	S, A  float64 // direction in which it moves, along and around the surface

	// Ahead of the line, where the air holds the water back.
	Shear    float64 // Pa along the direction, where it and the gradient together hold back most
	Gradient float64 // Pa/m there, of the pressure that falls ahead
	Offset   float64 // m from the line to there
	Peak     float64 // Pa, greatest shear
	Edge     float64 // m/s, greatest air speed outside the wall layer
	Press    float64 // Pa, greatest impact pressure
	Reach    float64 // m of travel under the air, as if at its greatest shear
}

// Seen is what one pass does to a container, for any speed and any water.
type Seen struct {
	Step   float64 // m of travel between two positions looked at
	Sweeps []Sweep // of all cells, in the order of the cells and then of time
	First  []int32 // of the cells, and one more: cell k has Sweeps[First[k]:First[k+1]]
	Mouths [][][]float32
	Pools  [][][]float32
	Stand  *station.Field // the air while the container stands; nil when it does not
}

// of returns the sweeps of a cell.
func (s *Seen) of(cell int) []Sweep { return s.Sweeps[s.First[cell]:s.First[cell+1]] }

// Limits of the scan.
const (
	leastPositions, mostPositions = 24, 160
	stepShare                     = 0.65     // of the length over which the pressure falls: wiping up to 5 % above, greatest shear within 11 % of a fine scan
	leastPressure                 = 1e-9     // Pa, below which a pressure has no logarithm worth taking
	idleShear, idlePress          = 1.0, 5.0 // Pa, air that moves neither a film nor a drop worth counting
	valley                        = math.Ln2 // a fall by half between two rises parts two sweeps
	nearPeak                      = 0.5      // of the greatest pressure so far, where a fall begins the far side of the line
	mostBetween                   = 0.93     // the least film lies no farther below that of the positions looked at
	probes                        = 9
)

// Scan looks at a pass from as many positions of the container as its air needs and finds the sweeps over each
// cell, the pressure at the mouths of the crevices and on the pools. It stops with the context's error.
//
// The speed and the direction of a front follow from the pressure alone: where the pattern of the air moves
// over the wall, the rate at which the logarithm of the pressure rises at a cell is the front's speed times
// the gradient of that logarithm.
func Scan(ctx context.Context, b *station.Body, pass *Pass) (*Seen, error) {
	return ScanWith(ctx, b, pass, ScanOptions{})
}

// ScanOptions say how ScanWith looks. The zero value is one worker and nobody else who looks.
type ScanOptions struct {
	Workers int                               // goroutines, where the air is a *station.Exposer; the result does not depend on it
	Heed    func(x float64, f *station.Field) // called with each field looked at, from the caller's goroutine
}

// ScanWith is Scan with options.
func ScanWith(ctx context.Context, b *station.Body, pass *Pass, o ScanOptions) (*Seen, error) {
	f := NewField(b.Surface)
	seen := &Seen{Step: scanStep(pass, f, o.Heed)}
	n := len(b.Surface.Area)
	seen.First = make([]int32, n+1)
	seen.Mouths = make([][][]float32, len(b.Crevices))
	seen.Pools = make([][][]float32, len(b.Pools))
	if !(pass.To > pass.From) {
		return seen, ctx.Err()
	}
	positions := int(math.Round((pass.To-pass.From)/seen.Step)) + 1
	at := func(i int) float64 { return pass.From + seen.Step*float64(i) }
	eyes := newEyes(pass.Air, o.Workers)
	s := newScanner(b, seen, len(eyes)+1)
	for i := 0; i < positions; i += len(eyes) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		ahead := min(len(eyes), positions-i)
		if err := parallel.Each(ahead, ahead, func(k int) error {
			eyes[k].At(at(i+k), s.fields[k+1])
			return nil
		}); err != nil {
			return nil, err
		}
		for k := range ahead {
			x := at(i + k)
			if o.Heed != nil {
				o.Heed(x, s.fields[k+1])
			}
			s.record(s.fields[k+1])
			s.follow(s.fields[k], s.fields[k+1], x-seen.Step)
		}
		s.fields[0], s.fields[ahead] = s.fields[ahead], s.fields[0]
	}
	end := s.fields[1]
	end.First, end.Last = 0, 0 // nothing comes after the last position
	clear(end.P)
	s.follow(s.fields[0], end, pass.To)
	s.finish()
	if pass.Stand > 0 {
		pass.Air.At(pass.StandAt, f)
		seen.Stand = f
	}
	return seen, nil
}

// newEyes are so many that look at the same air at once; one where it cannot be shared.
func newEyes(air Exposure, workers int) []Exposure {
	eyes := []Exposure{air}
	if c, ok := air.(interface{ Clone() *station.Exposer }); ok {
		for len(eyes) < workers {
			eyes = append(eyes, c.Clone())
		}
	}
	return eyes
}

// NewField returns a field of the surface's size.
func NewField(s *station.Surface) *station.Field {
	n := len(s.Area)
	values := make([]float64, 7*n)
	part := func(i int) []float64 { return values[i*n : (i+1)*n : (i+1)*n] }
	return &station.Field{
		P: part(0), TauS: part(1), TauA: part(2), GradS: part(3), GradA: part(4), Ue: part(5), Heat: part(6),
	}
}

// scanStep returns the distance between positions that resolves the air: a share of the length over which
// the pressure falls, as seen at a few positions.
func scanStep(pass *Pass, f *station.Field, heed func(x float64, f *station.Field)) float64 {
	length := pass.To - pass.From
	if !(length > 0) {
		return 0
	}
	press, steep := 0.0, 0.0
	for i := range probes {
		x := pass.From + length*(float64(i)+0.5)/probes
		pass.Air.At(x, f)
		if heed != nil {
			heed(x, f)
		}
		for k := range f.P {
			press = max(press, f.P[k])
			steep = max(steep, f.GradS[k]*f.GradS[k]+f.GradA[k]*f.GradA[k])
		}
	}
	n := float64(leastPositions)
	if press > 0 && steep > 0 {
		n = math.Ceil(length / (stepShare * press / math.Sqrt(steep)))
	}
	return length / max(leastPositions, min(mostPositions, n))
}

// scanner follows the air over every cell from position to position.
type scanner struct {
	b      *station.Body
	seen   *Seen
	fields []*station.Field // at the position being treated and at those after it
	tracks []track
	found  []foundSweep
}

type foundSweep struct {
	cell  int32
	sweep Sweep
}

// track is one cell on the way through a sweep.
type track struct {
	log1, log2 float64 // logarithm of the pressure at the last position and the one before
	rate1      float64 // its rate of rise at the last position
	live       bool
	passed     bool // the pressure has begun to fall
	dated      bool // s.At is known
	hold       holding
	s          Sweep // growing
	dirS, dirA float64
	rise, fall float64 // sums for the slope
	tauS, tauA float64 // at the place that holds back most
	sum        float64 // of shear along the travel
	most       float64 // greatest shear
	mostAt     float64
}

func newScanner(b *station.Body, seen *Seen, fields int) *scanner {
	s := &scanner{b: b, seen: seen, tracks: make([]track, len(b.Surface.Area))}
	for range fields {
		s.fields = append(s.fields, NewField(b.Surface))
	}
	for k := range s.tracks {
		s.tracks[k].log1, s.tracks[k].log2 = math.Inf(-1), math.Inf(-1)
	}
	return s
}

// follow treats every cell at the last position, which is at, with what comes next. Before the first position it only
// remembers.
func (s *scanner) follow(last, next *station.Field, at float64) {
	cols := s.b.Surface.Cols
	from, to := min(last.First, next.First), max(last.Last, next.Last)
	for k := from * cols; k < to*cols; k++ {
		t := &s.tracks[k]
		log := math.Inf(-1)
		if p := next.P[k]; p > leastPressure {
			log = math.Log(p)
		}
		s.sample(int32(k), t, last, k, at, rate(t.log2, t.log1, log, s.seen.Step))
		t.log2, t.log1 = t.log1, log
	}
}

// rate is the rate of change in the middle of three values, of which the outer ones may be missing.
func rate(before, here, after, step float64) float64 {
	hasBefore, hasAfter := !math.IsInf(before, -1), !math.IsInf(after, -1)
	switch {
	case math.IsInf(here, -1):
		return 0
	case hasBefore && hasAfter:
		return (after - before) / (2 * step)
	case hasAfter:
		return (after - here) / step
	case hasBefore:
		return (here - before) / step
	}
	return 0
}

// sample takes one cell at one position into its sweep.
func (s *scanner) sample(cell int32, t *track, f *station.Field, k int, at, rise float64) {
	p, tauS, tauA := f.P[k], f.TauS[k], f.TauA[k]
	tau2 := tauS*tauS + tauA*tauA
	if tau2 == 0 && p <= leastPressure {
		if t.live && t.passed {
			s.close(cell, t)
		}
		t.rate1 = 0
		return
	}
	if t.live && t.passed && rise > 0 && t.log1 < math.Log(t.s.Press)-valley {
		s.close(cell, t)
	}
	t.live = true
	tau := math.Sqrt(tau2)
	gS, gA := f.GradS[k], f.GradA[k]
	g := math.Sqrt(gS*gS + gA*gA)
	step := s.seen.Step

	switch {
	case rise > 0:
		t.passed = false
	case rise < 0:
		if !t.passed && t.rate1 > 0 && p >= t.s.Press*nearPeak {
			t.s.At = at - step + step*t.rate1/(t.rate1-rise)
			t.dated = true
		}
		t.passed = true
	}
	t.rate1 = rise
	t.s.Press = max(t.s.Press, p)
	t.sum += tau * step
	if tau > t.most {
		t.most, t.mostAt = tau, at
	}
	if t.passed {
		if g > 0 { // the line has moved on: the pressure rises towards it
			t.dirS, t.dirA = t.dirS+p*gS/g*1e-3, t.dirA+p*gA/g*1e-3
		}
		return
	}
	t.s.Peak, t.s.Edge = max(t.s.Peak, tau), max(t.s.Edge, f.Ue[k])
	along := tau
	if g > 0 && p > leastPressure {
		along = max(0, -(tauS*gS+tauA*gA)/g)
		t.dirS, t.dirA = t.dirS-g*gS/g, t.dirA-g*gA/g
		t.rise += rise * g
		t.fall += g * g / p
	} else if tau > 0 {
		t.dirS, t.dirA = t.dirS+tauS*1e-9, t.dirA+tauA*1e-9
	}
	if t.hold.take(water.WipedFilmSI(nominalViscosity, nominalSpeed, along, g)) {
		t.tauS, t.tauA, t.s.Gradient = tauS, tauA, g
		t.s.Offset = 0
		if g > 0 {
			t.s.Offset = p / g
		}
	}
}

// holding finds the least film among positions, and how much less it is between them.
type holding struct {
	least, before, after float64 // of the least film's position and its neighbours; 0 is none
	last                 float64
	next                 bool // the coming position follows the least one
}

// take takes the film at the next position and says whether it is the least so far.
func (h *holding) take(film float64) bool {
	if h.next {
		h.after, h.next = film, false
	}
	least := h.least == 0 || film < h.least
	if least {
		h.least, h.before, h.after, h.next = film, h.last, 0, true
	}
	h.last = film
	return least
}

// between is the least film over the least at any position, from a parabola through the logarithms of three.
func (h *holding) between() float64 {
	if h.before == 0 || h.after == 0 {
		return 1
	}
	before, after := math.Log(h.before/h.least), math.Log(h.after/h.least)
	bend := before + after
	if !(bend > 0) || math.IsInf(bend, 1) {
		return 1
	}
	return max(mostBetween, math.Exp(-(before-after)*(before-after)/(8*bend)))
}

// The place that holds back most is chosen for water of 20 degC and a front of 1 m/s.
const (
	nominalViscosity = 1e-3
	nominalSpeed     = 1.0
)

// close ends the sweep that a cell is in.
func (s *scanner) close(cell int32, t *track) {
	w := t.s
	if !t.dated || w.Press < idlePress {
		w.At = t.mostAt
	}
	if t.most < idleShear && w.Press < idlePress {
		t.reset()
		return
	}
	if d := math.Hypot(t.dirS, t.dirA); d > 0 {
		w.S, w.A = t.dirS/d, t.dirA/d
	}
	sharper := 1 / t.hold.between()
	w.Shear = max(0, t.tauS*w.S+t.tauA*w.A) * sharper
	w.Gradient *= sharper
	w.Slope = 1
	if t.fall > 0 {
		w.Slope = max(0, t.rise/t.fall)
	}
	if t.most > 0 {
		w.Reach = t.sum / t.most
	}
	s.found = append(s.found, foundSweep{cell, w})
	t.reset()
}

func (t *track) reset() { *t = track{log1: t.log1, log2: t.log2, rate1: t.rate1} }

// record keeps the pressures at mouths and on pools.
func (s *scanner) record(f *station.Field) {
	cols := s.b.Surface.Cols
	for i, c := range s.b.Crevices {
		s.seen.Mouths[i] = append(s.seen.Mouths[i], greatest(f, c.Row, c.Row+1, cols))
	}
	for i, p := range s.b.Pools {
		s.seen.Pools[i] = append(s.seen.Pools[i], greatest(f, p.Rows[0], p.Rows[1], cols))
	}
}

// greatest returns the greatest pressure of each column over some rows.
func greatest(f *station.Field, from, to, cols int) []float32 {
	press := make([]float32, cols)
	for r := max(from, f.First); r < min(to, f.Last); r++ {
		for c := range press {
			press[c] = max(press[c], float32(f.P[r*cols+c]))
		}
	}
	return press
}

// finish closes the sweeps still open and sorts all of them by cell; within a cell they are in order of time.
func (s *scanner) finish() {
	for k := range s.tracks {
		if s.tracks[k].live {
			s.close(int32(k), &s.tracks[k])
		}
	}
	first := s.seen.First
	for _, f := range s.found {
		first[f.cell+1]++
	}
	for k := range s.tracks {
		first[k+1] += first[k]
	}
	next := append([]int32(nil), first...)
	s.seen.Sweeps = make([]Sweep, len(s.found))
	for _, f := range s.found {
		s.seen.Sweeps[next[f.cell]] = f.sweep
		next[f.cell]++
	}
}
