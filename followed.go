package leste

import (
	"context"
	"sync"

	"leste/drying"
)

// Followed keeps what was followed of one job on the cells of an assessment, so that somebody who answers a case of it
// first and then all of them does not have that case followed twice. It changes no answer. Use one for a single job,
// with the same cells and parts; it may be used from several goroutines at once.
type Followed struct {
	lock  sync.Mutex
	known map[followedCase]drying.Outcome
}

// followedCase is one case of one format.
type followedCase struct {
	format    string
	situation situation
}

// NewFollowed keeps nothing yet.
func NewFollowed() *Followed { return &Followed{known: map[followedCase]drying.Outcome{}} }

// of is the outcome of a case, if it is known.
func (k *Followed) of(c followedCase) (drying.Outcome, bool) {
	k.lock.Lock()
	defer k.lock.Unlock()
	o, ok := k.known[c]
	return o, ok
}

func (k *Followed) keep(c followedCase, o drying.Outcome) {
	k.lock.Lock()
	defer k.lock.Unlock()
	k.known[c] = o
}

// kept names what may be known of a pass: one of a single case without frames.
func (s *screen) kept(pass []int) (c followedCase, may bool) {
	if s.a.options.Followed == nil || len(pass) != 1 || s.a.options.Frames > 0 || len(s.a.options.Moments) > 0 {
		return c, false
	}
	return followedCase{s.run.plan.Format.Name, s.run.all[pass[0]].situation}, true
}

// recall takes a pass from what was followed before, with the bands of this assessment.
func (s *screen) recall(ctx context.Context, pass []int) (known bool, err error) {
	c, may := s.kept(pass)
	if !may {
		return false, nil
	}
	o, known := s.a.options.Followed.of(c)
	if !known {
		return false, nil
	}
	p := s.problems[pass[0]]
	spreads, err := drying.SpreadsOf(ctx, p)
	if err != nil {
		return false, err
	}
	o = copied(o)
	spreads.Widen(p, &o)
	s.fine[pass[0]], s.known[pass[0]] = o, true
	return true, nil
}
