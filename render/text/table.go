package text

import (
	"strings"

	"charm.land/lipgloss/v2"
)

// between columns [characters].
const columnGap = 2

// Table writes rows under their heads. Where it is wider than the style, the widest columns are wrapped,
// never narrower than their longest word; a column without anything in it is left out.
func Table(s Style, heads []string, rows [][]string) string {
	head, lines := layOut(s, heads, rows)
	return head + strings.Join(lines, "")
}

// layOut returns the head of a table and each of its rows.
func layOut(s Style, heads []string, rows [][]string) (head string, lines []string) {
	if len(rows) == 0 {
		return "", nil
	}
	columns := make([]column, 0, len(heads))
	for i, head := range heads {
		c := column{cells: make([]string, 0, len(rows)+1)}
		for _, row := range rows {
			c.add(row[i])
		}
		if c.width > 0 {
			c.head = s.paint(faint, head)
			c.add(head)
			c.cells = c.cells[:len(rows)]
			columns = append(columns, c)
		}
	}
	fit(columns, s.width())

	total := -columnGap
	for _, c := range columns {
		total += c.width + columnGap
	}
	head = line(columns, func(c column) string { return c.head }) + s.paint(faint, strings.Repeat("─", total)) + "\n"
	for i := range rows {
		lines = append(lines, line(columns, func(c column) string { return c.cells[i] }))
	}
	return head, lines
}

// A column is the cells under one head.
type column struct {
	head    string
	cells   []string
	width   int // characters
	longest int // characters of the longest word
}

// add appends a cell and widens the column to hold it.
func (c *column) add(cell string) {
	c.cells = append(c.cells, cell)
	c.width = max(c.width, lipgloss.Width(cell))
	for word := range strings.FieldsSeq(cell) {
		c.longest = max(c.longest, lipgloss.Width(word))
	}
}

// fit narrows the widest columns until all fit into the width, or nothing can be narrowed.
func fit(columns []column, width int) {
	total := -columnGap
	for _, c := range columns {
		total += c.width + columnGap
	}
	for ; total > width; total-- {
		widest := -1
		for i, c := range columns {
			if c.width > c.longest && (widest < 0 || c.width > columns[widest].width) {
				widest = i
			}
		}
		if widest < 0 {
			widest = 0
			for i, c := range columns {
				if c.width > columns[widest].width {
					widest = i
				}
			}
		}
		columns[widest].width--
	}
}

// line writes one cell of each column, wrapped, side by side.
func line(columns []column, cell func(column) string) string {
	blocks := make([]string, len(columns))
	for i, c := range columns {
		style := lipgloss.NewStyle().Width(c.width)
		if i < len(columns)-1 {
			style = style.Width(c.width + columnGap).PaddingRight(columnGap)
		}
		blocks[i] = style.Render(cell(c))
	}
	return trimRight(lipgloss.JoinHorizontal(lipgloss.Top, blocks...)) + "\n"
}
