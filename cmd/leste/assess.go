package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"

	leste "leste"
	"leste/airsupply"
	"leste/design"
	"leste/drying"
	"leste/job"
	q "leste/quantity"
	"leste/render/asjson"
	"leste/render/study"
	"leste/render/text"
	"leste/render/wallmap"
)

type assessCommand struct {
	File    string   `arg:"" help:"Job file; - reads standard input."`
	Out     string   `short:"o" placeholder:"DIR" help:"Folder to write the result, the report and a map of the water left for each format to."`
	Frames  string   `placeholder:"DIR" help:"Folder to write the water on the wall to while the container passes, as data and as pictures; needs the transport method."`
	Moments string   `placeholder:"\"0.1 s, 0.2 s\"" help:"Times under the stations for --frames; eight spread evenly when left out."`
	Method  string   `help:"How the water is followed: ${methods}. The best there is when left out."`
	Cell    string   `placeholder:"\"2 mm\"" help:"Size of the wall's cells; 2 mm, or 5 mm for the quick method, when left out."`
	Parts   []string `placeholder:"FILE" help:"Blowers, filters or hoses of your own as CSV or YAML, instead of the generic ones; may be given again."`
	Nominal bool     `help:"Only the nominal case, without what matters most and what would help: for trying things out."`
	Workers int      `help:"Cores used; all of them when left out. The answer does not depend on it."`
}

// dotsPerMM of the maps written as PNG: 200 dots to the inch.
const dotsPerMM = 8

// rowsOfAssumed are shown on a terminal; the files hold all.
const rowsOfAssumed = 12

// Run assesses a job, prints the report and writes the files.
func (c assessCommand) Run(ctx context.Context, p *program) error {
	result, file, err := c.assess(ctx, p)
	if err != nil {
		return err
	}
	options, err := c.sideBySide(ctx, p, file.Job, result)
	if err != nil {
		return err
	}
	document, err := asjson.Result(result)
	if err != nil {
		return broken(err, "the result cannot be written as JSON")
	}
	if document, err = withOptions(document, options); err != nil {
		return err
	}
	style := p.style()
	style.Rows = rowsOfAssumed
	report := text.Report(result, style)
	if len(options) > 0 {
		report += "\n" + study.Options(options, style)
	}
	if c.Out != "" {
		files, err := resultFiles(result, document, text.Report(result, text.Style{Units: p.style().Units}))
		if err != nil {
			return err
		}
		more, err := optionFiles(options, text.Style{Units: p.style().Units})
		if err != nil {
			return err
		}
		files = append(files, more...)
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := writeFolder(c.Out, files); err != nil {
			return err
		}
		report += fmt.Sprintf("\nWrote %d files to %s.\n", len(files), c.Out)
	}
	if c.Frames != "" {
		files, err := frameFiles(result)
		if err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := writeFolder(c.Frames, files); err != nil {
			return err
		}
		report += fmt.Sprintf("\nWrote the pass in %d files to %s.\n", len(files), c.Frames)
	}
	if p.options.JSON {
		err = p.print(document)
	} else {
		err = p.print([]byte(report))
	}
	if err != nil {
		return err
	}
	if code := verdictCode(result.Verdict); code != exitDone {
		return ended(code)
	}
	return nil
}

func (c assessCommand) assess(ctx context.Context, p *program) (*leste.Result, *job.File, error) {
	if c.Method != "" && !slices.Contains(drying.MethodNames(), c.Method) {
		return nil, nil, wrongInput(nil, "assess --method: no method %q; known are: %s", c.Method, strings.Join(drying.MethodNames(), ", "))
	}
	switch {
	case c.Moments != "" && c.Frames == "":
		return nil, nil, wrongInput(nil, "assess --moments says when to keep what --frames writes; name a folder with --frames too")
	case c.Frames != "" && c.Method != "" && c.Method != drying.DefaultMethod():
		return nil, nil, wrongInput(nil, "assess --frames: the %s method does not follow the water in time; leave --method out", c.Method)
	}
	file, problems, err := p.load(c.File)
	if err != nil {
		return nil, nil, err
	}
	if len(problems) > 0 {
		if err := p.printProblems(file.Name, problems); err != nil {
			return nil, nil, err
		}
		return nil, nil, ended(exitInput)
	}
	result, err := c.assessed(ctx, p, file)
	return result, file, err
}

// sideBySide assesses the options of a job, where it has any.
func (c assessCommand) sideBySide(ctx context.Context, p *program, j *job.Job, known *leste.Result) ([]design.Row, error) {
	if len(j.Options) == 0 {
		return nil, nil
	}
	o, err := c.options()
	if err != nil {
		return nil, err
	}
	progress := p.newProgress()
	defer progress.end()
	progress.report(0, 1, "options side by side")
	rows, err := design.Compare(ctx, j, o, known)
	if err != nil && ctx.Err() == nil {
		return nil, refused(err, "the options cannot be compared")
	}
	return rows, err
}

// withOptions adds the options side by side to the document of a result, as its key "options".
func withOptions(document []byte, rows []design.Row) ([]byte, error) {
	if len(rows) == 0 {
		return document, nil
	}
	options, err := study.OptionsJSON(rows)
	if err != nil {
		return nil, broken(err, "the options cannot be written as JSON")
	}
	var whole bytes.Buffer
	whole.Write(bytes.TrimSpace(bytes.TrimSuffix(bytes.TrimSpace(document), []byte("}"))))
	whole.WriteString(",\n  \"options\": ")
	if err := json.Indent(&whole, bytes.TrimSpace(options), "  ", "  "); err != nil {
		return nil, broken(err, "the options cannot be written as JSON")
	}
	whole.WriteString("\n}\n")
	return whole.Bytes(), nil
}

// optionFiles are the files of options side by side.
func optionFiles(rows []design.Row, style text.Style) ([]output, error) {
	if len(rows) == 0 {
		return nil, nil
	}
	document, err := study.OptionsJSON(rows)
	if err != nil {
		return nil, broken(err, "the options cannot be written as JSON")
	}
	return []output{{"options.json", document}, {"options.txt", []byte(study.Options(rows, style))}}, nil
}

// assessed assesses a job file that has been read.
func (c assessCommand) assessed(ctx context.Context, p *program, file *job.File) (*leste.Result, error) {
	options, err := c.options()
	if err != nil {
		return nil, err
	}
	progress := p.newProgress()
	defer progress.end()
	options.Progress = progress.report
	result, err := leste.Assess(ctx, file.Job, options)
	var layout job.Problems
	var air *airsupply.Refusal
	switch {
	case err == nil:
		return result, nil
	case errors.As(err, &layout):
		if err := p.printProblems(file.Name, located(file, layout)); err != nil {
			return nil, err
		}
		return nil, ended(exitInput)
	case errors.As(err, &air):
		return nil, p.airless(file.Job, options.Parts, err)
	case errors.Is(err, context.Canceled):
		return nil, err
	}
	return nil, refused(err, "the job cannot be assessed")
}

// options are the flags as the assessment takes them.
func (c assessCommand) options() (leste.Options, error) {
	o := leste.Options{Method: c.Method, Workers: c.Workers, Nominal: c.Nominal, NoRanking: c.Nominal, Frames: usualFrames}
	if c.Moments != "" {
		var err error
		if o.Moments, err = moments(c.Moments); err != nil {
			return o, err
		}
	}
	var err error
	if o.Parts, err = ownParts(c.Parts); err != nil {
		return o, err
	}
	if c.Workers < 1 {
		o.Workers = runtime.NumCPU()
	}
	if c.Cell == "" {
		return o, nil
	}
	cell, err := q.Parse[q.Length](c.Cell)
	if err != nil {
		return o, wrongInput(err, "assess --cell")
	}
	if cell < finest || cell > coarsest {
		return o, wrongInput(nil, "assess --cell: %s is no useful size of a cell; give %g to %g mm", c.Cell, finest.MM(), coarsest.MM())
	}
	o.Cell = float64(cell)
	return o, nil
}

// Cells between which the methods are known to work.
const (
	finest   q.Length = 0.5e-3
	coarsest q.Length = 10e-3
)

// resultFiles are the files of a result: itself, the report, and two forms of map for each format that has one.
func resultFiles(r *leste.Result, document []byte, report string) ([]output, error) {
	files := []output{{"result.json", document}, {"report.txt", []byte(report)}}
	names := make([]string, len(r.Formats))
	for i := range r.Formats {
		names[i] = r.Formats[i].Name
	}
	for i, name := range uniqueNames(names) {
		picture, err := wallmap.Draw(r, &r.Formats[i])
		if errors.Is(err, wallmap.ErrNoMap) {
			continue
		}
		if err != nil {
			return nil, broken(err, "the map of %s cannot be drawn", r.Formats[i].Name)
		}
		svg, err := picture.SVG()
		if err != nil {
			return nil, broken(err, "the map of %s cannot be written as SVG", r.Formats[i].Name)
		}
		png, err := picture.PNG(dotsPerMM)
		if err != nil {
			return nil, broken(err, "the map of %s cannot be written as PNG", r.Formats[i].Name)
		}
		files = append(files, output{"map-" + name + ".svg", svg}, output{"map-" + name + ".png", png})
	}
	return files, nil
}
