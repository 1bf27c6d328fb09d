package job

import (
	"fmt"
	"reflect"
	"strings"

	q "leste/quantity"
)

// form is how a field is written in the file.
type form uint8

const (
	textForm     form = iota // free text
	choiceForm               // one of a few words
	countForm                // a whole number
	flagForm                 // yes or no
	quantityForm             // a number with its unit
	numberForm               // a plain number
	groupForm                // keys of its own
	listForm                 // a list of groups
	wordsForm                // a list of texts
)

// field is one key of a group, as its struct tags say.
type field struct {
	key, doc       string
	need           bool
	def, low, high string // in the syntax of the file
	source         string
	least, most    string // limits of what can be meant, in the syntax of the file; "" by kind
	choices        []string

	index int
	form  form
	kind  q.Kind // of a quantity
	maybe bool   // a quantity.Maybe
	ptr   bool   // a group that may be absent
	group *group // of a group or a list

	limit   limit // of a number
	limited bool
}

// group is one struct of the schema.
type group struct {
	name   string // Go name of the struct
	fields []*field
	byKey  map[string]*field
}

// jobGroup is the schema of a job file. It is read-only.
var jobGroup = planOf(reflect.TypeFor[Job]())

// Doc says in a sentence what stands at a path of the job file, as /arrives/water; "" where there is no such key.
func Doc(path string) string {
	g, doc := jobGroup, ""
	for _, step := range split(path) {
		if step != "" && strings.Trim(step, "0123456789") == "" {
			continue // an index of a list
		}
		if g == nil || g.byKey[step] == nil {
			return ""
		}
		f := g.byKey[step]
		g, doc = f.group, f.doc
	}
	return doc
}

func planOf(t reflect.Type) *group {
	g := &group{name: t.Name(), byKey: map[string]*field{}}
	for i := range t.NumField() {
		tag := t.Field(i).Tag
		f := &field{
			key: tag.Get("key"), doc: tag.Get("doc"), need: tag.Get("need") == "yes",
			def: tag.Get("default"), low: tag.Get("low"), high: tag.Get("high"), source: tag.Get("source"),
			least: tag.Get("min"), most: tag.Get("max"), index: i,
		}
		if f.key == "" {
			panic(fmt.Sprintf("job: %s.%s has no key", t.Name(), t.Field(i).Name))
		}
		if one := tag.Get("one"); one != "" {
			f.choices = strings.Split(one, "|")
		}
		f.shape(t.Field(i).Type)
		f.limit, f.limited = f.findLimit()
		g.fields = append(g.fields, f)
		g.byKey[f.key] = f
	}
	return g
}

// shape settles how a field of type t is written.
func (f *field) shape(t reflect.Type) {
	switch {
	case t.Kind() == reflect.Pointer:
		f.ptr = true
		f.shape(t.Elem())
	case isMaybe(t):
		f.maybe = true
		f.shape(t.Field(0).Type)
	case q.KindOf(reflect.Zero(t).Interface()) != q.None:
		f.form, f.kind = quantityForm, q.KindOf(reflect.Zero(t).Interface())
	case t.Kind() == reflect.Float64:
		f.form = numberForm
	case t.Kind() == reflect.Int:
		f.form = countForm
	case t.Kind() == reflect.Bool:
		f.form = flagForm
	case t.Kind() == reflect.String && f.choices != nil:
		f.form = choiceForm
	case t.Kind() == reflect.String:
		f.form = textForm
	case t.Kind() == reflect.Struct:
		f.form, f.group = groupForm, planOf(t)
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct:
		f.form, f.group = listForm, planOf(t.Elem())
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.String:
		f.form = wordsForm
	default:
		panic("job: no way to write a " + t.String())
	}
}

func isMaybe(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.NumField() == 2 && t.Field(0).Name == "V" && t.Field(1).Name == "Known"
}

// leaf reports whether the field is a single value.
func (f *field) leaf() bool { return f.form != groupForm && f.form != listForm && f.form != wordsForm }

// each visits every leaf of v, a struct of group g that can be set, in the order of the schema: its path, its
// field, its value and the struct it stands in.
func (g *group) each(v reflect.Value, path string, visit func(path string, f *field, v, parent reflect.Value)) {
	for _, f := range g.fields {
		x := v.Field(f.index)
		at := path + "/" + f.key
		switch f.form {
		case groupForm:
			if f.ptr {
				if x.IsNil() {
					continue
				}
				x = x.Elem()
			}
			f.group.each(x, at, visit)
		case listForm:
			for i := range x.Len() {
				f.group.each(x.Index(i), fmt.Sprintf("%s/%d", at, i), visit)
			}
		case wordsForm:
		default:
			visit(at, f, x, v)
		}
	}
}
