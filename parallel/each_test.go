package parallel

import (
	"fmt"
	"sync/atomic"
	"testing"
)

// Every piece is done once, and the error is that of the lowest number, on any number of workers.
func TestLawEveryPieceOnceAndTheLowestError(t *testing.T) {
	for _, workers := range []int{-1, 0, 1, 2, 3, 100} {
		const n = 50
		var done [n]atomic.Int32
		err := Each(workers, n, func(i int) error {
			done[i].Add(1)
			if i%7 == 3 {
				return fmt.Errorf("piece %d", i)
			}
			return nil
		})
		for i := range done {
			if k := done[i].Load(); k != 1 {
				t.Errorf("%d workers: piece %d was done %d times", workers, i, k)
			}
		}
		if err == nil || err.Error() != "piece 3" {
			t.Errorf("%d workers: %v, not the error of piece 3", workers, err)
		}
		if err := Each(workers, 0, func(int) error { panic("there is no piece") }); err != nil {
			t.Errorf("%d workers, no piece: %v", workers, err)
		}
	}
}
