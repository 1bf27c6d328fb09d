package drying

import (
	"sync"
	"sync/atomic"
)

// team runs one function on several goroutines at once and waits for all of them. It exists because a step
// of the film takes some tens of microseconds: starting or waking goroutines for each would cost as much.
type team struct {
	size int
	task func(worker int) // what the workers do between two meetings; nil ends them
	done sync.WaitGroup   // of the goroutines

	cuts  []int   // pieces that each worker begins with: worker w with those from cuts[w] up to cuts[w+1]
	taken []taken // per worker: how many of them have been taken since the last meeting

	waiting  atomic.Int32
	phase    atomic.Uint32
	patience atomic.Int32 // looks before a worker sleeps, by what waiting was worth of late
	missed   atomic.Int32 // waits that ended asleep
	asleep   atomic.Int32
	lock     sync.Mutex
	woken    *sync.Cond
}

// taken has a cache line to itself.
type taken struct {
	pieces atomic.Int32
	_      [60]byte
}

// newTeam starts size-1 goroutines; the caller is worker 0. Stop it when done.
func newTeam(size int) *team {
	t := &team{size: max(1, size)}
	t.cuts, t.taken = make([]int, t.size+1), make([]taken, t.size)
	t.woken = sync.NewCond(&t.lock)
	t.patience.Store(spins)
	for w := 1; w < t.size; w++ {
		t.done.Go(func() {
			for {
				t.meet(nil)
				if t.task == nil {
					return
				}
				t.task(w)
				t.meet(nil)
			}
		})
	}
	return t
}

// stop ends the goroutines and waits for them.
func (t *team) stop() {
	t.task = nil
	t.meet(nil)
	t.done.Wait()
}

// run calls task once per worker, all at the same time, and waits.
func (t *team) run(task func(worker int)) {
	if t.size == 1 {
		task(0)
		return
	}
	t.task = task
	t.meet(nil)
	task(0)
	t.meet(nil)
}

// spins is how often a worker looks at most whether the others have come before it sleeps: some tenth of a
// millisecond, about what waking takes on a virtual machine. Where the others do not come, because something else
// has their core, looking takes time from them: then it looks half as often the next time, down to fewestSpins. A
// wait that ended asleep cannot tell whether looking would have paid; so once in tryAgain of them it looks its full
// time. Without that one long wait would have every later one end asleep.
const (
	spins       = 300_000
	fewestSpins = 300
	tryAgain    = 32
)

// meet waits until every worker has called it. The last to come first does what last says, if anything. Only
// inside run.
func (t *team) meet(last func()) {
	if t.size == 1 {
		if last != nil {
			last()
		}
		return
	}
	phase := t.phase.Load()
	if t.waiting.Add(1) == int32(t.size) {
		if last != nil {
			last()
		}
		for w := range t.taken {
			t.taken[w].pieces.Store(0)
		}
		t.waiting.Store(0)
		t.phase.Add(1)
		if t.asleep.Load() > 0 {
			t.lock.Lock() // who is about to sleep looks at the phase once more with the lock held
			t.woken.Broadcast()
			t.lock.Unlock()
		}
		return
	}
	patience := t.patience.Load()
	if t.missed.Load()%tryAgain == tryAgain-1 {
		patience = spins
	}
	for range patience {
		if t.phase.Load() != phase {
			t.patience.Store(min(2*patience, spins))
			return
		}
	}
	t.missed.Add(1)
	t.patience.Store(max(t.patience.Load()/2, fewestSpins))
	t.lock.Lock()
	t.asleep.Add(1)
	for t.phase.Load() == phase {
		t.woken.Wait()
	}
	t.asleep.Add(-1)
	t.lock.Unlock()
}

// share returns the pieces [p0, p1) of a worker, cut so that each has about the same cost.
func (t *team) share(worker int, cost []int32) (p0, p1 int) {
	total := int32(0)
	for _, c := range cost {
		total += c
	}
	cut := func(k int) int {
		if k >= t.size {
			return len(cost)
		}
		sum, limit := int32(0), total*int32(k)/int32(t.size)
		for p, c := range cost {
			if sum >= limit {
				return p
			}
			sum += c
		}
		return len(cost)
	}
	if worker == 0 {
		return 0, cut(1)
	}
	return cut(worker), cut(worker + 1)
}

// cut shares out the pieces of all deals to come by what each is expected to cost. Outside run, or while all meet.
func (t *team) cut(cost []int32) {
	for w := range t.size {
		t.cuts[w], t.cuts[w+1] = t.share(w, cost)
	}
}

// deal calls do for every piece, once, together with the other workers. Each begins with its own share, so that what
// a piece works on stays near one core, and then helps those that are not through with theirs. Which worker does a
// piece is left to chance: pieces do not know it. Inside run, once between two meetings.
func (t *team) deal(w int, do func(piece int)) {
	if t.size == 1 {
		for p := range t.cuts[1] {
			do(p)
		}
		return
	}
	for k := range t.size {
		of := (w + k) % t.size
		first, past := t.cuts[of], t.cuts[of+1]
		for int(t.taken[of].pieces.Load()) < past-first {
			p := first + int(t.taken[of].pieces.Add(1)) - 1
			if p >= past {
				break
			}
			do(p)
		}
	}
}
