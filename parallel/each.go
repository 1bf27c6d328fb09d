package parallel

import "sync"

// Each calls work for 0 to n-1 on as many goroutines as there are workers, at least one, and waits for all of them.
// Every piece is done even where another fails; the error returned is that of the lowest number, whichever came first.
func Each(workers, n int, work func(i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wait sync.WaitGroup
	for range max(1, min(workers, n)) {
		wait.Go(func() {
			for i := range next {
				errs[i] = work(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
