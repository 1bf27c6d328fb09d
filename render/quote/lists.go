package quote

import (
	"math"
	"strings"

	"leste/job"
	q "leste/quantity"
	"leste/render/sheets"
	"leste/station"
)

// Lists returns what belongs to the offer as tables: parts with cut lengths, electrical loads, utilities,
// what others supply, air schematic, settings, spares and upkeep. None holds a cost.
func Lists(in *Input) []sheets.List {
	out := []sheets.List{in.parts(), in.loads(), in.utilities(), in.others(), in.schematic(), in.setting(), in.upkeep()}
	kept := out[:0]
	for _, l := range out {
		if len(l.Rows) > 0 {
			kept = append(kept, l)
		}
	}
	return kept
}

// parts lists what is built: outlets, frames, blowers, filters, ducts and hoses with their cut lengths.
func (in *Input) parts() sheets.List {
	w, j := in.Words, in.Job
	l := sheets.List{Name: "parts", Title: w.T("list.parts"), Heads: []string{w.T("offer.item"), w.T("list.where"), w.T("offer.quantity"), w.T("list.length", in.lengthUnit()), w.T("list.bore", in.lengthUnit()), w.T("offer.part"), w.T("notes.text")}}
	add := func(item, where string, n float64, length, bore float64, part, note string) {
		row := []any{item, where, n, nil, nil, part, note}
		if length > 0 {
			row[3] = in.cut(length)
		}
		if bore > 0 {
			row[4] = in.cut(bore)
		}
		l.Rows = append(l.Rows, row)
	}
	for _, s := range j.Stations {
		for _, f := range s.Frames {
			add(w.T("list.frame")+" "+w.Found(f.Name), w.Found(s.Name), 1, 0, 0, "", "")
		}
		for _, o := range s.Outlets {
			note := ""
			switch o.Kind {
			case job.AirKnife:
				note = w.Term("slot gap") + " " + w.Value(float64(o.SlotGap.V), q.KindLength, 3)
			case job.NozzleManifold:
				n, _ := station.Nozzles(&o)
				note = w.T("drawing.nozzles", w.Number(float64(n), 3), w.Value(float64(o.Bore.V), q.KindLength, 3))
			}
			add(in.called(&o), w.Found(s.Name), 1, float64(o.Length.V), float64(o.PlenumBore.V), "", note)
		}
	}
	for _, b := range in.Result.Air.Blowers {
		part := ""
		for _, given := range j.AirSupply.Blowers {
			if given.Name == b.Name {
				part = given.Part
			}
		}
		if choices := in.Result.Air.Choices; part == "" && len(choices) > 0 && choices[0].Rejected == "" {
			part = choices[0].Part // the one that was chosen
		}
		add(in.blower(b.Name), "", 1, 0, 0, part, w.T("air.motor")+" "+w.Value(float64(b.Motor), q.KindPower, 3))
	}
	for _, x := range in.Loads {
		for _, d := range x.Devices {
			add(sentence(w.Say(d.Name)), in.blower(x.Blower), 1, 0, 0, "", w.Say(d.For))
		}
	}
	switch f := j.AirSupply.Filter; {
	case f != nil:
		add(w.T("list.filter"), "", float64(max(f.Count, 1)), 0, 0, "", f.Class)
	case len(in.Result.Air.Blowers) > 0:
		add(w.T("list.filter"), "", 1, 0, 0, "", w.T("list.assumed"))
	}
	if s := j.AirSupply.Silencer; s != nil {
		add(w.T("list.silencer"), "", 1, 0, float64(s.Bore.V), "", "")
	}
	for _, f := range in.fittings() {
		add(sentence(f.kind), f.where, f.count, f.length, f.bore, "", f.note)
	}
	for _, b := range in.Result.Air.Blowers {
		add(w.T("list.tap"), in.blower(b.Name), 1, 0, 0, "", in.inletPoint())
	}
	for _, o := range in.Result.Air.Outlets {
		add(w.T("list.tap"), w.Found(o.Name), 1, 0, 0, "", in.plenumPoint())
	}
	for _, p := range in.Offer.Positions {
		add(p.Name, w.T("offer.title"), p.Quantity, 0, 0, p.Part, p.Note)
	}
	return l
}

// called names an outlet with its kind, which names of a search tell by themselves in some languages.
func (in *Input) called(o *job.Outlet) string {
	kind, name := sentence(in.Words.Term(o.Kind)), in.Words.Found(o.Name)
	if name != o.Name && strings.HasPrefix(name, kind) {
		return name
	}
	return kind + " " + name
}

// inletPoint is what is measured before a blower, and plenumPoint at an outlet.
func (in *Input) inletPoint() string { return in.Words.T("list.pointfilter") }

func (in *Input) plenumPoint() string {
	return in.Words.T("setup.plenum") + ", " + in.Words.T("setup.deadend")
}

// round drops what lies below a thousandth.
func round(v float64) float64 { return q.Unsigned(math.Round(v*1e3) / 1e3) }

// loads is the electrical load and signal list.
func (in *Input) loads() sheets.List {
	w := in.Words
	l := sheets.List{Name: "electrical", Title: w.T("list.loads"), Heads: []string{w.T("air.blower"), w.T("air.motor") + " " + in.motorUnit(), w.T("list.class"), "V", "Hz", w.T("list.fullload") + " A", w.T("list.running") + " A", "cos φ", w.T("list.starter"), w.T("list.starts"), w.T("list.protection"), w.T("list.signals"), w.T("notes.text")}}
	for _, x := range in.Loads {
		said := func(texts []string) string {
			out := make([]string, len(texts))
			for i, text := range texts {
				out[i] = w.Say(text)
			}
			return strings.Join(out, "; ")
		}
		running := any(nil)
		if x.Running > 0 {
			running = q.Round(float64(x.Running), 3)
		}
		l.Rows = append(l.Rows, []any{w.Name(x.Blower), round(q.Round(as(q.KindPower, float64(x.Rated), in.motorUnit()), 3)), x.Class, round(float64(x.Voltage)), round(float64(x.Frequency)), q.Round(float64(x.FullLoad), 3), running, round(float64(x.PowerFactor)), w.Say(x.Starter), x.Starts, w.Say(x.Protection), said(x.Signals), strings.Join(in.sentences(x.Notes), " ")})
	}
	return l
}

func (in *Input) utilities() sheets.List {
	w := in.Words
	l := sheets.List{Name: "utilities", Title: w.T("list.utilities"), Heads: []string{w.T("offer.item"), w.T("notes.value"), w.T("notes.text")}}
	if grid := in.grid(); grid > 0 {
		l.Rows = append(l.Rows, []any{w.T("list.power") + " kW", q.Round(grid/1e3, 4), w.T("list.powernote")},
			[]any{w.T("list.heat") + " kW", q.Round(grid/1e3, 4), w.T("list.heatnote")})
	}
	if flow := float64(in.Result.Air.Flow); flow > 0 {
		l.Rows = append(l.Rows, []any{w.T("list.inlet") + " " + in.flowUnit(), q.Round(in.flow(flow/1.2), 4), w.InUnits(w.T("list.inletnote"))})
	}
	off, rate := 0.0, 0.0
	for _, f := range in.Result.Formats {
		if f.Pitch > 0 {
			rate = max(rate, float64(f.Speed)/float64(f.Pitch))
			b := &f.Balance
			gone := b.BlownOff + b.Mist + b.Dripped
			if f.End != nil { // what later stations blow off as well
				gone = max(gone, b.In+b.Condensed-b.Evaporated-f.End.Container.Likely)
			}
			off = max(off, gone*float64(f.Speed)/float64(f.Pitch))
		}
	}
	if off > 0 {
		l.Rows = append(l.Rows, []any{w.T("list.drain") + " " + in.drainUnit(), q.Round(in.drained(off), 4), w.T("list.drainnote")})
	}
	return l
}

func (in *Input) others() sheets.List {
	w := in.Words
	l := sheets.List{Name: "others supply", Title: w.T("others.title"), Heads: []string{w.T("offer.no"), w.T("offer.item")}}
	for i, text := range lines(w.T("others.list")) {
		l.Rows = append(l.Rows, []any{i + 1, text})
	}
	return l
}

// schematic lists the way of the air with its measuring points.
func (in *Input) schematic() sheets.List {
	w := in.Words
	l := sheets.List{Name: "air schematic", Title: w.T("list.schematic"), Heads: []string{w.T("list.from"), w.T("list.to"), w.T("list.by"), w.T("list.point")}}
	for _, b := range in.Result.Air.Blowers {
		l.Rows = append(l.Rows, []any{w.T("list.inletplace"), w.Name(b.Name), w.T("list.filter"), in.inletPoint()})
	}
	branches, _ := in.branches()
	for _, b := range branches {
		l.Rows = append(l.Rows, []any{w.Name(b.From), w.Name(b.To), w.Name(b.Name), ""})
	}
	for _, o := range in.Result.Air.Outlets {
		l.Rows = append(l.Rows, []any{w.Found(o.Name), w.T("list.container"), "", in.plenumPoint()})
	}
	return l
}

// setting lists the places of the outlets for each format.
func (in *Input) setting() sheets.List {
	w, mm := in.Words, in.lengthUnit()
	l := sheets.List{Name: "settings", Title: w.T("setup.settings"), Heads: []string{w.T("col.format"), w.T("drawing.station"), w.T("drawing.outlet"), "x " + mm, "y " + mm, "z " + mm, w.T("drawing.standoff") + " " + mm, w.T("drawing.tiltdeg")}}
	if in.Plan == nil {
		return l
	}
	for _, f := range in.Plan.Formats {
		for _, s := range f.Stations {
			for _, p := range s.Outlets {
				l.Rows = append(l.Rows, []any{f.Format.Name, w.Found(s.Name), w.Found(p.Name), in.tabled(p.Middle.X), in.tabled(p.Middle.Y), in.tabled(p.Middle.Z), in.tabled(p.StandOff), in.tilt(p)})
			}
		}
	}
	return l
}

func (in *Input) upkeep() sheets.List {
	w := in.Words
	l := sheets.List{Name: "upkeep", Title: w.T("list.upkeep"), Heads: []string{w.T("list.when"), w.T("list.work"), w.T("list.spare")}}
	for _, line := range lines(w.T("list.upkeeplist")) {
		row := []any{}
		for _, cell := range splitCells(line) {
			row = append(row, cell)
		}
		l.Rows = append(l.Rows, row)
	}
	return l
}
