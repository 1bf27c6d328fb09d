package pdf

import (
	"fmt"
	"strings"
	"testing"

	"leste/render/document"
	"leste/render/drawing"
	"leste/render/typeface"
)

// A form to sign stood alone on the last page of an acceptance protocol.
func TestAFormToSignDoesNotStandAlone(t *testing.T) {
	form := document.Form{Fields: []document.Field{{Name: "Remarks", Rows: 4}, {Name: "For the customer"}, {Name: "For the supplier"}}}
	heading := document.Heading{Level: 2, Text: "Signatures"}
	chapter := document.Heading{Level: 1, Text: "What is left"}
	for name, before := range map[string]func(n int) document.Block{
		"table": func(n int) document.Block {
			table := document.Table{Caption: "Readings", Tall: n%2 == 0, Columns: []document.Column{{Head: "No."}, {Head: "Read"}}, Note: strings.Repeat("A note under the table. ", n%9)}
			for i := range n + 3 {
				table.Rows = append(table.Rows, document.Row(fmt.Sprint(i), ""))
			}
			return table
		},
		"list": func(n int) document.Block {
			return document.List{Items: strings.Split(strings.TrimSpace(strings.Repeat("item ", n+2)), " ")}
		},
		"paragraph": func(n int) document.Block {
			return document.Paragraph{Text: strings.Repeat("Words of a paragraph that has several lines. ", 3+n%20)}
		},
		"figure": func(n int) document.Block {
			return document.Figure{Drawing: &drawing.Drawing{Width: 100, Height: 20 + float64(n)}, Caption: "A figure"}
		},
		"panel": func(n int) document.Block {
			return document.Panel{Title: "Remark", Text: strings.Repeat("Words of a panel. ", 3+n%20), Items: []string{"one", "two"}}
		},
		"facts": func(n int) document.Block {
			return document.Facts{Pairs: make([]document.Pair, 2+n%12)}
		},
	} {
		for n := range 90 {
			for _, end := range [][]document.Block{{form}, {heading, form}, {chapter, form}} {
				l := &layout{doc: &document.Document{}, seen: map[rune]bool{}}
				l.newPage()
				l.y += float64(n) * 2.7
				b := before(n)
				l.block(b, end)
				pages := len(l.pages)
				for i := range end {
					l.block(end[i], end[i+1:])
				}
				if len(l.pages) != pages {
					t.Errorf("%s of size %d: %d blocks to sign stand alone on a page", name, n, len(end))
				}
				if l.y > bottom+formEnd {
					t.Errorf("%s of size %d: the form ends at %.1f mm", name, n, l.y)
				}
			}
		}
	}
}

// The set-up sheet of a job with one size ended on a page that was filled to a fifth.
func TestLawTheLastPageIsNotNearlyEmpty(t *testing.T) {
	item := document.List{Items: []string{"one", "two", "three", "four", "five"}, Boxes: true}
	short := document.Paragraph{Text: "A paragraph of one line."}
	figure := document.Figure{Drawing: &drawing.Drawing{Width: 100, Height: 30}, Caption: "A figure"}
	table := document.Table{Caption: "Readings", Columns: []document.Column{{Head: "No."}, {Head: "Read"}}, Rows: [][]document.Cell{document.Row("1", ""), document.Row("2", "")}, Note: "A note."}
	form := document.Form{Fields: []document.Field{{Name: "Date"}, {Name: "By"}, {Name: "Remarks", Rows: 3}}}
	saved, moved := 0, 0
	for n := 1; n < 160; n++ {
		d := &document.Document{}
		for i := range n {
			if i%5 == 0 {
				d.Add(document.Heading{Level: 1, Text: "A chapter"})
			}
			d.Add([]document.Block{short, item, short, table, short, figure, short}[i%7])
		}
		d.Add(form)
		plain := &layout{doc: d}
		plain.lay(0, 0, 0)
		l := &layout{doc: d}
		l.run()
		switch {
		case len(l.pages) > len(plain.pages):
			t.Errorf("%d blocks take %d pages, and %d as they fall", n, len(l.pages), len(plain.pages))
		case len(l.pages) < len(plain.pages):
			saved++
		case l.y > plain.y:
			moved++
		case l.tight != 0 || l.cut != 0:
			t.Errorf("%d blocks are moved for nothing", n)
		}
		if l.sparse() {
			t.Errorf("%d blocks: the last of %d pages ends at %.0f mm", n, len(l.pages), l.y)
		}
		if l.y > bottom+formEnd {
			t.Errorf("%d blocks: the form ends at %.1f mm", n, l.y)
		}
	}
	if saved < 5 || moved < 3 {
		t.Errorf("%d pages were saved, %d last ones fuller: too few to tell", saved, moved)
	}
}

func TestLawFieldsDoNotOverlap(t *testing.T) {
	f := document.Form{Fields: []document.Field{{Name: "a"}, {Name: "b", Wide: true}, {Name: "c"}, {Name: "d"}, {Name: "e", Rows: 3}, {Name: "g"}}}
	all, height := spots(f)
	for i, a := range all {
		if a.y+a.h > height {
			t.Errorf("field %d reaches to %.1f of %.1f mm", i, a.y+a.h, height)
		}
		for k, b := range all[:i] {
			side := a.wide || b.wide || a.right == b.right
			if side && a.y < b.y+b.h && b.y < a.y+a.h {
				t.Errorf("fields %d and %d overlap", k, i)
			}
		}
	}
	if height != 5*formRow+2*formLine {
		t.Errorf("the form is %.1f mm tall", height)
	}
}

// The longest question of the survey sheet was cut, and lost the units that it is asked in.
func TestLawTheNameOfAWideFieldIsWhole(t *testing.T) {
	for n := 1; n < 60; n++ {
		f := document.Field{Name: strings.TrimSpace(strings.Repeat("words ", n)), Hint: "mm, m, in, ft", Wide: true}
		lines := fieldName(f, true)
		if got := strings.Join(lines, " "); got != f.Name {
			t.Errorf("%d words are set as %q", n, got)
		}
		if used := typeface.Bold.Width(lines[len(lines)-1], smallSize) + 2; used+typeface.Regular.Width(f.Hint, smallSize-0.15) > width+1e-9 {
			t.Errorf("after %d words the hint has no room", n)
		}
	}
}

// The sum of an offer stood alone on the next page, and the note of a table too.
func TestLawTheEndOfATableKeepsTogether(t *testing.T) {
	broken := 0
	for n := range 120 {
		l := &layout{doc: &document.Document{}, seen: map[rune]bool{}}
		l.newPage()
		l.y += float64(n) * 2
		table := document.Table{Caption: "Positions", Columns: []document.Column{{Head: "Item"}, {Head: "Sum", Right: true}}, Note: strings.Repeat("A note. ", n%40)}
		for i := range 12 {
			table.Rows = append(table.Rows, document.Row(fmt.Sprintf("item %d", i), "1"))
		}
		l.block(table, nil)
		if len(l.pages) < 2 {
			continue
		}
		broken++
		g := newGrid(table)
		if least := g.headHeight() + lastRows*g.rowHeight(table.Rows[0]) + g.noteHeight(); l.y-top < least {
			t.Errorf("from %d mm on: the last page holds %.1f mm of the table, its last rows take %.1f mm", n*2, l.y-top, least)
		}
	}
	for n := range 120 { // of a table with a few tall rows the note is not left behind
		l := &layout{doc: &document.Document{}, seen: map[rune]bool{}}
		l.newPage()
		l.y += float64(n) * 2
		table := document.Table{Caption: "Duty", Columns: []document.Column{{Head: "Outlet"}, {Head: "Plenum", Right: true}}, Note: "A note."}
		for range 4 {
			table.Rows = append(table.Rows, document.Row(strings.Repeat("a name of many words ", 30), "1"))
		}
		l.block(table, nil)
		g := newGrid(table)
		if least := g.rowHeight(table.Rows[0]) + g.noteHeight(); len(l.pages) > 1 && l.y-top < least {
			t.Errorf("from %d mm on: the last page holds %.1f mm of a table with tall rows", n*2, l.y-top)
		}
	}
	if broken < 30 {
		t.Errorf("only %d tables broke", broken)
	}
}
