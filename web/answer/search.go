package answer

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync"
	"time"

	"leste/design"
	"leste/job"
	q "leste/quantity"
	"leste/web/document"
)

// States of a search.
const (
	SearchRunning = "running"
	SearchDone    = "done"
	SearchStopped = "stopped"
	SearchFailed  = "failed"
)

// Found is a search at one moment.
type Found struct {
	State       string
	Revision    document.Revision // of the job that is searched for
	Budget      int
	Done, Total float64
	Best        string
	Front       []design.Point // candidates that meet everything and are not beaten in cost and reserve
	Judged      int
	Study       *design.Study // once it has ended
	Err         error
	Began       time.Time
}

// search is one search for a job.
type search struct {
	cancel context.CancelFunc
	ended  chan struct{}

	mu    sync.Mutex
	found Found
	told  time.Time
}

// ErrRunning says that a search runs already.
var ErrRunning = errors.New("a search for this job runs already; stop it first")

// Search begins a search for a job as it is now. Problems of the job are job.Problems.
func (k *Keeper) Search(d *document.Document, o design.Options) (Found, error) {
	s := d.State()
	if len(s.Problems) > 0 {
		return Found{}, s.Problems
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	j := k.job(s.ID)
	if j.search != nil && !j.search.over() {
		return Found{}, ErrRunning
	}
	ctx, cancel := context.WithCancel(k.root)
	if o.Budget == 0 {
		o.Budget = design.UsualBudget
	}
	file, _ := job.Read(s.ID, s.Text)
	o.Spelling = file.Spelling()
	if o.Spelling.System() == q.US { // SI is left out of the key of a saved search
		o.Sizes.Units = q.US
	}
	r := &search{cancel: cancel, ended: make(chan struct{}), found: Found{
		State: SearchRunning, Revision: s.Revision, Budget: o.Budget, Began: time.Now(),
	}}
	j.search = r
	o.Workers = max(1, runtime.GOMAXPROCS(0)-1)
	o.Progress = func(done, total float64, best string) {
		r.change(func(f *Found) { f.Done, f.Total, f.Best = done, total, best })
		k.tellSearch(s.ID, r, false)
	}
	o.Save = func(state design.State) {
		front, judged := frontOf(state)
		r.change(func(f *Found) { f.Front, f.Judged = front, judged })
	}
	k.started.Add(1)
	k.running.Add(1)
	k.work.Go(func() {
		defer k.running.Add(-1)
		defer close(r.ended)
		defer cancel()
		study, err := k.searched(ctx, s.Job, o)
		r.change(func(f *Found) {
			f.Study, f.Err = study, err
			switch {
			case err != nil && errors.Is(err, context.Canceled):
				f.State, f.Err = SearchStopped, nil
			case err != nil:
				f.State = SearchFailed
			case study.Interrupted:
				f.State = SearchStopped
			default:
				f.State, f.Done = SearchDone, f.Total
			}
			if study != nil {
				f.Front, f.Judged = study.Front, study.Candidates
			}
		})
		k.tellSearch(s.ID, r, true)
	})
	return r.now(), nil
}

// searched is the search itself; a fault of the program in it is an error.
func (k *Keeper) searched(ctx context.Context, j *job.Job, o design.Options) (study *design.Study, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			study, err = nil, k.fault(fault)
		}
	}()
	o.Parts = k.parts
	return design.Search(ctx, j, o)
}

// Searched returns the last search for a job; ErrNone when there was none.
func (k *Keeper) Searched(id string) (Found, error) {
	r := k.searchOf(id)
	if r == nil {
		return Found{}, ErrNone
	}
	return r.now(), nil
}

// StopSearch ends a search, which then keeps the best so far, and waits for it.
func (k *Keeper) StopSearch(ctx context.Context, id string) (Found, error) {
	r := k.searchOf(id)
	if r == nil {
		return Found{}, ErrNone
	}
	r.cancel()
	select {
	case <-r.ended:
	case <-ctx.Done():
		return Found{}, ErrStale
	}
	return r.now(), nil
}

// Station returns the job of a concept that the last search for a job found.
func (k *Keeper) Station(id, concept string) (*job.Job, error) {
	f, err := k.Searched(id)
	if err != nil {
		return nil, err
	}
	if f.Study != nil {
		for i := range f.Study.Found {
			if f.Study.Found[i].Concept == concept && f.Study.Found[i].Job != nil {
				return f.Study.Found[i].Job, nil
			}
		}
	}
	return nil, ErrNone
}

func (k *Keeper) searchOf(id string) *search {
	k.mu.Lock()
	defer k.mu.Unlock()
	if j := k.jobs[id]; j != nil {
		return j.search
	}
	return nil
}

func (k *Keeper) tellSearch(id string, r *search, always bool) {
	r.mu.Lock()
	now := time.Now()
	if !always && now.Sub(r.told) < 2*tellEvery {
		r.mu.Unlock()
		return
	}
	r.told = now
	f := r.found
	r.mu.Unlock()
	k.tell(id, Event{Search: &f})
}

func (r *search) over() bool {
	return closed(r.ended)
}

func (r *search) now() Found {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.found
}

func (r *search) change(f func(*Found)) {
	r.mu.Lock()
	defer r.mu.Unlock()
	f(&r.found)
}

// frontOf picks the members of a search's populations that meet everything and that no other beats in both cost and
// reserve, by their cost.
func frontOf(s design.State) (front []design.Point, judged int) {
	var all []design.Point
	for i := range s.Populations {
		p := &s.Populations[i]
		judged += p.Judged
		for _, m := range p.Members {
			if m.Violation == 0 && m.Cost > 0 {
				all = append(all, point(p.Concept, m))
			}
		}
	}
	slices.SortFunc(all, func(a, b design.Point) int {
		switch {
		case a.Cost != b.Cost && a.Cost < b.Cost, a.Cost == b.Cost && a.Reserve > b.Reserve:
			return -1
		case a.Cost == b.Cost && a.Reserve == b.Reserve:
			return 0
		}
		return 1
	})
	return design.Unbeaten(all), judged
}

func point(concept string, m design.Individual) design.Point {
	return design.Point{Concept: concept, Cost: m.Cost, Power: q.Power(m.Power), Reserve: m.Reserve, Plenum: q.Gauge(m.Pressure)}
}
