package job

import (
	"bytes"
	_ "embed"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"
)

// starterExample is the job that the starter file is written around. The scenario is invented.
//
//go:embed starter.yaml
var starterExample []byte

// Starter returns a commented job file to begin with: an example job in which every key is explained, and
// the usual keys that it leaves out stand as comments with what is assumed without them. It is made from
// the schema and reads and checks without a problem.
func Starter() []byte {
	var doc yaml.Node
	if err := yaml.Unmarshal(starterExample, &doc); err != nil {
		panic("job: the starter's example is no YAML: " + err.Error())
	}
	w := &starterWriter{explained: map[*field]bool{}}
	w.WriteString(`# A job file: one line, what it carries, what blows on it, and what stands next.
# The example is invented; change it to your line. Everything after a # is a comment.
# Give values with their unit ("1.5 mm", "20 kPa", "350 cfm", "36000 b/h").
# What you do not know you may leave out or answer with "not known": a usual value is then assumed,
# and the result lists what was assumed and which of it to ask for first.

`)
	w.group(doc.Content[0], jobGroup, "", "")
	return w.Bytes()
}

// starterWriter writes an example with what the schema says about it. Each key is explained where it
// first appears.
type starterWriter struct {
	bytes.Buffer
	explained map[*field]bool
}

const commentColumn = 44

// line writes one line with the field's explanation at the first use of the field.
func (w *starterWriter) line(text string, f *field) {
	w.WriteString(text)
	if !w.explained[f] {
		w.explained[f] = true
		fmt.Fprintf(w, "%*s# %s", max(commentColumn-len([]rune(text)), 1), "", f.doc)
		if f.form == choiceForm {
			fmt.Fprintf(w, " One of: %s.", strings.Join(f.choices, ", "))
		}
	}
	w.WriteByte('\n')
}

// group writes the keys of n; first is what stands before the first key ("- " in a list), rest before the
// others.
func (w *starterWriter) group(n *yaml.Node, g *group, first, rest string) {
	given := map[string]bool{}
	indent := first
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		f := g.byKey[k.Value]
		given[k.Value] = true
		if rest == "" && i > 0 && !f.leaf() {
			w.WriteByte('\n')
		}
		switch {
		case v.Kind == yaml.ScalarNode:
			w.line(indent+f.key+": "+quote(v.Value), f)
		case v.Style&yaml.FlowStyle != 0:
			w.line(indent+f.key+": "+flow(v), f)
		case v.Kind == yaml.MappingNode:
			w.line(indent+f.key+":", f)
			w.group(v, f.group, rest+"  ", rest+"  ")
		default:
			w.line(indent+f.key+":", f)
			for _, item := range v.Content {
				w.group(item, f.group, rest+"  - ", rest+"    ")
			}
		}
		indent = rest
	}
	for _, f := range g.fields {
		if !given[f.key] && !w.explained[f] && f.leaf() && f.def != "" && f.def != NotKnown {
			w.line(rest+"# "+f.key+": "+quote(f.def), f)
		}
	}
}

// flow writes a node in one line.
func flow(n *yaml.Node) string {
	parts := make([]string, 0, len(n.Content))
	if n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			parts = append(parts, n.Content[i].Value+": "+quoteFlow(n.Content[i+1].Value))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	for _, c := range n.Content {
		parts = append(parts, quoteFlow(c.Value))
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// quote writes a text so that YAML reads it back as it is, plain where it can.
func quote(s string) string { return quoteUnless(s, "") }

// quoteFlow is quote inside brackets or braces.
func quoteFlow(s string) string { return quoteUnless(s, ",[]{}") }

func quoteUnless(s, also string) string {
	plain := s != "" && s == strings.TrimSpace(s) &&
		!strings.ContainsAny(s[:1], "!&*-?|>@`%\"'#,[]{}:=~<") &&
		!strings.Contains(s, ": ") && !strings.HasSuffix(s, ":") && !strings.Contains(s, " #") &&
		!strings.ContainsAny(s, "\n\r\t\\"+also)
	if strings.HasPrefix(s, "-") && len(s) > 1 && s[1] >= '0' && s[1] <= '9' && !strings.ContainsAny(s, ":#\n\r\t\\"+also) {
		plain = s == strings.TrimSpace(s)
	}
	if plain {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\r':
			b.WriteString(`\r`)
		case r < ' ' || r == 0x7f || r == 0x85 || r == 0x2028 || r == 0x2029 || r == 0xfeff:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
