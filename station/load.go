package station

import (
	"context"
	"math"
	"slices"
)

// A Load is what the air does to the whole container with its axis at X: force [N], and moment about the
// point on the axis at belt height [N m].
type Load struct {
	X             float64
	Force, Moment Vec

	drag, twist Vec // the part of the two that is shear
}

// Load adds up the thrust of the jets, and the shear of a field that At wrote for the axis at x.
func (e *Exposer) Load(x float64, f *Field) Load {
	s := e.body.Surface
	l := e.thrust(x)
	for i := f.First * s.Cols; i < f.Last*s.Cols; i++ {
		ts, ta := f.TauS[i], f.TauA[i]
		if ts == 0 && ta == 0 {
			continue
		}
		c := &e.cells[i]
		a := s.Area[i]
		fx := a * (ts*c.along.X + ta*c.ax)
		fy := a * (ts*c.along.Y + ta*c.ay)
		fz := a * ts * c.along.Z
		l.drag.X += fx
		l.drag.Y += fy
		l.drag.Z += fz
		l.twist.X += c.pos.Y*fz - c.pos.Z*fy
		l.twist.Y += c.pos.Z*fx - c.pos.X*fz
		l.twist.Z += c.pos.X*fy - c.pos.Y*fx
	}
	l.Force, l.Moment = l.Force.along(1, l.drag), l.Moment.along(1, l.twist)
	return l
}

// evened are loads by rising position whose shear is that of the positions around. The shear of a cell follows from the
// one point that a jet's axis meets and jumps where that point passes a rim; a jet is as wide as this.
func evened(loads []Load) []Load {
	const wide = 15e-3 // m, to either side
	out := slices.Clone(loads)
	for i := range loads {
		var drag, twist Vec
		sum := 0.0
		add := func(k int) bool {
			w := 1 - math.Abs(loads[k].X-loads[i].X)/wide
			if w <= 0 {
				return false
			}
			low, high := loads[max(k-1, 0)].X, loads[min(k+1, len(loads)-1)].X
			w *= high - low
			drag, twist, sum = drag.along(w, loads[k].drag), twist.along(w, loads[k].twist), sum+w
			return true
		}
		for k := i; k >= 0 && add(k); k-- {
		}
		for k := i + 1; k < len(loads) && add(k); k++ {
		}
		if sum > 0 {
			l := &out[i]
			l.Force = l.Force.along(-1, l.drag).along(1/sum, drag)
			l.Moment = l.Moment.along(-1, l.twist).along(1/sum, twist)
		}
	}
	return out
}

// A Peak is the largest of something over a zone and a pass, and where the container's axis was then.
type Peak struct{ Value, X float64 }

// raise takes a value at a position; of the same at several it is the first, in whatever order they come.
func (p *Peak) raise(v, x float64) {
	if v > p.Value || v == p.Value && x < p.X && v > 0 {
		p.Value, p.X = v, x
	}
}

// ZonePeak holds the peaks of a zone: impact pressure [Pa], air speed [m/s], share of the jet's excess
// temperature.
type ZonePeak struct{ Pressure, Speed, Heat Peak }

// A Record is what was seen of one pass: the loads by position and the peaks by zone. An Exposer with a
// Record keeps it while others ask it for fields, so that a pass need not be calculated twice.
type Record struct {
	Loads []Load
	Zones []ZonePeak // as Surface.Zones
}

// A Recorder answers like its Exposer and keeps a Record of every position it was asked for.
type Recorder struct {
	E      *Exposer
	Record Record
}

// At writes into f what the air does with the container's axis at x.
func (r *Recorder) At(x float64, f *Field) {
	r.E.At(x, f)
	r.Record.Add(r.E, x, f)
}

// Add keeps a field that e wrote for the axis at x.
func (r *Record) Add(e *Exposer, x float64, f *Field) {
	s := e.body.Surface
	if len(r.Zones) != len(s.Zones) {
		r.Zones = make([]ZonePeak, len(s.Zones))
	}
	r.Loads = append(r.Loads, e.Load(x, f))
	for row := f.First; row < f.Last; row++ {
		z := &r.Zones[s.Zone[row*s.Cols]]
		from, to := row*s.Cols, (row+1)*s.Cols
		z.Pressure.raise(slices.Max(f.P[from:to]), x)
		z.Speed.raise(slices.Max(f.Ue[from:to]), x)
		z.Heat.raise(slices.Max(f.Heat[from:to]), x)
	}
}

// usualPositions of a pass that is recorded for itself.
const usualPositions = 48

// NewRecord looks at a whole pass, entry and exit included, in steps of at most step [m]; 0 means 48 positions.
// It stops with the context's error.
func NewRecord(ctx context.Context, e *Exposer, step float64) (*Record, error) {
	r := &Recorder{E: e}
	from, to := e.Range()
	if from > to {
		r.Record.Zones = make([]ZonePeak, len(e.body.Surface.Zones))
		return &r.Record, nil
	}
	n := usualPositions
	if step > 0 {
		n = min(100_000, max(2, int(math.Ceil((to-from)/step))))
	}
	var f Field
	for i := 0; i <= n; i++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r.At(from+(to-from)*float64(i)/float64(n), &f)
	}
	return &r.Record, nil
}
