package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
)

// Water is the water on one container at one moment. Both methods hand it to Transit and Tally.
type Water struct {
	Film    []float64 // kg/m2 per cell, continuous film
	Thick   []float64 // m per cell, thickness of that film where it lies; only the quick method keeps it
	PerCell int       // populations of drops per cell
	Drops   []Drops   // PerCell for each cell, cell after cell; Mass 0 is an unused place
	Trapped []float64 // kg per crevice
	Pools   []float64 // kg per pool
	Fog     []float64 // kg/m2 per cell, condensed on the way
}

// Drops are lognormal drops on a wall of which only those below Limit are left. Median halves the water.
type Drops struct {
	Mass   float64 // kg per m2 of wall
	Median float64 // m
	Spread float64 // standard deviation of the logarithm
	Limit  float64 // m; +Inf when nothing has taken the large ones
}

// NewWater returns a dry container of the problem's body.
func NewWater(p *Problem, perCell int) *Water {
	n := len(p.Body.Surface.Area)
	return &Water{
		Film: make([]float64, n), Thick: make([]float64, n), PerCell: perCell,
		Drops:   make([]Drops, n*perCell),
		Trapped: make([]float64, len(p.Body.Crevices)), Pools: make([]float64, len(p.Body.Pools)),
		Fog: make([]float64, n),
	}
}

// Clone returns a copy that shares nothing.
func (w *Water) Clone() *Water {
	c := *w
	c.Film, c.Thick = append([]float64(nil), w.Film...), append([]float64(nil), w.Thick...)
	c.Drops = append([]Drops(nil), w.Drops...)
	c.Trapped, c.Pools = append([]float64(nil), w.Trapped...), append([]float64(nil), w.Pools...)
	c.Fog = append([]float64(nil), w.Fog...)
	return &c
}

// Mass is all water on the container [kg], given the areas of its cells.
func (w *Water) Mass(area []float64) float64 {
	total := 0.0
	for k, a := range area {
		total += a * (w.OnWall(k) + w.Fog[k])
	}
	for _, m := range w.Trapped {
		total += m
	}
	for _, m := range w.Pools {
		total += m
	}
	return total
}

// OnWall is the film and the drops of a cell [kg/m2].
func (w *Water) OnWall(cell int) float64 {
	m := w.Film[cell]
	for _, d := range w.cell(cell) {
		m += d.Mass
	}
	return m
}

func (w *Water) cell(k int) []Drops { return w.Drops[k*w.PerCell : (k+1)*w.PerCell] }

// Add puts drops on a cell. When every place is taken they join the population nearest in size.
func (w *Water) Add(cell int, d Drops) {
	if !(d.Mass > 0) {
		return
	}
	place := w.cell(cell)
	for i := range place {
		if place[i].Mass <= 0 {
			place[i] = d
			return
		}
	}
	nearest, distance := 0, math.Inf(1)
	for i := range place {
		if x := math.Abs(math.Log(place[i].Median / d.Median)); x < distance {
			nearest, distance = i, x
		}
	}
	old := &place[nearest]
	sum := old.Mass + d.Mass
	old.Median = math.Exp((old.Mass*math.Log(old.Median) + d.Mass*math.Log(d.Median)) / sum)
	old.Spread = max(old.Spread, d.Spread)
	old.Limit = max(old.Limit, d.Limit)
	old.Mass = sum
}

// spread adds water that wets [kg/m2] to the film of a cell; where there is none it is laid out at a density [kg/m3]
// times the share of the cell that it covers.
func (w *Water) spread(cell int, mass, density float64) {
	switch film := w.Film[cell]; {
	case !(mass > 0):
		return
	case film > 0:
		w.Thick[cell] *= (film + mass) / film
	default:
		w.Thick[cell] = mass / density
	}
	w.Film[cell] += mass
}

// below is the share of the drops' water in drops smaller than d.
func (d Drops) below(size float64) float64 {
	if size >= d.Limit {
		return 1
	}
	share := float64(d.population().ShareBelowWithin(q.Length(size), q.Length(d.Limit)))
	if math.IsNaN(share) {
		return 0 // so far below the median that all of it lies at the limit
	}
	return share
}

// counter counts the drops of one population by size.
type counter struct {
	whole  float64 // number of the untruncated population
	median float64 // logarithm of the size that halves the number
	spread float64
	limit  float64 // logarithm
	lost   float64 // share of the number above the limit
}

// counter prepares counting the drops on an area of a wall whose caps have the volume factor. As
// water.Population.NumberAbove, for a population of which only drops below the limit are left.
func (d Drops) counter(area float64, density q.Density, volume float64) counter {
	s := d.Spread
	log := math.Log(d.Median)
	c := counter{median: log - 3*s*s, spread: s, limit: math.Inf(1)}
	mean := d.Median * math.Exp(-1.5*s*s)
	c.whole = area * d.Mass / (float64(density) * volume * mean * mean * mean)
	if !math.IsInf(d.Limit, 1) {
		c.limit = math.Log(d.Limit)
		kept := tail((log - c.limit) / s)
		c.lost = tail((c.limit - c.median) / s)
		if !(kept > leastShare) { // all of it lies at the limit
			c.whole = area * d.Mass / (float64(density) * volume * cube(d.Limit))
			c.median, c.lost = math.Inf(1), 0
			return c
		}
		c.whole /= kept
	}
	return c
}

// leastShare is a share of a population below which its shape no longer matters.
const leastShare = 1e-200

// above is the number of drops larger than the size of a logarithm.
func (c *counter) above(log float64) float64 {
	if log >= c.limit {
		return 0
	}
	const ( // standard deviations beyond which a tail is all or nothing
		all  = -4
		none = 8
	)
	z := (log - c.median) / c.spread
	switch {
	case z < all:
		return c.whole * (1 - c.lost)
	case z > none:
		return 0
	}
	return c.whole * max(0, tail(z)-c.lost)
}

func (d Drops) population() water.Population {
	return water.Population{Median: q.Length(d.Median), Spread: q.Ratio(d.Spread)}
}
