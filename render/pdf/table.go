package pdf

import (
	"fmt"
	"strings"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

const cellPad = 1.6 // left and right of a cell's text

// longestShare is the share of the page that one word may claim before it is broken.
const longestShare = 0.3

// grid is a table with its columns' places and its size of type.
type grid struct {
	document.Table
	x, w       []float64
	size, lead float64
}

// newGrid finds column widths: what each column would like, squeezed towards its longest word, and at last
// smaller type. Words break only when even that is too wide.
func newGrid(t document.Table) grid {
	g := grid{Table: t, size: tableSize, lead: tableLead}
	for {
		like, least := g.wishes()
		if sum(least) <= width || g.size < 2.1 {
			g.w = share(t.Columns, like, least)
			break
		}
		g.size *= 0.92
		g.lead *= 0.92
	}
	x := left
	for _, w := range g.w {
		g.x = append(g.x, x)
		x += w
	}
	return g
}

func cellText(c document.Cell) string {
	if sign := c.Tone.Sign(); sign != "" {
		return sign + "\u00a0" + c.Text
	}
	return c.Text
}

func cellFace(c document.Cell) typeface.Face {
	switch c.Tone {
	case document.Strong, document.Good, document.Bad, document.Undecided:
		return typeface.Bold
	}
	return typeface.Regular
}

// wishes returns, for each column, the width of its widest cell and of its longest word.
func (g grid) wishes() (like, least []float64) {
	like = make([]float64, len(g.Columns))
	least = make([]float64, len(g.Columns))
	add := func(i int, face typeface.Face, text string) {
		for line := range strings.SplitSeq(text, "\n") {
			like[i] = max(like[i], face.Width(line, g.size)+2*cellPad)
		}
		least[i] = max(least[i], min(face.Longest(text, g.size)+2*cellPad, longestShare*width))
	}
	for i, c := range g.Columns {
		add(i, typeface.Bold, c.Head)
	}
	for _, row := range g.Rows {
		for i, c := range row {
			if c.Span > 1 || i >= len(like) {
				break
			}
			add(i, cellFace(c), cellText(c))
		}
	}
	return like, least
}

func sum(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

// share divides the width of the page among the columns.
func share(columns []document.Column, like, least []float64) []float64 {
	w := make([]float64, len(like))
	all, few := sum(like), sum(least)
	switch {
	case all <= width: // everything fits on one line: spare width goes to the columns by weight
		weights := 0.0
		for i := range w {
			weights += weight(columns[i])
		}
		for i := range w {
			w[i] = like[i] + (width-all)*weight(columns[i])/weights
		}
	case few <= width: // narrow columns keep their lines, the widest wrap
		limit := level(width, func(c float64) float64 {
			total := 0.0
			for i := range like {
				total += max(least[i], min(like[i], c*wide(columns[i])))
			}
			return total
		})
		for i := range w {
			w[i] = max(least[i], min(like[i], limit*wide(columns[i])))
		}
	default: // words must break: those of the widest columns do
		limit := level(width, func(c float64) float64 {
			total := 0.0
			for i := range least {
				total += min(least[i], c)
			}
			return total
		})
		for i := range w {
			w[i] = min(least[i], limit)
		}
	}
	return w
}

// wide is how many times the width of the others a column of long texts may take.
func wide(c document.Column) float64 { return max(c.Weight, 1) }

// level returns the largest c, at most the room, for which total(c), which rises with c, fits the room.
func level(room float64, total func(float64) float64) float64 {
	low, high := 0.0, room
	for range 50 {
		if c := (low + high) / 2; total(c) > room {
			high = c
		} else {
			low = c
		}
	}
	return low
}

func weight(c document.Column) float64 {
	switch {
	case c.Weight > 0:
		return c.Weight
	case c.Right:
		return 0.4
	}
	return 1
}

// cellLines wraps one cell.
func (g grid) cellLines(c document.Cell, i int) []string {
	return cellFace(c).Wrap(cellText(c), g.size, g.cellWidth(c, i)-2*cellPad+1e-6)
}

func (g grid) cellWidth(c document.Cell, i int) float64 {
	w := 0.0
	for k := i; k < min(i+max(c.Span, 1), len(g.w)); k++ {
		w += g.w[k]
	}
	return w
}

func (g grid) rowHeight(row []document.Cell) float64 {
	n := 1
	for i, c := range row {
		if i < len(g.w) {
			n = max(n, len(g.cellLines(c, i)))
		}
	}
	h := float64(n)*g.lead + 1.8
	if g.Tall {
		h = max(h, 8.5)
	}
	return h
}

func (g grid) headHeight() float64 {
	n := 1
	for i, c := range g.Columns {
		n = max(n, len(typeface.Bold.Wrap(c.Head, g.size, g.w[i]-2*cellPad+1e-6)))
	}
	return float64(n)*g.lead + 2
}

// table places a table; its head is repeated on every page it reaches.
func (l *layout) table(t document.Table) {
	if len(t.Columns) == 0 {
		return
	}
	g := newGrid(t)
	head := g.headHeight()
	l.y += 1
	if most := l.foot() - top; t.Tall && l.after > 0 && l.y > top+most/2 {
		if h := l.opening(g) + l.tail(g, min(2, len(g.Rows))) + l.after; l.y+h > l.foot() && h <= most {
			l.newPage() // a form to sign is whole where it may be, and no page is nearly empty
		}
	}
	l.need(l.opening(g))
	label := ""
	if t.Caption != "" {
		l.tables++
		label = l.tableLabel(l.tables)
	}
	if label != "" {
		l.y += l.caption(label, t.Caption, left, l.y, width) + 1.2
	}
	l.head(g, head)
	for i, row := range g.Rows {
		h := g.rowHeight(row)
		if l.y+h > l.foot() || l.leads(g, i) || l.strands(g, i) {
			l.close()
			l.newPage()
			if label != "" {
				l.text(left, l.y+2.4, label+" ("+l.doc.Labels.Continued+")", typeface.Bold, smallSize, drawing.Sea)
				l.y += smallLead + 1.2
			}
			l.head(g, head)
		}
		l.row(g, row, h, i)
	}
	l.close()
	if t.Note != "" {
		l.y += 1
		for _, s := range typeface.Regular.Wrap(t.Note, smallSize, width) {
			l.need(smallLead)
			l.text(left, l.y+ascent(smallSize, smallLead), s, typeface.Regular, smallSize, drawing.Slate)
			l.y += smallLead
		}
	}
	l.y += l.air(4)
}

// together is how many rows at the end of a table stay with what must not stand alone after it: two, or as many of a
// blank form as fill half a page with it.
func (l *layout) together(g grid) int {
	n := 2
	for g.Tall && n < len(g.Rows)-2 && g.headHeight()+l.tail(g, len(g.Rows)-n)+l.after < (l.foot()-top)/2 {
		n++
	}
	return n
}

// leads reports whether row i begins those that go to the next page with what follows the table.
func (l *layout) leads(g grid, i int) bool {
	if l.after == 0 || i == 0 || i != len(g.Rows)-l.together(g) {
		return false
	}
	return l.y+l.tail(g, i)+l.after > l.foot()
}

// tail is the room that the rows of a table from the i-th on take with its note.
func (l *layout) tail(g grid, i int) float64 {
	h := 5.0
	for _, row := range g.Rows[i:] {
		h += g.rowHeight(row)
	}
	return h + g.noteHeight()
}

// lastRows is how many rows at the end of a table keep together with its note: a sum belongs to what it sums.
const lastRows = 3

// mostTail is the most room that rows take to be kept together [mm].
const mostTail = 60.0

// strands reports whether row i begins the last rows of a table, where not all of them have room here with the note.
func (l *layout) strands(g grid, i int) bool {
	if i < max(2, len(g.Rows)-lastRows) || g.Tall {
		return false
	}
	h := g.noteHeight()
	for _, row := range g.Rows[i:] {
		h += g.rowHeight(row)
	}
	return h <= mostTail && l.y+h > l.foot()
}

// noteHeight is the room that the note under a table takes.
func (g grid) noteHeight() float64 {
	if g.Note == "" {
		return 0
	}
	return 1 + float64(len(typeface.Regular.Wrap(g.Note, smallSize, width)))*smallLead
}

func (l *layout) tableLabel(n int) string { return fmt.Sprintf("%s %d", l.doc.Labels.Table, n) }

// opening is the room that the caption, the head and the first two rows of the next table take: they stay together. Of a
// short table all rows do, with the note.
func (l *layout) opening(g grid) float64 {
	h := g.headHeight() + 4
	whole := h + g.noteHeight()
	for i, row := range g.Rows {
		whole += g.rowHeight(row)
		if i < 2 {
			h += g.rowHeight(row)
		}
	}
	if !g.Tall && whole <= mostTail {
		h = whole
	}
	if g.Caption != "" {
		h += float64(len(l.captionLines(l.tableLabel(l.tables+1), g.Caption, width)))*smallLead + 1.2
	}
	return h
}

// head draws the column heads.
func (l *layout) head(g grid, h float64) {
	y := l.y
	l.draw(func(c canvas) {
		c.rule(left, y, right, y, 0.35, drawing.Sea)
		c.rule(left, y+h, right, y+h, 0.18, drawing.Sea)
	})
	for i, c := range g.Columns {
		lines := typeface.Bold.Wrap(c.Head, g.size, g.w[i]-2*cellPad+1e-6)
		// heads stand on the rule below them
		at := y + h - 0.9 - float64(len(lines))*g.lead
		l.cell(lines, typeface.Bold, c.Right, g.x[i], at, g.w[i], g.size, g.lead, drawing.Sea)
	}
	l.y += h
}

// row draws one row; every second one is shaded.
func (l *layout) row(g grid, row []document.Cell, h float64, index int) {
	y := l.y
	switch {
	case g.Tall:
		l.draw(func(c canvas) {
			c.rule(left, y+h, right, y+h, 0.15, drawing.Mist)
			for _, x := range g.x[1:] {
				c.rule(x, y, x, y+h, 0.12, drawing.Mist)
			}
		})
	case index%2 == 1:
		l.draw(func(c canvas) { c.fill(left, y, width, h, drawing.Foam) })
	}
	for i, c := range row {
		if i < len(g.w) {
			at := y + 0.9
			if g.Tall {
				at = y + (h-float64(len(g.cellLines(c, i)))*g.lead)/2
			}
			l.cell(g.cellLines(c, i), cellFace(c), g.Columns[i].Right && c.Span < 2, g.x[i], at, g.cellWidth(c, i), g.size, g.lead, c.Tone.Colour())
		}
	}
	l.y += h
}

func (l *layout) cell(lines []string, face typeface.Face, alignRight bool, x, y, w, size, lead float64, colour drawing.Colour) {
	for i, s := range lines {
		base := y + float64(i)*lead + ascent(size, lead)
		if alignRight {
			l.textRight(x+w-cellPad, base, s, face, size, colour)
		} else {
			l.text(x+cellPad, base, s, face, size, colour)
		}
	}
}

// close draws the rule under a table.
func (l *layout) close() {
	y := l.y
	l.draw(func(c canvas) { c.rule(left, y, right, y, 0.35, drawing.Sea) })
}
