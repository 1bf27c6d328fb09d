package airsupply

import (
	"math"
	"slices"

	q "leste/quantity"
)

// A Way is the way of the air from the room through one blower to one outlet, with what each part of it takes of the
// blower's rise. The parts sum to the rise.
type Way struct {
	Blower string
	Outlet string // that of all that the blower feeds which gets the least pressure
	Rise   q.PressureDrop
	Parts  []WayPart
}

// A WayPart is what one part of a way takes.
type WayPart struct {
	Kind  string // one of the kinds of parts
	Name  string // of the branch or the outlet
	Loss  q.PressureDrop
	Share q.Ratio // of the rise
}

// Kinds of parts of a way, in the order of the flow.
const (
	PartFilter = "inlet filter"
	PartEntry  = "entry"  // and what else is passed between filter and blower
	PartFlap   = "flap"   // the non-return flap of a blower beside others
	PartBranch = "branch" // with the tee or wye at its ends
	PartOutlet = "outlet" // what is left before it: its plenum takes a little, the rest drives the jet
)

// leastPart [Pa] is less than any printed digit of a rise shows.
const leastPart = 1e-3

// ways follows the air of each blower to the outlet that gets the least pressure from it.
func (r *run) ways(blowers []BlowerState, flow, head []float64) []Way {
	var out []Way
	for i := range blowers {
		if w, ok := r.wayOf(i, &blowers[i], flow, head); ok {
			out = append(out, w)
		}
	}
	return out
}

func (r *run) wayOf(i int, b *BlowerState, flow, head []float64) (Way, bool) {
	s := r.system
	from := s.links[s.blowers[i]].to
	came := r.reached(from, flow)
	least, at, outlet := math.Inf(1), -1, -1
	for o, links := range s.outlets {
		for _, l := range links {
			if v := s.links[l].from; v == from || came[v] >= 0 {
				if head[v] < least {
					least, at, outlet = head[v], v, o
				}
			}
		}
	}
	if outlet < 0 {
		return Way{}, false
	}
	w := Way{Blower: b.Name, Outlet: s.network.Outlets[outlet].Name, Rise: b.Rise}
	var parts []WayPart // against the flow
	within := 0.0       // lost inside a plenum fed from both ends
	for v := at; v != from; {
		l := came[v]
		up := s.links[l].from
		if up == v {
			up = s.links[l].to
		}
		loss := head[up] - head[v]
		switch k := slices.Index(s.branches, l); {
		case k >= 0:
			parts = append(parts, WayPart{Kind: PartBranch, Name: r.branchName(k), Loss: q.PressureDrop(loss)})
		case s.isRun(l):
			within += loss
		default:
			parts = append(parts, WayPart{Kind: PartFlap, Loss: q.PressureDrop(loss)})
		}
		v = up
	}
	slices.Reverse(parts)
	w.add(PartFilter, float64(b.Filter))
	w.add(PartEntry, -float64(b.Suction)-float64(b.Filter))
	w.Parts = append(w.Parts, parts...)
	w.Parts = append(w.Parts, WayPart{Kind: PartOutlet, Name: w.Outlet, Loss: q.PressureDrop(least + within)})
	for k := range w.Parts {
		w.Parts[k].Share = q.Ratio(w.Parts[k].Loss / w.Rise)
	}
	return w, true
}

// add adds a part before the blower, where there is any.
func (w *Way) add(kind string, loss float64) {
	if math.Abs(loss) >= leastPart {
		w.Parts = append(w.Parts, WayPart{Kind: kind, Loss: q.PressureDrop(loss)})
	}
}

// reached tells for each place by which link the air of a place comes there first; -1 where it does not.
func (r *run) reached(from int, flow []float64) []int {
	s := r.system
	came := make([]int, len(s.names))
	for v := range came {
		came[v] = -1
	}
	queue := []int{from}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, l := range s.touching[v] {
			to := s.links[l].to
			if flow[l] < 0 {
				to = s.links[l].from
			}
			if to == v || to == ambientNode || to == from || came[to] >= 0 || flow[l] == 0 {
				continue
			}
			switch s.links[l].law.(type) {
			case *branchLaw, *flapLaw:
				came[to] = l
				queue = append(queue, to)
			}
		}
	}
	return came
}

// isRun reports whether a link is a length of a plenum fed from both ends.
func (s *system) isRun(l int) bool {
	return slices.ContainsFunc(s.cells, func(c cells) bool { return slices.Contains(c.runs, l) })
}
