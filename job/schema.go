package job

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	q "leste/quantity"
)

//go:generate go run ./internal/docs ../docs

// Schema returns the JSON Schema (draft 2020-12) of the job file, made from the struct tags. Editors
// complete and check job files with it; Read remains the judge of units and Check of what fits together.
func Schema() []byte {
	s := &schemaWriter{done: map[string]bool{}}
	top := s.object(jobGroup)
	doc := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", fmt.Sprintf("Job file, version %d", SchemaVersion)},
	}
	doc = append(doc, top...)
	doc = append(doc, member{"$defs", s.defs})
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(doc); err != nil {
		panic("job: schema: " + err.Error()) // the tags are constants; tested
	}
	return b.Bytes()
}

// object is a JSON object with its members in order: editors offer keys in the order of the schema.
type object []member

type member struct {
	key   string
	value any
}

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(m.key))
		b.WriteByte(':')
		v, err := marshalPlain(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(v)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

func marshalPlain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// schemaWriter collects the definitions of groups, each once.
type schemaWriter struct {
	defs object
	done map[string]bool
}

// object describes the keys of a group.
func (s *schemaWriter) object(g *group) object {
	var properties object
	var required []string
	for _, f := range g.fields {
		properties = append(properties, member{f.key, s.field(f)})
		if f.need {
			required = append(required, f.key)
		}
	}
	o := object{{"type", "object"}, {"properties", properties}, {"additionalProperties", false}}
	if required != nil {
		o = append(o, member{"required", required})
	}
	return o
}

// ref returns a reference to the definition of a group.
func (s *schemaWriter) ref(g *group) string {
	if !s.done[g.name] {
		s.done[g.name] = true
		def := s.object(g)
		s.defs = append(s.defs, member{g.name, def})
	}
	return "#/$defs/" + g.name
}

// shared defines a value once and returns a reference to it.
func (s *schemaWriter) shared(name string, def object) object {
	if !s.done[name] {
		s.done[name] = true
		s.defs = append(s.defs, member{name, def})
	}
	return object{{"$ref", "#/$defs/" + strings.ReplaceAll(name, " ", "%20")}}
}

// plainName is the kind in words without the article.
func plainName(k q.Kind) string {
	name := k.Name()
	if article, rest, ok := strings.Cut(name, " "); ok && (article == "a" || article == "an") {
		return rest
	}
	return name
}

func (s *schemaWriter) field(f *field) object {
	o := object{{"description", f.describe()}}
	open := !f.need && (f.maybe || f.form == choiceForm || f.form == textForm || f.form == countForm)
	notKnown := s.shared("not known", object{{"enum", []any{NotKnown, "unknown", "?", nil}}})
	value := func(v object) {
		if open {
			o = append(o, member{"anyOf", []object{v, notKnown}})
		} else {
			o = append(o, v...)
		}
	}
	switch f.form {
	case groupForm:
		if f.need {
			o = append(o, member{"$ref", s.ref(f.group)})
		} else {
			o = append(o, member{"anyOf", []object{{{"$ref", s.ref(f.group)}}, {{"type", "null"}}}})
		}
	case listForm:
		o = append(o, member{"type", []string{"array", "null"}}, member{"items", object{{"$ref", s.ref(f.group)}}})
		if f.need {
			o[1].value = "array"
		}
	case wordsForm:
		o = append(o, member{"type", []string{"array", "string", "null"}}, member{"items", object{{"type", "string"}}})
	case choiceForm:
		choices := make([]any, 0, len(f.choices)+2)
		for _, c := range f.choices {
			if c != NotKnown || !open {
				choices = append(choices, c)
			}
		}
		if f.choices[0] == "yes" {
			choices = append(choices, true, false)
		}
		value(object{{"enum", choices}})
	case flagForm:
		value(object{{"enum", []any{"yes", "no", true, false}}})
	case countForm:
		value(object{{"type", "integer"}, {"minimum", f.limit.least}, {"maximum", f.limit.most}})
	case numberForm:
		value(object{{"type", "number"}, {"minimum", f.limit.least}})
	case quantityForm:
		v := object{{"type", []string{"string", "number"}}, {"pattern", f.kind.Pattern()}}
		if _, err := f.kind.Parse("0"); err != nil { // a number alone says nothing
			v[0].value = "string"
		} else if _, err := f.kind.Parse("1"); err != nil { // a number needs a unit, but for nothing
			v = append(v, member{"minimum", 0}, member{"maximum", 0})
		}
		value(s.shared(plainName(f.kind), v))
		o = append(o, member{"examples", f.examples()})
	default:
		value(object{{"type", []string{"string", "number", "boolean"}}})
	}
	if f.def != "" && f.def != NotKnown {
		o = append(o, member{"default", f.def})
	}
	return o
}

// examples shows a usual value and the ends of its range.
func (f *field) examples() []string {
	list := []string{f.example()}
	for _, s := range []string{f.low, f.high} {
		if s != "" && s != list[0] {
			list = append(list, s)
		}
	}
	return list
}

// describe says what the field is and what happens without it.
func (f *field) describe() string {
	text := f.doc
	switch {
	case f.need:
		text += " Must be given."
	case f.def != "" && f.def != NotKnown && f.low != "":
		text += fmt.Sprintf(" Assumed when left out: %s (%s to %s).", f.def, f.low, f.high)
	case f.def != "" && f.def != NotKnown:
		text += fmt.Sprintf(" Assumed when left out: %s.", f.def)
	}
	return strings.TrimSpace(text)
}
