package pdf

import (
	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

// Of forms [mm].
const (
	formGutter = 8.0
	formRow    = 11.0
	formLine   = 8.0 // each further line of writing room
	formEnd    = 2.0
)

// spot is where a field of a form goes: its column, and how far below the form's upper edge.
type spot struct {
	right bool
	wide  bool
	y, h  float64
}

// spots places the fields of a form, two in a row, and returns how tall they are together.
func spots(f document.Form) (all []spot, height float64) {
	right := false
	for _, field := range f.Fields {
		rows := max(field.Rows, 1)
		s := spot{wide: field.Wide || rows > 1, h: formRow + float64(rows-1)*formLine}
		s.h += float64(len(fieldName(field, s.wide))-1) * smallLead
		if s.wide && right {
			height += formRow
			right = false
		}
		s.right, s.y = right, height
		all = append(all, s)
		if right = !right && !s.wide; !right {
			height += s.h
		}
	}
	if right {
		height += formRow
	}
	return all, height
}

func formHeight(f document.Form) float64 {
	_, h := spots(f)
	return h + formEnd
}

// form places lines to be filled in by hand. A short one at the end of the paper stays on one page.
func (l *layout) form(f document.Form, last bool) {
	const column = halfForm
	all, height := spots(f)
	if last && height+formEnd <= wholeForm {
		l.need(height)
	}
	start, done := l.y, 0.0 // of the rows on this page: where they begin, and what is above them
	for i, field := range f.Fields {
		s := all[i]
		if !s.right && start+s.y-done+s.h > l.foot() && l.y > top {
			l.newPage()
			start, done = l.y, s.y
		}
		x, y, w := left, start+s.y-done, column
		if s.wide {
			w = width
		}
		if s.right {
			x += column + formGutter
		}
		l.field(field, x, y, w)
		l.y = y + s.h
	}
	l.y = start + height - done + formEnd
}

// halfForm is the width of one of two fields side by side.
const halfForm = (width - formGutter) / 2

// fieldName breaks the name of a wide field, so that it is whole and its hint has room behind it; one of two fields side
// by side stays on its line.
func fieldName(f document.Field, wide bool) []string {
	if !wide {
		return []string{typeface.Bold.Fit(f.Name, smallSize, halfForm)}
	}
	lines := typeface.Bold.Wrap(f.Name, smallSize, width)
	hint := min(typeface.Regular.Width(f.Hint, smallSize-0.15), width/2) + 2
	if f.Hint != "" && typeface.Bold.Width(lines[len(lines)-1], smallSize)+hint > width {
		lines = typeface.Bold.Wrap(f.Name, smallSize, width-hint)
	}
	return lines
}

// field draws the name of a field and the lines to write on.
func (l *layout) field(f document.Field, x, y, w float64) {
	lines := fieldName(f, w > halfForm)
	for i, line := range lines {
		l.text(x, y+2.8+float64(i)*smallLead, line, typeface.Bold, smallSize, drawing.Ink)
	}
	y += float64(len(lines)-1) * smallLead
	used := typeface.Bold.Width(lines[len(lines)-1], smallSize) + 2
	if f.Hint != "" && used < w-8 {
		l.text(x+used, y+2.8, typeface.Regular.Fit(f.Hint, smallSize-0.15, w-used), typeface.Regular, smallSize-0.15, drawing.Slate)
	}
	for r := range max(f.Rows, 1) {
		line := y + 9.2 + float64(r)*formLine
		l.draw(func(c canvas) { c.rule(x, line, x+w, line, 0.18, drawing.Slate) })
	}
}
