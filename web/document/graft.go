package document

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"
)

// Graft returns a text with some keys of its top replaced by those of another text, or removed where the other has
// none. Everything else stays as it is written.
func Graft(text, from []byte, keys ...string) ([]byte, error) {
	donor, ok := parse(from)
	if !ok {
		return nil, errPlace
	}
	for _, key := range keys {
		root, ok := parse(text)
		if !ok {
			return nil, errPlace
		}
		places, given := find(root, []string{key}), find(donor, []string{key})
		var err error
		switch {
		case len(given) < 2 && len(places) < 2:
		case len(given) < 2:
			text, err = remove(text, []string{key})
		case root.Style&yaml.FlowStyle != 0:
			text, err = graftNode(text, key, given[1].node)
		default:
			text, err = graftLines(text, key, places, given[1].node)
		}
		if err != nil {
			return nil, fmt.Errorf("%s cannot be replaced: %w", key, err)
		}
	}
	return text, nil
}

// graftLines replaces the lines of a key, or adds them at the end.
func graftLines(text []byte, key string, places []place, value *yaml.Node) ([]byte, error) {
	body, err := block(&yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{scalar(key), value}})
	if err != nil {
		return nil, err
	}
	l := newLined(text)
	for i := range body {
		body[i] += l.end
	}
	start, end := len(l.lines), len(l.lines)
	if len(places) == 2 {
		start = places[1].key.Line - 1
		end = l.keyEnd(start, places[1].key.Column-1)
	}
	l.lines = slices.Replace(l.lines, start, end, body...)
	return l.bytes(), nil
}

// graftNode replaces the value of a key in a file that is written in braces.
func graftNode(text []byte, key string, value *yaml.Node) ([]byte, error) {
	return rewritten(text, nil, func(root *yaml.Node) error {
		for i := 0; i+1 < len(root.Content); i += 2 {
			if root.Content[i].Value == key {
				root.Content[i+1] = value
				return nil
			}
		}
		root.Content = append(root.Content, scalar(key), value)
		return nil
	})
}
