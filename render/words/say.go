package words

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	q "leste/quantity"
)

// sayPrefix marks the rows that are whole sentences of results: notes, causes, remedies, assumptions, cautions,
// questions and the titles of relations. A row is found by its English; %s stands for what changes.
const sayPrefix = "say."

// fewLetters is how little a row may say by itself to be taken only when all that stands in its places is known too.
const fewLetters = 8

// phrasebook finds the row of an English sentence.
type phrasebook struct {
	exact    map[string]string // the English without its full stop, begun small -> key
	patterns []pattern         // those that say the most by themselves first
}

type pattern struct {
	key     string
	letters int
	longest string // the longest part that does not change, for a quick look
	match   *regexp.Regexp
}

var phrases = sync.OnceValue(func() phrasebook {
	b := phrasebook{exact: map[string]string{}}
	for key, text := range shipped()[0] {
		if !strings.HasPrefix(key, sayPrefix) {
			continue
		}
		parts := strings.Split(text, "%s")
		for i := range parts {
			parts[i] = strings.ReplaceAll(parts[i], "%%", "%")
		}
		parts[0] = small(parts[0])
		if len(parts) == 1 {
			b.exact[parts[0]] = key
			continue
		}
		p := pattern{key: key}
		quoted := make([]string, len(parts))
		for i, part := range parts {
			p.letters += len(part)
			if len(part) > len(p.longest) {
				p.longest = part
			}
			quoted[i] = regexp.QuoteMeta(part)
		}
		p.match = regexp.MustCompile(`(?s)^` + strings.Join(quoted, `(.+?)`) + `$`)
		b.patterns = append(b.patterns, p)
	}
	slices.SortFunc(b.patterns, func(a, c pattern) int {
		if a.letters != c.letters {
			return c.letters - a.letters
		}
		return strings.Compare(a.key, c.key)
	})
	return b
})

// Say writes a sentence of a result in the language of the words. What the table does not know stays as it is.
func (w Words) Say(text string) string {
	said, _ := w.Said(text)
	return said
}

// Said is Say, and reports whether all of the sentence is known: it is in the table, is a term, a quantity, or is
// made of such. Names in the places of a row may be anything.
func (w Words) Said(text string) (string, bool) {
	switch {
	case strings.TrimSpace(text) == "":
		return text, true
	case w.Language == languages[0]:
		return w.typeset(w.english(text)), true
	}
	said, known := w.said(w.hide(text), 0)
	said = w.shown(said)
	if !known {
		said = w.InUnits(said)
	}
	return said, known
}

// english writes the quantities of a sentence in the units of the words. A sentence that is known leaves the names in
// its places alone: "600 mm knife" is called so in any units.
func (w Words) english(text string) string {
	if w.Units == SI {
		return text
	}
	if said, known := w.said(w.hide(text), 0); known {
		return w.shown(said)
	}
	return w.InUnits(text)
}

// ofZones are the rows whose places from the one given on are zones and causes, never names: a station may be called
// "closure" as a zone is.
var ofZones = map[string]int{
	"say.the-largest-part-of-the-water-left": 0, "say.the-largest-part-of-the-water-left-2": 0, "say.not-every-format-has-the-zone-the": 0,
	"say.the-of-the-air-at-the-zone": 1, "say.with-it-has-too-much-of-the-air-at-the": 1, "say.with-it-has-too-much-of-the-air-at-the-even-sooner": 1,
}

// deepest is how many sentences may stand inside each other.
const deepest = 6

// said typesets quantities alone: what looks like a unit in one language is a word in another.
func (w Words) said(text string, depth int) (string, bool) {
	name := w.isName(text)
	if !name && quantity.MatchString(text) {
		return w.quantity(text), true
	}
	if name {
		return text, true
	}
	translated := w.Language != languages[0]
	if key := "term." + text; translated && w.Has(key) {
		return w.T(key), true
	}
	if name, found := w.foundIn(text); translated && found {
		return name, true
	}
	body, stop := strings.CutSuffix(text, ".")
	said, ok := w.lookUp(body, depth)
	if !ok {
		return w.joined(text, depth)
	}
	if first, _ := utf8.DecodeRuneInString(body); unicode.IsUpper(first) {
		said = large(said)
	} else if !translated {
		said = small(said)
	}
	if stop {
		said += "."
	}
	return said, true
}

// lookUp finds a row by its English, without full stop. Rows are found begun small; what fills their places keeps its
// own letters.
func (w Words) lookUp(written string, depth int) (string, bool) {
	book := phrases()
	body := small(written)
	if len(body) != len(written) {
		written = body
	}
	if key, ok := book.exact[body]; ok {
		return w.InUnits(strings.ReplaceAll(w.T(key), "%%", "%")), true
	}
	if depth >= deepest {
		return "", false
	}
	for _, p := range book.patterns {
		if !strings.Contains(body, p.longest) {
			continue
		}
		at := p.match.FindStringSubmatchIndex(body)
		if at == nil {
			continue
		}
		found := make([]string, len(at)/2)
		for i := range found {
			found[i] = body[at[2*i]:at[2*i+1]]
			if whole := written[at[2*i]:at[2*i+1]]; w.beginsWithName(whole) { // "Top" begins as it is written
				found[i] = whole
			}
		}
		args := make([]any, len(found)-1)
		known := true
		places := w
		zones, some := ofZones[p.key]
		for i, part := range found[1:] {
			if some && i >= zones {
				places.given = nil
			}
			said, ok := places.said(part, depth+1)
			if reference := numbered.MatchString(p.longest); reference && number.MatchString(part) {
				said, ok = part, true // table 5.1 is called so in every language
			}
			if !ok {
				said = w.figures(said)
			}
			args[i], known = said, known && ok
		}
		if known || p.letters >= fewLetters {
			return w.filled(p.key, found[1:], args), true
		}
	}
	return "", false
}

// filled puts what is said into the places of a row. Numbers join the units of the row; the rest keeps its own.
func (w Words) filled(key string, parts []string, said []any) string {
	if w.Units == SI {
		return fmt.Sprintf(w.T(key), said...)
	}
	const aside = '\ue000' // of the private use area, so that no sentence has it
	held := make([]any, len(said))
	var back []string
	for i := range said {
		held[i] = said[i]
		if !number.MatchString(parts[i]) {
			mark := string(aside + rune(i))
			held[i] = mark
			back = append(back, mark, said[i].(string))
		}
	}
	return strings.NewReplacer(back...).Replace(w.InUnits(fmt.Sprintf(w.T(key), held...)))
}

// numbered begins what is cited by its number.
var numbered = regexp.MustCompile(`^(table|chapter|equations?|figure|section) $`)

// number is a number without a unit.
var number = regexp.MustCompile(`^` + aNumber + `$`)

// joints part a sentence that is made of several, the widest first.
var joints = []string{"; ", ": ", " and ", ", "}

// joined says the parts of a text that is no row by itself. Before a colon there may be a name.
func (w Words) joined(text string, depth int) (string, bool) {
	if depth >= deepest {
		return text, false
	}
	for _, joint := range joints {
		for at := strings.Index(text, joint); at >= 0; {
			rest := text[at+len(joint):]
			a, okFirst := w.said(text[:at], depth+1)
			if okFirst || joint == ": " {
				if !okFirst {
					a = w.figures(a)
				}
				if b, okRest := w.said(rest, depth+1); okRest {
					if joint == " and " && w.Language == "de" {
						joint = " und "
					}
					return a + joint + b, true
				}
			}
			next := strings.Index(rest, joint)
			if next < 0 || joint != joints[0] { // only the widest joint stands within sentences too
				break
			}
			at += len(joint) + next
		}
	}
	return text, false
}

// quantity is a number with its unit, or a span of two.
var quantity = regexp.MustCompile(`^[-−+×]?\s?\d[\d.,]*(e[-+]?\d+)?( … [-−+]?\d[\d.,]*(e[-+]?\d+)?)?\s?(%|K|deg|degC|°C|°|[mµ]?m|[mµk]?g|g/m2|g/m²|kg/s|g/s|m/s|m3/s|m3/h|m³/h|[mk]?Pa|m?bar|psi|k?W|kWh|/kWh|s|ms|h|/h|min|/min|Hz|V|A|N|dB|W/\(m2 K\)|W/\(m² K\)|kW/\(m3/min\)|kW/\(m³/min\)|N/m|mN/m)?$`)

// quantity writes a number with its unit in the units and with the decimal mark of the words.
func (w Words) quantity(text string) string {
	if written := w.InUnits(text); written != text {
		return written
	}
	return w.local(q.Typeset(text))
}

// small begins a sentence as a part of another; what is written in capitals stays.
func small(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[size:]); size == 0 || unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToLower(first)) + s[size:]
}

func large(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
