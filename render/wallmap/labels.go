package wallmap

import (
	"slices"

	leste "leste"
	"leste/render/picture"
	"leste/render/typeface"
)

// A label names a zone at the left of the wall, tied to it by a thin line.
type label struct {
	zone string
	at   picture.Point // the place on the wall
	y    float64       // where the text stands after the labels made room for each other
}

const (
	labelTall    = 9.2 // mm of sheet that one label needs
	middleOfText = 1.2 // mm from the baseline up to the middle of small letters
)

// labelZones names the zones from top to bottom, each with the water left in it, and returns where the
// lowest name ends on the sheet.
func labelZones(p *picture.Picture, f *leste.FormatResult, v side, style Style) float64 {
	labels := zonesOnWall(v)
	spread(labels, wallTop+2, max(v.bottom, wallTop+float64(len(labels))*labelTall))
	lowest := 0.0
	for _, l := range labels {
		text := picture.Text{At: picture.Point{X: margin, Y: l.y}, Size: 3.4, Face: typeface.Bold, Colour: ink, Text: typeface.Bold.Fit(style.say(l.zone), 3.4, wallLeft-margin-10)}
		p.Add(text)
		end := margin + typeface.Bold.Width(text.Text, 3.4)
		if z, ok := zoneOf(f, l.zone); ok {
			p.Add(picture.Text{At: picture.Point{X: margin, Y: l.y + 3.8}, Size: 3, Colour: muted, Text: Mass(z.Left.Likely, z.Left.Low, z.Left.High)})
		}
		p.Add(picture.Line{Points: []picture.Point{
			{X: end + 1.5, Y: l.y - middleOfText}, {X: wallLeft - 5, Y: l.y - middleOfText}, {X: wallLeft - 1.5, Y: l.at.Y}, l.at,
		}, Colour: hair, Width: 0.2})
		lowest = l.y
	}
	return lowest
}

// zonesOnWall returns one label for each zone that has rows on the unrolled wall, top first; a zone that
// appears twice is named once, where it is tallest.
func zonesOnWall(v side) []label {
	var labels []label
	tallest := map[string]float64{}
	for row := v.upper - 1; row >= v.lower; {
		first := row
		for first > v.lower && v.m.Zone[first-1] == v.m.Zone[row] {
			first--
		}
		zone, tall := v.m.Zone[row], v.m.S[row+1]-v.m.S[first]
		if tall > tallest[zone] {
			tallest[zone] = tall
			labels = slices.DeleteFunc(labels, func(l label) bool { return l.zone == zone })
			low, high := v.at(first, 0), v.at(row+1, 0)
			labels = append(labels, label{zone: zone, at: picture.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}})
		}
		row = first - 1
	}
	return labels
}

// spread moves labels apart so that none covers the next, keeping them between top and bottom.
func spread(labels []label, top, bottom float64) {
	for i := range labels {
		labels[i].y = max(labels[i].at.Y+middleOfText, top)
		if i > 0 {
			labels[i].y = max(labels[i].y, labels[i-1].y+labelTall)
		}
	}
	for i := len(labels) - 1; i >= 0; i-- {
		limit := bottom
		if i < len(labels)-1 {
			limit = labels[i+1].y - labelTall
		}
		labels[i].y = min(labels[i].y, limit)
	}
}
