package typeface

import (
	"strings"
	"unicode"
)

// Wrap breaks the text into lines at most width wide at the given size. It breaks at spaces, after hyphens
// and slashes, and inside a word only when the word alone is wider than a line. Line feeds are kept.
func (f Face) Wrap(text string, size, width float64) []string {
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		lines = append(lines, f.wrapParagraph(paragraph, size, width)...)
	}
	return lines
}

func (f Face) wrapParagraph(text string, size, width float64) []string {
	var lines []string
	line := ""
	flush := func() {
		lines = append(lines, strings.TrimRight(line, " "))
		line = ""
	}
	for _, piece := range pieces(text) {
		if line != "" && f.Width(strings.TrimRight(line+piece, " "), size) > width {
			flush()
		}
		for f.Width(strings.TrimRight(piece, " "), size) > width {
			head, tail := f.split(piece, size, width)
			if tail == "" {
				break
			}
			line = head
			flush()
			piece = tail
		}
		line += piece
	}
	if line != "" || len(lines) == 0 {
		flush()
	}
	return lines
}

// split cuts a word so that its head fits; the head has at least one letter.
func (f Face) split(word string, size, width float64) (head, tail string) {
	letters := []rune(word)
	n := 1
	for n < len(letters) && f.Width(string(letters[:n+1]), size) <= width {
		n++
	}
	return string(letters[:n]), string(letters[n:])
}

// pieces cuts a paragraph after every space, hyphen and slash; joined they are the paragraph.
func pieces(text string) []string {
	var out []string
	start := 0
	letters := []rune(text)
	for i, r := range letters {
		inside := i+1 < len(letters)
		breaks := r == ' ' || (inside && i > start && (r == '-' || r == '/' || r == '_') && letters[i+1] != ' ')
		if r == '/' && ofUnit(letters[start:i], letters[min(i+1, len(letters)-1)]) {
			breaks = false
		}
		if breaks {
			out = append(out, string(letters[start:i+1]))
			start = i + 1
		}
	}
	if start < len(letters) {
		out = append(out, string(letters[start:]))
	}
	return out
}

// ofUnit reports whether a slash after the piece and before the letter stands in a unit: "g/m²", "kW/(m³/min)".
func ofUnit(piece []rune, after rune) bool {
	const symbol = 2 // letters of the longest unit that is divided by another without brackets
	n := 0
	for n < len(piece) && unicode.IsLetter(piece[len(piece)-1-n]) {
		n++
	}
	return after == '(' || n <= symbol
}

// Longest returns the width of the widest piece of the text that Wrap would not break, at the given size.
func (f Face) Longest(text string, size float64) float64 {
	widest := 0.0
	for paragraph := range strings.SplitSeq(text, "\n") {
		for _, piece := range pieces(paragraph) {
			widest = max(widest, f.Width(strings.TrimRight(piece, " "), size))
		}
	}
	return widest
}
