package design

import "sync"

// each calls a function for 0 to n-1 on several goroutines and waits for all of them. It returns the error of the
// lowest number, whichever came first.
func each(workers, n int, call func(i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wait sync.WaitGroup
	for range max(1, min(workers, n)) {
		wait.Go(func() {
			for i := range next {
				errs[i] = call(i)
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
