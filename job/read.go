package job

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	q "leste/quantity"
)

// Limits of a job file.
const (
	LargestFile = 1 << 20 // bytes
	mostValues  = 20_000  // values read, aliases followed; a job of fifty stations has a tenth of it
	mostKeys    = 500     // keys in one group; the largest has forty
	mostFaults  = 200     // problems reported of one file
)

// A File is a job file: what it says and where it says it.
type File struct {
	Name string // as given to Read, for messages
	Job  *Job   // never nil

	data []byte
	root *yaml.Node // the mapping at the top; nil when the file could not be read as YAML

	// What Read reported, so that Check does not report what follows from it.
	unread map[string]bool // paths of values that are not in Job: unreadable, or under a misspelt key
	gaps   bool            // names may be missing in Job
}

// Read reads a job file and returns everything that is wrong with its form: unknown keys, values that
// cannot be read, what is missing. The File is never nil; what could be read of a faulty file is in its
// Job. Whether the values fit together is judged by Check. Name is only used in messages.
func Read(name string, data []byte) (*File, Problems) {
	f := &File{Name: name, Job: &Job{}, data: data, unread: map[string]bool{}}
	r := &reader{file: f}
	if !r.text(data) {
		return f, r.problems
	}
	root := r.parse(data)
	if root == nil || !r.version(root) {
		return f, r.problems
	}
	f.root = root
	r.group(root, jobGroup, reflect.ValueOf(f.Job).Elem(), nil)
	return f, r.problems.Sort()
}

// Load reads a job file and checks it: everything wrong with it, in the order of the file.
func Load(name string, data []byte) (*File, Problems) {
	f, problems := Read(name, data)
	if f.root != nil {
		problems = append(problems, Check(f)...)
	}
	return f, problems.Sort()
}

// reader collects the problems of one file.
type reader struct {
	file     *File
	problems Problems
	values   int
	full     bool // too many values: said once

	spell func(path, text string, k q.Kind, v float64) // told of every quantity; may be nil
}

func (r *reader) problem(line, column int, path string, f *fault) {
	if len(r.problems) >= mostFaults {
		return
	}
	r.problems = append(r.problems, Problem{r.file.Name, line, column, path, f.code, f.text, f.want})
}

// text judges the bytes.
func (r *reader) text(data []byte) bool {
	if len(data) > LargestFile {
		r.problem(1, 1, "", &fault{CodeFile, fmt.Sprintf("the file has %d bytes, a job file has at most %d", len(data), LargestFile), "give a job file"})
		return false
	}
	for i, line := 0, 1; i < len(data); {
		c, n := utf8.DecodeRune(data[i:])
		bad := ""
		switch {
		case c == utf8.RuneError && n == 1:
			bad = "the file is not UTF-8 text"
		case c == 0:
			bad = "the file holds a NUL character"
		case c < ' ' && c != '\n' && c != '\r' && c != '\t' || c == 0x7f:
			bad = fmt.Sprintf("the file holds the control character U+%04X", c)
		case c == '\n':
			line++
		}
		if bad != "" {
			start := bytes.LastIndexByte(data[:i], '\n') + 1
			r.problem(line, utf8.RuneCount(data[start:i])+1, "", &fault{CodeFile, bad, "save it as plain UTF-8 text"})
			return false
		}
		i += n
	}
	return true
}

// parse reads the YAML and returns the mapping at its top.
func (r *reader) parse(data []byte) *yaml.Node {
	d := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	err := d.Decode(&doc)
	if errors.Is(err, io.EOF) || err == nil && (len(doc.Content) == 0 || isNull(doc.Content[0])) {
		r.problem(1, 1, "", &fault{CodeFile, "the file is empty", "begin with \"leste: 1\""})
		return nil
	}
	if err != nil {
		r.syntax(err)
		return nil
	}
	var second yaml.Node
	if err := d.Decode(&second); err == nil {
		line, column := max(second.Line, 1), max(second.Column, 1)
		if len(second.Content) > 0 {
			line, column = second.Content[0].Line, second.Content[0].Column
		}
		r.problem(line, column, "", &fault{CodeSyntax, "a second document begins here", "put one job in one file"})
		return nil
	} else if !errors.Is(err, io.EOF) {
		r.syntax(err)
		return nil
	}
	top := doc.Content[0]
	if top.Kind != yaml.MappingNode {
		r.problem(top.Line, top.Column, "", &fault{CodeShape, "the file is " + kindOf(top) + ", not a job", "begin with \"leste: 1\""})
		return nil
	}
	return top
}

// syntax reports what the YAML reader says.
func (r *reader) syntax(err error) {
	line, column, text := 1, 1, err.Error()
	var load *yaml.LoadError
	if errors.As(err, &load) {
		text = load.Message
		if load.Mark.Line > 0 {
			line, column = load.Mark.Line, max(load.Mark.Column, 1)
		}
		if c := load.ContextMark; c.Line > 0 && c.Line < line {
			text += fmt.Sprintf(" (in what begins in line %d)", c.Line)
		}
	}
	want := "mind colons, quotes, brackets and indentation"
	switch {
	case strings.Contains(text, "tab"):
		want = "indent with spaces"
	case strings.Contains(text, "mapping values are not allowed"):
		want = "put a text with a colon in quotes, and align the keys of a group"
	case strings.Contains(text, "unknown anchor"):
		want = "write the value itself"
	case strings.Contains(text, "end of stream"):
		want = "close the quote or bracket"
	}
	r.problem(line, column, "", &fault{CodeSyntax, "this is not YAML: " + text, want})
}

// version looks at the version of the file before anything else of it is judged.
func (r *reader) version(root *yaml.Node) bool {
	key := jobGroup.fields[0].key
	for i := 0; i+1 < len(root.Content); i += 2 {
		k, v := root.Content[i], root.Content[i+1]
		if k.Value != key {
			continue
		}
		var n int
		if v.Kind != yaml.ScalarNode || v.Decode(&n) != nil || n < 1 {
			r.problem(v.Line, v.Column, "/"+key, &fault{CodeVersion, fmt.Sprintf("%s: %s is no version of a job file", key, show(v)), fmt.Sprintf("write \"%s: %d\"", key, SchemaVersion)})
			return false
		}
		if n > SchemaVersion {
			r.problem(v.Line, v.Column, "/"+key, &fault{CodeVersion, fmt.Sprintf("this job file is of version %d, this program reads up to version %d", n, SchemaVersion), "open it with a newer program; nothing was changed"})
			return false
		}
		return true
	}
	return true // reported as missing with everything else
}

func show(n *yaml.Node) string {
	if n.Kind == yaml.ScalarNode {
		return fmt.Sprintf("%q", n.Value)
	}
	return kindOf(n)
}

func kindOf(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a group of keys"
	case yaml.SequenceNode:
		return "a list"
	}
	return "a single value"
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }
