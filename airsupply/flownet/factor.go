package flownet

import "slices"

// factor is a symmetric positive definite matrix with its L D L' factors. Row k of the upper triangle is
// kept as column k: the entries a[i,k] with i < k, and the diagonal apart.
type factor struct {
	n      int
	start  []int // column -> first entry
	rowOf  []int32
	parent []int32 // elimination tree
	lstart []int   // column of L -> first entry

	value    []float64 // off-diagonal entries
	diagonal []float64

	lrow  []int32
	lval  []float64
	d     []float64
	used  []int // entries of each column of L in use while factoring
	mark  []int32
	stack []int32
	y     []float64
}

// analyse finds the elimination tree and the size of L from the pattern: for each row, rows before it.
func analyse(n int, upper [][]int32) *factor {
	f := &factor{n: n, start: make([]int, n+1), parent: make([]int32, n), lstart: make([]int, n+1)}
	entries := 0
	for k := range upper {
		slices.Sort(upper[k])
		upper[k] = slices.Compact(upper[k])
		entries += len(upper[k])
	}
	f.rowOf = make([]int32, 0, entries)
	mark := make([]int32, n)
	count := make([]int, n)
	for k := range n {
		f.start[k] = len(f.rowOf)
		f.parent[k] = -1
		mark[k] = int32(k)
		for _, i := range upper[k] {
			f.rowOf = append(f.rowOf, i)
			for ; mark[i] != int32(k); i = f.parent[i] {
				if f.parent[i] < 0 {
					f.parent[i] = int32(k)
				}
				count[i]++
				mark[i] = int32(k)
			}
		}
	}
	f.start[n] = len(f.rowOf)
	for k, c := range count {
		f.lstart[k+1] = f.lstart[k] + c
	}
	f.allocate()
	return f
}

func (f *factor) allocate() {
	f.value = make([]float64, len(f.rowOf))
	f.diagonal = make([]float64, f.n)
	f.lrow = make([]int32, f.lstart[f.n])
	f.lval = make([]float64, f.lstart[f.n])
	f.d = make([]float64, f.n)
	f.used = make([]int, f.n)
	f.mark = make([]int32, f.n)
	f.stack = make([]int32, f.n)
	f.y = make([]float64, f.n)
}

func (f *factor) clone() *factor {
	c := *f
	c.allocate()
	return &c
}

// place returns where the entry of rows i < k is kept.
func (f *factor) place(i, k int) int {
	at, ok := slices.BinarySearch(f.rowOf[f.start[k]:f.start[k+1]], int32(i))
	if !ok {
		panic("flownet: entry outside the analysed pattern")
	}
	return f.start[k] + at
}

func (f *factor) clear() {
	clear(f.value)
	clear(f.diagonal)
}

// decompose factors the matrix, row by row of L. It returns the first row whose pivot is not positive, or -1.
func (f *factor) decompose() int {
	for k := range f.mark {
		f.mark[k] = -1
		f.used[k] = 0
	}
	for k := range f.n {
		top := f.reach(k)
		pivot := f.diagonal[k]
		for _, i := range f.stack[top:] {
			yi := f.y[i]
			f.y[i] = 0
			first := f.lstart[i]
			end := first + f.used[i]
			rows, vals := f.lrow[first:end], f.lval[first:end]
			for p, r := range rows {
				f.y[r] -= vals[p] * yi
			}
			l := yi / f.d[i]
			pivot -= l * yi
			f.lrow[end], f.lval[end] = int32(k), l
			f.used[i]++
		}
		if !(pivot > 0) {
			return k
		}
		f.d[k] = pivot
	}
	return -1
}

// reach scatters column k into y and returns where the pattern of row k of L begins on the stack, in
// elimination order.
func (f *factor) reach(k int) int {
	top := f.n
	f.mark[k] = int32(k)
	for p := f.start[k]; p < f.start[k+1]; p++ {
		i := f.rowOf[p]
		f.y[i] += f.value[p]
		length := 0
		for ; f.mark[i] != int32(k); i = f.parent[i] {
			f.stack[length] = i
			length++
			f.mark[i] = int32(k)
		}
		for length > 0 {
			length--
			top--
			f.stack[top] = f.stack[length]
		}
	}
	return top
}

// solve overwrites b with the solution.
func (f *factor) solve(b []float64) {
	for j := range f.n {
		bj := b[j]
		for p := f.lstart[j]; p < f.lstart[j+1]; p++ {
			b[f.lrow[p]] -= f.lval[p] * bj
		}
	}
	for j := range f.n {
		b[j] /= f.d[j]
	}
	for j := f.n - 1; j >= 0; j-- {
		bj := b[j]
		for p := f.lstart[j]; p < f.lstart[j+1]; p++ {
			bj -= f.lval[p] * b[f.lrow[p]]
		}
		b[j] = bj
	}
}
