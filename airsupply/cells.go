package airsupply

import (
	"fmt"
	"math"
)

// An outlet fed from both ends by two branches has its stagnation point somewhere inside; it is laid out as
// cells in the network, which finds the place.
const (
	cellCount = 32
	nearEnd   = " near end"
	farEnd    = " far end"
)

// cells are the links of one such outlet: runs between neighbours, ends included, and the openings.
type cells struct {
	outlet int
	runs   []int // cellCount+1
	mouths []int // cellCount
}

func (s *system) addCells(number int, o *Outlet) {
	c := cells{outlet: number}
	p := o.plenum()
	p.length, p.opening = p.length*p.parts, p.opening*p.parts
	previous := s.inner(o.Name + nearEnd)
	far := s.inner(o.Name + farEnd)
	length := p.length / cellCount
	for i := range cellCount + 1 {
		stretch := round("plenum", p.bore)
		stretch.rough, stretch.length = p.rough, length
		next := far
		if i < cellCount {
			next = s.inner(fmt.Sprintf("%s cell %d", o.Name, i+1))
		}
		if i == 0 || i == cellCount {
			stretch.length = length / 2
		}
		c.runs = append(c.runs, s.link(link{previous, next, o.Name + " plenum", &branchLaw{way{stretch}}}))
		if i < cellCount {
			c.mouths = append(c.mouths, s.link(link{next, ambientNode, o.Name, &mouthLaw{opening: p.opening / cellCount}}))
		}
		previous = next
	}
	s.outlets[number] = c.mouths
	s.cells = append(s.cells, c)
}

func (c *cells) renumber(links []int) {
	for i := range c.runs {
		c.runs[i] = links[c.runs[i]]
	}
	// The mouths share their list with the outlet's.
}

// heads moves the velocity heads that the openings do not see to the flows, and returns the greatest change.
func (c *cells) heads(r *run, flow, head []float64) float64 {
	var change float64
	area := r.system.links[c.runs[0]].law.(*branchLaw).way[0].area
	for i, mouth := range c.mouths {
		up, down := flow[c.runs[i]]/area, flow[c.runs[i+1]]/area
		flux := math.Sqrt((up*up + down*down) / 2)
		p0 := r.pa + head[r.system.links[mouth].from]
		x, _ := r.gas.mach2(flux, p0, r.t0[mouth])
		now := p0 - r.gas.static(p0, x)
		change = max(change, math.Abs(now-r.lagged[mouth]))
		r.lagged[mouth] = now
	}
	return change
}
