package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"unicode"

	"leste/catalogue"
	"leste/design"
	"leste/job"
	q "leste/quantity"
	"leste/render/study"
	"leste/render/text"
)

type designCommand struct {
	File     string   `arg:"" help:"Job file; - reads standard input."`
	Out      string   `short:"o" required:"" placeholder:"DIR" help:"Folder to write the study, and a job file for the best station of each concept, to."`
	Seed     uint64   `default:"1" help:"Seed of the search: the same job, seed and budget give the same study."`
	Seeds    int      `default:"1" help:"How many seeds to search from, one after the other from --seed on: the best study is told, and what the others end at."`
	Budget   int      `default:"${budget}" help:"Candidates to judge, about."`
	Concepts []string `placeholder:"NAME" sep:";" help:"Concepts to try, separated by semicolons; all that fit the job when left out."`
	Goal     string   `placeholder:"GOAL" help:"${goals}: whether the whole band must be within its limits, or only the likely value. When left out: met where that costs little more, else likely, with one that is met told beside where there is one."`
	Gaps     []string `placeholder:"\"1 mm\"" help:"Slot gaps that can be had; the usual ones when left out."`
	Bores    []string `placeholder:"\"12 mm\"" help:"Bores of nozzles that can be had; the usual ones when left out."`
	Longest  string   `placeholder:"\"600 mm\"" help:"Longest outlet that can be had: ${lengths}."`
	Parts    []string `placeholder:"FILE" aliases:"blowers" help:"Blowers, filters or hoses of your own as CSV or YAML to choose from, instead of the generic ones; may be given again."`
	Resume   string   `placeholder:"FILE" help:"State of an interrupted search of the same job and options: the search.json of its folder."`
	Workers  int      `help:"Cores used; all of them when left out. The study does not depend on it."`
}

// helpOfLengths says between what outlets are tried, for jobs in either system of units.
func helpOfLengths() string {
	si, us := design.UsualSizes(q.SI).Lengths, design.UsualSizes(q.US).Lengths
	return fmt.Sprintf("%s at least and %s when left out; of a job in US units %s and %s",
		q.Format(si[0], q.SI), q.Format(si[1], q.SI), q.Format(us[0], q.US), q.Format(us[1], q.US))
}

// stateName is the file that an interrupted search is resumed from.
const stateName = "search.json"

// Run searches for a station and writes the study.
func (c designCommand) Run(ctx context.Context, p *program) error {
	file, problems, err := p.load(c.File)
	if err != nil {
		return err
	}
	if len(problems) > 0 {
		if err := p.printProblems(file.Name, problems); err != nil {
			return err
		}
		return ended(exitInput)
	}
	spelling := file.Spelling()
	o, err := c.options(spelling)
	if err != nil {
		return err
	}
	if err := canHold(c.Out); err != nil { // said before a minute is spent, not after it
		return err
	}
	progress := p.newProgress()
	progress.say = p.style().Say
	o.Progress = progress.report
	collectLess()
	found, err := design.SearchSeeds(ctx, file.Job, o, c.Seeds)
	progress.end()
	var wrong job.Problems
	switch {
	case errors.As(err, &wrong):
		if err := p.printProblems(file.Name, p.said(file.Job, located(file, wrong))); err != nil {
			return err
		}
		return ended(exitInput)
	case errors.Is(err, context.Canceled):
		return err
	case err != nil:
		return wrongInput(err, "no station can be searched for")
	}
	return c.write(p, found, spelling)
}

// said writes what stands in the way of a search in the units asked for; names of the job stay, and so does what programs
// read.
func (p *program) said(j *job.Job, problems job.Problems) job.Problems {
	if p.options.JSON {
		return problems
	}
	var names []string
	for i := range j.Formats {
		names = append(names, j.Formats[i].Name)
	}
	for i := range j.Next {
		names = append(names, j.Next[i].Name)
	}
	style := p.style().Naming(names...)
	for i := range problems {
		problems[i].Text, problems[i].Want = style.Say(problems[i].Text), style.Say(problems[i].Want)
	}
	return problems
}

// airless says why the air supply gives no answer, in the units asked for; names of outlets, blowers and parts stay.
func (p *program) airless(j *job.Job, parts *catalogue.Parts, cause error) error {
	var names []string
	for i := range j.Stations {
		for k := range j.Stations[i].Outlets {
			names = append(names, j.Stations[i].Outlets[k].Name)
		}
	}
	for i := range j.AirSupply.Blowers {
		names = append(names, j.AirSupply.Blowers[i].Name)
	}
	if parts != nil {
		for i := range parts.Blowers {
			names = append(names, parts.Blowers[i].Part)
		}
	}
	return refused(nil, "the air supply gives no answer: %s", p.style().Naming(names...).Say(cause.Error()))
}

// write writes the study and prints it.
func (c designCommand) write(p *program, s *design.Study, spelling *job.Spelling) error {
	names := make([]string, len(s.Found))
	for i := range s.Found {
		names[i] = s.Found[i].Concept
	}
	jobs := map[string]string{}
	var files []output
	for i, name := range uniqueNames(names) {
		f := &s.Found[i]
		data, err := design.WriteAs(f.Job, head(s, f, inUnits(f.Job, spelling.System())), spelling)
		if err != nil {
			return broken(err, "the job of %s cannot be written", f.Concept)
		}
		jobs[f.Concept] = "job-" + name + ".yaml"
		files = append(files, output{jobs[f.Concept], data})
	}
	document, err := study.JSON(s, jobs)
	if err != nil {
		return broken(err, "the study cannot be written as JSON")
	}
	state, err := json.Marshal(s.State)
	if err != nil {
		return broken(err, "the state of the search cannot be written")
	}
	style := text.Style{Units: p.style().Units}
	files = append(files, output{"study.json", document}, output{"study.txt", []byte(study.Text(s, style))}, output{stateName, state})
	if err := writeFolder(c.Out, files); err != nil {
		return err
	}
	if p.options.JSON {
		err = p.print(document)
	} else {
		err = p.print([]byte(study.Text(s, p.style()) + fmt.Sprintf("\nWrote %d files to %s.\n", len(files), c.Out)))
	}
	switch {
	case err != nil:
		return err
	case s.Interrupted:
		return ended(exitInternal)
	case s.Best() == nil || !s.Best().Works:
		return ended(exitNotMet)
	}
	if code := verdictCode(s.Best().Verdict); code != exitDone {
		return ended(code)
	}
	return nil
}

// inUnits says sentences about a job in units, with its names as they are.
func inUnits(j *job.Job, units q.System) text.Style {
	names := []string{j.Name}
	for i := range j.Formats {
		names = append(names, j.Formats[i].Name)
	}
	for i := range j.Next {
		names = append(names, j.Next[i].Name)
	}
	for i := range j.Stations {
		names = append(names, j.Stations[i].Name)
		for k := range j.Stations[i].Outlets {
			names = append(names, j.Stations[i].Outlets[k].Name)
		}
	}
	return text.Style{Units: units}.Naming(names...)
}

// head is what stands above a job file that the search wrote, in the style of that file.
func head(s *design.Study, f *design.Found, style text.Style) string {
	said := fmt.Sprintf("Found by leste design: %s.", f.What)
	if s.Allowed != "" {
		said += "\n" + style.Say(s.Allowed) + "\nThe limit below is the search's, as \"by_search\" says, and not the customer's: put the real one in its place and leave that out."
	}
	for _, name := range f.Anew {
		said += fmt.Sprintf("\n%q stands there and is only set anew. It is \"planned\" below as its plenum pressures are wanted, and not measured yet.", name)
	}
	for _, scale := range f.Scales {
		said += "\n" + style.Say(scale)
	}
	fails := style.Say(strings.ReplaceAll(f.Fails, "\n", "; "))
	switch {
	case fails == "":
	case f.Sure:
		said += fmt.Sprintf("\nIt fails on this: %s.", fails)
	default:
		said += fmt.Sprintf("\nThe search sees it fail, on coarse cells, on this: %s. What assess finds counts.", fails)
	}
	if notes := commented(s.Notes); notes != "" {
		said += "\nNotes of the job that was searched for:\n" + notes
	}
	return said
}

// commented are notes as lines of a comment: without those that are empty, and without what ends a line or cannot be shown.
func commented(notes string) string {
	var lines []string
	for line := range strings.SplitSeq(notes, "\n") {
		line = strings.TrimRight(strings.Map(func(r rune) rune {
			if !unicode.IsPrint(r) {
				return ' '
			}
			return r
		}, line), " ")
		if line != "" {
			lines = append(lines, "  "+line)
		}
	}
	return strings.Join(lines, "\n")
}

// options are the flags as the search takes them, for a job file with a spelling.
func (c designCommand) options(spelling *job.Spelling) (design.Options, error) {
	o := design.Options{Seed: c.Seed, Budget: c.Budget, Workers: c.Workers, Concepts: c.Concepts, Goal: c.Goal, Spelling: spelling}
	if spelling.System() == q.US { // SI is left out of the key of a saved search
		o.Sizes.Units = q.US
	}
	if c.Workers < 1 {
		o.Workers = runtime.NumCPU()
	}
	if c.Budget < 1 {
		return o, wrongInput(nil, "design --budget: %d candidates are none; %d are usual", c.Budget, design.UsualBudget)
	}
	if c.Seeds < 1 {
		return o, wrongInput(nil, "design --seeds: %d searches are none; 1 is usual", c.Seeds)
	}
	if c.Seeds > 1 && c.Resume != "" {
		return o, wrongInput(nil, "design --seeds: a saved search goes on from its one seed; leave --seeds or --resume out")
	}
	for _, l := range []struct {
		flag  string
		texts []string
		to    *[]q.Length
	}{{"gaps", c.Gaps, &o.Sizes.Gaps}, {"bores", c.Bores, &o.Sizes.Bores}} {
		for _, t := range l.texts {
			v, err := q.Parse[q.Length](t)
			if err != nil {
				return o, wrongInput(err, "design --%s", l.flag)
			}
			*l.to = append(*l.to, v)
		}
	}
	if c.Longest != "" {
		v, err := q.Parse[q.Length](c.Longest)
		if err != nil {
			return o, wrongInput(err, "design --longest")
		}
		shortest := design.UsualSizes(o.Sizes.Units).Lengths[0]
		if v < shortest {
			return o, wrongInput(nil, "design --longest: %s is shorter than the shortest outlet that is tried, %s", q.Format(v, spelling.System()), q.Format(shortest, spelling.System()))
		}
		o.Sizes.Lengths = [2]q.Length{shortest, v}
	}
	var err error
	if o.Parts, err = ownParts(c.Parts); err != nil {
		return o, err
	}
	if c.Resume != "" {
		if o.Resume, err = saved(c.Resume); err != nil {
			return o, err
		}
	}
	return o, nil
}

// saved reads the state of a search; any other file is told what it is.
func saved(name string) (*design.State, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, wrongInput(err, "the saved search cannot be read")
	}
	var is struct {
		Schema      string
		Version     json.RawMessage
		Populations json.RawMessage
	}
	faulty := json.Unmarshal(data, &is)
	state := &design.State{}
	switch {
	case faulty == nil && is.Schema == study.Schema:
		return nil, wrongInput(nil, "%s is a study and not a saved search, which is the %s of the same folder", name, stateName)
	case faulty != nil || len(is.Version) == 0 || len(is.Populations) == 0:
		return nil, wrongInput(nil, "%s is no saved search; leste design writes that to %s in the folder of its study", name, stateName)
	}
	if err := json.Unmarshal(data, state); err != nil {
		return nil, wrongInput(nil, "%s is no saved search that this program reads; start anew", name)
	}
	return state, nil
}

// collectLess lets the heap grow to five times what lives before it is swept, unless the user has set that: a search makes
// and drops a great deal of little, and sweeping at twice took a fifth of its time.
func collectLess() {
	const percent = 400
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(percent)
	}
}
