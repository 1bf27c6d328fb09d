package quote

import (
	"math"
	"strconv"
	"strings"

	"leste/accept"
	"leste/job"
	"leste/render/document"
	"leste/render/scene"
	"leste/station"
)

// promise tells what the promise rests on: the conditions with their computed limits, and the values nobody
// gave that matter most.
func (in *Input) promise(d *document.Document) {
	w := in.Words
	d.Add(document.Heading{Level: 1, Text: w.T("promise.title")})
	if stops := in.Result.Stops; len(stops) > 0 {
		d.Add(document.Panel{Tone: document.Bad, Title: strings.TrimSuffix(w.T("cover.stop"), ":"), Items: in.sentences(stops)})
	}
	f, _, x, ok := in.deciding()
	if !ok {
		d.Add(document.Paragraph{Text: w.T("promise.none")})
		in.ask(d)
		return
	}
	p := document.Panel{Tone: tone(in.Result.Verdict), Title: w.T("promise.holds")}
	if x.Reserve < 1 {
		p.Title = w.T("promise.broken")
		p.Text = w.T("promise.brokentext", f.Name)
	}
	if len(in.Result.Formats) > 1 && x.Reserve >= 1 {
		p.Text = w.T("promise.decides", f.Name)
	}
	for _, t := range in.Limits {
		p.Items = append(p.Items, sentence(in.condition(t)))
	}
	for _, t := range in.Tolerances {
		if text := in.within(t); text != "" {
			p.Items = append(p.Items, sentence(text))
		}
	}
	d.Add(p)
	in.ask(d)
}

// ask lists the questions whose answers would narrow the promise most.
func (in *Input) ask(d *document.Document) {
	if len(in.Result.Ask) == 0 {
		return
	}
	d.Add(document.Heading{Level: 2, Text: in.Words.T("promise.ask")}, document.List{Items: in.sentences(in.Result.Ask), Numbered: true})
}

// sentences says each text and starts it with a capital letter.
func (in *Input) sentences(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = sentence(in.Words.Say(t))
	}
	return out
}

// condition is a limit of the line as a sentence.
func (in *Input) condition(t accept.Tolerance) string {
	w := in.Words
	name := w.Term(t.What)
	switch {
	case t.What == accept.BeltSpeed:
		more := w.Percent(t.More)
		if t.MoreFree {
			return w.T("promise.speedfree", more)
		}
		return w.T("promise.speed", more)
	case t.Up && t.MoreFree:
		return w.T("promise.atmostfree", name, w.Value(t.Value+t.More, t.Kind, 2))
	case t.Up:
		return w.T("promise.atmost", name, w.Value(t.Value+t.More, t.Kind, 2))
	case t.LessFree:
		return w.T("promise.atleastfree", name, w.Value(t.Value-t.Less, t.Kind, 2))
	}
	return w.T("promise.atleast", name, w.Value(t.Value-t.Less, t.Kind, 3))
}

// within is the tolerance of a setting as a sentence; "" where nothing up to the reach matters.
func (in *Input) within(t accept.Tolerance) string {
	if (t.LessFree || math.IsNaN(t.Less)) && (t.MoreFree || math.IsNaN(t.More)) {
		return ""
	}
	t = in.asRead(t)
	return in.Words.T("promise.within", in.Words.Term(t.What), in.outlets(t), in.Words.Value(in.setTo(t), t.Kind, 3), in.move(t, false))
}

// setTo is what a setting stands at for the format that decides: frames move outlets from the place that the job
// gives them.
func (in *Input) setTo(t accept.Tolerance) float64 {
	p, ok := in.placed(t.At)
	switch {
	case !ok:
		return t.Value
	case t.What == accept.StandOff && !math.IsNaN(p.StandOff):
		return p.StandOff
	case t.What == accept.Height:
		return p.Middle.Z
	case t.What == accept.Tilt:
		return math.Copysign(scene.Tilt(p), t.Value)
	}
	return t.Value
}

// asRead is a tolerance in what an instrument on the lip shows: of an outlet that is aimed an inclinometer moves by less
// than the tilt that was set before.
func (in *Input) asRead(t accept.Tolerance) accept.Tolerance {
	p, ok := in.placed(t.At)
	if t.What != accept.Tilt || !ok {
		return t
	}
	now := scene.Tilt(p)
	t.Less, t.More = now-scene.TiltMoved(p, -t.Less), scene.TiltMoved(p, t.More)-now // what is not known stays so
	return t
}

// placed is an outlet as it stands for the format that decides.
func (in *Input) placed(name string) (station.Placed, bool) {
	s, ok := in.subject()
	if !ok {
		return station.Placed{}, false
	}
	for _, st := range s.Format.Stations {
		for _, p := range st.Outlets {
			if p.Name == name {
				return p, true
			}
		}
	}
	return station.Placed{}, false
}

// outlets names the outlets that a setting is for.
func (in *Input) outlets(t accept.Tolerance) string {
	names := []string{in.Words.Found(t.At)}
	for _, name := range t.Others {
		names = append(names, in.Words.Found(name))
	}
	return strings.Join(names, ", ")
}

// move writes a tolerance: "−3 / +8 mm". Free sides say "at least" when marked.
func (in *Input) move(t accept.Tolerance, marked bool) string {
	return in.shortly(t.Kind, func(number func(v float64) string) string {
		side := func(v float64, free bool, sign string) string {
			if math.IsNaN(v) {
				return "–"
			}
			out := number(v)
			if out != "0" { // nothing has no sign
				out = sign + out
			}
			if free && marked {
				out = ">" + unit + out
			}
			return out
		}
		return side(t.Less, t.LessFree, "−") + " / " + side(t.More, t.MoreFree, "+")
	})
}

// assumed lists every value nobody gave.
func (in *Input) assumed(d *document.Document) {
	w := in.Words
	if len(in.Result.Assumed) == 0 {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("assumed.title")}, document.Paragraph{Text: w.T("assumed.text")})
	t := document.Table{Caption: w.T("assumed.table"), Columns: []document.Column{
		{Head: w.T("assumed.what"), Weight: 6}, {Head: w.T("assumed.value"), Weight: 3}, {Head: w.T("assumed.range"), Weight: 2}, {Head: w.T("assumed.matters"), Right: true}, {Head: w.T("assumed.source"), Weight: 3},
	}}
	for _, a := range in.Result.Assumed {
		span, value := "–", in.assumption(a)
		if alike, ok := w.Alike(a.Value, a.Low, a.High); ok {
			value, span = alike[0], shared(alike[1], alike[2])
		} else if a.Low != "" || a.High != "" {
			span = strings.ReplaceAll(strings.ReplaceAll(in.span(a.Low, a.High), " ", unit), unit+"(", " (") // both units may part
		}
		matters := "–"
		if a.Matters > 0 {
			matters = "× " + w.Two(a.Matters)
		}
		t.Rows = append(t.Rows, document.Row(in.valueOf(a.Path), value, span, matters, w.Say(a.Source)))
	}
	d.Add(t)
}

// shared is a range of two quantities, with its unit once where both have the same.
func shared(low, high string) string {
	number, of, _ := strings.Cut(low, unit)
	if rest, same := strings.CutSuffix(high, unit+of); same && !strings.Contains(of, "(") {
		return number + unit + "…" + unit + rest + unit + of
	}
	return low + " … " + high
}

// span writes a range, with its unit once where both ends have the same.
func (in *Input) span(low, high string) string {
	number, unit, _ := strings.Cut(low, " ")
	if _, same, _ := strings.Cut(high, " "); same == unit && unit != "" {
		if said, known := in.Words.Said(number + " … " + high); known {
			return said
		}
	}
	return in.Words.Say(low) + " … " + in.Words.Say(high)
}

// assumption is the value itself. An end of a plenum is no end of a can, and the belt of a drive carries nothing.
func (in *Input) assumption(a job.Assumed) string {
	switch {
	case strings.HasSuffix(a.Path, "/feed") && a.Value == "end":
		return in.Words.Say("fed at one end")
	case strings.HasSuffix(a.Path, "/drive") && a.Value == "belt":
		return in.Words.Say("belt drive")
	}
	return in.Words.Say(a.Value)
}

// valueOf says what a value of the job file is, and whose it is: "Temperature of the product (500 mL)".
func (in *Input) valueOf(path string) string {
	parts := strings.Split(strings.Trim(path, "/"), "/")
	var place []string
	for i := 0; i < len(parts)-1; i++ {
		if name, ok := in.named(parts[:i+2]); ok {
			place = append(place, name)
			i++
			continue
		}
		place = append(place, in.Words.Term(strings.ReplaceAll(parts[i], "_", " ")))
	}
	what := in.Words.Say(strings.TrimSuffix(job.Doc(path), "."))
	if what == "" && strings.HasPrefix(path, "/outlets/") { // named, not counted
		what = in.Words.Say(strings.TrimSuffix(job.Doc("/stations/0/outlets/0/"+parts[len(parts)-1]), "."))
	}
	if what == "" {
		what = sentence(in.Words.Term(strings.ReplaceAll(parts[len(parts)-1], "_", " ")))
	}
	if len(place) == 0 {
		return what
	}
	return what + " (" + strings.Join(place, ", ") + ")"
}

// named finds the name of a thing that a path counts, or calls by its name: /formats/2, /stations/0/outlets/1,
// /outlets/left knife.
func (in *Input) named(parts []string) (string, bool) {
	list, which := parts[len(parts)-2], parts[len(parts)-1]
	i, err := strconv.Atoi(which)
	if err != nil {
		return in.Words.Found(which), list == "outlets" || list == "blowers"
	}
	above := 0
	if len(parts) > 3 {
		above, _ = strconv.Atoi(parts[len(parts)-3])
	}
	var names []string
	switch list {
	case "formats":
		for _, f := range in.Job.Formats {
			names = append(names, f.Name)
		}
	case "stations":
		for _, s := range in.Job.Stations {
			names = append(names, in.Words.Found(s.Name))
		}
	case "outlets":
		if above < len(in.Job.Stations) {
			for _, o := range in.Job.Stations[above].Outlets {
				names = append(names, in.Words.Found(o.Name))
			}
		}
	case "frames":
		if above < len(in.Job.Stations) {
			for _, f := range in.Job.Stations[above].Frames {
				names = append(names, in.Words.Found(f.Name))
			}
		}
	case "next":
		for _, m := range in.Job.Next {
			names = append(names, in.Words.Name(m.Name))
		}
	}
	if i >= 0 && i < len(names) && names[i] != "" {
		return names[i], true
	}
	list, number := strings.ReplaceAll(list, "_", " "), " "+strconv.Itoa(i+1)
	if in.Words.Has("term." + list) {
		return in.Words.T("term."+list) + number, true
	}
	return in.Words.Say(list + number), true // one of them, where the language has a word for one
}
