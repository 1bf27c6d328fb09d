package quote

import (
	"math"
	"slices"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/render/chart"
	"leste/render/document"
	"leste/render/drawing"
	"leste/render/picture"
	"leste/render/scene"
	"leste/render/wallmap"
)

const figureWidth = 164.0

// drawn shows each station with its dimensions.
func (in *Input) drawn(d *document.Document) {
	s, ok := in.subject()
	if !ok {
		return
	}
	w := in.Words
	d.Add(document.Heading{Level: 1, Text: w.T("drawn.title")})
	if text := in.Texts["scope"]; text != "" {
		d.Add(document.Paragraph{Text: text})
	}
	for i, st := range s.Format.Stations {
		s.Scene = st
		if len(s.Format.Stations) > 1 {
			d.Add(document.Heading{Level: 2, Text: w.Found(st.Name)})
		}
		for _, v := range []struct {
			view scene.View
			key  string
		}{{scene.Plan, "drawing.plan"}, {scene.Along, "drawn.along"}, {scene.Across, "drawn.across"}} {
			f := s.Figure(v.view, figureWidth-4, 92, true)
			d.Add(document.Figure{Drawing: f, Caption: w.T("drawn.caption", w.T(v.key), w.Station(st.Name, i), s.Format.Format.Name, s.Units(), w.Number(f.Scale, 3))})
		}
	}
	d.Add(document.Paragraph{Text: w.T("drawn.sheets"), Tone: document.Muted})
}

// bands draws every requirement's band against its limit.
func (in *Input) bands() *drawing.Drawing {
	w := in.Words
	var bars []chart.Bar
	for _, f := range in.Result.Formats {
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				if !(x.Limit > 0) {
					continue
				}
				bars = append(bars, chart.Bar{
					Name: f.Name, Detail: w.Term(z.Name) + ", " + w.Name(x.Machine), Low: x.Value.Low / x.Limit, Likely: x.Value.Likely / x.Limit, High: x.Value.High / x.Limit,
					Text: tone(x.Verdict).Sign() + unit + w.Term(string(x.Verdict)), Colour: tone(x.Verdict).Colour(),
				})
			}
		}
	}
	if len(bars) == 0 {
		return nil
	}
	return chart.Bands("bands", figureWidth, bars, w.T("verdict.better"), w.T("verdict.limit"), func(v float64) string { return w.Number(v, 3) })
}

// manyFormats is from more than how many formats on papers show the moments of a pass for the one that decides alone,
// one map for each, and coarser models: a paper that nobody can send is no help.
const manyFormats = 4

// walls shows the water left on the unrolled wall, and the moments of a pass where they were kept.
func (in *Input) walls(d *document.Document) {
	w, r := in.Words, in.Result
	first := true
	style := wallmap.Style{Say: w.Term, Inches: in.inches()}
	add := func(f *leste.FormatResult, caption string) bool {
		p, err := wallmap.Plain(r, f, style)
		if err != nil {
			return false // no map was calculated, or it is broken: there is nothing to show
		}
		if first {
			d.Add(document.Heading{Level: 1, Text: w.T("walls.title")}, document.Paragraph{Text: w.T("walls.text")})
			first = false
		}
		d.Add(document.Figure{Drawing: in.fromPicture(p, f.Name, wallmap.Headroom), Caption: caption, Alt: caption})
		return true
	}
	decides, _ := leste.Deciding(r.Formats...)
	for i := range r.Formats {
		f := &r.Formats[i]
		caption := w.T("walls.caption", f.Name, w.Term(f.Case), w.Band(f.Container, q.KindMass))
		if f.Machine != "" {
			caption = w.T("walls.captionat", f.Name, w.Name(f.Machine), w.Term(f.Case), w.Band(f.Container, q.KindMass))
		}
		if !add(f, caption) {
			continue
		}
		if len(r.Formats) <= manyFormats || f == decides.Format {
			in.strip(d, f)
		}
		if e := f.End; e != nil && e.Map != nil && len(r.Formats) <= manyFormats {
			end := &leste.FormatResult{Name: f.Name, Case: f.Case, Machine: e.Machine, Container: e.Container, Zones: e.Zones, Map: e.Map}
			add(end, w.T("walls.captionat", f.Name, w.Name(e.Machine), w.Term(f.Case), w.Band(e.Container, q.KindMass)))
		}
	}
}

// Shown leaves out of a result what its papers do not show: the moments of a pass of formats that do not decide, where
// there are many. The result itself is not changed.
func Shown(r leste.Result) leste.Result {
	if len(r.Formats) <= manyFormats {
		return r
	}
	decides, ok := leste.Deciding(r.Formats...)
	formats := slices.Clone(r.Formats)
	for i := range formats {
		if !ok || &r.Formats[i] != decides.Format {
			formats[i].Strip = nil
		}
	}
	r.Formats = formats
	return r
}

// Many reports whether papers have so many formats that each is shown with less.
func (in *Input) Many() bool { return len(in.Result.Formats) > manyFormats }

// strip shows the moments of a pass side by side.
func (in *Input) strip(d *document.Document, f *leste.FormatResult) {
	frames, err := wallmap.NewFrames(in.Result, f)
	if err != nil {
		return // no moments were kept
	}
	p, caption := frames.Small(), in.Words.T("walls.strip", f.Name)
	for _, r := range frames.Rises() {
		caption += ". " + in.rise(r)
	}
	d.Add(document.Figure{Drawing: in.fromPicture(p, f.Name+" pass", 0), Caption: caption, Alt: in.Words.T("walls.strip", f.Name)})
}

// rise says where the water of a zone comes from that ends a pass with more than it began with.
func (in *Input) rise(r wallmap.Rise) string {
	w := in.Words
	column := w.Water().Column(q.KindMass, r.Before, r.After)
	before, after := column.Value(r.Before, 2), column.Value(r.After, 2)
	if len(r.From) == 0 {
		return w.T("walls.rises", w.Term(r.Zone), after, before)
	}
	from := make([]string, len(r.From))
	for i, zone := range r.From {
		from[i] = w.Term(zone)
	}
	return w.T("walls.risesfrom", w.Term(r.Zone), after, before, strings.Join(from, ", "))
}

// fromPicture turns a picture (y down) into a drawing (y up) without its empty top, in the words of the paper.
func (in *Input) fromPicture(p *picture.Picture, name string, top float64) *drawing.Drawing {
	d := &drawing.Drawing{Name: name, Width: p.Width, Height: p.Height - top}
	at := func(q picture.Point) drawing.Point { return drawing.Point{X: q.X, Y: p.Height - q.Y} }
	all := func(qs []picture.Point) []drawing.Point {
		out := make([]drawing.Point, len(qs))
		for i, q := range qs {
			out[i] = at(q)
		}
		return out
	}
	colour := func(c picture.Colour) drawing.Colour { return drawing.Colour{R: c.R, G: c.G, B: c.B} }
	for _, s := range p.Shapes {
		switch s := s.(type) {
		case picture.Area:
			region := drawing.Region{Layer: drawing.Chart, Fill: colour(s.Fill)}
			for _, ring := range s.Rings {
				region.Rings = append(region.Rings, straightened(all(ring)))
			}
			d.Paper = append(d.Paper, region)
		case picture.Line:
			d.Paper = append(d.Paper, drawing.Polyline{Layer: drawing.Chart, Points: all(s.Points), Closed: s.Closed, Styled: drawing.Drawn(colour(s.Colour), s.Width)})
		case picture.Text:
			align := map[picture.Anchor]drawing.Align{picture.Start: drawing.Left, picture.Middle: drawing.Middle, picture.End: drawing.Right}[s.Anchor]
			d.Paper = append(d.Paper, drawing.Text{Layer: drawing.Chart, At: at(s.At), String: in.Words.Term(s.Text), Size: s.Size, Face: s.Face, Align: align, Styled: drawing.Drawn(colour(s.Colour), 0)})
		}
	}
	return d
}

// straightened drops the points of a ring that lie between two others on an upright or level line: a map is full of
// them, and they only make a file larger.
func straightened(ring []drawing.Point) []drawing.Point {
	const same = 1e-9
	out := make([]drawing.Point, 0, len(ring))
	for _, p := range ring {
		for n := len(out); n >= 2; n = len(out) {
			a, b := out[n-2], out[n-1]
			upright := math.Abs(a.X-b.X) < same && math.Abs(b.X-p.X) < same && (b.Y-a.Y)*(p.Y-b.Y) >= 0
			level := math.Abs(a.Y-b.Y) < same && math.Abs(b.Y-p.Y) < same && (b.X-a.X)*(p.X-b.X) >= 0
			if !upright && !level {
				break
			}
			out = out[:n-1]
		}
		out = append(out, p)
	}
	return out
}
