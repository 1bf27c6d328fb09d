package job

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	q "leste/quantity"
)

// isNotKnown reports whether a text says that a value is not known.
func isNotKnown(text string) bool {
	switch strings.ToLower(text) {
	case "", "~", "null", "?", "unknown", NotKnown:
		return true
	}
	return false
}

// NotKnown is how a file says that a value is not known.
const NotKnown = "not known"

// assign reads text into v, the value of the field.
func (f *field) assign(v reflect.Value, text string) *fault {
	text = strings.TrimSpace(text)
	if isNotKnown(text) {
		return f.assignNotKnown(v, text)
	}
	if f.maybe {
		if err := f.assignTo(v.Field(0), text); err != nil {
			return err
		}
		v.Field(1).SetBool(true)
		return nil
	}
	return f.assignTo(v, text)
}

func (f *field) assignNotKnown(v reflect.Value, text string) *fault {
	if f.form == choiceForm && !f.need {
		v.SetString("")
		for _, c := range f.choices {
			if c == NotKnown {
				v.SetString(NotKnown)
			}
		}
		return nil
	}
	open := f.maybe || f.form == textForm || f.form == countForm
	if f.need || !open {
		if text == "" {
			return &fault{CodeMissing, "a value is missing", f.want()}
		}
		return &fault{CodeMissing, fmt.Sprintf("%q is no answer here, the value must be given", text), f.want()}
	}
	v.SetZero()
	return nil
}

// want says what the field is written as.
func (f *field) want() string {
	switch f.form {
	case choiceForm:
		return "write one of " + strings.Join(f.choices, ", ")
	case quantityForm:
		return fmt.Sprintf("write %s, e.g. %q", f.kind.Name(), f.example())
	case countForm:
		return "write a whole number"
	case numberForm:
		return "write a number"
	case flagForm:
		return "write yes or no"
	}
	return "write a text"
}

// example returns a usual value.
func (f *field) example() string {
	switch {
	case f.def != "":
		return f.def
	case f.form == quantityForm:
		return f.kind.Example()
	case f.form == choiceForm:
		return f.choices[0]
	}
	return ""
}

// unit is one that values of a quantity are usually written in here: 250 is no altitude in millimetres. Masses are of drops
// or of containers, as their least tells.
func (f *field) unit() string {
	usual := f.def
	if usual == "" && f.kind == q.KindMass {
		usual = f.least
	}
	if u := f.kind.UnitOf(usual); u != "" {
		return u
	}
	return f.kind.Units()[0]
}

func (f *field) assignTo(v reflect.Value, text string) *fault {
	switch f.form {
	case quantityForm:
		x, err := f.kind.Parse(text)
		if err != nil {
			told := fromQuantity(err)
			if told.code == q.CodeNoUnit {
				told.want = fmt.Sprintf("write the unit, e.g. \"%s %s\"", text, f.unit())
			}
			return told
		}
		v.SetFloat(x)
	case numberForm:
		x, err := strconv.ParseFloat(strings.ReplaceAll(text, " ", ""), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return &fault{CodeText, fmt.Sprintf("%q is not a plain number", text), "write a number with a decimal point and no unit"}
		}
		v.SetFloat(x)
	case countForm:
		x, err := strconv.Atoi(text)
		if err != nil {
			return &fault{CodeText, fmt.Sprintf("%q is not a whole number", text), f.want()}
		}
		v.SetInt(int64(x))
	case flagForm:
		x, ok := yesNo(text)
		if !ok {
			return &fault{CodeText, fmt.Sprintf("%q is neither yes nor no", text), f.want()}
		}
		v.SetBool(x)
	case choiceForm:
		c, err := f.choose(text)
		if err != nil {
			return err
		}
		v.SetString(c)
	default:
		v.SetString(text)
	}
	return nil
}

// choose finds the choice that text means.
func (f *field) choose(text string) (string, *fault) {
	for _, c := range f.choices {
		if c == text {
			return c, nil
		}
	}
	if len(f.choices) == 2 && f.choices[0] == "yes" { // YAML writers also say true and false
		if x, ok := yesNo(text); ok {
			return f.choices[map[bool]int{true: 0, false: 1}[x]], nil
		}
	}
	want := f.want()
	if near := nearest(strings.ToLower(text), f.choices); near != "" {
		want = fmt.Sprintf("write %q (the choices are %s)", near, strings.Join(f.choices, ", "))
	}
	return "", &fault{CodeChoice, fmt.Sprintf("%q is not one of the choices", text), want}
}

func yesNo(text string) (value, ok bool) {
	switch strings.ToLower(text) {
	case "yes", "true", "on", "y":
		return true, true
	case "no", "false", "off", "n":
		return false, true
	}
	return false, false
}

// nearest returns the known word closest to the given one, or "" when none is close.
func nearest(word string, known []string) string {
	plain := func(s string) string { return strings.NewReplacer("-", " ", "_", " ").Replace(s) }
	best, least := "", max(1, len(word)/3)+1
	for _, k := range known {
		if d := distance(plain(word), plain(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance is the number of letters to insert, delete, change or swap with a neighbour to get from a to b.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 60 {
		s = s[:60]
	}
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		row[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+cost)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}
