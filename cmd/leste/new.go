package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"leste/job"
)

type newCommand struct {
	File  string `arg:"" optional:"" default:"job.yaml" help:"File to write; - prints it."`
	Force bool   `help:"Replace a file that is there."`
}

// Run writes the starter job file.
func (c newCommand) Run(p *program) error {
	starter := job.Starter()
	if c.File == "-" {
		if p.options.JSON {
			return p.printJSON(map[string]any{"file": nil, "bytes": len(starter), "text": string(starter)})
		}
		return p.print(starter)
	}
	if err := writeNew(c.File, starter, c.Force); err != nil {
		return err
	}
	if p.options.JSON {
		return p.printJSON(map[string]any{"file": c.File, "bytes": len(starter)})
	}
	return p.print(fmt.Appendf(nil, "Wrote %s. Edit it, then:\n  leste check %s\n  leste assess %s\n", c.File, c.File, c.File))
}

// writeNew writes a file that is not there yet, or replaces one when told to; it is there whole or not at all.
func writeNew(name string, data []byte, force bool) error {
	if !force {
		switch _, err := os.Lstat(name); {
		case err == nil:
			return wrongInput(nil, "%s is there already; name another file or give --force", name)
		case !errors.Is(err, fs.ErrNotExist):
			return wrongInput(err, "%s cannot be written", name)
		}
	}
	return writeFile(name, data)
}
