package pdf

import (
	"fmt"
	"io"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

// The page: A4, one column with room for chapter numbers at its left [mm].
const (
	pageWidth  = 210.0
	pageHeight = 297.0
	left       = 26.0
	right      = 190.0
	width      = right - left
	top        = 27.0
	bottom     = 273.0
)

// Sizes of type with their leading [mm].
const (
	bodySize, bodyLead   = 3.2, 4.7
	tableSize, tableLead = 2.8, 3.8
	smallSize, smallLead = 2.55, 3.5
)

// WriteDocument lays a document out and writes it. Letters that the fonts lack are shown as boxes; the
// second result names them.
func WriteDocument(w io.Writer, d *document.Document) (missing []rune, err error) {
	l := &layout{doc: d, seen: map[rune]bool{}}
	l.run()
	c := newCanvas(pageWidth, pageHeight, about{
		title: strings.TrimSpace(d.Kind + " " + d.Title), subject: d.Subtitle, author: d.Head.Name, language: d.Language, date: d.Date,
	})
	l.logo.register(c)
	for i, p := range l.pages {
		c.AddPageFormat("", fpdf.SizeType{Wd: pageWidth, Ht: pageHeight})
		for _, b := range p.marks {
			c.Bookmark(b.text, b.level, b.y)
		}
		if !p.bare {
			l.frame(c, i+1)
		}
		for _, op := range p.ops {
			op(c)
		}
	}
	return l.missing, c.finish(w)
}

// layout places blocks on pages. Nothing is drawn until every page is known, so that a page can name the
// number of the last one.
type layout struct {
	doc      *document.Document
	pages    []*page
	y        float64 // where the next block starts
	tight    float64 // share of the air between blocks that is left out
	short    int     // the page that ends earlier than it could, from 1; 0 is none
	cut      float64 // by how much [mm]
	after    float64 // room that the end of the block at hand leaves for what must not stand alone after it
	chapter  int
	section  int
	figures  int
	tables   int
	logo     picture
	contents []entry
	seen     map[rune]bool
	missing  []rune
}

type page struct {
	ops   []func(canvas)
	marks []mark
	bare  bool // without running head and foot
}

type mark struct {
	text  string
	level int
	y     float64
}

// entry is a line of the table of contents.
type entry struct {
	number, text string
	page         int
}

// run places everything so that no page but a single one is nearly empty: where the last would be, a little less air
// between the blocks saves it, or else the page before leaves it more.
func (l *layout) run() {
	l.logo.data = l.doc.Head.Logo
	l.lay(0, 0, 0)
	if !l.sparse() {
		return
	}
	pages := len(l.pages)
	for tenths := 2; tenths <= tightest; tenths++ {
		if l.lay(float64(tenths)/10, 0, 0); len(l.pages) < pages && !l.sparse() {
			return
		}
	}
	const step, most = 5.0, (bottom - top) / 2
	for cut := step; cut <= most; cut += step {
		if l.lay(0, pages-1, cut); len(l.pages) == pages && !l.sparse() {
			return
		}
	}
	l.lay(0, 0, 0)
}

// tightest is how many tenths of the air between blocks may be left out.
const tightest = 7

// leastFill is the share of a page below which it looks forgotten. Judgement.
const leastFill = 1. / 3

// sparse reports whether the last of several pages is nearly empty.
func (l *layout) sparse() bool {
	pages := len(l.pages)
	if l.doc.Cover != nil {
		pages--
	}
	return pages > 1 && l.y-top < leastFill*(bottom-top)
}

// foot is where the page at hand ends [mm].
func (l *layout) foot() float64 {
	if len(l.pages) == l.short {
		return bottom - l.cut
	}
	return bottom
}

// air is the room left free between blocks, of what it is at most [mm].
func (l *layout) air(most float64) float64 { return most * (1 - l.tight) }

// lay places everything anew.
func (l *layout) lay(tight float64, short int, cut float64) {
	*l = layout{doc: l.doc, logo: l.logo, tight: tight, short: short, cut: cut, seen: map[rune]bool{}}
	for _, s := range []string{l.doc.Kind, l.doc.Title, l.doc.Number, l.doc.Foot} { // of the frame of every page
		l.lacks(typeface.Regular, s)
	}
	if l.doc.Cover != nil {
		l.cover(*l.doc.Cover)
	}
	l.newPage()
	blocks := l.doc.Blocks
	for i := 0; i < len(blocks); i++ {
		if f, ok := blocks[i].(document.Figure); ok && f.Half && i+1 < len(blocks) {
			if g, ok := blocks[i+1].(document.Figure); ok && g.Half {
				l.figurePair(f, g)
				i++
				continue
			}
		}
		l.block(blocks[i], blocks[i+1:])
	}
}

// block places one block; rest are those after it, for headings that must not stand alone.
func (l *layout) block(b document.Block, rest []document.Block) {
	l.after = l.closing(rest)
	switch b := b.(type) {
	case document.Heading:
		l.heading(b, l.least(rest))
	case document.Paragraph:
		l.paragraph(b)
	case document.List:
		l.list(b)
	case document.Table:
		l.table(b)
	case document.Figure:
		l.figure(b)
	case document.Panel:
		l.panel(b)
	case document.Facts:
		l.facts(b)
	case document.Form:
		l.form(b, len(rest) == 0)
	case document.Contents:
		l.listContents()
	case document.Break:
		if l.y > top {
			l.newPage()
		}
	}
}

// least is the room that the start of the next block takes, so that its heading stays with it.
func (l *layout) least(rest []document.Block) float64 {
	if len(rest) == 0 {
		return 0
	}
	switch b := rest[0].(type) {
	case document.Figure:
		_, h := figureSize(b, width)
		return h + 12
	case document.Heading:
		return 12 + l.least(rest[1:])
	case document.Paragraph: // a short one belongs to what it introduces
		lines := len(leadLines(b.Lead, b.Text, width))
		if lines <= 3 {
			return float64(lines)*bodyLead + 2 + min(l.least(rest[1:]), 130)
		}
	case document.Table:
		return 1 + l.opening(newGrid(b))
	case document.Panel:
		return min(l.panelHeight(b), 60)
	case document.Form:
		if len(rest) == 1 {
			return min(formHeight(b), wholeForm)
		}
		return min(formHeight(b), 3*formRow)
	}
	return 3 * bodyLead
}

// wholeForm is the height up to which the form at the end of a paper is kept on one page [mm].
const wholeForm = 90

// closing is the room of a short form to sign, with its heading, that ends the paper: alone on a page it would not say
// what is signed.
func (l *layout) closing(rest []document.Block) float64 {
	heading := 0.0
	if len(rest) == 2 {
		if h, ok := rest[0].(document.Heading); ok {
			heading, rest = l.headingRoom(h), rest[1:]
		}
	}
	if len(rest) != 1 {
		return 0
	}
	if f, ok := rest[0].(document.Form); ok {
		if h := formHeight(f); h <= wholeForm {
			return heading + h
		}
	}
	return 0
}

// headingRoom is what a heading takes above what it heads, at most.
func (l *layout) headingRoom(h document.Heading) float64 {
	if h.Level <= 1 {
		return l.air(7) + 6.6*float64(len(typeface.Bold.Wrap(h.Text, 5.4, width))) + 6
	}
	return 2.4 + l.air(3.6) + 5*float64(len(typeface.Bold.Wrap(h.Text, 3.7, width)))
}

// withClosing makes room for a block of a height; where a form to sign follows that ends the paper, together with it and
// the gap between them, if all that fits on one page.
func (l *layout) withClosing(h, gap float64) {
	if all := h + gap + l.after; l.after > 0 && all <= l.foot()-top {
		h = all
	}
	l.need(h)
}

func (l *layout) newPage() {
	l.pages = append(l.pages, &page{})
	l.y = top
}

func (l *layout) page() *page { return l.pages[len(l.pages)-1] }

// draw adds an operation to the page at hand.
func (l *layout) draw(op func(canvas)) {
	p := l.page()
	p.ops = append(p.ops, op)
}

// need starts a new page unless h millimetres are left on this one.
func (l *layout) need(h float64) {
	if l.y+h > l.foot() && l.y > top {
		l.newPage()
	}
}

// text places one line with its base line at y.
func (l *layout) text(x, y float64, s string, face typeface.Face, size float64, colour drawing.Colour) {
	l.lacks(face, s)
	l.draw(func(c canvas) { c.text(x, y, s, face, size, colour) })
}

// lacks collects the letters of a text that a face lacks.
func (l *layout) lacks(face typeface.Face, s string) {
	for _, r := range face.Missing(s) {
		if !l.seen[r] {
			l.seen[r] = true
			l.missing = append(l.missing, r)
		}
	}
}

// textRight places one line that ends at x.
func (l *layout) textRight(x, y float64, s string, face typeface.Face, size float64, colour drawing.Colour) {
	l.text(x-face.Width(s, size), y, s, face, size, colour)
}

// ascent is how far below the top of a line of the given lead its base line lies.
func ascent(size, lead float64) float64 { return (lead-size)/2 + 0.78*size }

// lines writes wrapped lines from the top edge y and returns their height.
func (l *layout) lines(x, y float64, lines []string, face typeface.Face, size, lead float64, colour drawing.Colour) float64 {
	for i, s := range lines {
		l.text(x, y+float64(i)*lead+ascent(size, lead), s, face, size, colour)
	}
	return float64(len(lines)) * lead
}

// frame draws the running head and the foot of a page.
func (l *layout) frame(c canvas, number int) {
	d := l.doc
	const headY, footY, size = 15.0, 283.0, 2.5
	x := left
	if d.Kind != "" {
		c.text(x, headY, d.Kind, typeface.Bold, size, drawing.Sea)
		x += typeface.Bold.Width(d.Kind, size) + 3
	}
	room := right - x - typeface.Regular.Width(d.Number, size) - 6
	c.text(x, headY, typeface.Regular.Fit(d.Title, size, room), typeface.Regular, size, drawing.Slate)
	c.text(right-typeface.Regular.Width(d.Number, size), headY, d.Number, typeface.Regular, size, drawing.Slate)
	c.rule(left, headY+2.2, right, headY+2.2, 0.15, drawing.Mist)

	c.rule(left, footY-4.4, right, footY-4.4, 0.15, drawing.Mist)
	pageOf := fmt.Sprintf(l.doc.Labels.Page, number, len(l.pages))
	room = width - typeface.Regular.Width(pageOf, size) - 6
	c.text(left, footY, typeface.Regular.Fit(d.Foot, size, room), typeface.Regular, size, drawing.Slate)
	c.text(right-typeface.Regular.Width(pageOf, size), footY, pageOf, typeface.Regular, size, drawing.Slate)
}
