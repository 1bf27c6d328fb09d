package scene

import (
	"fmt"
	"math"
	"strings"
	"time"

	"leste/job"
	"leste/render/drawing"
	"leste/render/typeface"
	"leste/render/words"
	"leste/station"
)

// Options are what the title block says.
type Options struct {
	Words    words.Words
	Number   string // of the paper the drawing belongs to
	Revision string
	By       string // who issues it
	Model    bool   // for CAD: the model is in true millimetres, which the title block says
	Date     time.Time
}

// A Sheet is a drawing with the format and the station it shows.
type Sheet struct {
	*drawing.Drawing
	Format, Station string
}

// Sheets draws every station of the plan as each format meets it, one A3 sheet each.
func Sheets(j *job.Job, plan *station.Plan, o Options) []Sheet {
	var out []Sheet
	total := 0
	for _, f := range plan.Formats {
		total += len(f.Stations)
	}
	for _, f := range plan.Formats {
		for _, s := range f.Stations {
			subject := Subject{Job: j, Format: f, Scene: s, Words: o.Words}
			out = append(out, Sheet{sheet(subject, o, len(out)+1, total), f.Format.Name, s.Name})
		}
	}
	return out
}

// Figure draws one view without border, for a document, at most width by height [mm of paper].
func (s Subject) Figure(view View, width, height float64, dimensioned bool) *drawing.Drawing {
	bare := drawing.Bounds(s.shapes(view, false, 1), 1).Size()
	for _, scale := range scales {
		last := scale == scales[len(scales)-1]
		if !last && (bare.X > width*scale || bare.Y > height*scale) {
			continue
		}
		for _, room := range nameRooms { // a name gives way before the scale does
			s.nameRoom = room
			shapes := s.shapes(view, dimensioned, scale)
			box := drawing.Bounds(shapes, scale)
			size := box.Size().Times(1 / scale)
			if (size.X > width || size.Y > height) && !(last && room == nameRooms[len(nameRooms)-1]) {
				continue
			}
			const margin = 2.0
			return &drawing.Drawing{
				Name: s.title(view), Width: size.X + 2*margin, Height: size.Y + 2*margin, Scale: scale,
				Views: []drawing.View{{Name: s.title(view), Origin: drawing.Point{X: margin - box.Min.X/scale, Y: margin - box.Min.Y/scale}, Shapes: shapes}},
			}
		}
	}
	return nil // unreachable: the last scale is taken whatever its size
}

// scales are the scales that a sheet may have, the largest first (ISO 5455).
var scales = []float64{1, 2, 2.5, 5, 10, 20, 50, 100}

// The sheet: A3 across, with a border [mm of paper].
const (
	sheetWidth, sheetHeight = 420.0, 297.0
	borderLeft, border      = 20.0, 10.0
	blockWidth, blockHeight = 180.0, 40.0
	viewGap                 = 16.0
	labelRoom               = 9.0
)

func (s Subject) title(v View) string {
	w := s.Words
	switch v {
	case Along:
		if s.turn() < 0 {
			return w.T("drawing.along.left")
		}
		return w.T("drawing.along.right")
	case Across:
		if s.turn() < 0 {
			return w.T("drawing.across.with")
		}
		return w.T("drawing.across.against")
	}
	return w.T("drawing.plan")
}

// placed is a view with its shapes and its box at a scale, in millimetres of paper.
type placed struct {
	view   View
	shapes []drawing.Shape
	box    drawing.Box // paper millimetres about the view's zero
}

func sheet(s Subject, o Options, number, total int) *drawing.Drawing {
	rows := s.settings()
	strip := max(blockHeight, 8+4.2*float64(len(rows)+1)) + 6
	areaW := sheetWidth - borderLeft - border - 12
	areaH := sheetHeight - 2*border - strip - 10
	var views [3]placed
	scale := scales[len(scales)-1]
	for _, try := range scales {
		for v := range views {
			view := View(v)
			shapes := s.shapes(view, true, try)
			box := drawing.Bounds(shapes, try)
			box.Min, box.Max = box.Min.Times(1/try), box.Max.Times(1/try)
			views[v] = placed{view, shapes, box}
		}
		line := max(views[Plan].box.Max.X, views[Along].box.Max.X) - min(views[Plan].box.Min.X, views[Along].box.Min.X)
		wide := line + viewGap + s.acrossWidth(views[Across].box)
		high := views[Plan].box.Size().Y + viewGap + labelRoom*2 + max(views[Along].box.Max.Y, views[Across].box.Max.Y) - min(views[Along].box.Min.Y, views[Across].box.Min.Y)
		if wide <= areaW && high <= areaH {
			scale = try
			break
		}
	}
	d := &drawing.Drawing{
		Name:  strings.TrimSpace(s.Words.Found(s.Scene.Name) + ", " + s.Format.Format.Name),
		Width: sheetWidth, Height: sheetHeight, Scale: scale,
	}
	s.arrange(d, views, strip)
	d.Paper = append(d.Paper, borderShapes()...)
	d.Paper = append(d.Paper, s.block(o, scale, number, total)...)
	d.Paper = append(d.Paper, s.table(rows)...)
	return d
}

// titleSize is the size of a view's title [mm].
const titleSize = 3.2

// acrossWidth is the room that the elevation across takes, with its title.
func (s Subject) acrossWidth(box drawing.Box) float64 {
	return max(box.Size().X, typeface.Bold.Width(s.title(Across), titleSize))
}

// arrange gives the views their places: the plan at the upper left, the elevation along under it with the
// same zero across, the elevation across at its right with the same belt level.
func (s Subject) arrange(d *drawing.Drawing, views [3]placed, strip float64) {
	plan, along, across := views[Plan].box, views[Along].box, views[Across].box
	lowest := min(along.Min.Y, across.Min.Y)
	left, right := min(plan.Min.X, along.Min.X), max(plan.Max.X, along.Max.X)
	top, floor := sheetHeight-border-6-labelRoom, border+strip+4.0
	used := plan.Size().Y + viewGap + 2*labelRoom + max(along.Max.Y, across.Max.Y) - lowest
	spareY := max(0, top+labelRoom-floor-used) / 3
	spareX := max(0, sheetWidth-borderLeft-border-12-(right-left)-viewGap-s.acrossWidth(across)) / 3

	x := borderLeft + 6 - left + spareX
	level := floor - lowest + spareY // belt
	planY := top - spareY - plan.Max.Y
	acrossX := x + right + viewGap + spareX - across.Min.X
	places := [3]drawing.Point{Plan: {X: x, Y: planY}, Along: {X: x, Y: level}, Across: {X: acrossX, Y: level}}
	for v, p := range views {
		name := s.title(p.view)
		d.Views = append(d.Views, drawing.View{Name: name, Origin: places[v], Shapes: p.shapes})
		from := p.box.Min.X
		if p.view != Across {
			from = left
		}
		at := drawing.Point{X: places[v].X + from, Y: places[v].Y + p.box.Max.Y + 4}
		d.Paper = append(d.Paper, drawing.Text{Layer: drawing.Notes, At: at, String: name, Size: titleSize, Face: typeface.Bold})
	}
}

func borderShapes() []drawing.Shape {
	p := func(x, y float64) drawing.Point { return drawing.Point{X: x, Y: y} }
	shapes := []drawing.Shape{drawing.Rect(drawing.Border, p(borderLeft, border), p(sheetWidth-border, sheetHeight-border), drawing.Style{Pen: 0.5})}
	// centring marks
	for _, m := range [][2]drawing.Point{
		{p(sheetWidth/2, sheetHeight-border), p(sheetWidth/2, sheetHeight-border+5)},
		{p(sheetWidth/2, border), p(sheetWidth/2, border-5)},
		{p(borderLeft, sheetHeight/2), p(borderLeft-5, sheetHeight/2)},
		{p(sheetWidth-border, sheetHeight/2), p(sheetWidth-border+5, sheetHeight/2)},
	} {
		shapes = append(shapes, drawing.Line{Layer: drawing.Border, A: m[0], B: m[1], Styled: drawing.Style{Pen: 0.35}})
	}
	return shapes
}

// field is a cell of the title block: place and size from the block's lower left corner.
type field struct {
	x, y, w, h  float64
	name, value string
	size        float64
	bold        bool
}

// block draws the title block.
func (s Subject) block(o Options, scale float64, number, total int) []drawing.Shape {
	w := o.Words
	title, units := "", s.Units()
	if o.Model {
		units = w.T("drawing.model")
	}
	if s.Job != nil {
		title = w.Found(s.Job.Name)
	}
	fields := []field{
		{0, 26, 120, 14, w.T("drawing.title"), title, 4, true},
		{120, 26, 60, 14, w.T("drawing.by"), o.By, 3, true},
		{0, 13, 60, 13, w.T("drawing.station"), w.Station(s.Scene.Name, s.place()), 3.2, true},
		{60, 13, 60, 13, w.T("drawing.format"), s.Format.Format.Name, 3.2, true},
		{120, 13, 30, 13, w.T("drawing.date"), isoDate(o.Date), 2.8, false},
		{150, 13, 30, 13, w.T("drawing.units"), units, 2.8, false},
		{0, 0, 60, 13, w.T("drawing.number"), o.Number, 3.2, true},
		{60, 0, 30, 13, w.T("drawing.revision"), o.Revision, 3.2, true},
		{90, 0, 30, 13, w.T("drawing.scale"), "1:" + w.Number(scale, 3), 3.2, true},
		{120, 0, 30, 13, w.T("drawing.size"), "A3", 3.2, false},
		{150, 0, 30, 13, w.T("drawing.sheet"), fmt.Sprintf("%d / %d", number, total), 3.2, false},
	}
	origin := drawing.Point{X: sheetWidth - border - blockWidth, Y: border}
	var shapes []drawing.Shape
	for _, f := range fields {
		a := origin.Add(drawing.Point{X: f.x, Y: f.y})
		shapes = append(shapes, drawing.Rect(drawing.Border, a, a.Add(drawing.Point{X: f.w, Y: f.h}), drawing.Style{Pen: 0.25}))
		quiet := drawing.Drawn(drawing.Slate, 0)
		shapes = append(shapes, drawing.Text{Layer: drawing.Border, At: a.Add(drawing.Point{X: 1.6, Y: f.h - 3.2}), String: f.name, Size: 2, Styled: quiet})
		face := typeface.Regular
		if f.bold {
			face = typeface.Bold
		}
		size := f.size
		lines := face.Wrap(f.value, size, f.w-3.2)
		for (len(lines) > 2 || len(lines) == 2 && size > 3.2) && size > 2.2 {
			size *= 0.9
			lines = face.Wrap(f.value, size, f.w-3.2)
		}
		if len(lines) > 2 {
			lines = []string{lines[0], face.Fit(strings.Join(lines[1:], " "), size, f.w-3.2)}
		}
		y := 2.6 + float64(len(lines)-1)*size*1.15
		for i, line := range lines {
			shapes = append(shapes, drawing.Text{Layer: drawing.Border, At: a.Add(drawing.Point{X: 1.6, Y: y - float64(i)*size*1.15}), String: line, Size: size, Face: face})
		}
	}
	return append(shapes, drawing.Rect(drawing.Border, origin, origin.Add(drawing.Point{X: blockWidth, Y: blockHeight}), drawing.Style{Pen: 0.5}))
}

func isoDate(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02")
}

// settings lists the outlets as this format needs them, a row each.
func (s Subject) settings() [][]string {
	w := s.Words
	place := func(v float64) string {
		switch {
		case math.IsNaN(v):
			return "–"
		case w.Units == words.US:
			return w.Fixed(v/inch, 2)
		}
		return w.Fixed(v*1e3, 1)
	}
	var rows [][]string
	for _, p := range s.Scene.Outlets {
		opening := "Ø" + s.sized(p.Bore)
		switch p.Kind {
		case job.AirKnife:
			opening = s.sized(p.Length) + " × " + s.sized(p.Gap)
		case job.NozzleManifold:
			opening = fmt.Sprintf("%d × Ø%s / %s", len(p.Ports), s.sized(p.Bore), s.sized(p.Spacing))
		}
		rows = append(rows, []string{
			w.Found(p.Name), w.Term(p.Kind), opening, place(p.Middle.X), place(p.Middle.Y), place(p.Middle.Z), place(p.StandOff), place(Clearance(p, s.Format.Body)), w.Number(degrees(Tilt(p)), 4),
		})
	}
	return rows
}

// table draws the settings at the lower left.
func (s Subject) table(rows [][]string) []drawing.Shape {
	w := s.Words
	heads := []string{w.T("drawing.outlet"), w.T("drawing.kind"), w.T("drawing.opening") + " " + s.listed(), "x " + s.listed(), "y " + s.listed(), "z " + s.listed(), w.T("drawing.standoff"), w.T("drawing.clearance"), w.T("drawing.tiltdeg")}
	widths := []float64{40, 28, 34, 13, 13, 13, 18, 20, 16}
	const size, lead = 2.2, 4.2
	x0, y := borderLeft+3.0, border+6+lead*float64(len(rows)+1)
	line := func(y float64, texts []string, face typeface.Face) []drawing.Shape {
		var out []drawing.Shape
		x := x0
		for i, t := range texts {
			text := drawing.Text{Layer: drawing.Notes, At: drawing.Point{X: x, Y: y}, String: face.FitEnds(t, size, widths[i]-1.5), Size: size, Face: face}
			if i >= 3 {
				text.Align = drawing.Right
				text.At.X = x + widths[i] - 2
			}
			out = append(out, text)
			x += widths[i]
		}
		return out
	}
	wide := 0.0
	for _, c := range widths {
		wide += c
	}
	rule := func(y float64) drawing.Shape {
		return drawing.Line{Layer: drawing.Border, A: drawing.Point{X: x0, Y: y}, B: drawing.Point{X: x0 + wide, Y: y}, Styled: drawing.Style{Pen: 0.18}}
	}
	shapes := []drawing.Shape{drawing.Text{
		Layer: drawing.Notes, At: drawing.Point{X: x0, Y: border + 3}, Size: 2,
		String: typeface.Regular.Fit(w.T("drawing.note"), 2, wide), Styled: drawing.Drawn(drawing.Slate, 0),
	}}
	shapes = append(shapes, line(y-1.2, heads, typeface.Bold)...)
	shapes = append(shapes, rule(y-lead+1.6), rule(y+lead-2))
	for i, row := range rows {
		shapes = append(shapes, line(y-1.2-lead*float64(i+1), row, typeface.Regular)...)
	}
	return append(shapes, rule(y-lead*float64(len(rows)+1)+1.6))
}

// place is where the station of a sheet stands among those of its format.
func (s Subject) place() int {
	for i := range s.Format.Stations {
		if s.Format.Stations[i].Name == s.Scene.Name {
			return i
		}
	}
	return 0
}
