package quote

import (
	"math"

	leste "leste"
	q "leste/quantity"
	"leste/render/document"
	"leste/render/words"
)

// columnOf is the column of what is told of each of a list.
func columnOf[T any](w words.Words, kind q.Kind, list []T, of func(*T) float64) words.Column {
	values := make([]float64, len(list))
	for i := range list {
		values[i] = of(&list[i])
	}
	return w.Column(kind, values...)
}

// bandsOf is columnOf for bands.
func bandsOf[T any](w words.Words, kind q.Kind, list []T, of func(*T) q.Band) words.Column {
	return columnOf(w, kind, list, func(t *T) float64 { return of(t).Likely })
}

// losses tells where the rise of each blower goes: along the way to the outlet that gets the least pressure, which sums
// to the rise, and then what lies beside that way.
func (in *Input) losses(d *document.Document) {
	w, air := in.Words, &in.Result.Air
	if len(air.Parts)+len(air.Ways) == 0 {
		return
	}
	t := document.Table{Caption: w.T("air.losses"), Columns: []document.Column{{Head: w.T("air.element"), Weight: 2}, {Head: w.T("air.loss"), Right: true}, {Head: w.T("air.share"), Right: true}}}
	loss := w.Column(q.KindPressureDrop, air.TableOfLosses()...)
	for _, way := range air.Ways {
		for _, p := range way.Parts {
			t.Rows = append(t.Rows, document.Row(in.part(p), loss.Value(float64(p.Loss), 3), w.Percent(float64(p.Share))))
		}
		t.Rows = append(t.Rows, []document.Cell{
			{Text: w.T("air.sum", in.blower(way.Blower)), Tone: document.Strong}, {Text: loss.Value(float64(way.Rise), 3), Tone: document.Strong}, {Text: w.Percent(1), Tone: document.Strong},
		})
	}
	for _, l := range air.Beside() {
		name := w.Name(l.Name)
		if len(air.Ways) > 0 {
			name = w.T("air.beside", name)
		}
		t.Rows = append(t.Rows, document.Row(name, loss.Value(float64(l.Loss), 3), w.Percent(float64(l.Share))))
	}
	if len(air.Ways) > 0 {
		t.Note = w.T("air.lossnote")
	}
	d.Add(t)
}

// part names a part of a way.
func (in *Input) part(p leste.WayPart) string {
	w := in.Words
	switch p.Kind {
	case leste.PartFilter:
		return w.T("list.filter")
	case leste.PartEntry:
		return w.T("air.entry")
	case leste.PartFlap:
		return w.T("air.flap")
	case leste.PartOutlet:
		return w.T("air.left", w.Found(p.Name))
	}
	return w.Name(p.Name)
}

// worst tells the case that is worst for each thing that the air supply must bear.
func (in *Input) worst(d *document.Document) {
	w := in.Words
	t := document.Table{Caption: w.T("air.worst"), Columns: []document.Column{{Head: w.T("air.worstof")}, {Head: w.T("col.case"), Weight: 2}, {Head: w.T("air.worstvalue"), Right: true}}}
	for _, x := range in.Result.Air.Worst {
		key, value := "", ""
		switch x.Criterion {
		case "motor":
			key, value = "air.worstmotor", w.T("air.ofrating", w.Percent(x.Value))
		case "drying":
			key, value = "air.worstdrying", w.T("air.ofthrust", w.Percent(x.Value))
		case "least flow":
			key, value = "air.worstleast", w.T("air.overleast", w.Percent(x.Value))
		case "heat":
			key, value = "air.worstheat", w.Value(x.Value, q.KindTemperature, 3)
		default:
			continue
		}
		if math.IsNaN(x.Value) {
			value = w.T("air.nopoint")
		}
		t.Rows = append(t.Rows, document.Row(w.T(key), w.Say(x.Case), value))
	}
	if len(t.Rows) > 0 {
		d.Add(t)
	}
}
