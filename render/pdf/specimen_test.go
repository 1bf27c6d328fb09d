package pdf

import (
	"fmt"
	"strings"
	"time"

	"leste/render/document"
	"leste/render/drawing"
)

var day = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// specimen holds every kind of block, long names and many rows.
func specimen() *document.Document {
	long := strings.Repeat("Donaudampfschifffahrtsgesellschaftskapitän", 3)
	d := &document.Document{
		Kind: "Quotation", Title: "Drying before the packer on line 3", Subtitle: "Sidewall and seam of a 330 mL can", Language: "en",
		Number: "Q-1042 rev B", Date: day, Foot: "Invented data for a demonstration",
		Labels: document.Labels{Page: "Page %d of %d", Figure: "Figure", Table: "Table", Continued: "continued", For: "For"},
		Head:   document.Letterhead{Name: "Ponta Clara Air Engineering", Lines: []string{"Rua do Farol 1", "9000 Porto Alto"}},
		Cover: &document.Cover{
			For: []string{"Ribeira Spring, Porto Alto", "Maintenance"}, Tone: document.Good, Verdict: "Met",
			Answer: "The station leaves the can dry enough for the packer at every format and speed; the smallest reserve is 1.8, at the surge speed of the 500 mL can.",
			Points: []document.Point{
				{Value: "86", Unit: "mg", Words: "water left on the can, 35 to 210, limit 150"},
				{Value: "4.4", Unit: "kW", Words: "from the grid"},
				{Value: "21", Unit: "%", Words: "of the energy of compressed air at equal thrust"},
				{Value: "1.8", Words: "smallest reserve", Tone: document.Good},
			},
			Facts:  []document.Pair{{Name: "Date", Value: "2 March 2026"}, {Name: "Valid until", Value: "1 May 2026"}, {Name: "Formats", Value: "3"}},
			Figure: &document.Figure{Drawing: picture1()},
		},
	}
	d.Add(
		document.Heading{Level: 1, Text: "What was asked"},
		document.Paragraph{Lead: "In short.", Text: strings.Repeat("Cans leave the rinser beaded and reach the packer wet. ", 8)},
		document.Facts{Pairs: []document.Pair{{Name: "Speed", Value: "1.0 m/s"}, {Name: "Pitch", Value: "80 mm"}, {Name: "Surge", Value: "1.15 times the nominal speed, for up to ten seconds"}}},
		document.Heading{Level: 2, Text: "Verdict by format"},
		document.Table{Caption: "Water left by zone, likely value with its band", Columns: []document.Column{
			{Head: "Format"}, {Head: "Zone"}, {Head: "Water left, mg", Right: true}, {Head: "Limit", Right: true}, {Head: "Verdict"}, {Head: "Reserve", Right: true},
		}, Rows: rows(48, long), Note: "Bands hold about nine times out of ten."},
		document.Figure{Drawing: picture1(), Caption: "A figure with a caption that is long enough to be broken over two lines because it says a great deal about what is seen."},
		document.Figure{Drawing: picture1(), Caption: "Left of a pair", Half: true},
		document.Figure{Drawing: picture1(), Caption: "Right of a pair", Half: true},
		document.Panel{Tone: document.Undecided, Title: "What the promise rests on", Text: "The promise holds while", Items: []string{"the rate is at most 920 per minute", "the water that arrives is at most 80 g/m²", long}},
		document.List{Items: []string{"First " + long, "Second"}, Numbered: true},
		document.List{Items: []string{"Filter clean", "Guards closed"}, Boxes: true},
		document.Heading{Level: 3, Text: "To be filled in"},
		document.Form{Fields: []document.Field{{Name: "Plenum pressure", Hint: "kPa"}, {Name: "Motor current", Hint: "A"}, {Name: "Remarks", Rows: 3}}},
		document.Table{Columns: []document.Column{{Head: "No.", Right: true}, {Head: "Dry mass, g"}, {Head: "Wet mass, g"}, {Head: "By"}}, Rows: blank(6, 4), Tall: true},
	)
	return d
}

func rows(n int, long string) [][]document.Cell {
	var out [][]document.Cell
	for i := range n {
		tone, word := document.Good, "met"
		switch i % 5 {
		case 3:
			tone, word = document.Undecided, "undecided"
		case 4:
			tone, word = document.Bad, "not met"
		}
		name := fmt.Sprintf("Can %d mL", 250+i)
		if i == 2 {
			name = long
		}
		out = append(out, []document.Cell{{Text: name}, {Text: "sidewall and seam"}, {Text: "86\u00a0(35\u00a0to\u00a0210)"}, {Text: "150 mg"}, {Text: word, Tone: tone}, {Text: "1.8"}})
	}
	return out
}

func blank(n, columns int) [][]document.Cell {
	var out [][]document.Cell
	for i := range n {
		row := make([]document.Cell, columns)
		row[0].Text = fmt.Sprint(i + 1)
		out = append(out, row)
	}
	return out
}

func picture1() *drawing.Drawing {
	p := func(x, y float64) drawing.Point { return drawing.Point{X: x, Y: y} }
	return &drawing.Drawing{Name: "Plan", Width: 160, Height: 60, Scale: 5, Views: []drawing.View{{Origin: p(80, 30), Shapes: []drawing.Shape{
		drawing.Circle(drawing.Containers, p(0, 0), 33, drawing.Style{}),
		drawing.Circle(drawing.Neighbours, p(-80, 0), 33, drawing.Style{}),
		drawing.Circle(drawing.Neighbours, p(80, 0), 33, drawing.Style{}),
		drawing.Line{Layer: drawing.Centre, A: p(-200, 0), B: p(200, 0)},
		drawing.Line{Layer: drawing.Centre, A: p(0, -50), B: p(0, 50)},
		drawing.Arc{Layer: drawing.Air, Centre: p(0, 0), Radius: 50, From: 20, To: 70},
		drawing.Dimension{A: p(0, 0), B: p(80, 0), Direction: drawing.Horizontal, Offset: 14, Digits: 0},
		drawing.Dimension{A: p(-33, 0), B: p(33, 0), Direction: drawing.Horizontal, Offset: -14, Digits: 0, Prefix: "Ø"},
		drawing.Dimension{A: p(80, 0), B: p(84, 0), Direction: drawing.Horizontal, Offset: -14, Digits: 0},
		drawing.Dimension{A: p(-33, -20), B: p(33, 40), Offset: 3},
		drawing.Leader{Layer: drawing.Notes, To: p(-80, 33), Elbow: p(-8, 10), String: "neighbour"},
	}}}}
}
