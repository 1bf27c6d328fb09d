package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	leste "leste"
	"leste/job"
	"leste/papers"
	"leste/render/offer"
	"leste/render/quote"
	"leste/render/words"
)

type quoteCommand struct {
	File     string   `arg:"" help:"Job file, or a quotation.json that was kept: it reopens with its own numbers."`
	Out      string   `short:"o" required:"" placeholder:"DIR" help:"Folder to write the papers to."`
	Terms    string   `placeholder:"FILE" help:"Commercial terms as YAML: number, date, addressee, positions with cost and price, discount."`
	Template string   `placeholder:"DIR" help:"Folder with letterhead.yaml, logo.png, words.csv, intro.txt, scope.txt, closing.txt."`
	Language string   `enum:"en,de" default:"en" help:"Language of the papers: ${enum}."`
	Both     bool     `help:"Print quantities in SI and US units."`
	Date     string   `placeholder:"YYYY-MM-DD" help:"Date of the papers where the terms name none; today when left out."`
	Method   string   `help:"How the water is followed: ${methods}. The best there is when left out."`
	Parts    []string `placeholder:"FILE" help:"Blowers, filters or hoses of your own as CSV or YAML, instead of the generic ones; may be given again."`
}

// keptName is the file that a quotation reopens from.
const keptName = "quotation.json"

// Run writes the papers of an offer.
func (c quoteCommand) Run(ctx context.Context, p *program) error {
	data, name, err := p.read(c.File)
	if err != nil {
		return err
	}
	kept, err := c.archive(ctx, p, data, name)
	if err != nil {
		return err
	}
	in, warnings, err := c.input(p, kept)
	if err != nil {
		return err
	}
	var packed []byte
	var unkept error
	var wait sync.WaitGroup
	wait.Go(func() { packed, unkept = kept.Pack() })
	written, more, err := offer.Files(in, kept.Terms)
	wait.Wait()
	if err != nil {
		return broken(err, "the papers cannot be written")
	}
	if unkept != nil {
		return broken(unkept, "the quotation cannot be kept")
	}
	files := []output{{keptName, packed}}
	for _, f := range written {
		files = append(files, output{f.Name, f.Data})
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := writeFolder(c.Out, files); err != nil {
		return err
	}
	return c.tell(p, in.Result, files, append(warnings, more...))
}

// tell says what was written.
func (c quoteCommand) tell(p *program, r *leste.Result, files []output, warnings []string) error {
	for _, w := range warnings {
		fmt.Fprintf(p.errors, "leste: %s\n", w)
	}
	if p.options.JSON {
		names := make([]string, len(files))
		for i, f := range files {
			names[i] = f.name
		}
		return p.printJSON(map[string]any{"schema": "leste-quote-1", "job": r.Job, "verdict": r.Verdict, "folder": c.Out, "files": names, "warnings": append([]string{}, warnings...)})
	}
	return p.print(fmt.Appendf(nil, "%s: %s. Wrote %d papers to %s; start with quotation.pdf.\n", r.Job, r.Verdict, len(files), c.Out))
}

// archive is everything that the papers are made from: kept, or calculated now.
func (c quoteCommand) archive(ctx context.Context, p *program, data []byte, name string) (quote.Archive, error) {
	if quote.IsArchive(data) {
		if len(c.Parts) > 0 {
			return quote.Archive{}, wrongInput(nil, "%s has the parts of its own offer; leave --parts out, or give the job file", name)
		}
		a, err := quote.Unpack(data)
		if err != nil {
			return a, wrongInput(err, "%s", name)
		}
		return a, c.terms(&a)
	}
	file, problems := job.Load(name, data)
	if len(problems) > 0 {
		if err := p.printProblems(name, problems); err != nil {
			return quote.Archive{}, err
		}
		return quote.Archive{}, ended(exitInput)
	}
	a := quote.Archive{JobName: filepath.Base(name), JobFile: string(data)}
	if err := c.terms(&a); err != nil {
		return a, err
	}
	parts, err := ownParts(c.Parts)
	if err != nil {
		return a, err
	}
	result, err := assessCommand{File: c.File, Method: c.Method, Parts: c.Parts}.assessed(ctx, p, file)
	if err != nil {
		return a, err
	}
	a.Result = *result
	progress := p.newProgress()
	progress.report(0, 1, "tolerances")
	defer progress.end()
	err = papers.Gather(ctx, &a, file.Job, parts, runtime.NumCPU())
	switch {
	case errors.Is(err, context.Canceled):
		return a, err
	case errors.Is(err, papers.ErrTolerances):
		return a, refused(nil, "%v", err)
	case err != nil:
		return a, p.airless(file.Job, parts, err)
	}
	return a, nil
}

// terms reads the commercial terms, if any are named.
func (c quoteCommand) terms(a *quote.Archive) error {
	var data []byte
	name := "terms"
	if c.Terms != "" {
		b, err := os.ReadFile(c.Terms)
		if err != nil {
			return wrongInput(err, "the terms cannot be read")
		}
		data, name = b, c.Terms
	} else if a.Terms.Number != "" {
		return nil // a kept quotation has its own
	}
	t, err := quote.ReadTerms(name, data)
	if err != nil {
		return wrongInput(err, "the terms are wrong")
	}
	if t.Date.IsZero() {
		t.Date = time.Now().UTC().Truncate(24 * time.Hour)
		if c.Date != "" {
			if t.Date, err = time.Parse(time.DateOnly, c.Date); err != nil {
				return wrongInput(nil, "quote --date: %q is no date; write it as 2026-03-02", c.Date)
			}
		}
	}
	a.Terms = t
	return nil
}

// input lays the job out again and joins it with the words and the template. Warnings say what of the
// template could not be used.
func (c quoteCommand) input(p *program, a quote.Archive) (*quote.Input, []string, error) {
	units := words.Units(p.options.Units)
	if c.Both {
		units = words.Both
	}
	w, err := words.New(c.Language, units)
	if err != nil {
		return nil, nil, wrongInput(err, "quote")
	}
	var warnings []string
	t := quote.Template{Words: w}
	if c.Template != "" {
		files, err := folder(c.Template)
		if err != nil {
			return nil, nil, wrongInput(err, "the template cannot be read")
		}
		if t, err = quote.ReadTemplate(files, w); err != nil {
			warnings = append(warnings, strings.Split(err.Error(), "\n")...)
		}
	}
	in, more, err := papers.Input(&a, t)
	if err != nil {
		return nil, nil, wrongInput(err, "the job of the quotation cannot be read or laid out any more")
	}
	for _, w := range more {
		warnings = append(warnings, strings.Split(w.Error(), "\n")...)
	}
	return in, warnings, nil
}

// mostTemplate is the size of one file of a template [bytes].
const mostTemplate = 4 << 20

// folder reads the files of a folder by name.
func folder(dir string) (map[string][]byte, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || e.IsDir() || info.Mode()&fs.ModeType != 0 || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if info.Size() > mostTemplate {
			return nil, fmt.Errorf("%s is larger than %d MB", e.Name(), mostTemplate>>20)
		}
		if files[e.Name()], err = os.ReadFile(filepath.Join(dir, e.Name())); err != nil {
			return nil, err
		}
	}
	return files, nil
}
