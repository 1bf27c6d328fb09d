package quote

import (
	"math"
	"strings"

	"leste/render/drawing"
	"leste/render/typeface"
)

// spot is one place of the air's way: its name, how far along it lies, and what is measured there.
type spot struct {
	name    string
	level   int
	measure string
	outlet  bool
}

// way lists the places of the air from the inlet to the outlets, and the pairs that are joined. Without
// branches of its own every outlet hangs on the first blower.
func (in *Input) way() (spots []spot, joins [][2]int) {
	w, r := in.Words, in.Result
	at := map[string]int{}
	add := func(s spot) int {
		if i, ok := at[s.name]; ok {
			return i
		}
		spots = append(spots, s)
		at[s.name] = len(spots) - 1
		return len(spots) - 1
	}
	for _, b := range r.Air.Blowers {
		filter := add(spot{name: strings.TrimSuffix(w.T("list.filter")+" "+in.blower(b.Name), " "+w.T("air.blower")), measure: "Δp, T"})
		blower := add(spot{name: b.Name, level: 1, measure: "I, T"})
		joins = append(joins, [2]int{filter, blower})
	}
	for _, o := range r.Air.Outlets {
		add(spot{name: o.Name, level: 2, measure: "p", outlet: true})
	}
	branches, _ := in.branches()
	for _, b := range branches {
		from, to := add(spot{name: b.From, level: 1}), add(spot{name: b.To, level: 2})
		joins = append(joins, [2]int{from, to})
	}
	if len(branches) == 0 && len(r.Air.Blowers) > 0 {
		for _, o := range r.Air.Outlets {
			joins = append(joins, [2]int{at[r.Air.Blowers[0].Name], at[o.Name]})
		}
	}
	for range spots { // a place lies beyond everything that feeds it; a loop stops after as many rounds
		for _, j := range joins {
			spots[j[1]].level = max(spots[j[1]].level, min(spots[j[0]].level+1, len(spots)))
		}
	}
	last := 0
	for _, s := range spots {
		last = max(last, s.level)
	}
	for i := range spots {
		if spots[i].outlet {
			spots[i].level = last
		}
	}
	return spots, joins
}

// airWay draws the way of the air with its measuring points; nil when there is no blower.
func (in *Input) airWay() *drawing.Drawing {
	if len(in.Result.Air.Blowers) == 0 {
		return nil
	}
	const boxH, rowH, gap, head = 9.0, 15.0, 9.0, 3.2 // head is what the first measuring point stands above its box
	spots, joins := in.way()
	columns := map[int]int{}
	last := 0
	row := make([]int, len(spots))
	for i, s := range spots {
		row[i] = columns[s.level]
		columns[s.level]++
		last = max(last, s.level)
	}
	most := 0
	for _, n := range columns {
		most = max(most, n)
	}
	boxW := min(42, (figureWidth-gap*float64(last))/float64(last+1))
	d := &drawing.Drawing{Name: "air", Width: figureWidth, Height: head + rowH*float64(most-1) + boxH + 0.5}
	step := (figureWidth - boxW) / math.Max(float64(last), 1)
	corner := func(i int) drawing.Point {
		s := spots[i]
		free := rowH * float64(most-columns[s.level]) / 2
		return drawing.Point{X: float64(s.level) * step, Y: d.Height - head - free - rowH*float64(row[i]) - boxH}
	}
	for _, j := range joins {
		a, b := corner(j[0]).Add(drawing.Point{X: boxW, Y: boxH / 2}), corner(j[1]).Add(drawing.Point{Y: boxH / 2})
		middle := b.X - gap/2
		d.Paper = append(d.Paper, drawing.Polyline{Layer: drawing.Chart, Points: []drawing.Point{a, {X: middle, Y: a.Y}, {X: middle, Y: b.Y}, b}, Styled: drawing.Drawn(drawing.Sea, 0.4)})
	}
	for i, s := range spots {
		a := corner(i)
		fill := drawing.Foam
		if s.outlet {
			fill = drawing.Shoal
		}
		d.Paper = append(d.Paper,
			drawing.Rect(drawing.Chart, a, a.Add(drawing.Point{X: boxW, Y: boxH}), drawing.Style{Fill: &fill, Stroke: &drawing.Sea, Pen: 0.25}))
		size, lines := boxed(in.Words.Name(s.name), boxW-2)
		for k, line := range lines {
			y := boxH/2 - 0.35*size + lead*size*(float64(len(lines)-1)/2-float64(k))
			d.Paper = append(d.Paper, drawing.Text{Layer: drawing.Chart, At: a.Add(drawing.Point{X: boxW / 2, Y: y}), String: line, Size: size, Align: drawing.Middle, Styled: drawing.Drawn(drawing.Ink, 0)})
		}
		if s.measure != "" {
			white := drawing.White
			centre := a.Add(drawing.Point{X: boxW - 4, Y: boxH + 1.2})
			wide := typeface.Bold.Width(s.measure, 2.2)/2 + 1.2
			d.Paper = append(d.Paper,
				drawing.Rect(drawing.Chart, centre.Add(drawing.Point{X: -wide, Y: -1.7}), centre.Add(drawing.Point{X: wide, Y: 1.7}), drawing.Style{Fill: &white, Stroke: &drawing.Ochre, Pen: 0.25}),
				drawing.Text{Layer: drawing.Chart, At: centre.Add(drawing.Point{Y: -0.8}), String: s.measure, Size: 2.2, Align: drawing.Middle, Face: typeface.Bold, Styled: drawing.Drawn(drawing.Ochre, 0)})
		}
	}
	return d
}

// lead is from line to line in a box, as a share of the size of its letters.
const lead = 1.15

// boxed sets a name in a box as large as it may be without a cut: on up to two lines, smaller ones on three. Only what
// has no room even then gives way in its middle.
func boxed(name string, width float64) (size float64, lines []string) {
	for size = 2.6; ; size -= 0.2 {
		most := 2
		if size < 2.3 {
			most = 3
		}
		lines = typeface.Regular.Wrap(name, size, width)
		whole := typeface.Regular.Longest(name, size) <= width // no word is broken
		switch {
		case len(lines) <= most && whole:
			return size, lines
		case size > 1.7:
		case len(lines) <= most:
			return size, lines
		default:
			return size, append(lines[:most-1:most-1], typeface.Regular.FitEnds(strings.Join(lines[most-1:], ""), size, width))
		}
	}
}
