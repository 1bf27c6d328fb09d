package quote

import (
	"math"
	"slices"
	"strings"

	leste "leste"
	"leste/cost"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/render/chart"
	"leste/render/document"
	"leste/render/drawing"
	"leste/render/words"
	"leste/station"
)

// standing tells whether the container keeps its place.
func (in *Input) standing(d *document.Document) {
	w := in.Words
	t := document.Table{Caption: w.T("standing.table"), Columns: []document.Column{
		{Head: w.T("col.format")}, {Head: w.T("standing.way")}, {Head: w.T("standing.factor"), Right: true}, {Head: w.T("col.case"), Weight: 1.5}, {Head: w.T("standing.needs"), Weight: 2},
	}, Note: w.T("standing.note", w.Number(station.Enough, 2))}
	if in.Many() {
		t.Note = w.T("standing.many", w.Number(station.Enough, 2)) + " " + t.Note
	}
	for _, f := range in.Result.Formats {
		for _, p := range f.Standing {
			if in.Many() && p.Factor >= station.Enough {
				continue
			}
			mark := document.Good
			if p.Factor < 1 {
				mark = document.Bad
			}
			needs := sentence(w.Say(p.Needs))
			if needs == "" {
				needs = "–"
			}
			t.Rows = append(t.Rows, []document.Cell{{Text: f.Name}, {Text: w.Term(p.Way)}, {Text: w.Reserve(p.Factor), Tone: mark}, {Text: w.Say(p.Case)}, {Text: needs}})
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("standing.title")}, document.Paragraph{Text: w.T("standing.text")}, t)
}

// air tells the duty of every outlet and blower.
func (in *Input) air(d *document.Document) {
	w, r := in.Words, in.Result
	if len(r.Air.Outlets) == 0 {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("air.title")}, document.Facts{Pairs: []document.Pair{
		{Name: w.T("air.flow"), Value: w.Value(float64(r.Air.Flow), q.KindMassFlow, 3)}, {Name: w.T("air.limits"), Value: dash(w.Say(r.Air.Limits))},
	}})
	t := document.Table{Caption: w.T("air.outlets"), Columns: []document.Column{
		{Head: w.T("drawing.outlet")}, {Head: w.T("air.plenum"), Right: true}, {Head: w.T("air.jet"), Right: true}, {Head: w.T("air.flow"), Right: true}, {Head: w.T("air.thrust"), Right: true}, {Head: w.T("air.uneven"), Right: true}, {Head: w.T("air.temperature"), Right: true},
	}, Note: w.T("air.note")}
	plenum := columnOf(w, q.KindGauge, r.Air.Outlets, func(o *leste.OutletResult) float64 { return float64(o.Plenum) })
	flow := columnOf(w, q.KindMassFlow, r.Air.Outlets, func(o *leste.OutletResult) float64 { return float64(o.Flow) })
	thrust := columnOf(w, q.KindForce, r.Air.Outlets, func(o *leste.OutletResult) float64 { return float64(o.Thrust) })
	for _, o := range r.Air.Outlets {
		t.Rows = append(t.Rows, document.Row(w.Found(o.Name), plenum.Value(float64(o.Plenum), 3), w.Value(float64(o.Jet), q.KindSpeed, 3), flow.Value(float64(o.Flow), 3),
			thrust.Value(float64(o.Thrust), 3), w.Percent(float64(o.NonUniformity)), w.Value(float64(o.Temperature), q.KindTemperature, 3)))
	}
	d.Add(t)
	if f := in.airWay(); f != nil {
		d.Add(document.Figure{Drawing: f, Caption: w.T("air.way")})
	}
	in.blowers(d)
	in.losses(d)
	in.worst(d)
	if s := r.Sound; s.Assessed {
		d.Add(document.Heading{Level: 2, Text: w.T("sound.title")}, document.Table{Caption: w.T("sound.table"), Columns: []document.Column{
			{Head: w.T("sound.power"), Right: true}, {Head: w.T("sound.at1m"), Right: true}, {Head: w.T("sound.band"), Right: true}, {Head: w.T("col.limit"), Right: true}, {Head: w.T("col.verdict")},
		}, Rows: [][]document.Cell{{
			{Text: w.Value(float64(s.Power), q.KindSoundLevel, 3)},
			{Text: w.Value(float64(s.At1m), q.KindSoundLevel, 3)},
			{Text: w.Number(float64(s.Low), 3) + unit + w.T("number.to") + unit + w.Value(float64(s.High), q.KindSoundLevel, 3)},
			{Text: w.Value(float64(s.Limit), q.KindSoundLevel, 3)},
			{Text: w.Term(string(s.Verdict)), Tone: tone(s.Verdict)},
		}}, Note: w.T("sound.note")})
	}
}

func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// blowers tells the operating point of each machine, with its figure.
func (in *Input) blowers(d *document.Document) {
	w, r := in.Words, in.Result
	if len(r.Air.Blowers) == 0 {
		d.Add(document.Paragraph{Text: w.T("air.measured")})
		return
	}
	t := document.Table{Caption: w.T("air.blowers"), Columns: []document.Column{
		{Head: w.T("air.blower")}, {Head: w.T("air.speed"), Right: true}, {Head: w.T("air.inlet"), Right: true}, {Head: w.T("air.rise"), Right: true}, {Head: w.T("air.shaft"), Right: true}, {Head: w.T("air.grid"), Right: true}, {Head: w.T("air.discharge"), Right: true}, {Head: w.T("air.motor"), Right: true}, {Head: w.T("air.reserve"), Right: true},
	}, Note: w.T("air.blowernote")}
	rise := columnOf(w, q.KindPressureDrop, r.Air.Blowers, func(b *leste.BlowerResult) float64 { return float64(b.Rise) })
	shaft := columnOf(w, q.KindPower, r.Air.Blowers, func(b *leste.BlowerResult) float64 { return float64(b.Shaft) })
	motor := columnOf(w, q.KindPower, r.Air.Blowers, func(b *leste.BlowerResult) float64 { return float64(b.Motor) })
	for _, b := range r.Air.Blowers {
		t.Rows = append(t.Rows, document.Row(w.Name(b.Name), w.Percent(b.SpeedRatio), w.Value(float64(b.Inlet), q.KindVolumeFlow, 3), rise.Value(float64(b.Rise), 3), shaft.Value(float64(b.Shaft), 3),
			in.mains(float64(b.Grid), 3), w.Value(float64(b.Discharge), q.KindTemperature, 3), motor.Value(float64(b.Motor), 3), w.Percent(float64(b.Reserve))))
	}
	d.Add(t)
	for _, c := range in.Blowers {
		if f := in.curve(c); f != nil {
			d.Add(document.Figure{Drawing: f, Caption: w.T("air.curve", sentence(w.Name(c.Name)))})
		}
	}
}

// curve draws a blower's curve with the system's and the operating points of the cases.
func (in *Input) curve(c BlowerCurve) *drawing.Drawing {
	if len(c.Curve) < 2 {
		return nil
	}
	w := in.Words
	points := func(list [][2]float64) (out []drawing.Point) {
		for _, p := range list {
			out = append(out, in.onChart(p[0], p[1]))
		}
		return out
	}
	maxX, maxY := 0.0, 0.0
	for _, p := range points(c.Curve) {
		maxX, maxY = max(maxX, p.X), max(maxY, p.Y)
	}
	spots := []chart.Spot{}
	for _, k := range c.Cases {
		spots = append(spots, chart.Spot{At: in.onChart(k.Flow, k.Rise), Colour: drawing.Slate})
	}
	spots = append(spots, chart.Spot{At: in.onChart(c.Operating[0], c.Operating[1]), Name: w.T("air.operating"), Colour: drawing.Clay})
	number := func(v float64) string { return w.Number(v, 4) }
	return chart.Curves(c.Name, figureWidth, 74, chart.Axis{
		Title: w.T("air.axisflow", in.flowUnit()), High: maxX * 1.06, Number: number, Second: in.second("air.axisflow", q.KindVolumeFlow, in.flowUnit(), "cfm"),
	}, chart.Axis{
		Title: w.T("air.axisrise", in.riseUnit()), High: maxY * 1.15, Number: number, Second: in.second("air.axisrise", q.KindPressureDrop, in.riseUnit(), "psi"),
	},
		[]chart.Series{{Name: w.T("air.blower"), Points: points(c.Curve), Colour: drawing.Sea}, {Name: w.T("air.system"), Points: points(c.System), Colour: drawing.Ochre, Dashed: true}}, spots)
}

// money tells what the station uses in a year, and compressed air doing the same.
func (in *Input) money(d *document.Document) {
	w, c := in.Words, in.Result.Cost
	if !(c.Energy > 0) {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("money.title")})
	t := document.Table{
		Caption: w.T("money.table"), Columns: []document.Column{{Head: ""}, {Head: w.T("money.energy"), Right: true}, {Head: w.T("money.cost"), Right: true}},
		Rows: [][]document.Cell{{{Text: w.T("money.station")}, {Text: w.Fixed(float64(c.Energy)/3.6e6, 0) + unit + "kWh"}, {Text: w.Money(c.Cost, c.Currency)}}},
	}
	switch {
	case c.BlowerEnergy > 0:
		t.Caption = w.T("money.tableinstead")
		t.Rows = append(t.Rows, []document.Cell{{Text: w.T("money.blower")}, {Text: w.Fixed(float64(c.BlowerEnergy)/3.6e6, 0) + unit + "kWh"}, {Text: w.Money(c.BlowerCost, c.Currency)}})
		if !math.IsNaN(c.PowerRatio) {
			t.Note = w.T("money.instead", w.Percent(c.PowerRatio), w.Percent(c.Band.Low), w.Percent(c.Band.High), w.Percent(float64(c.BlowerEnergy/c.Energy)))
		}
	case c.CompressedEnergy > 0 && !math.IsNaN(c.PowerRatio):
		t.Rows = append(t.Rows, []document.Cell{{Text: w.T("money.compressed")}, {Text: w.Fixed(float64(c.CompressedEnergy)/3.6e6, 0) + unit + "kWh"}, {Text: w.Money(c.CompressedCost, c.Currency)}})
		t.Note = w.T("money.ratio", w.Percent(c.PowerRatio), w.Percent(c.Band.Low), w.Percent(c.Band.High), w.Percent(float64(c.Energy/c.CompressedEnergy))) + " " + in.hoursCounted()
	}
	d.Add(t)
}

// hoursCounted says for which of the hours compressed air is counted beside the station.
func (in *Input) hoursCounted() string {
	w, c := in.Words, in.Job.Cost
	hours := w.Fixed(float64(c.Hours.V)/3600, 0)
	blows := w.Percent(1 - float64(c.IdleShare.V))
	if c.Idle == "run on" {
		return w.T("money.hours", hours, blows)
	}
	return w.T("money.hoursboth", hours, blows)
}

// position tells what is offered and for how much.
func (in *Input) position(d *document.Document) {
	w, o := in.Words, in.Offer
	if len(o.Positions) == 0 && len(o.Remarks) == 0 && o.Delivery == "" && o.Payment == "" && in.Texts["closing"] == "" {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("offer.title")})
	if len(o.Positions) > 0 {
		t := document.Table{Caption: w.T("offer.table"), Columns: []document.Column{
			{Head: w.T("offer.no"), Right: true}, {Head: w.T("offer.item"), Weight: 3}, {Head: w.T("offer.part")}, {Head: w.T("offer.quantity"), Right: true}, {Head: w.T("offer.price"), Right: true}, {Head: w.T("offer.sum"), Right: true},
		}}
		for i, p := range o.Positions {
			name := p.Name
			if p.Note != "" {
				name += "\n" + p.Note
			}
			t.Rows = append(t.Rows, document.Row(w.Number(float64(i+1), 3), name, dash(p.Part), strings.TrimSpace(w.Number(p.Quantity, 4)+unit+p.Unit), w.Fixed(p.Price, 2), w.Fixed(p.Sum, 2)))
		}
		line := func(key string, v float64, mark document.Tone) {
			t.Rows = append(t.Rows, []document.Cell{{}, {Text: w.T(key), Tone: mark}, {}, {}, {Text: o.Currency}, {Text: w.Fixed(v, 2), Tone: mark}})
		}
		if o.Discount > 0 {
			line("offer.total", o.Total(), document.Plain)
			line("offer.discount", -o.Total()*o.Discount, document.Plain)
		}
		line("offer.net", o.Net(), document.Strong)
		if o.Kind != "firm" {
			t.Note = w.T("offer.budgetnote")
		}
		d.Add(t)
	}
	facts := document.Facts{}
	if o.Delivery != "" {
		facts.Pairs = append(facts.Pairs, document.Pair{Name: w.T("offer.delivery"), Value: o.Delivery})
	}
	if o.Payment != "" {
		facts.Pairs = append(facts.Pairs, document.Pair{Name: w.T("offer.payment"), Value: o.Payment})
	}
	if len(facts.Pairs) > 0 {
		d.Add(facts)
	}
	if len(o.Remarks) > 0 {
		d.Add(document.List{Items: o.Remarks})
	}
	d.Add(document.Heading{Level: 2, Text: w.T("others.title")}, document.List{Items: lines(w.T("others.list"))})
	if text := in.Texts["closing"]; text != "" {
		d.Add(document.Paragraph{Text: text})
	}
}

// lines parts a text of the table of words at its bars.
func lines(s string) []string {
	parts := strings.Split(s, "|")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

// notes tells what the results say about their own validity, and the relations used with their sources.
func (in *Input) notes(d *document.Document) {
	w, r := in.Words, in.Result
	if len(r.Notes)+len(r.Relations) == 0 {
		return
	}
	d.Add(document.Heading{Level: 1, Text: w.T("notes.title")})
	if len(r.Notes) > 0 {
		t := document.Table{Caption: w.T("notes.table"), Columns: []document.Column{{Head: w.T("notes.kind")}, {Head: w.T("notes.text"), Weight: 4}, {Head: w.T("notes.value"), Right: true}, {Head: w.T("notes.limit"), Right: true}}}
		for _, n := range in.gathered(r.Notes) {
			t.Rows = append(t.Rows, []document.Cell{{Text: w.Term(string(n.Severity)), Tone: severity(n.Severity)}, {Text: n.Text}, {Text: noted(in, n.Value, n.Unit)}, {Text: noted(in, n.Limit, n.Unit)}})
		}
		d.Add(t)
	}
	if len(r.Relations) == 0 || in.Cards == nil {
		return
	}
	cited := w // a source is quoted in the units that it was written in
	cited.Units = words.SI
	t := document.Table{Caption: w.T("notes.relations"), Columns: []document.Column{{Head: w.T("notes.relation"), Weight: 2}, {Head: w.T("notes.source"), Weight: 4}}}
	for _, id := range r.Relations {
		card, err := in.Cards(id)
		if err != nil {
			continue
		}
		var sources []string
		for _, s := range card.Sources {
			s.Citation, s.Where = cited.Cite(s.Citation), cited.Say(s.Where)
			sources = append(sources, cited.Say(s.Text()))
		}
		t.Rows = append(t.Rows, document.Row(sentence(w.Say(card.Title)), strings.Join(slices.Compact(sources), "\n")))
	}
	d.Add(t)
}

func noted(in *Input, v float64, symbol string) string {
	if math.IsNaN(v) {
		return "–"
	}
	if kind, ok := sized[symbol]; ok {
		return in.Words.Value(v, kind, 3)
	}
	if symbol == "1" {
		symbol = ""
	}
	return strings.ReplaceAll(in.Words.Say(strings.TrimSuffix(q.Significant(v, 3)+" "+symbol, " ")), " ", unit)
}

// sized are the units of notes whose values reach over several sizes of unit.
var sized = map[string]q.Kind{"Pa": q.KindPressureDrop, "W": q.KindPower, "m": q.KindLength, "kg/s": q.KindMassFlow, "m3/s": q.KindVolumeFlow}

func severity(s relation.Severity) document.Tone {
	switch s {
	case relation.Stop:
		return document.Bad
	case relation.Outside:
		return document.Undecided
	case relation.Caution:
		return document.Strong
	}
	return document.Plain
}

// cautions tells what the user must look after. What applies to every station in any place stands in a panel of its own,
// and once.
func (in *Input) cautions(d *document.Document) {
	w := in.Words
	panel := document.Panel{Tone: document.Undecided, Title: w.T("cautions.local")}
	var local, rest []string
	for _, text := range in.Result.Cautions {
		if slices.Contains(everywhere, text) {
			local = append(local, text)
		} else {
			rest = append(rest, text)
		}
	}
	if panel.Items = in.sentences(local); len(local) == 0 { // a result that was kept before they were told
		panel.Text = w.T("cautions.localtext")
	}
	d.Add(document.Heading{Level: 1, Text: w.T("cautions.title")}, panel)
	if len(rest) > 0 {
		d.Add(document.List{Items: in.sentences(rest)})
	}
}

// everywhere are the cautions on what local codes and licensed persons decide.
var everywhere = func() []string {
	var out []string
	for _, c := range cost.Cautions(cost.Conditions{}) {
		if c.Topic == "estimate" || c.Topic == "licensed work" {
			out = append(out, c.Text)
		}
	}
	return out
}()
