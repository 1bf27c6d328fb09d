package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	leste "leste"
	"leste/accept"
	"leste/airsupply"
	"leste/catalogue"
	"leste/job"
	"leste/physics"
	q "leste/quantity"
	"leste/render/offer"
	"leste/render/quote"
	"leste/render/words"
	"leste/station"
)

type quoteCommand struct {
	File     string `arg:"" help:"Job file, or a quotation.json that was kept: it reopens with its own numbers."`
	Out      string `short:"o" required:"" placeholder:"DIR" help:"Folder to write the papers to."`
	Terms    string `placeholder:"FILE" help:"Commercial terms as YAML: number, date, addressee, positions with cost and price, discount."`
	Template string `placeholder:"DIR" help:"Folder with letterhead.yaml, logo.png, words.csv, intro.txt, scope.txt, closing.txt."`
	Language string `enum:"en,de" default:"en" help:"Language of the papers: ${enum}."`
	Both     bool   `help:"Print quantities in SI and US units."`
	Date     string `placeholder:"YYYY-MM-DD" help:"Date of the papers where the terms name none; today when left out."`
	Method   string `help:"How the water is followed: ${methods}. The best there is when left out."`
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
	papers, more, err := offer.Files(in, kept.Terms)
	if err != nil {
		return broken(err, "the papers cannot be written")
	}
	packed, err := kept.Pack()
	if err != nil {
		return broken(err, "the quotation cannot be kept")
	}
	files := []output{{keptName, packed}}
	for _, f := range papers {
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
	result, err := assessCommand{File: c.File, Method: c.Method}.assessed(ctx, p, file)
	if err != nil {
		return a, err
	}
	a.Result = *result
	filled := job.Clone(file.Job)
	job.Fill(filled)
	if err := airSide(ctx, file.Job, &a); err != nil {
		return a, err
	}
	if _, ok := smallestReserve(result); ok {
		progress := p.newProgress()
		progress.report(0, 1, "tolerances")
		defer progress.end()
		if a.Tolerances, a.Limits, err = tolerances(ctx, filled); err != nil {
			return a, refused(err, "the tolerances of the settings cannot be computed")
		}
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
	file, problems := job.Load(a.JobName, []byte(a.JobFile))
	if len(problems) > 0 {
		return nil, nil, wrongInput(problems, "the job file of the quotation cannot be read any more")
	}
	filled := job.Clone(file.Job)
	job.Fill(filled)
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
	in := &quote.Input{
		Job: filled, Result: &a.Result, Words: t.Words, Offer: a.Terms.Offer(), Head: t.Head,
		Blowers: a.Blowers, Loads: a.Loads, Tolerances: a.Tolerances, Limits: a.Limits, Cards: physics.Cards().Get,
	}
	if in.Texts, err = t.Texts(filled, in.Result, in.Offer); err != nil {
		warnings = append(warnings, strings.Split(err.Error(), "\n")...)
	}
	if len(filled.Formats) > 0 {
		plan, problems := station.Resolve(filled, station.ResolveOptions{})
		if len(problems) > 0 {
			return nil, nil, wrongInput(problems, "the stations cannot be laid out")
		}
		in.Plan = plan
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

// airSide adds the curves and the load list of the blowers.
func airSide(ctx context.Context, j *job.Job, a *quote.Archive) error {
	s, err := airsupply.Assess(ctx, j, catalogue.GenericParts())
	if err != nil {
		return refused(err, "the air supply gives no answer")
	}
	if s.Plan == nil || s.Plan.Network == nil {
		return nil
	}
	for i := range s.Nominal.Blowers {
		b := &s.Nominal.Blowers[i]
		c := quote.BlowerCurve{Name: b.Name, Operating: [2]float64{float64(b.Inlet), float64(b.Rise)}}
		for _, k := range s.Study.Cases[1:] {
			if i < len(k.Operation.Blowers) {
				c.Cases = append(c.Cases, quote.CasePoint{Name: k.Name, Flow: float64(k.Operation.Blowers[i].Inlet), Rise: float64(k.Operation.Blowers[i].Rise)})
			}
		}
		if m := s.Plan.Network.Blowers[i].Machine; m != nil && b.Inlet > 0 {
			sample(&c, m, b, s.Plan.Site.Summer)
		}
		a.Blowers = append(a.Blowers, c)
	}
	for i, l := range s.Loads {
		x := quote.Load{
			Blower: l.Blower, Rated: l.Rated, Class: l.Class, Voltage: l.Voltage, Frequency: l.Frequency, FullLoad: l.Current, PowerFactor: l.PowerFactor,
			Starter: l.Starter, Starts: l.StartsPerH, Protection: l.Protection, Signals: l.Signals,
		}
		if i < len(s.Nominal.Blowers) && l.Rated > 0 && l.Efficiency > 0 {
			full := float64(l.Rated) / float64(l.Efficiency)
			x.Running = accept.RunningCurrent(l.Current, l.PowerFactor, q.Ratio(float64(s.Nominal.Blowers[i].Drive.MotorInput)/full))
		}
		a.Loads = append(a.Loads, x)
	}
	return nil
}

// curvePoints are the points of a curve drawn.
const curvePoints = 40

// sample draws a machine's curve at its speed over the flows it admits, and the system's: the square of the
// flow through the operating point.
func sample(c *quote.BlowerCurve, m *airsupply.Machine, b *airsupply.BlowerState, at airsupply.Inlets) {
	inlet := at.Inlet
	inlet.P += q.Absolute(b.Suction)
	density := float64(b.Flow) / float64(b.Inlet)
	low, high := float64(b.MinimumFlow), float64(b.MaximumFlow)
	for i := range curvePoints + 1 {
		flow := low + (high-low)*float64(i)/curvePoints
		state := m.At(b.Speed, q.MassFlow(flow*density), inlet)
		c.Curve = append(c.Curve, [2]float64{flow, float64(state.Rise)})
		share := flow / float64(b.Inlet)
		c.System = append(c.System, [2]float64{flow, float64(b.Rise) * share * share})
	}
}

// smallestReserve is the least reserve over all requirements; ok is false without any.
func smallestReserve(r *leste.Result) (reserve float64, ok bool) {
	reserve = math.Inf(1)
	for _, f := range r.Formats {
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				if !math.IsNaN(x.Reserve) {
					reserve, ok = min(reserve, x.Reserve), true
				}
			}
		}
	}
	return reserve, ok
}

// toleranceCell is coarse: only the move to the limit matters, not the level [m].
const toleranceCell = 7e-3

// tolerances finds how far settings and conditions may move, by assessing the job again with the quick
// method. Settings are shared out among the cores; the answer does not depend on how.
func tolerances(ctx context.Context, filled *job.Job) (settings, limits []accept.Tolerance, err error) {
	try := func(ctx context.Context, j *job.Job) (float64, error) {
		r, err := leste.Assess(ctx, j, leste.Options{Method: "quick", Cell: toleranceCell, Nominal: true, NoRanking: true})
		if err != nil {
			return 0, err
		}
		reserve, ok := smallestReserve(r)
		if !ok {
			return 0, errors.New("nothing is required")
		}
		return reserve, nil
	}
	all := accept.Settings(filled)
	count := len(all)
	all = append(all, accept.Conditions(filled)...)
	out := make([]accept.Tolerance, len(all))
	errs := make([]error, len(all))
	work := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.NumCPU(), len(all)) {
		wg.Go(func() {
			for i := range work {
				found, err := accept.Tolerances(ctx, filled, all[i:i+1], try)
				if err != nil {
					errs[i] = err
					continue
				}
				out[i] = found[0]
			}
		})
	}
	for i := range all {
		work <- i
	}
	close(work)
	wg.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, nil, err
	}
	return out[:count], out[count:], nil
}
