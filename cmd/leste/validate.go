package main

import (
	"context"
	"fmt"

	"leste/render/asjson"
	"leste/render/text"
	"leste/validation"
)

type validateCommand struct {
	Failed bool `help:"Show only the rows that do not pass."`
}

// Run compares the relations with published values. A row that does not pass is a fault of the
// program's own, or of its build: the command then ends as such.
func (c validateCommand) Run(ctx context.Context, p *program) error {
	rows := validation.Run(ctx)
	if err := ctx.Err(); err != nil {
		return err
	}
	failed := []validation.Row{}
	for _, r := range rows {
		if !r.Pass() {
			failed = append(failed, r)
		}
	}
	shown := rows
	if c.Failed {
		shown = failed
	}
	if p.options.JSON {
		if err := p.printDocument(asjson.Validation(shown, len(rows), len(failed))); err != nil {
			return err
		}
	} else {
		report := text.Validation(shown, p.style()) + fmt.Sprintf("\n%d of %d rows pass.\n", len(rows)-len(failed), len(rows))
		if err := p.print([]byte(report)); err != nil {
			return err
		}
	}
	if len(failed) > 0 {
		return ended(exitInternal)
	}
	return nil
}
