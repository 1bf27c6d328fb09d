package design

import (
	"fmt"
	"math"
	pathname "path"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"leste/job"
	q "leste/quantity"
)

// Write gives a job as a job file. Values that are only assumed are left out; what the file says is what the job says.
// Head is written above it as a comment.
func Write(j *job.Job, head string) ([]byte, error) { return WriteAs(j, head, nil) }

// WriteAs is Write with quantities as another file writes them: what that says comes back in its digits and units, and what
// it does not say in units like its own, with as many digits as can be set.
func WriteAs(j *job.Job, head string, as *job.Spelling) ([]byte, error) {
	root := &yaml.Node{Kind: yaml.MappingNode, HeadComment: head}
	w := writer{as}
	w.group(root, reflect.ValueOf(j).Elem(), "")
	text, err := yaml.Dump(root, yaml.WithIndent(2))
	if err != nil {
		return nil, fmt.Errorf("the job cannot be written: %w", err)
	}
	return text, nil
}

// writer writes the values of a job.
type writer struct{ as *job.Spelling }

// group adds the keys of a struct that say something.
func (w writer) group(to *yaml.Node, v reflect.Value, path string) {
	t := v.Type()
	for i := range t.NumField() {
		key := t.Field(i).Tag.Get("key")
		if n := w.value(v.Field(i), t.Field(i), path+"/"+key); n != nil {
			to.Content = append(to.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, n)
		}
	}
}

// value is a field's value, nil when it says nothing.
func (w writer) value(v reflect.Value, field reflect.StructField, path string) *yaml.Node {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		w.group(n, v.Elem(), path)
		return n
	case reflect.Slice:
		return w.list(v, path)
	case reflect.Struct:
		if v.NumField() == 2 && v.Type().Field(1).Name == "Known" {
			if !v.Field(1).Bool() {
				return nil
			}
			return w.scalar(v.Field(0), path)
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		w.group(n, v, path)
		if len(n.Content) == 0 {
			return nil
		}
		return n
	}
	if v.IsZero() && field.Tag.Get("need") != "yes" {
		return nil
	}
	return w.scalar(v, path)
}

func (w writer) list(v reflect.Value, path string) *yaml.Node {
	if v.Len() == 0 {
		return nil
	}
	list := &yaml.Node{Kind: yaml.SequenceNode}
	for i := range v.Len() {
		e := v.Index(i)
		if e.Kind() == reflect.String {
			list.Style = yaml.FlowStyle
			list.Content = append(list.Content, w.scalar(e, path))
			continue
		}
		n := &yaml.Node{Kind: yaml.MappingNode}
		w.group(n, e, path+"/"+strconv.Itoa(i))
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
func (w writer) scalar(v reflect.Value, path string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode}
	if k := q.KindOf(v.Interface()); k != q.None {
		n.Value = w.quantity(k, v.Float(), path)
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

// Digits of a number that people still read as one that was meant: what has more is the remainder of a computation, or of
// another unit.
const meant = 5

// quantity writes a quantity: as the file to follow writes it where it says the same, else in its units, with as many digits
// as can be set. What can be had in one size alone is written in the units that this size was given in.
func (w writer) quantity(k q.Kind, v float64, path string) string {
	exact := k.Exact(v)
	if k == q.KindLength {
		exact = metres(v, exact)
	}
	if w.as == nil {
		return exact
	}
	if text, said := w.as.Text(path, v); said {
		return text
	}
	unit := w.as.Unit(path)
	if unit == "" && w.as.System() != q.SI {
		unit = k.Fit(v, w.as.System())
	}
	where, key := pathname.Split(path)
	step, settable := settable(k, key)
	settable = settable && strings.HasPrefix(where, "/stations/")
	if unit == "" {
		unit = k.Fit(v, q.SI)
		if _, digits := k.ExactIn(v, unit); digits <= meant || !settable {
			return exact
		}
	}
	text, digits := k.ExactIn(v, unit)
	if digits <= meant {
		return text
	}
	had := slices.Contains(sized, key)
	if _, digits := k.ExactIn(v, k.Fit(v, q.SI)); digits <= meant && (!settable || had) {
		return exact
	}
	if text, digits := k.ExactIn(v, k.Fit(v, q.US)); digits <= meant && settable && had {
		return text
	}
	x, _ := k.In(v, unit) // it was written in it
	if settable {
		one, _ := k.In(step, unit)
		if places := int(math.Ceil(-math.Log10(one))); q.Unsigned(math.Round(x*math.Pow(10, float64(places)))) != 0 {
			return strconv.FormatFloat(shortest(x, places), 'f', -1, 64) + " " + unit
		}
		return text
	}
	const enough = 6
	if unit == "" {
		return exact
	}
	return q.Significant(x, enough) + " " + unit
}

// sized are the keys of an outlet that are had in sizes.
var sized = []string{"slot_gap", "slot_gap_as_built", "bore", "opening_width", "opening_height", "spacing", "length", "plenum_bore"}

// settable is how finely what a station says under a key can be set or made, in SI; common practice, no source.
func settable(k q.Kind, key string) (step float64, known bool) {
	const (
		place   = 0.3e-3 // a hundredth of an inch, or a tenth of a millimetre
		opening = 0.03e-3
		gauge   = 10.0
		turn    = 0.2 * math.Pi / 180
	)
	switch k {
	case q.KindLength:
		if slices.Contains(sized, key) {
			return opening, true
		}
		return place, true
	case q.KindGauge:
		return gauge, true
	case q.KindAngle:
		return turn, true
	}
	return 0, false
}

// shortest is x to some places after the point, which may be negative.
func shortest(x float64, places int) float64 {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', max(places, 0), 64), 64) // what was written is read back
	return rounded
}
