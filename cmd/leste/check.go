package main

import (
	"fmt"
	"strings"

	leste "leste"
	"leste/job"
)

type checkCommand struct {
	File string `arg:"" help:"Job file; - reads standard input."`
}

// Run says everything that is wrong with a job file.
func (c checkCommand) Run(p *program) error {
	file, problems, err := p.load(c.File)
	if err != nil {
		return err
	}
	if len(problems) == 0 {
		problems = located(file, leste.Check(file.Job))
	}
	if err := p.printProblems(file.Name, problems); err != nil {
		return err
	}
	if len(problems) > 0 {
		return ended(exitInput)
	}
	return nil
}

// load reads a job file and checks its form and values.
func (p *program) load(name string) (*job.File, job.Problems, error) {
	data, name, err := p.read(name)
	if err != nil {
		return nil, nil, err
	}
	file, problems := job.Load(name, data)
	return file, problems, nil
}

// located gives problems of the layout their places in the file.
func located(file *job.File, problems job.Problems) job.Problems {
	for i := range problems {
		problems[i].File = file.Name
		problems[i].Line, problems[i].Column = file.Locate(problems[i].Path)
	}
	return problems.Sort()
}

// problemJSON is one problem for programs.
type problemJSON struct {
	File   string  `json:"file"`
	Line   *int    `json:"line"`
	Column *int    `json:"column"`
	Path   *string `json:"path"`
	Code   string  `json:"code"`
	Text   string  `json:"text"`
	Want   *string `json:"want"`
}

// printProblems prints the problems, or that there are none.
func (p *program) printProblems(name string, problems job.Problems) error {
	if p.options.JSON {
		list := make([]problemJSON, len(problems))
		for i, b := range problems {
			list[i] = problemJSON{b.File, known(b.Line), known(b.Column), known(b.Path), b.Code, b.Text, known(b.Want)}
		}
		return p.printJSON(map[string]any{"schema": "leste-check-1", "file": name, "ok": len(problems) == 0, "problems": list})
	}
	if len(problems) == 0 {
		return p.print(fmt.Appendf(nil, "%s: nothing wrong with it\n", name))
	}
	var b strings.Builder
	for _, problem := range problems {
		b.WriteString(problem.String())
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "\n%d %s\n", len(problems), plural(len(problems), "thing is wrong", "things are wrong"))
	return p.print([]byte(b.String()))
}

// known is nil for a zero value.
func known[T comparable](v T) *T {
	var zero T
	if v == zero {
		return nil
	}
	return &v
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
