package quote

import (
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"leste/job"
	q "leste/quantity"
	"leste/render/document"
	"leste/render/words"
)

// Survey returns the blank sheet that an enquiry is taken down on. Its questions are the job file's own: the
// tags of the nouns, so that an answer has its place in the file.
func Survey(w words.Words, head document.Letterhead, date time.Time) *document.Document {
	in := &Input{Offer: Offer{Date: date}, Job: &job.Job{Name: w.T("survey.title")}, Words: w, Head: head}
	d := in.base(w.T("survey.kind"))
	d.Add(document.Paragraph{Text: w.T("survey.text")})
	var j job.Job
	for _, part := range []struct {
		key  string
		noun any
	}{
		{"survey.site", j.Site},
		{"survey.line", j.Line},
		{"survey.format", job.Format{}},
		{"survey.container", job.Container{}},
		{"survey.arrives", j.Arrives},
		{"survey.next", job.NextMachine{}},
		{"survey.station", job.Station{}},
		{"survey.outlet", job.Outlet{}},
	} {
		fields := questions(reflect.TypeOf(part.noun), w)
		if len(fields) == 0 {
			continue
		}
		d.Add(document.Heading{Level: 1, Text: w.T(part.key)}, document.Form{Fields: fields})
	}
	d.Add(document.Form{Fields: []document.Field{{Name: w.T("form.remarks"), Rows: 6}, {Name: w.T("form.date")}, {Name: w.T("form.by")}}})
	return d
}

// questions makes a field of each value of a noun: plain quantities, words and choices; nouns inside it have
// their own sheet.
func questions(t reflect.Type, w words.Words) []document.Field {
	var out []document.Field
	for i := range t.NumField() {
		f := t.Field(i)
		key := f.Tag.Get("key")
		if key == "" {
			continue
		}
		hint := ""
		switch {
		case f.Tag.Get("one") != "":
			var choices []string
			for choice := range strings.SplitSeq(f.Tag.Get("one"), "|") {
				choices = append(choices, w.Term(choice))
			}
			hint = strings.Join(choices, " / ")
		case f.Type.Kind() == reflect.String, f.Type.Kind() == reflect.Int, f.Type.Kind() == reflect.Bool:
		case strings.HasPrefix(f.Type.Name(), "Maybe["), f.Type.Kind() == reflect.Float64:
			hint = unitsOf(f.Type, w.Units)
		default:
			continue
		}
		const half = 48 // letters that stand in half a line
		name := w.Say(strings.TrimSuffix(f.Tag.Get("doc"), "."))
		out = append(out, document.Field{Name: name, Hint: hint, Wide: utf8.RuneCountInString(name+hint) > half})
	}
	return out
}

// unitsOf lists the units that a quantity is usually stated in, of the system that the sheet is for, or of both.
func unitsOf(t reflect.Type, units words.Units) string {
	if t.Kind() == reflect.Struct && t.NumField() > 0 {
		t = t.Field(0).Type
	}
	k := q.KindOf(reflect.Zero(t).Interface())
	switch k {
	case q.None:
		return ""
	case q.KindRatio:
		return "%"
	}
	var list []string
	for _, system := range []struct {
		of    q.System
		units words.Units
	}{{q.SI, words.SI}, {q.US, words.US}} {
		if units != words.Both && units != system.units {
			continue
		}
		for _, symbol := range k.Usual(system.of) {
			if !slices.Contains(list, symbol) {
				list = append(list, symbol)
			}
		}
	}
	written := q.Typeset(" " + strings.Join(list, ", "))
	return strings.TrimSpace(written)
}
