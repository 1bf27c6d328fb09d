package wallmap

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	leste "leste"
	"leste/render/amount"
	"leste/render/picture"
	"leste/render/typeface"
)

// The sheet [mm]: a title above, zone names at the left, the wall, the discs at the right, the scale below.
const (
	sheetWidth = 250.0
	margin     = 9.0
	wallLeft   = 58.0
	wallRight  = 181.0
	wallTop    = 37.0
	wallHeight = 108.0
	discsLeft  = 195.0
	scaleGap   = 17.0 // between the wall and the scale
	scaleTall  = 5.0
	discFoot   = 11.5 // under a disc: the arrow of travel
	discLine   = 4.0  // under a disc: each zone that lies on it alone
)

var (
	ink    = picture.Colour{R: 0x1f, G: 0x2a, B: 0x33}
	muted  = picture.Colour{R: 0x64, G: 0x70, B: 0x7a}
	hair   = picture.Colour{R: 0xa9, G: 0xb3, B: 0xba}
	accent = picture.Colour{R: 0xb4, G: 0x53, B: 0x09}
)

// ErrNoMap says that a format has no map: nothing was calculated on its wall.
var ErrNoMap = errors.New("there is no map of the water left: nothing was calculated on the wall")

// Draw returns the picture of one format of a result.
func Draw(r *leste.Result, f *leste.FormatResult) (*picture.Picture, error) {
	if f.Map == nil {
		return nil, fmt.Errorf("format %q: %w", f.Name, ErrNoMap)
	}
	w, err := newWall(f.Map)
	if err != nil {
		return nil, err
	}
	s := newScale(w.wettest())
	p := &picture.Picture{Width: sheetWidth, Title: fmt.Sprintf("Water left on the wall of %s, %s", f.Name, r.Job)}
	heading(p, r, f)
	compose(p, w, s, f, "water left, g/m²", Style{}, nil)
	return p, nil
}

// A Style says how the words of a plain sheet will read, so that they find room: in another language, or with another
// ruler. The zero value is English and millimetres.
type Style struct {
	Say    func(string) string
	Inches bool
}

func (s Style) say(text string) string {
	if s.Say == nil {
		return text
	}
	return s.Say(text)
}

// Headroom is what the top of a plain sheet leaves empty [mm].
const Headroom = wallTop - 10

// Plain is Draw without heading and explanation: for a page that says what it shows, and translates the rest.
func Plain(r *leste.Result, f *leste.FormatResult, style Style) (*picture.Picture, error) {
	if f.Map == nil {
		return nil, fmt.Errorf("format %q: %w", f.Name, ErrNoMap)
	}
	w, err := newWall(f.Map)
	if err != nil {
		return nil, err
	}
	p := &picture.Picture{Width: sheetWidth, Title: fmt.Sprintf("Water left on the wall of %s, %s", f.Name, r.Job)}
	compose(p, w, newScale(w.wettest()), f, "water left, g/m²", style, nil)
	lines := len(typeface.Regular.Wrap(meaning, meaningSize, wallRight-wallLeft+12)) // the explanation comes last
	p.Shapes = p.Shapes[:len(p.Shapes)-lines]
	p.Height -= float64(lines) * meaningLine
	return p, nil
}

// compose lays the views of a wall, the names of its zones and the scale on a sheet, and whatever else on each view.
func compose(p *picture.Picture, w wall, s scale, f *leste.FormatResult, amounts string, style Style, more func(v view, from, to int)) {
	unrolled, discs := w.arrange()
	bottom := 0.0
	drawWall(p, w, s, unrolled)
	if more != nil {
		more(unrolled, w.lower, w.upper)
	}
	drawSideMarks(p, unrolled, style)
	for _, d := range discs {
		drawDisc(p, f, s, d)
		if more != nil {
			more(d, d.first(), d.last())
		}
		bottom = max(bottom, d.centre.Y+d.radius()+discFoot+float64(len(d.only))*discLine)
	}
	scaleTop := max(labelZones(p, f, unrolled, style), unrolled.bottom) + scaleGap
	drawScale(p, s, scaleTop, amounts)
	explainScale(p, scaleTop)
	p.Height = max(bottom, scaleTop+scaleTall+10+meaningLine) + margin - 3
}

// wettest returns the amount [g/m2] that all but the wettest hundredth of the area stays below.
func (w wall) wettest() float64 {
	type cell struct{ water, area float64 }
	cells := make([]cell, 0, len(w.m.Water))
	total := 0.0
	for k, water := range w.m.Water {
		if !(water > 0) {
			water = 0
		}
		row := k / w.m.Cols
		area := (w.m.S[row+1] - w.m.S[row]) * w.m.Radius[row]
		cells = append(cells, cell{water * 1e3, area})
		total += area
	}
	slices.SortFunc(cells, func(a, b cell) int { return cmp.Compare(a.water, b.water) })
	below := 0.0
	for _, c := range cells {
		if below += c.area; below >= 0.99*total {
			return c.water
		}
	}
	return 0
}

// arrange places the views on the sheet at one common scale, so that areas can be compared between them.
func (w wall) arrange() (side, []disc) {
	around := 0.0
	for i := w.lower; i <= w.upper; i++ {
		around = max(around, 2*math.Pi*w.edge[i])
	}
	tall := w.m.S[w.upper] - w.m.S[w.lower]
	baseRadius := w.m.S[w.lower] - w.m.S[0]
	topRadius := w.m.S[w.m.Rows] - w.m.S[w.upper]
	scale := math.Inf(1)
	for _, limit := range [][2]float64{
		{wallRight - wallLeft, around},
		{wallHeight, tall},
		{sheetWidth - margin - discsLeft, 2 * max(baseRadius, topRadius)},
	} {
		if limit[1] > 0 {
			scale = min(scale, limit[0]/limit[1])
		}
	}
	v := side{wall: w, middle: (wallLeft + wallRight) / 2, bottom: wallTop + tall*scale, scale: scale}

	var discs []disc
	middle := (discsLeft + sheetWidth - margin) / 2
	y := wallTop - 2.0
	for _, d := range []disc{{wall: w, scale: scale, top: true}, {wall: w, scale: scale}} {
		if d.radius() <= 0 {
			continue
		}
		d.only = w.zonesOnlyOn(d)
		y += 6 + d.radius()
		d.centre = picture.Point{X: middle, Y: y}
		y += d.radius() + discFoot + float64(len(d.only))*discLine
		discs = append(discs, d)
	}
	return v, discs
}

// radius returns the radius of a disc on the sheet [mm].
func (v disc) radius() float64 {
	if v.top {
		return (v.m.S[v.m.Rows] - v.m.S[v.upper]) * v.scale
	}
	return (v.m.S[v.lower] - v.m.S[0]) * v.scale
}

func heading(p *picture.Picture, r *leste.Result, f *leste.FormatResult) {
	room := sheetWidth - 2*margin
	p.Add(picture.Text{
		At: picture.Point{X: margin, Y: 13}, Size: 6, Face: typeface.Bold, Colour: ink,
		Text: typeface.Bold.Fit("Water left on "+f.Name, 6, room),
	})
	line := Mass(f.Container.Likely, f.Container.Low, f.Container.High) + " on one container"
	if f.Machine != "" {
		line += " at the " + f.Machine
	}
	line += "   ·   " + verdictWords(f)
	p.Add(picture.Text{At: picture.Point{X: margin, Y: 20}, Size: 3.8, Colour: ink, Text: typeface.Regular.Fit(line, 3.8, room)})
	where := r.Job
	if f.Map.Station != "" {
		where += "   ·   after the station “" + f.Map.Station + "”"
	}
	p.Add(picture.Text{At: picture.Point{X: margin, Y: 25.5}, Size: 3.2, Colour: muted, Text: typeface.Regular.Fit(where, 3.2, room)})
}

func verdictWords(f *leste.FormatResult) string {
	words := string(f.Verdict)
	if f.Case != "" {
		words += " in the case “" + f.Case + "”"
	}
	return words
}

// Mass writes a band of water masses given in kg.
func Mass(likely, low, high float64) string {
	unit, scale := "mg", 1e6
	if likely >= 1e-3 {
		unit, scale = "g", 1e3
	}
	a, b, c := amount.Two(likely*scale), amount.Two(low*scale), amount.Two(high*scale)
	if a == b && b == c {
		return a + " " + unit
	}
	return fmt.Sprintf("%s %s (%s to %s)", a, unit, b, c)
}

func drawWall(p *picture.Picture, w wall, s scale, v side) {
	paint(p, v, w, s, w.lower, w.upper)
	for i := w.lower; i <= w.upper; i++ {
		if i == w.lower || i == w.upper || w.m.Zone[i] != w.m.Zone[i-1] {
			p.Add(picture.Line{Points: []picture.Point{v.at(i, 0), v.at(i, 2*math.Pi)}, Colour: hair, Width: 0.2})
		}
	}
	var left, right []picture.Point
	for i := w.lower; i <= w.upper; i++ {
		left, right = append(left, v.at(i, 0)), append(right, v.at(i, 2*math.Pi))
	}
	p.Add(picture.Line{Points: left, Colour: muted, Width: 0.3}, picture.Line{Points: right, Colour: muted, Width: 0.3})
}

func drawDisc(p *picture.Picture, f *leste.FormatResult, s scale, v disc) {
	w := v.wall
	from, to, name := v.first(), v.last(), "base, seen from below"
	if v.top {
		name = "top, seen from above"
	}
	paint(p, v, w, s, from, to)
	for i := from; i <= to; i++ {
		rim := v.top && i == from || !v.top && i == to
		if rim || i > from && i < to && w.m.Zone[i] != w.m.Zone[i-1] {
			colour, width := hair, 0.2
			if rim {
				colour, width = muted, 0.3
			}
			p.Add(picture.Line{Points: arc(v, i, 0, 2*math.Pi), Colour: colour, Width: width, Closed: true})
		}
	}
	p.Add(picture.Text{At: picture.Point{X: v.centre.X, Y: v.centre.Y - v.radius() - 2}, Size: 3.2, Face: typeface.Bold, Colour: ink, Anchor: picture.Middle, Text: name})
	travelArrow(p, v.centre.X, v.centre.Y+v.radius()+4.5)
	for i, zone := range v.only {
		text := zone
		if z, ok := zoneOf(f, zone); ok {
			text += "  " + Mass(z.Left.Likely, z.Left.Low, z.Left.High)
		}
		p.Add(picture.Text{
			At:   picture.Point{X: v.centre.X, Y: v.centre.Y + v.radius() + discFoot + 1.5 + float64(i)*discLine},
			Size: 3, Colour: muted, Anchor: picture.Middle, Text: typeface.Regular.Fit(text, 3, sheetWidth-discsLeft-2),
		})
	}
}

func zoneOf(f *leste.FormatResult, name string) (leste.ZoneResult, bool) {
	i := slices.IndexFunc(f.Zones, func(z leste.ZoneResult) bool { return z.Name == name })
	if i < 0 {
		return leste.ZoneResult{}, false
	}
	return f.Zones[i], true
}

// paint puts the classes on top of each other, lowest first, so that no seam shows the sheet.
func paint(p *picture.Picture, v view, w wall, s scale, from, to int) {
	for class, colour := range s.colours {
		if rings := patches(v, w, s, from, to, class); len(rings) > 0 {
			p.Add(picture.Area{Rings: rings, Fill: colour})
		}
	}
}

func travelArrow(p *picture.Picture, x, y float64) {
	const long = 9.0
	p.Add(
		picture.Line{Points: []picture.Point{{X: x - long, Y: y}, {X: x + long - 1.5, Y: y}}, Colour: accent, Width: 0.4},
		picture.Area{Rings: [][]picture.Point{{{X: x + long, Y: y}, {X: x + long - 2.6, Y: y - 1.1}, {X: x + long - 2.6, Y: y + 1.1}}}, Fill: accent},
		picture.Text{At: picture.Point{X: x, Y: y + 4}, Size: 3, Colour: accent, Anchor: picture.Middle, Text: "travel"},
	)
}

// drawSideMarks names the sides of the line under the unrolled wall.
func drawSideMarks(p *picture.Picture, v side, style Style) {
	widest := 0.0
	for i := v.lower; i <= v.upper; i++ {
		widest = max(widest, v.edge[i])
	}
	y := v.bottom + 3
	for i, name := range []string{"front", "left side", "rear", "right side", "front"} {
		x := v.middle + (float64(i)*math.Pi/2-math.Pi)*widest*v.scale
		p.Add(picture.Line{Points: []picture.Point{{X: x, Y: y}, {X: x, Y: y + 1.6}}, Colour: muted, Width: 0.3})
		anchor := picture.Middle
		p.Add(picture.Text{At: picture.Point{X: x, Y: y + 5.2}, Size: 3.2, Colour: ink, Anchor: anchor, Text: name})
	}
	p.Add(picture.Text{
		At: picture.Point{X: v.middle, Y: y + 9.4}, Size: 2.8, Colour: muted, Anchor: picture.Middle,
		Text: "sides as seen along travel",
	})
	ruler(p, v, style)
}

// ruler draws 50 mm of the container, or two inches of it, beside the wall.
func ruler(p *picture.Picture, v side, style Style) {
	of, text := 0.05, "50 mm"
	if style.Inches {
		of, text = 2*0.0254, "2 in"
	}
	x, y := wallRight+5.5, v.bottom
	long := of * v.scale
	for _, l := range [][]picture.Point{
		{{X: x, Y: y}, {X: x, Y: y - long}}, {{X: x - 0.8, Y: y}, {X: x + 0.8, Y: y}}, {{X: x - 0.8, Y: y - long}, {X: x + 0.8, Y: y - long}},
	} {
		p.Add(picture.Line{Points: l, Colour: muted, Width: 0.3})
	}
	p.Add(picture.Text{At: picture.Point{X: x, Y: y - long - 1.6}, Size: 2.8, Colour: muted, Anchor: picture.Middle, Text: text})
}

func drawScale(p *picture.Picture, s scale, y float64, amounts string) {
	left := wallLeft - 12
	width := (wallRight - left) / float64(len(s.colours))
	p.Add(picture.Text{At: picture.Point{X: margin, Y: y + 3.8}, Size: 3.4, Face: typeface.Bold, Colour: ink, Text: amounts})
	for i, colour := range s.colours {
		x := left + float64(i)*width
		p.Add(picture.Area{Rings: [][]picture.Point{picture.Rectangle(x, y, width, scaleTall)}, Fill: colour})
		if i < len(s.limits) {
			at := x + width
			p.Add(picture.Line{Points: []picture.Point{{X: at, Y: y + scaleTall}, {X: at, Y: y + scaleTall + 1.2}}, Colour: muted, Width: 0.25})
			p.Add(picture.Text{At: picture.Point{X: at, Y: y + scaleTall + 4.8}, Size: 3.2, Colour: ink, Anchor: picture.Middle, Text: amount.Figures(s.limits[i], 1)})
		}
	}
	p.Add(picture.Line{Points: picture.Rectangle(left, y, wallRight-left, scaleTall), Colour: hair, Width: 0.2, Closed: true})
}

// explainScale says under a scale what its colours mean.
func explainScale(p *picture.Picture, y float64) {
	left := wallLeft - 12
	// Under the wall alone: the views of base and top may reach as far down.
	for i, line := range typeface.Regular.Wrap(meaning, meaningSize, wallRight-left) {
		p.Add(picture.Text{At: picture.Point{X: left, Y: y + scaleTall + 9.2 + float64(i)*meaningLine}, Size: meaningSize, Colour: muted, Text: line})
	}
}

// What the colours mean [text, mm].
const (
	meaning     = "Film and drops on the open wall; equal patches are equal areas of a round container. Trapped water and pools are listed with their zone."
	meaningSize = 2.8
	meaningLine = 3.8
)
