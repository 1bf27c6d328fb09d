package quote

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	leste "leste"
	"leste/job"
	q "leste/quantity"
	"leste/render/document"
	"leste/render/scene"
	"leste/render/words"
)

// Quotation returns the customer's paper.
func Quotation(in *Input) *document.Document {
	w := in.Words
	kind := w.T("quote.budget")
	if in.Offer.Kind == "firm" {
		kind = w.T("quote.firm")
	}
	d := in.base(kind)
	d.Cover = in.cover()
	d.Add(document.Contents{})
	in.asked(d)
	in.promise(d)
	in.drawn(d)
	in.verdicts(d)
	in.walls(d)
	in.standing(d)
	in.air(d)
	in.money(d)
	in.position(d)
	in.assumed(d)
	in.notes(d)
	in.cautions(d)
	return d
}

// cover is the answer on one page.
func (in *Input) cover() *document.Cover {
	w, r := in.Words, in.Result
	c := &document.Cover{For: in.Offer.For, Tone: tone(r.Verdict), Verdict: sentence(w.Term(string(r.Verdict)))}
	f, z, x, ok := in.deciding()
	if ok {
		value, limit := in.against(x)
		c.Answer = w.T("cover."+string(x.Verdict), f.Name, w.Term("asked "+x.Quantity), w.Term(z.Name), w.Name(x.Machine), value, limit)
		c.Points = append(c.Points, document.Point{Value: w.Reserve(x.Reserve), Words: w.T("cover.reserve"), Tone: tone(x.Verdict)})
	} else {
		c.Verdict, c.Tone = "", document.Info
		c.Answer = w.T("cover.none")
	}
	before, after := in.unmet(x)
	c.Answer = strings.Join(slices.Concat(before, []string{c.Answer}, after), "\n")
	if len(r.Stops) > 0 {
		c.Answer = w.T("cover.stop") + " " + w.Say(r.Stops[0])
	}
	if grid := in.grid(); grid > 0 {
		value, unit := cut(in.mains(grid, 2))
		c.Points = append(c.Points, document.Point{Value: value, Unit: unit, Words: w.T("cover.grid")})
	}
	if ratio := r.Cost.PowerRatio; !math.IsNaN(ratio) && ratio > 0 && r.Cost.BlowerEnergy == 0 {
		c.Points = append(c.Points, document.Point{Value: w.Number(100*ratio, 2), Unit: "%", Words: w.T("cover.ratio")})
	}
	if r.Cost.Cost > 0 {
		c.Points = append(c.Points, document.Point{Value: w.Fixed(r.Cost.Cost, 0), Unit: r.Cost.Currency, Words: w.T("cover.year", in.yearHolds())})
	}
	o := in.Offer
	c.Facts = append(c.Facts, document.Pair{Name: w.T("cover.date"), Value: w.Date(o.Date)})
	if !o.ValidUntil.IsZero() {
		c.Facts = append(c.Facts, document.Pair{Name: w.T("cover.valid"), Value: w.Date(o.ValidUntil)})
	}
	c.Facts = append(c.Facts, document.Pair{Name: w.T("cover.formats"), Value: w.Number(float64(len(r.Formats)), 3)},
		document.Pair{Name: w.T("cover.evidence"), Value: w.Term(string(r.Evidence))})
	if total := o.Net(); total > 0 {
		c.Facts = append(c.Facts, document.Pair{Name: w.T("cover.price"), Value: w.Money(total, o.Currency)})
	}
	if s, ok := in.subject(); ok {
		c.Figure = &document.Figure{Drawing: s.Figure(scene.Plan, 160, 84, false)}
	}
	return c
}

// reflow joins the lines of a paragraph that the job file broke; empty lines stay.
func reflow(s string) string {
	var out []string
	for paragraph := range strings.SplitSeq(strings.TrimSpace(s), "\n\n") {
		out = append(out, strings.Join(strings.Fields(paragraph), " "))
	}
	return strings.Join(out, "\n")
}

// sentence starts a text with a capital letter.
func sentence(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+utf8.RuneLen(r):]
	}
	return s
}

// worstFirst orders cases by their reserve.
func worstFirst(cases []leste.CaseResult) []leste.CaseResult {
	out := slices.Clone(cases)
	slices.SortStableFunc(out, func(a, b leste.CaseResult) int { return cmp.Compare(a.Reserve, b.Reserve) })
	return out
}

// drop writes the band of a drop's diameter in millimetres.
func (in *Input) drop(b q.Band) string {
	w := in.Words
	mm := func(v float64) string { return w.Number(v*1e3, 2) }
	if w.Units == words.US {
		return w.Band(b, q.KindLength)
	}
	return mm(b.Likely) + unit + "(" + mm(b.Low) + unit + w.T("number.to") + unit + mm(b.High) + ")" + unit + "mm"
}

// cut parts a quantity into number and unit.
func cut(s string) (number, rest string) {
	number, rest, _ = strings.Cut(s, unit)
	return number, rest
}

func (in *Input) grid() float64 {
	sum := 0.0
	for _, b := range in.Result.Air.Blowers {
		sum += float64(b.Grid)
	}
	return sum
}

// subject is the station drawn on the cover: the first of the format that decides.
func (in *Input) subject() (scene.Subject, bool) {
	if in.Plan == nil {
		return scene.Subject{}, false
	}
	name := ""
	if f, _, _, ok := in.deciding(); ok {
		name = f.Name
	}
	for _, f := range in.Plan.Formats {
		if (f.Format.Name == name || name == "") && len(f.Stations) > 0 {
			return scene.Subject{Job: in.Job, Format: f, Scene: f.Stations[0], Words: in.Words}, true
		}
	}
	return scene.Subject{}, false
}

// asked tells what the offer answers: the line, what arrives, what is required.
func (in *Input) asked(d *document.Document) {
	w, j := in.Words, in.Job
	d.Add(document.Heading{Level: 1, Text: w.T("asked.title")})
	if text := in.Texts["intro"]; text != "" {
		d.Add(document.Paragraph{Text: text})
	}
	if j.Notes != "" {
		d.Add(document.Paragraph{Lead: w.T("asked.notes"), Text: reflow(j.Notes)})
	}
	facts := document.Facts{Pairs: []document.Pair{
		{Name: w.T("asked.altitude"), Value: w.Value(float64(j.Site.Altitude.V), q.KindLength, 3)},
		{Name: w.T("asked.summer"), Value: w.Value(float64(j.Site.Summer.Temperature.V), q.KindTemperature, 3) + ", " + w.Percent(float64(j.Site.Summer.Humidity.V))},
		{Name: w.T("asked.winter"), Value: w.Value(float64(j.Site.Winter.Temperature.V), q.KindTemperature, 3) + ", " + w.Percent(float64(j.Site.Winter.Humidity.V))},
		{Name: w.T("asked.mains"), Value: w.Value(float64(j.Site.Voltage.V), q.KindVoltage, 3) + ", " + w.Value(float64(j.Site.Frequency.V), q.KindFrequency, 3)},
	}}
	if len(in.Result.Formats) > 0 {
		facts.Pairs = append(facts.Pairs,
			document.Pair{Name: w.T("asked.from"), Value: w.Term(j.Arrives.From)},
			document.Pair{Name: w.T("asked.water"), Value: w.Water().Value(float64(j.Arrives.Water.V), q.KindAreaMass, 2)},
			document.Pair{Name: w.T("asked.since"), Value: w.Value(float64(j.Arrives.Since.V), q.KindDuration, 2)},
			document.Pair{Name: w.T("asked.watertemp"), Value: w.Value(float64(j.Arrives.Temperature.V), q.KindTemperature, 3)},
			document.Pair{Name: w.T("asked.surge"), Value: w.Number(float64(j.Line.Surge.V), 3)},
			document.Pair{Name: w.T("asked.belt"), Value: w.Term(j.Line.Belt.State)},
		)
	}
	d.Add(facts)
	if len(in.Result.Formats) == 0 {
		return
	}
	if w.Units != words.SI {
		d.Add(document.Paragraph{Text: w.T("asked.grams")})
	}
	t := document.Table{Caption: w.T("asked.formats"), Columns: []document.Column{
		{Head: w.T("col.format")}, {Head: w.T("col.speed"), Right: true}, {Head: w.T("col.pitch"), Right: true}, {Head: w.T("col.size"), Right: true}, {Head: w.T("col.mass"), Right: true}, {Head: w.T("col.content")},
	}}
	var weights []float64
	if in.Plan != nil {
		for _, p := range in.Plan.Formats {
			if p.Body != nil {
				weights = append(weights, float64(p.Body.Mass))
			}
		}
	}
	masses := w.Column(q.KindMass, weights...)
	for i, f := range in.Result.Formats {
		row := document.Row(f.Name, w.Value(float64(in.speed(i)), q.KindSpeed, 3), w.Value(float64(f.Pitch), q.KindLength, 3), "–", "–", "")
		if in.Plan != nil && i < len(in.Plan.Formats) {
			p := in.Plan.Formats[i]
			if b := p.Body; b != nil {
				row[3].Text = in.size(b.Width, b.Height)
				row[4].Text = masses.Value(float64(b.Mass), 3)
			}
			row[5].Text = w.Term(p.Format.Content)
		}
		t.Rows = append(t.Rows, row)
	}
	d.Add(t)
	in.requirements(d)
}

// size is a width by a height [m]. Makers give both in millimetres; in US units alone they are inches.
func (in *Input) size(width, height float64) string {
	w := in.Words
	if w.Units == words.US {
		return w.Value(width, q.KindLength, 3) + unit + "×" + unit + w.Value(height, q.KindLength, 3)
	}
	return w.Number(width*1e3, 3) + unit + "×" + unit + w.Number(height*1e3, 4) + unit + "mm"
}

// requirements tells what the next machines tolerate.
func (in *Input) requirements(d *document.Document) {
	w := in.Words
	t := document.Table{Caption: w.T("asked.required"), Columns: []document.Column{
		{Head: w.T("col.machine")}, {Head: w.T("col.zone")}, {Head: w.T("col.quantity")}, {Head: w.T("col.limit"), Right: true},
	}}
	seen := map[string]bool{}
	limits := map[string][]float64{}
	for _, x := range in.required() {
		limits[x.Quantity] = append(limits[x.Quantity], x.Limit)
	}
	for _, f := range in.Result.Formats {
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				limit := in.limit(x)
				if x.Quantity != "rejects" {
					limit = in.column(x.Quantity, limits[x.Quantity]...).Value(x.Limit, 3)
				}
				row := document.Row(w.Name(x.Machine), w.Term(z.Name), w.Term("asked "+x.Quantity), limit)
				key := fmt.Sprint(row)
				if !seen[key] {
					seen[key] = true
					t.Rows = append(t.Rows, row)
				}
			}
		}
	}
	if len(t.Rows) > 0 {
		t.Note = in.bySearch()
		d.Add(t)
	}
}

// bySearch names the machines of which a limit is one that a search allowed, as it stands among what was asked otherwise.
func (in *Input) bySearch() string {
	var names []string
	for i := range in.Job.Next {
		n := &in.Job.Next[i]
		name := n.Name
		if name == "" {
			name = n.Machine
		}
		searched := func(r job.Requirement) bool { return r.Search }
		if slices.ContainsFunc(n.Requires, searched) && !slices.Contains(names, in.Words.Name(name)) {
			names = append(names, in.Words.Name(name))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return in.Words.T("asked.bysearch", strings.Join(names, ", "))
}

// required lists the requirements of all formats.
func (in *Input) required() []leste.RequirementResult {
	var out []leste.RequirementResult
	for _, f := range in.Result.Formats {
		for _, z := range f.Zones {
			out = append(out, z.Requirements...)
		}
	}
	return out
}

// verdicts tells, for each format and zone, what comes out against what is tolerated.
func (in *Input) verdicts(d *document.Document) {
	w, r := in.Words, in.Result
	if len(r.Formats) == 0 {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("verdict.title")})
	if r.Evidence == leste.Calculated {
		d.Add(document.Panel{Tone: document.Info, Title: w.T("verdict.evidence"), Text: w.T("verdict.unproven")})
	}
	if f := in.bands(); f != nil {
		d.Add(document.Figure{Drawing: f, Caption: w.T("verdict.bands")})
	}
	noted := false
	for _, looked := range []struct{ head, caption string }{{"col.left", "verdict.table"}, {"col.drop", "verdict.tabledrop"}, {"col.rejects", "verdict.tablerejects"}} {
		if t := in.verdictsOn(looked.head); len(t.Rows) > 0 {
			t.Caption = w.T(looked.caption)
			if noted { // said once
				t.Note = ""
			}
			noted = true
			d.Add(t)
		}
	}
	in.helps(d)
	for _, f := range r.Formats {
		in.zones(d, f)
	}
	in.cases(d)
}

// lookedAt is the heading under which a requirement's quantity stands.
func lookedAt(quantity string) string {
	switch quantity {
	case "rejects":
		return "col.rejects"
	case "drop":
		return "col.drop"
	}
	return "col.left"
}

// verdictsOn is the table of the requirements whose quantity stands under a heading: shares of rejects are no water.
func (in *Input) verdictsOn(head string) document.Table {
	w := in.Words
	t := document.Table{Columns: []document.Column{
		{Head: w.T("col.format")}, {Head: w.T("col.machine")}, {Head: w.T("col.zone")}, {Head: w.T(head), Right: true}, {Head: w.T("col.limit"), Right: true}, {Head: w.T("col.reserve"), Right: true}, {Head: w.T("col.verdict")}, {Head: w.T("col.case")},
	}, Note: w.T("verdict.bandnote")}
	judged := map[string][]float64{}
	for _, x := range in.required() {
		if lookedAt(x.Quantity) == head {
			judged[x.Quantity] = append(judged[x.Quantity], x.Value.Likely, x.Limit)
		}
	}
	for _, f := range in.Result.Formats {
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				if lookedAt(x.Quantity) != head {
					continue
				}
				value, limit := in.against(x)
				if x.Quantity != "rejects" {
					value, limit = in.column(x.Quantity, judged[x.Quantity]...).Against(x.Value, x.Limit)
				}
				t.Rows = append(t.Rows, []document.Cell{
					{Text: f.Name},
					{Text: w.Name(x.Machine)},
					{Text: w.Term(z.Name)},
					{Text: value},
					{Text: limit},
					{Text: w.Reserve(x.Reserve)},
					{Text: w.Term(string(x.Verdict)), Tone: tone(x.Verdict)},
					{Text: w.Term(x.Case)},
				})
			}
		}
	}
	return t
}

func (in *Input) zones(d *document.Document, f leste.FormatResult) {
	w := in.Words
	d.Add(document.Heading{Level: 2, Text: f.Name})
	if f.Why != "" {
		d.Add(document.Paragraph{Text: sentence(w.Say(f.Why)) + "."})
	}
	caption := w.T("zones.table", f.Name, w.Term(f.Case))
	if f.Machine != "" {
		caption = w.T("zones.tableat", f.Name, w.Name(f.Machine), w.Term(f.Case))
	}
	t := document.Table{Caption: caption, Columns: []document.Column{
		{Head: w.T("col.zone")}, {Head: w.T("col.left"), Right: true}, {Head: w.T("col.perarea"), Right: true}, {Head: w.T("col.drop"), Right: true}, {Head: w.T("col.cause")},
	}}
	left := bandsOf(w.Water(), q.KindMass, f.Zones, func(z *leste.ZoneResult) q.Band { return z.Left })
	perArea := bandsOf(w.Water(), q.KindAreaMass, f.Zones, func(z *leste.ZoneResult) q.Band { return z.PerArea })
	for _, z := range f.Zones {
		style := document.Plain
		if z.Name == "all" {
			style = document.Strong
		}
		cause := w.Term(z.Cause)
		if z.Where != "" {
			cause += ", " + w.Term(z.Where)
		}
		t.Rows = append(t.Rows, []document.Cell{
			{Text: w.Term(z.Name), Tone: style}, {Text: left.Band(z.Left)}, {Text: perArea.Band(z.PerArea)}, {Text: in.drop(z.Largest)}, {Text: cause},
		})
	}
	b := f.Balance
	weighed := w.Water().Column(q.KindMass, b.In, b.Left)
	mass := func(v float64) string { return weighed.Value(v, 2) }
	t.Note = w.T("zones.balance", mass(b.In), mass(b.Condensed), mass(b.Left), mass(b.BlownOff), mass(b.Mist), mass(b.Evaporated), mass(b.Dripped))
	d.Add(t)
}

// helps tells what would bring the requirement nearer.
func (in *Input) helps(d *document.Document) {
	if len(in.Result.Helps) == 0 {
		return
	}
	w := in.Words
	t := document.Table{Caption: w.T("helps.table"), Columns: []document.Column{{Head: w.T("helps.what"), Weight: 3}, {Head: w.T("helps.ratio"), Right: true}, {Head: w.T("helps.kind")}}}
	for _, h := range in.Result.Helps {
		kind := w.T("helps.other")
		if h.Air {
			kind = w.T("helps.air")
		}
		what := sentence(w.Say(h.What))
		if len(h.Against) > 0 {
			against := make([]string, len(h.Against))
			for i, text := range h.Against {
				against[i] = w.Say(text)
			}
			what += " " + sentence(w.T("helps.against", strings.Join(against, "; ")))
		}
		t.Rows = append(t.Rows, document.Row(what, "× "+w.Two(h.Ratio), kind))
	}
	d.Add(t)
}

// cases lists every case that was examined.
func (in *Input) cases(d *document.Document) {
	if len(in.Result.Cases) == 0 {
		return
	}
	w := in.Words
	t := document.Table{Caption: w.T("cases.table"), Columns: []document.Column{
		{Head: w.T("col.case")}, {Head: w.T("col.format")}, {Head: w.T("col.left"), Right: true}, {Head: w.T("col.reserve"), Right: true}, {Head: w.T("col.verdict")},
	}}
	var notes []string // each once, below the table on a line of its own
	left := bandsOf(w.Water(), q.KindMass, in.Result.Cases, func(c *leste.CaseResult) q.Band { return c.Left })
	for _, c := range worstFirst(in.Result.Cases) {
		name := w.Term(c.Name)
		var marks []int
		for _, note := range c.Notes {
			said := sentence(w.Say(note)) + "."
			at := slices.Index(notes, said)
			if at < 0 {
				at = len(notes)
				notes = append(notes, said)
			}
			marks = append(marks, at+1)
		}
		slices.Sort(marks)
		for _, mark := range marks {
			name += fmt.Sprintf(" (%d)", mark)
		}
		t.Rows = append(t.Rows, []document.Cell{
			{Text: name}, {Text: c.Format}, {Text: left.Band(c.Left)}, {Text: w.Reserve(c.Reserve)}, {Text: w.Term(string(c.Verdict)), Tone: tone(c.Verdict)},
		})
	}
	for i := range notes {
		notes[i] = fmt.Sprintf("(%d) %s", i+1, notes[i])
	}
	t.Note = strings.Join(notes, "\n")
	d.Add(t)
}

// speed is that of the line for a format as it was ordered, not that of the case which decides.
func (in *Input) speed(format int) q.Speed {
	if in.Plan != nil && format < len(in.Plan.Formats) {
		return in.Plan.Formats[format].Speed
	}
	return in.Result.Formats[format].Speed
}
