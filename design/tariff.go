package design

import (
	"context"
	"math"
	"sync"

	"leste/job"
)

// A tariff tells what the air of a concept costs a year by the opening of its outlets and their plenum pressure, at nodes
// that are a few per cent apart. Most candidates it tells within 7 %, those whose openings are shared otherwise between groups
// or that lie where a blower ends by up to 15 % and more; models learn the rest from what was looked at. It is no smooth curve, as
// the blowers of a catalogue end: what needs little air costs what the least blower does at its lowest speed. An entry follows from its node alone: it does not matter who asked for it first.
type tariff struct {
	lock  sync.Mutex
	known map[node]float64 // logarithms of a yearly cost; infinite where no blower gives the air
}

// node is a place in a tariff: how many strides the logarithms of opening [m²] and plenum pressure [Pa] are from zero.
type node struct{ opening, pressure int }

// Strides of a tariff, of logarithms.
const (
	openingStride  = 0.08
	pressureStride = 0.06
)

func newTariff() *tariff { return &tariff{known: map[node]float64{}} }

// opening is that of all outlets of an arrangement [m²].
func (a *arrangement) opening() float64 {
	area := 0.0
	for i := range a.setups {
		area += a.setups[i].opening()
	}
	return area
}

// withOpening is what the rules of thumb give with all openings made wider or narrower alike, until they are as large as asked
// in all.
func (c *concept) withOpening(area float64) arrangement {
	a := c.arrange(c.rule())
	by := area / a.opening()
	for i := range a.setups {
		s := &a.setups[i]
		if s.kind == job.AirKnife {
			s.gap *= by
		} else {
			s.bore *= math.Sqrt(by)
		}
	}
	return a
}

// at is the logarithm of the yearly cost at a node; infinite where no blower gives the air.
func (t *tariff) at(c *concept, n node) float64 {
	t.lock.Lock()
	v, ok := t.known[n]
	t.lock.Unlock()
	if ok {
		return v
	}
	a := c.withOpening(math.Exp(float64(n.opening) * openingStride))
	v = math.Inf(1)
	// It takes less than a millisecond: nothing to be cancelled.
	if s, err := c.ground.supply(context.Background(), a.job(math.Exp(float64(n.pressure)*pressureStride))); err == nil {
		v = math.Log(s.cost)
	}
	t.lock.Lock()
	t.known[n] = v
	t.lock.Unlock()
	return v
}

// between is the logarithm of the yearly cost of an opening at a pressure of the tariff, from the openings on both sides.
func (t *tariff) between(c *concept, opening float64, pressure int) float64 {
	low := math.Floor(opening)
	return joint(t.at(c, node{int(low), pressure}), t.at(c, node{int(low) + 1, pressure}), opening-low)
}

// told is the logarithm of the yearly cost of an opening [m²] at a pressure [Pa]; infinite where no blower gives the air.
func (t *tariff) told(c *concept, area, pressure float64) float64 {
	opening, at := math.Log(area)/openingStride, math.Log(pressure)/pressureStride
	low := math.Floor(at)
	return joint(t.between(c, opening, int(low)), t.between(c, opening, int(low)+1), at-low)
}

// joint is what lies between two nodes, at a share of the way; where blowers end between them, what the nearer one tells.
func joint(a, b, share float64) float64 {
	switch {
	case !math.IsInf(a, 1) && !math.IsInf(b, 1):
		return a + share*(b-a)
	case share < 0.5:
		return a
	}
	return b
}

// least is the logarithm of the least yearly cost of an opening [m²] at a pressure [Pa] or at a higher one, up to another,
// and the logarithm of the pressure at which it is had. The cost is infinite where no blower gives the air.
func (t *tariff) least(c *concept, area, from, to float64) (cost, pressure float64) {
	opening, last := math.Log(area)/openingStride, math.Log(to)/pressureStride
	cost, pressure = t.told(c, area, from), math.Log(from)
	const worth = 0.01 // of the logarithm, for more air than is needed
	for n := int(math.Floor(pressure/pressureStride)) + 1; float64(n) <= last; n++ {
		if v := t.between(c, opening, n); v < cost-worth {
			cost, pressure = v, float64(n)*pressureStride
		}
	}
	return cost, pressure
}
