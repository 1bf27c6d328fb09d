package wallmap

import (
	"errors"
	"fmt"
	"math"

	leste "leste"
	"leste/render/amount"
	"leste/render/picture"
	"leste/render/typeface"
)

// Of the sheets with all moments [mm]: panels in rows, each the unrolled wall with the top beside it.
const (
	panelTall = 62.0 // of wall, at most
	panelHead = 5.5
	// between the unrolled wall and the top
	panelBetween = 3.0
	stripTop     = 37.0
	risesAt      = 31.0 // the line about zones that gain water
)

// pressedShare is the share of the greatest pressure of a pass from which the air is outlined.
const pressedShare = 0.2

// onTheWall heads the scale of a moment.
const onTheWall = "water, g/m²"

// ErrNoFrames says that a format was followed without keeping moments of the pass.
var ErrNoFrames = errors.New("no moments of the pass were kept: only the transport method follows the water in time")

// Frames are the moments of a pass drawn alike: one scale, one limit of the air that is outlined.
type Frames struct {
	job    string
	format *leste.FormatResult
	scale  scale
	press  float64 // Pa
	walls  []wall
}

// NewFrames prepares the moments of the pass that a format's result holds.
func NewFrames(r *leste.Result, f *leste.FormatResult) (*Frames, error) {
	if len(f.Strip) == 0 {
		return nil, fmt.Errorf("format %q: %w", f.Name, ErrNoFrames)
	}
	v := &Frames{job: r.Job, format: f}
	top := 0.0
	for k := range f.Strip {
		w, err := newWall(&f.Strip[k])
		if err != nil {
			return nil, err
		}
		if n := len(f.Strip[k].Press); n > 0 && n != len(f.Strip[k].Water) {
			return nil, fmt.Errorf("moment %d of %q has %d amounts of water and %d pressures", k+1, f.Name, len(f.Strip[k].Water), n)
		}
		v.walls = append(v.walls, w)
		top = max(top, w.wettest())
		for _, p := range f.Strip[k].Press {
			v.press = max(v.press, pressedShare*p)
		}
	}
	v.scale = newScale(top)
	return v, nil
}

// Len is the number of moments.
func (v *Frames) Len() int { return len(v.walls) }

// Draw returns the picture of moment k.
func (v *Frames) Draw(k int) *picture.Picture {
	w := v.walls[k]
	p := &picture.Picture{Width: sheetWidth, Title: fmt.Sprintf("Water on the wall of %s, moment %d of %d", v.format.Name, k+1, len(v.walls))}
	v.heading(p, fmt.Sprintf("Water on %s, moment %d of %d", v.format.Name, k+1, len(v.walls)), moment(w.m)+" on the wall   ·   "+where(w.m))
	bare := &leste.FormatResult{Name: v.format.Name} // the zones' figures are those at the end
	compose(p, w, v.scale, bare, onTheWall, Style{}, func(at view, from, to int) { v.outline(p, at, w, from, to) })
	return p
}

// Strip returns all moments on one sheet.
func (v *Frames) Strip() *picture.Picture {
	p := &picture.Picture{Width: sheetWidth, Title: fmt.Sprintf("Water on the wall of %s while it passes", v.format.Name)}
	v.heading(p, "Water on "+v.format.Name+" while it passes", "time, water on the wall, position past the station's middle; the rear in the middle, beside it the top with travel to the right")
	if line := risesLine(v.Rises()); line != "" {
		p.Add(picture.Text{At: picture.Point{X: margin, Y: risesAt}, Size: 3.2, Colour: muted, Text: typeface.Regular.Fit(line, 3.2, sheetWidth-2*margin)})
	}
	y := v.panels(p, panelRow{across: v.across(2, 4, 10), left: margin, gap: 10, label: func(m *leste.Map) string { return moment(m) + "   ·   " + position(m) }}, stripTop)
	drawScale(p, v.scale, y, onTheWall)
	explainScale(p, y)
	p.Height = y + scaleTall + 10 + meaningLine + margin - 3
	return p
}

// across is how many panels as tall as they may be fit side by side, between least and most.
func (v *Frames) across(least, most int, gap float64) int {
	w := v.walls[0]
	wide, tall, radius := w.size()
	scale := panelTall / max(tall, 2*radius)
	return max(least, min(most, int((sheetWidth-2*margin+gap)/((wide+2*radius)*scale+panelBetween+gap))))
}

// size is how wide and tall the unrolled side of a wall is and how far its top reaches [m].
func (w wall) size() (wide, tall, radius float64) {
	for i := w.lower; i <= w.upper; i++ {
		wide = max(wide, 2*math.Pi*w.edge[i])
	}
	return wide, w.m.S[w.upper] - w.m.S[w.lower], w.m.S[w.m.Rows] - w.m.S[w.upper]
}

// Small returns all moments on a low sheet without a heading, whose few words need no translation: for a page
// that says what it shows.
func (v *Frames) Small() *picture.Picture {
	p := &picture.Picture{Width: sheetWidth, Title: fmt.Sprintf("Water on the wall of %s while it passes", v.format.Name)}
	y := v.panels(p, panelRow{across: 4, gap: 6, label: moment}, 1)
	drawScale(p, v.scale, y, "g/m²")
	p.Height = y + scaleTall + 7
	return p
}

// panelRow says how panels stand side by side.
type panelRow struct {
	across    int
	left, gap float64 // mm
	label     func(*leste.Map) string
}

func (l panelRow) wide() float64 {
	return (sheetWidth - 2*l.left - float64(l.across-1)*l.gap) / float64(l.across)
}

// panels draws all moments from y on and returns where the next thing goes.
func (v *Frames) panels(p *picture.Picture, l panelRow, y float64) float64 {
	for k := 0; k < len(v.walls); k += l.across {
		tall := 0.0
		for i := k; i < min(k+l.across, len(v.walls)); i++ {
			tall = max(tall, v.panel(p, l, i, l.left+float64(i-k)*(l.wide()+l.gap), y))
		}
		y += panelHead + tall + l.gap
	}
	return y
}

// panel draws moment k with its corner at x, y and returns how tall its views are.
func (v *Frames) panel(p *picture.Picture, l panelRow, k int, x, y float64) float64 {
	w := v.walls[k]
	around, tall, radius := w.size()
	scale := (l.wide() - panelBetween) / (around + 2*radius)
	scale = min(scale, panelTall/max(tall, 2*radius))
	text := fmt.Sprintf("%d", k+1)
	p.Add(picture.Text{At: picture.Point{X: x, Y: y + 2.5}, Size: 3.4, Face: typeface.Bold, Colour: ink, Text: text})
	p.Add(picture.Text{
		At: picture.Point{X: x + typeface.Bold.Width(text, 3.4) + 2, Y: y + 2.5}, Size: 3, Colour: ink,
		Text: typeface.Regular.Fit(l.label(w.m), 3, l.wide()-8),
	})
	y += panelHead
	side := side{wall: w, middle: x + around*scale/2, bottom: y + tall*scale, scale: scale}
	drawWall(p, w, v.scale, side)
	v.outline(p, side, w, w.lower, w.upper)
	if radius > 0 {
		d := disc{wall: w, scale: scale, top: true}
		d.centre = picture.Point{X: x + around*scale + panelBetween + radius*scale, Y: y + max(tall*scale, 2*radius*scale) - radius*scale}
		paint(p, d, w, v.scale, d.first(), d.last())
		p.Add(picture.Line{Points: arc(d, w.upper, 0, 2*math.Pi), Colour: muted, Width: 0.3, Closed: true})
		v.outline(p, d, w, d.first(), d.last())
	}
	return max(tall, 2*radius) * scale
}

func (v *Frames) heading(p *picture.Picture, title, line string) {
	room := sheetWidth - 2*margin
	p.Add(
		picture.Text{At: picture.Point{X: margin, Y: 13}, Size: 6, Face: typeface.Bold, Colour: ink, Text: typeface.Bold.Fit(title, 6, room)},
		picture.Text{At: picture.Point{X: margin, Y: 20}, Size: 3.8, Colour: ink, Text: typeface.Regular.Fit(line, 3.8, room)},
	)
	under := v.job
	if v.format.Case != "" {
		under += "   ·   case “" + v.format.Case + "”"
	}
	if v.press > 0 {
		under += "   ·   outlined: the air presses with " + amount.Two(v.press) + " Pa or more"
	}
	p.Add(picture.Text{At: picture.Point{X: margin, Y: 25.5}, Size: 3.2, Colour: muted, Text: typeface.Regular.Fit(under, 3.2, room)})
}

// moment tells the time and the water on the wall.
func moment(m *leste.Map) string {
	return fmt.Sprintf("%s s   ·   %s", amount.Figures(m.Time, 3), Mass(m.Total, m.Total, m.Total))
}

// position is where the container's axis is, past the middle of the station.
func position(m *leste.Map) string {
	x := math.Round(m.X * 1e3)
	if x < 0 {
		return fmt.Sprintf("−%.0f mm", -x)
	}
	return fmt.Sprintf("%.0f mm", x)
}

// place tells where the container is.
func place(m *leste.Map) string {
	x := math.Round(m.X * 1e3)
	switch {
	case x < 0:
		return fmt.Sprintf("%.0f mm before the middle", -x)
	case x > 0:
		return fmt.Sprintf("%.0f mm past the middle", x)
	}
	return "in the middle"
}

// where is place with the station's name.
func where(m *leste.Map) string {
	if m.Station == "" {
		return place(m)
	}
	return place(m) + " of the station “" + m.Station + "”"
}

// outline draws the line around the cells that the air presses hard, between two edges of a view.
func (v *Frames) outline(p *picture.Picture, at view, w wall, from, to int) {
	m := w.m
	if v.press <= 0 || len(m.Press) == 0 {
		return
	}
	hard := func(row, col int) bool {
		return row >= from && row < to && m.Press[row*m.Cols+(col+m.Cols)%m.Cols] >= v.press
	}
	step := 2 * math.Pi / float64(m.Cols)
	draw := func(points []picture.Point) {
		p.Add(picture.Line{Points: points, Colour: accent, Width: 0.35})
	}
	for col := range m.Cols {
		for row := from; row < to; row++ {
			if hard(row, col) == hard(row, col-1) {
				continue
			}
			points := []picture.Point{at.at(row, float64(col)*step)}
			for row < to && hard(row, col) != hard(row, col-1) {
				row++
				points = append(points, at.at(row, float64(col)*step))
			}
			draw(points)
		}
	}
	for row := from; row <= to; row++ {
		for col := 0; col < m.Cols; col++ {
			if hard(row, col) == hard(row-1, col) {
				continue
			}
			first := col
			for col < m.Cols && hard(row, col) != hard(row-1, col) {
				col++
			}
			draw(arc(at, row, float64(first)*step, float64(col)*step))
		}
	}
}
