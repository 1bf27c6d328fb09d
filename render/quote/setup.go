package quote

import (
	"math"
	"regexp"

	"leste/job"
	q "leste/quantity"
	"leste/render/document"
	"leste/render/scene"
)

// SetUp returns the technician's sheet: safety first, then what to set, in order, and how to know it is right.
func SetUp(in *Input) *document.Document {
	w := in.Words
	d := in.base(w.T("setup.kind"))
	d.Add(document.Heading{Level: 1, Text: w.T("setup.safety")}, document.List{Items: lines(w.T("setup.safetylist")), Boxes: true})
	d.Add(document.Heading{Level: 1, Text: w.T("setup.order")}, document.List{Items: lines(w.T("setup.orderlist")), Numbered: true})
	in.settings(d)
	in.readings(d)
	in.tolerances(d)
	d.Add(document.Heading{Level: 1, Text: w.T("setup.howto")})
	for _, key := range []string{"setup.gap", "setup.aim", "setup.pressure", "setup.direction"} {
		d.Add(document.Paragraph{Lead: w.T(key), Text: w.T(key + "text")})
	}
	d.Add(document.Heading{Level: 1, Text: w.T("setup.cleaning")}, document.List{Items: lines(w.T("setup.cleaninglist")), Boxes: true})
	d.Add(document.Heading{Level: 2, Text: w.T("setup.done")}, document.Form{Fields: []document.Field{
		{Name: w.T("form.date")}, {Name: w.T("form.by")}, {Name: w.T("form.remarks"), Rows: 3},
	}})
	return d
}

// settings tells each format's setting: on the scales of the frames, and as places and clearances.
func (in *Input) settings(d *document.Document) {
	w := in.Words
	d.Add(document.Heading{Level: 1, Text: w.T("setup.settings")})
	for i, s := range in.Job.Stations {
		for _, f := range s.Frames {
			t := document.Table{Caption: w.T("setup.frame", w.Found(f.Name), w.Station(s.Name, i)), Columns: []document.Column{
				{Head: w.T("col.format")}, {Head: w.Term("height"), Right: true}, {Head: w.Term("stand-off"), Right: true}, {Head: w.Term("tilt"), Right: true}, {Head: w.Term("aim"), Right: true},
			}, Note: axes(in, f)}
			for _, x := range f.Settings {
				t.Rows = append(t.Rows, document.Row(x.Format, in.signed(float64(x.Height.V), q.KindLength), in.signed(float64(x.StandOff.V), q.KindLength), in.signed(float64(x.Tilt.V), q.KindAngle), in.signed(float64(x.Aim.V), q.KindAngle)))
			}
			if len(t.Rows) > 0 {
				d.Add(t)
			}
		}
	}
	if in.Plan == nil {
		return
	}
	for i, f := range in.Plan.Formats {
		t := document.Table{Caption: w.T("setup.places", f.Format.Name, in.lengthUnit()), Columns: []document.Column{
			{Head: w.T("drawing.station")}, {Head: w.T("drawing.outlet")}, {Head: w.T("setup.x"), Right: true}, {Head: w.T("setup.height"), Right: true}, {Head: w.T("setup.centre"), Right: true}, {Head: w.T("drawing.standoff"), Right: true}, {Head: w.T("drawing.clearance"), Right: true}, {Head: w.T("drawing.tiltdeg"), Right: true},
		}}
		if i == len(in.Plan.Formats)-1 { // said once, under all
			t.Note = w.T("setup.placesnote")
		}
		for _, s := range f.Stations {
			for _, p := range s.Outlets {
				t.Rows = append(t.Rows, document.Row(w.Found(s.Name), w.Found(p.Name), in.place(p.Middle.X), in.place(p.Middle.Z), in.place(p.Middle.Y), in.place(p.StandOff), in.place(scene.Clearance(p, f.Body)), w.Fixed(in.tilt(p), 1)))
			}
		}
		d.Add(t)
	}
}

// axes tells the ranges of a frame's scales.
func axes(in *Input, f job.Frame) string {
	out := ""
	for _, a := range f.Axes {
		if out != "" {
			out += "; "
		}
		out += in.Words.T("setup.axis", in.Words.Term(a.Axis), minus(in.scale(a.Axis, a.Low)), minus(in.scale(a.Axis, a.High)), dash(in.scale(a.Axis, a.Step)))
	}
	return out
}

// scale writes an end or the division of a frame's scale, which a job gives as text in units of its own.
func (in *Input) scale(axis, written string) string {
	kind := q.KindLength
	if axis == "tilt" || axis == "aim" {
		kind = q.KindAngle
	}
	v, err := kind.Parse(written)
	if err != nil {
		return in.Words.Say(written)
	}
	return in.Words.Value(v, kind, 3)
}

// minus sets the signs of numbers as others of the sheet are, in brackets too.
func minus(s string) string { return hyphen.ReplaceAllString(s, "$1−$2") }

var hyphen = regexp.MustCompile(`(^|\()-(\d)`)

// signed writes a movement with its sign.
func (in *Input) signed(v float64, kind q.Kind) string {
	if v == 0 {
		within := *in
		within.Words.Units = in.oneSystem() // nothing is nothing in any units
		return within.set("", 0, kind)
	}
	sign := "+"
	if v < 0 {
		sign = "−"
	}
	return in.set(sign, math.Abs(v), kind)
}

// readings tells what the instruments should read.
func (in *Input) readings(d *document.Document) {
	w, r := in.Words, in.Result
	t := document.Table{Caption: w.T("setup.readings"), Columns: []document.Column{{Head: w.T("setup.instrument"), Weight: 2}, {Head: w.T("setup.where"), Weight: 2}, {Head: w.T("setup.expected"), Right: true}, {Head: w.T("setup.read"), Right: true}}}
	for _, o := range r.Air.Outlets {
		t.Rows = append(t.Rows, document.Row(w.T("setup.plenum"), w.Found(o.Name)+", "+w.T("setup.deadend"), w.Value(float64(o.Plenum), q.KindGauge, 3), ""))
	}
	for _, l := range in.Loads {
		if l.Running > 0 {
			t.Rows = append(t.Rows, document.Row(w.T("setup.current"), w.Name(l.Blower), w.Value(float64(l.Running), q.KindCurrent, 2), ""))
		}
	}
	for _, b := range r.Air.Blowers {
		t.Rows = append(t.Rows, document.Row(w.T("setup.discharge"), w.Name(b.Name), w.Value(float64(b.Discharge), q.KindTemperature, 3), ""))
	}
	if r.Sound.Assessed {
		t.Rows = append(t.Rows, document.Row(w.T("setup.sound"), w.T("setup.at1m"), w.Value(float64(r.Sound.At1m), q.KindSoundLevel, 3), ""))
	}
	for i, f := range r.Formats {
		t.Rows = append(t.Rows, document.Row(w.T("setup.speed"), f.Name, w.Value(float64(in.speed(i)), q.KindSpeed, 3), ""))
	}
	if len(t.Rows) > 0 {
		d.Add(document.Heading{Level: 1, Text: w.T("setup.readingstitle")}, t)
		if f := in.airWay(); f != nil {
			d.Add(document.Figure{Drawing: f, Caption: w.T("air.way")})
		}
	}
}

// tolerances tells how far each setting may be off.
func (in *Input) tolerances(d *document.Document) {
	w := in.Words
	if len(in.Tolerances) == 0 {
		return
	}
	t := document.Table{Caption: w.T("setup.tolerances"), Columns: []document.Column{{Head: w.T("setup.setting")}, {Head: w.T("drawing.outlet"), Weight: 2}, {Head: w.T("setup.set"), Right: true}, {Head: w.T("setup.may"), Right: true}}, Note: w.T("setup.tolerancenote")}
	if _, _, x, ok := in.deciding(); ok && x.Reserve < 1 {
		t.Note = w.T("setup.tolerancebroken")
	}
	for _, s := range in.Tolerances {
		t.Rows = append(t.Rows, document.Row(w.Term(s.What), in.outlets(s), w.Value(in.setTo(s), s.Kind, 3), in.move(in.asRead(s), true)))
	}
	d.Add(document.Heading{Level: 1, Text: w.T("setup.tolerancetitle")}, t)
}
