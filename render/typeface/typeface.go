// Package typeface holds the faces that every document is set in and measures text in them, so that a
// column or a title block knows what fits before anything is drawn.
package typeface

import (
	_ "embed" // the licence of the fonts
	"fmt"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansbolditalic"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Family is the name of the font family as the documents carry it.
const Family = "Liberation Sans"

// Stack is the family with its fall-backs, for documents that do not embed fonts.
const Stack = `"Liberation Sans", Arimo, Arial, Helvetica, sans-serif`

// Licence is the text of the licence of the embedded fonts (SIL Open Font License 1.1).
//
//go:embed LICENCE-OFL.txt
var Licence string

// A Face is one style of the family.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Bold
	Italic
	BoldItalic
	faces
)

// TTF returns the font file of the face. It must not be changed.
func (f Face) TTF() []byte {
	switch f {
	case Bold:
		return liberationsansbold.TTF
	case Italic:
		return liberationsansitalic.TTF
	case BoldItalic:
		return liberationsansbolditalic.TTF
	}
	return liberationsansregular.TTF
}

// metrics is the table of advances of one face. Parsing a font takes milliseconds, so each face is
// parsed once; the table is read-only afterwards.
type metrics struct {
	advance map[rune]float64 // em
}

var tables = [faces]func() metrics{
	Regular:    sync.OnceValue(func() metrics { return measure(Regular) }),
	Bold:       sync.OnceValue(func() metrics { return measure(Bold) }),
	Italic:     sync.OnceValue(func() metrics { return measure(Italic) }),
	BoldItalic: sync.OnceValue(func() metrics { return measure(BoldItalic) }),
}

// measure reads the advance of every letter that a document in a European language may hold.
func measure(f Face) metrics {
	parsed, err := sfnt.Parse(f.TTF())
	if err != nil {
		panic(fmt.Sprintf("typeface: the font shipped with the program cannot be read: %v", err))
	}
	const em = 2048
	var buf sfnt.Buffer
	m := metrics{advance: make(map[rune]float64, 4096)}
	for r := rune(0x20); r < 0x2700; r++ {
		index, err := parsed.GlyphIndex(&buf, r)
		if err != nil || index == 0 {
			continue
		}
		a, err := parsed.GlyphAdvance(&buf, index, fixed.I(em), font.HintingNone)
		if err != nil {
			continue
		}
		m.advance[r] = float64(a) / 64 / em
	}
	return m
}

// Has reports whether the face has a glyph for the letter.
func (f Face) Has(r rune) bool {
	_, ok := tables[f]().advance[r]
	return ok
}

// missingAdvance is the width of the box drawn for a letter that the face does not have [em].
const missingAdvance = 0.75

// Width returns the width of one line of text at the given size, in the unit of size. A letter that the
// face does not have counts as a box.
func (f Face) Width(text string, size float64) float64 {
	advance := tables[f]().advance
	sum := 0.0
	for _, r := range text {
		if a, ok := advance[r]; ok {
			sum += a
		} else {
			sum += missingAdvance
		}
	}
	return sum * size
}

// Missing lists the letters of the text that the face does not have, each once, in the order met.
func (f Face) Missing(text string) []rune {
	var out []rune
	seen := map[rune]bool{'\n': true, '\t': true, '\r': true}
	for _, r := range text {
		if !seen[r] && !f.Has(r) {
			out = append(out, r)
		}
		seen[r] = true
	}
	return out
}

// Replace puts a box in the place of every letter that the face does not have.
func (f Face) Replace(text string) string {
	if len(f.Missing(text)) == 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if f.Has(r) || r == '\n' || r == '\t' || r == '\r' {
			return r
		}
		return '□'
	}, text)
}

// FitEnds shortens a name in its middle so that it is at most width wide at the given size: names of a kind differ at
// their ends.
func (f Face) FitEnds(name string, size, width float64) string {
	if f.Width(name, size) <= width {
		return name
	}
	letters := []rune(name)
	for n := len(letters) - 1; n > 2; n-- {
		end := n / 3
		short := strings.TrimRight(string(letters[:n-end]), " ,;:") + "…" + strings.TrimLeft(string(letters[len(letters)-end:]), " ,;:")
		if f.Width(short, size) <= width {
			return short
		}
	}
	return f.Fit(name, size, width)
}

// Fit shortens the text with an ellipsis so that it is at most width wide at the given size.
func (f Face) Fit(text string, size, width float64) string {
	if f.Width(text, size) <= width {
		return text
	}
	letters := []rune(text)
	for n := len(letters) - 1; n > 0; n-- {
		short := strings.TrimRight(string(letters[:n]), " ,;:") + "…"
		if f.Width(short, size) <= width {
			return short
		}
	}
	return "…"
}
