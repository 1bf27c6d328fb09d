// Package document is the one model of everything that is read: quotations, set-up sheets, forms. A
// Document is a run of blocks; the PDF and HTML writers lay it out. It holds words and figures that are
// final: nothing is computed, converted or translated after it.
package document

import (
	"time"

	"leste/render/drawing"
)

// A Document is one paper.
type Document struct {
	Kind     string // "Quotation": the running head
	Title    string
	Subtitle string
	Language string // BCP 47 tag
	Number   string // the paper's number with its revision, e.g. "Q-1042 rev B"
	Date     time.Time
	Labels   Labels
	Head     Letterhead
	Cover    *Cover
	Blocks   []Block
	Foot     string // small line at the foot of every page
}

// Labels are the few words that writers add themselves.
type Labels struct {
	Contents  string // "Contents"
	Page      string // "Page %d of %d"
	Figure    string // "Figure"
	Table     string // "Table"
	Continued string // "continued"
	For       string // "For": the addressee
}

// A Letterhead is who the paper comes from.
type Letterhead struct {
	Name  string
	Lines []string // address, telephone, mail
	Logo  []byte   // PNG or JPEG; nil for none
}

// A Cover is the first page: who it is for and the answer in short.
type Cover struct {
	For     []string // the addressee, a line each
	Facts   []Pair
	Tone    Tone
	Verdict string // the answer in one or two words
	Answer  string // the answer in a sentence or two
	Points  []Point
	Figure  *Figure
}

// A Point is one figure that carries the answer: value large, words small.
type Point struct {
	Value, Unit, Words string
	Tone               Tone
}

// A Pair is a name with its value.
type Pair struct{ Name, Value string }

// A Tone says how something is meant; writers give it a colour, a sign, or both.
type Tone uint8

// The tones.
const (
	Plain     Tone = iota
	Strong         // stands out
	Muted          // steps back
	Good           // met
	Bad            // not met
	Undecided      // cannot be said
	Info           // a remark
)

// Sign returns the sign that stands beside a tone, so that colour never carries it alone.
func (t Tone) Sign() string {
	switch t {
	case Good:
		return "●"
	case Bad:
		return "■"
	case Undecided:
		return "▲"
	}
	return ""
}

// Colour returns the colour of a tone.
func (t Tone) Colour() drawing.Colour {
	switch t {
	case Muted:
		return drawing.Slate
	case Good:
		return drawing.Fern
	case Bad:
		return drawing.Clay
	case Undecided:
		return drawing.Ochre
	case Info:
		return drawing.Sea
	}
	return drawing.Ink
}

// A Block is one piece of a document: Heading, Paragraph, List, Table, Figure, Panel, Facts, Form,
// Contents or Break.
type Block interface{ block() }

// A Heading starts a section. Level 1 is a chapter, 2 a section in it, 3 a run-in title.
type Heading struct {
	Level int
	Text  string
}

// A Paragraph is running text; Lead is set bold before it.
type Paragraph struct {
	Lead string
	Text string
	Tone Tone
}

// A List is a run of items.
type List struct {
	Items    []string
	Numbered bool
	Boxes    bool // a box to tick before each item
}

// A Table has a caption, columns and rows. A writer numbers it when it has a caption.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]Cell
	Note    string
	Tall    bool // rows with room to write in by hand
}

// A Column is one column of a table.
type Column struct {
	Head   string
	Right  bool    // figures
	Weight float64 // share of spare width; 0 means 1 for text and 0.4 for figures
}

// A Cell is one cell. Span cells that follow are covered by it when Span > 1.
type Cell struct {
	Text string
	Tone Tone
	Span int
}

// A Figure is a drawing with a caption.
type Figure struct {
	Drawing *drawing.Drawing
	Caption string
	Alt     string // what it shows, for those who cannot see it
	Half    bool   // two such figures in a row may stand side by side
}

// A Panel is a boxed remark.
type Panel struct {
	Tone  Tone
	Title string
	Text  string
	Items []string
}

// Facts is a list of names and values in columns.
type Facts struct {
	Pairs []Pair
}

// A Form is a run of lines to be filled in by hand.
type Form struct {
	Fields []Field
}

// A Field is one line of a form.
type Field struct {
	Name string
	Hint string
	Wide bool // takes the whole width
	Rows int  // lines of writing room; 0 means 1
}

// Contents lists the chapters with their pages.
type Contents struct{}

// A Break starts a new page.
type Break struct{}

func (Heading) block()   {}
func (Paragraph) block() {}
func (List) block()      {}
func (Table) block()     {}
func (Figure) block()    {}
func (Panel) block()     {}
func (Facts) block()     {}
func (Form) block()      {}
func (Contents) block()  {}
func (Break) block()     {}

// Add appends blocks.
func (d *Document) Add(blocks ...Block) { d.Blocks = append(d.Blocks, blocks...) }

// Row makes a table row of plain cells.
func Row(texts ...string) []Cell {
	row := make([]Cell, len(texts))
	for i, t := range texts {
		row[i] = Cell{Text: t}
	}
	return row
}
