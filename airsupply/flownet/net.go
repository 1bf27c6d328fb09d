package flownet

import "fmt"

// A Link joins two nodes; flow is positive from From to To.
type Link struct {
	From, To int
}

// A Net is the shape of a network, analysed once and solved as often as wanted. It is safe for use by one
// goroutine at a time; Clone gives another its own.
type Net struct {
	links  []Link
	fixed  []bool
	row    []int // node -> row of the matrix, -1 for fixed nodes
	node   []int // row -> node
	matrix *factor
	entry  []int // link -> place of its off-diagonal value, -1 when an end is fixed
}

// New analyses a network of len(fixed) nodes. Every free node must reach a fixed node, else its head would be
// undetermined.
func New(fixed []bool, links []Link) (*Net, error) {
	n := &Net{links: links, fixed: fixed, row: make([]int, len(fixed)), entry: make([]int, len(links))}
	adjacent := neighbours(len(fixed), links)
	if lost := firstLost(fixed, adjacent); lost >= 0 {
		return nil, &UnreachedError{Node: lost}
	}
	n.node = order(fixed, adjacent)
	for i := range n.row {
		n.row[i] = -1
	}
	for r, v := range n.node {
		n.row[v] = r
	}
	n.matrix = analyse(len(n.node), n.pattern())
	for i, l := range links {
		n.entry[i] = -1
		if a, b := n.row[l.From], n.row[l.To]; a >= 0 && b >= 0 && a != b {
			n.entry[i] = n.matrix.place(min(a, b), max(a, b))
		}
	}
	return n, nil
}

// Clone returns a copy that shares the analysis and owns its working numbers.
func (n *Net) Clone() *Net {
	c := *n
	c.matrix = n.matrix.clone()
	return &c
}

// UnreachedError reports a free node that no path joins to a node of known head.
type UnreachedError struct{ Node int }

func (e *UnreachedError) Error() string {
	return fmt.Sprintf("node %d is joined to no node of known head", e.Node)
}

// pattern returns, for each row, the rows before it that it shares a link with (duplicates allowed).
func (n *Net) pattern() [][]int32 {
	upper := make([][]int32, len(n.node))
	for _, l := range n.links {
		a, b := n.row[l.From], n.row[l.To]
		if a < 0 || b < 0 || a == b {
			continue
		}
		upper[max(a, b)] = append(upper[max(a, b)], int32(min(a, b)))
	}
	return upper
}

func neighbours(nodes int, links []Link) [][]int32 {
	degree := make([]int, nodes)
	for _, l := range links {
		degree[l.From]++
		degree[l.To]++
	}
	all := make([]int32, 0, 2*len(links))
	adjacent := make([][]int32, nodes)
	for v, d := range degree {
		start := len(all)
		all = all[:start+d]
		adjacent[v] = all[start : start : start+d]
	}
	for _, l := range links {
		adjacent[l.From] = append(adjacent[l.From], int32(l.To))
		adjacent[l.To] = append(adjacent[l.To], int32(l.From))
	}
	return adjacent
}

// firstLost returns the first free node that no path joins to a fixed node, or -1.
func firstLost(fixed []bool, adjacent [][]int32) int {
	reached := make([]bool, len(fixed))
	var queue []int32
	for v, f := range fixed {
		if f {
			reached[v] = true
			queue = append(queue, int32(v))
		}
	}
	for len(queue) > 0 {
		v := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, w := range adjacent[v] {
			if !reached[w] {
				reached[w] = true
				queue = append(queue, w)
			}
		}
	}
	for v, r := range reached {
		if !r {
			return v
		}
	}
	return -1
}
