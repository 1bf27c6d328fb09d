package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode/utf8"

	"leste/accept"
	"leste/job"
	q "leste/quantity"
	"leste/render/quote"
	"leste/render/scene"
	"leste/render/words"
	"leste/station"
)

type acceptCommand struct {
	File       string   `arg:"" help:"Job file, or the quotation.json of the offer: its numbers are then the promise."`
	Results    string   `arg:"" help:"CSV of what was measured; leste quote writes a blank one."`
	Confidence float64  `default:"95" placeholder:"PERCENT" help:"Confidence to be reached, in per cent."`
	Method     string   `help:"How the water is followed: ${methods}. The best there is when left out."`
	Parts      []string `placeholder:"FILE" help:"Blowers, filters or hoses of your own as CSV or YAML, as the offer was made with; may be given again."`
	Language   string   `enum:"en,de" default:"en" help:"Language of the judgement: ${enum}."`
}

// Run judges measurements against the promise.
func (c acceptCommand) Run(ctx context.Context, p *program) error {
	if !(c.Confidence >= 50 && c.Confidence < 100) {
		return wrongInput(nil, "accept --confidence: %g %% is none; give 50 to below 100", c.Confidence)
	}
	data, name, err := p.read(c.File)
	if err != nil {
		return err
	}
	measured, resultsName, err := p.read(c.Results)
	if err != nil {
		return err
	}
	// What was measured is read first: nobody waits for an assessment to hear of a wrong column.
	w, err := words.New(c.Language, words.Units(p.options.Units))
	if err != nil {
		return wrongInput(err, "accept")
	}
	rows, wrong := accept.Read(resultsName, bytes.NewReader(measured))
	if wrong != nil {
		if len(rows) == 0 {
			return wrongInput(rowsWrong(w, wrong), "the measurements cannot be read")
		}
		fmt.Fprintf(p.errors, "%v\n", rowsWrong(w, wrong))
	}
	a, err := quoteCommand{File: c.File, Method: c.Method, Parts: c.Parts, Date: "2000-01-01"}.archive(ctx, p, data, name)
	if err != nil {
		return err
	}
	expected, err := promised(a)
	if err != nil {
		return err
	}
	searched, err := searchedIn(a)
	if err != nil {
		return err
	}
	w = w.Searched(searched...)
	plainNames(rows, expected, searched)
	rows, doubtful := expected.Kept(resultsName, rows)
	if doubtful != nil {
		fmt.Fprintf(p.errors, "%v\n", rowsWrong(w, doubtful))
		wrong = errors.Join(wrong, doubtful)
	}
	j := accept.Judge(rows, expected, accept.Terms{Confidence: q.Ratio(c.Confidence / 100)})
	if wrong != nil && j.Verdict == accept.Accepted { // what could not be read may speak against it
		j.Verdict = accept.NotEnough
	}
	if p.options.JSON {
		err = p.printJSON(judgementJSON(a.Result.Job, j, wrong))
	} else {
		err = p.print([]byte(judgementText(w, a.Result.Job, j)))
	}
	if err != nil {
		return err
	}
	switch {
	case wrong != nil:
		return ended(exitInput)
	case j.Verdict == accept.NotAccepted:
		return ended(exitNotMet)
	case j.Verdict == accept.NotEnough:
		return ended(exitUndecided)
	}
	return nil
}

// plainNames writes zones, machines and blowers as the job does where a row has them as a paper in another language says
// them.
func plainNames(rows []accept.Row, e accept.Expected, searched []string) {
	plain := map[string]string{}
	for _, language := range words.Languages() {
		w, err := words.New(language, words.SI)
		if err != nil {
			continue
		}
		w = w.Searched(searched...)
		for _, name := range e.Names() {
			if said := strings.ToLower(w.Term(name)); plain[said] == "" {
				plain[said] = name
			}
		}
	}
	for i := range rows {
		if name := plain[strings.ToLower(rows[i].At)]; name != "" {
			rows[i].At = name
		}
	}
}

// searchedIn are the names that a search gave in the job of an archive, which papers translate.
func searchedIn(a quote.Archive) ([]string, error) {
	file, problems := job.Load(a.JobName, []byte(a.JobFile))
	if len(problems) > 0 {
		return nil, wrongInput(problems, "the job file cannot be read")
	}
	return quote.Found(file.Job), nil
}

// rowsWrong says what is wrong with rows in the language of the judgement.
func rowsWrong(w words.Words, wrong error) error {
	if many, ok := wrong.(interface{ Unwrap() []error }); ok {
		var said []error
		for _, err := range many.Unwrap() {
			said = append(said, rowsWrong(w, err))
		}
		return errors.Join(said...)
	}
	var r *accept.RowError
	if w.Language == "en" || !errors.As(wrong, &r) {
		return wrong
	}
	w.Units = words.SI // a row is told as it stands in the file
	w = w.Naming(inQuotes.FindAllString(r.Text+" "+strings.Join(r.Details, " "), -1)...)
	said, known := make([]string, len(r.Details)), len(r.Details) > 0
	for i, text := range r.Details {
		var ok bool
		said[i], ok = w.Said(text)
		known = known && ok
	}
	if !known {
		said = []string{w.Say(r.Text)}
	}
	return errors.New(r.Place() + ": " + strings.Join(said, "; "))
}

// inQuotes is what an error quotes of the file, or what is to be written there.
var inQuotes = regexp.MustCompile(`"[^"]*"`)

// promised is what the offer promised and expects on site.
func promised(a quote.Archive) (accept.Expected, error) {
	file, problems := job.Load(a.JobName, []byte(a.JobFile))
	if len(problems) > 0 {
		return accept.Expected{}, wrongInput(problems, "the job file cannot be read")
	}
	filled := job.Clone(file.Job)
	job.Fill(filled)
	currents := map[string]q.Current{}
	for _, l := range a.Loads {
		currents[l.Blower] = l.Running
	}
	tolerances := map[string]float64{}
	for _, t := range a.Tolerances {
		for _, at := range append([]string{t.At}, t.Others...) {
			tolerances[t.What+"/"+at] = narrow(t.Less, t.More)
		}
	}
	e := accept.From(filled, &a.Result, currents, tolerances)
	if len(filled.Formats) == 0 {
		return e, nil
	}
	plan, problems := station.Resolve(filled, station.ResolveOptions{})
	if len(problems) > 0 {
		return accept.Expected{}, wrongInput(problems, "the stations cannot be laid out any more")
	}
	stand(&e, filled, plan, tolerances)
	return e, nil
}

// stand adds how fast the line runs and where outlets stand at each format, as the set-up sheet tells it. What is the same
// at every format, since no frame moves it, is added once.
func stand(e *accept.Expected, j *job.Job, plan *station.Plan, tolerances map[string]float64) {
	moved := map[string]bool{}
	for _, s := range j.Stations {
		for _, o := range s.Outlets {
			moved[o.Name] = o.Frame != ""
		}
	}
	for i, f := range plan.Formats {
		e.Runs(f.Format.Name, float64(f.Speed))
		for _, s := range f.Stations {
			for _, p := range s.Outlets {
				format := f.Format.Name
				e.Stands(accept.Clearance, p.Name, format, scene.Clearance(p, f.Body), tolerances)
				e.Stands(accept.StandOff, p.Name, format, p.StandOff, tolerances)
				if !moved[p.Name] {
					if format = ""; i > 0 {
						continue
					}
				}
				e.Stands(accept.Height, p.Name, format, p.Middle.Z, tolerances)
				e.Stands(accept.Tilt, p.Name, format, scene.Tilt(p), tolerances)
			}
		}
	}
}

// narrow is the smaller of two tolerances that are known.
func narrow(a, b float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return min(a, b)
}

// judgementText writes a judgement for people, the verdict first. Every sentence is said by itself: what one holds, such
// as a name, never parts another.
func judgementText(w words.Words, name string, j accept.Judgement) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s   %s\n", w.Say(string(j.Verdict)), name)
	for _, x := range j.Promises {
		fmt.Fprintf(&b, "  %s, %s, %s: %s", x.Format, w.Term(x.Zone), w.Term(x.Machine), w.Say(string(x.Verdict)))
		if how := certainty(x, j.Terms.Confidence); how != "" {
			b.WriteString(strings.Replace(how[:1], ";", "; ", 1) + w.Say(how[1:]))
		}
		for _, text := range append(x.Says, stillNeeded(x)) {
			if text != "" {
				b.WriteString("; " + w.Say(text))
			}
		}
		b.WriteString("\n")
	}
	for _, l := range j.Sound {
		if len(l.Says) == 0 {
			continue
		}
		place := w.Say("sound")
		if l.Place != "" {
			place += ", " + w.Term(l.Place)
		}
		fmt.Fprintf(&b, "  %s: %s", place, w.Say(string(l.Verdict)))
		for _, text := range l.Says {
			b.WriteString("; " + w.Say(text))
		}
		b.WriteString("\n")
	}
	for _, text := range j.Beside {
		fmt.Fprintf(&b, "  %s\n", w.Say(text))
	}
	if len(j.Findings) > 0 {
		fmt.Fprintf(&b, "\n%s\n", w.Say("What the readings point to, the most signs first"))
	}
	for _, f := range j.Findings {
		fmt.Fprintf(&b, "  %s %s\n", w.Say(f.Text), w.Say(f.Do))
		for _, s := range f.Signs {
			fmt.Fprintf(&b, "    - %s\n", w.Say(s))
		}
	}
	if len(j.Readings) > 0 {
		fmt.Fprintf(&b, "\n%s\n", w.Say("Readings"))
	}
	writeReadings(&b, w, j.Readings)
	return b.String()
}

// writeReadings writes readings against what was expected, those of several formats that are the same on one line.
func writeReadings(b *strings.Builder, w words.Words, readings []accept.Reading) {
	type line struct{ what, of, read, rest string }
	var lines []line
	at := map[line]int{}
	var formats [][]string
	for _, r := range readings {
		mark := "as expected"
		if r.Beyond {
			mark = "off"
		}
		kind := kindOf(r.What)
		l := line{w.Say(r.What), w.Term(r.At), w.Value(r.Read, kind, 3), w.Say("expected "+fmt.Sprintf("%10s", w.Value(r.Want, kind, 3))) + ": " + w.Say(mark)}
		k, known := at[l]
		if !known {
			k, at[l] = len(lines), len(lines)
			lines, formats = append(lines, l), append(formats, nil)
		}
		if r.Format != "" {
			formats[k] = append(formats[k], r.Format)
		}
	}
	wide := [2]int{}
	for i := range lines {
		lines[i].of = strings.TrimSpace(lines[i].of + " " + strings.Join(formats[i], ", "))
		wide[0], wide[1] = max(wide[0], utf8.RuneCountInString(lines[i].what)), max(wide[1], min(utf8.RuneCountInString(lines[i].of), 60))
	}
	for _, l := range lines {
		fmt.Fprintf(b, "  %-*s  %-*s  %10s, %s\n", wide[0], l.what, wide[1], l.of, l.read, l.rest)
	}
}

// stillNeeded says how many more measurements would do, where there are not enough; "" where there are.
func stillNeeded(x accept.Judged) string {
	if x.Verdict != accept.NotEnough || x.More <= 0 {
		return ""
	}
	weighed := x.Quantity == "water" || x.Quantity == "mass"
	switch {
	case weighed && x.Containers > 0 && x.More == 1:
		return "one more weighing like these would do"
	case weighed && x.Containers > 0:
		return fmt.Sprintf("%d more weighings like these would do", x.More)
	case weighed:
		return fmt.Sprintf("%d weighings would do", x.More)
	case x.Containers > 0 && x.More == 1:
		return "one more container, not failing, would do"
	case x.Containers > 0:
		return fmt.Sprintf("%d more containers, none of them failing, would do", x.More)
	}
	return fmt.Sprintf("%d containers, none of them failing, would do", x.More)
}

// confidence writes a confidence; nothing is ever quite sure.
func confidence(c q.Ratio) string {
	const most = 0.999
	if c > most {
		return fmt.Sprintf("more than %.4g %%", 100*most)
	}
	if c < 1-most {
		return "less than 0.1 %"
	}
	return fmt.Sprintf("%.3g %%", 100*float64(c))
}

// certainty says how sure a verdict is, after a blank or a semicolon: of one that is reached, or of both that are not
// yet. It is "" where too little was measured to tell.
func certainty(x accept.Judged, asked q.Ratio) string {
	switch {
	case math.IsNaN(float64(sure(x))):
		return ""
	case x.Verdict != accept.NotEnough:
		return " at " + confidence(sure(x)) + " confidence"
	}
	return ";" + fmt.Sprintf("neither is sure: kept at %s, not kept at %s, and %s are asked for", confidence(x.Confidence), confidence(x.Doubt), confidence(asked))
}

// sure is the confidence in the verdict that was reached.
func sure(x accept.Judged) q.Ratio {
	if x.Verdict == accept.NotAccepted {
		return x.Doubt
	}
	return x.Confidence
}

func kindOf(what string) q.Kind {
	for _, k := range accept.Kinds() {
		if k.Name == what {
			return k.Unit
		}
	}
	return q.None
}

// judgementJSON is a judgement for programs. Values are SI; null is not known.
func judgementJSON(name string, j accept.Judgement, wrong error) map[string]any {
	promises := []any{}
	for _, x := range j.Promises {
		promises = append(promises, map[string]any{
			"format": x.Format, "zone": x.Zone, "machine": x.Machine, "quantity": x.Quantity, "limit": number(x.Limit), "verdict": x.Verdict,
			"confidence_pct": number(100 * float64(x.Confidence)), "doubt_pct": number(100 * float64(x.Doubt)), "containers": x.Containers, "failed": x.Failed,
			"mean": number(x.Mean), "upper": number(x.Upper), "more_containers": x.More, "text": strings.Join(x.Says, "; "),
		})
	}
	sound := []any{}
	for _, l := range j.Sound {
		sound = append(sound, map[string]any{
			"place": l.Place, "limit": number(l.Limit), "read": number(l.Read), "background": number(l.Background), "station": number(l.Station), "at_most": l.Bound,
			"verdict": l.Verdict, "text": strings.Join(l.Says, "; "),
		})
	}
	findings := []any{}
	for _, f := range j.Findings {
		findings = append(findings, map[string]any{"code": f.Code, "text": f.Text, "do": f.Do, "signs": f.Signs})
	}
	readings := []any{}
	for _, r := range j.Readings {
		readings = append(readings, map[string]any{"what": r.What, "at": r.At, "format": r.Format, "read": number(r.Read), "expected": number(r.Want), "ratio": number(r.Ratio), "off": r.Beyond})
	}
	problems := []string{}
	if wrong != nil {
		problems = strings.Split(wrong.Error(), "\n")
	}
	return map[string]any{
		"schema": "leste-accept-1", "job": name, "verdict": j.Verdict, "confidence_asked_pct": number(100 * float64(j.Terms.Confidence)),
		"promises": promises, "sound": sound, "beside": append([]string{}, j.Beside...), "findings": findings, "readings": readings, "problems": problems,
	}
}

// number is a number for JSON; what is not known or has no end is null.
func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}
