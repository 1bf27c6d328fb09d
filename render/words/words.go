// Package words holds every word that a document prints, in one table with English and German beside
// each other, and writes numbers and quantities as that language does.
package words

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strings"
	"sync"

	q "leste/quantity"
)

//go:embed words.csv
var table string

// sentences are the rows that say what results say; their keys begin with "say.".
//
//go:embed sentences.csv
var sentences string

// Languages lists the languages of the table, by their BCP 47 tags, in the order of its columns.
var languages = []string{"en", "de"}

// Languages lists the languages of the table.
func Languages() []string { return append([]string(nil), languages...) }

// Units says which system quantities are printed in.
type Units string

// The choices of units.
const (
	SI   Units = "si"
	US   Units = "us"
	Both Units = "both"
)

// Words writes in one language and one choice of units. It is read-only and may be shared.
type Words struct {
	Language string
	Units    Units
	words    map[string]string
	own      map[string]string
	names    []string // that look like quantities and are none, the longest first
	odd      []string // names that hold what joins sentences, the longest first
	given    map[string]bool
	searched map[string]bool // names that a search gave, which are translated
}

// shipped reads the table that comes with the program, once.
var shipped = sync.OnceValue(func() []map[string]string {
	rows, err := read(strings.NewReader(table), "words.csv")
	said, wrong := read(strings.NewReader(sentences), "sentences.csv")
	if err = errors.Join(err, wrong); err != nil {
		panic(err.Error()) // the table is part of the program
	}
	for _, r := range rows {
		for i := range r.texts {
			r.texts[i] = parted.ReplaceAllString(r.texts[i], "$1"+nbsp+"$2")
		}
	}
	rows = append(rows, said...)
	columns := make([]map[string]string, len(languages))
	for i := range columns {
		columns[i] = make(map[string]string, len(rows))
		for _, r := range rows {
			columns[i][r.key] = r.texts[i]
		}
	}
	return columns
})

// New returns the words of a language ("en", "de") with a choice of units.
func New(language string, units Units) (Words, error) {
	switch units {
	case SI, US, Both:
	default:
		return Words{}, fmt.Errorf("units %q are not known; choose si, us or both", units)
	}
	for i, l := range languages {
		if l == language {
			return Words{Language: l, Units: units, words: shipped()[i]}, nil
		}
	}
	return Words{}, fmt.Errorf("there is no table of words for the language %q; known are %s", language, strings.Join(languages, ", "))
}

// With returns the words with some replaced by the user's own: a CSV of key, en, de like the table itself.
// An empty cell keeps the word of the table. The error names the line.
func (w Words) With(r io.Reader, name string) (Words, error) {
	rows, err := read(r, name)
	column := 0
	for i, l := range languages {
		if l == w.Language {
			column = i
		}
	}
	own := make(map[string]string, len(rows)+len(w.own))
	for k, v := range w.own {
		own[k] = v
	}
	var wrong []error
	for _, row := range rows {
		given, ok := w.words[row.key]
		text := row.texts[column]
		switch {
		case !ok:
			wrong = append(wrong, fmt.Errorf("%s:%d: there is no word called %q; the nearest is %q", name, row.line, row.key, w.nearest(row.key)))
		case text == "":
		case verbs(text) != verbs(given):
			wrong = append(wrong, fmt.Errorf("%s:%d: %q takes the places %s, as in %q; the replacement has %s", name, row.line, row.key, places(given), given, places(text)))
		default:
			own[row.key] = text
		}
	}
	w.own = own
	return w, errors.Join(append([]error{err}, wrong...)...)
}

// parted are numbers that a line may not end in: "0.5 %", "10 000".
var parted = regexp.MustCompile(`(\d) (%|\d{3}\b)`)

type row struct {
	key   string
	texts []string
	line  int
}

// read reads a table of words. Rows that can be read are returned beside the error.
func read(r io.Reader, name string) ([]row, error) {
	c := csv.NewReader(r)
	c.Comment = '#'
	c.FieldsPerRecord = -1
	c.LazyQuotes = false
	var rows []row
	for first := true; ; first = false {
		record, err := c.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return rows, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := c.FieldPos(0)
		if len(record) != 1+len(languages) {
			return rows, fmt.Errorf("%s:%d: a line holds %d columns (key, %s), this one has %d", name, line, 1+len(languages), strings.Join(languages, ", "), len(record))
		}
		if first && record[0] == "key" {
			continue
		}
		rows = append(rows, row{record[0], record[1:], line})
	}
}

// T returns a word, with the arguments in its places. A key that is not in the table is a mistake of the
// program; it is printed in brackets, and a test keeps it from happening.
func (w Words) T(key string, args ...any) string {
	text, ok := w.own[key]
	if !ok {
		text, ok = w.words[key]
	}
	if !ok {
		return "[" + key + "]"
	}
	if len(args) == 0 {
		return text
	}
	return fmt.Sprintf(text, args...)
}

// Has reports whether the table has the key.
func (w Words) Has(key string) bool {
	_, ok := w.words[key]
	return ok
}

// Term translates a fixed word of a result, such as a zone or a cause: the row "term.<word>". A word
// or a sentence of its own is the user's and stays as it is.
func (w Words) Term(word string) string {
	key := "term." + word
	if w.Has(key) {
		return w.T(key)
	}
	if said, ok := w.Said(word); ok {
		return said
	}
	return word
}

// Keys lists the keys of the table in order.
func (w Words) Keys() []string {
	keys := make([]string, 0, len(w.words))
	for k := range w.words {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// nearest returns the known key that shares the most with the given one.
func (w Words) nearest(key string) string {
	best, score := "", -1
	for _, k := range w.Keys() {
		n := 0
		for n < len(k) && n < len(key) && k[n] == key[n] {
			n++
		}
		if n > score {
			best, score = k, n
		}
	}
	return best
}

// verbs counts the places of a text: "%s" or "%[1]s".
func verbs(s string) int { return strings.Count(s, "%") - 2*strings.Count(s, "%%") }

func places(s string) string {
	if n := verbs(s); n > 0 {
		return strings.TrimSuffix(strings.Repeat("%s ", n), " ")
	}
	return "none"
}

// Kinds of quantities used without a type of their own.
type quantityValue interface{ q.Quantity }

// Of writes a quantity to three significant digits: "40 mm", "1.57 in", or both.
func Of[T quantityValue](w Words, v T) string { return w.Value(float64(v), q.KindOf(v), 3) }
