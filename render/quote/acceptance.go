package quote

import (
	"fmt"

	"leste/accept"
	"leste/physics/water"
	q "leste/quantity"
	"leste/render/document"
)

// Acceptance returns what is measured on site before the promise counts as kept, and the forms for it.
func Acceptance(in *Input) *document.Document {
	w := in.Words
	d := in.base(w.T("accept.kind"))
	d.Add(document.Heading{Level: 1, Text: w.T("accept.what")}, document.Paragraph{Text: w.T("accept.text")})
	d.Add(document.List{Items: lines(w.T("accept.steps")), Numbered: true})
	in.sizes(d)
	d.Add(document.Heading{Level: 1, Text: w.T("accept.file")}, document.Paragraph{Text: w.T("accept.filetext")})
	t := document.Table{Caption: w.T("accept.columns"), Columns: []document.Column{{Head: "what"}, {Head: w.T("accept.meaning"), Weight: 4}, {Head: "at"}, {Head: "state", Weight: 1.5}, {Head: w.T("accept.example"), Right: true}}}
	for _, k := range accept.Kinds() {
		states := ""
		for i, s := range k.States {
			if i > 0 {
				states += ", "
			}
			states += s
		}
		t.Rows = append(t.Rows, document.Row(k.Name, w.Term("measure "+k.Name), dash(k.At), dash(states), dash(w.Say(k.Example))))
	}
	d.Add(t)
	in.forms(d)
	return d
}

// sizes tells how many containers prove each requirement.
func (in *Input) sizes(d *document.Document) {
	w := in.Words
	t := document.Table{Caption: w.T("accept.sizes"), Columns: []document.Column{
		{Head: w.T("col.format")}, {Head: w.T("col.machine")}, {Head: w.T("col.zone")}, {Head: w.T("col.quantity")}, {Head: w.T("col.limit"), Right: true}, {Head: w.T("accept.none"), Right: true}, {Head: w.T("accept.one"), Right: true}, {Head: w.T("accept.two"), Right: true},
	}, Note: w.T("accept.sizesnote")}
	for _, f := range in.Result.Formats {
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				counts := []string{"10", "–", "–"}
				share := q.Ratio(0.01)
				if x.Quantity == "rejects" {
					share = q.Ratio(x.Limit)
				}
				if x.Quantity == "rejects" || x.Quantity == "drop" {
					for k := range counts {
						n, err := water.SampleSize(share, 0.95, k)
						if err != nil {
							counts[k] = "–"
							continue
						}
						counts[k] = w.Fixed(float64(n), 0)
					}
				}
				t.Rows = append(t.Rows, document.Row(f.Name, w.Name(x.Machine), w.Term(z.Name), w.Term("asked "+x.Quantity), in.limit(x), counts[0], counts[1], counts[2]))
			}
		}
	}
	if len(t.Rows) > 0 {
		d.Add(document.Heading{Level: 1, Text: w.T("accept.howmany")}, t, document.Paragraph{Lead: w.T("accept.tests"), Text: w.T("accept.teststext")})
	}
}

// forms are the blank sheets. They follow the text without a new page, so that no page is left nearly empty.
func (in *Input) forms(d *document.Document) {
	w := in.Words
	speed, degree := "m/s", "°C"
	if in.inches() {
		speed, degree = "ft/min", "°F"
	}
	d.Add(document.Heading{Level: 1, Text: w.T("accept.forms")}, document.Form{Fields: []document.Field{
		{Name: w.T("form.date")}, {Name: w.T("form.by")}, {Name: w.T("form.format")}, {Name: w.T("form.speed"), Hint: speed}, {Name: w.T("form.room"), Hint: degree + ", %"}, {Name: w.T("form.product"), Hint: degree},
	}})
	blank := func(caption string, rows int, heads ...string) document.Table {
		t := document.Table{Caption: caption, Tall: true}
		for _, h := range heads {
			t.Columns = append(t.Columns, document.Column{Head: h})
		}
		for i := range rows {
			row := make([]document.Cell, len(heads))
			row[0].Text = fmt.Sprint(i + 1)
			t.Rows = append(t.Rows, row)
		}
		return t
	}
	no := w.T("form.no")
	d.Add(blank(w.T("form.blot"), 10, no, w.T("col.zone"), w.T("form.onsheet"), w.T("form.drymass"), w.T("form.wetmass"), w.T("form.difference")))
	d.Add(blank(w.T("form.drops"), 8, no, w.T("col.zone"), w.T("form.largest", in.lengthUnit()), w.T("form.scale", in.lengthUnit()), w.T("form.photo")))
	d.Add(blank(w.T("form.rejects"), 6, no, w.T("col.machine"), w.T("form.state"), w.T("form.containers"), w.T("form.failed")))
	d.Add(in.readForm(blank), document.Form{Fields: []document.Field{{Name: w.T("form.remarks"), Rows: 4}, {Name: w.T("form.customer")}, {Name: w.T("form.supplier")}}})
}

// spare is how many rows of the form for readings stay free for others.
const spare = 2

// readForm is the form for readings, with what should be read written in.
func (in *Input) readForm(blank func(caption string, rows int, heads ...string) document.Table) document.Table {
	w, r := in.Words, in.Result
	var known [][3]string
	for _, o := range r.Air.Outlets {
		known = append(known, [3]string{w.T("setup.plenum"), w.Found(o.Name), w.Value(float64(o.Plenum), q.KindGauge, 3)})
	}
	for _, l := range in.Loads {
		if l.Running > 0 {
			known = append(known, [3]string{w.T("setup.current"), w.Term(l.Blower), w.Value(float64(l.Running), q.KindCurrent, 2)})
		}
	}
	for _, b := range r.Air.Blowers {
		known = append(known, [3]string{w.T("setup.discharge"), w.Term(b.Name), w.Value(float64(b.Discharge), q.KindTemperature, 3)}, [3]string{w.T("form.filter"), w.Term(b.Name), ""})
	}
	note := ""
	if r.Sound.Assessed {
		known = append(known, [3]string{w.T("form.soundon"), w.T("setup.at1m"), w.Value(float64(r.Sound.At1m), q.KindSoundLevel, 3)}, [3]string{w.T("form.soundoff"), w.T("setup.at1m"), ""})
		note = w.T("form.soundnote", w.Value(float64(r.Sound.Limit), q.KindSoundLevel, 3))
	}
	t := blank(w.T("form.readings"), max(8, len(known)+spare), w.T("form.no"), w.T("setup.instrument"), w.T("setup.where"), w.T("setup.expected"), w.T("setup.read"))
	t.Note = note
	for i, k := range known {
		for c, text := range k {
			t.Rows[i][c+1].Text = text
		}
	}
	return t
}
