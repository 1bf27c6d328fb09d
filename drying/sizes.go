package drying

import (
	"math"
	"slices"

	"leste/physics/water"
	q "leste/quantity"
)

// countSizes are the drop diameters [m] above which drops are counted, beside those the machines ask for.
var countSizes = []float64{0.05e-3, 0.1e-3, 0.2e-3, 0.3e-3, 0.5e-3, 0.7e-3, 1e-3, 1.5e-3, 2e-3, 3e-3, 5e-3, 8e-3}

// Sizes returns the diameters at which a problem's drops are counted, in order.
func Sizes(p *Problem) []float64 {
	all := slices.Clone(countSizes)
	for _, m := range p.Machines {
		for _, r := range m.Requires {
			if r.RejectDrop > 0 {
				all = append(all, r.RejectDrop)
			}
			if r.Drop > 0 {
				all = append(all, r.Drop)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// Tally sums up the water by zone: masses by cause, drops by size, the largest drop. Bands are the likely value
// at all three places; Spreads widens them.
func Tally(p *Problem, w *Water) []ZoneWater {
	t := newTally(p)
	return t.zones(w, allCells(p))
}

// tally counts the water of a problem again and again.
type tally struct {
	p     *Problem
	walls []wall
	sizes []float64
	logs  []float64 // of the sizes
}

func newTally(p *Problem) *tally {
	t := &tally{p: p, walls: walls(p.Body), sizes: Sizes(p)}
	for _, d := range t.sizes {
		t.logs = append(t.logs, math.Log(d))
	}
	return t
}

// weighted is a cell with the number of cells it stands for.
type weighted struct {
	cell   int
	weight float64
}

func allCells(p *Problem) []weighted {
	all := make([]weighted, len(p.Body.Surface.Area))
	for k := range all {
		all[k] = weighted{k, 1}
	}
	return all
}

func (t *tally) zones(w *Water, cells []weighted) []ZoneWater {
	s := t.p.Body.Surface
	zones := make([]ZoneWater, len(s.Zones))
	counts := make([]SizeCount, len(s.Zones)*len(t.sizes))
	for i := range zones {
		zones[i].Zone = s.Zones[i]
		zones[i].Count = counts[i*len(t.sizes) : (i+1)*len(t.sizes) : (i+1)*len(t.sizes)]
		for j, d := range t.sizes {
			zones[i].Count[j].Diameter = d
		}
	}
	for _, c := range cells {
		area := s.Area[c.cell] * c.weight
		z := &zones[s.Zone[c.cell]]
		z.Area += area
		z.Film += area * w.Film[c.cell]
		z.Condensed += area * w.Fog[c.cell]
		volume := t.walls[t.p.Body.Material[s.Zone[c.cell]]].volume
		for _, d := range w.cell(c.cell) {
			if d.Mass <= 0 {
				continue
			}
			z.Drops += area * d.Mass
			t.count(z.Count, d, area, volume)
		}
	}
	for i, c := range t.p.Body.Crevices {
		zones[c.Zone].Trapped += w.Trapped[i]
	}
	for i, pool := range t.p.Body.Pools {
		zones[pool.Zone].Pool += w.Pools[i]
	}
	for i := range zones {
		z := &zones[i]
		z.Left = exactly(z.Film + z.Drops + z.Trapped + z.Pool + z.Condensed)
		z.Largest = exactly(largest(z.Count))
		z.Cause = z.mainCause()
	}
	return zones
}

// count adds the drops of one population on an area. Sizes from which on nothing is left are not visited.
func (t *tally) count(counts []SizeCount, d Drops, area, volume float64) {
	n := d.counter(area, q.Density(t.p.Liquid.Density), volume)
	for j, log := range t.logs {
		more := n.above(log)
		if more < leastNumber {
			return
		}
		counts[j].Number += more
	}
}

// leastNumber is a number of drops per cell not worth counting on; a hundred thousand cells of it are one
// reject in ten million.
const leastNumber = 1e-12

func exactly(x float64) q.Band { return q.Band{Likely: x, Low: x, High: x} }

// numberAbove reads the expected number of drops larger than size from counts in order of diameter; between
// two diameters the number is a power of the size.
func numberAbove(counts []SizeCount, size float64) SizeCount {
	i, found := slices.BinarySearchFunc(counts, size, func(c SizeCount, d float64) int {
		switch {
		case c.Diameter < d:
			return -1
		case c.Diameter > d:
			return 1
		}
		return 0
	})
	switch {
	case found:
		return counts[i]
	case len(counts) == 0 || i == len(counts):
		return SizeCount{Diameter: size}
	case i == 0:
		c := counts[0]
		c.Diameter = size
		return c
	}
	a, b := counts[i-1], counts[i]
	x := math.Log(size/a.Diameter) / math.Log(b.Diameter/a.Diameter)
	between := func(from, to float64) float64 {
		if to <= 0 {
			return from * (1 - x)
		}
		return from * math.Pow(to/from, x)
	}
	return SizeCount{
		Diameter: size, Number: between(a.Number, b.Number),
		Low: between(a.Low, b.Low), High: between(a.High, b.High),
	}
}

// largest is the diameter of the largest drop to expect on one container: the one that every other container
// exceeds. It is 0 when most containers carry no drop that is counted.
func largest(counts []SizeCount) float64 {
	const half = math.Ln2 // mean number at which half of the containers have none
	last := -1
	for i, c := range counts {
		if c.Number >= half {
			last = i
		}
	}
	switch {
	case last < 0:
		return 0
	case last+1 == len(counts):
		return counts[last].Diameter
	}
	a, b := counts[last], counts[last+1]
	if b.Number <= 0 {
		b.Number = leastNumber
	}
	x := math.Log(a.Number/half) / math.Log(a.Number/b.Number)
	return a.Diameter * math.Pow(b.Diameter/a.Diameter, x)
}

// breakUp returns the drops that a film of a thickness breaks into.
func breakUp(mass, thick, holeSpacing, spread float64, w *wall) Drops {
	pop := water.FromFilm(q.Length(thick), q.Length(holeSpacing), w.contact, q.Ratio(spread))
	return Drops{Mass: mass, Median: float64(pop.Median), Spread: spread, Limit: math.Inf(1)}
}
