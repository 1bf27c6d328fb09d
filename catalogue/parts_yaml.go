package catalogue

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"
)

// readYAML reads a parts file with one list for each kind of part. Its cells go the same way as those of a
// CSV file.
func readYAML(file string, text []byte, into *Parts) []error {
	fail := func(line int, column, format string, args ...any) []error {
		return []error{&PartError{file, max(line, 1), column, fmt.Sprintf(format, args...)}}
	}
	var doc yaml.Node
	err := yaml.NewDecoder(bytes.NewReader(text)).Decode(&doc)
	var load *yaml.LoadError
	switch {
	case errors.Is(err, io.EOF) || err == nil && len(doc.Content) == 0:
		return fail(1, "", "the file is empty; it holds lists named blowers, filters, hoses")
	case errors.As(err, &load):
		return fail(load.Mark.Line, "", "this is not YAML: %s", load.Message)
	case err != nil:
		return fail(1, "", "this is not YAML: %v", err)
	}
	top := doc.Content[0]
	if top.Kind != yaml.MappingNode {
		return fail(top.Line, "", "the file holds lists named blowers, filters, hoses")
	}
	if !anyList(top) {
		return fail(top.Line, "", "this is no list of parts: it holds none of the lists blowers, filters and hoses%s", holdsInstead(top))
	}
	var errs []error
	for i := 0; i+1 < len(top.Content); i += 2 {
		key, value := top.Content[i], top.Content[i+1]
		at := slices.IndexFunc(lists(), func(l list) bool { return l.name == key.Value })
		if at < 0 {
			errs = append(errs, fail(key.Line, key.Value, "unknown list; known ones are blowers, filters, hoses")...)
			continue
		}
		l := lists()[at]
		errs = append(errs, l.read(yamlSheet(file, value, l), into)...)
	}
	return errs
}

// anyList says whether a mapping has a key that names a list of parts.
func anyList(top *yaml.Node) bool {
	for i := 0; i < len(top.Content); i += 2 {
		if slices.ContainsFunc(lists(), func(l list) bool { return l.name == top.Content[i].Value }) {
			return true
		}
	}
	return false
}

// holdsInstead says of a file without parts what it is, where that is known.
func holdsInstead(top *yaml.Node) string {
	for i := 0; i < len(top.Content); i += 2 {
		if top.Content[i].Value == "leste" {
			return "; it looks like a job file"
		}
	}
	return ""
}

// pointColumns are the keys of a point of a curve; in a CSV file they stand on every line.
var pointColumns = []string{"flow", "pressure", "power", "efficiency"}

// yamlSheet turns a list of parts into rows: one for each part, or for each point of its curve.
func yamlSheet(file string, parts *yaml.Node, l list) *sheet {
	s := &sheet{file: file}
	if parts.Kind != yaml.SequenceNode {
		s.failAt(parts.Line, l.name, "a list of parts is meant here, each beginning with a dash")
		return s
	}
	points := l.name == "blowers"
	for _, part := range parts.Content {
		allowed := l.columns
		if points {
			allowed = slices.DeleteFunc(slices.Clone(l.columns), func(c string) bool { return slices.Contains(pointColumns, c) })
		}
		row, curve := s.cells(part, allowed, points)
		if !points {
			s.rows = append(s.rows, row)
			continue
		}
		if curve == nil || curve.Kind != yaml.SequenceNode {
			s.failAt(row.line, "points", "give the points of the curve as a list")
			continue
		}
		for i, p := range curve.Content {
			one, _ := s.cells(p, pointColumns, false)
			one.cells["part"] = row.cells["part"]
			if i == 0 {
				for k, v := range row.cells {
					one.cells[k] = v
				}
			}
			s.rows = append(s.rows, one)
		}
	}
	return s
}

// cells reads a mapping of plain values; with points also the node under that key.
func (s *sheet) cells(m *yaml.Node, allowed []string, points bool) (sheetRow, *yaml.Node) {
	row := sheetRow{m.Line, map[string]string{}}
	if m.Kind != yaml.MappingNode {
		s.failAt(m.Line, "", "keys with values are meant here, e.g. %s: ...", allowed[0])
		return row, nil
	}
	var curve *yaml.Node
	for i := 0; i+1 < len(m.Content); i += 2 {
		key, value := m.Content[i], m.Content[i+1]
		switch {
		case points && key.Value == "points":
			curve = value
		case !slices.Contains(allowed, key.Value):
			known := slices.Clone(allowed)
			if points {
				known = append(known, "points")
			}
			s.failAt(key.Line, key.Value, "unknown key; known ones are %s", strings.Join(known, ", "))
		case value.Kind != yaml.ScalarNode:
			s.failAt(value.Line, key.Value, "one value is meant here")
		case row.cells[key.Value] != "":
			s.failAt(key.Line, key.Value, "the key occurs twice")
		default:
			row.cells[key.Value] = value.Value
		}
	}
	return row, curve
}
