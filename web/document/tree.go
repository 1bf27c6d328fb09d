package document

import (
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// deepest is how many groups may stand in each other; a job file has six.
const deepest = 32

// values returns what a file says as a tree of objects, lists and texts: every value as it is written there, null
// for one that is left empty. A file that is no YAML gives nil.
func values(text []byte) any {
	root, ok := parse(text)
	if !ok {
		return nil
	}
	budget := 20_000 // an alias may repeat a value many times
	return plainTree(root, deepest, &budget)
}

// parse returns the mapping at the top of a file.
func parse(text []byte) (*yaml.Node, bool) {
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil || len(doc.Content) == 0 || doc.Content[0].Kind != yaml.MappingNode {
		return nil, false
	}
	return doc.Content[0], true
}

func plainTree(n *yaml.Node, depth int, budget *int) any {
	*budget--
	if depth == 0 || *budget < 0 {
		return nil
	}
	switch n.Kind {
	case yaml.AliasNode:
		return plainTree(n.Alias, depth-1, budget)
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			k, v := n.Content[i], n.Content[i+1]
			if k.Tag != "!!merge" {
				out[k.Value] = plainTree(v, depth-1, budget)
				continue
			}
			if merged, ok := plainTree(v, depth-1, budget).(map[string]any); ok {
				for key, value := range merged {
					if _, own := out[key]; !own {
						out[key] = value
					}
				}
			}
		}
		return out
	case yaml.SequenceNode:
		out := make([]any, len(n.Content))
		for i, c := range n.Content {
			out[i] = plainTree(c, depth-1, budget)
		}
		return out
	}
	if n.Tag == "!!null" {
		return nil
	}
	return n.Value
}

// steps takes a path apart.
func steps(path string) []string {
	path = strings.Trim(path, "/")
	if path == "" {
		return nil
	}
	out := strings.Split(path, "/")
	for i, s := range out {
		out[i] = strings.NewReplacer("~1", "/", "~0", "~").Replace(s)
	}
	return out
}

// place is a node with the key that leads to it, nil in a list, and what holds it.
type place struct{ key, node, parent *yaml.Node }

// find walks down a path and returns the places on it, the root first; fewer than steps+1 when it ends early.
func find(root *yaml.Node, path []string) []place {
	out := []place{{node: root}}
	for _, step := range path {
		at := out[len(out)-1].node
		next := place{parent: at}
		switch at.Kind {
		case yaml.MappingNode:
			for i := 0; i+1 < len(at.Content); i += 2 {
				if at.Content[i].Value == step && at.Content[i].Tag != "!!merge" {
					next.key, next.node = at.Content[i], at.Content[i+1]
				}
			}
		case yaml.SequenceNode:
			if i, err := strconv.Atoi(step); err == nil && i >= 0 && i < len(at.Content) {
				next.node = at.Content[i]
			}
		}
		if next.node == nil {
			return out
		}
		out = append(out, next)
	}
	return out
}
