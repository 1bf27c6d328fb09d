package job

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// Bytes returns the text of the file: what Read was given, with the edits of Set and nothing else changed.
func (f *File) Bytes() []byte { return bytes.Clone(f.data) }

// Set writes a value into the file, in the syntax of the file: Set("/arrives/water", "60 g/m2"). The text
// around it, comments and order stay as they are; a key that the file does not have is added to its group.
// Entries of lists must exist. The value is read back at once: one that cannot be read is refused with a
// Problem, and nothing is changed then.
func (f *File) Set(path, value string) error {
	if f.root == nil {
		return Problem{File: f.Name, Path: path, Code: CodeFile, Text: "a file that could not be read cannot be edited", Want: "mend it first"}
	}
	before := Clone(f.Job)
	if err := SetValue(before, path, value); err != nil {
		var p Problem
		if !errors.As(err, &p) {
			return err
		}
		p.File = f.Name
		p.Line, p.Column = f.Locate(path)
		return p
	}
	e := &editor{data: f.data}
	text, ok := e.set(f.root, split(path), value)
	if ok {
		ok = f.adopt(text, before)
	}
	if !ok { // an unusual way of writing YAML: let the YAML writer set the value, comments survive
		text, err := rewrite(f.data, split(path), value)
		if err != nil || !f.adopt(text, before) {
			return Problem{File: f.Name, Path: path, Code: CodeAlias, Text: path + " cannot be set from here", Want: "edit the file by hand"}
		}
	}
	return nil
}

// adopt takes the edited text if it says the job that is wanted.
func (f *File) adopt(text []byte, want *Job) bool {
	g, _ := Read(f.Name, text)
	if g.root == nil || !reflect.DeepEqual(g.Job, want) {
		return false
	}
	*f = *g
	return true
}

// editor changes text in place.
type editor struct {
	data []byte
	flow bool // inside brackets or braces
}

// set returns the text with the value at a path below n.
func (e *editor) set(n *yaml.Node, steps []string, value string) ([]byte, bool) {
	var last entry
	for i, s := range steps {
		e.flow = e.flow || n.Style&yaml.FlowStyle != 0
		next, ok := child(n, s)
		if !ok {
			if isNull(n) && last.key != nil {
				return e.afterColon(last.key, nested(steps[i:], value))
			}
			return e.insert(n, steps[i:], value)
		}
		if next.value.Kind == yaml.AliasNode {
			return nil, false
		}
		last, n = next, next.value
	}
	text := quote(value)
	if e.flow {
		text = quoteFlow(value)
	}
	if n.Kind != yaml.ScalarNode {
		return nil, false
	}
	if isNull(n) && n.Value == "" {
		if last.key == nil {
			return nil, false
		}
		return e.afterColon(last.key, text)
	}
	from := e.offset(n.Line, n.Column)
	to, ok := e.end(n)
	if !ok {
		return nil, false
	}
	return e.splice(from, to, text), true
}

// nested writes the steps below a group that is not there yet, in braces.
func nested(steps []string, value string) string {
	text := quoteFlow(value)
	for i := len(steps) - 1; i >= 0; i-- {
		text = "{" + steps[i] + ": " + text + "}"
	}
	return text
}

func (e *editor) splice(from, to int, text string) []byte {
	out := make([]byte, 0, len(e.data)+len(text))
	out = append(out, e.data[:from]...)
	out = append(out, text...)
	return append(out, e.data[to:]...)
}

// offset returns the byte at a line and column, both from 1, the column in characters.
func (e *editor) offset(line, column int) int {
	at := 0
	for ; line > 1; line-- {
		i := bytes.IndexByte(e.data[at:], '\n')
		if i < 0 {
			return len(e.data)
		}
		at += i + 1
	}
	for ; column > 1 && at < len(e.data); column-- {
		_, n := utf8.DecodeRune(e.data[at:])
		at += n
	}
	return at
}

// end returns the byte after a scalar written in one line, and false for any other.
func (e *editor) end(n *yaml.Node) (int, bool) {
	from := e.offset(n.Line, n.Column)
	rest := e.data[from:]
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for i := 1; i < len(rest) && rest[0] == '"'; i++ {
			switch rest[i] {
			case '\\':
				i++
			case '"':
				return from + i + 1, true
			}
		}
	case n.Style&yaml.SingleQuotedStyle != 0:
		for i := 1; i < len(rest) && rest[0] == '\''; i++ {
			if rest[i] != '\'' {
				continue
			}
			if i+1 < len(rest) && rest[i+1] == '\'' {
				i++
				continue
			}
			return from + i + 1, true
		}
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 && n.Value != "" && bytes.HasPrefix(rest, []byte(n.Value)):
		return from + len(n.Value), true
	}
	return 0, false
}

// afterColon writes a value after a key that has none.
func (e *editor) afterColon(key *yaml.Node, text string) ([]byte, bool) {
	at, ok := e.end(key)
	if !ok {
		return nil, false
	}
	i := bytes.IndexByte(e.data[at:], ':')
	if i < 0 || len(bytes.TrimSpace(e.data[at:at+i])) > 0 {
		return nil, false
	}
	at += i + 1
	return e.splice(at, at, " "+text), true
}

// insert adds a key to a group.
func (e *editor) insert(n *yaml.Node, steps []string, value string) ([]byte, bool) {
	if n.Kind != yaml.MappingNode {
		return nil, false
	}
	text := quote(value)
	if len(steps) > 1 || e.flow {
		text = nested(steps[1:], value)
	}
	text = steps[0] + ": " + text
	if n.Style&yaml.FlowStyle != 0 {
		return e.insertFlow(n, text)
	}
	for i := len(n.Content) - 2; i >= 0; i -= 2 {
		k, v := n.Content[i], n.Content[i+1]
		to, ok := e.end(v)
		if v.Kind != yaml.ScalarNode || !ok {
			continue
		}
		line := e.data[to:]
		length := bytes.IndexByte(line, '\n')
		if length < 0 {
			length = len(line)
		}
		tail := strings.TrimSpace(string(line[:length]))
		if tail != "" && !strings.HasPrefix(tail, "#") {
			continue
		}
		at := to + len(bytes.TrimSuffix(line[:length], []byte("\r")))
		return e.splice(at, at, e.newline()+strings.Repeat(" ", k.Column-1)+text), true
	}
	if len(n.Content) == 0 {
		return nil, false
	}
	first := n.Content[0]
	at := e.offset(first.Line, first.Column)
	start := e.offset(first.Line, 1)
	if len(bytes.TrimSpace(e.data[start:at])) > 0 {
		return nil, false
	}
	return e.splice(at, at, text+e.newline()+string(e.data[start:at])), true
}

// insertFlow adds a key to a group in braces.
func (e *editor) insertFlow(n *yaml.Node, text string) ([]byte, bool) {
	if len(n.Content) > 0 {
		if to, ok := e.end(n.Content[len(n.Content)-1]); ok && n.Content[len(n.Content)-1].Kind == yaml.ScalarNode {
			return e.splice(to, to, ", "+text), true
		}
		text += ", "
	}
	at := e.offset(n.Line, n.Column)
	if at >= len(e.data) || e.data[at] != '{' {
		return nil, false
	}
	return e.splice(at+1, at+1, text), true
}

func (e *editor) newline() string {
	if bytes.Contains(e.data, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// rewrite sets a value in the tree and writes the whole tree.
func rewrite(data []byte, steps []string, value string) ([]byte, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, err
	}
	n := doc.Content[0]
	for i, s := range steps {
		e, ok := child(n, s)
		if ok {
			n = e.value
			if n.Kind == yaml.AliasNode {
				return nil, fmt.Errorf("%s is shared", s)
			}
			continue
		}
		if isNull(n) {
			*n = yaml.Node{Kind: yaml.MappingNode, HeadComment: n.HeadComment, LineComment: n.LineComment, FootComment: n.FootComment}
		}
		if n.Kind != yaml.MappingNode {
			return nil, fmt.Errorf("%s has no place", s)
		}
		added := &yaml.Node{Kind: yaml.MappingNode}
		if i == len(steps)-1 {
			added = &yaml.Node{Kind: yaml.ScalarNode}
		}
		n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: s}, added)
		n = added
	}
	if n.Kind != yaml.ScalarNode {
		return nil, fmt.Errorf("no single value")
	}
	n.Value, n.Tag, n.Style = value, "!!str", 0
	return yaml.Dump(&doc, yaml.WithIndent(2))
}
