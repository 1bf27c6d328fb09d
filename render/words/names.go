package words

import (
	"slices"
	"strings"

	q "leste/quantity"
)

// Naming returns the words with names that stay as they are within sentences: those of a job, its line, its outlets. A
// name may well look like a quantity, "600 mm knife", and is called so in any units and any language.
func (w Words) Naming(names ...string) Words {
	kept := slices.Clone(w.names)
	for _, name := range names {
		measured := measured.MatchString(name) || quantity.MatchString(name) || q.Typeset(name) != name
		if measured && !slices.Contains(kept, name) {
			kept = append(kept, name)
		}
	}
	slices.SortStableFunc(kept, func(a, b string) int { return len(b) - len(a) }) // the longest is met first
	w.names = kept
	return w
}

// named lists where names stand in a text, as pairs of places, in order and apart from each other.
func (w Words) named(text string) [][2]int {
	var found [][2]int
	for _, name := range w.names {
		for from := 0; ; {
			at := strings.Index(text[from:], name)
			if at < 0 {
				break
			}
			at += from
			from = at + len(name)
			if !slices.ContainsFunc(found, func(f [2]int) bool { return at < f[1] && f[0] < from }) && !inWord(text, at, from) {
				found = append(found, [2]int{at, from})
			}
		}
	}
	slices.SortFunc(found, func(a, b [2]int) int { return a[0] - b[0] })
	return found
}

// typeset is q.Typeset that leaves names alone.
func (w Words) typeset(text string) string {
	out, done := "", 0
	for _, name := range w.named(text) {
		out += q.Typeset(text[done:name[0]]) + text[name[0]:name[1]]
		done = name[1]
	}
	return out + q.Typeset(text[done:])
}
