package flownet

import "slices"

// order returns the free nodes in an elimination order that keeps the factor sparse: always the node with the
// fewest neighbours left, the earliest made so first. A tree is eliminated leaf by leaf without fill.
func order(fixed []bool, adjacent [][]int32) []int {
	left := make([][]int32, len(fixed)) // free neighbours not yet eliminated, sorted
	free := 0
	for v, near := range adjacent {
		if fixed[v] {
			continue
		}
		free++
		own := make([]int32, 0, len(near)+2)
		for _, w := range near {
			if !fixed[w] && int(w) != v {
				own = append(own, w)
			}
		}
		slices.Sort(own)
		left[v] = slices.Compact(own)
	}
	q := newDegrees(left, fixed)
	result := make([]int, 0, free)
	var merged []int32
	for len(result) < free {
		v := q.pop(left)
		result = append(result, int(v))
		clique := left[v]
		left[v] = nil
		for _, w := range clique {
			merged = mergeWithout(merged[:0], left[w], clique, v, w)
			left[w] = append(left[w][:0], merged...)
			q.push(w, len(left[w]))
		}
	}
	return result
}

// mergeWithout appends the union of two sorted lists to dst, leaving out two members.
func mergeWithout(dst, a, b []int32, not, nor int32) []int32 {
	add := func(x int32) {
		if x != not && x != nor {
			dst = append(dst, x)
		}
	}
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		switch {
		case a[i] < b[j]:
			add(a[i])
			i++
		case a[i] > b[j]:
			add(b[j])
			j++
		default:
			add(a[i])
			i++
			j++
		}
	}
	for ; i < len(a); i++ {
		add(a[i])
	}
	for ; j < len(b); j++ {
		add(b[j])
	}
	return dst
}

// degrees is a queue of nodes by number of neighbours left. Entries go stale when a node's number changes;
// pop skips them.
type degrees struct {
	bucket [][]int32
	head   []int
	done   []bool
	lowest int
}

func newDegrees(left [][]int32, fixed []bool) *degrees {
	q := &degrees{done: slices.Clone(fixed)}
	for v, near := range left {
		if !fixed[v] {
			q.push(int32(v), len(near))
		}
	}
	q.lowest = 0
	return q
}

func (q *degrees) push(v int32, degree int) {
	for len(q.bucket) <= degree {
		q.bucket = append(q.bucket, nil)
		q.head = append(q.head, 0)
	}
	q.bucket[degree] = append(q.bucket[degree], v)
	q.lowest = min(q.lowest, degree)
}

func (q *degrees) pop(left [][]int32) int32 {
	for {
		for q.head[q.lowest] == len(q.bucket[q.lowest]) {
			q.lowest++
		}
		v := q.bucket[q.lowest][q.head[q.lowest]]
		q.head[q.lowest]++
		if !q.done[v] && len(left[v]) == q.lowest {
			q.done[v] = true
			return v
		}
	}
}
