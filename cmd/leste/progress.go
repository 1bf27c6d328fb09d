package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// A progress tells on standard error how far a computation is, once it has taken longer than a second. It
// may be called from several goroutines.
type progress struct {
	mu       sync.Mutex
	w        io.Writer
	terminal bool
	now      func() time.Time
	next     time.Time
	wrote    bool
	say      func(string) string // writes what is told, as in the units asked for; nil leaves it as it is
}

const (
	progressAfter    = time.Second
	progressTerminal = 200 * time.Millisecond // between two lines that overwrite each other
	progressLog      = 5 * time.Second        // between two lines of a log
)

func (p *program) newProgress() *progress {
	return &progress{w: p.errors, terminal: p.terminal, now: time.Now, next: time.Now().Add(progressAfter)}
}

// report tells that done of total is done.
func (g *progress) report(done, total float64, what string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	if now.Before(g.next) || !(total > 0) {
		return
	}
	if g.say != nil {
		what = g.say(what)
	}
	percent := 100 * min(max(done/total, 0), 1)
	if g.terminal {
		fmt.Fprintf(g.w, "\r\x1b[K%3.0f %%  %s", percent, what)
		g.next = now.Add(progressTerminal)
	} else {
		fmt.Fprintf(g.w, "%3.0f %%  %s\n", percent, what)
		g.next = now.Add(progressLog)
	}
	g.wrote = true
}

// end removes the line from a terminal.
func (g *progress) end() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.wrote && g.terminal {
		fmt.Fprint(g.w, "\r\x1b[K")
	}
}
