package design

import (
	"context"
	"fmt"
	"math"

	leste "leste"
	"leste/catalogue"
	"leste/drying"
	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
	"leste/station"
)

// Sizes of the wall's cells while searching [m]. Searching wide takes the rough ones, and what is kept is judged on the
// fine ones. From one station to its neighbours, half a degree or a millimetre beside it, what manifolds leave on a can
// scatters by 0.4 to 1 % on cells of 2 mm. For manifolds the rough ones find what those do within 4 % or so, and the fine
// ones 2 % less to 2 % more by the format, and 1.5 to 4 % beside that from station to station; for knives the rough ones
// find 15 to 30 % more and the fine ones 10 %.
const (
	searchCell = 6.5e-3
	roughCell  = 10e-3
)

// ground is what all candidates at the same places have in common; it is only read.
type ground struct {
	given   *job.Job // stations are the places, without outlets
	basis   *leste.Basis
	sizes   Sizes
	parts   catalogue.Parts
	formats []formatGround
	room    air.Moist
	spacing float64 // least distance between the lips of two groups [m]
	bills   *bills
	memory  *memory
	bodies  *station.Bodies // for layouts
}

// formatGround is one format without air.
type formatGround struct {
	name    string
	plan    *station.FormatPlan
	problem *drying.Problem // at the highest speed, without passes
	rough   wallGround
	outline []outlinePoint
	demands []demand

	passing, stopped station.StandOptions
	stops            bool
}

// wallGround is a format on one grid.
type wallGround struct {
	plan    *station.FormatPlan
	problem *drying.Problem
}

// An eye is how candidates are looked at: by the quick method on the fine grid or the rough one, or with the water
// followed by transport on the rough grid or the fine one. All that they find is told as the surest of them would:
// transport on the fine grid.
//
// Over points spread over the space of two stations for cans the quick method scatters by 20 % against transport on cells
// of 6 mm, whatever its grid. Transport takes hardly longer on the rough grid, and is nearer (see searchCell).
type eye int

const (
	eyeFine eye = iota
	eyeRough
	eyeGlimpse
	eyeFollowed
	eyes
)

// follows says whether an eye has the water followed by transport.
func (e eye) follows() bool { return e == eyeGlimpse || e == eyeFollowed }

// wall is the format on the grid of an eye.
func (f *formatGround) wall(by eye) wallGround {
	if by == eyeRough || by == eyeGlimpse {
		return f.rough
	}
	return wallGround{f.plan, f.problem}
}

// outlinePoint is how far a row of the wall reaches across travel.
type outlinePoint struct{ z, half float64 }

// A demand is one requirement that a format has a zone for.
type demand struct {
	machine, require int
	text             string // "the sidewall for the tray packer"
	zone             string
}

func newGround(given *job.Job, sizes Sizes, parts catalogue.Parts) (*ground, error) {
	basis, err := leste.NewBasis(given, searchCell)
	if err != nil {
		return nil, err
	}
	rough, err := leste.NewBasis(given, roughCell)
	if err != nil {
		return nil, err
	}
	const usualSpacing = 30e-3 // m: a jet is not blown aside by its neighbour, and a hand gets at both lips; common practice, no source
	g := &ground{given: given, basis: basis, sizes: sizes, parts: parts, spacing: usualSpacing, bills: newBills(), memory: newMemory(), bodies: station.NewBodies()}
	plans, roughPlans := basis.Formats(), rough.Formats()
	filled := basis.Job()
	surge := max(1, float64(filled.Line.Surge.V))
	for i := range plans {
		f := formatGround{
			name: plans[i].Format.Name, plan: &plans[i], problem: basis.Problem(i, surge, 0),
			rough: wallGround{&roughPlans[i], rough.Problem(i, surge, 0)},
		}
		for _, p := range []*drying.Problem{f.problem, f.rough.problem} {
			p.Laid = drying.Lay(p)
		}
		f.passing, f.stopped, f.stops = basis.Standing(i)
		s := plans[i].Body.Surface
		for row := range s.Rows {
			p := outlinePoint{z: s.Pos[row*s.Cols].Z}
			for k := row * s.Cols; k < (row+1)*s.Cols; k++ {
				p.half = max(p.half, math.Abs(s.Pos[k].Y))
			}
			f.outline = append(f.outline, p)
		}
		for m := range f.problem.Machines {
			machine := &f.problem.Machines[m]
			for r := range machine.Requires {
				if zone := machine.Requires[r].Zone; hasZone(s, zone) {
					f.demands = append(f.demands, demand{m, r, demandText(zone, machine), zone})
				}
			}
		}
		g.formats = append(g.formats, f)
	}
	room := g.formats[0].problem.Room
	g.room = air.Humid(room.Pressure, room.Temperature, q.Ratio(room.Humidity))
	return g, nil
}

func hasZone(s *station.Surface, zone string) bool {
	if zone == job.ZoneAll {
		return true
	}
	for _, z := range s.Zones {
		if z == zone {
			return true
		}
	}
	return false
}

func demandText(zone string, m *drying.Machine) string {
	if zone == job.ZoneAll {
		zone = "whole container"
	}
	return fmt.Sprintf("the %s for the %s", zone, machineWords(m))
}

// widest is how far the container reaches from the line's centre between two heights.
func (f *formatGround) widest(low, high float64) float64 {
	w := 0.0
	for _, p := range f.outline {
		if p.z >= low-searchCell && p.z <= high+searchCell {
			w = max(w, p.half)
		}
	}
	return w
}

// reaches is widest as the wall is, for what is told: by the centres of cells, which a search counts from, cans are up to
// 0.2 mm too narrow. Beside what is above the container it is the top's.
func (f *formatGround) reaches(low, high float64) float64 {
	top := f.plan.Body.Height
	return f.plan.Body.HalfDepth(min(max(low, 0), top), min(max(high, 0), top))
}

// half is how far the container reaches from the line's centre at a height; 0 above and below it.
func (f *formatGround) half(z float64) float64 {
	body := f.plan.Body
	if z < 0 || z > body.Height {
		return 0
	}
	w := 0.0
	for i := range f.outline {
		p := &f.outline[i]
		// Rows stand for half a cell on either side.
		if math.Abs(p.z-z) <= searchCell {
			w = max(w, p.half)
		}
	}
	return w
}

// outletAir is the air of an outlet at a plenum pressure, warmed as a usual blower warms it.
func (g *ground) outletAir(s *setup, pressure float64) (station.OutletAir, error) {
	shape, err := s.shape(pressure)
	if err != nil {
		return station.OutletAir{}, err
	}
	return station.OutletAir{
		Plenum: q.Gauge(pressure), Stagnation: g.plenumTemperature(pressure), Humidity: g.room.W,
		Cd: float64(shape.Cd), Cv: float64(shape.Cv), Ambient: g.room.P, AmbientT: g.room.T,
	}, nil
}

// plenumTemperature is that behind a blower of usual efficiency; the air supply finds the true one.
func (g *ground) plenumTemperature(pressure float64) q.Temperature {
	const efficiency, exponent = 0.6, 0.2857
	t := float64(g.room.T)
	return q.Temperature(t + t*(math.Pow(1+pressure/float64(g.room.P), exponent)-1)/efficiency)
}

// spreads finds the bands of a format from one arrangement at one pressure; they change little from one to the next.
func (g *ground) spreads(ctx context.Context, a arrangement, pressure float64) error {
	for f := range g.formats {
		for _, by := range []eye{eyeFine, eyeRough} {
			l, err := g.look(ctx, a, f, pressure, by)
			if err != nil {
				return err
			}
			p, err := l.problem(ctx, pressure)
			if err != nil {
				return err
			}
			o, err := drying.Quick(ctx, &p)
			if err != nil {
				return err
			}
			g.formats[f].wall(by).problem.Spreads = o.Spreads
		}
	}
	return nil
}
