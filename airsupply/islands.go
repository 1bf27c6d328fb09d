package airsupply

import "leste/job"

// islands splits a network into the parts that no branch joins: a station with a blower of its own is one. Each part
// keeps the order of the whole; a part without a blower or an outlet is left out.
func (n *Network) islands() []*Network {
	root := n.joined()
	var out []*Network
	at := map[string]*Network{}
	for _, b := range n.Blowers {
		where := root(b.Name)
		part := at[where]
		if part == nil {
			part = &Network{HeatTransfer: n.HeatTransfer}
			at[where] = part
			out = append(out, part)
		}
		part.Blowers = append(part.Blowers, b)
	}
	scatter(n.Branches, func(b job.Branch) *Network { return at[root(b.From)] }, func(p *Network, b job.Branch) { p.Branches = append(p.Branches, b) })
	scatter(n.Junctions, func(j job.Junction) *Network { return at[root(j.At)] }, func(p *Network, j job.Junction) { p.Junctions = append(p.Junctions, j) })
	scatter(n.Outlets, func(o Outlet) *Network { return at[root(o.Name)] }, func(p *Network, o Outlet) { p.Outlets = append(p.Outlets, o) })
	scatter(n.Leaks, func(l Leak) *Network { return at[root(l.At)] }, func(p *Network, l Leak) { p.Leaks = append(p.Leaks, l) })
	kept := out[:0]
	for _, p := range out {
		if len(p.Outlets) > 0 {
			kept = append(kept, p)
		}
	}
	return kept
}

// joined returns for each place one that stands for all places that branches join it to.
func (n *Network) joined() func(place string) string {
	parent := map[string]string{}
	var root func(place string) string
	root = func(place string) string {
		up, ok := parent[place]
		if !ok || up == place {
			return place
		}
		up = root(up)
		parent[place] = up
		return up
	}
	for _, b := range n.Branches {
		parent[root(b.From)] = root(b.To)
	}
	return root
}

// scatter gives each thing to the part it lies in; what lies in none is left.
func scatter[T any](things []T, in func(T) *Network, add func(*Network, T)) {
	for _, t := range things {
		if p := in(t); p != nil {
			add(p, t)
		}
	}
}

// Parallel reports whether blowers blow into one network, so that each needs a non-return flap.
func (n *Network) Parallel() bool {
	for _, part := range n.islands() {
		if len(part.Blowers) > 1 {
			return true
		}
	}
	return false
}
