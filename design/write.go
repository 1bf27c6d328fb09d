package design

import (
	"fmt"
	"math"
	"reflect"
	"strconv"

	"go.yaml.in/yaml/v4"

	"leste/job"
	q "leste/quantity"
)

// Write gives a job as a job file. Values that are only assumed are left out; what the file says is what the job says.
// Head is written above it as a comment.
func Write(j *job.Job, head string) ([]byte, error) {
	root := &yaml.Node{Kind: yaml.MappingNode, HeadComment: head}
	writeGroup(root, reflect.ValueOf(j).Elem())
	text, err := yaml.Dump(root, yaml.WithIndent(2))
	if err != nil {
		return nil, fmt.Errorf("the job cannot be written: %w", err)
	}
	return text, nil
}

// writeGroup adds the keys of a struct that say something.
func writeGroup(to *yaml.Node, v reflect.Value) {
	t := v.Type()
	for i := range t.NumField() {
		key := t.Field(i).Tag.Get("key")
		if n := writeValue(v.Field(i), t.Field(i)); n != nil {
			to.Content = append(to.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, n)
		}
	}
}

// writeValue is a field's value, nil when it says nothing.
func writeValue(v reflect.Value, field reflect.StructField) *yaml.Node {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		writeGroup(n, v.Elem())
		return n
	case reflect.Slice:
		return writeList(v)
	case reflect.Struct:
		if v.NumField() == 2 && v.Type().Field(1).Name == "Known" {
			if !v.Field(1).Bool() {
				return nil
			}
			return scalar(v.Field(0))
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		writeGroup(n, v)
		if len(n.Content) == 0 {
			return nil
		}
		return n
	}
	if v.IsZero() && field.Tag.Get("need") != "yes" {
		return nil
	}
	return scalar(v)
}

func writeList(v reflect.Value) *yaml.Node {
	if v.Len() == 0 {
		return nil
	}
	list := &yaml.Node{Kind: yaml.SequenceNode}
	for i := range v.Len() {
		e := v.Index(i)
		if e.Kind() == reflect.String {
			list.Style = yaml.FlowStyle
			list.Content = append(list.Content, scalar(e))
			continue
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		writeGroup(n, e)
		const short = 2 * 5 // keys and values that fit a line
		if plain(n) && len(n.Content) <= short {
			n.Style = yaml.FlowStyle
		}
		list.Content = append(list.Content, n)
	}
	return list
}

// plain says whether a group holds single values only.
func plain(n *yaml.Node) bool {
	for _, c := range n.Content {
		if c.Kind != yaml.ScalarNode {
			return false
		}
	}
	return true
}

// scalar writes a single value in the syntax of the file.
func scalar(v reflect.Value) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode}
	if k := q.KindOf(v.Interface()); k != q.None {
		n.Value = k.Exact(v.Float())
		if k == q.KindLength {
			n.Value = metres(v.Float(), n.Value)
		}
		return n
	}
	switch v.Kind() {
	case reflect.Float64:
		n.Value = strconv.FormatFloat(v.Float(), 'g', -1, 64)
	case reflect.Int:
		n.Value = strconv.FormatInt(v.Int(), 10)
	case reflect.Bool:
		n.Value = map[bool]string{true: "yes", false: "no"}[v.Bool()]
	default:
		n.Value = v.String()
		n.Tag = "!!str"
	}
	return n
}

// metres writes a length of a metre and more in metres, as people do where whole millimetres tell it; others stay as
// written.
func metres(v float64, written string) string {
	const mm, noise = 1e3, 1e-9
	whole := math.Round(v * mm)
	if math.Abs(v) < 1-noise || math.Abs(v*mm-whole) > noise {
		return written
	}
	return strconv.FormatFloat(whole/mm, 'f', -1, 64) + " m"
}
