package drying

import (
	"sync/atomic"
	"testing"
)

// Every piece of a deal is done once between two meetings, however unevenly the pieces are shared out at first and
// however many workers there are for them.
func TestLawEveryPieceOfADealIsDoneOnce(t *testing.T) {
	const rounds = 200
	for _, workers := range []int{1, 2, 3, 7} {
		for _, cost := range [][]int32{{1}, {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, {0, 0, 100, 0, 0}, {50, 1, 1, 1, 1, 1, 1, 1}, {1, 1, 1, 1, 1, 1, 50}} {
			crew := newTeam(workers)
			crew.cut(cost)
			done := make([]atomic.Int32, len(cost))
			crew.run(func(w int) {
				for round := range rounds {
					crew.deal(w, func(p int) { done[p].Add(1) })
					crew.meet(func() {
						for p := range done {
							if n := int(done[p].Load()); n != round+1 {
								t.Errorf("%d workers, costs %v: piece %d was done %d times in %d rounds", workers, cost, p, n, round+1)
							}
						}
					})
				}
			})
			crew.stop()
		}
	}
}
