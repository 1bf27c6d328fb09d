package pdf

import (
	"fmt"
	"strings"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

// heading places a heading with room for what follows.
func (l *layout) heading(h document.Heading, follow float64) {
	switch {
	case h.Level <= 1:
		l.chapter++
		l.section = 0
		lines := typeface.Bold.Wrap(h.Text, 5.4, width)
		if l.y > top {
			l.y += l.air(7)
		}
		l.need(float64(len(lines))*6.6 + 6 + follow)
		number := fmt.Sprint(l.chapter)
		y := l.y
		l.mark(number+"  "+h.Text, 0)
		l.contents = append(l.contents, entry{number, h.Text, len(l.pages)})
		l.draw(func(c canvas) { c.fill(left, y, 14, 0.9, drawing.Sea) })
		l.y += 2.6
		l.textRight(left-3.5, l.y+ascent(5.4, 6.6), number, typeface.Regular, 5.4, drawing.Sea)
		l.y += l.lines(left, l.y, lines, typeface.Bold, 5.4, 6.6, drawing.Ink)
		l.y += l.air(2.4)
	case h.Level == 2:
		lines := typeface.Bold.Wrap(h.Text, 3.7, width)
		if l.y > top {
			l.y += l.air(3.6)
		}
		l.need(float64(len(lines))*5 + 2 + follow)
		l.section++
		l.mark(h.Text, 1)
		l.y += l.lines(left, l.y, lines, typeface.Bold, 3.7, 5, drawing.Sea)
		l.y += 1.2
	default:
		lines := typeface.Bold.Wrap(h.Text, bodySize, width)
		if l.y > top {
			l.y += 1.8
		}
		l.need(float64(len(lines))*bodyLead + follow)
		l.y += l.lines(left, l.y, lines, typeface.Bold, bodySize, bodyLead, drawing.Ink)
		l.y += 0.4
	}
}

func (l *layout) mark(text string, level int) {
	p := l.page()
	p.marks = append(p.marks, mark{text, level, l.y})
}

// paragraph places running text, broken over pages where it must be.
func (l *layout) paragraph(p document.Paragraph) {
	if l.after > 0 {
		if h := float64(len(leadLines(p.Lead, p.Text, width))) * bodyLead; h <= wholeForm {
			l.need(h + l.air(2) + l.after)
		}
	}
	l.flow(p.Lead, p.Text, left, width, p.Tone.Colour())
	l.y += l.air(2)
}

// flow sets text with a bold lead in a column, line by line over pages.
func (l *layout) flow(lead, text string, x, w float64, colour drawing.Colour) {
	for i, line := range leadLines(lead, text, w) {
		l.need(bodyLead)
		base := l.y + ascent(bodySize, bodyLead)
		at := x
		if i == 0 && lead != "" {
			l.text(at, base, line.lead, typeface.Bold, bodySize, colour)
			at += typeface.Bold.Width(line.lead+" ", bodySize)
		} else if line.lead != "" {
			l.text(at, base, line.lead, typeface.Bold, bodySize, colour)
			at += typeface.Bold.Width(line.lead, bodySize)
		}
		l.text(at, base, line.text, typeface.Regular, bodySize, colour)
		l.y += bodyLead
	}
}

// leadLine is a line that starts bold.
type leadLine struct{ lead, text string }

// leadLines wraps text after a bold lead. A lead wider than half the column stands on lines of its own.
func leadLines(lead, text string, w float64) []leadLine {
	var out []leadLine
	if lead == "" {
		for _, s := range typeface.Regular.Wrap(text, bodySize, w) {
			out = append(out, leadLine{text: s})
		}
		return out
	}
	taken := typeface.Bold.Width(lead+" ", bodySize)
	if taken > w/2 {
		for _, s := range typeface.Bold.Wrap(lead, bodySize, w) {
			out = append(out, leadLine{lead: s})
		}
		return append(out, leadLines("", text, w)...)
	}
	first := typeface.Regular.Wrap(text, bodySize, w-taken)
	out = append(out, leadLine{lead, first[0]})
	rest := strings.TrimLeft(strings.TrimPrefix(text, first[0]), " \n")
	if rest != "" {
		out = append(out, leadLines("", rest, w)...)
	}
	return out
}

// indent is where the text of an item begins.
const indent = 6.0

// itemsHeight is the room that items take at the end of a list.
func (l *layout) itemsHeight(items []string) float64 {
	h := l.air(1.4)
	for _, item := range items {
		h += float64(len(typeface.Regular.Wrap(item, bodySize, width-indent)))*bodyLead + l.air(0.7)
	}
	return h
}

// list places items with a sign, a number or a box to tick.
func (l *layout) list(b document.List) {
	for i, item := range b.Items {
		lines := typeface.Regular.Wrap(item, bodySize, width-indent)
		l.need(min(float64(len(lines)), 2) * bodyLead)
		if i == min(2, len(b.Items)-1) && l.after > 0 { // most of a list goes with what is signed under it
			l.need(min(l.itemsHeight(b.Items[i:]), l.foot()-top-l.after) + l.after)
		}
		if i == len(b.Items)-1 && l.after > 0 {
			l.need(float64(len(lines))*bodyLead + l.air(2.1) + l.after)
		}
		y := l.y
		base := y + ascent(bodySize, bodyLead)
		switch {
		case b.Boxes:
			l.draw(func(c canvas) { c.frame(left+0.4, y+0.9, 2.9, 2.9, 0.25, drawing.Slate) })
		case b.Numbered:
			l.text(left, base, fmt.Sprintf("%d", i+1), typeface.Bold, bodySize, drawing.Sea)
		default:
			l.draw(func(c canvas) { c.fill(left+0.8, y+1.95, 1.6, 0.5, drawing.Sea) })
		}
		for _, s := range lines {
			l.need(bodyLead)
			l.text(left+indent, l.y+ascent(bodySize, bodyLead), s, typeface.Regular, bodySize, drawing.Ink)
			l.y += bodyLead
		}
		l.y += l.air(0.7)
	}
	l.y += l.air(1.4)
}

const (
	panelPad = 4.0
	panelIn  = width - 2*panelPad - 1.2
)

// panelLines wraps the text of a panel.
func panelLines(p document.Panel) (title, text []string, items [][]string) {
	if p.Title != "" {
		title = typeface.Bold.Wrap(p.Title, bodySize+0.3, panelIn)
	}
	if p.Text != "" {
		text = typeface.Regular.Wrap(p.Text, bodySize, panelIn)
	}
	for _, item := range p.Items {
		items = append(items, typeface.Regular.Wrap(item, bodySize, panelIn-5))
	}
	return title, text, items
}

func (l *layout) panelHeight(p document.Panel) float64 {
	title, text, items := panelLines(p)
	h := 2*panelPad - 1 + float64(len(title))*(bodyLead+0.3) + float64(len(text))*bodyLead
	for _, item := range items {
		h += float64(len(item))*bodyLead + 0.6
	}
	return h
}

// panel places a boxed remark; one taller than a page loses its box and flows.
func (l *layout) panel(p document.Panel) {
	h := l.panelHeight(p)
	if h > bottom-top {
		l.heading(document.Heading{Level: 3, Text: p.Title}, bodyLead)
		if p.Text != "" {
			l.paragraph(document.Paragraph{Text: p.Text})
		}
		l.list(document.List{Items: p.Items})
		return
	}
	l.y += 1
	l.withClosing(h, 3.4)
	y := l.y
	accent := p.Tone.Colour()
	if p.Tone == document.Plain || p.Tone == document.Strong {
		accent = drawing.Slate
	}
	l.draw(func(c canvas) {
		c.fill(left, y, width, h, accent.Mix(drawing.White, 0.93))
		c.fill(left, y, 1.2, h, accent)
	})
	title, text, items := panelLines(p)
	x := left + panelPad + 1.2
	at := y + panelPad - 0.5
	at += l.lines(x, at, title, typeface.Bold, bodySize+0.3, bodyLead+0.3, accent.Mix(drawing.Ink, 0.25))
	at += l.lines(x, at, text, typeface.Regular, bodySize, bodyLead, drawing.Ink)
	for _, item := range items {
		mid := at + 1.95
		l.draw(func(c canvas) { c.fill(x+0.6, mid, 1.6, 0.5, accent) })
		at += l.lines(x+5, at, item, typeface.Regular, bodySize, bodyLead, drawing.Ink) + 0.6
	}
	l.y = y + h + l.air(3.4)
}

// facts places names and values in two columns of pairs.
func (l *layout) facts(f document.Facts) {
	const gutter = 8.0
	column := (width - gutter) / 2
	for i := 0; i < len(f.Pairs); i += 2 {
		row := f.Pairs[i:min(i+2, len(f.Pairs))]
		h := 0.0
		for _, p := range row {
			h = max(h, factHeight(p, column))
		}
		if i+2 >= len(f.Pairs) {
			l.withClosing(h, 2.4)
		} else {
			l.need(h)
		}
		for k, p := range row {
			l.fact(p, left+float64(k)*(column+gutter), l.y, column)
		}
		l.y += h
	}
	l.y += 2.4
}

const factShare = 0.42 // of a fact's width that its name takes

func factHeight(p document.Pair, w float64) float64 {
	names := typeface.Regular.Wrap(p.Name, tableSize, w*factShare-2)
	values := typeface.Regular.Wrap(p.Value, tableSize, w*(1-factShare))
	return float64(max(len(names), len(values)))*tableLead + 2
}

func (l *layout) fact(p document.Pair, x, y, w float64) {
	l.draw(func(c canvas) { c.rule(x, y, x+w, y, 0.12, drawing.Mist) })
	l.lines(x, y+1, typeface.Regular.Wrap(p.Name, tableSize, w*factShare-2), typeface.Regular, tableSize, tableLead, drawing.Slate)
	l.lines(x+w*factShare, y+1, typeface.Regular.Wrap(p.Value, tableSize, w*(1-factShare)), typeface.Regular, tableSize, tableLead, drawing.Ink)
}

// listContents places the list of chapters. Their pages are known only when it is drawn.
func (l *layout) listContents() {
	const lead = 6.0
	chapters := 0
	for _, b := range l.doc.Blocks {
		if h, ok := b.(document.Heading); ok && h.Level <= 1 {
			chapters++
		}
	}
	l.need(lead * float64(min(chapters, 6)+1))
	l.text(left, l.y+ascent(3.7, lead), l.doc.Labels.Contents, typeface.Bold, 3.7, drawing.Sea)
	l.y += lead + 1
	for i := range chapters {
		l.need(lead)
		y := l.y
		l.draw(func(c canvas) {
			e := l.contents[i]
			base := y + ascent(bodySize, lead)
			page := fmt.Sprint(e.page)
			c.rule(left, y, right, y, 0.12, drawing.Mist)
			c.text(left, base, e.number, typeface.Bold, bodySize, drawing.Sea)
			c.text(left+8, base, typeface.Regular.Fit(e.text, bodySize, width-20), typeface.Regular, bodySize, drawing.Ink)
			c.text(right-typeface.Regular.Width(page, bodySize), base, page, typeface.Regular, bodySize, drawing.Slate)
		})
		l.y += lead
	}
	l.y += 4
}
