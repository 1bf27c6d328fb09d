package pdf

import (
	"strings"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

// cover places the first page: letterhead, title on a band of colour, the answer, and what it is about.
func (l *layout) cover(v document.Cover) {
	l.pages = append(l.pages, &page{bare: true})
	d := l.doc
	l.letterhead(14)

	// The band with the title.
	const bandTop = 40.0
	title := typeface.Bold.Wrap(d.Title, 9, width)
	if len(title) > 3 {
		title = typeface.Bold.Wrap(d.Title, 7, width)
	}
	subtitle := typeface.Regular.Wrap(d.Subtitle, 4, width)
	lead := 11.0
	size := 9.0
	if len(title) > 2 {
		lead, size = 8.8, 7
	}
	bandH := 14 + float64(len(title))*lead + float64(len(subtitle))*5.6 + 10
	l.draw(func(c canvas) {
		c.fill(0, bandTop, pageWidth, bandH, drawing.Sea)
		c.fill(0, bandTop+bandH, pageWidth, 1.2, drawing.Ochre)
	})
	y := bandTop + 7
	l.text(left, y+3, d.Kind, typeface.Bold, 3.6, drawing.Shoal)
	l.textRight(right, y+3, d.Number, typeface.Regular, 3.6, drawing.Shoal)
	y += 7.5
	y += l.lines(left, y, title, typeface.Bold, size, lead, drawing.White)
	if d.Subtitle != "" {
		y += 1.5 + l.lines(left, y+1.5, subtitle, typeface.Regular, 4, 5.6, drawing.Shoal)
	}

	y = bandTop + bandH + 10
	y = l.coverAnswer(v, y)
	y = l.coverPoints(v.Points, y)
	y = l.coverFacts(v, y)
	if v.Figure != nil && v.Figure.Drawing != nil {
		room := 284 - y - 6
		factor := min(1, width/v.Figure.Drawing.Width, room/v.Figure.Drawing.Height)
		if factor > 0.35 {
			fd := v.Figure.Drawing
			l.draw(func(c canvas) { c.draw(fd, left+(width-fd.Width*factor)/2, y+4, factor) })
			l.note(fd)
		}
	}
	l.mark(strings.TrimSpace(d.Kind+" "+d.Number), 0)
}

// letterhead places logo, name and address at the head of the page.
func (l *layout) letterhead(y float64) {
	h := l.doc.Head
	logo := l.logo.place(l, left, y-4, 50, 18)
	if logo == 0 && h.Name != "" {
		l.text(left, y+4, typeface.Bold.Fit(h.Name, 5, width*0.6), typeface.Bold, 5, drawing.Ink)
	}
	at := y
	lines := h.Lines
	if logo > 0 && h.Name != "" {
		lines = append([]string{h.Name}, lines...)
	}
	for i, s := range lines {
		if i == 5 {
			break
		}
		face := typeface.Regular
		if i == 0 && logo > 0 {
			face = typeface.Bold
		}
		l.textRight(right, at, face.Fit(s, 2.6, width*0.45), face, 2.6, drawing.Slate)
		at += 3.7
	}
}

// coverAnswer places the verdict with its sentence.
func (l *layout) coverAnswer(v document.Cover, y float64) float64 {
	if v.Verdict == "" && v.Answer == "" {
		return y
	}
	colour := v.Tone.Colour()
	word := strings.TrimSpace(v.Tone.Sign() + " " + v.Verdict)
	answer := typeface.Regular.Wrap(v.Answer, 3.6, width-8)
	h := 11 + float64(len(answer))*5.2 + 3
	l.draw(func(c canvas) {
		c.fill(left, y, width, h, colour.Mix(drawing.White, 0.93))
		c.fill(left, y, 1.6, h, colour)
	})
	l.text(left+6, y+8, word, typeface.Bold, 6, colour)
	l.lines(left+6, y+11.4, answer, typeface.Regular, 3.6, 5.2, drawing.Ink)
	return y + h + 8
}

// coverPoints places up to four figures side by side.
func (l *layout) coverPoints(points []document.Point, y float64) float64 {
	if len(points) == 0 {
		return y
	}
	const gutter = 5.0
	n := float64(len(points))
	w := (width - gutter*(n-1)) / n
	h := 0.0
	for i, p := range points {
		x := left + float64(i)*(w+gutter)
		colour := p.Tone.Colour()
		if p.Tone == document.Plain {
			colour = drawing.Sea
		}
		l.draw(func(c canvas) { c.rule(x, y, x+w, y, 0.5, colour) })
		size := 6.4
		for size > 3 && typeface.Bold.Width(p.Value, size)+typeface.Regular.Width(" "+p.Unit, 3) > w {
			size *= 0.94
		}
		l.text(x, y+8, p.Value, typeface.Bold, size, colour)
		l.text(x+typeface.Bold.Width(p.Value, size)+1.2, y+8, p.Unit, typeface.Regular, 3, drawing.Slate)
		words := typeface.Regular.Wrap(p.Words, smallSize, w)
		l.lines(x, y+10, words, typeface.Regular, smallSize, smallLead, drawing.Slate)
		h = max(h, 10+float64(len(words))*smallLead)
	}
	return y + h + 7
}

// coverFacts places the addressee and the facts in two columns.
func (l *layout) coverFacts(v document.Cover, y float64) float64 {
	const gutter = 10.0
	column := (width - gutter) / 2
	pairs := v.Facts
	if len(v.For) > 0 {
		pairs = append([]document.Pair{{Name: l.doc.Labels.For, Value: strings.Join(v.For, "\n")}}, pairs...)
	}
	half := (len(pairs) + 1) / 2
	low := y
	for k, run := range [][]document.Pair{pairs[:half], pairs[half:]} {
		at := y
		for _, p := range run {
			h := factHeight(p, column)
			if at+h > 286 { // the cover is one page: what does not fit is told inside
				break
			}
			l.fact(p, left+float64(k)*(column+gutter), at, column)
			at += h
		}
		low = max(low, at)
	}
	return low
}
