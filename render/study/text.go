package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"leste/design"
	q "leste/quantity"
	"leste/render/amount"
	"leste/render/text"
)

// Text writes a study for people.
func Text(s *design.Study, style text.Style) string {
	style = named(s, style)
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", s.Job)
	if s.Interrupted {
		b.WriteString(wrap("The search was interrupted: this is the best so far, and nothing of it has been confirmed.", style))
	}
	for _, r := range s.Reasons {
		b.WriteString(wrap(style.Say(r), style))
	}
	section(&b, "The best station of each concept", concepts(s, style))
	if m := s.Miss; m != nil {
		section(&b, "What stands in the way", missed(m, style))
	}
	if best := s.Best(); best != nil {
		section(&b, "What the assessment of "+best.Concept+" notes", noted(best, style))
		section(&b, "What it notes of the others, in brief", notedOthers(s, style))
		section(&b, "Settings of "+best.Concept+" for each format", settings(best, style))
		section(&b, against(best), departures(best, style))
		if l := s.Least; l != nil && l != best {
			section(&b, "Settings of the least change, "+l.Concept, settings(l, style))
			section(&b, against(l), departures(l, style))
		}
	}
	section(&b, "What more reserve costs (by the search, in proportion to what assessments find)", trade(s, style))
	section(&b, "What breaks it first", breaks(s, style))
	fmt.Fprintf(&b, "\nSeed %d, %d candidates judged. Levels of water are calculated and unproven until trials on this line are fitted.\n", s.Seed, s.Candidates)
	return b.String()
}

// named keeps the names of the job as they are in sentences, and power from the grid in kilowatts, as it is metered.
func named(s *design.Study, style text.Style) text.Style {
	style = style.Naming(s.Job)
	for i := range s.Found {
		style = style.Naming(q.KindPower.FormatDigits(float64(s.Found[i].Power), q.SI, 2)) // as sentences have it
		if r := s.Found[i].Result; r != nil {
			style = style.Of(r)
		}
		j := s.Found[i].Job
		if j == nil {
			continue
		}
		for k := range j.Formats {
			style = style.Naming(j.Formats[k].Name)
		}
		for k := range j.Next {
			style = style.Naming(j.Next[k].Name)
		}
		for _, st := range j.Stations {
			style = style.Naming(st.Name)
			for o := range st.Outlets {
				style = style.Naming(st.Outlets[o].Name)
			}
		}
	}
	return style
}

func section(b *strings.Builder, title, body string) {
	if body != "" {
		fmt.Fprintf(b, "\n%s\n%s", title, body)
	}
}

func concepts(s *design.Study, style text.Style) string {
	var rows [][]string
	var same []string // which concepts come out as the same outlets
	about := false
	plenum := columnOf(style, q.KindGauge, s.Found, func(f *design.Found) float64 { return float64(f.Pressure) })
	grid := columnOf(mains(style), q.KindPower, s.Found, func(f *design.Found) float64 { return float64(f.Power) })
	length := columnOf(style, q.KindLength, s.Found, func(f *design.Found) float64 { return float64(f.Length) })
	for i := range s.Found {
		f := &s.Found[i]
		verdict, level := string(f.Verdict), reserve(f.Reserve)
		if !f.Sure {
			verdict, level, about = "fails", "about "+reserve(f.Reserve), true
			if f.Works || f.May {
				verdict = "not assessed"
			}
		}
		row := []string{f.Concept, verdict, "", "", plenum(float64(f.Pressure)), level, length(float64(f.Length)), fmt.Sprint(f.Changeovers)}
		if f.Cost > 0 {
			row[2], row[3] = fmt.Sprintf("%.0f", f.Cost), grid(float64(f.Power))
		}
		rows = append(rows, row)
	}
	for i := range s.Found {
		if f := &s.Found[i]; len(f.Also) > 0 {
			quoted := make([]string, len(f.Also)) // names of concepts have commas in them
			for k, name := range f.Also {
				quoted[k] = strconv.Quote(name)
			}
			same = append(same, fmt.Sprintf("The same outlets as of %q: %s.", f.Concept, strings.Join(quoted, ", ")))
		}
	}
	out := text.Table(style, []string{"concept", "verdict", "a year", "grid", "plenum", "reserve", "length", "scales"}, rows)
	out += wrap("Verdict and reserve: what assess finds for the job file, in every case. Length: what the outlets take up along the line, with the bodies behind their lips. Scales: how many are set anew between two formats.", style)
	for _, line := range same {
		out += wrap(line, style)
	}
	if about {
		out += wrap("About: by the search alone, without a whole assessment, and so is a verdict beside it. Its coarse cells find most knives wetter than assess does, some by 70 %, so that one that fails may work by its job file; a search of its own may find one that costs far less.", style)
	}
	return out
}

// noted lists what an assessment says of a station beside its verdict.
func noted(f *design.Found, style text.Style) string {
	var b strings.Builder
	for _, r := range f.Remarks {
		b.WriteString(wrap(capitalised(remark(r.Text, style))+".", style))
	}
	return b.String()
}

// remark says a remark with the figures at its end apart: they are none of its names, which stay in any units.
func remark(text string, style text.Style) string {
	at := strings.LastIndex(text, " (")
	if at < 0 {
		return style.Say(text)
	}
	return style.Say(text[:at]) + " " + style.Say(text[at+1:])
}

// notedOthers says the same of the others that were assessed, in brief.
func notedOthers(s *design.Study, style text.Style) string {
	var b strings.Builder
	for i := 1; i < len(s.Found); i++ {
		f := &s.Found[i]
		var list []string
		for _, r := range f.Remarks {
			list = append(list, remark(r.Brief, style))
		}
		if len(list) > 0 {
			b.WriteString(wrap(capitalised(f.Concept)+": "+strings.Join(list, "; ")+".", style))
		}
	}
	return b.String()
}

// parts names the blower, and the hood where one is needed.
func parts(f *design.Found) string {
	var list []string
	if f.Blower != "" {
		list = append(list, "blower: "+f.Blower)
	}
	if h := hood(f); h != "" {
		list = append(list, "a hood that takes off "+h)
	}
	return strings.Join(list, "; ")
}

// columnOf is how the values of one column are written: all in one unit.
func columnOf[T any](style text.Style, kind q.Kind, list []T, value func(*T) float64) func(float64) string {
	values := make([]float64, len(list))
	for i := range list {
		values[i] = value(&list[i])
	}
	return style.Column(kind, values...)
}

// mains is the style of power from the grid, which is metered in kilowatts in any units.
func mains(style text.Style) text.Style {
	style.Units = q.SI
	return style
}

func hood(f *design.Found) string {
	if f.Hood <= 0 {
		return ""
	}
	return fmt.Sprintf("%.0f dB", float64(f.Hood))
}

func settings(f *design.Found, style text.Style) string {
	var rows [][]string
	var heights, lips []float64
	for _, s := range f.Settings {
		heights, lips = append(heights, float64(s.Height)), append(lips, float64(s.Clearance))
	}
	height, lip := style.Places(heights...), style.Places(lips...)
	for _, s := range f.Settings {
		changes := ""
		if s.Changes {
			changes = "set for each format"
		}
		rows = append(rows, []string{s.Format, s.Group, height(float64(s.Height)), lip(float64(s.Clearance)), changes})
	}
	out := text.Table(style, []string{"format", "outlets", "middle", "lip", ""}, rows)
	out += wrap("Middle: above the belt. Lip: from the line's centre; of outlets above or below, from the belt.", style)
	if p := parts(f); p != "" {
		out += wrap(capitalised(p)+".", style)
	}
	return out
}

func departures(f *design.Found, style text.Style) string {
	var rows [][]string
	for _, d := range f.Departures {
		name := d.Variable
		if d.Format != "" {
			name += ", " + d.Format
		}
		mark := ""
		if d.Departs {
			mark = "departs"
		}
		if f.Own {
			mark = ""
			if d.Value != d.Rule {
				mark = "changes"
			}
			rows = append(rows, []string{name, style.Say(d.Value), style.Say(d.Rule), mark})
			continue
		}
		rows = append(rows, []string{name, style.Say(d.Value), style.Say(d.Rule), mark, style.Say(d.RuleOf)})
	}
	if f.Own {
		return text.Table(style, []string{"what", "chosen", "drawn", ""}, rows)
	}
	return text.Table(style, []string{"what", "chosen", "rule", "", "the rule"}, rows)
}

// against is the head of the list of what was chosen.
func against(f *design.Found) string {
	if f.Own {
		return "Chosen against what the job draws"
	}
	return "Chosen against the rules of thumb"
}

func trade(s *design.Study, style text.Style) string {
	var rows [][]string
	plenum := columnOf(style, q.KindGauge, s.Front, func(p *design.Point) float64 { return float64(p.Plenum) })
	grid := columnOf(mains(style), q.KindPower, s.Front, func(p *design.Point) float64 { return float64(p.Power) })
	for _, p := range s.Front {
		told := reserve(p.Reserve)
		if p.Reserve > design.Plenty {
			told = "over " + strconv.Itoa(int(design.Plenty))
		}
		rows = append(rows, []string{told, fmt.Sprintf("%.0f", p.Cost), grid(float64(p.Power)), plenum(float64(p.Plenum)), p.Concept})
	}
	return text.Table(style, []string{"reserve", "cost a year", "grid", "plenum", "concept"}, rows)
}

func breaks(s *design.Study, style text.Style) string {
	var rows [][]string
	const most = 10
	for _, b := range s.Breaks {
		if len(rows) == most || b.Free {
			break
		}
		rows = append(rows, []string{b.Input, way(b), q.Typeset(moved(b, style.Units)), b.Then})
	}
	return text.Table(style, []string{"input", "way", "may move by", "beyond that"}, rows)
}

func way(b design.Break) string {
	if b.More {
		return "more"
	}
	return "less"
}

func missed(m *design.Miss, style text.Style) string {
	var b strings.Builder
	line := "The closest station is " + m.Concept + ". What binds: " + m.Binds
	if m.Limit != "" {
		line += fmt.Sprintf("; %s is asked, %s stays", m.Limit, m.Value)
	}
	if m.Case != "" {
		line += " in the case " + m.Case
	}
	if !math.IsNaN(m.Over) {
		line += fmt.Sprintf(", %s times as much", amount.Figures(m.Over, q.Telling(1, 2, m.Over)))
	}
	b.WriteString(wrap(style.Say(line)+".", style))
	if m.Out != "" {
		b.WriteString(wrap(capitalised(style.Say(m.Out))+".", style))
	}
	var rows [][]string
	for _, r := range m.Changes {
		kind, alone := "not air", ""
		if r.IsAir {
			kind = "air"
		}
		if r.Alone {
			alone = "enough alone"
		}
		if len(r.Against) > 0 {
			alone = "but " + style.All(r.Against)
		}
		rows = append(rows, []string{style.Say(r.What), reserve(r.Left), kind, alone})
	}
	b.WriteString(text.Table(style, []string{"what would have to change", "water left", "", ""}, rows))
	return b.String()
}

func capitalised(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// wrap writes a paragraph with an indent.
func wrap(s string, style text.Style) string {
	width := style.Width
	if width <= 0 {
		width = 100
	}
	var b strings.Builder
	line := "  "
	for word := range strings.FieldsSeq(s) {
		if len(line)+1+len(word) > width && strings.TrimSpace(line) != "" {
			b.WriteString(line + "\n")
			line = "  "
		}
		if strings.TrimSpace(line) != "" {
			line += " "
		}
		line += word
	}
	return b.String() + line + "\n"
}

// reserve writes a reserve with two decimals, or as many as tell that it is below 1 and that it is something.
func reserve(x float64) string {
	const small = 0.1
	if x < small {
		return amount.Factor(x)
	}
	for n := 2; n < 9; n++ {
		if s := fmt.Sprintf("%.*f", n, x); x >= 1 || !strings.HasPrefix(s, "1") {
			return s
		}
	}
	return fmt.Sprint(x)
}
