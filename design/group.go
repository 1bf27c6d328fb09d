package design

import (
	"math"

	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// Sides of the line that a group of outlets stands on; beside is left and right alike.
const (
	beside = "beside"
	left   = "left"
	right  = "right"
	above  = "above"
	below  = "below"
)

// coordinate is where a value of a group comes from: a variable of its concept, or a fixed value.
type coordinate struct {
	variable int // -1 when fixed
	fixed    float64
}

func fixed(v float64) coordinate { return coordinate{-1, v} }

// A group is outlets that are set alike: one, or a pair that mirror each other.
type group struct {
	name  string
	place int // index of the station
	kind  string
	side  string
	frame string
	given []job.Outlet // the outlets of the job that it came from, left before right; nil for new ones
	drawn []lips       // by format: where those stand
	zeros []stand      // of each: where it stands while the scales of its frame read nothing
	aside float64      // m, of one above or below: its middle to the left of the line's centre

	tilt, down, along, x, length, gap, bore, spacing coordinate

	share   coordinate   // height of the middle over the container's, of groups beside the line
	clear   coordinate   // lip to the nearest wall that passes
	higher  []coordinate // by format: added height; nil for none
	farther []coordinate // by format: added clearance; nil for none
	lift    []coordinate // by format: common upward movement of a rigid set; nil for a frame of its own
}

// lips is where the middle of a lip stands.
type lips struct {
	height, offset float64 // m above the belt and from the line's centre
	clear          float64 // m from the nearest wall that passes
}

// setup is a group with its values chosen.
type setup struct {
	*group
	tilt, down, along, x, length, gap, bore, spacing float64

	height []float64 // by format: middle above the belt
	offset []float64 // by format: lip from the line's centre, of groups beside it
}

// arrangement is a concept with its values chosen: what stands where for every format.
type arrangement struct {
	concept *concept
	setups  []setup
}

// arrange chooses the values that a point of the unit cube stands for.
func (c *concept) arrange(x []float64) arrangement {
	values := make([]float64, len(c.variables))
	for i := range values {
		values[i] = c.variables[i].value(x[i])
	}
	at := func(k coordinate) float64 {
		if k.variable < 0 {
			return k.fixed
		}
		return values[k.variable]
	}
	a := arrangement{c, make([]setup, len(c.groups))}
	for i := range c.groups {
		g := &c.groups[i]
		s := setup{
			group: g, tilt: at(g.tilt), down: at(g.down), along: at(g.along), x: at(g.x),
			length: at(g.length), gap: at(g.gap), bore: at(g.bore), spacing: at(g.spacing),
			height: make([]float64, len(c.ground.formats)), offset: make([]float64, len(c.ground.formats)),
		}
		s.stand(c.ground, at)
		a.setups[i] = s
	}
	return a
}

// stand settles heights and distances of a group for every format.
func (s *setup) stand(g *ground, at func(coordinate) float64) {
	of := func(list []coordinate, f int) float64 {
		if list == nil {
			return 0
		}
		return at(list[f])
	}
	step, widest := float64(g.sizes.ClearanceStep), 0.0
	for f := range g.formats {
		like := f // a rigid set stands as for the first format, and moves up and down
		if s.lift != nil {
			like = 0
		}
		body := g.formats[like].plan.Body
		from, nearest := lips{}, float64(g.sizes.Clearance[0])
		if s.drawn != nil { // steps are counted from there, and it may stay as close as it stands
			from = s.drawn[f]
			nearest = min(nearest, from.clear)
		}
		clear := max(at(s.clear)+of(s.farther, f), nearest)
		switch s.side {
		case above:
			s.height[f] = from.height + roundUp(body.Height+clear-from.height, step) + of(s.lift, f)
		case below:
			s.height[f] = -clear
		default:
			rung := float64(g.sizes.HeightStep)
			s.height[f] = from.height + math.Round((at(s.share)*body.Height+of(s.higher, f)-from.height)/rung)*rung + of(s.lift, f)
			low, high := s.span(s.height[f])
			s.offset[f] = from.offset + roundUp(g.formats[f].widest(low, high)+clear-from.offset, step)
			widest = max(widest, s.offset[f])
		}
	}
	if s.lift == nil {
		return
	}
	for f := range s.offset { // it keeps its distance to the line's centre
		s.offset[f] = widest
	}
}

// span is the range of heights that an outlet beside the line takes up around its middle.
func (s *setup) span(middle float64) (low, high float64) {
	half := math.Abs(math.Sin(s.tilt))*s.length/2 + max(s.gap, s.bore)/2
	return middle - half, middle + half
}

func roundUp(v, step float64) float64 {
	const noise = 1e-6
	return math.Ceil(v/step-noise) * step
}

// nozzles is the number of nozzles of a manifold.
func (s *setup) nozzles() int {
	if s.kind != job.NozzleManifold || !(s.spacing > 0) {
		return 1
	}
	return int(s.length/s.spacing+1e-9) + 1
}

// opening is the area of the openings of all outlets of the group [m2].
func (s *setup) opening() float64 {
	one := s.length * s.gap
	if s.kind != job.AirKnife {
		one = float64(s.nozzles()) * math.Pi / 4 * s.bore * s.bore
	}
	return one * float64(len(s.sides()))
}

// sides are those that the group's outlets stand on.
func (s *setup) sides() []string {
	if s.side == beside {
		return []string{left, right}
	}
	return []string{s.side}
}

// outlet is one outlet of the group as a job says it, for the first format.
func (s *setup) outlet(i int, pressure float64) job.Outlet {
	side := s.sides()[i]
	var o job.Outlet
	if s.given != nil {
		o = s.given[i]
		o.StandOff, o.Count = q.Maybe[q.Length]{}, 0
	} else {
		o.Name = s.outletName(side)
	}
	length := func(v float64) q.Maybe[q.Length] { return q.Known(q.Length(v)) }
	angle := func(v float64) q.Maybe[q.Angle] { return q.Known(q.Angle(v)) }
	o.Kind, o.Side, o.Frame = s.kind, side, ""
	o.X, o.Height = length(s.x), length(s.height[0])
	o.Tilt, o.AimDown, o.AimAlong = angle(s.tilt), angle(s.down), angle(s.along)
	o.Offset = length(s.offset[0])
	if side == above || side == below {
		o.Offset = length(s.aside)
	}
	switch s.kind {
	case job.AirKnife:
		o.Length = length(s.length)
		o.SetGap(length(s.gap))
	case job.NozzleManifold:
		o.Length, o.Bore, o.Spacing = length(s.length), length(s.bore), length(s.spacing)
	default:
		o.Bore = length(s.bore)
	}
	o.Pressure = q.Known(q.Gauge(pressure))
	return o
}

// outletName is a name that tells where an outlet stands: "left knife", "top manifold of the second station".
func (s *setup) outletName(side string) string {
	name := map[string]string{left: "left", right: "right", above: "top", below: "bottom"}[side]
	name += map[string]string{job.AirKnife: " knife", job.NozzleManifold: " manifold", job.Nozzle: " nozzle"}[s.kind]
	if s.place > 0 {
		name += " of station " + string(rune('1'+s.place))
	}
	return name
}

// placed is one outlet of the group in the station's coordinates for a format.
func (s *setup) placed(i, format int) station.Placed {
	p := s.lip(i, format)
	p.Name = s.outletNameOf(i)
	if s.kind == job.AirKnife {
		return p
	}
	n := s.nozzles()
	for k := range n {
		p.Ports = append(p.Ports, (float64(k)-float64(n-1)/2)*p.Spacing)
	}
	return p
}

// lip is what placed is without name and ports, which most moves of a search do not ask for.
func (s *setup) lip(i, format int) station.Placed {
	side := s.sides()[i]
	p := station.Placed{Kind: s.kind, Side: side, StandOff: math.NaN()}
	p.Line, p.Axis = directions(side, s.tilt, s.down, s.along)
	p.Middle = station.Vec{X: s.x, Z: s.height[format]}
	switch side {
	case left:
		p.Middle.Y = s.offset[format]
	case right:
		p.Middle.Y = -s.offset[format]
	default:
		p.Middle.Y = s.aside
	}
	if s.kind == job.AirKnife {
		p.Length, p.Gap = s.length, s.gap
		p.Opening = q.Area(s.length * s.gap)
		p.Plenum = s.plenum(i, p.Opening)
		return p
	}
	n := s.nozzles()
	p.Bore = s.bore
	if n > 1 {
		p.Spacing, p.Length = s.spacing, s.spacing*float64(n-1)
	}
	p.Opening = q.Area(float64(n) * math.Pi / 4 * s.bore * s.bore)
	if s.kind == job.NozzleManifold {
		p.Plenum = s.plenum(i, p.Opening)
	}
	return p
}

// plenum is the bore behind an outlet of the group [m]: that of the outlet that it came from, or what goes with its opening.
func (s *setup) plenum(i int, opening q.Area) float64 {
	var o job.Outlet
	if s.given != nil {
		o = s.given[i]
	}
	return float64(o.Plenum(opening))
}

func (s *setup) outletNameOf(i int) string {
	if s.given != nil {
		return s.given[i].Name
	}
	return s.outletName(s.sides()[i])
}

// directions are the unit vectors of an outlet along its line and along its air, as the job file means them; a test
// holds them against the layout of package station.
func directions(side string, tilt, down, along float64) (line, axis station.Vec) {
	sinD, cosD := math.Sincos(down)
	sinA, cosA := math.Sincos(along)
	sinT, cosT := math.Sincos(tilt)
	switch side {
	case left:
		axis, line = station.Vec{X: cosD * sinA, Y: -cosD * cosA, Z: -sinD}, station.Vec{X: cosT, Z: -sinT}
	case right:
		axis, line = station.Vec{X: cosD * sinA, Y: cosD * cosA, Z: -sinD}, station.Vec{X: cosT, Z: -sinT}
	case below:
		axis, line = station.Vec{X: cosD * sinA, Y: sinD, Z: cosD * cosA}, station.Vec{X: cosT, Y: sinT}
	default:
		axis, line = station.Vec{X: cosD * sinA, Y: sinD, Z: -cosD * cosA}, station.Vec{X: cosT, Y: sinT}
	}
	axis = unit(axis)
	return unit(plus(line, -dot(line, axis), axis)), axis
}

func dot(a, b station.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// plus is a + k b.
func plus(a station.Vec, k float64, b station.Vec) station.Vec {
	return station.Vec{X: a.X + k*b.X, Y: a.Y + k*b.Y, Z: a.Z + k*b.Z}
}

func unit(v station.Vec) station.Vec {
	n := math.Sqrt(dot(v, v))
	return station.Vec{X: v.X / n, Y: v.Y / n, Z: v.Z / n}
}
