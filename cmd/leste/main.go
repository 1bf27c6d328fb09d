// Leste answers, from one job file, whether an air blow-off station leaves containers dry enough.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/term"
)

// Widths of reports [characters]: of a pipe or file, and the bounds of a terminal's.
const (
	usualWidth = 100
	narrowest  = 60
	widest     = 140
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	p := &program{
		in: os.Stdin, out: os.Stdout, errors: os.Stderr,
		terminal: term.IsTerminal(int(os.Stderr.Fd())),
		width:    usualWidth,
	}
	if out := int(os.Stdout.Fd()); term.IsTerminal(out) {
		p.colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
		if width, _, err := term.GetSize(out); err == nil && width >= narrowest {
			p.width = min(width, widest)
		}
	}
	code := p.run(ctx, os.Args[1:])
	stop()
	os.Exit(code)
}
