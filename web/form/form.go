package form

import (
	"reflect"
	"strconv"
	"strings"

	"leste/job"
	q "leste/quantity"
)

// Forms of a field: how it is written.
const (
	Text     = "text"
	Choice   = "choice"
	Count    = "count"
	Flag     = "flag"
	Quantity = "quantity"
	Number   = "number"
	OneGroup = "group"
	List     = "list"
	Words    = "words"
)

// A Field is one key of a group. Usual values, ranges and limits are in the syntax of the job file, with units.
type Field struct {
	Key     string   `json:"key"`
	Doc     string   `json:"doc" doc:"One sentence for the reader."`
	Form    string   `json:"form" enum:"text,choice,count,flag,quantity,number,group,list,words"`
	Kind    string   `json:"kind,omitempty" doc:"Kind of quantity in words."`
	Units   []string `json:"units,omitempty" doc:"Units offered, the usual one first."`
	Example string   `json:"example,omitempty"`
	Need    bool     `json:"need,omitempty" doc:"The key must be given."`
	Default string   `json:"default,omitempty" doc:"Assumed when nobody knows."`
	Low     string   `json:"low,omitempty" doc:"The assumed value may be as low as this."`
	High    string   `json:"high,omitempty" doc:"The assumed value may be as high as this."`
	Source  string   `json:"source,omitempty" doc:"What the assumed value rests on."`
	Min     string   `json:"min,omitempty" doc:"Least value that can be meant."`
	Max     string   `json:"max,omitempty" doc:"Greatest value that can be meant."`
	Choices []string `json:"choices,omitempty"`
	Group   string   `json:"group,omitempty" doc:"Name of the group of a group or list."`
}

// A Group is the keys of one thing.
type Group struct {
	Name   string  `json:"name"`
	Fields []Field `json:"fields"`
}

// field returns the field of a key.
func (g Group) field(key string) (Field, bool) {
	for _, f := range g.Fields {
		if f.Key == key {
			return f, true
		}
	}
	return Field{}, false
}

// Position returns the place of a key in the order of the group, or the number of keys for an unknown one.
func (g Group) Position(key string) int {
	for i, f := range g.Fields {
		if f.Key == key {
			return i
		}
	}
	return len(g.Fields)
}

// A Schema is all groups of the job file.
type Schema struct {
	Root   string           `json:"root" doc:"Name of the group of the whole file."`
	Groups map[string]Group `json:"groups"`
}

// OfJob returns the forms of the job file.
func OfJob() Schema {
	t := reflect.TypeFor[job.Job]()
	s := Schema{Root: t.Name(), Groups: map[string]Group{}}
	s.add(t)
	return s
}

// Entry returns the group of an entry of the list at a path such as /stations/0/outlets.
func (s Schema) Entry(path string) (Group, bool) {
	g := s.Groups[s.Root]
	list := false
	for step := range strings.SplitSeq(strings.Trim(path, "/"), "/") {
		if list {
			if _, err := strconv.Atoi(step); err == nil {
				list = false
				continue
			}
			return Group{}, false
		}
		f, ok := g.field(step)
		if !ok || f.Group == "" {
			return Group{}, false
		}
		g, list = s.Groups[f.Group], f.Form == List
	}
	return g, list
}

func (s Schema) add(t reflect.Type) {
	if _, done := s.Groups[t.Name()]; done {
		return
	}
	s.Groups[t.Name()] = Group{} // a group may hold itself
	g := Group{Name: t.Name()}
	for i := range t.NumField() {
		tag := t.Field(i).Tag
		f := Field{
			Key: tag.Get("key"), Doc: tag.Get("doc"), Need: tag.Get("need") == "yes", Default: tag.Get("default"),
			Low: tag.Get("low"), High: tag.Get("high"), Source: tag.Get("source"), Min: tag.Get("min"), Max: tag.Get("max"),
		}
		if one := tag.Get("one"); one != "" {
			f.Choices = strings.Split(one, "|")
		}
		s.shape(&f, t.Field(i).Type)
		g.Fields = append(g.Fields, f)
	}
	s.Groups[t.Name()] = g
}

// shape settles how a field of type t is written.
func (s Schema) shape(f *Field, t reflect.Type) {
	switch {
	case t.Kind() == reflect.Pointer:
		s.shape(f, t.Elem())
		return
	case maybe(t):
		s.shape(f, t.Field(0).Type)
		return
	}
	kind := q.KindOf(reflect.Zero(t).Interface())
	switch {
	case kind != q.None:
		f.Form, f.Kind, f.Units, f.Example = Quantity, plain(kind.Name()), kind.Units(), kind.Example()
		if f.Default != "" {
			f.Example = f.Default
		}
	case t.Kind() == reflect.Float64:
		f.Form = Number
	case t.Kind() == reflect.Int:
		f.Form = Count
	case t.Kind() == reflect.Bool:
		f.Form = Flag
	case t.Kind() == reflect.Struct:
		f.Form, f.Group = OneGroup, t.Name()
		s.add(t)
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct:
		f.Form, f.Group = List, t.Elem().Name()
		s.add(t.Elem())
	case t.Kind() == reflect.Slice:
		f.Form = Words
	case f.Choices != nil:
		f.Form = Choice
	default:
		f.Form = Text
	}
}

// maybe reports whether t is a quantity.Maybe.
func maybe(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.NumField() == 2 && t.Field(0).Name == "V" && t.Field(1).Name == "Known"
}

// plain takes the article off the name of a kind.
func plain(name string) string {
	if article, rest, ok := strings.Cut(name, " "); ok && (article == "a" || article == "an") {
		return rest
	}
	return name
}
