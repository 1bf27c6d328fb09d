package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log"
	"net"
	"os/exec"
	"runtime"
	"sync"

	q "leste/quantity"
	"leste/web"
)

type serveCommand struct {
	Target    string   `arg:"" optional:"" default:"." help:"Job file, or folder with job files; the current folder when left out."`
	Port      int      `help:"Port to listen on; ${port}, or any that is free, when left out."`
	Listen    string   `placeholder:"ADDRESS" help:"Address to listen on; this machine only when left out."`
	Network   bool     `help:"Allow an address that other machines can reach: everybody who can reach it may read and change the jobs."`
	NoBrowser bool     `help:"Do not open the browser."`
	Parts     []string `placeholder:"FILE" help:"Blowers, filters or hoses of your own as CSV or YAML, instead of the generic ones, for every job of the desk; may be given again."`
}

// Run opens the desk and serves it until it is interrupted.
func (c serveCommand) Run(ctx context.Context, p *program) error {
	const ports = 1 << 16
	if c.Port < 0 || c.Port >= ports {
		return wrongInput(nil, "serve --port: there is no port %d; give one from 1 to %d", c.Port, ports-1)
	}
	parts, err := ownParts(c.Parts)
	if err != nil {
		return err
	}
	s, err := web.Open(ctx, web.Options{
		Target: c.Target, Parts: parts, Listen: c.Listen, Port: c.Port, Network: c.Network, Version: versionText(), Log: log.New(p.errors, "leste: ", 0),
	})
	var taken *net.OpError
	switch {
	case errors.Is(err, web.ErrReachable), errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrPermission), errors.As(err, &taken):
		return wrongInput(err, "serve")
	case err != nil:
		return broken(err, "the desk cannot be opened")
	}
	desk := deskAt(s.URL, p.options.Units)
	if err := c.tell(p, s.URL, desk); err != nil {
		return errors.Join(err, s.Close())
	}
	var browser sync.WaitGroup
	if !c.NoBrowser {
		browser.Go(func() { openBrowser(ctx, desk) })
	}
	err = s.Wait(ctx)
	browser.Wait()
	if err != nil {
		return broken(err, "the desk did not close properly")
	}
	return nil
}

// deskAt is the address of the screens in units: those of SI are what they show unless told.
func deskAt(url, units string) string {
	if units == string(q.US) {
		return url + "?units=" + units
	}
	return url
}

// tell says where the desk is; a program is told where its operations are.
func (c serveCommand) tell(p *program, url, desk string) error {
	if p.options.JSON {
		return p.printJSON(map[string]any{"schema": "leste-serve-1", "url": url, "screens": web.HasScreens()})
	}
	text := fmt.Sprintf("The desk is open at %s (interrupt with Ctrl-C to close it).\n", desk)
	if !web.HasScreens() {
		text += "This program was built without the screens: install Node 20 or later and run `make ui build`. The operations below /api work.\n"
	}
	return p.print([]byte(text))
}

// openBrowser asks the system to show a page. Where it cannot, the printed address is enough.
func openBrowser(ctx context.Context, url string) {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	if err := exec.CommandContext(ctx, name, args...).Run(); err != nil {
		return
	}
}

// versionText is the version for the screens.
func versionText() string {
	version, _ := buildVersion()
	return version
}
