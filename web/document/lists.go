package document

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"leste/web/form"
)

// errPlace says that a path leads nowhere that can be changed.
var errPlace = errors.New("the file has no such place")

// lined is the text of a file by lines, each with its end.
type lined struct {
	lines []string
	end   string // of new lines
}

func newLined(text []byte) *lined {
	l := &lined{end: "\n"}
	if bytes.Contains(text, []byte("\r\n")) {
		l.end = "\r\n"
	}
	l.lines = linesOf(string(text))
	if n := len(l.lines); n > 0 && !strings.HasSuffix(l.lines[n-1], "\n") {
		l.lines[n-1] += l.end
	}
	return l
}

// linesOf cuts a text where the reader of the file counts a line: at a return alone as well, and at the ends of lines and
// paragraphs beyond ASCII.
func linesOf(text string) (lines []string) {
	ends := []string{"\r\n", "\n", "\r", "\u0085", "\u2028", "\u2029"}
	start := 0
	for i := 0; i < len(text); {
		at := slices.IndexFunc(ends, func(end string) bool { return strings.HasPrefix(text[i:], end) })
		if at < 0 {
			i++
			continue
		}
		i += len(ends[at])
		lines, start = append(lines, text[start:i]), i
	}
	if start < len(text) {
		lines = append(lines, text[start:])
	}
	return lines
}

func (l *lined) bytes() []byte { return []byte(strings.Join(l.lines, "")) }

// indent counts the spaces before a line's text; -1 for a line without any.
func (l *lined) indent(i int) int {
	text := strings.TrimRight(l.lines[i], " \t\r\n")
	if text == "" {
		return -1
	}
	return len(text) - len(strings.TrimLeft(text, " "))
}

func (l *lined) comment(i int) bool {
	return strings.HasPrefix(strings.TrimLeft(l.lines[i], " \t"), "#")
}

// blockEnd returns the line after the block that begins in line start and is indented more than indent. Comments
// and empty lines at its end belong to what follows.
func (l *lined) blockEnd(start, indent int) int {
	end := start + 1
	for i := start + 1; i < len(l.lines); i++ {
		n := l.indent(i)
		if n < 0 || l.comment(i) && n <= indent {
			continue
		}
		if n <= indent {
			break
		}
		end = i + 1
	}
	return end
}

// keyEnd is blockEnd for a key in column indent, whose list may stand in the same column.
func (l *lined) keyEnd(start, indent int) int {
	end := l.blockEnd(start, indent)
	for i := end; i < len(l.lines); i++ {
		n := l.indent(i)
		if n < 0 || l.comment(i) {
			continue
		}
		if n != indent || !strings.HasPrefix(l.lines[i][n:], "-") {
			break
		}
		end = l.blockEnd(i, indent)
		i = end - 1
	}
	return end
}

// dash returns the column of the dash before an entry of a list in block style.
func (l *lined) dash(entry *yaml.Node) (line, column int, ok bool) {
	line = entry.Line - 1
	if line < 0 || line >= len(l.lines) {
		return 0, 0, false
	}
	column = l.indent(line)
	return line, column, column >= 0 && strings.HasPrefix(l.lines[line][column:], "-")
}

// above returns the first of the comment lines that stand right above a line in its column.
func (l *lined) above(line, column int) int {
	for line > 0 && l.comment(line-1) && l.indent(line-1) == column {
		line--
	}
	return line
}

// remove takes an entry of a list or a key with everything below it out of a text.
func remove(text []byte, path []string) ([]byte, error) {
	root, ok := parse(text)
	if !ok || len(path) == 0 {
		return nil, errPlace
	}
	places := find(root, path)
	if len(places) != len(path)+1 {
		return nil, errPlace
	}
	at := places[len(places)-1]
	l := newLined(text)
	if at.parent.Style&yaml.FlowStyle == 0 {
		if at.key == nil {
			if ok := l.removeEntry(at); ok {
				return l.bytes(), nil
			}
		} else if ok := l.removeKey(at); ok {
			return l.bytes(), nil
		}
	}
	return rewritten(text, path[:len(path)-1], func(parent *yaml.Node) error {
		for i, c := range parent.Content {
			if parent.Kind == yaml.SequenceNode && strconv.Itoa(i) == path[len(path)-1] {
				parent.Content = slices.Delete(parent.Content, i, i+1)
				return nil
			}
			if parent.Kind == yaml.MappingNode && i%2 == 0 && c.Value == path[len(path)-1] {
				parent.Content = slices.Delete(parent.Content, i, i+2)
				return nil
			}
		}
		return errPlace
	})
}

func (l *lined) removeEntry(at place) bool {
	line, column, ok := l.dash(at.node)
	if !ok {
		return false
	}
	end := l.blockEnd(line, column)
	if at.parent.Content[0] != at.node {
		line = l.above(line, column)
	}
	l.lines = slices.Delete(l.lines, line, end)
	return true
}

func (l *lined) removeKey(at place) bool {
	line, column := at.key.Line-1, at.key.Column-1
	if line >= len(l.lines) || column > len(l.lines[line]) {
		return false
	}
	if strings.TrimSpace(l.lines[line][:column]) == "" {
		l.lines = slices.Delete(l.lines, line, l.keyEnd(line, column))
		return true
	}
	// The first key of an entry stands behind its dash: the next one moves there.
	if at.parent.Content[0] != at.key || len(at.parent.Content) < 4 {
		return false
	}
	second := at.parent.Content[2]
	next := second.Line - 1
	if next <= line || next >= len(l.lines) || second.Column-1 != column {
		return false
	}
	l.lines[next] = l.lines[line][:column] + l.lines[next][column:]
	l.lines = slices.Delete(l.lines, line, next)
	return true
}

// insert puts an entry into the list at path, before the entry at, or at its end.
func insert(text []byte, path []string, at int, entry *yaml.Node) ([]byte, error) {
	root, ok := parse(text)
	if !ok || len(path) == 0 {
		return nil, errPlace
	}
	places := find(root, path)
	missing := len(path) + 1 - len(places)
	if missing > 1 || missing == 1 && places[len(places)-1].node.Kind != yaml.MappingNode {
		return nil, errPlace
	}
	body, err := block(entry)
	if err != nil {
		return nil, err
	}
	l := newLined(text)
	last := places[len(places)-1]
	done := false
	switch {
	case missing == 1:
		done = l.addList(last.node, path[len(path)-1], body)
	case last.node.Kind == yaml.SequenceNode && len(last.node.Content) > 0:
		done = last.node.Style&yaml.FlowStyle == 0 && l.addEntry(last.node, at, body)
	case last.node.Kind == yaml.SequenceNode, last.node.Tag == "!!null":
		done = last.parent.Style&yaml.FlowStyle == 0 && l.fillList(last, body)
	default:
		return nil, errPlace
	}
	if done {
		return l.bytes(), nil
	}
	return rewritten(text, path[:len(path)-1], func(parent *yaml.Node) error { return insertNode(parent, path[len(path)-1], at, entry) })
}

func insertNode(parent *yaml.Node, key string, at int, entry *yaml.Node) error {
	if parent.Kind != yaml.MappingNode {
		return errPlace
	}
	for i := 0; i+1 < len(parent.Content); i += 2 {
		if parent.Content[i].Value != key {
			continue
		}
		list := parent.Content[i+1]
		if list.Kind != yaml.SequenceNode {
			*list = yaml.Node{Kind: yaml.SequenceNode}
		}
		if at < 0 || at > len(list.Content) {
			at = len(list.Content)
		}
		list.Content = slices.Insert(list.Content, at, entry)
		return nil
	}
	parent.Content = append(parent.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{entry}})
	return nil
}

// addEntry adds to a list that has entries.
func (l *lined) addEntry(list *yaml.Node, at int, body []string) bool {
	if at < 0 || at > len(list.Content) {
		at = len(list.Content)
	}
	neighbour := list.Content[min(at, len(list.Content)-1)]
	line, column, ok := l.dash(neighbour)
	if !ok {
		return false
	}
	if at == len(list.Content) {
		line = l.blockEnd(line, column)
	} else if at > 0 {
		line = l.above(line, column)
	}
	l.lines = slices.Insert(l.lines, line, l.entry(column, body)...)
	return true
}

// fillList gives a list without entries its first.
func (l *lined) fillList(at place, body []string) bool {
	line, column := at.key.Line-1, at.key.Column-1
	text := strings.TrimRight(l.lines[line], "\r\n")
	if at.node.Kind == yaml.SequenceNode {
		cut := strings.Replace(text, "[]", "", 1)
		if at.node.Line-1 != line || cut == text {
			return false
		}
		text = strings.TrimRight(cut, " ")
	} else if at.node.Value != "" {
		return false
	}
	l.lines[line] = text + l.end
	l.lines = slices.Insert(l.lines, line+1, l.entry(column+2, body)...)
	return true
}

// addList adds a key with a list of one entry to a group.
func (l *lined) addList(group *yaml.Node, key string, body []string) bool {
	if group.Style&yaml.FlowStyle != 0 || len(group.Content) == 0 {
		return false
	}
	last := group.Content[len(group.Content)-2]
	column := last.Column - 1
	line := l.keyEnd(last.Line-1, column)
	lines := append([]string{strings.Repeat(" ", column) + key + ":" + l.end}, l.entry(column+2, body)...)
	l.lines = slices.Insert(l.lines, line, lines...)
	return true
}

// entry writes the lines of an entry with its dash in a column.
func (l *lined) entry(column int, body []string) []string {
	out := make([]string, len(body))
	for i, line := range body {
		lead := "  "
		if i == 0 {
			lead = "- "
		}
		out[i] = strings.Repeat(" ", column) + lead + line + l.end
	}
	return out
}

// block writes a node as lines.
func block(n *yaml.Node) ([]string, error) {
	text, err := yaml.Dump(n, yaml.WithIndent(2))
	if err != nil {
		return nil, err
	}
	return strings.Split(strings.TrimRight(string(text), "\n"), "\n"), nil
}

// rewritten changes the tree at a path and writes the whole file anew; comments stay, the layout may not.
func rewritten(text []byte, path []string, change func(*yaml.Node) error) ([]byte, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		return nil, err
	}
	places := find(doc.Content[0], path)
	if len(places) != len(path)+1 {
		return nil, errPlace
	}
	if err := change(places[len(places)-1].node); err != nil {
		return nil, err
	}
	return yaml.Dump(&doc, yaml.WithIndent(2))
}

// node turns a tree of a new entry into YAML, keys in the order of the forms.
func node(v any, s form.Schema, path string, depth int) (*yaml.Node, error) {
	if depth == 0 {
		return nil, errors.New("the entry is nested too deeply")
	}
	switch v := v.(type) {
	case map[string]any:
		keys := make([]string, 0, len(v))
		for k := range v {
			keys = append(keys, k)
		}
		group, _ := s.Entry(path)
		slices.SortFunc(keys, func(a, b string) int {
			if d := group.Position(a) - group.Position(b); d != 0 {
				return d
			}
			return strings.Compare(a, b)
		})
		out := &yaml.Node{Kind: yaml.MappingNode}
		for _, k := range keys {
			if v[k] == nil {
				continue
			}
			child, err := node(v[k], s, path+"/0/"+k, depth-1)
			if err != nil {
				return nil, err
			}
			out.Content = append(out.Content, scalar(k), child)
		}
		return out, nil
	case []any:
		out := &yaml.Node{Kind: yaml.SequenceNode}
		for _, c := range v {
			child, err := node(c, s, path, depth-1)
			if err != nil {
				return nil, err
			}
			out.Content = append(out.Content, child)
		}
		return out, nil
	case string:
		return scalar(v), nil
	case bool, float64, int:
		return scalar(fmt.Sprint(v)), nil
	}
	return nil, fmt.Errorf("an entry cannot hold %T", v)
}

// scalar is a text that is read back as it is; the writer quotes it where it must.
func scalar(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text}
}
