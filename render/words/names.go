package words

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	q "leste/quantity"
)

// Naming returns the words with names that stay as they are within sentences: those that a user gave to a line, its
// machines, its outlets. A name may look like a quantity, "600 mm knife", be a word of the table, "Top", or hold what
// joins sentences, "top and sides"; it is called so in any units and any language. Those that a search gave are said in the
// language of the words, see Found.
func (w Words) Naming(names ...string) Words {
	kept, odd := slices.Clone(w.names), slices.Clone(w.odd)
	given := make(map[string]bool, len(w.given)+len(names))
	for name := range w.given {
		given[name] = true
	}
	for _, name := range names {
		if _, found := w.found(name); name == "" || found && w.Language != languages[0] {
			continue
		}
		measured := measured.MatchString(name) || quantity.MatchString(name) || q.Typeset(name) != name
		if measured && !slices.Contains(kept, name) {
			kept = append(kept, name)
		}
		joint := func(j string) bool { return strings.Contains(name, j) }
		if slices.ContainsFunc(joints, joint) && !slices.Contains(odd, name) && len(odd) < mostOdd {
			odd = append(odd, name)
		}
		given[name] = true
	}
	longest := func(a, b string) int { return len(b) - len(a) } // is met first
	slices.SortStableFunc(kept, longest)
	slices.SortStableFunc(odd, longest)
	w.names, w.odd, w.given = kept, odd, given
	return w
}

// Name returns a name as it is. What nobody gave is a word of the program, such as the blower of a job that names none,
// and is translated.
func (w Words) Name(name string) string {
	if w.given[name] {
		return name
	}
	return w.Term(name)
}

// Searched returns the words with names that a search gave to what it placed: outlets, what carries them, stations.
func (w Words) Searched(names ...string) Words {
	searched := make(map[string]bool, len(w.searched)+len(names))
	for name := range w.searched {
		searched[name] = true
	}
	for _, name := range names {
		searched[name] = true
	}
	w.searched = searched
	return w
}

// Found returns a name that a search gave in the language of the words: one of Searched, of a job by what was found for
// it, and of a blower that nobody named. Any other name is somebody's own and stays.
func (w Words) Found(name string) string {
	said, _ := w.found(name)
	return said
}

// Station is the name of a station behind the word for one, where it stands in a list of them: one that is called station, as
// by a search, is told by its number.
func (w Words) Station(name string, place int) string {
	said := w.Found(name)
	if strings.EqualFold(said, w.T("found.station")) || strings.EqualFold(name, "station") {
		return strconv.Itoa(place + 1)
	}
	return said
}

func (w Words) found(name string) (said string, ok bool) {
	if at := strings.LastIndex(name, ": "); at > 0 && w.Has("concept."+name[at+2:]) {
		return w.T("found.for", name[:at], w.T("concept."+name[at+2:])), true
	}
	if !w.searched[name] && name != "blower" {
		return name, false
	}
	if key := "found." + name; w.Has(key) && verbs(w.words[key]) == 0 {
		return w.T(key), true
	}
	if of, place, ok := strings.Cut(name, " of station "); ok && w.Has("found."+of) && len(place) == 1 && place[0] > '1' && place[0] <= '9' {
		return w.T("found.place", w.T("found."+of), place), true
	}
	if first, ok := strings.CutSuffix(name, ", second"); ok {
		return w.T("found.second", w.Searched(first).Found(first)), true
	}
	return name, false
}

// foundIn is found of a name within a sentence, in quotes or without.
func (w Words) foundIn(text string) (said string, ok bool) {
	if n := len(text); n > 2 && text[0] == '"' && text[n-1] == '"' {
		said, ok = w.found(text[1 : n-1])
		return `"` + said + `"`, ok
	}
	return w.found(text)
}

// The marks that stand in for names of several words while their sentence is looked up, of the private use area.
const (
	firstOdd = '\ue800'
	mostOdd  = 256
)

// hide puts marks in the place of names of several words; shown puts them back.
func (w Words) hide(text string) string {
	for i, name := range w.odd {
		for from := 0; ; {
			at := strings.Index(text[from:], name)
			if at < 0 {
				break
			}
			at += from
			from = at + len(name)
			if !inWord(text, at, from) {
				mark := string(firstOdd + rune(i))
				text = text[:at] + mark + text[from:]
				from = at + len(mark)
			}
		}
	}
	return text
}

func (w Words) shown(text string) string {
	for i, name := range w.odd {
		text = strings.ReplaceAll(text, string(firstOdd+rune(i)), name)
	}
	return text
}

// isName reports whether a text is a name that a user gave, or the mark of one.
func (w Words) isName(text string) bool {
	if w.given[text] {
		return true
	}
	r, size := utf8.DecodeRuneInString(text)
	return size == len(text) && r >= firstOdd && r < firstOdd+rune(len(w.odd))
}

// beginsWithName reports whether a text is a name that a user gave, or begins with one.
func (w Words) beginsWithName(text string) bool {
	for name := range w.given {
		if strings.HasPrefix(text, name) && !inWord(text, 0, len(name)) {
			return true
		}
	}
	return false
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
