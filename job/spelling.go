package job

import (
	"math"
	"reflect"
	"strconv"
	"strings"

	q "leste/quantity"
)

// A Spelling is how a job file writes its quantities: the text of each, and by that the units of each key. Another file
// that says the same, or something like it, is written with it as its reader writes. Nil is the spelling of no file.
type Spelling struct {
	texts  map[string][]spelt // by key, see keyOf
	system q.System
}

// spelt is one quantity of a file.
type spelt struct {
	path, text, unit string
	value            float64
}

// Spelling returns how the file writes its quantities.
func (f *File) Spelling() *Spelling {
	s := &Spelling{texts: map[string][]spelt{}, system: q.SI}
	if f.root == nil {
		return s
	}
	us, si := 0, 0
	again := &File{Job: &Job{}, unread: map[string]bool{}}
	r := &reader{file: again, spell: func(path, text string, k q.Kind, v float64) {
		unit := k.UnitOf(text)
		switch q.SystemOf(unit) {
		case q.US:
			us++
		case q.SI:
			si++
		}
		s.texts[keyOf(path)] = append(s.texts[keyOf(path)], spelt{path, text, unit, v})
	}}
	r.group(f.root, jobGroup, reflect.ValueOf(again.Job).Elem(), nil)
	if us > si {
		s.system = q.US
	}
	return s
}

// System is the system that most units of the file are of; SI where none tells.
func (s *Spelling) System() q.System {
	if s == nil {
		return q.SI
	}
	return s.system
}

// Text is how the file writes a value: at the same place, or else under the same key.
func (s *Spelling) Text(path string, v float64) (text string, found bool) {
	if s == nil {
		return "", false
	}
	for _, t := range s.texts[keyOf(path)] {
		const noise = 1e-12 // of changes of unit
		if !(math.Abs(t.value-v) <= noise*math.Max(math.Abs(t.value), math.Abs(v))) {
			continue
		}
		if t.path == path {
			return t.text, true
		}
		if !found {
			text, found = t.text, true
		}
	}
	return text, found
}

// Unit is the unit that the file first writes under a key; "" where it writes none.
func (s *Spelling) Unit(path string) string {
	if s != nil {
		for _, t := range s.texts[keyOf(path)] {
			if t.unit != "" {
				return t.unit
			}
		}
	}
	return ""
}

// keyOf is a path without the places in its lists, so that all outlets have the same; those of an option are those of the
// job.
func keyOf(path string) string {
	steps := strings.Split(path, "/")
	out := steps[:0]
	for _, s := range steps {
		if _, err := strconv.Atoi(s); err != nil {
			out = append(out, s)
		}
	}
	return strings.TrimPrefix(strings.Join(out, "/"), "/options")
}
