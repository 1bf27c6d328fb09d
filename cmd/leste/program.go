package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"leste/design"
	"leste/drying"
	"leste/web"
)

// A program is the streams that one run of the commands reads and writes.
type program struct {
	in          io.Reader
	out, errors io.Writer
	terminal    bool // errors is a terminal
	colour      bool // out is a terminal and colours are welcome
	width       int  // of out in characters
	options     *options
}

// options are the flags that every command has.
type options struct {
	Help  helpFlag `short:"h" help:"Say what a command does and which flags it has."`
	JSON  bool     `name:"json" help:"Print one JSON document on standard output and nothing else there."`
	Units string   `enum:"si,us" default:"si" help:"Units of tables and reports: ${enum}."`
}

// commands is the tree of commands.
type commands struct {
	options

	New        newCommand        `cmd:"" help:"Write a commented starter job file."`
	Check      checkCommand      `cmd:"" help:"Say everything that is wrong with a job file, each with its place."`
	Assess     assessCommand     `cmd:"" help:"Calculate what the stations of a job leave and whether the next machine tolerates it."`
	Design     designCommand     `cmd:"" help:"Search for a station that meets what is asked at the least yearly cost, and say why it wins."`
	Quote      quoteCommand      `cmd:"" help:"Write the papers of an offer: quotation, drawings, lists, set-up sheet, forms of acceptance."`
	Accept     acceptCommand     `cmd:"" help:"Judge what was measured on site: accepted, not accepted or not enough, and what is wrong where it is."`
	Serve      serveCommand      `cmd:"" help:"Open the desk: the whole job in the browser, on this machine."`
	Calc       calcCommand       `cmd:"" help:"Answer a single question: a jet, a drop, a duct, a motor."`
	Survey     surveyCommand     `cmd:"" help:"Rank the places of a plant that blow compressed air by what a blower would save."`
	Relations  relationsCommand  `cmd:"" help:"List the relations used, or show one with its equation, range and source."`
	Validate   validateCommand   `cmd:"" help:"Compare the relations with published values, one row each."`
	Schema     schemaCommand     `cmd:"" help:"Print the JSON Schema of the job file, for editors."`
	Completion completionCommand `cmd:"" help:"Print a script that completes commands and flags in a shell."`
	Version    versionCommand    `cmd:"" help:"Print the version."`
}

const description = "Leste designs blow-off and drying stations for packaging lines and calculates what they leave."

// errHelp ends a run that printed help.
var errHelp = errors.New("help was asked for")

// helpFlag prints the usage of the selected command.
type helpFlag bool

// BeforeReset is called by the parser as soon as it meets the flag.
func (helpFlag) BeforeReset(ctx *kong.Context) error {
	if err := ctx.PrintUsage(false); err != nil {
		return fmt.Errorf("the help cannot be printed: %w", err)
	}
	return errHelp
}

// run parses the arguments, runs the command they name and returns the exit code.
func (p *program) run(ctx context.Context, args []string) int {
	err := p.guard(ctx, args)
	if errors.Is(err, errHelp) {
		return exitDone
	}
	p.report(err, wantsJSON(args))
	return exitCode(err)
}

// guard turns a fault of the program's own into a failure: a crash would leave the exit code of wrong input.
func (p *program) guard(ctx context.Context, args []string) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = broken(nil, "the program has a fault; please report it with the job file: %v\n%s", fault, debug.Stack())
		}
	}()
	return p.try(ctx, args)
}

func (p *program) try(ctx context.Context, args []string) error {
	parser, grammar, err := newParser()
	if err != nil {
		return broken(err, "the commands are put together wrongly")
	}
	parser.Stdout, parser.Stderr = p.out, p.errors
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(args)
	if errors.Is(err, errHelp) {
		return errHelp
	}
	if unknown := unknownCommand(err); unknown != nil {
		return unknown
	}
	if err != nil {
		return wrongInput(err, "the command line is wrong")
	}
	p.options = &grammar.options
	parsed.BindTo(ctx, (*context.Context)(nil))
	return parsed.Run(p, parsed)
}

// unknownCommand says which commands or topics there are where the command line names one that is not; nil
// for other errors.
func unknownCommand(err error) error {
	var wrong *kong.ParseError
	if !errors.As(err, &wrong) {
		return nil
	}
	name, ok := strings.CutPrefix(wrong.Error(), "unexpected argument ")
	if !ok {
		return nil
	}
	node, what := wrong.Context.Model.Node, "command"
	for _, p := range wrong.Context.Path {
		if p.Command != nil {
			node, what = p.Command, "topic"
		}
	}
	var names []string
	for _, child := range node.Children {
		if !child.Hidden {
			names = append(names, child.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return wrongInput(nil, "there is no %s %q; known are %s", what, strings.TrimRight(name, ", "), strings.Join(names, ", "))
}

// newParser returns the parser of the commands and the tree that it fills.
func newParser() (*kong.Kong, *commands, error) {
	grammar := &commands{}
	if err := grammar.Calc.addTopics(); err != nil {
		return nil, nil, err
	}
	parser, err := kong.New(grammar,
		kong.Name("leste"),
		kong.Description(description+"\n\n"+exitHelp()),
		kong.NoDefaultHelp(),
		kong.Vars{
			"methods": strings.Join(drying.MethodNames(), ", "),
			"goals":   design.GoalMet + " or " + design.GoalLikely, "budget": strconv.Itoa(design.UsualBudget),
			"lengths": helpOfLengths(),
			"port":    strconv.Itoa(web.UsualPort),
		},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, FlagsLast: true}),
	)
	return parser, grammar, err
}

func exitHelp() string {
	var b strings.Builder
	b.WriteString("Exit codes:\n")
	for code, meaning := range exitMeanings {
		fmt.Fprintf(&b, "  %d  %s\n", code, meaning)
	}
	return b.String()
}

// wantsJSON reports whether the flag was given, for errors that come before the flags are read.
func wantsJSON(args []string) bool {
	for _, a := range args {
		switch a {
		case "--":
			return false
		case "--json", "--json=true":
			return true
		}
	}
	return false
}

// report says what went wrong: to people on standard error, to programs as the one JSON document.
func (p *program) report(err error, asJSON bool) {
	var f *failure
	if err == nil || errors.As(err, &f) && f.text == "" {
		return
	}
	text := err.Error()
	if errors.Is(err, context.Canceled) {
		text = "interrupted: nothing was written"
	}
	if asJSON {
		if p.printJSON(map[string]any{"error": map[string]any{"code": exitCode(err), "text": text}}) == nil {
			return
		} // standard output may be what failed: tell people, then
	}
	fmt.Fprintf(p.errors, "leste: %s\n", text)
}

// printJSON writes v as the one document on standard output.
func (p *program) printJSON(v any) error {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return broken(err, "the answer cannot be written as JSON")
	}
	return p.print(append(b, '\n'))
}

// printDocument prints a document that a renderer made.
func (p *program) printDocument(b []byte, err error) error {
	if err != nil {
		return broken(err, "the answer cannot be written as JSON")
	}
	return p.print(b)
}

// print writes to standard output.
func (p *program) print(b []byte) error {
	if _, err := p.out.Write(b); err != nil {
		return broken(err, "standard output cannot be written")
	}
	return nil
}

// read returns the bytes and the name of a file; "-" is standard input.
func (p *program) read(name string) ([]byte, string, error) {
	if name == "-" {
		b, err := io.ReadAll(p.in)
		if err != nil {
			return nil, "", broken(err, "standard input cannot be read")
		}
		return b, "standard input", nil
	}
	b, err := os.ReadFile(name)
	if err != nil {
		return nil, "", wrongInput(err, "the file cannot be read")
	}
	return b, name, nil
}
