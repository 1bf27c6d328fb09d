package drying

import (
	"cmp"
	"math"
	"slices"

	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// rimAngle is the turn of the wall from which an edge of the body sheds what is swept over it; judgement.
const rimAngle = math.Pi / 6

// onward is the downward part of a front's motion from which the water it brings to a line leaves the body
// instead of running back over the wall; judgement.
const onward = 0.3

// front is the sweep that moves most of a cell's water in a pass.
type front struct {
	swept bool
	at    float64 // m
	s, a  float64 // direction
	air   float64 // m/s, ahead of it
}

// landing is swept water that comes to rest at a line.
type landing struct {
	cell int
	line Line
	mass float64 // kg
}

// lanes carries swept water from cell to cell with the fronts that push it.
type lanes struct {
	s      *station.Surface
	fronts []front
	rims   []bool // by row face
	order  []int32
}

func newLanes(b *station.Body) *lanes {
	l := &lanes{s: b.Surface, fronts: make([]front, len(b.Surface.Area)), rims: make([]bool, b.Surface.Rows+1)}
	for _, e := range b.Surface.Edge {
		if e.Angle >= rimAngle {
			l.rims[e.Row] = true
		}
	}
	return l
}

// sort puts the swept cells in the order in which those sweeps pass.
func (l *lanes) sort() {
	l.order = l.order[:0]
	for k, f := range l.fronts {
		if f.swept {
			l.order = append(l.order, int32(k))
		}
	}
	slices.SortFunc(l.order, func(a, b int32) int {
		if c := cmp.Compare(l.fronts[a].at, l.fronts[b].at); c != 0 {
			return c
		}
		return cmp.Compare(a, b)
	})
}

// carry passes water [kg per cell] on with the fronts until no cell farther along is swept later, and returns
// where it comes to rest. carried is used up.
func (l *lanes) carry(carried []float64) []landing {
	var landed []landing
	for _, next := range l.order {
		k := int(next)
		mass := carried[k]
		carried[k] = 0
		if mass <= 0 {
			continue
		}
		landed = l.pass(landed, carried, k, mass)
	}
	for k, mass := range carried { // cells that only a standing container's air has reached
		if mass > 0 {
			landed = append(landed, landing{cell: k, line: l.line(k, k), mass: mass})
			carried[k] = 0
		}
	}
	return landed
}

// pass hands the water of one cell to the cells that the front reaches next, or lands it.
func (l *lanes) pass(landed []landing, carried []float64, k int, mass float64) []landing {
	s, a := l.fronts[k].s, l.fronts[k].a
	row, col := k/l.s.Cols, k%l.s.Cols
	alongTo, rim := l.rowBeside(row, col, s)
	aroundTo := row*l.s.Cols + (col+step(a)+l.s.Cols)%l.s.Cols
	along, around := math.Abs(s)*l.s.StepA[k], math.Abs(a)*l.s.StepS[row]

	onAlong := alongTo >= 0 && !rim && l.later(k, alongTo)
	onAround := l.later(k, aroundTo)
	shed := rim && along > 0
	total := 0.0
	if onAlong || shed {
		total += along
	}
	if onAround {
		total += around
	}
	if total <= 0 {
		to := k
		if alongTo >= 0 && along >= around {
			to = alongTo
		} else if around > along {
			to = aroundTo
		}
		return append(landed, landing{cell: to, line: l.line(k, to), mass: mass})
	}
	if shed {
		landed = append(landed, landing{cell: k, line: l.line(k, k), mass: mass * along / total})
	} else if onAlong {
		carried[alongTo] += mass * along / total
	}
	if onAround {
		carried[aroundTo] += mass * around / total
	}
	return landed
}

// rowBeside returns the cell beyond the row face in direction s, -1 where there is none, and whether a rim
// lies between.
func (l *lanes) rowBeside(row, col int, s float64) (cell int, rim bool) {
	to := row + step(s)
	if to < 0 || to >= l.s.Rows {
		return -1, false
	}
	return to*l.s.Cols + col, l.rims[max(row, to)]
}

func step(x float64) int {
	if x < 0 {
		return -1
	}
	return 1
}

// later says whether the front of cell k goes on to cell to.
func (l *lanes) later(k, to int) bool {
	return l.fronts[to].swept && l.fronts[to].at > l.fronts[k].at
}

// line describes the line on which water swept over cell k comes to rest on cell to.
func (l *lanes) line(k, to int) Line {
	f := l.fronts[k]
	row := k / l.s.Cols
	s, a := f.s, f.a
	if !f.swept {
		s = 1
	}
	up := s * l.s.Along[k].Z // Around is level
	return Line{
		Length: math.Abs(s)*l.s.StepA[k] + math.Abs(a)*l.s.StepS[row],
		Rise:   min(1, math.Abs(a*l.s.Along[k].Z)),
		Up:     l.s.Normal[to].Z,
		Air:    f.air,
		Onward: -up > onward || l.sweptBelow(k, to),
	}
}

// sweptBelow says that the wall below a cell is swept after the front of cell k has brought its water there: a
// streak that runs down is picked up again.
func (l *lanes) sweptBelow(k, to int) bool {
	below := to - l.s.Cols
	if l.s.Along[to].Z < 0 {
		below = to + l.s.Cols
	}
	if below < 0 || below >= len(l.fronts) || !l.fronts[k].swept || !l.fronts[below].swept {
		return false
	}
	return l.fronts[below].at > l.fronts[k].at
}

// settle puts what stays of one landing on the wall and returns where the rest went. carrier receives the
// drops and their mass [kg] for the landing's cell.
func (c *chain) settle(l landing, m *wall, height float64, carrier func(Drops)) Moved {
	r := HoldLine(c.liquid, m.Wetting, q.Density(c.rho), l.line, height, l.mass)
	rho := float64(c.liquid.Density)
	slide := m.slide(c.liquid, l.line.Up)
	if r.Stays > 0 {
		size := math.Sqrt(r.Stays / (rho * l.line.Length * m.front))
		carrier(Drops{Mass: r.Stays, Median: min(size, slide), Spread: streakSpread, Limit: math.Inf(1)})
	}
	if r.Streaks > 0 {
		size := min(slide, float64(c.liquid.CapillaryLength())*2)
		carrier(Drops{Mass: r.Streaks, Median: size, Spread: streakSpread, Limit: math.Inf(1)})
	}
	return Moved{BlownOff: r.BlownOff, Mist: r.Mist}
}

// returnedSize is the size of drops thrown off by air of a speed.
func (c *chain) returnedSize(air float64) float64 {
	return float64(water.MistSize(c.liquid, q.Density(c.rho), q.Speed(max(1, air))))
}
