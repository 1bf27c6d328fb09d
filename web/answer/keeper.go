package answer

import (
	"context"
	"errors"
	"reflect"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	leste "leste"
	"leste/catalogue"
	"leste/job"
	"leste/render/asjson"
	"leste/station"
	"leste/web/document"
)

// A Depth is how thoroughly a job is answered.
type Depth string

// The depths.
const (
	Quick     Depth = "quick"     // closed forms, the nominal case: while somebody drags an outlet
	Transport Depth = "transport" // the water is followed over the wall, the nominal case, with moments of the pass
	Whole     Depth = "whole"     // every case, what matters and what would help: what assess prints
)

// frames are the moments of a pass that an answer with transport keeps.
const frames = 48

// options are how a depth is assessed. Of the whole answer, which takes seconds, one core stays for the browser and for
// whoever drags meanwhile.
func (d Depth) options() leste.Options {
	cores := runtime.GOMAXPROCS(0)
	switch d {
	case Quick:
		return leste.Options{Method: "quick", Cell: quickCell, Nominal: true, NoRanking: true, Workers: cores}
	case Transport:
		return leste.Options{Method: "transport", Cell: refineCell, Nominal: true, NoRanking: true, Frames: frames, Workers: cores}
	}
	return leste.Options{Cell: wholeCell, Workers: max(1, cores-1)}
}

// Sizes of the wall's cells [m]: those of assess for the quick method and for the whole answer; coarser for the
// refined one, which then takes a third of the time; its likely values differ by a fraction of their bands.
const (
	quickCell  = 5e-3
	refineCell = 3e-3
	wholeCell  = 2e-3
)

// ErrStale says that a newer question took this one's place.
var ErrStale = errors.New("the job has changed or a newer question was asked; this answer is not wanted any more")

// ErrNone says that there is nothing of the kind.
var ErrNone = errors.New("there is nothing of the kind yet")

// An Answer is a job with what was calculated for it. It is read-only.
type Answer struct {
	Depth    Depth
	Revision document.Revision
	Given    *job.Job      // as the file says it
	Job      *job.Job      // filled
	Plan     *station.Plan // of the answer's cells; nil for a job without containers
	Result   *leste.Result
	Document []byte // the result as assess writes it
	Took     time.Duration
}

// An Event is something that the tabs of a job are told.
type Event struct {
	Progress *Progress
	Ready    *Answer
	Search   *Found
}

// Progress is how far a calculation is.
type Progress struct {
	Depth       Depth
	Revision    document.Revision
	Done, Total float64
	What        string
}

// A Keeper keeps the answers of all open jobs. Close it after use.
type Keeper struct {
	root   context.Context
	cancel context.CancelFunc
	work   sync.WaitGroup
	slots  map[Depth]chan struct{} // how many may be calculated at once
	assess func(context.Context, *job.Job, leste.Options) (*leste.Result, error)
	parts  *catalogue.Parts
	report func(fault any, stack []byte)

	started atomic.Int64
	running atomic.Int64

	mu   sync.Mutex
	jobs map[string]*kept
}

// kept is what there is for one job.
type kept struct {
	tasks     map[Depth]*task
	trials    map[string]*task // previews by tab
	tried     *Answer          // the last preview: mostly what is then kept
	search    *search
	listeners map[chan Event]bool
}

// NewKeeper returns a keeper without answers, which chooses among parts; nil is the generic set. A fault of the program in a calculation is reported, and ends that
// calculation only; report may be nil.
func NewKeeper(parts *catalogue.Parts, report func(fault any, stack []byte)) *Keeper {
	k := &Keeper{
		slots: map[Depth]chan struct{}{
			Quick: make(chan struct{}, runtime.GOMAXPROCS(0)), Transport: make(chan struct{}, 1), Whole: make(chan struct{}, 1),
		},
		assess: leste.Assess, parts: parts, report: report, jobs: map[string]*kept{},
	}
	k.root, k.cancel = context.WithCancel(context.Background())
	return k
}

// Close cancels everything and waits until it has ended.
func (k *Keeper) Close() {
	k.cancel()
	k.work.Wait()
}

// Activity tells how many calculations were started so far and how many of them run.
func (k *Keeper) Activity() (started, running int64) { return k.started.Load(), k.running.Load() }

// Forget drops the answers of jobs that nobody listens to; false when there were none.
func (k *Keeper) Forget() bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	dropped := false
	for _, j := range k.jobs {
		if len(j.listeners) > 0 {
			continue
		}
		j.tried = nil
		for depth, t := range j.tasks {
			if t.ended() {
				delete(j.tasks, depth)
				dropped = true
			}
		}
	}
	return dropped
}

// job returns what there is for one job; the lock is held.
func (k *Keeper) job(id string) *kept {
	j := k.jobs[id]
	if j == nil {
		j = &kept{tasks: map[Depth]*task{}, trials: map[string]*task{}, listeners: map[chan Event]bool{}}
		k.jobs[id] = j
	}
	return j
}

// Answer returns the answer of a depth for a job as it is now, from what is kept or by calculating it. Whoever asks
// for the same waits for the same calculation; when nobody waits any more it is given up. Problems of the job are
// job.Problems.
func (k *Keeper) Answer(ctx context.Context, d *document.Document, depth Depth) (*Answer, error) {
	s := d.State()
	if len(s.Problems) > 0 {
		k.Changed(s.ID, s.Revision)
		return nil, s.Problems
	}
	k.mu.Lock()
	j := k.job(s.ID)
	j.dropOthers(s.Revision)
	t := j.tasks[depth]
	promoted := false
	if t == nil {
		if t = j.asTried(s, depth); t == nil {
			t = k.start(s, depth, true)
		} else {
			promoted = true
		}
		j.tasks[depth] = t
	}
	t.waiting++
	k.mu.Unlock()
	if promoted {
		k.tell(s.ID, Event{Ready: t.answer})
	}
	return k.wait(ctx, t, func() {
		if j.tasks[depth] == t {
			delete(j.tasks, depth)
		}
	})
}

// asTried is a calculation that has ended already, because the job is what was tried last; nil when it is not.
func (j *kept) asTried(s document.State, depth Depth) *task {
	if j.tried == nil || j.tried.Depth != depth || !reflect.DeepEqual(j.tried.Given, s.Job) {
		return nil
	}
	a := *j.tried
	a.Revision = s.Revision
	t := &task{revision: s.Revision, keep: true, cancel: func() {}, done: make(chan struct{}), answer: &a}
	close(t.done)
	return t
}

// Warm answers a job before anybody asks: quickly, and then with transport.
func (k *Keeper) Warm(d *document.Document) {
	k.work.Go(func() {
		for _, depth := range []Depth{Quick, Transport} {
			if _, err := k.Answer(k.root, d, depth); err != nil {
				return // whoever asks is told
			}
		}
	})
}

// Changed gives up what is calculated for other revisions of a job than the present one.
func (k *Keeper) Changed(id string, now document.Revision) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if j := k.jobs[id]; j != nil {
		j.dropOthers(now)
	}
}

// Stop gives up what is being calculated for a job at a depth; false when nothing was.
func (k *Keeper) Stop(id string, depth Depth) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	j := k.jobs[id]
	if j == nil || j.tasks[depth] == nil || j.tasks[depth].ended() {
		return false
	}
	j.tasks[depth].cancel()
	delete(j.tasks, depth)
	return true
}

func (j *kept) dropOthers(now document.Revision) {
	for depth, t := range j.tasks {
		if t.revision != now {
			t.cancel()
			delete(j.tasks, depth)
		}
	}
}

// Try answers a state of a job that is in no file: as it would be after edits. A newer trial of the same tab takes
// the place of an older one, which ends with ErrStale.
func (k *Keeper) Try(ctx context.Context, tab string, s document.State, depth Depth) (*Answer, error) {
	if len(s.Problems) > 0 {
		return nil, s.Problems
	}
	k.mu.Lock()
	j := k.job(s.ID)
	if old := j.trials[tab]; old != nil {
		old.cancel()
	}
	t := k.start(s, depth, false)
	t.waiting++
	j.trials[tab] = t
	k.mu.Unlock()
	return k.wait(ctx, t, func() {
		if j.trials[tab] == t {
			delete(j.trials, tab)
		}
	})
}

// wait returns what a task comes to. forget is called, with the lock held, when the task is not worth keeping.
func (k *Keeper) wait(ctx context.Context, t *task, forget func()) (*Answer, error) {
	select {
	case <-t.done:
	case <-ctx.Done():
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	t.waiting--
	switch {
	case !t.ended() && t.waiting == 0:
		t.cancel()
		forget()
	case t.ended() && (t.err != nil || !t.keep):
		forget()
	}
	if t.ended() && t.err == nil && !t.keep {
		k.job(t.id).tried = t.answer
	}
	if !t.ended() || errors.Is(t.err, context.Canceled) {
		return nil, ErrStale
	}
	return t.answer, t.err
}

// task is one calculation.
type task struct {
	id       string
	revision document.Revision
	keep     bool
	cancel   context.CancelFunc
	done     chan struct{}
	waiting  int // guarded by the keeper

	answer *Answer // once done
	err    error
}

func (t *task) ended() bool {
	return closed(t.done)
}

func closed(c <-chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}

// start begins a calculation; the lock is held. A refined answer leaves the cores to the quick one to the same text, so
// that a tab may ask for both at once.
func (k *Keeper) start(s document.State, depth Depth, keep bool) *task {
	ctx, cancel := context.WithCancel(k.root)
	t := &task{id: s.ID, revision: s.Revision, keep: keep, cancel: cancel, done: make(chan struct{})}
	var first *task
	if q := k.job(s.ID).tasks[Quick]; keep && depth == Transport && q != nil && q.revision == s.Revision {
		first = q
	}
	k.started.Add(1)
	k.running.Add(1)
	k.work.Go(func() {
		defer k.running.Add(-1)
		defer close(t.done)
		defer cancel()
		defer func() {
			if fault := recover(); fault != nil {
				t.answer, t.err = nil, k.fault(fault)
			}
		}()
		if first != nil {
			select {
			case <-first.done:
			case <-ctx.Done():
			}
		}
		slot := k.slots[depth]
		select {
		case slot <- struct{}{}:
		case <-ctx.Done():
			t.err = ctx.Err()
			return
		}
		defer func() { <-slot }()
		var tell func(Progress)
		if keep {
			tell = func(p Progress) { k.tell(s.ID, Event{Progress: &p}) }
		}
		t.answer, t.err = k.calculate(ctx, s, depth, tell)
		if t.err == nil && keep {
			k.tell(s.ID, Event{Ready: t.answer})
		}
	})
	return t
}

// tellEvery is the shortest time between two events of progress.
const tellEvery = 100 * time.Millisecond

// ErrFault says that the program has a fault.
var ErrFault = errors.New("the program has a fault: it could not calculate this; please report it with the job file")

// fault reports a fault of the program and returns the error for whoever waits.
func (k *Keeper) fault(fault any) error {
	if k.report != nil {
		k.report(fault, debug.Stack())
	}
	return ErrFault
}

func (k *Keeper) calculate(ctx context.Context, s document.State, depth Depth, tell func(Progress)) (*Answer, error) {
	began := time.Now()
	a := &Answer{Depth: depth, Revision: s.Revision, Given: s.Job, Job: job.Clone(s.Job)}
	o := depth.options()
	o.Parts = k.parts
	if tell != nil {
		last := began
		o.Progress = func(done, total float64, what string) {
			if now := time.Now(); now.Sub(last) > tellEvery {
				last = now
				tell(Progress{depth, s.Revision, done, total, what})
			}
		}
	}
	var err error
	if a.Result, err = k.assess(ctx, s.Job, o); err != nil {
		return nil, err
	}
	job.Fill(a.Job)
	if a.Plan, err = plan(a.Job, o.Cell); err != nil {
		return nil, err
	}
	if a.Document, err = asjson.Result(a.Result); err != nil {
		return nil, err
	}
	a.Took = time.Since(began)
	return a, nil
}

// plan lays a filled job out on the cells of a result's maps; nil for a job without containers.
func plan(j *job.Job, cell float64) (*station.Plan, error) {
	if len(j.Formats) == 0 {
		return nil, nil
	}
	p, problems := station.Resolve(j, station.ResolveOptions{Cell: cell})
	if len(problems) > 0 {
		return nil, problems
	}
	return p, nil
}

// Listen returns a channel of what happens to the answers of a job and a function that ends it. A slow listener
// misses events of progress.
func (k *Keeper) Listen(id string) (events <-chan Event, end func()) {
	const waiting = 16
	c := make(chan Event, waiting)
	k.mu.Lock()
	defer k.mu.Unlock()
	j := k.job(id)
	j.listeners[c] = true
	return c, func() {
		k.mu.Lock()
		defer k.mu.Unlock()
		delete(j.listeners, c)
	}
}

func (k *Keeper) tell(id string, e Event) {
	k.mu.Lock()
	defer k.mu.Unlock()
	for c := range k.job(id).listeners {
		select {
		case c <- e:
		default:
			if e.Progress == nil { // what matters takes the place of the oldest
				select {
				case <-c:
				default:
				}
				select {
				case c <- e:
				default:
				}
			}
		}
	}
}
