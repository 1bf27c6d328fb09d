package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
)

// Of the closed forms on one cell. Judgement, no source.
const (
	dryFrontRest   = 0.02  // share of the wiped film that a wall drying behind the front keeps, as small drops
	restSize       = 0.5   // size of those over the drops of a broken film
	littleLost     = 0.005 // share of moved drops left behind as small drops by a slow front
	smallOverMoved = 0.25  // size of small drops over that of the drops that leave them
	thinAhead      = 10e-3 // m; length ahead of the line over which the film is thin and the shear near its greatest
	nothingStays   = 1e-9  // share of a population not worth keeping
	noFilm         = 1e-6  // kg/m2, a film whose drops are not worth following
	standReach     = 10e-3 // m from the impingement line, where the pressure does not tell
)

// chain applies the closed forms, cell by cell and sweep by sweep, with one choice of every setting.
type chain struct {
	set     Settings
	liquid  water.Liquid
	walls   []wall
	rho     float64 // of the air
	nu      float64
	radian  float64 // dewetting speed at a receding angle of one radian
	capLen2 float64
	alone   bool // no ridge rides with the lines: to see what it is worth
}

func newChain(p *Problem) *chain {
	room := p.Room.moist()
	c := &chain{
		set: p.Settings, liquid: p.Liquid.liquid(), walls: walls(p.Body),
		rho: float64(room.Density()), nu: float64(room.KinematicViscosity()),
	}
	c.prepare()
	return c
}

// prepare works out what follows from the liquid.
func (c *chain) prepare() {
	c.radian = float64(water.DewettingSpeed(c.liquid, 1, 0))
	l := float64(c.liquid.CapillaryLength())
	c.capLen2 = l * l
}

// strike is a sweep as one cell meets it.
type strike struct {
	*Sweep
	speed float64 // m/s of the container
	path  float64 // m that the front has swept before it comes here
	pull  float64 // Pa/m, weight of the water along the front's motion
}

// sweep applies one passage to a cell and returns the water that it pushes on [kg/m2].
func (c *chain) sweep(w *Water, k int, m *wall, s strike) float64 {
	front := s.speed * s.Slope
	shear, gradient := c.set.Shear*s.Shear, c.set.Pressure*s.Gradient+s.pull
	mu, rho := float64(c.liquid.Viscosity), float64(c.liquid.Density)

	// A line that hardly moves over the wall drains it instead: film = mu s/(tau t).
	held := front
	if s.Reach > 0 {
		held = max(front, 2*s.Offset/s.Reach*s.speed)
	}
	wiped := water.WipedFilmSI(mu, held, shear, gradient)
	before := w.OnWall(k)

	smallest := c.smallestMoved(m, push{
		shear: c.set.Shear * s.Peak, edge: math.Sqrt(c.set.Pressure) * s.Edge, gradient: gradient,
	}, c.set.SlideShare*front, largestOf(w.cell(k)))
	moved, movedSize := c.pushDrops(w, k, smallest)

	thick := min(w.Thick[k], wiped)
	wet := m.wets + (1-m.wets)*c.wetShare(m, front, thick)
	film := 0.0
	if w.Film[k] > 0 {
		film = w.Film[k] * thick / w.Thick[k]
	}
	swept := w.Film[k] - film + moved

	// What stays behind: film, the trail of the ridge that is pushed along, small drops; together no more
	// than the film that passes the line, and no more than came.
	room := min(rho*wiped, before)
	stays := film * wet
	rest := film * (1 - wet) * dryFrontRest
	swept += film - stays - rest
	room = max(0, room-stays-rest)
	ridge := min(1, before/rho*s.path/(m.front*c.capLen2))
	if c.alone {
		ridge = 0
	}
	trail := 0.0
	if swept > 0 && ridge > 0 {
		trail = min(ridge*rho*wiped, swept, room)
	}
	trailWet, trailDrops := trail*wet, trail*(1-wet)*dryFrontRest
	room -= trailWet + trailDrops
	dewetting := q.Speed(c.radian * cube(float64(m.Receding)))
	lost := float64(water.SmallDropShare(q.Speed(front), dewetting, littleLost, q.Ratio(max(littleLost, c.set.SmallDrops))))
	small := min((1-ridge)*lost*moved, swept-trailWet-trailDrops, room)

	w.Film[k] = stays + trailWet
	w.Thick[k] = 0
	if w.Film[k] > 0 {
		w.Thick[k] = thick
		if trailWet > 0 {
			w.Thick[k] = (stays*thick + trailWet*min(wiped, before/rho)) / w.Film[k]
		}
	}
	if x := rest + trailDrops; x > 0 {
		d := breakUp(x, min(wiped, max(thick, before/rho)), c.set.HoleSpacing, c.set.DropSpread, m)
		d.Median *= restSize
		w.Add(k, d)
	}
	if small > 0 {
		w.Add(k, Drops{Mass: small, Median: movedSize * smallOverMoved, Spread: c.set.DropSpread, Limit: math.Inf(1)})
	}
	broken := c.breakAhead(w, k, m, front, smallest)
	return swept - trailWet - trailDrops - max(0, small) + broken
}

// pushDrops takes the drops larger than smallest off a cell; it returns their mass and typical size.
func (c *chain) pushDrops(w *Water, k int, smallest float64) (moved, size float64) {
	logs := 0.0
	place := w.cell(k)
	for i := range place {
		d := &place[i]
		if d.Mass <= 0 {
			continue
		}
		stays := d.below(smallest)
		if stays < nothingStays {
			stays = 0
		}
		out := d.Mass * (1 - stays)
		moved += out
		if out > 0 {
			logs += out * math.Log(max(d.Median, smallest))
		}
		d.Mass *= stays
		d.Limit = min(d.Limit, smallest)
	}
	if moved > 0 {
		size = math.Exp(logs / moved)
	}
	return moved, size
}

// breakAhead lets the film break where it is thin, just ahead of the line, and returns what of its drops the air
// still pushes on [kg/m2]. What breaks behind the line stays: over a wall that is alike all along, the air
// there moves as much onto every place as off it.
func (c *chain) breakAhead(w *Water, k int, m *wall, front, smallest float64) float64 {
	if w.Film[k] <= noFilm || m.wets >= 1 {
		return 0
	}
	d := c.broken(w, k, m, min(thinAhead/front, settled))
	if d.Mass <= 0 {
		return 0
	}
	stays := d.below(smallest)
	if stays < nothingStays {
		return d.Mass
	}
	moved := d.Mass * (1 - stays)
	d.Mass *= stays
	d.Limit = smallest
	w.Add(k, d)
	return moved
}

// broken takes the share of a cell's film that breaks within a time [s] off it and returns its drops.
func (c *chain) broken(w *Water, k int, m *wall, t float64) Drops {
	if w.Film[k] <= 0 || !(t > 0) {
		return Drops{}
	}
	dewetting := water.DewettingSpeed(c.liquid, m.Receding, q.Length(w.Thick[k]))
	takes := water.BreakUpTime(q.Length(c.set.HoleSpacing), dewetting)
	mass := w.Film[k] * (1 - m.wets) * float64(water.BrokenShare(q.Duration(t), takes))
	w.Film[k] -= mass
	return breakUp(mass, w.Thick[k], c.set.HoleSpacing, c.set.DropSpread, m)
}

// wait lets the film of a cell break for a time [s] without air.
func (c *chain) wait(w *Water, k int, m *wall, t float64) {
	if w.Film[k] > 0 && m.wets < 1 {
		w.Add(k, c.broken(w, k, m, t))
	}
}

// wetShare is the share of the surface that a front leaves wet: card wet-share with the scatter of the
// receding angle as a setting, and with the inertial limit of dewetting for a film of thickness h [m].
func (c *chain) wetShare(m *wall, front, h float64) float64 {
	viscous := math.Cbrt(front / c.radian)
	inertial := math.Acos(1 - min(2, float64(c.liquid.Density)*h*front*front/(2*float64(c.liquid.Tension))))
	return 1 - tail((max(viscous, inertial)-float64(m.Receding))/c.set.RecedingSpread)
}

// push is what moves drops: air along the wall, pressure falling and weight pulling the same way.
type push struct {
	shear    float64 // Pa
	edge     float64 // m/s
	gradient float64 // Pa/m
}

// smallestMoved is the base diameter of the smallest drop that moves along the wall at speed v: the balance of
// card drop-balance, as water.CriticalDiameter, by a secant in logarithms, which needs a few steps. It is
// +Inf when not even a drop of diameter most moves.
func (c *chain) smallestMoved(m *wall, by push, v, most float64) float64 {
	if !(by.shear > 0) || !(by.edge > 0) || most == 0 {
		return math.Inf(1)
	}
	capillary := q.Ratio(float64(c.liquid.Viscosity) * v / float64(c.liquid.Tension))
	hold := water.RetentionFactor * float64(c.liquid.Tension) * float64(m.At(capillary).Hysteresis())
	drag := 0.5 * c.set.Drag * c.rho * m.front
	over := func(log float64) float64 { // logarithm of push over hold
		d := math.Exp(log)
		u := water.AirSpeedSI(by.shear, c.rho, c.nu, m.height*d, by.edge)
		f := drag*u*u*d + m.volume*d*d*by.gradient
		if f <= 0 {
			return math.Inf(-1)
		}
		return math.Log(f / hold)
	}
	const (
		smallest, largest = 1e-7, 0.05 // m
		slopeFirst        = 1.5
		near              = 1e-3
		longest           = 1.5
	)
	lo, hi := math.Log(smallest), math.Log(min(largest, most))
	x := hi
	f := over(x)
	if f < 0 && by.gradient >= 0 {
		return math.Inf(1)
	}
	// Where weight works against the air large drops may be harder to push than middling ones.
	careful := f < 0
	slope := slopeFirst
	for range 40 {
		if careful || math.IsInf(f, -1) {
			break
		}
		next := max(lo, min(hi, x+max(-longest, min(longest, -f/slope))))
		if math.Abs(next-x) < near {
			return math.Exp(next)
		}
		g := over(next)
		if s := (g - f) / (next - x); s > 0.3 {
			slope = s
		}
		x, f = next, g
	}
	d := float64(water.CriticalDiameter(c.liquid, m.Wetting, water.Stream{
		Density: q.Density(c.rho), Nu: q.KinematicViscosity(c.nu), Shear: q.Stress(by.shear),
		Edge: q.Speed(by.edge), Gradient: q.PressureGradient(by.gradient),
	}, q.Ratio(c.set.Drag), q.Speed(v)))
	if d > most {
		return math.Inf(1)
	}
	return d
}

// largest is the diameter above which a population has nothing worth counting.
func (d Drops) largest() float64 {
	const deviations = 6
	return min(d.Limit, d.Median*math.Exp(deviations*d.Spread))
}

// largestOf is the largest drop on a cell, 0 when there is none.
func largestOf(all []Drops) float64 {
	most := 0.0
	for i := range all {
		if all[i].Mass > 0 {
			most = max(most, all[i].largest())
		}
	}
	return most
}

func cube(x float64) float64 { return x * x * x }
