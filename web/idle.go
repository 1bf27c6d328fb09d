package web

import (
	"runtime/debug"
	"time"
)

// What a desk that nobody uses does: it gives back memory that an answer took soon after it, and forgets the answers
// of jobs that no page shows after a while.
const (
	lookEvery   = 2 * time.Second
	forgetAfter = 5 * time.Minute
)

// idle looks after memory until the server closes.
func (s *Server) idle() {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	given := int64(-1)
	var since time.Time
	for {
		select {
		case <-s.closing:
			return
		case now := <-tick.C:
			started, running := s.answers.Activity()
			switch {
			case running > 0:
				since = now
			case started != given:
				given, since = started, now
				debug.FreeOSMemory()
			case now.Sub(since) > forgetAfter && s.answers.Forget():
				debug.FreeOSMemory()
			}
		}
	}
}
