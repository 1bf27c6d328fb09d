package job

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// split takes a path apart: "/stations/0/name" has the steps stations, 0, name.
func split(path string) []string {
	path = strings.Trim(path, "/")
	if path == "" {
		return nil
	}
	steps := strings.Split(path, "/")
	for i, s := range steps {
		steps[i] = unescape(s)
	}
	return steps
}

// Locate returns line and column of the value at a path, or of the nearest thing around it that the file
// holds. It returns 1, 1 for a file that could not be read.
func (f *File) Locate(path string) (line, column int) {
	if f.root == nil {
		return 1, 1
	}
	line, column = f.root.Line, f.root.Column
	n := f.root
	for _, s := range split(path) {
		e, ok := child(n, s)
		if !ok {
			break
		}
		if e.key != nil {
			line, column = e.place()
		} else {
			line, column = e.value.Line, e.value.Column
		}
		n = follow(e.value)
	}
	return line, column
}

// Has reports whether the file says something at a path, were it "not known".
func (f *File) Has(path string) bool { return f.node(path) != nil }

// node returns the node at a path, or nil.
func (f *File) node(path string) *yaml.Node {
	n := f.root
	for _, s := range split(path) {
		if n == nil {
			return nil
		}
		e, ok := child(n, s)
		if !ok {
			return nil
		}
		n = follow(e.value)
	}
	return n
}

func follow(n *yaml.Node) *yaml.Node {
	if n.Kind == yaml.AliasNode {
		return n.Alias
	}
	return n
}

// child finds one step below n: a key, also one merged from elsewhere, or the index of a list.
func child(n *yaml.Node, name string) (entry, bool) {
	switch n.Kind {
	case yaml.MappingNode:
		var merged []*yaml.Node
		for i := 0; i+1 < len(n.Content); i += 2 {
			k, v := n.Content[i], n.Content[i+1]
			switch {
			case k.Tag == "!!merge":
				merged = append(merged, follow(v))
			case k.Kind == yaml.ScalarNode && k.Value == name:
				return entry{k, v}, true
			}
		}
		for _, m := range merged {
			sources := []*yaml.Node{m}
			if m.Kind == yaml.SequenceNode {
				sources = m.Content
			}
			for _, s := range sources {
				if s = follow(s); s.Kind == yaml.MappingNode {
					for i := 0; i+1 < len(s.Content); i += 2 {
						if s.Content[i].Value == name {
							return entry{s.Content[i], s.Content[i+1]}, true
						}
					}
				}
			}
		}
	case yaml.SequenceNode:
		if i, err := strconv.Atoi(name); err == nil && i >= 0 && i < len(n.Content) {
			return entry{nil, n.Content[i]}, true
		}
	}
	return entry{}, false
}

// SetValue sets the value at a path of a job, in the syntax of the file: SetValue(j, "/arrives/water",
// "60 g/m2"). The value counts as known afterwards, unless the text says that it is not. Groups on the
// way that are absent are made; entries of lists must exist. The job must not share memory with one that
// is to stay (Clone).
func SetValue(j *Job, path, text string) error {
	f, v, err := settle(jobGroup, reflect.ValueOf(j).Elem(), split(path), "")
	if err != nil {
		return err
	}
	if !f.leaf() {
		return Problem{Path: path, Code: CodeShape, Text: path + " is no single value", Want: "set a value below it"}
	}
	before := reflect.New(v.Type()).Elem()
	before.Set(v)
	if fault := f.assign(v, text); fault != nil {
		v.Set(before)
		return Problem{Path: path, Code: fault.code, Text: f.key + ": " + fault.text, Want: fault.want}
	}
	return nil
}

// Value returns the value at a path of a job as text in the syntax of the file and whether it is known;
// a quantity that is not known gives its assumed value.
func Value(j *Job, path string) (text string, known bool, err error) {
	f, v, err := settle(jobGroup, reflect.ValueOf(Clone(j)).Elem(), split(path), "")
	if err != nil {
		return "", false, err
	}
	if !f.leaf() {
		return "", false, Problem{Path: path, Code: CodeShape, Text: path + " is no single value", Want: "ask for a value below it"}
	}
	text, known = f.write(v)
	return text, known, nil
}

// write is the inverse of assign.
func (f *field) write(v reflect.Value) (text string, known bool) {
	known = true
	if f.maybe {
		known = v.Field(1).Bool()
		v = v.Field(0)
		if !known && v.IsZero() && f.form != flagForm {
			return NotKnown, false
		}
	}
	switch f.form {
	case quantityForm:
		return f.kind.Exact(v.Float()), known
	case numberForm:
		return strconv.FormatFloat(v.Float(), 'g', -1, 64), known
	case countForm:
		return strconv.FormatInt(v.Int(), 10), known
	case flagForm:
		if v.Bool() {
			return "yes", known
		}
		return "no", known
	}
	if f.form == choiceForm && v.String() == "" {
		return NotKnown, false
	}
	return v.String(), known
}

// settle walks a path down from a struct of group g.
func settle(g *group, v reflect.Value, steps []string, at string) (*field, reflect.Value, error) {
	lost := func(want string) (*field, reflect.Value, error) {
		path := at + "/" + strings.Join(steps, "/")
		return nil, reflect.Value{}, Problem{Path: path, Code: CodeKey, Text: "a job has no " + path, Want: want}
	}
	if len(steps) == 0 {
		return lost("give the path of a value")
	}
	f := g.byKey[steps[0]]
	if f == nil {
		fault, _ := unknownKey(steps[0], g)
		return lost(fault.want)
	}
	v = v.Field(f.index)
	if len(steps) == 1 {
		return f, v, nil
	}
	at += "/" + steps[0]
	switch f.form {
	case groupForm:
		if f.ptr {
			if v.IsNil() {
				v.Set(reflect.New(v.Type().Elem()))
			}
			v = v.Elem()
		}
		return settle(f.group, v, steps[1:], at)
	case listForm:
		i, err := strconv.Atoi(steps[1])
		if err != nil || i < 0 || i >= v.Len() {
			return lost(fmt.Sprintf("%s has %d entries, counted from 0", f.key, v.Len()))
		}
		if len(steps) == 2 {
			return lost("give the path of a value below it")
		}
		return settle(f.group, v.Index(i), steps[2:], at+"/"+steps[1])
	}
	return lost(f.key + " is a single value")
}
