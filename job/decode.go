package job

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	q "leste/quantity"
)

// step is one step of a path; the path is only written out when there is something to say about it.
type step struct {
	parent *step
	name   string
}

func (s *step) String() string {
	if s == nil {
		return ""
	}
	return s.parent.String() + "/" + escape(s.name)
}

func (s *step) to(name string) *step { return &step{s, name} }

// escape keeps a key with a slash one step of a path, as in a JSON Pointer.
func escape(name string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(name)
}

func unescape(name string) string {
	return strings.NewReplacer("~1", "/", "~0", "~").Replace(name)
}

// entry is one key of a mapping with its value.
type entry struct{ key, value *yaml.Node }

// place is where a problem with the entry is shown: at the value, or at the key of a block below it.
func (e entry) place() (line, column int) {
	if e.value.Kind == yaml.AliasNode || e.value.Kind == yaml.ScalarNode && e.value.Value != "" || e.value.Style&yaml.FlowStyle != 0 && e.value.Line == e.key.Line {
		return e.value.Line, e.value.Column
	}
	return e.key.Line, e.key.Column
}

// resolve follows an alias.
func (r *reader) resolve(n *yaml.Node) *yaml.Node {
	if n.Kind == yaml.AliasNode {
		return n.Alias
	}
	return n
}

// count allows for one more value, so that aliases of aliases cannot make a small file large.
func (r *reader) count(n *yaml.Node, at *step) bool {
	if r.values++; r.values <= mostValues {
		return true
	}
	if !r.full {
		r.full = true
		r.problem(n.Line, n.Column, at.String(), &fault{CodeAlias, fmt.Sprintf("the file says more than %d values, aliases followed", mostValues), "write a smaller file without aliases of aliases"})
	}
	return false
}

// entries returns the keys of a mapping in order, those that it merges from elsewhere ("<<") last, and
// reports keys given twice. The keys may be those of a group.
func (r *reader) entries(n *yaml.Node, g *group, at *step, depth int) []entry {
	list := make([]entry, 0, len(n.Content)/2)
	var merged []*yaml.Node
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		switch {
		case len(list) == mostKeys:
			r.problem(k.Line, k.Column, at.String(), &fault{CodeShape, fmt.Sprintf("this group has more than %d keys", mostKeys), "mind the indentation"})
			return list
		case k.Kind != yaml.ScalarNode:
			r.problem(k.Line, k.Column, at.String(), &fault{CodeShape, "a key must be a single word, this is " + kindOf(k), "write \"key: value\""})
			continue
		case k.Tag == "!!merge":
			merged = append(merged, v)
			continue
		}
		if text, parts := cutByCommas(n, i); parts > 0 {
			r.problem(v.Line, v.Column, at.to(k.Value).String(), cutValue(k.Value, v.Value, text, g.unitFor(k.Value, text)))
			r.file.unread[at.to(k.Value).String()] = true
			i += 2 * parts
			continue
		}
		if first := find(list, k.Value); first != nil {
			r.problem(k.Line, k.Column, at.to(k.Value).String(), &fault{CodeTwice, fmt.Sprintf("%q is given twice, first in line %d", k.Value, first.key.Line), "keep one of them"})
			continue
		}
		list = append(list, entry{k, v})
	}
	for _, m := range merged {
		from := r.resolve(m)
		sources := []*yaml.Node{from}
		if from.Kind == yaml.SequenceNode {
			sources = from.Content
		}
		for _, s := range sources {
			if s = r.resolve(s); !r.count(s, at) {
				return list
			}
			if s.Kind != yaml.MappingNode || depth > 4 {
				r.problem(m.Line, m.Column, at.String(), &fault{CodeAlias, "what is merged here is no group of keys", "write the keys themselves"})
				break
			}
			for _, e := range r.entries(s, g, at, depth+1) {
				if find(list, e.key.Value) == nil && r.count(e.key, at) {
					list = append(list, e)
				}
			}
		}
	}
	return list
}

// cutByCommas is the text of a number that YAML cuts at its commas, as it does inside braces, and how many entries of the
// mapping after the one at i are parts of it; none where that is whole.
func cutByCommas(n *yaml.Node, i int) (text string, parts int) {
	digit := func(c byte) bool { return c >= '0' && c <= '9' }
	text = n.Content[i+1].Value
	if n.Style&yaml.FlowStyle == 0 || n.Content[i+1].Kind != yaml.ScalarNode {
		return text, 0
	}
	for i += 2; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if text == "" || !digit(text[len(text)-1]) || k.Kind != yaml.ScalarNode || k.Style != 0 || k.Value == "" || !digit(k.Value[0]) || !isNull(v) || v.Value != "" {
			break
		}
		text += "," + k.Value
		parts++
	}
	return text, parts
}

// unitFor is a unit for a number with a decimal comma that a key is given without any; "" where it needs none.
func (g *group) unitFor(key, text string) string {
	f := g.byKey[key]
	if f == nil || f.form != quantityForm {
		return ""
	}
	var wrong *q.ParseError
	if _, err := f.kind.Parse(strings.Replace(text, ",", ".", 1)); errors.As(err, &wrong) && wrong.Code == q.CodeNoUnit {
		return f.unit()
	}
	return ""
}

// cutValue says that a number was cut at its commas, and tells it with the unit that it lacks.
func cutValue(key, read, text, unit string) *fault {
	said := fmt.Sprintf("%s: inside { } a comma ends the value: of %q only %q is read", key, text, read)
	if unit != "" {
		text += " " + unit
	}
	quoted := fmt.Sprintf("write %q with its quotes", text)
	_, after, _ := strings.Cut(text, ",")
	const group = 3 // digits between commas of thousands, which quotes do not let through either
	switch decimals := len(after) - len(strings.TrimLeft(after, "0123456789")); {
	case strings.Contains(after, ","):
		return &fault{CodeText, said, "write the number without commas"}
	case strings.Trim(read, "+-.0123456789 ") != "": // no number
		return &fault{CodeText, said, quoted}
	case decimals == group:
		return &fault{CodeText, said, "write a point for a decimal comma, and nothing between thousands"}
	}
	return &fault{CodeText, said, quoted + ", or " + strings.Replace(text, ",", ".", 1)}
}

func find(list []entry, key string) *entry {
	for i := range list {
		if list[i].key.Value == key {
			return &list[i]
		}
	}
	return nil
}

// group reads the keys of a mapping into v.
func (r *reader) group(n *yaml.Node, g *group, v reflect.Value, at *step) {
	n = r.resolve(n)
	entries := r.entries(n, g, at, 0)
	for _, e := range entries {
		if !r.count(e.value, at) {
			return
		}
		f := g.byKey[e.key.Value]
		if f == nil {
			fault, meant := unknownKey(e.key.Value, g)
			r.problem(e.key.Line, e.key.Column, at.to(e.key.Value).String(), fault)
			if meant != nil {
				r.miss(meant, at.to(meant.key))
			}
			continue
		}
		r.field(e, f, v.Field(f.index), at.to(f.key))
	}
	for _, f := range g.fields {
		if f.need && find(entries, f.key) == nil && !r.file.unread[at.to(f.key).String()] {
			r.miss(f, at.to(f.key))
			r.problem(n.Line, n.Column, at.to(f.key).String(), &fault{CodeMissing, fmt.Sprintf("%q is missing", f.key), f.wantKey()})
		}
	}
}

// miss notes that the value of a field is not in the job though the file means to give it.
func (r *reader) miss(f *field, at *step) {
	r.file.unread[at.String()] = true
	r.file.gaps = r.file.gaps || !f.leaf() || f.key == "name"
}

// wantKey shows how a missing key is written.
func (f *field) wantKey() string {
	switch f.form {
	case choiceForm:
		return fmt.Sprintf("add \"%s: …\", one of %s", f.key, strings.Join(f.choices, ", "))
	case countForm:
		return fmt.Sprintf("add \"%s: %d\"", f.key, SchemaVersion)
	case groupForm, listForm, wordsForm, textForm:
		return fmt.Sprintf("add \"%s: …\": %s", f.key, lowerFirst(strings.TrimSuffix(f.doc, ".")))
	}
	return fmt.Sprintf("add \"%s: %s\", with your value", f.key, f.example())
}

func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// unknownKey says which key is meant, and returns it, or where the key belongs, or which there are.
func unknownKey(key string, g *group) (f *fault, meant *field) {
	text := fmt.Sprintf("unknown key %q", key)
	keys := make([]string, len(g.fields))
	for i, f := range g.fields {
		keys[i] = f.key
	}
	if near := nearest(strings.ToLower(key), keys); near != "" {
		return &fault{CodeKey, text, fmt.Sprintf("write %q", near)}, g.byKey[near]
	}
	if where := below(g, key); where != "" {
		return &fault{CodeKey, text, fmt.Sprintf("%q belongs under %s", key, where)}, nil
	}
	if where := below(jobGroup, key); where != "" {
		return &fault{CodeKey, text, fmt.Sprintf("%q belongs under %s", key, where)}, nil
	}
	return &fault{CodeKey, text, "the keys known here are " + strings.Join(keys, ", ")}, nil
}

// below finds a key in the groups under g, nearest first.
func below(g *group, key string) string {
	for _, f := range g.fields {
		if f.group != nil && f.group.byKey[key] != nil {
			return f.key
		}
	}
	for _, f := range g.fields {
		if f.group != nil {
			if where := below(f.group, key); where != "" {
				return f.key + ": " + where
			}
		}
	}
	return ""
}

// field reads one value.
func (r *reader) field(e entry, f *field, v reflect.Value, at *step) {
	line, column := e.place()
	n := r.resolve(e.value)
	shape := func(want string) {
		r.miss(f, at)
		r.problem(line, column, at.String(), &fault{CodeShape, fmt.Sprintf("%s is %s", f.key, kindOf(n)), want})
	}
	empty := isNull(n) || n.Kind == yaml.ScalarNode && !f.leaf() && isNotKnown(n.Value)
	switch f.form {
	case groupForm:
		switch {
		case n.Kind == yaml.MappingNode:
			if f.ptr {
				v.Set(reflect.New(v.Type().Elem()))
				v = v.Elem()
			}
			r.group(n, f.group, v, at)
		case empty && f.need:
			r.problem(line, column, at.String(), &fault{CodeMissing, f.key + " is empty", f.wantKey()})
		case !empty:
			shape("write its keys below it, each on a line of its own and indented")
		}
	case listForm:
		switch {
		case n.Kind == yaml.SequenceNode:
			r.list(n, f, v, at)
		case empty && f.need:
			r.problem(line, column, at.String(), &fault{CodeMissing, f.key + " is empty", f.wantKey()})
		case !empty:
			shape("write a list: begin each entry with \"- \"")
		}
	case wordsForm:
		r.words(n, f, v, at, shape, empty)
	default:
		if n.Kind != yaml.ScalarNode {
			shape(f.want())
			return
		}
		text := n.Value
		if n.Tag == "!!null" {
			text = ""
		}
		if err := f.assign(v, text); err != nil {
			r.miss(f, at)
			r.problem(line, column, at.String(), &fault{err.code, f.key + ": " + err.text, err.want})
			return
		}
		if r.spell != nil && f.form == quantityForm && !isNotKnown(strings.TrimSpace(text)) {
			if f.maybe {
				v = v.Field(0)
			}
			r.spell(at.String(), strings.TrimSpace(text), f.kind, v.Float())
		}
	}
}

// list reads a list of groups.
func (r *reader) list(n *yaml.Node, f *field, v reflect.Value, at *step) {
	items := reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content))
	v.Set(items)
	for i, c := range n.Content {
		if !r.count(c, at) {
			return
		}
		here := at.to(strconv.Itoa(i))
		item := r.resolve(c)
		if item.Kind != yaml.MappingNode {
			r.miss(f, here)
			r.problem(c.Line, c.Column, here.String(), &fault{CodeShape, fmt.Sprintf("this entry of %s is %s", f.key, kindOf(item)), fmt.Sprintf("write its keys, e.g. \"- %s: …\"", f.group.fields[0].key)})
			continue
		}
		r.group(item, f.group, items.Index(i), here)
	}
}

// words reads a list of texts; a single text is a list of one.
func (r *reader) words(n *yaml.Node, f *field, v reflect.Value, at *step, shape func(string), empty bool) {
	items := n.Content
	switch {
	case empty:
		return
	case n.Kind == yaml.ScalarNode:
		items = []*yaml.Node{n}
	case n.Kind != yaml.SequenceNode:
		shape(fmt.Sprintf("write a list, e.g. \"%s: [one, two]\"", f.key))
		return
	}
	words := make([]string, 0, len(items))
	for i, c := range items {
		if !r.count(c, at) {
			return
		}
		c = r.resolve(c)
		if c.Kind != yaml.ScalarNode || isNull(c) {
			r.problem(c.Line, c.Column, at.to(strconv.Itoa(i)).String(), &fault{CodeShape, fmt.Sprintf("this entry of %s is %s", f.key, kindOf(c)), "write a name"})
			continue
		}
		words = append(words, c.Value)
	}
	v.Set(reflect.ValueOf(words))
}
